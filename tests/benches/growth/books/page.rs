//! The page that recipes write on: declarations, and dated blocks that are put in order at the end.
//!
//! Must not know any recipe.

use super::base::Side;
use jiff::ToSpan;
use jiff::civil::{Date, date};
use std::fmt::Write as _;

/// Days over which a book's lines are spread, from 2000 on.
const DAYS: usize = 7000;
/// Lines under one dated head.
const LINES: usize = 8;

/// What is being written.
pub struct Page {
    count: usize,
    side: Option<Side>,
    beside: usize,
    declared: String,
    once: Vec<&'static str>,
    blocks: Vec<(usize, String)>,
    group: Option<usize>,
    made: usize,
}

/// A day of the book's first or second life: what is past starts in 2000, what is to come in 2040.
fn day(from: Date, slot: usize) -> Date {
    from.checked_add((slot as i64).days()).expect("a day")
}

impl Page {
    pub fn new(count: usize, side: Option<Side>, beside: usize) -> Self {
        Self {
            count,
            side,
            beside,
            declared: String::new(),
            once: Vec::new(),
            blocks: Vec::new(),
            group: None,
            made: 0,
        }
    }

    /// How many of the construct the book is to have.
    pub fn count(&self) -> usize {
        self.count
    }

    /// How many there are of what stands beside it, at least `least`.
    pub fn many(&self, side: Side, least: usize) -> usize {
        if self.side == Some(side) { self.beside.max(least) } else { least }
    }

    /// The whole book.
    pub fn text(mut self) -> String {
        self.blocks.sort_by_key(|(slot, _)| *slot);
        let mut text = self.declared;
        for (_, block) in &self.blocks {
            text.push('\n');
            text.push_str(block);
        }
        text
    }

    /// A line at the margin, with its indented lines if it has any.
    pub fn declare(&mut self, text: &str) {
        self.declared.push_str(text);
        self.declared.push('\n');
    }

    /// The same, the first time it is asked for.
    pub fn once(&mut self, text: &'static str) {
        if !self.once.contains(&text) {
            self.once.push(text);
            self.declare(text);
        }
    }

    /// Opens a dated block at its share of the years.
    pub fn block(&mut self, slot: usize, words: &str) {
        self.group = None;
        let day = day(date(2000, 1, 1), slot);
        self.blocks.push((slot, format!("{day} {words}\n")));
    }

    /// A line of the block that is open.
    pub fn add(&mut self, line: &str) {
        if let Some((_, block)) = self.blocks.last_mut() {
            let _ = writeln!(block, "  {line}");
        }
    }

    /// The `at`-th line of `of`: on one of the cars, eight under a head, the heads spread over the years and the past
    /// events.
    pub fn line_of(&mut self, at: usize, of: usize, line: &str) {
        let group = at / LINES;
        if self.group != Some(group) {
            let heads = of.div_ceil(LINES);
            let (slot, event) = self.when(group, heads);
            let car = self.car(group);
            self.block(slot, &format!("{car}{event}"));
            self.group = Some(group);
        }
        self.add(line);
    }

    /// The `at`-th line of the construct.
    pub fn line(&mut self, at: usize, line: &str) {
        self.line_of(at, self.count, line);
    }

    /// The same of shop work.
    pub fn shop(&mut self, at: usize, line: &str) {
        let group = at / LINES;
        if self.group != Some(group) {
            let (slot, _) = self.when(group, self.count.div_ceil(LINES));
            self.block(slot, "");
            self.group = Some(group);
        }
        self.add(line);
    }

    /// Where the `at`-th of `of` heads stands, and ` at EVENT` if it is at one.
    pub fn when(&self, at: usize, of: usize) -> (usize, String) {
        let slot = 1 + at * (DAYS - 1) / of.max(1);
        if self.side != Some(Side::Events) {
            return (slot, String::new());
        }
        let past = self.beside.div_ceil(2).max(1);
        let event = 2 * (at * past / of.max(1)).min(past - 1);
        (self.event_slot(event), format!(" at event-{event}"))
    }

    fn event_slot(&self, event: usize) -> usize {
        1 + event * (DAYS - 1) / self.many(Side::Events, 1)
    }

    /// The day of the `at`-th event: every other one is past, the rest are to come.
    pub fn event_day(&self, at: usize) -> Date {
        let from = if at.is_multiple_of(2) { date(2000, 1, 1) } else { date(2040, 1, 1) };
        day(from, self.event_slot(at))
    }

    /// The day of the `at`-th of the construct, in the past.
    pub fn past(&self, at: usize) -> Date {
        day(date(2000, 1, 1), self.when(at, self.count).0)
    }

    /// A day of its own of the `at`-th of up to `DAYS`, in the past: whatever stands beside it.
    pub fn own_day(&self, at: usize) -> Date {
        day(date(2000, 1, 1), at * DAYS / self.count.max(1))
    }

    /// The same, to come.
    pub fn coming(&self, at: usize) -> Date {
        day(date(2041, 1, 1), at * DAYS / self.count.max(1))
    }

    pub fn car(&self, at: usize) -> String {
        format!("car-{}", at % self.many(Side::Cars, 2))
    }

    pub fn gauge(&self, at: usize) -> String {
        format!("gauge-{}", at % self.many(Side::Gauges, 1))
    }

    pub fn job(&self, at: usize) -> String {
        format!("job-{}", at % self.many(Side::Jobs, 1))
    }

    /// A past event.
    pub fn event(&self, at: usize) -> String {
        format!("event-{}", 2 * (at % self.many(Side::Events, 1).div_ceil(2)))
    }

    /// A part of the page's own kind, declared when it is first asked for; ask in order.
    pub fn part(&mut self, at: usize) -> String {
        self.once("kind thing \"a thing\"  fits LF RF LR RR");
        self.part_of(at, "thing", "  opening new")
    }

    /// The same of another kind, with more properties.
    pub fn part_of(&mut self, at: usize, kind: &str, more: &str) -> String {
        let name = format!("x-{at}");
        if at >= self.made {
            self.made = at + 1;
            self.declare(&format!("part {name} {kind}{more}"));
        }
        name
    }

    /// Puts a part on a car and takes it off again, on one car's lines.
    pub fn stay(&mut self, at: usize, part: &str) {
        self.line(at, &format!("fit {part} LF"));
        self.line(at, &format!("remove {part}"));
    }
}
