//! The ratio of two variances: closed forms, and the square of Student's t.

use super::near;
use stringline::statistics::{student, variance_ratio::above};

/// Of two degrees of freedom above, the share is (1 + 2 F / n)^(-n / 2); of two below, 1 - (1 + 2 / (m F))^(-m / 2).
#[test]
fn two_degrees_of_freedom_have_closed_forms() {
    for ratio in [0.0, 0.1, 1.0, 3.5, 40.0] {
        for freedom in [1.0, 2.0, 3.0, 8.0, 57.0] {
            near(
                above(ratio, 2.0, freedom).unwrap(),
                libm::pow(1.0 + 2.0 * ratio / freedom, -freedom / 2.0),
                1e-12,
            );
            if ratio > 0.0 {
                let share = 1.0 - libm::pow(1.0 + 2.0 / (freedom * ratio), -freedom / 2.0);
                near(above(ratio, freedom, 2.0).unwrap(), share, 1e-12);
            }
        }
    }
}

/// Of one degree of freedom above it is the square of Student's t.
#[test]
fn one_degree_of_freedom_is_the_square_of_t() {
    for t in [0.3, 1.0, 2.5, 9.0] {
        for freedom in [1.0, 4.0, 30.0] {
            near(above(t * t, 1.0, freedom).unwrap(), student::outside(t, freedom).unwrap(), 1e-12);
        }
    }
}

#[test]
fn what_is_no_ratio_has_no_share() {
    for (ratio, over, under) in
        [(-1.0, 2.0, 3.0), (f64::NAN, 2.0, 3.0), (1.0, 0.0, 3.0), (1.0, 2.0, 0.0), (f64::INFINITY, 1.0, 1.0)]
    {
        assert_eq!(above(ratio, over, under), None);
    }
}
