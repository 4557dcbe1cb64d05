//! Gauges: by how much each reads high, from the lines that hold it against another or against a reference.
//!
//! What a comparison says holds for the day it was made: of two gauges by how much they differ, so that the error of one is that of the
//! other on that day, and so much. Between two such days the middle is taken, and both ends are left open; before the first and after the
//! last the nearest stands. Where no way leads to a reference, only gauges that were held against one another are brought to common terms.
//! Must not know readings, figures or messages.

mod correction;
mod net;
mod pair;
mod ring;
mod ways;

pub use correction::{Cause, Correction, Quarrel, Step, Terms};

use super::grain;
use super::order::{Order, Rank};
use crate::book::Book;
use crate::book::entry::{EntryId, HeldAgainst, Verb};
use crate::book::model::{CarId, GaugeId};
use crate::book::names::Thing;
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
    nets: Nets,
    /// Of cars of which later comparisons say nothing: those their reader has sold.
    of_car: FxHashMap<CarId, Nets>,
    /// Gauges that a comparison with a mistake names: by how much such a one reads high is not known. And its line.
    lost: FxHashMap<GaugeId, EntryId>,
}

/// Folds the comparisons.
#[must_use]
pub fn gauges(book: &Book, files: &Files, order: &Order) -> Gauges {
    let nets = Nets::new(&held(book, files, order, Rank::END), 0);
    Gauges { nets, of_car: FxHashMap::default(), lost: lost(book, files) }
}

/// The gauges that stand on a comparison with a mistake, each with the first such line.
fn lost(book: &Book, files: &Files) -> FxHashMap<GaugeId, EntryId> {
    let mut lost = FxHashMap::default();
    for (entry, line) in book.entries.iter_enumerated() {
        if line.verb != Verb::Compare || !line.broken || line.void {
            continue;
        }
        for word in files.text(line.span()).split([' ', '\t', ',']) {
            if let Some(Thing::Gauge(gauge)) = book.names.find(word) {
                lost.entry(gauge).or_insert(entry);
            }
        }
    }
    lost
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
        let (own, other) = items.split_at(compared.count.min(items.len()));
        let Some(dim) = items.first().map(|item| item.unit().get().dim) else { continue };
        let side = |which: HeldAgainst, items: &[crate::book::entry::Item]| {
            let gauge = match which {
                HeldAgainst::Gauge(gauge) => book.gauges.get(gauge),
                HeldAgainst::Reference => None,
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
        let both = side(HeldAgainst::Gauge(compared.gauge), own).zip(side(compared.against, other));
        let Some(((is, half), (should, other_half))) = both else { continue };
        let [first, second] = [HeldAgainst::Gauge(compared.gauge), compared.against];
        let held = Held { pair: [first, second], day, high: is - should, half: half + other_half, entry };
        all.push((dim, held));
    }
    all
}

/// Nets of gauges, and which a gauge is in.
#[derive(Debug, Clone, Default)]
struct Nets {
    all: Vec<Net>,
    of: FxHashMap<(GaugeId, Dim), usize>,
}

impl Nets {
    /// A net for each dimension and all gauges that were held against one another: two that were held only against the reference each say
    /// nothing of one another. Numbered on.
    fn new(held: &[(Dim, Held)], from: usize) -> Self {
        // The first gauge that another was joined to, until that is one itself.
        let mut joined: BTreeMap<(Dim, GaugeId), GaugeId> = BTreeMap::new();
        let gauges = |one: &Held| {
            one.pair.map(|side| if let HeldAgainst::Gauge(gauge) = side { Some(gauge) } else { None })
        };
        for (dim, one) in held {
            let mut firsts = gauges(one)
                .into_iter()
                .flatten()
                .map(|gauge| first(&mut joined, *dim, gauge))
                .collect::<Vec<_>>();
            firsts.sort_unstable();
            if let [a, b] = firsts.as_slice()
                && a != b
            {
                joined.insert((*dim, *b), *a);
            }
        }
        let mut lists: BTreeMap<(Dim, GaugeId), Vec<Held>> = BTreeMap::new();
        for (dim, one) in held {
            if let Some(gauge) = gauges(one).into_iter().flatten().next() {
                lists.entry((*dim, first(&mut joined, *dim, gauge))).or_default().push(*one);
            }
        }
        let mut nets = Self::default();
        for (at, ((dim, _), list)) in lists.into_iter().enumerate() {
            for gauge in list.iter().flat_map(gauges).flatten() {
                nets.of.insert((gauge, dim), at);
            }
            nets.all.push(Net::new((from + at) as u32, &list));
        }
        nets
    }
}

/// The gauge that stands for all that one was joined with.
fn first(joined: &mut BTreeMap<(Dim, GaugeId), GaugeId>, dim: Dim, gauge: GaugeId) -> GaugeId {
    let mut here = gauge;
    while let Some(next) = joined.get(&(dim, here)).copied() {
        here = next;
    }
    // The next who asks has a short way.
    let mut short = gauge;
    while let Some(next) = joined.get(&(dim, short)).copied().filter(|next| *next != here) {
        joined.insert((dim, short), here);
        short = next;
    }
    here
}

impl Gauges {
    /// Of a car: comparisons after that moment say nothing.
    pub fn end(&mut self, car: CarId, until: Rank, book: &Book, files: &Files, order: &Order) {
        let from = self.nets.all.len() + self.of_car.values().map(|nets| nets.all.len()).sum::<usize>();
        self.of_car.insert(car, Nets::new(&held(book, files, order, until), from));
    }

    /// Whether no gauge was ever compared.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.nets.all.is_empty()
    }

    /// By how much a gauge reads high on a day, in a dimension; of what it read on a car, where one is named. `None` where nothing
    /// was compared with it.
    #[must_use]
    pub fn correction(&self, gauge: GaugeId, dim: Dim, day: Date, car: Option<CarId>) -> Option<Correction> {
        let nets = car.and_then(|car| self.of_car.get(&car)).unwrap_or(&self.nets);
        nets.all.get(*nets.of.get(&(gauge, dim))?)?.correction(gauge, day)
    }

    /// The comparison with a mistake that leaves it unknown by how much a gauge reads high.
    #[must_use]
    pub fn lost(&self, gauge: GaugeId) -> Option<EntryId> {
        self.lost.get(&gauge).copied()
    }

    /// Comparisons that cannot all be right.
    #[must_use]
    pub fn quarrels(&self) -> Vec<Quarrel> {
        self.nets.all.iter().flat_map(Net::quarrels).collect()
    }
}
