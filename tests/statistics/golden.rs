//! Invented lives with fixed seeds, against lifelines and scipy (`tests/oracles/lifelines_scipy.py`; the golden files name the
//! versions).

use super::{close, near};
use serde::Deserialize;
use std::collections::BTreeMap;
use stringline::statistics::compare::{How, Needed, log_rank, needed, test};
use stringline::statistics::survival::curve;
use stringline::statistics::weibull::{Region, fit};
use stringline::statistics::{End, Interval, Observation};

#[derive(Deserialize)]
struct File<Row> {
    versions: BTreeMap<String, String>,
    rows: Vec<Row>,
}

type Life = (f64, f64, bool);

#[derive(Deserialize)]
struct One {
    name: String,
    lives: Vec<Life>,
    curve: Curve,
    weibull: Fitted,
}

#[derive(Deserialize)]
struct Curve {
    steps: Vec<(f64, usize, usize, f64)>,
    median: Option<f64>,
    bands: Bands,
}

#[derive(Deserialize)]
struct Bands {
    #[serde(rename = "0.9")]
    ninety: Vec<(f64, f64, f64)>,
    #[serde(rename = "0.95")]
    ninety_five: Vec<(f64, f64, f64)>,
    #[serde(rename = "median-0.9")]
    median_ninety: (Option<f64>, Option<f64>),
    #[serde(rename = "median-0.95")]
    median_ninety_five: (Option<f64>, Option<f64>),
}

#[derive(Deserialize)]
struct Fitted {
    lifelines: BTreeMap<String, f64>,
    shape: f64,
    scale: f64,
    #[serde(rename = "log-likelihood")]
    log_likelihood: f64,
    b10: f64,
    mean: f64,
    age: f64,
    more: f64,
    conditional: f64,
    ranges: BTreeMap<String, Ranges>,
}

#[derive(Deserialize)]
struct Ranges {
    shape: (f64, f64),
    scale: (f64, f64),
    b10: (f64, f64),
    mean: (f64, f64),
    conditional: (f64, f64),
}

fn read<Row: for<'a> Deserialize<'a>>(text: &str, rows: usize) -> Vec<Row> {
    let file: File<Row> = serde_json::from_str(text).unwrap();
    assert_eq!(file.versions["lifelines"], "0.30.3");
    assert_eq!(file.versions["scipy"], "1.17.1");
    assert_eq!(file.rows.len(), rows);
    file.rows
}

fn lives(list: &[Life]) -> Vec<Observation> {
    let end = |failed| if failed { End::Failed } else { End::Pulled };
    list.iter().map(|(entry, exit, failed)| Observation::new(*entry, *exit, end(*failed))).collect()
}

fn one() -> Vec<One> {
    read(include_str!("../fixtures/statistics/one.json"), 7)
}

/// Survival and risk sets to 1e-12, bands to 1e-9.
#[test]
fn curves_agree_with_lifelines() {
    for row in one() {
        let curve = curve(&lives(&row.lives)).unwrap();
        assert_eq!(curve.steps.len(), row.curve.steps.len(), "{}", row.name);
        for (step, (time, at_risk, failed, survival)) in curve.steps.iter().zip(&row.curve.steps) {
            assert_eq!((step.at_risk, step.failed), (*at_risk, *failed), "{} at {time}", row.name);
            near(step.time, *time, 0.0);
            near(step.survival, *survival, 1e-12);
        }
        assert_eq!(curve.median(), row.curve.median, "{}", row.name);
        let bands = &row.curve.bands;
        for (level, wanted, median) in
            [(0.9, &bands.ninety, bands.median_ninety), (0.95, &bands.ninety_five, bands.median_ninety_five)]
        {
            let got = curve.bands(level).unwrap();
            for ((band, step), (_, low, high)) in got.iter().zip(&curve.steps).zip(wanted) {
                if step.survival > 0.0 {
                    near(band.low.unwrap(), *low, 1e-9);
                    near(band.high.unwrap(), *high, 1e-9);
                }
            }
            let median = Interval { low: median.0, high: median.1 };
            assert_eq!(curve.median_band(level), Some(median), "{} at {level}", row.name);
        }
    }
}

/// lifelines stops its search at about 1e-5; scipy's is polished to about 1e-8.
#[test]
fn fits_agree_with_lifelines_and_scipy() {
    for row in one() {
        let fit = fit(&lives(&row.lives)).unwrap();
        let wanted = row.weibull;
        close(fit.shape, wanted.lifelines["shape"], 1e-4);
        close(fit.scale, wanted.lifelines["scale"], 1e-4);
        near(fit.log_likelihood, wanted.lifelines["log-likelihood"], 1e-5);
        close(fit.shape, wanted.shape, 1e-6);
        close(fit.scale, wanted.scale, 1e-6);
        near(fit.log_likelihood, wanted.log_likelihood, 1e-9);
        assert!(fit.log_likelihood > wanted.log_likelihood - 1e-10, "{}: theirs is higher", row.name);
        close(fit.quantile(0.1).unwrap(), wanted.b10, 1e-6);
        close(fit.mean(), wanted.mean, 1e-6);
        close(fit.conditional(wanted.age, wanted.more), wanted.conditional, 1e-6);
    }
}

fn range(got: Interval, wanted: (f64, f64), what: &str) {
    let (low, high) = (got.low.unwrap(), got.high.unwrap());
    let apart = (low - wanted.0).abs() / wanted.0 + (high - wanted.1).abs() / wanted.1;
    assert!(apart < 1e-7, "{what}: {low} to {high}, expected {wanted:?}");
}

/// Profile likelihood by another way (see the script), to 1e-7.
#[test]
fn ranges_agree_with_scipy() {
    for row in one() {
        let fit = fit(&lives(&row.lives)).unwrap();
        for (level, wanted) in &row.weibull.ranges {
            let region: Region = fit.region(level.parse().unwrap()).unwrap();
            let what = |quantity: &str| format!("{}, {quantity} at {level}", row.name);
            range(region.shape(), wanted.shape, &what("shape"));
            range(region.scale(), wanted.scale, &what("scale"));
            range(region.quantile(0.1), wanted.b10, &what("B10"));
            range(region.mean(), wanted.mean, &what("mean"));
            range(region.conditional(row.weibull.age, row.weibull.more), wanted.conditional, &what("chance"));
        }
    }
}

#[derive(Deserialize)]
struct Two {
    first: Vec<Life>,
    second: Vec<Life>,
    #[serde(rename = "chi-squared")]
    chi_squared: f64,
    p: f64,
    difference: f64,
    uneven: Option<u64>,
    splits: Option<u64>,
}

/// Log-rank to 1e-9; the deals counted are the deals counted there.
#[test]
fn comparisons_agree_with_lifelines_and_plain_counting() {
    let mut counted = 0;
    for row in read::<Two>(include_str!("../fixtures/statistics/two.json"), 5) {
        let (first, second) = (lives(&row.first), lives(&row.second));
        let numbers = log_rank(&first, &second).unwrap();
        close(numbers.chi_squared, row.chi_squared, 1e-9);
        close(numbers.p, row.p, 1e-9);
        near(numbers.observed - numbers.expected, row.difference, 1e-9);
        if let (Some(uneven), Some(splits)) = (row.uneven, row.splits) {
            assert_eq!(test(&first, &second).unwrap().how, How::Exact { uneven, splits });
            counted += 1;
        }
    }
    assert_eq!(counted, 3);
}

#[derive(Deserialize)]
struct More {
    first: Vec<Life>,
    second: Vec<Life>,
    running: Vec<usize>,
    significance: f64,
    needed: Option<f64>,
}

/// The least further running, found there by adding one unit at a time and dealing anew.
#[test]
fn needed_agrees_with_plain_counting() {
    for row in read::<More>(include_str!("../fixtures/statistics/needed.json"), 10) {
        let (first, mut second) = (lives(&row.first), lives(&row.second));
        for place in row.running {
            second[place].end = End::Running;
        }
        let longest = first.iter().chain(&second).map(|life| life.exit).fold(0.0, f64::max);
        let wanted = match row.needed {
            Some(0.0) => Needed::Already,
            Some(amount) => Needed::Amount(amount),
            None => Needed::NotWithin(3.0 * longest),
        };
        assert_eq!(needed(&first, &second, row.significance), Ok(wanted));
    }
}
