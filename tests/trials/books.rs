//! The demo season: one trial that is no verdict, and one that is.

use crate::demo::DEMO;
use stringline::answer::trials::{TrialOutcome, build};

#[test]
fn the_demo_tries_its_front_bar_and_says_no_verdict() {
    let compiled = &*DEMO;
    let car = crate::history::car(compiled, "bittern");
    let view = build(compiled, car, None, None);
    let of_bar: Vec<_> = view.trials.iter().filter(|trial| trial.what == "bar-hole front").collect();
    let [trial] = of_bar.as_slice() else { panic!("{}", of_bar.len()) };
    assert_eq!((trial.order.as_str(), trial.outcome), ("A B A B", TrialOutcome::CannotTell));
    // The season's own laps, as in the closed form of an order A B A B.
    let one = &trial.measures[0].fit.as_ref().unwrap().effects[0];
    for (got, wanted) in [(one.value, -0.58), (one.low, -1.148_238_75), (one.high, -0.011_761_25)] {
        assert!((got - wanted).abs() < 1e-7, "{got} {wanted}");
    }
    assert!(
        trial.sentence.contains("so few runs are no verdict (1 degree of freedom)"),
        "{}",
        trial.sentence
    );
}

/// Saturday 42.05 41.38 41.57 40.96 41.20 as A B A B A, Sunday 41.31 40.88 40.79 40.72 all B. Each day has its own level and trend, so that Sunday,
/// all of one setting, adds its scatter alone. The order of Saturday is even about its middle: the effect is (41.38 + 40.96) / 2 less
/// (42.05 + 41.57 + 41.20) / 3 = 41.17 - 41.606667, its variance s² (1/2 + 1/3). Left over are 0.00202667 on Saturday and 0.03752 on Sunday, on
/// 9 - 4 - 1 = 4 degrees of freedom: s² = 0.00988667. The same from statsmodels 0.15.0's OLS with a level and a trend for each day (-0.4366666667,
/// 0.0907683254, -0.68867994 to -0.18465339, p 0.0085804179); Student's t at 4 degrees of freedom is 2.776 (Abramowitz & Stegun, table 26.10).
#[test]
fn the_demo_tries_its_gurney_five_times_and_says_a_verdict() {
    let compiled = &*DEMO;
    let view = build(compiled, crate::history::car(compiled, "teal"), None, None);
    let of_lip: Vec<_> = view.trials.iter().filter(|trial| trial.what == "gurney").collect();
    let [trial] = of_lip.as_slice() else { panic!("{}", of_lip.len()) };
    assert_eq!((trial.order.as_str(), trial.outcome), ("A B A B A | B B B B", TrialOutcome::Quicker));
    let fit = trial.measures[0].fit.as_ref().unwrap();
    assert_eq!((fit.freedom, fit.pooled, fit.bears_verdict), (4, 0, true));
    let one = &fit.effects[0];
    for (got, wanted) in [
        (one.value, 41.17 - (42.05 + 41.57 + 41.20) / 3.0),
        (one.error, libm::sqrt((0.002_026_666_667 + 0.037_52) / 4.0 * (1.0 / 2.0 + 1.0 / 3.0))),
        (one.low, -0.688_679_94),
        (one.high, -0.184_653_39),
        (one.p, 0.008_580_417_9),
        (fit.trends[0], -0.212),
        (fit.trends[1], -0.186),
    ] {
        assert!((got - wanted).abs() < 1e-8, "{got} {wanted}");
    }
    assert_eq!(
        trial.sentence,
        "Gurney 15 mm is quicker than gurney 10 mm by 0.44 s (0.18 to 0.69), A B A B A | B B B B, each day with its own trend"
    );
}
