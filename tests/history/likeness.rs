//! What was read of a part stays with the part, and is compared with nothing else; what was read of the car holds while nothing that
//! disturbs it was changed.

use super::{book, car};
use stringline::Compiled;
use stringline::answer::diff::build;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::diff::{Fate, diff};
use stringline::history::moment;
use stringline::history::order::Rank;

const SHOD: &str = "kind rubber \"set of four\"  fits all  carries tread
kind pads \"pads of an axle\"  fits front rear  carries pad-thickness
kind damper \"damper\"  fits LF RF LR RR  carries bump  clicks 0..30 from full-hard
part r1 rubber
part r2 rubber
part p1 pads
part p2 pads
part d1 damper
part d2 damper

2025-04-01 heron
  fit r1
  fit p1 front
  fit d1 LF
  set bump LF 8
  read tread LF 5.0 RF 5.1 LR 5.2 RR 5.3 mm
  read pad-thickness LF 11.0 RF 11.2 mm

2025-05-01 heron
  remove r1
  fit r2
  remove p1
  fit p2 front
  remove d1
  fit d2 LF
  set bump LF 12

2025-06-01 heron
  remove r2
  fit r1
  read tread LF 4.0 RF 4.1 LR 4.2 RR 4.3 mm
";

fn rank(compiled: &Compiled, day: &str) -> Rank {
    let car = car(compiled, "heron");
    moment::parse(&compiled.book, &compiled.files, &compiled.history, car, day).unwrap().rank
}

/// What a place holds on a day, in SI.
fn held(compiled: &Compiled, quantity: &str, place: Place, day: &str) -> Option<f64> {
    let id = compiled.book.vocabulary.find(quantity).unwrap();
    let there = compiled.facts().on(car(compiled, "heron"), rank(compiled, day));
    let slot = there.slot(id, place);
    let listed = there.slots().into_iter().find(|slot| (slot.quantity, slot.place) == (id, place));
    let value = |held: stringline::history::state::Held| {
        held.is(&compiled.history).map(|event| (event.value * 1e6).round() / 1e6)
    };
    let value_of = slot.and_then(|slot| value(slot.held));
    assert_eq!(value_of, listed.and_then(|slot| value(slot.held)), "{quantity} {place:?} {day}");
    value_of
}

#[test]
fn a_set_of_four_keeps_what_was_read_of_it() {
    let compiled = book(SHOD);
    assert_eq!(held(&compiled, "tread", Place::RF, "2025-04-15"), Some(0.0051));
    assert_eq!(held(&compiled, "tread", Place::RF, "2025-05-15"), None);
    assert_eq!(held(&compiled, "tread", Place::RR, "2025-06-15"), Some(0.0043));
    // Pads of an axle are read at its corners.
    assert_eq!(held(&compiled, "pad-thickness", Place::RF, "2025-04-15"), Some(0.0112));
    assert_eq!(held(&compiled, "pad-thickness", Place::LF, "2025-05-15"), None);
    // A part in a place of its own does the same.
    assert_eq!(held(&compiled, "bump", Place::LF, "2025-04-15"), Some(8.0));
    assert_eq!(held(&compiled, "bump", Place::LF, "2025-05-15"), Some(12.0));
}

#[test]
fn a_difference_compares_one_part_or_nothing() {
    let compiled = book(SHOD);
    let of = |quantity: &str, from: &str, to: &str| {
        let id = compiled.book.vocabulary.find(quantity).unwrap();
        let whole =
            diff(compiled.facts(), car(&compiled, "heron"), rank(&compiled, from), rank(&compiled, to));
        let one = whole.slots.into_iter().find(|slot| slot.quantity == id && slot.place == Place::LF);
        one.map(|slot| (slot.fate, slot.then.map(|then| then.value), slot.now.map(|now| now.value)))
    };
    // What was set stands otherwise; 8 clicks of one damper and 12 of another are no change of 4.
    assert_eq!(of("bump", "2025-04-15", "2025-05-15"), Some((Fate::Changed, Some(8.0), Some(12.0))));
    let moments = ["2025-04-15", "2025-05-15"].map(|day| {
        moment::parse(&compiled.book, &compiled.files, &compiled.history, car(&compiled, "heron"), day)
            .unwrap()
    });
    let view = build(&compiled, car(&compiled, "heron"), [&moments[0], &moments[1]], ["", ""]);
    let bump = view.slots.iter().find(|slot| slot.quantity == "bump").unwrap();
    assert!(bump.change.is_none() && bump.then.is_some(), "{bump:?}");
    assert_eq!(of("tread", "2025-04-15", "2025-05-15"), None);
    // The set that came back is compared with itself.
    assert_eq!(
        of("tread", "2025-04-15", "2025-06-15"),
        Some((Fate::ReadsOtherwise, Some(0.005), Some(0.004)))
    );
}

#[test]
fn weights_with_the_bars_off_are_not_stale_for_a_hole() {
    let stale = |bars: &str| {
        let compiled = book(&format!(
            "2025-04-01 heron\n  left weight LF 150 RF 151 LR 170 RR 171 kg  with bars {bars}\n\n2025-05-01 heron\n  set bar-hole front 3\n"
        ));
        let id = compiled.book.vocabulary.find("weight").unwrap();
        let there = compiled.facts().on(car(&compiled, "heron"), rank(&compiled, "2025-05-15"));
        there.slot(id, Place::LF).unwrap().held.stale.is_some()
    };
    assert!(stale("on"));
    assert!(!stale("off"));
}

/// Left 5 1/2 in by a rule of 1/16 (139.70 mm, half a division 0.79375), found by a tape of 1 mm (half 0.5): together they leave 1.29 open,
/// so 141 mm moved and 140.9 mm is the same (closed form). The check, the drift and the difference say one thing.
#[test]
fn two_rulers_say_one_thing_everywhere() {
    let of = |found: &str, tape: &str| {
        let compiled = book(&format!(
            "gauge rule-1 \"steel rule\"  reads ride-height  resolution 1/16 in
gauge tape \"tape\"  reads ride-height  resolution 1 mm{tape}

2025-04-01 heron
  left ride-height LF 5 1/2 in  by rule-1

2025-05-01 heron
  found ride-height LF {found} mm  by tape
"
        ));
        let id = compiled.book.vocabulary.find("ride-height").unwrap();
        let heron = car(&compiled, "heron");
        let whole =
            diff(compiled.facts(), heron, rank(&compiled, "2025-04-15"), rank(&compiled, "2025-05-15"));
        let fate = whole.slots.iter().find(|slot| slot.quantity == id).unwrap().fate;
        let moment = moment::end(&compiled.history);
        let mut calc = Calc::new(compiled.facts(), heron, &moment);
        let widths = calc.named("ride-height-drift", Place::LF).unwrap().value.abs();
        let told = compiled.diagnostics.iter().any(|one| one.check == "found-has-drifted");
        assert_eq!(told, widths > 1.0, "{found}{tape}: {widths}");
        assert_eq!(told, fate == Fate::ReadsOtherwise, "{found}{tape}: {fate:?}");
        told
    };
    assert!(of("141", ""));
    assert!(!of("140.9", ""));
    // A tape that repeats within 2 mm leaves 2.79 open.
    assert!(!of("142", "  repeats 2 mm"));
    assert!(of("143", "  repeats 2 mm"));
}

/// Whether what was read of a quantity at the left front is stale at the end of the book.
fn stale_at_end(lines: &str, quantity: &str) -> bool {
    let compiled = book(lines);
    let id = compiled.book.vocabulary.find(quantity).unwrap();
    let there = compiled.facts().on(car(&compiled, "heron"), Rank::END);
    let held = there.slot(id, Place::LF).unwrap().held;
    assert!(held.read.is_some(), "{lines}");
    held.stale.is_some()
}

#[test]
fn a_second_change_of_words_disturbs_as_the_first_does() {
    let of = |set: &str| {
        let lines = format!(
            "2025-04-01 heron\n  set tyre-size all \"200/50\"\n  read tyre-diameter LF 600 mm\n\n2025-05-01 heron\n  set tyre-size all {set}\n"
        );
        stale_at_end(&lines, "tyre-diameter")
    };
    assert!(of("\"205/55\""));
    // Said again it is no change.
    assert!(!of("\"200/50\""));
}

#[test]
fn off_and_nought_are_two_settings() {
    let of = |set: &str| {
        let lines = format!(
            "2025-04-01 heron\n  set bar-hole front off\n  left weight LF 150 RF 151 LR 170 RR 171 kg\n\n2025-05-01 heron\n  set bar-hole front {set}\n"
        );
        stale_at_end(&lines, "weight")
    };
    assert!(of("0"));
    assert!(!of("off"));
}

#[test]
fn what_follows_an_error_is_a_change() {
    let of = |broken: &str, set: &str| {
        let lines = format!(
            "2025-04-01 heron\n  set preload LF {set} mm\n  set preload LF {broken}\n  read ride-height LF 60 mm\n\n2025-05-01 heron\n  set preload LF {set} mm\n"
        );
        stale_at_end(&lines, "ride-height")
    };
    // Nobody knows what it was when the car was read.
    assert!(of("3 bar", "0"));
    assert!(of("3 bar", "5"));
    assert!(!of("5 mm", "5"));
}

#[test]
fn what_was_read_of_a_part_is_not_stale_for_fitting_it() {
    let kinds = "kind rubber \"set of four\"  fits all  carries tread\npart r1 rubber\npart r2 rubber\n";
    let of = |lines: &str| stale_at_end(&format!("{kinds}\n{lines}"), "tread");
    assert!(!of(
        "2025-01-10\n  bench r1 tread 5.0 mm\n\n2025-02-01 heron\n  fit r1\n  read tread LF 5.0 mm\n"
    ));
    assert!(!of(
        "2025-04-01 heron\n  fit r1\n  read tread LF 5.0 mm\n\n2025-05-01 heron\n  remove r1\n\n2025-06-01 heron\n  fit r1\n"
    ));
    // Another was on between: it is still its own.
    assert!(!of(
        "2025-04-01 heron\n  fit r1\n  read tread LF 5.0 mm\n\n2025-05-01 heron\n  remove r1\n  fit r2\n\n2025-06-01 heron\n  remove r2\n  fit r1\n"
    ));
    // Read of a car whose tyres have no name, and others were on since: not of what is there now.
    assert!(of(
        "2025-04-01 heron\n  read tread LF 5.0 mm\n\n2025-05-01 heron\n  fit r1\n\n2025-06-01 heron\n  remove r1\n"
    ));
}

#[test]
fn a_part_benched_before_it_was_fitted_is_not_stale() {
    let lines = "kind caliper \"caliper\"  fits LF RF  carries pad-thickness\npart cal-1 caliper\n
2025-01-10
  bench cal-1 pad-thickness 11.0 mm

2025-02-01 heron
  fit cal-1 LF
";
    assert!(!stale_at_end(lines, "pad-thickness"));
}

#[test]
fn the_line_says_more_of_the_bars_than_the_reference() {
    let of = |reference: &str, with: &str| {
        let lines = format!(
            "car wren \"Wren\"\n  reference {reference}\n\n2025-04-01 wren\n  left weight LF 150 RF 151 LR 170 RR 171 kg{with}\n\n2025-05-01 wren\n  set bar-hole front 3\n"
        );
        let compiled = book(&lines);
        let wren = car(&compiled, "wren");
        let id = compiled.book.vocabulary.find("weight").unwrap();
        let there = compiled.facts().on(wren, Rank::END);
        let stale = there.slot(id, Place::LF).unwrap().held.stale.is_some();
        let moment = moment::end(&compiled.history);
        let mut calc = Calc::new(compiled.facts(), wren, &moment);
        let on = calc.named("pads-with-bars", Place::CAR).unwrap().value > 0.5;
        // A bar that was on is a bar that the hole matters to.
        assert_eq!(on, stale, "{reference}{with}");
        on
    };
    assert!(!of("bars on", "  with links off"));
    assert!(of("bars off", "  with links on"));
    assert!(!of("links off", ""));
    assert!(of("bars on", ""));
}

/// A tape of sixteenths reads 86 as finely as 85 7/8, however it is typed. Without a gauge the finest fraction of the line says how finely
/// it was read. A whole number alone is good to half of one.
#[test]
fn a_ruler_is_as_fine_as_it_says_whatever_fraction_is_typed() {
    let moved = |left: &str, found: &str, by: &str| {
        let compiled = crate::checks::compile_text(&format!(
            "gauge tape \"Tape\"  reads ride-height  resolution 1/16 in\ncar heron \"Heron\"  units imperial\n2025-04-01 heron\n  left \
             ride-height {left} in{by}\n2025-04-02 heron\n  found ride-height {found} in{by}\n"
        ));
        compiled.diagnostics.iter().any(|one| one.check == "found-has-drifted")
    };
    let tape = "  by tape";
    assert!(moved("4 1/4 5 4 1/2 5", "4 1/4 5 4 3/4 5", tape));
    assert!(moved("4 1/2 5 5 5", "5 5 5 5", tape) && moved("4.50 5.00 5.00 5.00", "5 5 5 5", tape));
    assert!(moved("5 5 5 5", "5 5 5 5 1/8", tape) && !moved("5 5 5 5", "5 5 5 5 1/16", tape));
    // Half of a quarter on each line is a quarter: 5 1/4 may be 5, 5 1/2 may not.
    assert!(moved("4 1/4 5 5 5", "4 1/4 5 1/2 5 5", "") && !moved("4 1/4 5 5 5", "4 1/4 5 1/4 5 5", ""));
    assert!(!moved("4 5 5 5", "4 6 5 5", ""));
}

/// Toe typed as a length that a gauge of degrees read: 4.5 mm over 300 mm is 0.8594 degrees, 8.6 times the 0.1 that two readings to
/// 0.1 degrees leave open. It went out, and is said to.
#[test]
fn a_gauge_of_degrees_says_how_finely_toe_in_millimetres_was_read() {
    let compiled = crate::checks::compile_text(
        "gauge laser \"Laser\"  reads toe  resolution 0.1 deg\ncar heron \"Heron\"  toe-over 300 mm\n2025-04-01 heron\n  left toe-out front \
         2.0 mm total  by laser\n2025-04-02 heron\n  found toe-out front 6.5 mm total  by laser\n",
    );
    let drift = compiled.diagnostics.iter().find(|one| one.check == "found-has-drifted").unwrap();
    for said in ["left at 2.0 mm out", "found at 6.5 mm out", "moved 4.5 mm out, 8.6 gauge widths"] {
        assert!(drift.message.contains(said), "{}", drift.message);
    }
}

/// What was read of a tyre, and of the nuts of its wheel, is of the one that was there: with another it is stale, and with what nobody
/// takes a wheel off for it is not.
#[test]
fn another_tyre_makes_what_was_read_of_the_last_one_stale() {
    let stale = |kind: &str| {
        let text = format!(
            "{kind}\npart t-1 thing\npart t-2 thing\ncar heron \"Heron\"\n2025-04-01 heron\n  fit t-1 LF\n  torque wheel-torque all 110 N.m\n  \
             read tyre-hot 2.05 2.08 1.98 1.99 bar\n2025-04-02 heron\n  swap thing LF t-1 -> t-2\n"
        );
        let compiled = crate::checks::compile_text(&text);
        ["wheel-torque", "tyre-hot"].map(|name| {
            let id = compiled.book.vocabulary.find(name).unwrap();
            let there = compiled.facts().on(car(&compiled, "heron"), rank(&compiled, "2025-04-03"));
            [Place::LF, Place::RF].map(|place| there.slot(id, place).unwrap().held.stale.is_some())
        })
    };
    assert_eq!(stale("kind thing \"gravel tyre\"  fits LF RF  life 8 heat-cycles"), [[true, false]; 2]);
    assert_eq!(stale("kind thing \"gravel tyre\"  fits LF RF  carries tread"), [[true, false]; 2]);
    assert_eq!(stale("kind thing \"damper\"  fits LF RF  life 8 h"), [[false, false]; 2]);
}

/// The newer of the two forms of toe stands for both: the older is shown no more, whichever it is.
#[test]
fn the_older_form_of_toe_is_not_shown_beside_the_newer() {
    let wheels = "  read toe-out LR 1.5 RR 1.5 mm\n";
    let axle = "  read toe-in rear 0d20' total\n";
    let one = "  read toe-out LR 1.0 mm\n";
    let places = |lines: &[&str]| {
        let days = lines.iter().enumerate().map(|(at, line)| format!("2025-05-{:02} heron\n{line}", at + 1));
        let book = crate::checks::compile_text(&format!(
            "car heron \"Heron\"\n  toe-over 400 mm\n{}",
            days.collect::<String>()
        ));
        let end = stringline::history::moment::end(&book.history);
        let state =
            stringline::answer::state::build(&book, stringline::book::model::CarId::new(0), &end, None);
        let toe = state.slots.iter().filter(|slot| slot.quantity == "toe");
        toe.map(|slot| slot.place.clone().unwrap_or_default()).collect::<Vec<_>>().join(" ")
    };
    assert_eq!(places(&[wheels]), "LR RR");
    assert_eq!(places(&[wheels, axle]), "rear");
    assert_eq!(places(&[axle, wheels]), "LR RR");
    // Of the other wheel nobody knows any more.
    assert_eq!(places(&[wheels, axle, one]), "LR");
}
