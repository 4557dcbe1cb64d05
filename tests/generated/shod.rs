//! Small books of one car and two sets of tyres that go on and come off, and are read in between: what was read stays with its set.

use super::book::{Chooser, stretch};
use super::holds::{Files, compiled};
use super::hunt::books;
use std::collections::BTreeMap;
use stringline::book::names::Thing;
use stringline::book::place::Place;
use stringline::diagnostics::Severity;
use stringline::history::diff::diff;
use stringline::history::moment;

const HEAD: &str = "kind rubber \"set of four\"  fits all  carries tread
part r1 rubber
part r2 rubber
car wren \"Wren\"
";

/// A few days of a car: a set goes on or comes off, tread is read, something else is done.
fn written(seed: u64) -> Files {
    let bytes = stretch(seed ^ 0x5_0d, 200);
    let mut pick = Chooser::new(&bytes);
    let (mut text, mut on) = (HEAD.to_owned(), None);
    for day in 1..=6 + pick.below(10) {
        text += &format!("\n2026-04-{day:02} wren\n");
        for _ in 0..=pick.below(2) {
            match (pick.below(5), on) {
                (0 | 1, Some(set)) => {
                    text += &format!("  remove {set}\n");
                    on = None;
                }
                (0 | 1, None) => {
                    let set = pick.of(&["r1", "r2"]);
                    text += &format!("  fit {set}\n");
                    on = Some(set);
                }
                (2 | 3, _) => {
                    text += &format!("  read tread LF 5.{} RF 5.0 LR 5.0 RR 5.0 mm\n", pick.below(10));
                }
                _ => text += &format!("  set camber LF -2.{} deg\n", pick.below(10)),
            }
        }
    }
    vec![("wren.sline".to_owned(), text)]
}

/// What was read of a set of tyres stays with it: at every day the tread held is what was read of the set that is on, and a difference
/// between two days is of one set or says nothing. A walk of its own over the lines.
#[test]
fn what_was_read_of_a_set_stays_with_it() {
    let (mut held, mut none, mut compared, mut apart) = (0, 0, 0, 0);
    for seed in 0..books(120, 10_000) {
        let files = written(seed);
        let book = compiled(&files);
        let Some(Thing::Car(car)) = book.book.names.find("wren") else { panic!() };
        let tread = book.book.vocabulary.find("tread").unwrap();
        // By day: which set is on, and what was read of it at LF, in tenths of a millimetre.
        let (mut on, mut read) = (None, BTreeMap::new());
        let mut days: Vec<(String, Option<String>, Option<i64>)> = Vec::new();
        for line in files[0].1.lines() {
            if line.starts_with("2026-") {
                days.push((line.split(' ').next().unwrap().to_owned(), None, None));
            }
            let words: Vec<&str> = line.split_whitespace().collect();
            match words.as_slice() {
                ["fit", set] => on = Some((*set).to_owned()),
                ["remove", _] => on = None,
                ["read", "tread", "LF", value, ..] => {
                    let tenths = (value.parse::<f64>().unwrap() * 10.0).round() as i64;
                    read.insert(on.clone(), tenths);
                }
                _ => {}
            }
            if let Some(day) = days.last_mut() {
                (day.1, day.2) = (on.clone(), read.get(&on).copied());
            }
        }
        assert_eq!(book.count(Severity::Error), 0, "seed {seed}\n{}", files[0].1);
        let rank = |day: &str| moment::parse(&book.book, &book.files, &book.history, car, day).unwrap().rank;
        for (day, _, expected) in &days {
            let slot = book.facts().on(car, rank(day)).slot(tread, Place::LF);
            let value = slot
                .and_then(|slot| slot.held.is(&book.history))
                .map(|event| (event.value * 1e4).round() as i64);
            assert_eq!(value, *expected, "seed {seed}, {day}\n{}", files[0].1);
            held += usize::from(value.is_some());
            none += usize::from(value.is_none());
        }
        for (first, second) in days.iter().zip(days.iter().skip(2)) {
            let whole = diff(book.facts(), car, rank(&first.0), rank(&second.0));
            let slot = whole.slots.iter().find(|slot| slot.quantity == tread && slot.place == Place::LF);
            let then = slot.and_then(|slot| slot.then);
            if first.1 == second.1 || first.1.is_none() && second.1.is_none() {
                compared += usize::from(then.is_some());
            } else {
                apart += usize::from(slot.is_some());
                assert!(then.is_none(), "seed {seed}, {} to {}\n{}", first.0, second.0, files[0].1);
            }
        }
    }
    assert!(held > 20 && none > 20 && compared > 5 && apart > 2, "{held} {none} {compared} {apart}");
}
