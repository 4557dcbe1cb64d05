//! The demo season, and the command.

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
