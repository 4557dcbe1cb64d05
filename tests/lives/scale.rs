//! Twice the minutes on every line: the shape stays, every amount doubles, every verdict is the same.

use super::Fate::{Failed, Pulled, Running};
use super::{Fate, belts, ledger};
use proptest::prelude::*;
use stringline::answer::lives::{KindLives, SpecView};

fn told(lives: &[(bool, u16, Fate)], times: f64) -> KindLives {
    let list: Vec<_> = lives
        .iter()
        .map(|(second, minutes, fate)| {
            let spec = if *second { "b" } else { "a" };
            (spec, format!("{} min", f64::from(*minutes) * times), *fate)
        })
        .collect();
    belts(&ledger("", &["a price 38.00 EUR", "b price 60.00 EUR"], &list))
}

fn alike(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-7 * one.abs().max(other.abs())
}

fn doubled(one: &SpecView, two: &SpecView) -> Result<(), String> {
    if (one.lives, one.failed, one.pulled, one.running) != (two.lives, two.failed, two.pulled, two.running) {
        return Err("counts".to_owned());
    }
    if let (Some(one), Some(two)) = (&one.curve, &two.curve) {
        for (one, two) in one.steps.iter().zip(&two.steps) {
            if !alike(2.0 * one.at, two.at) || !alike(one.share, two.share) || one.at_risk != two.at_risk {
                return Err(format!("{one:?} and {two:?}"));
            }
        }
    }
    match (&one.weibull, &two.weibull) {
        (Some(one), Some(two)) => {
            let same = alike(one.shape, two.shape)
                && alike(2.0 * one.scale, two.scale)
                && alike(2.0 * one.b10, two.b10);
            let ends = one.rows.iter().zip(&two.rows).all(|(one, two)| {
                let times = if one.name == "shape" { 1.0 } else { 2.0 };
                let same = |one: Option<f64>, two: Option<f64>| match (one, two) {
                    (Some(one), Some(two)) => (times * one - two).abs() <= 1e-4 * two.abs(),
                    (one, two) => one.is_none() && two.is_none(),
                };
                same(one.low, two.low) && same(one.high, two.high)
            });
            if same && ends { Ok(()) } else { Err(format!("{one:?}\n{two:?}")) }
        }
        (None, None) if one.no_weibull == two.no_weibull => Ok(()),
        _ => Err("a fit of one of them only".to_owned()),
    }
}

fn lives() -> impl Strategy<Value = Vec<(bool, u16, Fate)>> {
    let fate = prop_oneof![3 => Just(Failed), 1 => Just(Pulled), 1 => Just(Running)];
    prop::collection::vec((any::<bool>(), 1..400_u16, fate), 1..16)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_clock_scales_the_scale_and_leaves_the_shape(lives in lives()) {
        let (one, two) = (told(&lives, 1.0), told(&lives, 2.0));
        for (first, second) in one.specs.iter().zip(&two.specs) {
            if let Err(why) = doubled(first, second) {
                prop_assert!(false, "{}: {why}", first.spec);
            }
        }
        for (first, second) in one.against.iter().zip(&two.against) {
            prop_assert_eq!(first.verdict, second.verdict);
            prop_assert_eq!(&first.how, &second.how);
            prop_assert!(first.p == second.p || alike(first.p.unwrap(), second.p.unwrap()));
        }
    }
}
