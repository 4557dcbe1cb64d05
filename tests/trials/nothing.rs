//! Books that give nothing to say: a sentence, never a number that is none.

use super::{book, day, only, runs, said, view};

fn sound(lines: &str) -> Vec<String> {
    let compiled = book(lines);
    let view = view(&compiled);
    for trial in &view.trials {
        assert!(!trial.sentence.contains("NaN") && !trial.sentence.contains("inf"), "{}", trial.sentence);
        for fit in trial.measures.iter().filter_map(|one| one.fit.as_ref()) {
            for one in &fit.effects {
                for value in [one.value, one.error, one.low, one.high, one.p] {
                    assert!(value.is_finite());
                }
            }
            assert!(fit.scatter.is_finite() && fit.trends.iter().all(|trend| trend.is_finite()));
        }
    }
    let values = view.trials.iter().flat_map(|trial| &trial.measures).flat_map(|one| &one.values);
    assert!(values.flatten().all(|value| value.is_finite()));
    assert!(
        view.trials
            .iter()
            .filter_map(|one| one.plan.as_ref())
            .all(|plan| plan.within.is_none_or(f64::is_finite))
    );
    view.trials.into_iter().map(|trial| trial.sentence).collect()
}

#[test]
fn equal_laps_have_no_scatter() {
    let all = sound(&day("2025-05-10", "pell-1", 1, &runs("ABABA", &[60.0; 5])));
    assert!(all[0].contains("the values lie on a line to the last digit"), "{all:?}");
}

#[test]
fn one_run_and_none() {
    assert_eq!(sound(&day("2025-05-10", "pell-1", 1, &runs("B", &[60.0]))), Vec::<String>::new());
    assert_eq!(sound(""), Vec::<String>::new());
}

#[test]
fn a_lap_of_zero_is_no_lap() {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &[58.40, 58.02, 58.49, 58.06, 58.61]));
    let all = sound(&text.replace("best 0:58.02", "best 0:00.00"));
    assert_eq!(all.len(), 1);
    let trial = only(&text.replace("best 0:58.02", "best 0:00.00"));
    assert_eq!(trial.left_out[0].why, "no lap time that counts");
}

#[test]
fn b_only_after_a_says_what_would_tell() {
    let all = said(&day("2025-05-10", "pell-1", 1, &runs("AB", &[60.0, 59.0])));
    assert_eq!(
        all,
        [
            "bar-hole front: Cannot tell: bar-hole front 3 came only after bar-hole front 1; three more runs, A B A, would be enough to judge by"
        ]
    );
}

#[test]
fn four_hundred_runs() {
    let laps: Vec<f64> = (0..400_u32).map(|run| 60.0 + f64::from(run * 7919 % 101) / 100.0).collect();
    let order: String = (0..400).map(|run| if run % 3 == 1 { 'B' } else { 'A' }).collect();
    let mut text = "2025-05-10 heron at pell-1\n".to_owned();
    let mut hole = 1;
    for (number, (wanted, lap)) in runs(&order, &laps).into_iter().enumerate() {
        if wanted != hole {
            text += &format!("  set bar-hole front {hole} -> {wanted}\n");
            hole = wanted;
        }
        text += &format!("  run n{number}  10 laps  best {}  by ned\n", super::typed(lap));
    }
    let all = sound(&text);
    assert_eq!(all.len(), 1);
    let trial = only(&text);
    assert_eq!(trial.measures[0].fit.as_ref().unwrap().freedom, 397);
}

#[test]
fn a_line_with_an_error_makes_its_setting_unknown() {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &[58.40, 58.02, 58.49, 58.06, 58.61]));
    let text = text.replacen("set bar-hole front 3 -> 1", "set bar-hole front fnord", 1);
    let trial = only(&text);
    assert_eq!(trial.left_out[0].why, "not known: bar-hole");
}
