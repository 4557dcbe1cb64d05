//! How each gauge of a net stood on every day that it was compared, and by which way that is known.
//!
//! The rule. A *station* is a gauge on a day that it was held against something. What that day's comparison says of it is by how much
//! the two differ, and the error of the other *on that day*: that of its own comparisons on that day, else between those before and
//! after it, else of the nearest. Every station is reached by the way that lies nearest in time (the fewest days on which a gauge is
//! taken to be what it was on another), of those by the fewest gauges that are so taken, and of those by the surest. Must not know other
//! gauges, nor rings.
#![expect(
    clippy::indexing_slicing,
    reason = "nodes, pairs and stations are numbered by the net itself, and every list of it is as long as one of these"
)]

use super::correction::{Cause, Step, Which};
use super::pair::{Pair, between};
use crate::book::entry::EntryId;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// One comparison, or what became of a gauge between two, on a way.
#[derive(Debug, Clone)]
pub(super) struct Leg {
    pub step: Step,
    /// What it adds to how much the gauge reads high.
    pub high: f64,
    /// The pairs that it rests on, by number.
    pub pairs: Vec<usize>,
    pub lines: Vec<EntryId>,
}

/// By how much a gauge reads high on a day: a way to what it is corrected against.
#[derive(Debug, Clone, Default)]
pub(super) struct Way {
    pub legs: Vec<Leg>,
    /// A gauge on it is taken to be what it was on another day, with no comparison on the other side.
    pub nearest: bool,
}

/// A gauge on a day that it was compared.
#[derive(Debug, Clone)]
struct Station {
    node: usize,
    date: Date,
    via: Option<Via>,
}

/// How a station is known.
#[derive(Debug, Clone)]
enum Via {
    /// It is what others are corrected against.
    Root,
    /// Through that day's comparison of a pair, with a station of the other gauge.
    Compared(Meeting),
    /// It is what it was at another station of the gauge, and none lies on the other side.
    Nearest(usize),
    /// It is between what it was at two other stations of the gauge.
    Between(Box<Way>),
}

/// That day's comparison of a pair, seen from one of its ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Meeting {
    pub pair: usize,
    /// The number of the pair's day.
    pub day: usize,
    /// The station of the other gauge.
    pub with: usize,
    /// Whether this end is the second of the pair.
    second: bool,
}

/// All stations of a net.
#[derive(Debug, Clone)]
pub(super) struct Ways {
    number: u32,
    stations: Vec<Station>,
    /// Of each node its stations, by day.
    of_node: Vec<Vec<usize>>,
    /// Of each station the comparisons of that day.
    meetings: Vec<Vec<Meeting>>,
    /// Of each pair's day the width that it leaves open.
    width: Vec<Vec<f64>>,
}

/// How far a way is: days on which a gauge is taken to be what it was, gauges so taken, what it leaves open (its bits: never below nothing,
/// so that they are in its order).
type Far = (i64, u32, u64);

impl Ways {
    /// From the pairs of a net; the first node is what others are corrected against.
    pub fn new(number: u32, nodes: usize, pairs: &[Pair]) -> Self {
        let mut all: BTreeSet<(usize, Date)> = BTreeSet::new();
        for pair in pairs {
            all.extend(pair.days().flat_map(|date| pair.ends.map(|node| (node, date))));
        }
        let list: Vec<(usize, Date)> = all.into_iter().collect();
        let mut of_node = vec![Vec::new(); nodes];
        for (index, (node, _)) in list.iter().enumerate() {
            of_node[*node].push(index);
        }
        let mut meetings = vec![Vec::new(); list.len()];
        let mut width = Vec::new();
        for (number, pair) in pairs.iter().enumerate() {
            for (day, date) in pair.days().enumerate() {
                let [first, second] =
                    pair.ends.map(|node| list.binary_search(&(node, date)).unwrap_or_default());
                meetings[first].push(Meeting { pair: number, day, with: second, second: false });
                meetings[second].push(Meeting { pair: number, day, with: first, second: true });
            }
            width.push((0..).map_while(|day| pair.on(day)).map(|says| says.half).collect());
        }
        let stations = list.into_iter().map(|(node, date)| Station { node, date, via: None }).collect();
        let mut ways = Self { number, stations, of_node, meetings, width };
        ways.reach(pairs);
        ways
    }

    /// Reaches every station, the nearest first (Dijkstra 1959).
    fn reach(&mut self, pairs: &[Pair]) {
        let mut open: BTreeSet<(Far, usize, usize)> = BTreeSet::new();
        // How each was come to, by the number that stands in `open`: nothing where the gauge is kept as it was, which goes on along its days.
        let mut came: Vec<Option<Via>> = Vec::new();
        let roots = self.of_node.first().cloned().unwrap_or_default();
        for station in roots {
            open.insert(((0, 0, 0), came.len(), station));
            came.push(Some(Via::Root));
        }
        while let Some((far, how, here)) = open.pop_first() {
            if self.stations[here].via.is_some() {
                continue;
            }
            let kept = came[how].is_none();
            self.stations[here].via = came[how].take().or_else(|| self.kept(pairs, here));
            let (days, gauges, wide) = far;
            for meeting in &self.meetings[here] {
                if self.stations[meeting.with].via.is_none() {
                    let wide = f64::from_bits(wide) + self.width[meeting.pair][meeting.day];
                    open.insert(((days, gauges, wide.to_bits()), came.len(), meeting.with));
                    let back = Meeting { with: here, second: !meeting.second, ..*meeting };
                    came.push(Some(Via::Compared(back)));
                }
            }
            let node = self.stations[here].node;
            let place = self.of_node[node].binary_search(&here).unwrap_or_default();
            for next in [place.checked_sub(1), Some(place + 1)].into_iter().flatten() {
                let Some(next) = self.of_node[node].get(next).copied() else { continue };
                if self.stations[next].via.is_none() {
                    let apart = days_between(self.stations[here].date, self.stations[next].date);
                    open.insert(((days + apart, gauges + u32::from(!kept), wide), came.len(), next));
                    came.push(None);
                }
            }
        }
        debug_assert!(pairs.is_empty() || self.stations.iter().all(|station| station.via.is_some()));
    }

    /// What a station is by those of its gauge that are known already.
    fn kept(&self, pairs: &[Pair], here: usize) -> Option<Via> {
        let Station { node, date, .. } = self.stations[here];
        Some(match self.beside(node, date).as_slice() {
            [] => return None,
            [one] => Via::Nearest(*one),
            both => Via::Between(Box::new(self.between(pairs, both))),
        })
    }

    /// The nearest stations before and after a day at which a gauge is known by what it was held against.
    fn beside(&self, node: usize, day: Date) -> Vec<usize> {
        let list = &self.of_node[node];
        let from = list.partition_point(|station| self.stations[*station].date < day);
        let (before, after) = list.split_at(from);
        let met =
            |station: &&usize| matches!(self.stations[**station].via, Some(Via::Compared(_) | Via::Root));
        let other = |station: &&usize| self.stations[**station].date != day;
        let before = before.iter().rev().find(met);
        let after = after.iter().filter(other).find(met);
        before.into_iter().chain(after).copied().collect()
    }

    /// The way of a gauge on any day.
    pub fn on(&self, pairs: &[Pair], node: usize, day: Date) -> Way {
        let same = |station: &&usize| self.stations[**station].date == day;
        match self.of_node.get(node).and_then(|list| list.iter().find(same)) {
            Some(station) => self.way(pairs, *station),
            None => self.between(pairs, &self.beside(node, day)),
        }
    }

    /// The way of a station.
    pub fn way(&self, pairs: &[Pair], station: usize) -> Way {
        let mut way = Way::default();
        let mut here = station;
        loop {
            match &self.stations[here].via {
                Some(Via::Compared(meeting)) => {
                    way.legs.extend(self.leg(pairs, meeting));
                    here = meeting.with;
                }
                Some(Via::Nearest(other)) => {
                    way.nearest = true;
                    here = *other;
                }
                Some(Via::Between(rest)) => {
                    way.legs.extend(rest.legs.iter().cloned());
                    way.nearest |= rest.nearest;
                    return way;
                }
                Some(Via::Root) | None => return way,
            }
        }
    }

    /// What a comparison says on a way from one of its ends.
    pub fn leg(&self, pairs: &[Pair], meeting: &Meeting) -> Option<Leg> {
        let says = pairs.get(meeting.pair)?.on(meeting.day)?;
        let which = Which::Pair(meeting.pair as u32);
        let cause = Cause { net: self.number, which, stretch: meeting.day as u32 };
        let sign = if meeting.second { 1.0 } else { -1.0 };
        Some(Leg {
            step: Step { cause, sign, half: says.half },
            high: sign * says.high,
            pairs: vec![meeting.pair],
            lines: says.lines,
        })
    }

    /// What a gauge is between two of its stations: what both ways have in common, and of the rest the middle, open to both. Beside one
    /// station it is as it was there.
    fn between(&self, pairs: &[Pair], beside: &[usize]) -> Way {
        let (before, after) = match beside {
            [] => return Way::default(),
            [one] => return Way { nearest: true, ..self.way(pairs, *one) },
            [before, after, ..] => (*before, *after),
        };
        let ways = [before, after].map(|station| self.way(pairs, station));
        let mut way = Way { legs: Vec::new(), nearest: ways.iter().any(|way| way.nearest) };
        let common = |leg: &Leg, other: &Way| {
            other.legs.iter().any(|one| {
                one.step.cause == leg.step.cause && one.step.sign.to_bits() == leg.step.sign.to_bits()
            })
        };
        let [first, second] = &ways;
        let mut ends = [(0.0, 0.0); 2];
        let (mut of_pairs, mut lines) = (Vec::new(), Vec::new());
        for (end, (own, other)) in ends.iter_mut().zip([(first, second), (second, first)]) {
            for leg in &own.legs {
                if !common(leg, other) {
                    *end = (end.0 + leg.high, end.1 + leg.step.half);
                    of_pairs.extend(&leg.pairs);
                    lines.extend(&leg.lines);
                } else if std::ptr::eq(own, first) {
                    way.legs.push(leg.clone());
                }
            }
        }
        if lines.is_empty() {
            return way;
        }
        let low = ends.iter().map(|(high, half)| high - half).fold(f64::INFINITY, f64::min);
        let most = ends.iter().map(|(high, half)| high + half).fold(f64::NEG_INFINITY, f64::max);
        let (high, half) = between(low, most);
        let cause = Cause { net: self.number, which: Which::Between(before as u32), stretch: after as u32 };
        lines.sort_unstable();
        lines.dedup();
        way.legs.push(Leg { step: Step { cause, sign: 1.0, half }, high, pairs: of_pairs, lines });
        way
    }

    /// Comparisons by which no station is known: each with the stations of its first end and its second.
    pub fn spare(&self) -> impl Iterator<Item = ([usize; 2], Meeting)> + '_ {
        let goes = |from: usize, to: usize| match &self.stations[from].via {
            Some(Via::Compared(meeting)) if meeting.with == to => Some(*meeting),
            _ => None,
        };
        self.meetings.iter().enumerate().flat_map(move |(here, list)| {
            let first = list.iter().filter(|meeting| !meeting.second);
            first.filter_map(move |meeting| {
                let used = [goes(here, meeting.with), goes(meeting.with, here)];
                let used = used.into_iter().flatten().any(|one| one.pair == meeting.pair);
                (!used).then_some(([here, meeting.with], Meeting { with: here, second: true, ..*meeting }))
            })
        })
    }

    /// Stations that are known through another gauge which is only taken to be what it was on another day, each with what its own gauge
    /// would be by its other comparisons.
    pub fn guessed<'a>(&'a self, pairs: &'a [Pair]) -> impl Iterator<Item = (Way, Way)> + 'a {
        self.stations.iter().enumerate().filter_map(|(index, station)| {
            let Some(Via::Compared(_)) = station.via else { return None };
            let way = self.way(pairs, index);
            let beside = self.beside(station.node, station.date);
            (way.nearest && !beside.is_empty()).then(|| (way, self.between(pairs, &beside)))
        })
    }
}

fn days_between(a: Date, b: Date) -> i64 {
    a.until(b).map_or(0, |span| i64::from(span.get_days())).abs()
}

impl Way {
    /// How much too high the gauge reads.
    pub fn high(&self) -> f64 {
        self.legs.iter().map(|leg| leg.high).sum()
    }
}
