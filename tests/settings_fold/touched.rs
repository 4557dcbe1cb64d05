//! How far the doubt of a line with a mistake reaches: to the places it names where nothing else in it can be a place, else everywhere.
//!
//! Every expectation is the rule itself, over all combinations of a quantity, its place words, and a mistake.

use super::{book, held, speaks};
use stringline::book::place::Place;

const CORNERS: [(&str, Place); 4] =
    [("LF", Place::LF), ("RF", Place::RF), ("LR", Place::LR), ("RR", Place::RR)];

/// Which of the four corners are not known after that line.
fn unknown_after(line: &str, quantity: &str, values: &str) -> Vec<&'static str> {
    let made = book(&format!("2025-05-01 heron\n  left {quantity} {values}\n2025-05-02 heron\n  {line}\n"));
    assert_eq!(speaks(&made).len(), 1, "{line}: {:?}", made.diagnostics);
    let lost = |place| held(&made, quantity, place).is(&made.history).is_none();
    CORNERS.into_iter().filter(|(_, place)| lost(*place)).map(|(word, _)| word).collect()
}

/// Mistakes in the number or in the unit behind it: `{}` stands for the number.
const SLIPS: [&str; 6] = ["9,2 {unit}", "{} dge", "{}", "{} bar", "{} {unit} {unit}", "{} {unit} into 9"];

#[test]
fn a_mistake_in_a_number_or_unit_stays_at_the_places_that_are_named() {
    let words: [(&str, &[&str]); 8] = [
        ("LF", &["LF"]),
        ("RF", &["RF"]),
        ("RL", &["LR"]),
        ("RR", &["RR"]),
        ("front", &["LF", "RF"]),
        ("rear", &["LR", "RR"]),
        ("left", &["LF", "LR"]),
        ("all", &["LF", "RF", "LR", "RR"]),
    ];
    for (quantity, values, unit, number) in [
        ("camber", "-3.0 -3.0 -2.0 -2.0 deg", "deg", "-3.2"),
        ("ride-height", "60 60 70 70 mm by bg-1", "mm", "61"),
        ("tyre-hot", "1.7 1.7 1.7 1.7 bar", "bar", "1.65"),
    ] {
        for (word, touched) in words {
            for slip in SLIPS {
                // A pressure is no mistake where pressures are.
                if slip == "{} bar" && unit == "bar" {
                    continue;
                }
                let said = slip.replace("{unit}", unit).replace("{}", number);
                let line = format!("left {quantity} {word} {said}");
                assert_eq!(unknown_after(&line, quantity, values), touched, "{line}");
                // Beside a value that is right, both are in doubt: which of the two the mistake was meant for nobody knows.
                if word == "LF" {
                    let two = format!("left {quantity} RR {number} {word} {said}");
                    let both = unknown_after(&two, quantity, values);
                    assert_eq!(both, ["LF", "RR"], "{two}");
                }
            }
        }
    }
}

#[test]
fn a_word_that_may_be_a_place_leaves_none_sure() {
    for said in [
        "LG -3.2 deg",
        "LF -3.2 RG -3.1 deg",
        "LF -3.2 LF -3.1 deg",
        "LF -3.2 lr-3.1 deg",
        "-3,2 deg",
        "-3,2 -3.1 -2 -2 deg",
        "-3.2 LF deg",
        "LF -3.2 deg RG",
        "frnt -3.2 deg",
        "LF -3.2 reer",
        "LF -3.2 deg \"and RF -3.1",
        "c1 -3.2 deg",
        "LF RF -3,2 \"both\" deg",
    ] {
        let line = format!("left camber {said}");
        let lost = unknown_after(&line, "camber", "-3.0 -3.0 -2.0 -2.0 deg");
        assert_eq!(lost, ["LF", "RF", "LR", "RR"], "{line}");
    }
}

/// A line that states the place again ends the doubt there and nowhere else; what was never stated at a place is not in doubt for a
/// mistake at another.
#[test]
fn the_doubt_of_a_place_is_its_own() {
    let made = book(
        "2025-05-01 heron\n  left camber LF -3,0 RF -3.0 deg\n2025-05-02 heron\n  left camber LF -3.1 LR -2.0 deg\n  adjust camber LR +0.1 deg\n",
    );
    assert_eq!(speaks(&made), ["decimal-comma"]);
    let known = |place| held(&made, "camber", place).is(&made.history).map(|event| event.value.to_degrees());
    assert!((known(Place::LF).unwrap() + 3.1).abs() < 1e-9);
    assert!((known(Place::LR).unwrap() + 1.9).abs() < 1e-9);
    // A change of what was never known at the other corner is a mistake of its own.
    let other = book("2025-05-01 heron\n  left camber LF -3,0 deg\n  adjust camber RR +0.1 deg\n");
    assert_eq!(speaks(&other), ["decimal-comma", "delta-from-unknown"]);
}
