//! What is good until when, and why: worked by hand from the policy on each line.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::model::{PartId, Since};
use stringline::book::names::Thing;
use stringline::history::dated::{Basis, Dated, dated, next_event};
use stringline::history::order::Rank;

const HEAD: &str = "\
circuit pell
event pell-1 2026-05-09..10 at pell  entered heron
event pell-2 2026-09-12..13 at pell  entered heron
car heron \"Heron\"
kind belts  fits cockpit on heron  valid 5 years from made
spec two of belts \"two-year label\"  valid 2 years from made
kind bottle  fits bulkhead on heron  valid 2 years from serviced, 10 years from made
kind net  fits window on heron  valid 24 months from fitted
kind helmet  fits seat on heron
";

fn at(book: &Compiled, name: &str, rank: Rank) -> Option<Dated> {
    let Some(Thing::Part(part)) = book.book.names.find(name) else { panic!("{name}") };
    dated(&book.book, &book.history, rank).into_iter().find(|one| one.part == part)
}

fn end(book: &Compiled) -> Rank {
    book.history.order.entries.next_key()
}

fn day(book: &Compiled, name: &str) -> Option<String> {
    at(book, name, end(book)).and_then(|one| one.last_good_day).map(|day| day.to_string())
}

#[test]
fn each_rule_counts_from_its_own_date_and_the_first_reached_counts() {
    let book = compile_text(&format!(
        "{HEAD}\
part hb-1 belts  made 2021-07
part hb-2 belts  made 2024-02-29
part hb-3 belts  spec two  made 2024-02-29
part hb-4 belts  made 2024-03  valid-until 2028
part hb-5 belts  made 2021-07  valid-until 2026-05-31
part ex-1 bottle  made 2017-06
part ex-2 bottle  made 2023-04  serviced 2025-04-30
part ex-3 bottle  made 2015-01  serviced 2025-04-30
part nt-1 net  opening new
part nt-2 net  fitted 2023-11
part hm-1 helmet  valid-until 2030-12
"
    ));
    let expected = [
        // A month on the label runs to its end.
        ("hb-1", "2026-07-31"),
        // 29 February and five years: 2029 has none.
        ("hb-2", "2029-02-28"),
        // The spec's own years, not the kind's.
        ("hb-3", "2026-02-28"),
        // A year on the label runs to its end; five years from March 2024 end later.
        ("hb-4", "2028-12-31"),
        ("hb-5", "2026-05-31"),
        // Never serviced: counted from the day it was made; ten years come later.
        ("ex-1", "2019-06-30"),
        ("ex-2", "2027-04-30"),
        // Ten years from made are over before two from service.
        ("ex-3", "2025-01-31"),
        ("nt-2", "2025-11-30"),
        ("hm-1", "2030-12-31"),
    ];
    for (name, want) in expected {
        assert_eq!(day(&book, name).as_deref(), Some(want), "{name}");
    }
    let net = at(&book, "nt-1", end(&book)).unwrap();
    assert_eq!((net.last_good_day, net.uncounted.len()), (None, 1));
    assert_eq!(net.uncounted[0].since, Since::Fitted);
    assert!(!net.is_good_on("2026-01-01".parse().unwrap()), "what nobody can count is not good");
}

#[test]
fn a_service_renews_and_its_paper_outranks_the_years() {
    let book = compile_text(&format!(
        "{HEAD}\
part ex-1 bottle  made 2023-04
part fc-1 helmet  opening new
part nt-1 net  opening new

2026-04-01 heron
  fit nt-1
  fit ex-1
2026-05-01
  service ex-1 \"weighed 1.98 kg\"
2026-05-02
  service fc-1 until 2027-06 \"bladder, two years on inspection\"
"
    ));
    assert!(book.diagnostics.is_empty(), "{:?}", book.diagnostics);
    assert_eq!(day(&book, "ex-1").as_deref(), Some("2028-05-01"));
    assert_eq!(day(&book, "fc-1").as_deref(), Some("2027-06-30"));
    assert_eq!(day(&book, "nt-1").as_deref(), Some("2028-04-01"), "from the day it first went on");
    let before = at(&book, "ex-1", Rank::new(2)).unwrap();
    assert_eq!(before.last_good_day.unwrap().to_string(), "2025-04-30", "before the service");
    assert!(matches!(before.basis, Some(Basis::Counted { valid, .. }) if valid.since == Since::Serviced));
}

/// An impact sends what was on the car to be looked at, whatever its date, until a look finds it good or it is serviced.
#[test]
fn an_impact_waits_for_a_look() {
    let book = compile_text(&format!(
        "{HEAD}\
part hb-1 belts  made 2025-07
part hb-2 belts  made 2025-07
part ex-1 bottle  made 2025-04

2026-04-01 heron
  fit hb-1
  fit ex-1
2026-05-09 heron at pell-1
  09:00..09:20 run s1  5 laps
    hit RF \"gate post\"
  10:00 inspect hb-1 good \"no stitch lifted\"
  10:05 inspect ex-1 failed \"bracket bent\"
2026-06-01
  service ex-1
"
    ));
    let find = |rank: Rank, name: &str| at(&book, name, rank).unwrap();
    let hit = book.book.entries.iter_enumerated().find(|(_, entry)| entry.verb.word() == "hit").unwrap().0;
    assert_eq!(find(Rank::new(4), "hb-1").impact, Some(hit));
    assert_eq!(find(Rank::new(5), "hb-1").impact, None);
    assert_eq!(find(Rank::new(6), "ex-1").impact, Some(hit), "a look that finds it failed clears nothing");
    assert_eq!(find(Rank::new(7), "ex-1").impact, None);
    assert_eq!(find(Rank::new(7), "hb-2").impact, None, "it was not on the car");
    assert!(!find(Rank::new(4), "hb-1").is_good_on("2026-05-09".parse().unwrap()));
}

#[test]
fn the_next_event_is_the_first_that_is_not_over() {
    let book = compile_text(HEAD);
    let Some(Thing::Car(car)) = book.book.names.find("heron") else { panic!() };
    let next = |day: &str| {
        let event = next_event(&book.book, car, day.parse().unwrap())?;
        Some(book.book.events[event].named.typed.to_string())
    };
    assert_eq!(next("2026-01-01").as_deref(), Some("pell-1"));
    assert_eq!(next("2026-05-10").as_deref(), Some("pell-1"));
    assert_eq!(next("2026-05-11").as_deref(), Some("pell-2"));
    assert_eq!(next("2026-09-14"), None);
}

#[test]
fn scrapped_and_undated_parts_are_not_listed() {
    let book = compile_text(&format!(
        "{HEAD}\
part hb-1 belts  made 2025-07
part hm-1 helmet

2026-05-01
  scrap hb-1 because cut
"
    ));
    let all: Vec<PartId> = dated(&book.book, &book.history, end(&book)).iter().map(|one| one.part).collect();
    assert!(all.is_empty(), "{all:?}");
}

/// Out of date in the session itself, past midnight: one message, and not a second of the next event.
#[test]
fn a_session_past_midnight_has_the_one_message() {
    let told = |run: &str| -> Vec<&'static str> {
        let text = format!(
            "circuit pell\nevent pell-3 2027-03-06..07 at pell  entered heron\ncar heron \"Heron\"\n\
             kind belts  fits cockpit on heron  valid 5 years from made\npart hb-1 belts  made 2021-07\n\
             2026-07-31 heron\n  fit hb-1\n  {run}\n"
        );
        let ours = |check: &&'static str| check.starts_with("safety-date");
        compile_text(&text).diagnostics.iter().map(|one| one.check).filter(ours).collect()
    };
    assert_eq!(told("22:00..22:30 run s1"), ["safety-date-before-next"]);
    assert_eq!(told("23:40..00:20 run s1"), ["safety-date-passed"]);
}
