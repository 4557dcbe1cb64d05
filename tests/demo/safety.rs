//! Dated items of the season: what ended when, what replaced it, what was looked at after the wall.

use super::{DEMO, part};
use stringline::book::entry::Verb;
use stringline::history::dated::{Dated, of_part};
use stringline::history::moment;

fn at(name: &str, date: &str) -> Dated {
    let rank = moment::parse(&DEMO.book, &DEMO.files, &DEMO.history, super::car("teal"), date).unwrap().rank;
    of_part(&DEMO.book, &DEMO.history, part(name), rank).unwrap()
}

fn last(name: &str, date: &str) -> String {
    at(name, date).last_good_day.unwrap().to_string()
}

/// The belts on teal end on the last day of July; hb-4 goes on three days later, before Slatehead.
#[test]
fn belts_that_end_in_july() {
    assert_eq!(last("hb-1", "2026-06-29"), "2026-07-31");
    assert_eq!(at("hb-1", "2026-08-02").car, Some(super::car("teal")));
    assert_eq!(at("hb-4", "2026-08-03").car, Some(super::car("teal")));
    assert_eq!(last("hb-4", "2026-08-03"), "2031-05-31");
}

#[test]
fn a_service_in_may_renews_the_extinguisher() {
    assert_eq!(last("fx-3", "2026-05-19"), "2026-05-31");
    assert_eq!(last("fx-3", "2026-05-20"), "2028-05-20");
    assert_eq!(last("fx-2", "2026-09-05"), "2027-04-30");
}

/// From the wall on 28 June until 11 July everything dated on bittern waits to be looked at.
#[test]
fn the_wall_sends_them_to_be_looked_at() {
    let hit = DEMO.book.entries.iter_enumerated().find(|(_, entry)| entry.verb == Verb::Hit).unwrap().0;
    for name in ["hb-2", "se-2", "fx-2", "fb-1"] {
        assert_eq!(at(name, "2026-06-27").impact, None, "{name}");
        assert_eq!(at(name, "2026-07-10").impact, Some(hit), "{name}");
        assert_eq!(at(name, "2026-07-11").impact, None, "{name}");
    }
    assert_eq!(at("hb-3", "2026-07-10").impact, None, "curlew was not hit");
}
