//! One life of B moves, and each sentence about A and B appears.
//!
//! A failed at 220, 260 and 260 min and was once pulled good at 210; three of B were pulled good at 170, 220 and 230. The fourth of B
//! moves. What it takes is counted by `tests/oracles/deals.py`, which deals the eight lives in all 70 ways.

use super::Fate::{Failed, Pulled, Running};
use super::{Fate, belts, ledger, minutes_of};
use stringline::answer::lives::Against;

/// The pair with the fourth of B so.
fn with(minutes: f64, fate: Fate) -> Against {
    named("a", "b", minutes, fate)
}

fn named(a: &str, b: &str, minutes: f64, fate: Fate) -> Against {
    let mut list = minutes_of(a, Failed, &[220.0, 260.0, 260.0]);
    list.extend(minutes_of(a, Pulled, &[210.0]));
    list.extend(minutes_of(b, Pulled, &[230.0, 170.0, 220.0]));
    list.extend(minutes_of(b, fate, &[minutes]));
    let mut view = belts(&ledger("", &["a", "b"], &list));
    assert_eq!(view.against.len(), 1);
    view.against.remove(0)
}

/// Four of B outlived all but the last failures of A: 4 of the 70 deals are as uneven.
#[test]
fn b_lasts_longer() {
    let pair = with(310.0, Failed);
    assert_eq!(pair.verdict, "second-longer");
    assert_eq!(pair.sentence, "b lasts longer than a: as much would be seen by chance alone 6 times in 100.");
    assert!(pair.how.starts_with("log-rank, exact: 4 of the 70 ways"), "{}", pair.how);
    assert!((pair.p.unwrap() - 4.0 / 70.0).abs() < 1e-12);
}

/// The other way about, the same lives under each other's name.
#[test]
fn a_lasts_longer() {
    let pair = named("b", "a", 310.0, Failed);
    assert_eq!((pair.verdict, pair.first.as_str()), ("first-longer", "a"));
    assert_eq!(pair.sentence, "a lasts longer than b: as much would be seen by chance alone 6 times in 100.");
}

/// It broke at once: every deal is as uneven, and none of B runs on that could yet show anything.
#[test]
fn no_difference_seen() {
    let pair = with(30.0, Failed);
    assert_eq!(pair.verdict, "no-difference-seen");
    assert_eq!(
        pair.sentence,
        "No difference seen between a and b: as much would be seen by chance alone 100 times in 100."
    );
    assert!(pair.how.starts_with("log-rank, exact: 70 of the 70 ways"), "{}", pair.how);
}

/// It runs at 30 min: past 260, 230 more, B would be the better.
#[test]
fn cannot_tell_yet_each_needs_more() {
    let pair = with(30.0, Running);
    assert_eq!(pair.verdict, "cannot-tell-yet");
    assert_eq!(pair.sentence, "Cannot tell yet: each b needs 230 min more without failing.");
    // A minute short of that it is still so, and there it is not.
    assert_eq!(with(259.0, Running).sentence, "Cannot tell yet: each b needs 1 min more without failing.");
    assert_eq!(with(260.0, Running).verdict, "second-longer");
}

/// It was pulled good at 240 min: none of B runs any more, and so few could not have shown it.
#[test]
fn cannot_tell_yet_whatever_they_run() {
    let pair = with(240.0, Pulled);
    assert_eq!(pair.verdict, "cannot-tell-yet");
    assert_eq!(
        pair.sentence,
        "Cannot tell yet: no amount of running within 780 min (three times the life seen) on those that run would show that b lasts \
         longer; it takes more of them."
    );
}

/// Hours where the limit is typed in hours, rounded up so that what is said is enough.
#[test]
fn the_amount_is_told_in_the_kinds_unit() {
    let mut list = minutes_of("a", Failed, &[220.0, 260.0, 260.0]);
    list.extend(minutes_of("a", Pulled, &[210.0]));
    list.extend(minutes_of("b", Pulled, &[230.0, 170.0, 220.0]));
    list.extend(minutes_of("b", Running, &[30.0]));
    let view = belts(&ledger("life 5 h", &["a", "b"], &list));
    // 230 min is 3.833 h.
    assert_eq!(view.against[0].sentence, "Cannot tell yet: each b needs 3.9 h more without failing.");
}
