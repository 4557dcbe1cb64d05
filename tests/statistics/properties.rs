//! What holds for any lives.

use proptest::prelude::*;
use stringline::statistics::bounds::{mean_at_least, scale_at_least};
use stringline::statistics::compare::{Needed, Verdict, needed, test, verdict};
use stringline::statistics::renewal::{counts, expected};
use stringline::statistics::replacement::optimum;
use stringline::statistics::survival::curve;
use stringline::statistics::weibull::{Weibull, fit};
use stringline::statistics::{End, Interval, Observation};

fn end() -> impl Strategy<Value = End> {
    prop_oneof![Just(End::Failed), Just(End::Pulled), Just(End::Running)]
}

/// Whole minutes with many ties, or any; some entered late.
fn life() -> impl Strategy<Value = Observation> {
    let age = prop_oneof![(1u32..30).prop_map(f64::from), 0.01f64..1000.0];
    (age, prop_oneof![3 => Just(0.0), 1 => 0.0..0.99f64], end())
        .prop_map(|(exit, part, end)| Observation::new(exit * part, exit, end))
}

fn some(most: usize) -> impl Strategy<Value = Vec<Observation>> {
    prop::collection::vec(life(), 1..most)
}

/// Any numbers at all.
fn anything() -> impl Strategy<Value = Vec<Observation>> {
    let odd = prop_oneof![
        any::<f64>(),
        Just(0.0),
        Just(f64::MAX),
        Just(f64::MIN_POSITIVE),
        1e-12f64..1e-9,
        1e12f64..1e15,
        1.0f64..2.0,
    ];
    prop::collection::vec((prop_oneof![Just(0.0), odd.clone()], odd, end()), 0..8).prop_map(|list| {
        list.into_iter().map(|(entry, exit, end)| Observation::new(entry, exit, end)).collect()
    })
}

/// Usable lives of any length that is taken.
fn wide() -> impl Strategy<Value = Vec<Observation>> {
    let exit = prop_oneof![-11.9..14.9f64, 0.0..0.001f64].prop_map(|power| libm::pow(10.0, power));
    let part = prop_oneof![2 => Just(0.0), 1 => 0.0..0.999_999f64, 1 => Just(1.0 - 1e-13)];
    let life = (exit, part, end()).prop_map(|(exit, part, end)| Observation::new(exit * part, exit, end));
    prop::collection::vec(life, 1..8)
}

fn finite(range: Interval) -> bool {
    [range.low, range.high].into_iter().flatten().all(f64::is_finite)
}

/// Everything that can be worked out of two kinds, and that all of it is finite; its text holds every bit.
fn everything(first: &[Observation], second: &[Observation]) -> String {
    let mut told = String::new();
    for lives in [first, second] {
        let curve = curve(lives);
        if let Ok(curve) = &curve {
            let mut before = 1.0;
            for (step, band) in curve.steps.iter().zip(curve.bands(0.9).unwrap()) {
                assert!((0.0..=before).contains(&step.survival), "the curve rises");
                assert!(step.error().is_none_or(f64::is_finite));
                before = step.survival;
                if let Interval { low: Some(low), high: Some(high) } = band {
                    assert!(
                        0.0 <= low
                            && low <= step.survival + 1e-12
                            && step.survival <= high + 1e-12
                            && high <= 1.0
                    );
                }
            }
            told += &format!("{:?}{:?}", curve.median(), curve.median_band(0.9));
        }
        told += &format!("{curve:?}");
        for bound in [mean_at_least(lives, 0.9), scale_at_least(lives, 2.5, 0.9)] {
            assert!(bound.is_err() || bound.unwrap().is_none_or(f64::is_finite));
            told += &format!("{bound:?}");
        }
        match fit(lives) {
            Err(why) => told += &format!("{why:?}"),
            Ok(fit) => {
                let age = fit.median();
                let numbers = [
                    fit.shape,
                    fit.scale,
                    fit.log_likelihood,
                    fit.mean(),
                    fit.deviation(),
                    fit.median(),
                    fit.survival(age),
                    fit.conditional(age, age),
                    fit.quantile(0.1).unwrap(),
                ];
                assert!(numbers.iter().all(|number| number.is_finite()), "{numbers:?}");
                let region = fit.region(0.9).unwrap();
                let ranges = [
                    region.shape(),
                    region.scale(),
                    region.mean(),
                    region.quantile(0.1),
                    region.conditional(age, age / 3.0),
                ];
                assert!(ranges.iter().all(|range| finite(*range)), "{ranges:?}");
                let inside = |range: Interval, value: f64| {
                    range.low.is_none_or(|low| low <= value * (1.0 + 1e-9))
                        && range.high.is_none_or(|high| high >= value * (1.0 - 1e-9))
                };
                assert!(inside(ranges[0], fit.shape) && inside(ranges[1], fit.scale), "{ranges:?} {fit:?}");
                assert!(inside(ranges[2], fit.mean()) && inside(ranges[3], numbers[8]), "{ranges:?} {fit:?}");
                assert!(inside(ranges[4], fit.conditional(age, age / 3.0)), "{ranges:?} {fit:?}");
                let best = optimum(&fit, 1.0, 5.0);
                assert!(
                    best.is_none_or(
                        |best| best.age.is_finite() && best.rate <= best.to_failure * (1.0 + 1e-9)
                    )
                );
                told += &format!("{numbers:?}{ranges:?}{best:?}");
            }
        }
    }
    if let Ok(tested) = test(first, second) {
        assert!((0.0..=1.0).contains(&tested.p) && tested.log_rank.chi_squared.is_finite(), "{tested:?}");
    }
    told + &format!("{:?}{:?}", verdict(first, second, 0.1), needed(first, second, 0.1))
}

proptest! {
    /// Sorted first: not one bit depends on the order.
    #[test]
    fn order_changes_nothing(mut first in some(12), mut second in some(8)) {
        let told = everything(&first, &second);
        first.reverse();
        second.rotate_left(1);
        prop_assert_eq!(told, everything(&first, &second));
    }

    #[test]
    fn nothing_is_endless(first in anything(), second in anything()) {
        everything(&first, &second);
    }

    #[test]
    fn nothing_is_endless_at_any_scale(first in wide(), second in wide()) {
        everything(&first, &second);
    }

    /// In other units the scale follows and the shape stays; so do the ranges and the test.
    #[test]
    fn units_change_nothing(first in some(20), second in some(6), factor in 0.01f64..100.0) {
        let scaled = |lives: &[Observation]| -> Vec<Observation> {
            lives.iter().map(|life| Observation::new(life.entry * factor, life.exit * factor, life.end)).collect()
        };
        let near = |one: f64, other: f64| (one - other).abs() <= 1e-6 * other.abs();
        match (fit(&first), fit(&scaled(&first))) {
            (Ok(one), Ok(other)) => {
                prop_assert!(near(other.shape, one.shape) && near(other.scale, factor * one.scale), "{one:?} {other:?}");
                let (one, other) = (one.region(0.9).unwrap(), other.region(0.9).unwrap());
                if let (Some(one), Some(other)) = (one.quantile(0.1).low, other.quantile(0.1).low) {
                    prop_assert!(near(other, factor * one), "{one} {other}");
                }
            }
            (one, other) => prop_assert_eq!(one.err(), other.err()),
        }
        if let (Ok(one), Ok(other)) = (test(&first, &second), test(&scaled(&first), &scaled(&second))) {
            prop_assert!((one.p - other.p).abs() < 1e-9);
            prop_assert_eq!(one.how, other.how);
        }
    }

    /// By whole verdicts: with the amount needed the second kind is the better, and with no smaller one of the amounts that carry
    /// a running life to an age of failure.
    #[test]
    fn what_is_needed_is_the_least(first in some(14), second in some(14), significance in 0.02f64..0.4) {
        let better = |more: f64| {
            let further = |life: &Observation| match life.end {
                End::Running => Observation { exit: (life.exit + more) * (1.0 + 1e-12), ..*life },
                _ => *life,
            };
            let second: Vec<_> = second.iter().map(further).collect();
            matches!(verdict(&first, &second, significance), Verdict::SecondLonger(_))
        };
        let failed = || first.iter().chain(&second).filter(|life| life.failed());
        let running = second.iter().filter(|life| life.end == End::Running);
        let mut amounts: Vec<f64> = running.flat_map(|life| failed().map(|one| one.exit - life.exit)).collect();
        amounts.retain(|more| *more > 0.0);
        let wanted = match needed(&first, &second, significance).unwrap() {
            Needed::Already => {
                prop_assert!(matches!(verdict(&first, &second, significance), Verdict::SecondLonger(_)));
                return Ok(());
            }
            Needed::Amount(amount) => {
                prop_assert!(better(amount), "{amount} is not enough");
                amount
            }
            Needed::NotWithin(_) => f64::INFINITY,
        };
        for more in amounts.into_iter().filter(|more| *more < wanted) {
            prop_assert!(!better(more), "{more} would be enough, and {wanted} was said");
        }
    }

    /// Names changed, answer changed with them.
    #[test]
    fn the_verdict_is_fair(first in some(7), second in some(7)) {
        let turned = match verdict(&second, &first, 0.2) {
            Verdict::FirstLonger(test) => format!("second {}", test.p),
            Verdict::SecondLonger(test) => format!("first {}", test.p),
            Verdict::NoDifferenceSeen(test) => format!("none {}", test.p),
            Verdict::CannotTellYet(short) => format!("{:?} {:?}", short.second, short.first),
        };
        let straight = match verdict(&first, &second, 0.2) {
            Verdict::FirstLonger(test) => format!("first {}", test.p),
            Verdict::SecondLonger(test) => format!("second {}", test.p),
            Verdict::NoDifferenceSeen(test) => format!("none {}", test.p),
            Verdict::CannotTellYet(short) => format!("{:?} {:?}", short.first, short.second),
        };
        // Chi-squared of one side and the other may differ in the last bit.
        let exact = first.iter().chain(&second).all(|life| life.entry <= 0.0);
        prop_assert!(!exact || straight == turned, "{straight} / {turned}");
    }

    /// Chances are chances, and more running makes no fewer failures.
    #[test]
    fn counts_are_chances(shape in 0.3f64..8.0, age in 0.0f64..3.0, running in 0.0f64..4.0) {
        let life = Weibull { shape, scale: 1.0 };
        let chances = counts(&life, age, running, 5).unwrap();
        prop_assert!(chances.iter().all(|chance| (0.0..=1.0).contains(chance)), "{chances:?}");
        prop_assert!(chances.iter().sum::<f64>() <= 1.0 + 1e-12);
        let (one, more) = (expected(&life, age, running).unwrap(), expected(&life, age, running * 1.1).unwrap());
        prop_assert!(one <= more + 1e-9, "{one} {more}");
    }
}
