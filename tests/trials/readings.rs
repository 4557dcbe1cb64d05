//! What was read under the runs is told as closely as it was typed, and lap times as closely as their interval is worth.

use super::{day, only, runs};
use stringline::answer::trials::fitted::measured;

/// Five runs A B A B A, each with the four hot pressures; the first place reads what is given here.
fn with_pressures(first: [&str; 5]) -> String {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &[60.00, 59.80, 60.05, 59.80, 60.01]));
    let mut out = String::new();
    let mut first = first.into_iter();
    for line in text.lines() {
        out += line;
        out += "\n";
        if line.contains(" run s") {
            out += &format!("    read tyre-hot {} 1.801 1.701 1.703 bar\n", first.next().unwrap());
        }
    }
    out
}

/// By hand: only hole 3 reads 0.004 bar more at one of four places, a mean of 0.001; runs alike scatter by a thousandth at that place.
#[test]
fn a_reading_has_one_decimal_more_than_was_typed() {
    let trial = only(&with_pressures(["1.801", "1.805", "1.800", "1.804", "1.801"]));
    let reading = &trial.measures[1];
    assert_eq!(reading.decimals, Some(3));
    let said = measured(reading);
    assert!(said.starts_with("tyre-hot, mean: B against A +0.0010 bar (+0.00"), "{said}");
}

/// Laps have the digits of the sentence in the line beside it.
#[test]
fn a_lap_time_has_the_digits_of_its_sentence() {
    let trial = only(&day("2025-05-10", "pell-1", 1, &runs("ABABA", &[60.00, 59.80, 60.01, 59.80, 60.00])));
    let line = measured(&trial.measures[0]);
    let (_, by) = trial.sentence.split_once(" by ").unwrap();
    let by = by.split_once(' ').unwrap().0;
    assert_eq!(by.split_once('.').unwrap().1.len(), 3, "{}", trial.sentence);
    assert!(line.contains(&format!("B against A -{by} s")), "{line} {}", trial.sentence);
    assert!(line.contains("p under 0.001"), "{line}");
}
