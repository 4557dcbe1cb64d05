//! Lives that say little or nothing: a clear word or "cannot tell", never infinity, an undefined number or a silent zero.

use super::Fate::{Failed, Pulled, Running};
use super::{Fate, belts, ledger, minutes_of, printed, said, view_of};
use crate::checks::compile_text;
use proptest::prelude::*;
use stringline::answer::lives::{CountedFailures, KindLives, SpecView};

fn spec(text: &str) -> SpecView {
    belts(text).specs.remove(0)
}

#[test]
fn all_lives_censored() {
    let mut list = minutes_of("", Pulled, &[80.0, 120.0]);
    list.extend(minutes_of("", Running, &[100.0]));
    let text = ledger("", &[], &list);
    let spec = spec(&text);
    assert_eq!(spec.headline, "None of 3 lives has failed in 300 min.");
    assert_eq!(spec.no_weibull, "nothing has failed");
    assert_eq!(spec.curve.unwrap().median_text, "not reached");
    // NIST/SEMATECH e-Handbook 8.4.5.1: 2 x 300/chi-squared(.9; 2) = 300/2.302585.
    assert!(spec.bound.contains("at least 130.3 min (at 90 %)"), "{}", spec.bound);
    let said = printed(&text, &["lives", "belt"]);
    assert!(said.contains("no distribution: nothing has failed"), "{said}");
}

#[test]
fn one_failure_and_nothing_else() {
    let text = ledger("", &[], &minutes_of("", Failed, &[80.0]));
    let spec = spec(&text);
    assert!(spec.weibull.is_none());
    assert_eq!(
        spec.no_weibull,
        "one failure, and nothing ran longer: it says when one failed, not how they spread"
    );
    assert_eq!(
        spec.headline,
        "The one life there is has failed; that is too few to tell how long half of them last."
    );
    assert_eq!(spec.bound, "");
}

#[test]
fn identical_lives() {
    let spec = spec(&ledger("", &[], &minutes_of("", Failed, &[80.0, 80.0, 80.0])));
    assert!(spec.weibull.is_none());
    assert_eq!(
        spec.no_weibull,
        "all failures came at one age and nothing ran longer: no spread can be fitted"
    );
    let curve = spec.curve.unwrap();
    assert_eq!((curve.steps.len(), curve.steps[0].failed, curve.steps[0].share), (1, 3, 0.0));
    assert_eq!((curve.steps[0].error, curve.steps[0].low, curve.steps[0].high), (None, None, None));
}

#[test]
fn a_part_never_fitted() {
    let mut text = ledger("", &[], &minutes_of("", Pulled, &[80.0]));
    text = text.replace("part b-1 belt", "part b-0 belt  opening new\npart b-1 belt");
    let spec = spec(&text);
    assert_eq!((spec.lives, spec.left_out.as_slice()), (1, &["b-0: never fitted".to_owned()][..]));
    // A kind of which nothing has run says so.
    let idle = "kind belt \"belt\"  fits nose\npart b-0 belt  opening new\n";
    assert!(printed(idle, &["lives", "belt"]).contains("nothing of this kind has run"));
    assert!(printed(idle, &["lives"]).contains("No part of this book has run"));
}

#[test]
fn a_life_of_zero() {
    let text = "kind belt \"belt\"  fits nose\ncar heron \"H\"\npart b-1 belt  opening new\npart b-2 belt  opening new\npart b-3 belt  opening new\n\n\
                2025-05-10 heron\n  fit b-1 nose\n  failed b-1 mode worn\n  remove b-1\n  fit b-2 nose\n  09:00 run s1  0 min\n    remove b-2\n    \
                fit b-3 nose\n  10:00 run s2  30 min\n";
    let list = belts(text);
    assert_eq!(list.specs[0].lives, 1);
    assert_eq!(
        list.specs[0].left_out,
        ["b-1: failed before it ran: a fault from new, not wear", "b-2: fitted and not run yet"]
    );
}

#[test]
fn a_rebuild_while_fitted_and_a_car_that_had_run() {
    let rebuilt =
        "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  rebuild cp-1\n  rebuild cp-1\n  09:00..09:20 run s1\n";
    assert_eq!(said(rebuilt, "cp-1"), "rebuilt 0, rebuilt 0, running 20");
    let moved = "2025-05-10 plover at pell-1\n  09:00..09:50 run s1\n\n2025-05-10 heron at pell-1\n  10:00 fit cp-1 LR\n  10:05 move cp-1 -> plover prop\n\n\
                 2025-05-10 plover at pell-1\n  10:30..10:40 run s2\n";
    assert_eq!(said(moved, "cp-1"), "running 10");
}

/// Below zero is no amount of use.
#[test]
fn an_opening_or_a_limit_below_zero_is_refused() {
    for wrong in ["part b-1 belt  opening -55 min", "part b-1 belt  opening 5 min, -2 days"] {
        let book = compile_text(&format!("kind belt \"belt\"  fits nose\n{wrong}\n"));
        assert_eq!(book.diagnostics.len(), 1, "{wrong}: {:?}", book.diagnostics);
    }
    let book = compile_text("kind belt \"belt\"  fits nose  life -300 min\n");
    assert_eq!(book.diagnostics.len(), 1, "{:?}", book.diagnostics);
}

/// A session below zero would take use away from every part aboard.
#[test]
fn a_session_below_zero_is_refused() {
    for wrong in ["run s1  -20 min", "run s1  -3 km"] {
        let book = compile_text(&format!("car heron \"H\"\n\n2025-05-10 heron\n  {wrong}\n"));
        let said: Vec<&str> = book.diagnostics.iter().map(|one| one.check).collect();
        assert_eq!(said, ["number-unreadable"], "{wrong}");
    }
}

/// Every life is either counted or said to be left out, and each of a spec's numbers is in its words.
fn nothing_drops_out(list: &KindLives) -> Result<(), String> {
    let counted: usize = list.specs.iter().map(|spec| spec.lives + spec.left_out.len()).sum();
    if counted != list.lives.len() {
        return Err(format!("{counted} of {} lives", list.lives.len()));
    }
    for spec in &list.specs {
        if spec.lives != spec.failed + spec.pulled + spec.running {
            return Err(format!("{}: {} lives", spec.spec, spec.lives));
        }
        if spec.weibull.is_none() == spec.no_weibull.is_empty() || spec.headline.is_empty() {
            return Err(format!("{}: {}", spec.spec, spec.headline));
        }
    }
    Ok(())
}

fn extreme() -> impl Strategy<Value = Vec<(bool, f64, Fate)>> {
    let ages = prop::sample::select(vec![
        0.0,
        0.001,
        0.01,
        1.0,
        1.0,
        2.0,
        5.0,
        80.0,
        80.0,
        81.0,
        300.0,
        1e6,
        999_999_999.0,
    ]);
    let fate = prop_oneof![2 => Just(Failed), 1 => Just(Pulled), 1 => Just(Running)];
    prop::collection::vec((any::<bool>(), ages, fate), 1..9)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_the_lives_nothing_is_infinite_and_none_drops_out(lives in extreme()) {
        let list: Vec<_> = lives
            .iter()
            .map(|(second, minutes, fate)| (if *second { "b" } else { "a" }, format!("{minutes} min"), *fate))
            .collect();
        let text = ledger("life 5 h  safety  failure-costs 70.00 EUR", &["a price 38.00 EUR", "b price 0.00 EUR"], &list);
        let list = view_of(&compile_text(&text), "belt", None, &CountedFailures::default());
        if let Err(why) = nothing_drops_out(&list) {
            prop_assert!(false, "{why}\n{text}");
        }
        // As Rust shows it: JSON would write "null" for what is no number.
        let told = format!("{list:?}") + &printed(&text, &["lives", "belt"]);
        prop_assert_eq!(super::random::sick(&told), None, "{}\n{}", text, told);
    }
}
