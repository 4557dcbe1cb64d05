//! What was read of one quantity of a car's cylinders, line by line, and the line through what was taken alike.
//!
//! Must not know words.

use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::due::ends::{self, Trend};
use crate::due::trend::{READ, ReadOverHours};
use crate::figures::{Calc, Taken, apart, taken};
use crate::history::Moment;
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register, SlotEvent, Track};
use crate::report::teller::Teller;
use std::collections::BTreeMap;

/// What is shown, in order, and what it is called.
pub(super) const KEPT: [(&str, &str); 4] = [
    ("leakdown", "leak-down"),
    ("compression", "compression"),
    ("lash-inlet", "inlet lash"),
    ("lash-exhaust", "exhaust lash"),
];

/// A reading of one cylinder.
#[derive(Debug, Clone, Copy)]
pub(super) struct CellRead<'a> {
    /// Its value as typed.
    pub event: SlotEvent,
    /// Where that is kept.
    pub track: &'a Track,
    /// How it was taken.
    pub taken: Taken,
    /// What it tells, SI: of leak-down the share lost. `None` where that cannot be worked out.
    pub si: Option<f64>,
}

/// A line.
#[derive(Debug, Clone)]
pub(super) struct LineRead<'a> {
    /// The line.
    pub entry: EntryId,
    /// Its rank.
    pub rank: Rank,
    /// Found, left or read.
    pub verb: Verb,
    /// One a cylinder, in order.
    pub cells: Vec<Option<CellRead<'a>>>,
    /// Parts that may be the engine, or of it, fitted or rebuilt between the line before and this one.
    pub renewed: Vec<PartId>,
}

impl LineRead<'_> {
    /// The cylinders that leak far more than the others, each with what it loses and the middle of the others; `None` where too few were read.
    pub fn far(&self) -> Option<Vec<(usize, f64, f64)>> {
        let told: Vec<(usize, f64)> =
            self.cells.iter().enumerate().filter_map(|(index, cell)| Some((index, (*cell)?.si?))).collect();
        let losses: Vec<f64> = told.iter().map(|(_, si)| *si).collect();
        apart::can_be_held(losses.len()).then(|| {
            let far = apart::far_more(&losses).into_iter();
            far.filter_map(|(at, middle)| told.get(at).map(|(index, si)| (*index, *si, middle))).collect()
        })
    }
}

/// One quantity.
#[derive(Debug)]
pub(super) struct Series<'a> {
    /// What is read.
    pub kept: &'static ReadOverHours,
    /// What it is called.
    pub called: &'static str,
    /// The cylinders.
    pub places: Vec<Place>,
    /// Its lines, oldest first.
    pub lines: Vec<LineRead<'a>>,
    /// The line through each cylinder's readings, where any was read.
    pub trends: Vec<Trend>,
    /// Lines about it on this car that are of another engine's: they stay with that.
    pub of_others: usize,
}

impl<'a> Series<'a> {
    /// What was read of a quantity; `None` where nothing was.
    pub fn of(tell: &Teller<'a>, car: CarId, name: &str) -> Option<Self> {
        let cx = &tell.cx;
        let kept = READ.iter().find(|kept| kept.name == name)?;
        let called = KEPT.iter().find(|(known, _)| *known == name)?.1;
        let end = cx.history.order.entries.next_key();
        let quantity = cx.book.vocabulary.find(name)?;
        let places = ends::cylinders(cx.book, car);
        let mut calc = Calc::new(cx.facts, car, &Moment::of_rank(end));
        let mut lines: BTreeMap<Rank, LineRead<'a>> = BTreeMap::new();
        let mut of_part = false;
        for (index, place) in places.iter().enumerate() {
            let Some(slot) = cx.on(car, end).slot(quantity, *place) else { continue };
            of_part |= matches!(slot.track.owner, Owner::Part(_));
            for one in taken(&mut calc, name, *place) {
                let read =
                    |event: &&SlotEvent| event.register() == Register::Read && event.entry == Some(one.entry);
                let Some(event) = slot.track.events.iter().find(read).copied() else { continue };
                let Some(entry) = tell.entry(one.entry) else { continue };
                calc.rank = one.rank.next();
                let got = match kept.figure {
                    Some(figure) => calc.named(figure, *place),
                    None => calc.reading(name, *place),
                };
                calc.rank = end;
                let line = lines.entry(one.rank).or_insert_with(|| LineRead {
                    entry: one.entry,
                    rank: one.rank,
                    verb: entry.verb,
                    cells: vec![None; places.len()],
                    renewed: Vec::new(),
                });
                if let Some(cell) = line.cells.get_mut(index) {
                    *cell = Some(CellRead {
                        event,
                        track: slot.track,
                        taken: one,
                        si: got.ok().map(|fig| fig.value),
                    });
                }
            }
        }
        if lines.is_empty() {
            return None;
        }
        let mut lines: Vec<LineRead<'a>> = lines.into_values().collect();
        let renewals = ends::renewals(cx.facts, car);
        let mut before = None;
        for line in &mut lines {
            let since = |rank: Rank| before.is_some_and(|before| rank > before) && rank < line.rank;
            line.renewed = renewals.iter().filter(|(rank, _)| since(*rank)).map(|(_, part)| *part).collect();
            line.renewed.dedup();
            before = Some(line.rank);
        }
        let is_line = |entry: EntryId| {
            tell.entry(entry).is_some_and(|line| {
                line.quantity == Some(quantity)
                    && !line.void
                    && !line.broken
                    && matches!(line.verb, Verb::Found | Verb::Left | Verb::Read)
            })
        };
        let all = tell.lines_of(car).iter().filter(|(_, entry)| is_line(*entry));
        let others = all.filter(|(_, entry)| !lines.iter().any(|line| line.entry == *entry)).count();
        let trends = ends::of_engine(cx.facts, car, end, kept);
        Some(Self { kept, called, places, lines, trends, of_others: if of_part { others } else { 0 } })
    }

    /// Whether a reading tells otherwise than was typed: by the comparisons of its gauge.
    pub fn put_right(&self) -> bool {
        let off = |cell: &CellRead<'_>| {
            cell.si.is_some_and(|si| (si - cell.event.value).abs() > 1e-9 * cell.event.value.abs())
        };
        self.kept.figure.is_none() && self.lines.iter().flat_map(|line| &line.cells).flatten().any(off)
    }

    /// The last line that was no adjusting.
    pub fn newest(&self) -> Option<&LineRead<'a>> {
        self.lines.iter().rev().find(|line| line.verb != Verb::Left).or(self.lines.last())
    }

    /// The line through a cylinder's readings.
    pub fn trend(&self, index: usize) -> Option<&Trend> {
        let place = self.places.get(index)?;
        self.trends.iter().find(|trend| trend.place == *place)
    }

    /// The first line of those that a cylinder's line goes through.
    pub fn first(&self, index: usize) -> Option<&LineRead<'a>> {
        let (entry, _) = self.trend(index)?.readings.first()?;
        self.lines.iter().find(|line| line.entry == *entry)
    }
}
