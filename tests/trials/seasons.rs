//! Over generated seasons: what is said is said of settings that were run, holds for every pair of them, and plans nothing for a day
//! that is over.

use super::random::{Random, normal, share};
use super::{book, day, view};
use crate::generated::hunt::books;
use std::collections::BTreeSet;
use stringline::answer::trials::{TrialOutcome, TrialView};
use stringline::statistics::student;

/// A day's runs: the hole and the lap of each. Two to four holes, each worth what chance gives it, or nothing.
fn season(random: &mut Random) -> Vec<(u32, f64)> {
    let count = 2 + random.next() as usize % 3;
    let mut holes: Vec<u32> = (1..=9).collect();
    let holes: Vec<u32> = (0..count).map(|_| holes.remove(random.next() as usize % holes.len())).collect();
    let worth = [0.0, 0.3][random.next() as usize % 2];
    let by: Vec<f64> = holes.iter().map(|_| worth * normal(random)).collect();
    let (trend, scatter) = (0.1 * (share(random) - 0.5), 0.01 + 0.1 * share(random));
    let runs = 4 + random.next() as usize % 9;
    (0..runs)
        .map(|run| {
            let one = random.next() as usize % count;
            (holes[one], 60.0 + trend * run as f64 + by[one] + scatter * normal(random))
        })
        .map(|(hole, lap)| (hole, (lap * 1000.0).round() / 1000.0))
        .collect()
}

/// The settings that a sentence names: after the thing, after "against", and on either side of a range.
fn named(sentence: &str) -> Vec<u32> {
    let words: Vec<&str> = sentence.split([' ', ',', ':', ';']).filter(|word| !word.is_empty()).collect();
    let mut found = Vec::new();
    for (index, word) in words.iter().enumerate() {
        let next = words.get(index + 1).and_then(|word| word.parse::<u32>().ok());
        let after_next = words.get(index + 2).copied();
        let of_setting = match *word {
            "front" | "against" => true,
            "from" => after_next == Some("to"),
            "to" => after_next == Some("is"),
            _ => false,
        };
        found.extend(next.filter(|_| of_setting));
    }
    found
}

#[test]
fn no_sentence_compares_settings_that_were_not_run() {
    let mut random = Random(1);
    let mut ranges = 0;
    for _ in 0..books(200, 2000) {
        let runs = season(&mut random);
        let run: BTreeSet<u32> = runs.iter().map(|(hole, _)| *hole).collect();
        let before = runs[0].0;
        let first = if before == 1 {
            String::new()
        } else {
            format!("2025-05-02 heron\n  set bar-hole front {before}\n\n")
        };
        for trial in view(&book(&format!("{first}{}", day("2025-05-10", "pell-1", before, &runs)))).trials {
            let said = named(&trial.sentence);
            assert!(said.iter().all(|hole| run.contains(hole)), "{run:?}: {}", trial.sentence);
            assert!(!trial.sentence.contains("step of"), "{}", trial.sentence);
            ranges += usize::from(trial.sentence.contains("as a straight line") && said.len() == 2);
        }
    }
    assert!(ranges > 0, "a straight line is never told");
}

/// Every pair's interval by the normal equations, solved by elimination: a way of its own to the same numbers.
fn widest(trial: &TrialView) -> f64 {
    let levels = trial.settings.len();
    let level = |letter: &str| trial.settings.iter().position(|one| one.letter == letter).unwrap();
    let rows: Vec<(Vec<f64>, f64)> = trial
        .runs
        .iter()
        .map(|run| {
            let mut row = vec![1.0, f64::from(run.order)];
            row.extend((1..levels).map(|one| if level(&run.letter) == one { 1.0 } else { 0.0 }));
            (row, run.best.unwrap() - 60.0)
        })
        .collect();
    let count = levels + 1;
    let sum = |of: &dyn Fn(&[f64], f64) -> f64| rows.iter().map(|(row, lap)| of(row, *lap)).sum::<f64>();
    // The normal equations, the laps and the unit matrix beside them.
    let mut table: Vec<Vec<f64>> = (0..count)
        .map(|a| {
            let mut line: Vec<f64> = (0..count).map(|b| sum(&|row, _| row[a] * row[b])).collect();
            line.push(sum(&|row, lap| row[a] * lap));
            line.extend((0..count).map(|b| if a == b { 1.0 } else { 0.0 }));
            line
        })
        .collect();
    for step in 0..count {
        let pivot =
            (step..count).max_by(|a, b| table[*a][step].abs().total_cmp(&table[*b][step].abs())).unwrap();
        table.swap(step, pivot);
        let head = table[step][step];
        for value in &mut table[step] {
            *value /= head;
        }
        let line = table[step].clone();
        for (index, other) in table.iter_mut().enumerate().filter(|(index, _)| *index != step) {
            let by = other[step];
            debug_assert_ne!(index, step);
            for (value, own) in other.iter_mut().zip(&line) {
                *value -= by * own;
            }
        }
    }
    let found: Vec<f64> = table.iter().map(|line| line[count]).collect();
    let left: f64 = rows
        .iter()
        .map(|(row, lap)| lap - row.iter().zip(&found).map(|(x, by)| x * by).sum::<f64>())
        .map(|rest| rest * rest)
        .sum();
    let freedom = (rows.len() - count) as f64;
    let pairs = levels * (levels - 1) / 2;
    let looks = if levels > 2 { 2 * pairs } else { 1 };
    let wide = student::quantile(1.0 - 0.05 / looks as f64, freedom).unwrap() * (left / freedom).sqrt();
    let of = |a: usize, b: usize| if a == 0 || b == 0 { 0.0 } else { table[a + 1][count + 2 + b] };
    let mut most: f64 = 0.0;
    for a in 0..levels {
        for b in a + 1..levels {
            let by = found[b + 1] - if a == 0 { 0.0 } else { found[a + 1] };
            let error = (of(a, a) + of(b, b) - 2.0 * of(a, b)).sqrt();
            most = most.max(by.abs() + wide * error);
        }
    }
    most
}

#[test]
fn no_difference_is_a_bound_for_every_pair() {
    let mut random = Random(2);
    let mut found = [0; 2];
    for _ in 0..books(300, 2000) {
        let runs = season(&mut random);
        let before = runs[0].0;
        let first = format!("2025-05-02 heron\n  set bar-hole front {before}\n\n");
        for trial in view(&book(&format!("{first}{}", day("2025-05-10", "pell-1", before, &runs)))).trials {
            if trial.outcome != TrialOutcome::NoDifference {
                continue;
            }
            let bound = trial.sentence.split(' ').find_map(|word| word.parse::<f64>().ok()).unwrap();
            let widest = widest(&trial);
            assert!(widest <= bound + 1e-6 && widest > bound - 0.0101, "{widest}: {}", trial.sentence);
            found[usize::from(trial.settings.len() > 2)] += 1;
        }
    }
    assert!(found[0] > 3 && found[1] > 3, "{found:?}");
}

#[test]
fn nothing_more_is_planned_for_a_day_that_is_over() {
    let mut random = Random(3);
    let mut found = [0; 2];
    for _ in 0..books(150, 2000) {
        let [one, two] = [season(&mut random), season(&mut random)];
        let first = format!("2025-05-02 heron\n  set bar-hole front {}\n\n", one[0].0);
        let early = day("2025-05-10", "pell-1", one[0].0, &one);
        let late = day("2025-08-02", "pell-2", one[one.len() - 1].0, &two);
        for trial in view(&book(&format!("{first}{early}{late}"))).trials {
            let over = trial.event.as_deref() == Some("pell-1");
            let more =
                trial.sentence.contains(" more run") || trial.plan.as_ref().is_some_and(|plan| !plan.anew);
            assert!(!(over && more), "{}", trial.sentence);
            found[usize::from(over)] += usize::from(more || trial.plan.is_some());
        }
    }
    assert!(found[0] > 3 && found[1] > 3, "{found:?}");
}
