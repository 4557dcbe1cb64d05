//! Failures to expect and spares to carry.

use super::near;
use serde::Deserialize;
use stringline::statistics::poisson;
use stringline::statistics::renewal::{counts, expected, expected_of, spares, together};
use stringline::statistics::weibull::Weibull;

const WEAR: Weibull = Weibull { shape: 2.5, scale: 1000.0 };

/// Smallest s with P(N <= s) >= p: `scipy.stats.poisson.ppf`, scipy 1.17.1, at means .5, 1, 2.5, 5, 10.
#[test]
fn spares_by_poisson() {
    for (confidence, wanted) in
        [(0.90, [1, 2, 5, 8, 14]), (0.95, [2, 3, 5, 9, 15]), (0.99, [3, 4, 7, 11, 18])]
    {
        let got = [0.5, 1.0, 2.5, 5.0, 10.0].map(|mean| poisson::spares(mean, confidence).unwrap());
        assert_eq!(got, wanted, "at {confidence}");
    }
    assert_eq!(poisson::spares(0.0, 0.99), Some(0));
    assert_eq!(
        (poisson::spares(1.0, 1.0), poisson::spares(-1.0, 0.9), poisson::spares(f64::NAN, 0.9)),
        (None, None, None)
    );
}

/// P(N <= k) at mean 1: any Poisson table.
#[test]
fn poisson_table() {
    for (count, chance) in [0.3679, 0.7358, 0.9197, 0.9810, 0.9963].into_iter().enumerate() {
        near(poisson::at_most(count as u32, 1.0).unwrap(), chance, 0.00005);
    }
}

/// Two exponential stages of rate 1: M(t) = t/2 - (1 - e^-2t)/4 exactly (Cox, *Renewal Theory*, 1962).
#[test]
fn erlang_two() {
    let by = |time: f64| 1.0 - (1.0 + time) * libm::exp(-time);
    let table =
        [(0.5, 0.091_969_9), (1.0, 0.283_833_8), (2.0, 0.754_578_9), (4.0, 1.750_083_9), (8.0, 3.750_000_0)];
    for (time, wanted) in table {
        near(expected_of(time, 2.0, by, by).unwrap(), wanted, 0.000_000_1);
    }
    // The first life halfway through, in its second stage: M = t/2 + (1 - e^-2t)/4 (the same equation, started there).
    let second = |time: f64| 1.0 - libm::exp(-time);
    for time in [0.5, 2.0, 8.0] {
        near(
            expected_of(time, 2.0, second, by).unwrap(),
            time / 2.0 + (1.0 - libm::exp(-2.0 * time)) / 4.0,
            1e-7,
        );
    }
    assert_eq!(expected_of(1000.0, 2.0, by, by), None);
}

/// At shape 1 it is Poisson's, at any age: two scales, two failures.
#[test]
fn no_wear_no_memory() {
    let even = Weibull { shape: 1.0, scale: 50.0 };
    for age in [0.0, 30.0, 5000.0] {
        near(expected(&even, age, 100.0).unwrap(), 2.0, 1e-8);
        let chances = counts(&even, age, 50.0, 4).unwrap();
        for (count, at_most) in [0.3679, 0.7358, 0.9197, 0.9810, 0.9963].into_iter().enumerate() {
            near(chances[..=count].iter().sum(), at_most, 0.00005);
        }
    }
}

/// Shape 2.5, scale 1000 from new: a discretised renewal equation in numpy 2.4.6 gives .702507, 1.843908, 4.09982; the straight
/// line t/m + (s^2 - m^2)/(2 m^2) gives 4.099794 at 4000. Poisson with mean t/m would say 1.127 at 1000.
#[test]
fn wear_from_new() {
    for (running, wanted) in [(1000.0, 0.702_507), (2000.0, 1.843_908), (4000.0, 4.09982)] {
        near(expected(&WEAR, 0.0, running).unwrap(), wanted, 0.000_005);
    }
    near(expected(&WEAR, 0.0, 4000.0).unwrap(), 4.099_794, 0.0001);
    assert!(expected(&WEAR, 0.0, 1000.0).unwrap() < 1000.0 / WEAR.mean());
}

/// Where the grid ends and the straight line goes on, they meet; also with an old part at the start.
#[test]
fn far_out_it_is_a_straight_line() {
    for (shape, age) in [(2.5, 0.0), (2.5, 900.0), (1.3, 300.0), (0.8, 0.0)] {
        let life = Weibull { shape, scale: 1000.0 };
        let border = 30.0 * life.mean();
        let (near_end, far_end) = (
            expected(&life, age, border * 0.999_999).unwrap(),
            expected(&life, age, border * 1.000_001).unwrap(),
        );
        near(near_end, far_end, 0.002);
    }
}

#[derive(Deserialize)]
struct Golden {
    versions: std::collections::BTreeMap<String, String>,
    rows: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    shape: f64,
    scale: f64,
    age: f64,
    running: f64,
    counts: Vec<f64>,
}

/// scipy's quadrature of the first lives (`tests/oracles/lifelines_scipy.py`).
#[test]
fn chances_of_few_failures_agree_with_scipy() {
    let golden: Golden = serde_json::from_str(include_str!("../fixtures/statistics/renewal.json")).unwrap();
    assert_eq!(golden.versions["scipy"], "1.17.1");
    assert_eq!(golden.rows.len(), 4);
    for row in golden.rows {
        let life = Weibull { shape: row.shape, scale: row.scale };
        let got = counts(&life, row.age, row.running, 12).unwrap();
        for (got, wanted) in got.iter().zip(&row.counts) {
            near(*got, *wanted, 2e-7);
        }
        // Their mean is the expected number, found another way.
        let mean: f64 = got.iter().enumerate().map(|(count, chance)| count as f64 * chance).sum();
        near(mean, expected(&life, row.age, row.running).unwrap(), 1e-6);
    }
}

/// By hand: a place that needs 0 or 1 with chance .8 and .2, and one with .5 and .5.
#[test]
fn places_together() {
    let sum = together(&[vec![0.8, 0.2, 0.0], vec![0.5, 0.5, 0.0]]);
    for (got, wanted) in sum.iter().zip([0.4, 0.5, 0.1]) {
        near(*got, wanted, 1e-15);
    }
    assert_eq!(spares(&sum, 0.35), Some(0));
    assert_eq!(spares(&sum, 0.85), Some(1));
    assert_eq!(spares(&sum, 0.95), Some(2));
    assert_eq!(spares(&sum[..2], 0.95), None, "not reached by what was worked out");
    assert_eq!(together(&[]), Vec::<f64>::new());
}

#[test]
fn no_running_no_failures() {
    near(expected(&WEAR, 500.0, 0.0).unwrap(), 0.0, 0.0);
    assert_eq!(counts(&WEAR, 500.0, 0.0, 2), Some(vec![1.0, 0.0, 0.0]));
    for (age, running) in [(-1.0, 10.0), (0.0, -1.0), (f64::NAN, 10.0), (0.0, f64::INFINITY)] {
        assert_eq!(expected(&WEAR, age, running), None);
        assert_eq!(counts(&WEAR, age, running, 2), None);
    }
    assert_eq!(counts(&WEAR, 0.0, 1e5, 2), None);
    for shape in [f64::NAN, -1.0, 0.0, 1e-9] {
        let odd = Weibull { shape, scale: 1000.0 };
        assert_eq!((expected(&odd, 0.0, 10.0), counts(&odd, 0.0, 10.0, 2)), (None, None));
    }
    // One so old that no double holds its chance of having come so far fails at once: then as from new.
    let (old, new) = (expected(&WEAR, 1e6, 1e5).unwrap(), expected(&WEAR, 0.0, 1e5).unwrap());
    near(old, new + 1.0, 0.001);
}
