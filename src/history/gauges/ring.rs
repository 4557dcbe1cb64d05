//! Comparisons of a net that cannot all be right: two ways to one gauge that say different things, beyond what they leave open.
//!
//! Must not know other nets.

use super::correction::Quarrel;
use super::pair::Pair;
use super::ways::{Leg, Way, Ways};
use crate::book::entry::EntryId;
use std::collections::{BTreeMap, BTreeSet};

/// Pairs that do not close a ring.
#[derive(Debug, Clone)]
pub(super) struct Ring {
    /// By how much, at most. SI.
    pub apart: f64,
    /// All comparisons of these pairs that do not close, in the order of the book's text.
    pub lines: BTreeSet<EntryId>,
    /// The first time that they did not.
    pub first: Quarrel,
}

/// Goes round every ring: a comparison by which nothing is known says what the two ways to its ends say; and a gauge that is known by way of
/// another which is only taken to be what it was on another day is what its other comparisons, by other pairs, make of it.
pub(super) fn rings(ways: &Ways, pairs: &[Pair]) -> Vec<Ring> {
    let mut found: BTreeMap<Vec<usize>, Ring> = BTreeMap::new();
    for ([first, second], meeting) in ways.spare() {
        let mut round = ways.way(pairs, first);
        round.legs.extend(ways.leg(pairs, &meeting));
        keep(&mut found, &round, &ways.way(pairs, second));
    }
    for (way, other) in ways.guessed(pairs) {
        let of: BTreeSet<usize> = way.legs.iter().flat_map(|leg| leg.pairs.iter().copied()).collect();
        if !other.legs.iter().any(|leg| leg.pairs.iter().any(|pair| of.contains(pair))) {
            keep(&mut found, &way, &other);
        }
    }
    let mut rings: Vec<Ring> = found.into_values().collect();
    rings.sort_by(|a, b| a.first.lines.last().cmp(&b.first.lines.last()));
    rings
}

fn keep(found: &mut BTreeMap<Vec<usize>, Ring>, a: &Way, b: &Way) {
    let shared = |leg: &Leg, other: &Way| other.legs.iter().any(|one| one.step.cause == leg.step.cause);
    let own = |way: &Way, other: &Way| -> Vec<Leg> {
        way.legs.iter().filter(|leg| !shared(leg, other)).cloned().collect()
    };
    let (of_a, of_b) = (own(a, b), own(b, a));
    let sum = |legs: &[Leg]| legs.iter().map(|leg| leg.high).sum::<f64>();
    let apart = (sum(&of_a) - sum(&of_b)).abs();
    let round = || of_a.iter().chain(&of_b);
    let room: f64 = round().map(|leg| leg.step.half).sum();
    if apart <= room * (1.0 + 1e-6) + 1e-12 {
        return;
    }
    let pairs: BTreeSet<usize> = round().flat_map(|leg| leg.pairs.iter().copied()).collect();
    let lines: BTreeSet<EntryId> = round().flat_map(|leg| leg.lines.iter().copied()).collect();
    let quarrel = || Quarrel { lines: lines.iter().copied().collect(), apart, room, same_day: false };
    let ring = found.entry(pairs.into_iter().collect()).or_insert_with(|| Ring {
        apart: 0.0,
        lines: BTreeSet::new(),
        first: quarrel(),
    });
    ring.apart = ring.apart.max(apart);
    ring.lines.extend(&lines);
}
