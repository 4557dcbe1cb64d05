//! Lower bounds from few failures or none.

use super::{lives, near};
use stringline::statistics::bounds::{mean_at_least, none_would_fail, scale_at_least};
use stringline::statistics::poisson::mean_at_most;
use stringline::statistics::weibull::Weibull;
use stringline::statistics::{End, Observation};

/// Hanley & Lippman-Hand, "If nothing goes wrong, is everything all right?", JAMA 249 (1983) 1743: the rule of three.
#[test]
fn rule_of_three() {
    near(mean_at_most(0, 0.95).unwrap(), 2.995_732, 0.000_000_5);
    near(mean_at_least(&lives(&[], &[1.0]), 0.95).unwrap().unwrap(), 1.0 / 2.995_732, 1e-7);
}

/// NIST/SEMATECH e-Handbook 8.4.5.1: 2T/chi-squared(2r + 2), T = 1000 h.
#[test]
fn mean_of_a_constant_hazard() {
    near(mean_at_least(&lives(&[], &[400.0, 600.0]), 0.9).unwrap().unwrap(), 434.2945, 0.00005);
    near(mean_at_least(&lives(&[100.0, 300.0], &[600.0]), 0.9).unwrap().unwrap(), 187.8880, 0.00005);
    // chi-squared(.95; 10) = 18.307 (any table): four failures.
    near(mean_at_most(4, 0.95).unwrap(), 18.307 / 2.0, 0.0003);
    // A constant hazard forgets: a life from 500 to 900 says no more than one from new to 400.
    let late = [Observation::new(500.0, 900.0, End::Running), Observation::new(0.0, 600.0, End::Running)];
    near(mean_at_least(&late, 0.9).unwrap().unwrap(), 434.2945, 0.00005);
}

/// Abernethy's Weibayes, (sum t^b/r)^(1/b), for lives 40, 35, 50, 28, 44 at shape 2.5, worked by scipy 1.17.1: with one assumed
/// failure (confidence 1 - 1/e), at 95 %, at 50 %.
#[test]
fn weibayes() {
    let good = lives(&[], &[40.0, 35.0, 50.0, 28.0, 44.0]);
    let at = |confidence| scale_at_least(&good, 2.5, confidence).unwrap().unwrap();
    near(at(1.0 - libm::exp(-1.0)), 77.00468, 0.000_005);
    near(at(0.95), 49.64962, 0.000_005);
    near(at(0.5), 89.16346, 0.000_005);
    // At shape 1 it is the bound of the mean, and late entry takes off what was not watched.
    let late = [Observation::new(500.0, 900.0, End::Running), Observation::new(0.0, 600.0, End::Running)];
    near(scale_at_least(&late, 1.0, 0.9).unwrap().unwrap(), 434.2945, 0.00005);
    let wearing = scale_at_least(&late, 2.0, 0.5).unwrap().unwrap();
    near(
        wearing,
        ((900.0f64.powi(2) - 500.0f64.powi(2) + 600.0f64.powi(2)) / std::f64::consts::LN_2).sqrt(),
        1e-9,
    );
}

#[test]
fn no_bound_without_a_confidence_or_a_shape() {
    let good = lives(&[], &[40.0]);
    for confidence in [0.0, 1.0, -1.0, f64::NAN] {
        assert_eq!(mean_at_least(&good, confidence), Ok(None));
        assert_eq!(scale_at_least(&good, 2.0, confidence), Ok(None));
    }
    for shape in [0.0, -2.0, 1e9, f64::NAN] {
        assert_eq!(scale_at_least(&good, shape, 0.9), Ok(None));
    }
    assert!(mean_at_least(&[], 0.9).is_err() && scale_at_least(&[], 2.0, 0.9).is_err());
    assert!(none_would_fail(&Weibull { shape: 2.0, scale: 1.0 }, &[]).is_err());
}

/// One watched from 500 to 900 needs only that stretch survived: S(900)/S(500).
#[test]
fn chance_that_none_would_fail() {
    let kind = Weibull { shape: 2.0, scale: 1000.0 };
    let late = [Observation::new(500.0, 900.0, End::Running)];
    near(none_would_fail(&kind, &late).unwrap(), libm::exp(0.25 - 0.81), 1e-12);
}
