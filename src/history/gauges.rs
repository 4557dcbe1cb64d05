//! Gauges: by how much each reads high, from the lines that hold it against another or against a reference.
//!
//! What a comparison says holds for the day it was made. Between two of one pair that lie on different days the middle is taken, and
//! both ends are left open; before the first and after the last the nearest stands. A gauge that was never held against a reference
//! itself is led back to one by way of others, at any time. Where no way leads to a reference, only gauges that were held against one
//! another are brought to common terms. Must not know readings, figures or messages.

mod net;
mod pair;

use super::grain;
use super::order::{Order, Rank};
use crate::book::Book;
use crate::book::entry::{Against, EntryId, Verb};
use crate::book::model::{CarId, GaugeId};
use crate::source::Files;
use crate::units::Dim;
use jiff::civil::Date;
use net::Net;
use pair::Held;
use rustc_hash::FxHashMap;
use std::collections::BTreeMap;

/// What the comparisons of a book say.
#[derive(Debug, Clone, Default)]
pub struct Gauges {
    nets: Vec<Net>,
    /// Of cars of which later comparisons say nothing: those their reader has sold.
    of_car: FxHashMap<CarId, Vec<Net>>,
}

/// What something unsure comes from; two corrections that share it are wrong by it together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Cause {
    net: u32,
    which: Which,
    /// Which stretch of time.
    stretch: u32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
enum Which {
    /// A pair that was held against one another, by number.
    Pair(u32),
    /// A ring of comparisons that does not close, at a gauge by number.
    Ring(u32),
}

/// One comparison on the way from a gauge to what it is corrected against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// What it comes from.
    pub cause: Cause,
    /// 1 where it counts as it was made, -1 where it is gone the other way.
    pub sign: f64,
    /// By how much it may be off, either way. SI.
    pub half: f64,
}

/// By how much a gauge reads high on a day. SI, in the dimension that it was asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Correction {
    /// How much too high.
    pub high: f64,
    /// What that comes from; none for the gauge that others are brought to.
    pub steps: Vec<Step>,
    /// The reference, or the gauge in whose terms it is said: then nobody knows which of the two is right.
    pub against: Against,
    /// Which gauges can be told apart by comparisons: those with the same number.
    pub terms: Terms,
    /// No comparison lies on either side of the day: the nearest is taken.
    pub nearest: bool,
    /// The lines, in the order of the book's text.
    pub lines: Vec<EntryId>,
    /// By how much comparisons in a ring do not close, where the gauge is in one.
    pub open: Option<f64>,
}

/// Gauges that comparisons connect.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Terms {
    net: u32,
    part: u32,
}

/// Two ways from one gauge to another that say different things, beyond what they leave open.
#[derive(Debug, Clone, PartialEq)]
pub struct Quarrel {
    /// The comparisons, in the order of the book's text; the last is the newest.
    pub lines: Vec<EntryId>,
    /// By how much, SI.
    pub apart: f64,
    /// How much they leave open together, SI.
    pub room: f64,
    /// On one day, of one pair, rather than round a ring.
    pub same_day: bool,
}

impl Correction {
    /// By how much it may be off, either way. SI.
    #[must_use]
    pub fn half(&self) -> f64 {
        self.steps.iter().map(|step| step.half).sum()
    }

    /// By how much more one gauge reads than another, and how far off that may be. What both rest on counts for nothing.
    #[must_use]
    pub fn less(&self, other: &Self) -> (f64, f64) {
        let mut all: BTreeMap<Cause, (f64, f64)> = BTreeMap::new();
        for (step, sign) in self.steps.iter().map(|step| (step, 1.0)).chain(other.steps.iter().map(|step| (step, -1.0))) {
            let known = all.entry(step.cause).or_insert((0.0, step.half));
            known.0 += sign * step.sign;
        }
        (self.high - other.high, all.values().map(|(times, half)| times.abs() * half).sum())
    }
}

/// Folds the comparisons.
#[must_use]
pub fn gauges(book: &Book, files: &Files, order: &Order) -> Gauges {
    Gauges { nets: nets(&held(book, files, order, Rank::END), 0), of_car: FxHashMap::default() }
}

/// The comparisons up to a moment, each as what it says.
fn held(book: &Book, files: &Files, order: &Order, until: Rank) -> Vec<(Dim, Held)> {
    let mut all = Vec::new();
    for (entry, line) in book.entries.iter_enumerated() {
        let counts = line.verb == Verb::Compare && !line.broken && !line.void && !line.withheld;
        let late = order.rank.get(entry).is_none_or(|rank| *rank > until);
        if !counts || late {
            continue;
        }
        let Some(compared) = book.extra(line).and_then(|extra| extra.compared) else { continue };
        let Some(day) = order.date(book, entry) else { continue };
        let items = book.items_of(line);
        let (own, other) = items.split_at(usize::from(compared.count).min(items.len()));
        let Some(dim) = items.first().map(|item| item.unit().get().dim) else { continue };
        let side = |which: Against, items: &[crate::book::entry::Item]| {
            let gauge = match which {
                Against::Gauge(gauge) => book.gauges.get(gauge),
                Against::Reference => None,
            };
            let first = items.first()?;
            let (mut low, mut high, mut sum, mut half) = (first.si, first.si, 0.0, 0.0_f64);
            for item in items {
                (low, high) = (low.min(item.si), high.max(item.si));
                sum += item.si - first.si;
                // A stated value is what it says, but for a stated ±.
                let open = match gauge {
                    Some(gauge) => grain::half_by(gauge, files, line.file, item),
                    None if item.is(crate::book::entry::Flags::STATED) => f64::from(item.half),
                    None => 0.0,
                };
                half = half.max(open);
            }
            let mean = first.si + sum / items.len() as f64;
            Some((mean, half.max((high - low) / 2.0)))
        };
        let both = side(Against::Gauge(compared.gauge), own).zip(side(compared.against, other));
        let Some(((is, half), (should, other_half))) = both else { continue };
        let [first, second] = [Against::Gauge(compared.gauge), compared.against];
        let held = Held { pair: [first, second], day, high: is - should, half: half + other_half, entry };
        all.push((dim, held));
    }
    all
}

/// A net for each dimension, numbered on.
fn nets(all: &[(Dim, Held)], from: usize) -> Vec<Net> {
    let mut dims: Vec<Dim> = all.iter().map(|(dim, _)| *dim).collect();
    dims.sort_unstable();
    dims.dedup();
    let of = |dim: Dim| all.iter().filter(move |(other, _)| *other == dim).map(|(_, held)| *held);
    let net = |(at, dim): (usize, Dim)| Net::new((from + at) as u32, dim, &of(dim).collect::<Vec<_>>());
    dims.into_iter().enumerate().map(net).collect()
}

impl Gauges {
    /// Of a car: comparisons after that moment say nothing.
    pub fn end(&mut self, car: CarId, until: Rank, book: &Book, files: &Files, order: &Order) {
        let from = self.nets.len() + self.of_car.values().map(Vec::len).sum::<usize>();
        self.of_car.insert(car, nets(&held(book, files, order, until), from));
    }

    /// Whether no gauge was ever compared.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.nets.is_empty()
    }

    /// By how much a gauge reads high on a day, in a dimension; of what it read on a car, where one is named. `None` where nothing
    /// was compared with it.
    #[must_use]
    pub fn correction(&self, gauge: GaugeId, dim: Dim, day: Date, car: Option<CarId>) -> Option<Correction> {
        let nets = car.and_then(|car| self.of_car.get(&car)).unwrap_or(&self.nets);
        nets.iter().find(|net| net.dim == dim)?.correction(gauge, day)
    }

    /// Comparisons that cannot all be right.
    #[must_use]
    pub fn quarrels(&self) -> Vec<Quarrel> {
        self.nets.iter().flat_map(Net::quarrels).collect()
    }
}
