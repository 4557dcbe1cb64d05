//! Where a line reaches a limit: closed forms of Fieller's interval.

use super::near;
use stringline::statistics::reach::{Reach, reach, slope};

/// Points on y = 2 x with ±1 about it: x -3 -1 1 3, y -6 + 1, -2 - 1, 2 - 1, 6 + 1 keep the slope at 2 (the residuals 1 -1 -1 1 are at right angles to
/// x and to the mean), s² = 4 / 2 = 2, Sxx = 20; at 95 % and 2 degrees of freedom t² = 18.51282. For a limit of 30, u solves
/// (2 u - 30)² = 18.51282 · 2 (1/4 + u²/20), so 2.148718 u² - 120 u + 890.743590 = 0 (closed form).
#[test]
fn four_points_by_hand() {
    let points = [(-3.0, -5.0), (-1.0, -3.0), (1.0, 1.0), (3.0, 7.0)];
    let Some(Reach::Between { low, likely, high, slope }) = reach(&points, 30.0, 0.0, 0.95) else { panic!() };
    near(likely, 15.0, 1e-12);
    near(slope, 2.0, 1e-12);
    let (a, b, c) = (4.0_f64 - 37.025_641 / 20.0, 120.0, 900.0 - 37.025_641 / 4.0);
    let root = (b * b - 4.0 * a * c).sqrt();
    near(low, (b - root) / (2.0 * a), 1e-5);
    near(high, (b + root) / (2.0 * a), 1e-5);
    assert!(low < likely && likely < high);
}

/// A slope that could be nought ends nowhere; so does one through three readings that scatter.
#[test]
fn what_does_not_rise_has_no_end() {
    assert_eq!(
        reach(&[(0.0, 5.0), (5.0, 6.0), (10.0, 5.0), (15.0, 6.0)], 25.0, 0.0, 0.95),
        Some(Reach::NoEnd)
    );
    assert_eq!(reach(&[(0.0, 5.0), (5.0, 5.0), (10.0, 5.0)], 25.0, 0.3, 0.95), Some(Reach::NoEnd));
}

/// However well they agree, no surer than the gauge.
#[test]
fn a_perfect_line_is_no_surer_than_its_gauge() {
    let points = [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.0), (4.0, 4.0)];
    let Some(Reach::Between { low, high, .. }) = reach(&points, 10.0, 0.0, 0.95) else { panic!() };
    near(low, 10.0, 1e-9);
    near(high, 10.0, 1e-9);
    let Some(Reach::Between { low, high, .. }) = reach(&points, 10.0, 0.1, 0.95) else { panic!() };
    assert!(low < 9.5 && high > 10.5, "{low} {high}");
}

#[test]
fn too_little_says_nothing() {
    assert_eq!(reach(&[(0.0, 1.0), (1.0, 2.0)], 5.0, 0.0, 0.95), None);
    assert_eq!(reach(&[(1.0, 1.0), (1.0, 2.0), (1.0, 3.0)], 5.0, 0.0, 0.95), None);
    assert_eq!(reach(&[(0.0, f64::NAN), (1.0, 2.0), (2.0, 3.0)], 5.0, 0.0, 0.95), None);
}

/// 0 1 3 over 0 1 2: slope 3/2, residuals 1/6 -1/3 1/6, s² = 1/6 over one degree of freedom, its error √(1/12); Student's t of 0.975 and one degree is
/// tan(0.475 π) = 12.7062 (closed form: Cauchy's distribution).
#[test]
fn a_slope_has_its_interval() {
    let told = slope(&[(0.0, 0.0), (1.0, 1.0), (2.0, 3.0)], 0.0, 0.95).unwrap();
    near(told.per, 1.5, 1e-12);
    near(told.half, libm::tan(0.475 * std::f64::consts::PI) / 12.0_f64.sqrt(), 1e-9);
    assert!(!told.is_told());
    // No surer than the gauge: one of 2 spreads wider than the points do.
    assert!(slope(&[(0.0, 0.0), (1.0, 1.0), (2.0, 3.0)], 2.0, 0.95).unwrap().half > told.half);
    assert_eq!(slope(&[(0.0, 1.0), (1.0, 2.0)], 0.0, 0.95), None);
}
