//! The numbers of a slope, by closed forms.

use super::{book, only, said, shimmed};
use stringline::answer::worth::TurnWorth;

#[track_caller]
fn near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() < 1e-6 * wanted.abs().max(1.0), "{got} for {wanted}");
}

/// Four readings at 0 1 0 1: the slope is the difference of the means, -0.25; what is left over, ±0.05 four times, has 4 - 1 - 1 degrees of
/// freedom, so s² = 0.005; the squares about the mean sum to 1 (closed form). Student's t at 2 degrees of freedom is 4.302652730 (Abramowitz
/// & Stegun, table 26.10: 4.303).
#[test]
fn one_chain_of_four() {
    let one = only(&shimmed(&["-2.00", "-2.30", "-2.10", "-2.30"], ""));
    assert_eq!((one.turned.as_str(), one.moved.as_str()), ("camber-shim LF", "camber LF"));
    near(one.value, -0.25);
    near(one.error, (0.005_f64 / 2.0 * 1.0).sqrt());
    near(one.low, -0.25 - 4.302_652_73 * one.error);
    near(one.high, -0.25 + 4.302_652_73 * one.error);
    assert_eq!(
        (one.moves, one.freedom, one.unit.as_deref(), one.turned_unit.as_deref()),
        (3, 2, Some("deg"), Some("mm"))
    );
    near(one.furthest, 1.0);
}

/// Three pairs that share no reading: their mean and its standard error (closed form).
#[test]
fn three_pairs_of_three_days() {
    let day = |day: u32, from: &str, to: &str| {
        format!(
            "\n2025-05-{day} heron\n  set camber-shim LF 3 mm\n  read camber LF {from} deg\n  set camber-shim LF 3 -> 4 mm\n  read camber LF {to} deg\n  run s1 20 min\n"
        )
    };
    let one = only(&format!(
        "  | nothing\n{}{}{}",
        day(10, "-2.00", "-2.20"),
        day(11, "-2.10", "-2.36"),
        day(12, "-1.90", "-2.19")
    ));
    near(one.value, -(0.20 + 0.26 + 0.29) / 3.0);
    // Differences 0.20 0.26 0.29 scatter by s² = 0.0021 about 0.25; of the mean of three that is a third.
    near(one.error, (0.0021_f64 / 3.0).sqrt());
    assert_eq!((one.moves, one.freedom), (3, 2));
}

/// Readings that agree to the digit are no surer than their digit: half of 0.01 deg, rectangular.
#[test]
fn no_surer_than_the_gauge() {
    let one = only(&shimmed(&["-2.00", "-2.25", "-2.00", "-2.25"], ""));
    near(one.value, -0.25);
    near(one.error, 0.005 / 3.0_f64.sqrt());
}

/// Two places that were turned at once are told apart where they were turned apart too; a plane through what was read, fitted by hand:
/// x of LF 0 1 0 1, of RF 0 0 1 1, y 0 1 2 3 is y = x + 2 x'.
#[test]
fn two_places_at_once() {
    let lines = "  read rake 10.0 mm\n  set wedge-block LF 1 mm\n  read rake 11.0 mm\n  set wedge-block LF 0 RF 1 mm\n  read rake 12.0 mm\n  \
                 set wedge-block LF 1 mm\n  read rake 13.0 mm\n  set wedge-block LF 0 RF 0 mm\n  read rake 10.0 mm\n  set wedge-block RF 1 mm\n  read rake 12.0 mm\n";
    let all = said(&book(lines));
    let found: Vec<(&str, f64)> =
        all.turns.iter().map(|one: &TurnWorth| (one.turned.as_str(), one.value)).collect();
    let [(lf, one), (rf, two)] = found.as_slice() else { panic!("{found:?} {:?}", all.few) };
    assert_eq!((*lf, *rf), ("wedge-block LF", "wedge-block RF"));
    near(*one, 1.0);
    near(*two, 2.0);
}

#[test]
fn places_that_always_go_together_are_not_told_apart() {
    let mut lines = String::new();
    for (index, rake) in ["10.0", "11.1", "10.0", "11.0", "10.1"].iter().enumerate() {
        if index > 0 {
            lines += &format!("  set wedge-block LF {0} RF {0} mm\n", index % 2);
        }
        lines += &format!("  read rake {rake} mm\n");
    }
    let all = said(&book(&lines));
    assert!(all.turns.is_empty());
    assert_eq!(all.few.len(), 1);
    assert!(all.few[0].sentence.contains("turned together each time"), "{}", all.few[0].sentence);
}

#[test]
fn nothing_moved_is_said_so() {
    let one = only(&shimmed(&["-2.00", "-2.05", "-2.04", "-2.01", "-2.03"], ""));
    assert!(one.sentence.ends_with("it cannot be told from nothing"), "{}", one.sentence);
}
