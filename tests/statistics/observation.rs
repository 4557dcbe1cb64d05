//! What makes a life unusable, and that each function refuses it by name.

use stringline::statistics::bounds::mean_at_least;
use stringline::statistics::observation::{Reason, Why, sift};
use stringline::statistics::survival::curve;
use stringline::statistics::weibull::{NoFit, fit};
use stringline::statistics::{End, Observation};

const REASONS: [(f64, f64, Reason); 10] = [
    (0.0, f64::NAN, Reason::NotFinite),
    (f64::NAN, 5.0, Reason::NotFinite),
    (0.0, f64::INFINITY, Reason::NotFinite),
    (-1.0, 5.0, Reason::Negative),
    (0.0, -5.0, Reason::Negative),
    (0.0, 0.0, Reason::ZeroLife),
    (5.0, 5.0, Reason::NothingWatched),
    (6.0, 5.0, Reason::EndsBeforeItBegins),
    (0.0, 1e300, Reason::OutOfReach),
    (0.0, 1e-300, Reason::OutOfReach),
];

#[test]
fn each_unusable_life_has_its_reason() {
    for (entry, exit, reason) in REASONS {
        for end in [End::Failed, End::Pulled, End::Running] {
            let list = [Observation::new(0.0, 10.0, End::Failed), Observation::new(entry, exit, end)];
            let why = Why { index: 1, reason };
            assert_eq!(curve(&list), Err(why));
            assert_eq!(fit(&list).unwrap_err(), NoFit::Unusable(why));
            assert_eq!(mean_at_least(&list, 0.9), Err(why));
        }
    }
    assert_eq!(curve(&[]), Err(Why { index: 0, reason: Reason::NoLives }));
}

#[test]
fn the_usable_are_sifted_from_the_others() {
    let fitted_today = Observation::new(0.0, 0.0, End::Running);
    let good = Observation::new(0.0, 10.0, End::Failed);
    let (usable, others) = sift(&[good, fitted_today, good]);
    assert_eq!(usable, [good, good]);
    assert_eq!(others, [Why { index: 1, reason: Reason::ZeroLife }]);
    assert!(curve(&usable).is_ok());
}

/// A zero with a sign is a zero.
#[test]
fn minus_nothing_is_new() {
    let lives =
        |entry| [Observation::new(entry, 10.0, End::Failed), Observation::new(0.0, 15.0, End::Failed)];
    assert_eq!(curve(&lives(-0.0)), curve(&lives(0.0)));
    assert_eq!(fit(&lives(-0.0)).unwrap().life, fit(&lives(0.0)).unwrap().life);
}
