//! Age replacement (Barlow & Proschan 1965), and what a kind costs to run.

use super::{close, near};
use stringline::statistics::replacement::{
    break_even_life, minimal_repair, optimum, rate, rate_to_failure, running_cost, time_in_use,
};
use stringline::statistics::weibull::Weibull;

fn best(shape: f64, scale: f64, planned: f64, failure: f64, age: f64, cost: f64, to_failure: f64) {
    let life = Weibull { shape, scale };
    let found = optimum(&life, planned, failure).unwrap();
    close(found.age, age, 1e-7);
    close(found.rate, cost, 1e-9);
    close(found.to_failure, to_failure, 1e-5);
    // The bottom of the curve: dearer a little earlier and a little later.
    let at = |age| rate(&life, age, planned, failure).unwrap();
    assert!(at(found.age * 0.99) > found.rate && at(found.age * 1.01) > found.rate);
    close(at(found.age), found.rate, 1e-15);
}

/// Age at the optimum, its cost, and the cost of running to failure: 493.047 h in a public worked example with shape 2.5, scale
/// 1000 h, costs 1 and 5; the further digits and the other rows from the formula by scipy 1.17.1 (quad and brentq).
#[test]
fn age_replacement_optimum() {
    best(2.5, 1000.0, 1.0, 5.0, 493.0470, 0.003_462_042_739, 0.005_635_30);
    best(2.0, 1000.0, 1.0, 5.0, 510.6552, 0.004_085_241_794, 0.005_641_90);
    best(3.16, 27719.0, 1.0, 4.0, 15434.586, 9.655_626_262e-5, 1.612_148_29e-4);
}

/// Barlow & Hunter (1960), a failure only mended: scale (planned/(mend (shape - 1)))^(1/shape).
#[test]
fn minimal_repair_interval() {
    near(minimal_repair(&Weibull { shape: 2.5, scale: 1000.0 }, 1.0, 5.0).unwrap(), 446.6584, 0.00005);
    assert_eq!(minimal_repair(&Weibull { shape: 1.0, scale: 1000.0 }, 1.0, 5.0), None);
}

#[test]
fn no_age_where_replacing_early_cannot_pay() {
    let wear = Weibull { shape: 2.5, scale: 1000.0 };
    for (planned, failure) in [(5.0, 5.0), (6.0, 5.0), (0.0, 5.0), (f64::NAN, 5.0), (1.0, f64::INFINITY)] {
        assert_eq!(optimum(&wear, planned, failure), None, "{planned} {failure}");
    }
    for shape in [0.7, 1.0] {
        assert_eq!(optimum(&Weibull { shape, scale: 1000.0 }, 1.0, 5.0), None);
    }
    // Hardly any wear and hardly any saving: the age is one that no life reaches.
    assert_eq!(optimum(&Weibull { shape: 1.01, scale: 1000.0 }, 4.9, 5.0), None);
}

/// Shape 1: the integral of e^-u is 1 - e^-t, and every age costs failure/mean more for the planned ones.
#[test]
fn rates_in_closed_form() {
    let even = Weibull { shape: 1.0, scale: 100.0 };
    near(time_in_use(&even, 50.0), 100.0 * (1.0 - libm::exp(-0.5)), 1e-10);
    let survival = libm::exp(-0.5);
    let wanted = (2.0 * survival + 7.0 * (1.0 - survival)) / (100.0 * (1.0 - survival));
    close(rate(&even, 50.0, 2.0, 7.0).unwrap(), wanted, 1e-12);
    close(rate_to_failure(&even, 7.0), 0.07, 1e-12);
    // Far out, replacing by age is running to failure.
    close(rate(&even, 1e5, 2.0, 7.0).unwrap(), 0.07, 1e-12);
    assert_eq!(rate(&even, 0.0, 2.0, 7.0), None);
    assert_eq!(rate(&even, 50.0, -1.0, 7.0), None);
}

/// By hand: 40 with 10 of work over 200 min is 0.25 a minute; at 90 with 10 the other must last 400; one of 300 min may cost 65.
#[test]
fn break_even() {
    let rate = running_cost(40.0, 10.0, 200.0).unwrap();
    near(rate, 0.25, 1e-15);
    near(break_even_life(rate, 90.0, 10.0).unwrap(), 400.0, 1e-12);
    assert_eq!(running_cost(40.0, 10.0, 0.0), None);
    assert_eq!(break_even_life(0.0, 90.0, 0.0), None);
}
