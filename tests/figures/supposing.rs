//! What is supposed stands before everything else that would give that name, whatever it is taken from; what reaches no input of a figure
//! is refused, and never worth nothing.

use super::{close, trace};

const BOOK: &str = "circuit mire \"Mire\"  length 2 mile
event mire-1 2026-04-18..19 at mire \"M\"
car plumb \"Plumb\"  units metric
  usual weight 50..400 kg
  drive rear
  cylinders 4
  gears 1
  toe-over 400 mm

2026-04-18 plumb at mire-1
  set final-drive 35/10
  set gear-ratio g1 30/15
  set rev-limit 7000 rpm
  set rolling-circumference LR 1.8 RR 1.8 m
  read weight 150 160 170 180 kg  with driver 78 kg, fuel 20 L
  read tyre-circumference LR 1900 RR 1920 mm
  read leakdown 6 6 5 6 %  at 7 bar  with hot
  read compression 12 12.5 12 11 bar  with hot
  set tyre-cold 1.5 1.5 1.5 1.5 bar
  set toe-in front 1 mm total
  10:00..10:20 run s1  10 laps
    read tyre-hot 1.9 1.9 1.9 1.9 bar
    read fuel-used 9 L
";

/// 7000 rpm by 1.8 m is 210 m/s of tread by 3.5 * 2; by 4.1 it is 210 / 8.2, 92.2 km/h.
#[test]
fn every_source_of_a_name_gives_way_to_what_is_supposed() {
    for (words, with, expected) in [
        (["cross-weight", ""], "weight LF 170 kg", 330.0 / 680.0),
        (["speed-at-limit", "g1"], "final-drive 4.1", 210.0 / 8.2),
        (["speed-at-limit", "g1"], "gear-ratio g1 2.5", 210.0 / 8.75),
        (["stagger", "rear"], "tyre-circumference LR 1910 mm", 0.010),
        (["tyre-gain", "LF"], "tyre-hot LF 2.0 bar", 50_000.0),
        (["leakdown-lost", "c1"], "leakdown c1 10 %", 0.1),
        (["compression-spread", ""], "compression c4 10 bar", 0.2),
        (["fuel-per-lap", ""], "fuel-used 12 L", 0.0012),
        (["fuel-burnt", ""], "fuel-used 12 L", 0.012),
        (["total-toe-length", "front"], "toe front 2 mm", 0.002),
        (["toe-length", "LF"], "toe LF 2 mm", 0.002),
        (["total-weight", ""], "weight LF 170 kg", 680.0 * 9.80665),
    ] {
        let words: Vec<&str> = ["plumb"].into_iter().chain(words).filter(|word| !word.is_empty()).collect();
        let (value, err) = trace(BOOK, &[&words[..], &["--with", with]].concat());
        assert!(value["value_si"].is_number(), "{words:?} {with}: {value} {err}");
        let got = value["value_si"].as_f64().unwrap();
        assert!(
            (got - expected).abs() <= 1e-9 * expected.abs(),
            "{words:?} {with}: {got}, expected {expected}"
        );
        let (is, _) = trace(BOOK, &words);
        assert_ne!(is["value_si"], value["value_si"], "{words:?} {with}");
    }
}

/// The whole car on one scale, 660 kg, less three pads: 215 kg at the fourth of a car of 700 kg. The total that was read stands, whatever
/// is supposed of a pad beside it: refused.
#[test]
fn three_pads_and_a_total() {
    let three = BOOK.replace("150 160 170 180 kg  with", "150 160 - 175 kg  with").replace(
        "  read tyre-circ",
        "  read total-weight 660 kg  with driver 78 kg, fuel 20 L\n  read tyre-circ",
    );
    let (value, err) = trace(&three, &["plumb", "corner-weight", "LR", "--with", "total-weight 700 kg"]);
    assert!(err.is_empty(), "{err}");
    close(&value, "value_si", 215.0 * 9.80665, 1e-6);
    let (value, err) = trace(&three, &["plumb", "total-weight", "--with", "weight RF 165 kg"]);
    assert!(value.is_null() && err.contains("reaches no input of total-weight"), "{value} {err}");
}

#[test]
fn what_reaches_no_input_is_refused() {
    for (figure, with) in [
        ("cross-weight", "camber LF -2 deg"),
        ("leakdown-per-hour", "leakdown c1 10 %"),
        ("overall-ratio", "tyre-hot LF 2.0 bar"),
    ] {
        let place = if figure == "leakdown-per-hour" { "c1" } else { "g1" };
        let mut words = vec!["plumb", figure];
        if figure != "cross-weight" {
            words.push(place);
        }
        let (value, err) = trace(BOOK, &[&words[..], &["--with", with]].concat());
        assert!(!value["value_si"].is_number(), "{figure} {with}: {value}");
        assert!(figure == "leakdown-per-hour" || err.contains("reaches no input"), "{figure}: {err}");
    }
}

/// What was read is another method than the pads: one kilogram more on a pad is worth one of what they come to, and nothing of what was read.
#[test]
fn what_a_change_is_worth_is_told_of_the_formula_alone() {
    let text = format!(
        "{BOOK}2026-04-19 plumb\n  read weight 150 160 170 180 kg  with driver 78 kg, fuel 20 L\n  read total-weight 664 kg  with driver 78 kg, fuel 20 L\n"
    );
    for (with, worth) in [("weight LF 151 kg", "1.0000 kg"), ("weight LF 150 kg", "0.0000 kg")] {
        let said = crate::lives::printed(&text, &["trace", "plumb", "total-weight", "--with", with]);
        assert!(said.contains(&format!("the change is worth {worth}")), "{with}: {said}");
        assert!(said.contains("as the book has it 664 kg read, 660 kg worked out"), "{with}: {said}");
    }
}
