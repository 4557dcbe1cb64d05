//! What was read under the runs is told as closely as it was typed, and lap times as closely as their interval is worth.

use super::{book, day, only, runs, view};
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

/// Another gauge is no effect: readings are of the gauge of the first of them.
#[test]
fn two_gauges_are_not_taken_for_an_effect() {
    let text = with_pressures(["1.801", "1.805", "1.800", "1.804", "1.801"]);
    let all = only(&text.replace("1.703 bar", "1.703 bar  by pg-1"));
    assert!(all.measures.iter().any(|one| one.name.starts_with("tyre-hot")));
    let mut by = ["pg-1", "pg-2"].into_iter().cycle();
    let mixed: String = text
        .lines()
        .map(|line| {
            if line.contains("1.703 bar") {
                format!("{line}  by {}\n", by.next().unwrap())
            } else {
                format!("{line}\n")
            }
        })
        .collect();
    let trial = only(&mixed);
    let reading = trial.measures.iter().find(|one| one.name.starts_with("tyre-hot")).unwrap();
    assert!(reading.fit.is_none(), "{:?}", reading.fit);
    assert_eq!(reading.values.iter().flatten().count(), 3);
}

/// A part changed at a stop: that run was of neither, and the one before it of another.
#[test]
fn a_part_changed_in_a_run_takes_it_out() {
    let laps = [60.00, 59.80, 60.05, 59.80, 60.01];
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &laps));
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let at = lines.iter().position(|line| line.contains(" run s102 ")).unwrap();
    lines.insert(at + 1, "    stop 2 min\n      swap spring-set LF sp-8 -> sp-9".to_owned());
    lines.insert(1, "  fit sp-8 LF".to_owned());
    let trials = view(&book(&lines.join("\n"))).trials;
    let trial = trials.iter().find(|trial| trial.what == "bar-hole front").unwrap();
    assert_eq!(
        trial.left_out.iter().map(|run| run.why.as_str()).collect::<Vec<_>>(),
        ["spring-set differed", "parts were changed during it"]
    );
}

/// As much fuel with every A, and clearly more with every B, is another difference; as much with both, or now so, now so, is not.
#[test]
fn fuel_that_went_with_the_setting_refuses_it() {
    let said = |loads: [u32; 5]| {
        let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &[60.00, 59.80, 60.05, 59.80, 60.01]));
        let mut loads = loads.into_iter();
        let filled: String = text
            .lines()
            .map(|line| {
                if line.contains(" run s") {
                    format!("  fill fuel {} L\n{line}\n", loads.next().unwrap())
                } else {
                    format!("{line}\n")
                }
            })
            .collect();
        only(&filled).sentence
    };
    for loads in [[20, 20, 20, 20, 20], [20, 30, 30, 20, 30]] {
        assert!(said(loads).contains("is quicker than"), "{loads:?}");
    }
    let refused = said([10, 60, 10, 60, 10]);
    assert!(!refused.contains("quicker") && refused.contains("fuel"), "{refused}");
}
