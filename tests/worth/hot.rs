//! Hot pressures by the track and the cold pressure, by closed forms; and what is not compared.

use std::fmt::Write as _;
use stringline::Compiled;
use stringline::answer::worth::{HotWorth, WorthAnswer, build};
use stringline::history::order::Rank;

const SHOP: &str = r#"shop "Invented"
person ned "Ned"
person ann "Ann"
gauge pg-1 "one"  reads tyre-cold, tyre-hot  resolution 0.001 bar
gauge pg-2 "another"  reads tyre-hot  resolution 0.001 bar
kind tyre-set "tyres"  fits all
part t-1 tyre-set
part t-2 tyre-set
circuit pell "Pell"  length 2.40 km
event pell-1 2025-05-10..11 at pell "Pell, spring"
car heron "Heron"

2025-05-01 heron
  fit t-1 all

"#;

/// A day of runs: cold pressure and track temperature before, hot pressure after, LF; what else the run's line says, and by which gauge.
fn day(runs: &[(f64, f64, f64)], more: &str, gauge: &str) -> String {
    let mut text = "2025-05-10 heron at pell-1\n".to_owned();
    for (index, (cold, track, hot)) in runs.iter().enumerate() {
        let (hour, label) = (8 + index, index + 1);
        let _ = write!(
            text,
            "  {hour:02}:00 set tyre-cold LF {cold:.2} bar  by pg-1\n  {hour:02}:05..{hour:02}:25 run s{label}  10 laps  best 0:58.40  by ned  with air 15 C, track {track} C{more}\n    read tyre-hot LF {hot:.3} bar  by {gauge}\n"
        );
    }
    text
}

fn said(text: &str) -> WorthAnswer {
    let compiled: Compiled = crate::checks::compile_text(&format!("{SHOP}{text}"));
    build(&compiled, crate::history::car(&compiled, "heron"), Rank::END)
}

fn only(answer: &WorthAnswer) -> &HotWorth {
    let [one] = answer.hot.as_slice() else { panic!("{:?} {:?}", answer.hot, answer.few) };
    one
}

/// Cold 1.40 1.40 1.50 1.50 and track 20 30 20 30 are at right angles: each slope is that of its own column, (sum of x y) / (sum of x x). The hot pressures
/// 1.70 1.76 1.82 1.87 have a mean of 1.7875; by cold (1.82 + 1.87 - 1.70 - 1.76) / 2 = 0.115 over 0.1 bar, by track (1.76 + 1.87 - 1.70 - 1.82) / 2
/// = 0.055 over 10 C. What is left over is -0.0025 0.0025 0.0025 -0.0025 on one degree of freedom: with five runs, the fifth at both means and at the mean of
/// the others, two: s² = 0.000025 / 2, and t at 2 degrees of freedom is 4.302653 (Abramowitz & Stegun, table 26.10).
#[test]
fn two_causes_at_right_angles() {
    let runs = [
        (1.40, 20.0, 1.70),
        (1.40, 30.0, 1.76),
        (1.50, 20.0, 1.82),
        (1.50, 30.0, 1.87),
        (1.45, 25.0, 1.7875),
    ];
    let text = day(&runs, "", "pg-1").replace("1.788 bar", "1.7875 bar");
    let answer = said(&text);
    let one = only(&answer);
    let [cold, track] = one.by.as_slice() else { panic!("{:?}", one.by) };
    assert_eq!((one.moved.as_str(), one.runs, one.groups, one.freedom), ("tyre-hot LF", 5, 1, 2));
    let s = (0.000_025_f64 / 2.0).sqrt();
    // The sums of squares of the columns are 4 · 0.05² = 0.01 bar² and 4 · 5² = 100 C².
    for (got, value, xx, names) in
        [(cold, 1.15, 0.01_f64, ("tyre-cold LF", "bar")), (track, 0.0055, 100.0, ("track temperature", "C"))]
    {
        assert_eq!((got.cause.as_str(), got.unit.as_deref()), (names.0, Some(names.1)));
        let half = 4.302_653 * s / xx.sqrt();
        for (is, wanted) in [
            (got.value, value),
            (got.error, s / xx.sqrt()),
            (got.low, value - half),
            (got.high, value + half),
        ] {
            assert!((is - wanted).abs() < 1e-6, "{}: {is} {wanted}", got.cause);
        }
    }
    assert!((track.least - 20.0).abs() < 1e-9 && (track.most - 30.0).abs() < 1e-9);
    assert!(one.sentence.contains("tried from 20 to 30 C"), "{}", one.sentence);
    assert!(
        one.sentence
            .ends_with("by 5 runs in 1 group that is alike, and nothing is said beyond what was tried"),
        "{}",
        one.sentence
    );
}

/// A cold pressure that stood still is no cause: 0.005 bar a degree by four runs.
#[test]
fn one_cause_where_the_other_stood_still() {
    let runs = [(1.40, 18.0, 1.700), (1.40, 22.0, 1.721), (1.40, 26.0, 1.739), (1.40, 30.0, 1.760)];
    let answer = said(&day(&runs, "", "pg-1"));
    let one = only(&answer);
    let [track] = one.by.as_slice() else { panic!("{:?}", one.by) };
    // Sxy / Sxx = (-6 · 1.700 - 2 · 1.721 + 2 · 1.739 + 6 · 1.760) / 80.
    assert!((track.value - (-6.0 * 1.700 - 2.0 * 1.721 + 2.0 * 1.739 + 6.0 * 1.760) / 80.0).abs() < 1e-9);
    assert_eq!(one.freedom, 2);
}

/// Three runs leave too little, and going together tells nothing apart.
#[test]
fn what_cannot_be_told() {
    let few = said(&day(&[(1.40, 18.0, 1.70), (1.40, 22.0, 1.72), (1.40, 26.0, 1.74)], "", "pg-1"));
    assert!(few.hot.is_empty());
    assert_eq!(
        few.few[0].sentence,
        "tyre-hot LF by running: 3 runs that can be compared, and 1 more is needed"
    );
    let runs =
        [(1.40, 20.0, 1.70), (1.42, 22.0, 1.72), (1.44, 24.0, 1.74), (1.46, 26.0, 1.77), (1.48, 28.0, 1.79)];
    let together = said(&day(&runs, "", "pg-1"));
    assert!(together.hot.is_empty());
    assert!(together.few[0].sentence.contains("went together in all 5 runs"), "{}", together.few[0].sentence);
}

/// Another gauge, other tyres, another driver, rain, a run that does not say the track: never on one line with the others.
#[test]
fn runs_that_are_not_alike_are_not_compared() {
    let runs = [(1.40, 18.0, 1.700), (1.40, 22.0, 1.721), (1.40, 26.0, 1.739), (1.40, 30.0, 1.760)];
    let text = day(&runs, "", "pg-1");
    assert_eq!(said(&text).hot.len(), 1);
    for (from, to) in [
        ("1.739 bar  by pg-1", "1.739 bar  by pg-2"),
        ("by ned  with air 15 C, track 26 C", "by ann  with air 15 C, track 26 C"),
        ("track 26 C", "track 26 C, damp"),
        ("air 15 C, track 26 C", "air 15 C"),
        ("  10:05..10:25 run", "  10:01 swap tyre-set all t-1 -> t-2\n  10:05..10:25 run"),
        (
            "    read tyre-hot LF 1.739 bar  by pg-1\n",
            "    read tyre-hot LF 1.739 bar  by pg-1\n      void because the stem leaked\n",
        ),
    ] {
        let other = text.replace(from, to);
        assert_ne!(other, text, "{from}");
        assert!(said(&other).hot.is_empty(), "{to}: {:?}", said(&other).hot);
    }
}

/// Oil by the tape on its cooler: 10 % more by 4 C, the air the same.
#[test]
fn oil_by_the_tape_on_its_cooler() {
    let mut text = "2025-05-10 heron at pell-1\n".to_owned();
    for (index, (tape, oil)) in [(0, 92), (20, 100), (40, 109), (60, 116)].into_iter().enumerate() {
        let hour = 8 + index;
        let _ = write!(
            text,
            "  {hour:02}:00 set oil-cooler-tape {tape} %\n  {hour:02}:05..{hour:02}:25 run s{index}  10 laps  best 0:58.40  by ned  with air 15 C, track 20 C\n    read oil-temp {oil} C\n"
        );
    }
    let answer = said(&text);
    let one = only(&answer);
    let [tape] = one.by.as_slice() else { panic!("{:?}", one.by) };
    assert_eq!(
        (one.moved.as_str(), tape.cause.as_str(), tape.unit.as_deref()),
        ("oil-temp", "oil-cooler-tape", Some("%"))
    );
    // (-30 · 92 - 10 · 100 + 10 · 109 + 30 · 116) / 2000 = 0.405 C for a per cent.
    assert!((tape.value - 0.405).abs() < 1e-9, "{}", tape.value);
}
