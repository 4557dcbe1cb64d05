//! Two gauges that were held against one another, or one and the reference, on each day that they were.
//!
//! Must not know other pairs.

use crate::book::entry::{EntryId, HeldAgainst};
use jiff::civil::Date;

/// One line: by how much the first reads higher than the second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Held {
    pub pair: [HeldAgainst; 2],
    pub day: Date,
    /// SI.
    pub high: f64,
    /// By how much it may be off, either way.
    pub half: f64,
    pub entry: EntryId,
}

/// What all lines of a day say.
#[derive(Debug, Clone)]
struct Day {
    date: Date,
    low: f64,
    high: f64,
    /// The lines that say least and most: what they say, how far that may be off, the line.
    ends: [(f64, f64, EntryId); 2],
}

/// A pair over time.
#[derive(Debug, Clone)]
pub(super) struct Pair {
    /// Its ends: numbers of the net's nodes, the lower first. It says by how much the second reads higher.
    pub ends: [usize; 2],
    days: Vec<Day>,
}

/// What a pair says on a day that it was compared on.
#[derive(Debug, Clone)]
pub(super) struct Says {
    /// By how much the second end reads higher.
    pub high: f64,
    /// How far that may be off.
    pub half: f64,
    /// The lines that decide, in the order of the book's text.
    pub lines: Vec<EntryId>,
}

impl Pair {
    /// From its lines, each with the first end's reading less the second's taken away already.
    pub fn new(ends: [usize; 2], mut lines: Vec<(Date, f64, f64, EntryId)>) -> Self {
        lines.sort_by_key(|line| (line.0, line.3));
        let mut days: Vec<Day> = Vec::new();
        for (day, high, half, entry) in lines {
            let one = (high, half, entry);
            match days.last_mut().filter(|last| last.date == day) {
                Some(last) => {
                    let [least, most] = &mut last.ends;
                    if high < least.0 {
                        *least = one;
                    }
                    if high > most.0 {
                        *most = one;
                    }
                    last.low = last.low.min(high - half);
                    last.high = last.high.max(high + half);
                }
                None => days.push(Day { date: day, low: high - half, high: high + half, ends: [one; 2] }),
            }
        }
        Self { ends, days }
    }

    /// The days it was compared on, in order.
    pub fn days(&self) -> impl Iterator<Item = Date> + '_ {
        self.days.iter().map(|day| day.date)
    }

    /// What the comparisons of one of its days say, by number.
    pub fn on(&self, day: usize) -> Option<Says> {
        let day = self.days.get(day)?;
        let (high, half) = between(day.low, day.high);
        Some(Says { high, half, lines: day.lines() })
    }

    /// Lines of one day that differ by more than they leave open: by how much, and how much that is.
    pub fn quarrels(&self) -> impl Iterator<Item = (Vec<EntryId>, f64, f64)> + '_ {
        self.days.iter().filter_map(|day| {
            let [least, most] = day.ends;
            let (apart, room) = (most.0 - least.0, most.1 + least.1);
            (apart > room * (1.0 + 1e-6) + 1e-12).then(|| (day.lines(), apart, room))
        })
    }
}

impl Day {
    /// The lines that decide, in the order of the book's text.
    fn lines(&self) -> Vec<EntryId> {
        let mut lines = self.ends.map(|(_, _, entry)| entry).to_vec();
        lines.sort_unstable();
        lines.dedup();
        lines
    }
}

/// The middle, open to both ends.
pub(super) fn between(low: f64, high: f64) -> (f64, f64) {
    (f64::midpoint(low, high), (high - low) / 2.0)
}
