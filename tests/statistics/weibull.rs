//! The Weibull fit against published fits, its refusals, conditional chances.

use super::data::{
    ball_bearings, fan_belts, nist_8413, placebo, scipy_twenty, shock_absorbers, six_complete, six_mp,
};
use super::{close, lives, near};
use stringline::statistics::observation::{Reason, Why};
use stringline::statistics::weibull::{Fit, NoFit, Weibull, fit};
use stringline::statistics::{End, Observation};

fn fitted(lives: &[Observation], shape: f64, scale: f64, share: f64) -> Fit {
    let fit = fit(lives).unwrap();
    close(fit.shape, shape, share);
    close(fit.scale, scale, share);
    fit
}

/// NIST/SEMATECH e-Handbook 8.4.1.3 prints 1.7208, 606.5280 h, ln L -75.135, AIC 154.27, mean 540.737, deviation 323.806; more
/// digits by scipy 1.17.1.
#[test]
fn nist_8413_fit() {
    let fit = fitted(&nist_8413(), 1.720_797, 606.527_558, 1e-6);
    near(fit.shape, 1.7208, 0.00005);
    near(fit.scale, 606.5280, 0.001);
    near(fit.log_likelihood, -75.135, 0.0005);
    near(4.0 - 2.0 * fit.log_likelihood, 154.27, 0.005);
    near(fit.mean(), 540.737, 0.001);
    near(fit.deviation(), 323.806, 0.001);
    near(fit.quantile(0.1).unwrap(), 164.0224, 0.0005);
    assert_eq!((fit.lives, fit.failures), (20, 10));
}

/// Meeker & Escobar (1998) for the shock absorbers: ln scale 10.23, 1/shape .3164; more digits by lifelines 0.30.3.
#[test]
fn shock_absorbers_fit() {
    let fit = fitted(&shock_absorbers(), 3.160_470, 27718.718, 1e-6);
    near(libm::log(fit.scale), 10.23, 0.005);
    near(1.0 / fit.shape, 0.3164, 0.00005);
    near(fit.log_likelihood, -123.99536, 0.00001);
    near(fit.quantile(0.1).unwrap(), 13600.03, 0.02);
    near(fit.mean(), 24811.54, 0.02);
    near(fit.failed(10000.0), 0.039_084, 0.000_001);
}

/// scipy's own test of censored fits prints 2.149 and 28.99 (tolerance 1e-3 there).
#[test]
fn scipy_twenty_fit() {
    let fit = fitted(&scipy_twenty(), 2.149_375, 28.996_352, 1e-6);
    close(fit.shape, 2.149, 1e-3);
    close(fit.scale, 28.99, 1e-3);
}

/// Lieblein & Zelen's ball bearings: 2.10 and 81.9 in Lawless (from memory); more digits by scipy 1.17.1.
#[test]
fn ball_bearings_fit() {
    let fit = fitted(&ball_bearings(), 2.102_059, 81.878_334, 1e-6);
    near(fit.shape, 2.10, 0.005);
    near(fit.scale, 81.9, 0.05);
    near(fit.log_likelihood, -113.69129, 0.00001);
}

/// 1.933 and 73.526 (from memory); more digits by scipy 1.17.1.
#[test]
fn six_complete_fit() {
    let fit = fitted(&six_complete(), 1.932_678, 73.526_074, 1e-6);
    near(fit.shape, 1.933, 0.0005);
    near(fit.scale, 73.526, 0.0005);
}

/// Freireich's two arms by scipy 1.17.1 (data of `lifelines.datasets.load_leukemia`).
#[test]
fn freireich_fits() {
    near(fitted(&six_mp(), 1.353_735, 33.765_151, 1e-6).log_likelihood, -41.65868, 0.00001);
    near(fitted(&placebo(), 1.370_500, 9.482_141, 1e-6).log_likelihood, -64.92011, 0.00001);
}

/// Conover's fan belts by scipy 1.17.1.
#[test]
fn fan_belts_fit() {
    fitted(&fan_belts(), 7.481_413, 76.63049, 1e-6);
}

/// One failure and a longer life that has not failed does have a most likely Weibull; with shape b and lives 1 and x it is where
/// x^b ln x/(1 + x^b) = 1/b (the score, by hand); x = e: b e^b = 1 + e^b, b = 1 + W(1/e).
#[test]
fn one_failure_and_a_longer_life() {
    let fit = fit(&lives(&[1.0], &[std::f64::consts::E])).unwrap();
    let shape = 1.278_464_542_761_074; // 1 + W(1/e), by scipy.special.lambertw 1.17.1
    close(fit.shape, shape, 1e-12);
    close(fit.scale, libm::pow(1.0 + libm::exp(shape), 1.0 / shape), 1e-12);
}

fn refused(lives: &[Observation]) -> NoFit {
    fit(lives).unwrap_err()
}

#[test]
fn no_fit_where_the_likelihood_has_no_top() {
    assert_eq!(refused(&[]), NoFit::Unusable(Why { index: 0, reason: Reason::NoLives }));
    assert_eq!(refused(&lives(&[], &[10.0, 20.0])), NoFit::NoFailures);
    assert_eq!(refused(&lives(&[10.0], &[])), NoFit::OneFailure);
    assert_eq!(refused(&lives(&[10.0], &[4.0, 10.0])), NoFit::OneFailure);
    assert_eq!(refused(&lives(&[10.0, 10.0, 10.0], &[3.0])), NoFit::FailedTogether);
    assert!(fit(&lives(&[10.0, 10.0], &[11.0])).is_ok(), "one ran longer");
    assert!(fit(&lives(&[10.0, 10.0, 11.0], &[])).is_ok(), "one lasted longer");
    let zero = Why { index: 1, reason: Reason::ZeroLife };
    assert_eq!(refused(&lives(&[10.0, 0.0], &[])), NoFit::Unusable(zero));
    // To the last bit but one the same: a shape past any use.
    assert_eq!(refused(&lives(&[10.0, 10.000_000_01], &[])), NoFit::OutOfReach);
    // A failure at once and a long life good: a shape below any use.
    assert_eq!(refused(&lives(&[1e-10], &[1e14; 20])), NoFit::OutOfReach);
}

/// All watched from late on, and failing soon after: the hazard falls for ever.
#[test]
fn no_fit_where_the_shape_runs_to_zero() {
    let late = |entry, exit, end| Observation::new(entry, exit, end);
    let falling = [
        late(10.0, 10.1, End::Failed),
        late(10.0, 10.2, End::Failed),
        late(10.0, 10.3, End::Failed),
        late(10.0, 1000.0, End::Running),
    ];
    assert_eq!(refused(&falling), NoFit::ShapeTowardsZero);
}

/// From 10 to 12 one failed of three watched: the data say little of the shape, and nothing against one near 0. An end that lies
/// there is not given; one that does not lie there is.
#[test]
fn ends_that_the_data_do_not_hold_are_not_given() {
    let late = |exit, end| Observation::new(10.0, exit, end);
    let fit = fit(&[late(11.5, End::Failed), late(12.0, End::Running), late(12.0, End::Running)]).unwrap();
    let region = fit.region(0.9).unwrap();
    assert_eq!(region.shape().low, None);
    assert!(region.shape().high.is_some());
    assert_eq!(region.quantile(0.1).low, None);
    // The chance within the stretch that was watched is held at both ends.
    let chance = region.conditional(10.0, 2.0);
    let (low, high) = (chance.low.unwrap(), chance.high.unwrap());
    assert!(low > 0.0 && low < fit.conditional(10.0, 2.0) && high > fit.conditional(10.0, 2.0) && high < 1.0);
    assert!(fit.region(0.0).is_none() && fit.region(1.0).is_none() && fit.region(f64::NAN).is_none());
}

/// NIST/SEMATECH e-Handbook 8.1.6.2's distribution: 1 - exp(-[((T + d)/n)^b - (T/n)^b]).
#[test]
fn conditional_chances() {
    let chance = |shape, scale, age, more| Weibull { shape, scale }.conditional(age, more);
    // Without memory at shape 1: 1 - e^-0.1 at any age.
    for age in [0.0, 1.0, 50.0, 5000.0] {
        near(chance(1.0, 100.0, age, 10.0), 0.095_162_582_0, 1e-10);
    }
    near(chance(2.5, 1000.0, 500.0, 100.0), 0.097_040_977_3, 1e-10);
    near(chance(1.7208, 606.528, 300.0, 100.0), 0.173_661_605_1, 1e-10);
    // Ends: no running, endless running; and a chance so small that a difference of two shares would lose it.
    near(chance(2.0, 100.0, 50.0, 0.0), 0.0, 0.0);
    near(chance(2.0, 100.0, 1e9, 1e9), 1.0, 0.0);
    close(chance(2.0, 1e6, 100.0, 1e-6), 2e-16, 1e-7);
}

/// Shape 1 is the exponential, shape 2 is Rayleigh's: both closed.
#[test]
fn the_distribution_in_closed_form() {
    let even = Weibull { shape: 1.0, scale: 50.0 };
    near(even.mean(), 50.0, 1e-11);
    near(even.deviation(), 50.0, 1e-11);
    near(even.median(), 50.0 * std::f64::consts::LN_2, 1e-11);
    near(even.hazard(7.0), 0.02, 1e-15);
    near(even.survival(50.0), libm::exp(-1.0), 1e-15);
    let wear = Weibull { shape: 2.0, scale: 1.0 };
    near(wear.mean(), std::f64::consts::PI.sqrt() / 2.0, 1e-14);
    near(wear.deviation(), (1.0 - std::f64::consts::FRAC_PI_4).sqrt(), 1e-14);
    near(wear.hazard(0.3), 0.6, 1e-15);
    near(wear.quantile(0.1).unwrap(), (-libm::log(0.9)).sqrt(), 1e-14);
    assert_eq!((wear.quantile(0.0), wear.quantile(1.0), wear.quantile(f64::NAN)), (None, None, None));
    // pi/(shape sqrt 6) is the deviation of ln life: at a large shape that of life/scale.
    close(Weibull { shape: 1e4, scale: 1.0 }.deviation(), std::f64::consts::PI / 6f64.sqrt() / 1e4, 1e-3);
}
