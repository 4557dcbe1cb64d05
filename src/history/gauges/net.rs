//! Gauges of one dimension that were held against one another, and the ways between them and to the reference.
//!
//! Must not know other gauges.
#![expect(
    clippy::indexing_slicing,
    reason = "nodes and pairs are numbered by the net itself, and every list of it is as long as one of these"
)]

use super::correction::{Cause, Correction, Quarrel, Step, Terms, Which};
use super::pair::{Held, Pair, Says};
use crate::book::entry::{EntryId, HeldAgainst};
use crate::book::model::GaugeId;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

/// Gauges of one dimension that were held against one another.
#[derive(Debug, Clone)]
pub(super) struct Net {
    number: u32,
    /// The reference first, where there is one, then gauges as they are declared.
    nodes: Vec<HeldAgainst>,
    pairs: Vec<Pair>,
    /// Of each node the pairs it is in.
    at: Vec<Vec<usize>>,
    /// Of each node the first that comparisons connect it with: what it is corrected against.
    root: Vec<usize>,
    /// The days of comparisons, in order.
    days: Vec<Date>,
    /// The ways on each of those days, and in each stretch around them.
    ways: Vec<OnceLock<Ways>>,
}

/// Of each node the way to its root at one time.
#[derive(Debug, Clone)]
struct Ways {
    /// The pair to go by first, and the node it leads to.
    first: Vec<Option<(usize, usize)>>,
    /// What each pair says.
    says: Vec<Option<Says>>,
    /// By how much rings that the way goes through do not close.
    open: Vec<f64>,
    rings: Vec<Ring>,
}

/// A pair that closes a ring, and by how much it does not.
#[derive(Debug, Clone)]
struct Ring {
    pairs: Vec<usize>,
    apart: f64,
    room: f64,
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
        let mut at = vec![Vec::new(); nodes.len()];
        for (index, pair) in pairs.iter().enumerate() {
            for end in pair.ends {
                at[end].push(index);
            }
        }
        let mut root: Vec<usize> = (0..nodes.len()).collect();
        for node in 0..nodes.len() {
            if root[node] != node {
                continue;
            }
            let mut open = vec![node];
            while let Some(here) = open.pop() {
                for next in at[here].iter().flat_map(|pair| pairs[*pair].ends) {
                    if next != node && root[next] == next {
                        root[next] = node;
                        open.push(next);
                    }
                }
            }
        }
        let days: BTreeSet<Date> = pairs.iter().flat_map(Pair::days).collect();
        let ways = (0..=2 * days.len()).map(|_| OnceLock::new()).collect();
        Self { number, nodes, pairs, at, root, days: days.into_iter().collect(), ways }
    }

    /// Which stretch of time a day is in: odd on a day of comparisons.
    fn stretch(&self, day: Date) -> usize {
        match self.days.binary_search(&day) {
            Ok(at) => 2 * at + 1,
            Err(at) => 2 * at,
        }
    }

    fn ways(&self, day: Date) -> Option<&Ways> {
        self.ways.get(self.stretch(day)).map(|ways| ways.get_or_init(|| self.work_out(day)))
    }

    /// The surest way from each gauge to its root: that of the least width (Dijkstra 1959).
    fn work_out(&self, day: Date) -> Ways {
        let says: Vec<Option<Says>> = self.pairs.iter().map(|pair| pair.on(day)).collect();
        let count = self.nodes.len();
        let mut first = vec![None; count];
        let mut width = vec![f64::INFINITY; count];
        let mut open: BTreeSet<(u64, usize)> = BTreeSet::new();
        for (node, root) in self.root.iter().enumerate() {
            if *root == node {
                width[node] = 0.0;
                open.insert((0, node));
            }
        }
        // Widths are not below nothing, so their bits are in their order.
        while let Some((_, here)) = open.pop_first() {
            for pair in &self.at[here] {
                let Some(said) = &says[*pair] else { continue };
                let [a, b] = self.pairs[*pair].ends;
                let next = if a == here { b } else { a };
                let wide = width[here] + said.half;
                if wide < width[next] {
                    open.remove(&(width[next].to_bits(), next));
                    width[next] = wide;
                    first[next] = Some((*pair, here));
                    open.insert((wide.to_bits(), next));
                }
            }
        }
        let mut ways = Ways { first, says, open: vec![0.0; count], rings: Vec::new() };
        self.close(&mut ways);
        ways
    }

    /// The pairs on the way from a node to its root, each with its sign.
    fn way(&self, ways: &Ways, node: usize) -> Vec<(usize, f64)> {
        let mut list = Vec::new();
        let mut here = node;
        while let Some((pair, next)) = ways.first.get(here).copied().flatten() {
            list.push((pair, if self.pairs[pair].ends[1] == here { 1.0 } else { -1.0 }));
            here = next;
        }
        list
    }

    /// Goes round every ring, and opens those that do not close.
    fn close(&self, ways: &mut Ways) {
        let on_way: BTreeSet<usize> = ways.first.iter().flatten().map(|(pair, _)| *pair).collect();
        for (index, pair) in self.pairs.iter().enumerate().filter(|(index, _)| !on_way.contains(index)) {
            let Some(said) = &ways.says[index] else { continue };
            let mut round: BTreeMap<usize, f64> = BTreeMap::new();
            for (end, sign) in [(pair.ends[1], 1.0), (pair.ends[0], -1.0)] {
                for (step, way) in self.way(ways, end) {
                    *round.entry(step).or_default() += sign * way;
                }
            }
            round.retain(|_, times| *times != 0.0);
            let (mut sum, mut room) = (-said.high, said.half);
            for (step, times) in &round {
                if let Some(said) = &ways.says[*step] {
                    sum += times * said.high;
                    room += said.half;
                }
            }
            if sum.abs() > room * (1.0 + 1e-6) + 1e-12 {
                let pairs = round.keys().copied().chain([index]).collect();
                ways.rings.push(Ring { pairs, apart: sum.abs(), room });
            }
        }
        for node in 0..self.nodes.len() {
            let way: BTreeSet<usize> = self.way(ways, node).into_iter().map(|(pair, _)| pair).collect();
            let through = ways.rings.iter().filter(|ring| ring.pairs.iter().any(|pair| way.contains(pair)));
            ways.open[node] = through.map(|ring| ring.apart).sum();
        }
    }

    pub fn correction(&self, gauge: GaugeId, day: Date) -> Option<Correction> {
        let node = self.nodes.binary_search(&HeldAgainst::Gauge(gauge)).ok()?;
        let ways = self.ways(day)?;
        let root = self.root[node];
        let mut found = Correction {
            high: 0.0,
            steps: Vec::new(),
            against: self.nodes[root],
            terms: match self.nodes[root] {
                HeldAgainst::Reference => Terms::Reference,
                HeldAgainst::Gauge(_) => Terms::Net(self.number),
            },
            nearest: false,
            lines: Vec::new(),
            open: Some(ways.open[node]).filter(|open| *open > 0.0),
        };
        for (pair, sign) in self.way(ways, node) {
            let said = ways.says[pair].as_ref()?;
            found.high += sign * said.high;
            let cause = Cause { net: self.number, which: Which::Pair(pair as u32), stretch: said.stretch };
            found.steps.push(Step { cause, sign, half: said.half });
            found.nearest |= said.nearest;
            found.lines.extend(&said.lines);
        }
        if let Some(open) = found.open {
            let stretch = self.stretch(day) as u32;
            let cause = Cause { net: self.number, which: Which::Ring(node as u32), stretch };
            found.steps.push(Step { cause, sign: 1.0, half: open });
        }
        found.lines.sort_unstable();
        Some(found)
    }

    pub fn quarrels(&self) -> Vec<Quarrel> {
        let of_day = self.pairs.iter().flat_map(Pair::quarrels).map(|(lines, apart, room)| Quarrel {
            lines,
            apart,
            room,
            same_day: true,
        });
        let mut all: Vec<Quarrel> = of_day.collect();
        // Without a ring nothing can fail to close.
        let trees = self.root.iter().enumerate().filter(|(node, root)| node == *root).count();
        if self.pairs.len() + trees == self.nodes.len() {
            return all;
        }
        let mut told: BTreeSet<Vec<usize>> = BTreeSet::new();
        for day in &self.days {
            let Some(ways) = self.ways(*day) else { continue };
            for ring in &ways.rings {
                let mut pairs = ring.pairs.clone();
                pairs.sort_unstable();
                if !told.insert(pairs) {
                    continue;
                }
                let says = ring.pairs.iter().filter_map(|pair| ways.says[*pair].as_ref());
                let mut lines: Vec<EntryId> = says.flat_map(|said| said.lines.iter().copied()).collect();
                lines.sort_unstable();
                all.push(Quarrel { lines, apart: ring.apart, room: ring.room, same_day: false });
            }
        }
        all
    }
}
