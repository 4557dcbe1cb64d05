//! What two readings say of each other, held to arithmetic of its own over many gauges: check, drift, difference, found against set, and the
//! page after an impact say one thing.

use super::book::{Chooser, stretch};
use super::hunt::books;
use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::model::CarId;
use stringline::book::names::Thing;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::diff::{Fate, diff};
use stringline::history::moment;
use stringline::report::{Alone, Own, Report};

/// A reading: as typed, what it is in millimetres, and by how much it may be off.
struct Typed {
    text: String,
    gauge: String,
    mm: f64,
    half: f64,
}

/// A reading near `mm` by a gauge of its own: a rule in fractions of an inch, or a tape in millimetres, that may say within what it repeats.
fn reading(pick: &mut Chooser<'_>, name: &str, mm: f64) -> Typed {
    let repeats = [0.0, 0.0, 1.0, 2.5][pick.below(4)];
    let stated = if repeats > 0.0 { format!("  repeats {repeats} mm") } else { String::new() };
    if pick.below(2) == 0 {
        let parts = [16, 32, 64][pick.below(3)];
        let of = |mm: f64| (mm / 25.4 * f64::from(parts)).round() as u32;
        let (whole, over) = (of(mm) / parts, of(mm) % parts);
        // A fraction is typed in its lowest terms; how finely it was read the rule says, which is divided into so many.
        let by = (1..=over.max(1)).rev().find(|by| over % by == 0 && parts % by == 0).unwrap_or(1);
        let text = if over == 0 {
            format!("{whole} in")
        } else {
            format!("{whole} {}/{} in", over / by, parts / by)
        };
        let half: f64 = 25.4 / f64::from(parts) / 2.0;
        return Typed {
            text,
            gauge: format!("gauge {name} \"rule\"  reads ride-height  resolution 1/{parts} in{stated}"),
            mm: f64::from(of(mm)) / f64::from(parts) * 25.4,
            half: half.max(repeats),
        };
    }
    let (digit, decimals) = [(1.0, 0), (0.1, 1)][pick.below(2)];
    let division = [0.1, 0.5, 1.0, 2.0][pick.below(4)];
    let ticks = (mm / digit).round();
    Typed {
        text: format!("{:.decimals$} mm", ticks * digit),
        gauge: format!("gauge {name} \"tape\"  reads ride-height  resolution {division} mm{stated}"),
        mm: ticks * digit,
        half: f64::max(division / 2.0, repeats),
    }
}

fn heron(compiled: &Compiled) -> CarId {
    match compiled.book.names.find("heron") {
        Some(Thing::Car(id)) => id,
        other => panic!("{other:?}"),
    }
}

#[test]
fn every_command_says_one_thing_of_two_readings() {
    let (mut same, mut moved) = (0, 0);
    for seed in 0..books(300, 10_000) {
        let bytes = stretch(seed ^ 0x00a1_14e5, 64);
        let mut pick = Chooser::new(&bytes);
        let mm = 60.0 + f64::from(pick.between(0, 700)) / 10.0;
        let left = reading(&mut pick, "one", mm);
        let now = mm + f64::from(pick.between(-50, 50)) / 10.0;
        let found = reading(&mut pick, "two", now);
        let (off, room) = ((found.mm - left.mm).abs(), left.half + found.half);
        // On the edge itself either may be said: inches are no round millimetres.
        if (off - room).abs() < 0.01 * room {
            continue;
        }
        let expected = off > room;
        let text = format!(
            "{}\n{}\ncircuit pell \"Pell Hill\"\nevent pell-1 2025-05-01 at pell \"spring\"\ncar heron \"Heron\"\n
2025-04-01 heron\n  left ride-height LF {}  by one\n
2025-05-01 heron at pell-1\n  10:00..10:20 run s1\n  hit LF \"the gate\" during s1\n
2025-05-02 heron\n  found ride-height LF {}  by two\n",
            left.gauge, found.gauge, left.text, found.text
        );
        let compiled = compile_text(&text);
        let (car, id) = (heron(&compiled), compiled.book.vocabulary.find("ride-height").unwrap());
        let at = |day: &str| {
            moment::parse(&compiled.book, &compiled.files, &compiled.history, car, day).unwrap().rank
        };
        let told = |check: &str| compiled.diagnostics.iter().any(|one| one.check == check);
        assert_eq!(told("found-has-drifted"), expected, "seed {seed}: {off} of {room}\n{text}");
        let whole = diff(compiled.facts(), car, at("2025-04-15"), at("2025-05-15"));
        let fate = whole.slots.iter().find(|slot| slot.quantity == id).unwrap().fate;
        assert_eq!(fate == Fate::ReadsOtherwise, expected, "seed {seed}: {fate:?}\n{text}");
        let end = moment::end(&compiled.history);
        let drift = Calc::new(compiled.facts(), car, &end).named("ride-height-drift", Place::LF).unwrap();
        assert_eq!(drift.value.abs() > 1.0, expected, "seed {seed}: {}\n{text}", drift.value);
        if seed % 8 == 0 {
            let own = Own::new();
            let page = Report::alone(&compiled, Alone::Crash(car, None), &own).ok().unwrap().json().unwrap();
            let says = page.contains("\"moved\": true") || page.contains("\"moved\":true");
            assert_eq!(says, expected, "seed {seed}: the page after an impact\n{text}");
        }
        // Set to what the one says and left at what the other does, in one block: the same question once more.
        let text = format!(
            "{}\n{}\ncar heron \"Heron\"\n\n2025-04-01 heron\n  set ride-height LF {}  by one\n  left ride-height LF {}  by two\n",
            left.gauge, found.gauge, left.text, found.text
        );
        let set = compile_text(&text);
        let told = set.diagnostics.iter().any(|one| one.check == "set-and-left-differ");
        assert_eq!(told, expected, "seed {seed}: {off} of {room}\n{text}");
        if expected { moved += 1 } else { same += 1 }
    }
    // A law that never meets its case holds of anything.
    assert!(same > 30 && moved > 30, "{same} {moved}");
}
