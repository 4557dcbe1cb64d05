//! Gauges of one dimension that were held against one another, and what each is corrected by.
//!
//! Must not know other gauges.

use super::correction::{Cause, Correction, Quarrel, Step, Terms, Which};
use super::pair::{Held, Pair};
use super::ring::{Ring, rings};
use super::ways::Ways;
use crate::book::entry::{EntryId, HeldAgainst};
use crate::book::model::GaugeId;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// Gauges of one dimension that were held against one another.
#[derive(Debug, Clone)]
pub(super) struct Net {
    number: u32,
    /// What the others are corrected against first: the reference, where there is one, else the gauge that is declared first.
    nodes: Vec<HeldAgainst>,
    pairs: Vec<Pair>,
    ways: Ways,
    /// What does not close.
    rings: Vec<Ring>,
    /// The days of comparisons, in order.
    days: Vec<Date>,
}

impl Net {
    pub fn new(number: u32, lines: &[Held]) -> Self {
        let nodes: BTreeSet<HeldAgainst> = lines.iter().flat_map(|line| line.pair).collect();
        let nodes: Vec<HeldAgainst> = nodes.into_iter().collect();
        let find = |which: HeldAgainst| nodes.binary_search(&which).unwrap_or_default();
        let mut of_pair: BTreeMap<[usize; 2], Vec<(Date, f64, f64, EntryId)>> = BTreeMap::new();
        for line in lines {
            let [first, second] = line.pair.map(find);
            // Of a pair it is known by how much the second reads higher.
            let (ends, high) =
                if first < second { ([first, second], -line.high) } else { ([second, first], line.high) };
            of_pair.entry(ends).or_default().push((line.day, high, line.half, line.entry));
        }
        let pairs: Vec<Pair> = of_pair.into_iter().map(|(ends, lines)| Pair::new(ends, lines)).collect();
        let days: BTreeSet<Date> = pairs.iter().flat_map(Pair::days).collect();
        let ways = Ways::new(number, nodes.len(), &pairs);
        let rings = rings(&ways, &pairs);
        Self { number, nodes, pairs, ways, rings, days: days.into_iter().collect() }
    }

    /// Which stretch of time a day is in: odd on a day of comparisons.
    fn stretch(&self, day: Date) -> usize {
        match self.days.binary_search(&day) {
            Ok(at) => 2 * at + 1,
            Err(at) => 2 * at,
        }
    }

    pub fn correction(&self, gauge: GaugeId, day: Date) -> Option<Correction> {
        let node = self.nodes.binary_search(&HeldAgainst::Gauge(gauge)).ok()?;
        let against = *self.nodes.first()?;
        let way = if node == 0 { super::ways::Way::default() } else { self.ways.on(&self.pairs, node, day) };
        let lines: BTreeSet<EntryId> = way.legs.iter().flat_map(|leg| leg.lines.iter().copied()).collect();
        let through = self.rings.iter().filter(|ring| lines.iter().any(|line| ring.lines.contains(line)));
        let open = Some(through.map(|ring| ring.apart).sum()).filter(|open| *open > 0.0);
        let ring = open.map(|half| {
            let (which, stretch) = (Which::Ring(node as u32), self.stretch(day) as u32);
            Step { cause: Cause { net: self.number, which, stretch }, sign: 1.0, half }
        });
        Some(Correction {
            high: way.high(),
            steps: way.legs.iter().map(|leg| leg.step).chain(ring).collect(),
            against,
            terms: match against {
                HeldAgainst::Reference => Terms::Reference,
                HeldAgainst::Gauge(_) => Terms::Net(self.number),
            },
            nearest: way.nearest,
            lines: lines.into_iter().collect(),
            open,
        })
    }

    pub fn quarrels(&self) -> Vec<Quarrel> {
        let of_day = self.pairs.iter().flat_map(Pair::quarrels);
        let of_day = of_day.map(|(lines, apart, room)| Quarrel { lines, apart, room, same_day: true });
        of_day.chain(self.rings.iter().map(|ring| ring.first.clone())).collect()
    }
}
