//! A change is by so much: of what has a zero of its own its size alone, of what is no one number nothing; what it leads to is held to what can
//! be; and it is a change, in whatever unit it was typed.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::history::diff::{Fate, diff};
use stringline::history::moment;
use stringline::history::order::Rank;

const HEAD: &str = "car plumb \"Plumb\"  units metric\n\n2026-04-02 plumb\n";

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{HEAD}{lines}"))
}

fn number(compiled: &Compiled, quantity: &str, place: Place) -> Option<f64> {
    let id = compiled.book.vocabulary.find(quantity).unwrap();
    compiled.facts().on(CarId::new(0), Rank::END).number(id, place)
}

fn checks(compiled: &Compiled) -> Vec<(&str, &str)> {
    compiled.diagnostics.iter().map(|one| (one.check, one.message.as_str())).collect()
}

fn near(value: Option<f64>, expected: f64) {
    assert!(value.is_some_and(|value| (value - expected).abs() < 1e-9), "{value:?}, expected {expected}");
}

/// 20 C and 10 C more are 30 C; 10 F more are 10/1.8 K, 25.56 C, 78 F. 68 F and 9 F more are 77 F, 25 C.
#[test]
fn a_change_of_temperature_is_no_temperature() {
    let compiled = book(
        "  set tyre-gas-cold 20 20 20 20 C\n  adjust tyre-gas-cold LF +10 C\n  adjust tyre-gas-cold RF +10 F\n  adjust tyre-gas-cold LR -9 F\n",
    );
    near(number(&compiled, "tyre-gas-cold", Place::LF), 303.15);
    near(number(&compiled, "tyre-gas-cold", Place::RF), 293.15 + 10.0 / 1.8);
    near(number(&compiled, "tyre-gas-cold", Place::LR), 288.15);
    let compiled = book("  set tyre-gas-cold LF 68 F\n  adjust tyre-gas-cold LF +9 F\n");
    near(number(&compiled, "tyre-gas-cold", Place::LF), 298.15);
}

/// Every unit with a zero of its own: what a difference is in SI does not hang on where the zero is.
#[test]
fn no_unit_puts_its_zero_into_a_change() {
    let temperatures = [("C", 1.0), ("F", 5.0 / 9.0), ("K", 1.0)];
    for (from, _) in temperatures {
        for (unit, kelvin) in temperatures {
            let start = if from == "K" { "293.15" } else { "68" };
            let compiled = book(&format!(
                "  set tyre-gas-cold LF {start} {from}\n  adjust tyre-gas-cold LF +7 {unit}\n"
            ));
            let id = compiled.book.vocabulary.find("tyre-gas-cold").unwrap();
            let track = compiled.facts().on(CarId::new(0), Rank::END).slot(id, Place::LF).unwrap().track;
            let [first, second] = track.events.as_slice() else { panic!("{from} {unit}: {track:?}") };
            near(Some(second.value - first.value), 7.0 * kelvin);
        }
    }
}

#[test]
fn nothing_is_added_to_teeth_or_to_three_numbers() {
    for (set, adjust) in [
        ("final-drive 41/11", "final-drive +0.1"),
        ("final-drive 3.7", "final-drive +0.1"),
        ("gear-ratio g1 28/24", "gear-ratio g1 -0.1"),
        ("tyre-temp LF 80/85/82 C", "tyre-temp LF +5 C"),
        ("diff-ramp rear 45/60 deg", "diff-ramp rear +5 deg"),
    ] {
        let verb = if set.starts_with("tyre-temp") { "read" } else { "set" };
        let compiled = book(&format!("  {verb} {set}\n  adjust {adjust}\n"));
        let said = checks(&compiled);
        assert!(said.iter().any(|(check, _)| *check == "not-one-number"), "{adjust}: {said:?}");
        let cure = compiled.diagnostics.iter().find_map(|one| one.cure.clone()).unwrap_or_default();
        let name = set.split(' ').next().unwrap();
        assert!(cure.contains(&format!("`set {name} ...")), "{cure}");
    }
}

/// -3 less 20 is -23, 1.8 bar less 5 bar is none: refused as they would be if they were set, and not known.
#[test]
fn what_a_change_leads_to_is_held_to_what_can_be() {
    let compiled = book(
        "  set camber -3 -3 -3 -3 deg\n  adjust camber LF -20 deg\n  set tyre-cold 1.8 1.8 1.8 1.8 bar\n  adjust tyre-cold LF -5 bar\n",
    );
    let said = checks(&compiled);
    let told: Vec<_> = said.iter().filter(|(check, _)| *check == "change-impossible").collect();
    assert_eq!(told.len(), 2, "{said:?}");
    assert!(told[0].1.starts_with("camber LF would be -23 deg:"), "{told:?}");
    assert_eq!(number(&compiled, "camber", Place::LF), None);
    near(number(&compiled, "camber", Place::RF), (-3f64).to_radians());
    // What is only unusual is asked about, as it is of what is set.
    let by = |lines: &str| {
        let compiled =
            compile_text(&format!("{}{lines}", HEAD.replace("  units", "  usual camber -4..0 deg  units")));
        compiled.diagnostics.iter().filter(|one| one.check == "value-implausible").count()
    };
    assert_eq!(by("  set camber LF -5 deg\n"), 1);
    assert_eq!(by("  set camber LF -3 deg\n  adjust camber LF -2 deg\n"), 1);
    assert_eq!(by("  set camber LF -3 deg\n  adjust camber LF -0.5 deg\n"), 0);
}

/// What became of a place from the day it was set to the day it was set again.
fn fate(first: &str, then: &str, (quantity, place): (&str, Place)) -> Option<Fate> {
    let compiled = book(&format!("  set {first}\n\n2026-04-03 plumb\n  {then}\n"));
    let rank = |day: &str| {
        moment::parse(&compiled.book, &compiled.files, &compiled.history, CarId::new(0), day).unwrap().rank
    };
    let id = compiled.book.vocabulary.find(quantity).unwrap();
    let whole = diff(compiled.facts(), CarId::new(0), rank("2026-04-02"), rank("2026-04-03"));
    whole.slots.iter().find(|slot| slot.quantity == id && slot.place == place).map(|slot| slot.fate)
}

/// 1 psi is 0.07 bar, less than a last digit of either: a change all the same, since it was typed as one. 26.1 psi are 1.7995 bar: 1.80 bar in
/// another unit; 27 psi are 1.862 bar and are not.
#[test]
fn a_change_is_one_in_whatever_unit() {
    let cold = ("tyre-cold", Place::LF);
    let bar = "tyre-cold 1.8 1.8 1.8 1.8 bar";
    assert_eq!(fate(bar, "adjust tyre-cold all +1 psi", cold), Some(Fate::Changed));
    assert_eq!(fate(bar, "adjust tyre-cold all +0.1 psi", cold), Some(Fate::Changed));
    let low = ("ride-height", Place::RR);
    assert_eq!(
        fate("ride-height 60 60 60 60 mm", "adjust ride-height all +1/32 in", low),
        Some(Fate::Changed)
    );
    assert_eq!(fate("perch LF 2 turn", "adjust perch LF +2 flat", ("perch", Place::LF)), Some(Fate::Changed));
    // There and back it is as it was.
    let back = "adjust tyre-cold all +1 psi\n  adjust tyre-cold all -1 psi";
    assert_eq!(fate(bar, back, cold), Some(Fate::PutBack));
    let fine = "tyre-cold 1.80 1.80 1.80 1.80 bar";
    assert_eq!(fate(fine, "set tyre-cold 26.1 26.1 26.1 26.1 psi", cold), None);
    assert_eq!(fate(fine, "set tyre-cold 27 27 27 27 psi", cold), Some(Fate::Changed));
}

/// The dampers change sides: 9 clicks and 7 become 7 and 9.
#[test]
fn a_setting_that_came_with_another_part_stands_in_place_of_the_one_before() {
    let compiled = compile_text(
        "car plumb \"Plumb\"\nkind damper \"damper\"  fits LF RF on plumb  carries rebound  clicks 0..20 from full-hard\npart d1 damper\npart d2 damper\n\n2026-04-01 plumb\n  fit d1 LF\n  fit d2 RF\n  set rebound LF 9 click\n  set rebound RF 7 click\n\n2026-04-02 plumb\n  remove d1\n  remove d2\n  fit d2 LF\n  fit d1 RF\n",
    );
    let rank = |day: &str| {
        moment::parse(&compiled.book, &compiled.files, &compiled.history, CarId::new(0), day).unwrap().rank
    };
    let whole = diff(compiled.facts(), CarId::new(0), rank("2026-04-01"), rank("2026-04-02"));
    let all: Vec<_> = whole
        .slots
        .iter()
        .map(|slot| (slot.place, slot.fate, slot.then.map(|one| one.value), slot.now.map(|one| one.value)))
        .collect();
    assert_eq!(
        all,
        [(Place::LF, Fate::Changed, Some(9.0), Some(7.0)), (Place::RF, Fate::Changed, Some(7.0), Some(9.0))]
    );
}

/// What a line that cannot be read left unknown, or what was stated in its other form, is not known at one of the two, and was not first stated
/// since.
#[test]
fn what_was_unknown_then_was_not_first_stated_since() {
    let fates = |first: &str, second: &str| {
        let book = compile_text(&format!(
            "car heron \"Heron\"\n  toe-over 400 mm\n2025-05-10 heron\n{first}2025-05-12 heron\n{second}"
        ));
        let car = stringline::book::model::CarId::new(0);
        let at = |day: &str| {
            stringline::history::moment::parse(&book.book, &book.files, &book.history, car, day).unwrap()
        };
        let diff =
            stringline::history::diff::diff(book.facts(), car, at("2025-05-11").rank, at("2025-05-13").rank);
        diff.slots
            .iter()
            .map(|slot| format!("{} {:?}", book.book.place_word(slot.place), slot.fate))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let set = "  set camber RF -3.1 deg\n";
    assert_eq!(fates("", set), "RF FirstStated");
    assert_eq!(fates("  set camber RF -3,2 deg\n", set), "RF Unknown");
    assert_eq!(fates("  set camber LF -3,2 deg\n", set), "RF FirstStated");
    let wheels = "  read toe-in LF 1.5 RF 1.5 mm\n";
    assert_eq!(fates(wheels, "  read toe-in front 4 mm total\n"), "front Unknown");
    assert_eq!(fates("", "  read toe-in front 4 mm total\n"), "front FirstStated");
}
