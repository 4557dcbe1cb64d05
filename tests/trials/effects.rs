//! The numbers: closed forms of the drift-free orders, and another library's.

use super::{day, only, runs};
use serde::Deserialize;
use std::collections::BTreeMap;
use stringline::answer::trials::TrialFit;
use stringline::trials::Refusal;
use stringline::trials::effect::{Effect, effects};
use stringline::trials::row::Row;

fn near(got: f64, wanted: f64, tolerance: f64) {
    assert!((got - wanted).abs() <= tolerance, "{got}, expected {wanted} ± {tolerance}");
}

/// The fit of the best laps of one day's runs in this order.
fn fit(order: &str, laps: &[f64]) -> TrialFit {
    let trial = only(&day("2025-05-10", "pell-1", 1, &runs(order, laps)));
    trial.measures[0].fit.clone().unwrap_or_else(|| panic!("{}", trial.sentence))
}

/// Trend, effect, standard error, degrees of freedom, low, high, p.
type Expected = (f64, f64, f64, usize, f64, f64, f64);

fn holds(order: &str, laps: &[f64], (trend, effect, error, freedom, low, high, p): Expected) {
    let fit = fit(order, laps);
    let one = &fit.effects[0];
    near(fit.trends[0], trend, 1e-7);
    near(one.value, effect, 1e-7);
    near(one.error, error, 1e-7);
    assert_eq!(fit.freedom, freedom, "{order}");
    near(one.low, low, 1e-7);
    near(one.high, high, 1e-7);
    near(one.p, p, 1e-6);
    assert_eq!(fit.bears_verdict, freedom > 1);
}

// Closed forms: y = a + b i + c x by least squares, Student's t at n - 3 degrees of freedom.
#[test]
fn there_and_back_three_times() {
    let laps = [72.31, 72.08, 72.45, 72.15, 72.60, 72.27];
    holds(
        "ABABAB",
        &laps,
        (0.06, -0.346_666_67, 0.026_701_37, 3, -0.431_642_33, -0.261_691_00, 0.000_986_59),
    );
}

/// The effect equals (O2 - O1 + O3 - O4) / 2 of double substitution (NISTIR 6969, SOP 4).
#[test]
fn double_substitution() {
    let laps = [84.10, 83.70, 83.90, 84.50];
    holds("ABBA", &laps, (0.14, -0.50, 0.044_721_36, 1, -1.068_238_75, 0.068_238_75, 0.056_789_89));
    near(fit("ABBA", &laps).effects[0].value, (83.70 - 84.10 + 83.90 - 84.50) / 2.0, 1e-9);
}

#[test]
fn a_trend_is_taken_off() {
    // The plain means are 0.47 apart.
    let laps = [67.61, 67.18, 67.87, 67.36];
    holds("ABAB", &laps, (0.11, -0.58, 0.044_721_4, 1, -1.148_238_75, -0.011_761_25, 0.048_989_57));
}

#[test]
fn five_runs() {
    let laps = [58.40, 58.02, 58.49, 58.06, 58.61];
    holds("ABABA", &laps, (0.046, -0.46, 0.027_688_75, 2, -0.579_135_06, -0.340_864_94, 0.003_603_62));
}

#[test]
fn an_order_that_no_trend_can_fool() {
    let laps = [61.20, 60.95, 61.02, 61.40, 61.10, 61.52, 61.58, 61.31];
    holds("ABBABAAB", &laps, (0.060_952_38, -0.33, 0.010_779_17, 5, -0.357_708_74, -0.302_291_26, 6.98e-7));
    let mean = |letter| {
        let of: Vec<f64> =
            "ABBABAAB".chars().zip(laps).filter(|(c, _)| *c == letter).map(|(_, lap)| lap).collect();
        of.iter().sum::<f64>() / of.len() as f64
    };
    near(fit("ABBABAAB", &laps).effects[0].value, mean('B') - mean('A'), 1e-9);
}

/// Box, Hunter & Hunter, Statistics for Experimenters, chapter 3 (the set from memory): tomatoes in their row, with a trend.
#[test]
fn the_tomatoes_with_a_trend() {
    let yields = [29.9, 11.4, 26.6, 23.7, 25.3, 28.5, 14.2, 17.9, 16.5, 21.1, 24.3];
    let rows: Vec<Row> = (1..)
        .zip("AABBABBBAAB".chars())
        .map(|(order, letter)| Row { block: 0, order, level: usize::from(letter == 'B') })
        .collect();
    let found = effects(&rows, &yields, None, None).unwrap();
    let one = found.effects[0];
    near(found.trends[0], -0.443_111_53, 1e-8);
    near(one.value, 2.180_756_01, 1e-8);
    near(one.error, 3.987_914_1, 1e-7);
    near(one.low, -7.015_39, 1e-5);
    near(one.high, 11.376_90, 1e-5);
    near(one.p, 0.599_404_82, 1e-8);
    assert_eq!(found.freedom, 8);
}

#[derive(Deserialize)]
struct Golden {
    versions: BTreeMap<String, String>,
    rows: Vec<GoldenRow>,
    pairs: Vec<GoldenPairs>,
    lines: Vec<GoldenLine>,
}

#[derive(Deserialize)]
struct GoldenEffect {
    from: usize,
    to: usize,
    effect: f64,
    error: f64,
    low: f64,
    high: f64,
    p: f64,
}

#[derive(Deserialize)]
struct GoldenPairs {
    runs: Vec<(usize, u32, usize)>,
    laps: Vec<f64>,
    effects: Vec<GoldenEffect>,
    freedom: usize,
}

#[derive(Deserialize)]
struct GoldenLine {
    numbers: Vec<f64>,
    lack: f64,
    line: GoldenEffect,
    line_freedom: usize,
    #[serde(flatten)]
    pairs: GoldenPairs,
}

#[derive(Deserialize)]
struct GoldenRow {
    runs: Vec<(usize, u32, usize)>,
    laps: Vec<f64>,
    effect: f64,
    error: f64,
    low: f64,
    high: f64,
    p: f64,
    freedom: usize,
}

fn golden() -> Golden {
    serde_json::from_str(&std::fs::read_to_string("tests/fixtures/trials/statsmodels.json").unwrap()).unwrap()
}

fn rows(runs: &[(usize, u32, usize)]) -> Vec<Row> {
    runs.iter().map(|(block, order, level)| Row { block: *block, order: *order, level: *level }).collect()
}

fn alike(got: &[Effect], wanted: &[GoldenEffect]) {
    assert_eq!(got.len(), wanted.len());
    for (got, wanted) in got.iter().zip(wanted) {
        assert_eq!((got.from, got.to), (wanted.from, wanted.to));
        for (got, wanted) in [
            (got.value, wanted.effect),
            (got.error, wanted.error),
            (got.low, wanted.low),
            (got.high, wanted.high),
            (got.p, wanted.p),
        ] {
            near(got, wanted, 1e-8 * (1.0 + wanted.abs()));
        }
    }
}

/// Of three or four settings every pair, not those against the first alone.
#[test]
fn every_pair_as_statsmodels_has_it() {
    let golden = golden();
    assert!(golden.pairs.len() >= 20);
    for row in golden.pairs {
        let found = effects(&rows(&row.runs), &row.laps, None, None).unwrap();
        alike(&found.effects, &row.effects);
        assert_eq!((found.freedom, found.straight), (row.freedom, false));
    }
}

/// A number turned to three settings is a straight line only where the settings one by one fit no better.
#[test]
fn a_straight_line_as_statsmodels_has_it() {
    let golden = golden();
    let mut straight = 0;
    for row in &golden.lines {
        let runs = &row.pairs;
        let found = effects(&rows(&runs.runs), &runs.laps, Some(&row.numbers), None).unwrap();
        let leaves_nought_out = row.line.low > 0.0 || row.line.high < 0.0;
        assert_eq!(found.straight, row.lack >= 0.05 && leaves_nought_out && runs.freedom > 1, "{}", row.lack);
        if found.straight {
            straight += 1;
            alike(&found.effects, std::slice::from_ref(&row.line));
            assert_eq!(found.freedom, row.line_freedom);
        } else {
            alike(&found.effects, &runs.effects);
            assert_eq!(found.freedom, runs.freedom);
        }
    }
    // Some of either, and some whose line alone would have had a verdict.
    assert!(straight > 5 && golden.lines.len() - straight > 5, "{straight}");
    assert!(golden.lines.iter().any(|row| row.lack < 0.05 && row.line.p < 0.05));
}

/// `tests/oracles/statsmodels_trials.py`; the golden file names the versions.
#[test]
fn as_statsmodels_has_it() {
    let golden = golden();
    assert!(golden.versions.contains_key("statsmodels") && golden.rows.len() >= 30);
    for row in golden.rows {
        let found = effects(&rows(&row.runs), &row.laps, None, None).unwrap();
        let one = found.effects[0];
        for (got, wanted) in [
            (one.value, row.effect),
            (one.error, row.error),
            (one.low, row.low),
            (one.high, row.high),
            (one.p, row.p),
        ] {
            near(got, wanted, 1e-8 * (1.0 + wanted.abs()));
        }
        assert_eq!(found.freedom, row.freedom);
    }
}

#[test]
fn an_order_that_cannot_tell_is_refused_before_any_arithmetic() {
    let rows = |order: &str| -> Vec<Row> {
        (1..)
            .zip(order.chars())
            .map(|(order, letter)| Row { block: 0, order, level: usize::from(letter as u8 - b'A') })
            .collect()
    };
    let laps =
        |count: usize| -> Vec<f64> { (0..count).map(|run| 60.0 + (run * run % 7) as f64 / 10.0).collect() };
    let refused =
        |order: &str, numbers: Option<&[f64]>| effects(&rows(order), &laps(order.len()), numbers, None).err();
    assert_eq!(refused("AB", None), Some(Refusal::WentWithOrder));
    assert_eq!(refused("AABB", None), Some(Refusal::WentWithOrder));
    assert_eq!(refused("AAAAABBBBB", None), Some(Refusal::WentWithOrder));
    assert_eq!(refused("ABA", None), Some(Refusal::TooFew { runs: 3, unknowns: 3 }));
    // Three holes, each once; and steps always up, equal or not.
    assert_eq!(refused("ABCABC", Some(&[1.0, 2.0, 3.0])), None);
    assert_eq!(refused("ABDABD", None), Some(Refusal::NotMeasured), "of C no run has the value");
    assert_eq!(refused("AABBCC", None), Some(Refusal::WentWithOrder));
    assert_eq!(refused("ABCDE", Some(&[1.0, 2.0, 3.0, 4.0, 5.0])), Some(Refusal::OnlyOneWay));
    assert_eq!(refused("ABCDE", Some(&[1.0, 2.0, 4.0, 8.0, 9.0])), Some(Refusal::OnlyOneWay));
    assert_eq!(refused("ABCDE", Some(&[5.0, 4.0, 3.0, 2.0, 1.0])), Some(Refusal::OnlyOneWay));
    // To and fro, but each number once: nothing says whether a straight line holds.
    assert_eq!(
        refused("ABCDE", Some(&[1.0, 4.0, 2.0, 5.0, 3.0])),
        Some(Refusal::TooFew { runs: 5, unknowns: 6 })
    );
}
