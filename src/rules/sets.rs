//! Sets of limits that quarrel with one another: found in one walk over the days, not pair by pair.
//!
//! Must not know rules, nor what a quarrel means to a shop.

#![expect(
    clippy::indexing_slicing,
    reason = "every number here is that of one of the limits, of one of their lists of places, or of one of four heaps"
)]

use jiff::civil::Date;
use std::cmp::{Ordering, Reverse};
use std::collections::{BTreeMap, BinaryHeap};

/// Limits on one thing, some days and some places long.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// First day.
    pub from: Date,
    /// Last day.
    pub until: Date,
    /// The least, in the unit of all of them.
    pub min: Option<f64>,
    /// The most.
    pub max: Option<f64>,
    /// Which list of places.
    pub places: usize,
}

/// What two limits that meet can have against each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quarrel {
    /// The least of the one is above the most of the other.
    Impossible,
    /// Both have a least, or both a most, and they are unlike.
    Unlike,
}

/// Some of the limits, by their numbers, every one of which quarrels with another of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Set {
    /// Two that quarrel, in the order of their numbers.
    pub pair: (usize, usize),
    /// All of them, in order.
    pub all: Vec<usize>,
}

/// Whether two limits are not the same but for the last bit.
fn unlike(a: f64, b: f64) -> bool {
    (a - b).abs() > 1e-9 * a.abs().max(b.abs())
}

#[derive(Debug, PartialEq)]
struct Top {
    key: f64,
    limits: Reverse<usize>,
}

impl Eq for Top {}

impl PartialOrd for Top {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Top {
    fn cmp(&self, other: &Self) -> Ordering {
        self.key.total_cmp(&other.key).then(self.limits.cmp(&other.limits))
    }
}

/// Limits in force, by the highest and the lowest least, and the highest and the lowest most.
#[derive(Debug, Default)]
struct Pool([BinaryHeap<Top>; 4]);

impl Pool {
    fn push(&mut self, number: usize, limits: &Limits) {
        let keys = [limits.min, limits.min.map(|min| -min), limits.max, limits.max.map(|max| -max)];
        for (heap, key) in self.0.iter_mut().zip(keys) {
            heap.extend(key.map(|key| Top { key, limits: Reverse(number) }));
        }
    }

    /// Takes out what stands on top and is no longer wanted.
    fn clean(&mut self, wanted: impl Fn(usize) -> bool) {
        for heap in &mut self.0 {
            while heap.peek().is_some_and(|top| !wanted(top.limits.0)) {
                heap.pop();
            }
        }
    }

    fn is_empty(&self) -> bool {
        self.0.iter().all(BinaryHeap::is_empty)
    }

    fn len(&self) -> usize {
        self.0.iter().map(BinaryHeap::len).sum()
    }

    fn absorb(&mut self, mut other: Self) {
        if other.len() > self.len() {
            std::mem::swap(self, &mut other);
        }
        for (heap, more) in self.0.iter_mut().zip(other.0) {
            heap.extend(more);
        }
    }

    /// One in the pool that quarrels with these limits.
    fn against(&self, limits: &Limits, quarrel: Quarrel) -> Option<usize> {
        let top = |heap: usize, bad: &dyn Fn(f64) -> bool| {
            let top = self.0[heap].peek()?;
            let value = if heap.is_multiple_of(2) { top.key } else { -top.key };
            bad(value).then_some(top.limits.0)
        };
        let (min, max) = (limits.min, limits.max);
        match quarrel {
            Quarrel::Impossible => max
                .and_then(|max| top(0, &|min| min > max))
                .or_else(|| min.and_then(|min| top(3, &|max| max < min))),
            Quarrel::Unlike => {
                let other = |own: Option<f64>, heap: usize| {
                    let own = own?;
                    top(heap, &|value| unlike(value, own))
                        .or_else(|| top(heap + 1, &|value| unlike(value, own)))
                };
                other(min, 0).or_else(|| other(max, 2))
            }
        }
    }
}

/// Which limits belong together: each points to another of its set, the first of all to itself.
struct Together {
    to: Vec<usize>,
    pair: Vec<Option<(usize, usize)>>,
}

impl Together {
    fn root(&mut self, mut at: usize) -> usize {
        while self.to[at] != at {
            self.to[at] = self.to[self.to[at]];
            at = self.to[at];
        }
        at
    }

    /// Joins two that quarrel; of all pairs of a set it remembers the one that came first.
    fn join(&mut self, a: usize, b: usize) {
        let (first, second) = (self.root(a), self.root(b));
        let (first, second) = (first.min(second), first.max(second));
        self.to[second] = first;
        let pairs = [self.pair[first], self.pair[second], Some((a.min(b), a.max(b)))];
        self.pair[first] = pairs.into_iter().flatten().min_by_key(|(low, high)| (*high, *low));
    }
}

/// Every set of limits that quarrel. `touching` says for each list of places which lists have a place in common with it, itself
/// among them.
#[must_use]
pub fn sets(all: &[Limits], touching: &[Vec<usize>], quarrel: Quarrel) -> Vec<Set> {
    let mut together = Together { to: (0..all.len()).collect(), pair: vec![None; all.len()] };
    let mut joined = vec![false; all.len()];
    // In force and at peace so far, and in force and of a set, by their list of places.
    let mut peace: Vec<Pool> = touching.iter().map(|_| Pool::default()).collect();
    let mut sets: Vec<Vec<(usize, Pool)>> = touching.iter().map(|_| Vec::new()).collect();
    let mut order: Vec<usize> = (0..all.len()).collect();
    order.sort_by_key(|at| (all[*at].from, *at));
    for at in order {
        let one = &all[at];
        let mut new: Vec<usize> = Vec::new();
        for list in touching[one.places].iter().copied() {
            let in_force = |at: usize| all[at].until >= one.from;
            loop {
                peace[list].clean(|at| in_force(at) && !joined[at]);
                let Some(other) = peace[list].against(one, quarrel) else { break };
                together.join(other, at);
                joined[other] = true;
                new.push(other);
            }
            for (_, pool) in &mut sets[list] {
                pool.clean(in_force);
                if let Some(other) = pool.against(one, quarrel) {
                    together.join(other, at);
                }
            }
        }
        let root = together.root(at);
        if together.pair[root].is_none() {
            peace[one.places].push(at, one);
            continue;
        }
        joined[at] = true;
        new.push(at);
        for other in new {
            let mut pool = Pool::default();
            pool.push(other, &all[other]);
            sets[all[other].places].push((other, pool));
        }
        // One pool a set and a list.
        for list in touching[one.places].iter().copied() {
            let mut merged: BTreeMap<usize, Pool> = BTreeMap::new();
            for (of, pool) in std::mem::take(&mut sets[list]).into_iter().filter(|(_, pool)| !pool.is_empty())
            {
                merged.entry(together.root(of)).or_default().absorb(pool);
            }
            sets[list] = merged.into_iter().collect();
        }
    }
    found(&mut together)
}

fn found(together: &mut Together) -> Vec<Set> {
    let mut found: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for at in 0..together.to.len() {
        let root = together.root(at);
        found.entry(root).or_default().push(at);
    }
    let set = |(root, all): (usize, Vec<usize>)| Some(Set { pair: together.pair[root]?, all });
    found.into_iter().filter_map(set).collect()
}
