//! One value where it stands on the car.
//!
//! Must not know corners or axles.

use crate::book::entry::{By, Entry};
use crate::figures::calc::Fig;
use crate::figures::trace::trace;
use crate::history::slots::SlotEvent;
use crate::history::state::SlotState;
use crate::report::section::figures::event;
use crate::report::section::plan::making::Making;
use crate::report::section::setup::{self, Tag};
use crate::report::section::value::{self, ShownValue, ValueOrigin};
use crate::report::sources;
use crate::report::words;
use crate::source::Span;
use crate::units::DimensionId;
use serde::Serialize;

/// A value where it stands on the car.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Spot {
    /// The value.
    pub value: ShownValue,
    /// Whether its unit must be shown with it, since its row's is another or none.
    pub own_unit: bool,
    /// What else belongs to it, in a word or two: the part, the gauge.
    pub more: String,
    /// The expression it comes from; empty of what was set or read.
    pub formula: String,
    /// Numbers of the notes about it.
    pub notes: Vec<usize>,
    /// "3 Sep"; empty for what stands on the car's own line.
    pub when: String,
    /// Its lines.
    pub src: String,
    /// The same for paper: lines of the plan's file by their number alone.
    pub at: String,
}

/// A value with its name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlanItem {
    /// Its name.
    pub name: String,
    /// Its unit; empty where the value has it.
    pub unit: String,
    /// The value.
    pub spot: Spot,
}

impl Spot {
    /// Nothing.
    pub(super) fn missing() -> Self {
        Self::plain(ShownValue::missing())
    }

    fn plain(value: ShownValue) -> Self {
        let (more, formula, when, src, at) = Default::default();
        Self { value, own_unit: false, more, formula, notes: Vec::new(), when, src, at }
    }
}

impl PlanItem {
    /// Names a value; its unit goes into the head.
    pub(super) fn new(name: &str, spot: Spot) -> Self {
        Self { name: name.replace('-', " "), unit: spot.value.unit.clone(), spot }
    }
}

impl Making<'_, '_> {
    /// A value said on these lines.
    pub(super) fn said(&self, value: ShownValue, spans: &[Span]) -> Spot {
        let home = self.tell.home(self.when.car);
        Spot {
            src: sources::lines(self.tell.cx.files, spans.iter().copied()),
            at: sources::lines_of(self.tell.cx.files, home, spans.iter().copied()),
            ..Spot::plain(value)
        }
    }

    /// What a slot holds.
    pub(super) fn held(&mut self, slot: &SlotState<'_>) -> Spot {
        let Some(event) = slot.held.is(self.tell.cx.history) else {
            let line = slot.held.unknown.and_then(|unknown| self.tell.entry(unknown.entry)).map(Entry::span);
            let mut spot = self.said(ShownValue::missing(), line.as_slice());
            spot.notes = vec![self.note(value::unknown_words(self.tell, slot.held.unknown))];
            return spot;
        };
        self.event(slot, &event)
    }

    /// A value of a slot.
    pub(super) fn event(&mut self, slot: &SlotState<'_>, event: &SlotEvent) -> Spot {
        let (tell, cx) = (self.tell, &self.tell.cx);
        let value = value::value(tell, slot.track, event);
        let span = value::span(tell, slot.track, event);
        let read = value.how == ValueOrigin::Read;
        let mut spot = self.said(value, &[span]);
        spot.when = cx.date(event.entry).map_or_else(String::new, words::short);
        if let Some(part) = slot.part {
            cx.part(part).clone_into(&mut spot.more);
        }
        // The same tyre shows another pressure on another gauge.
        if cx.quantity(slot.quantity).dimension == DimensionId::PRESSURE
            && let Some(By::Gauge(gauge)) = tell.entry(event.entry).map(|entry| entry.by)
        {
            let gauge = cx.book.gauges.get(gauge);
            spot.more = gauge.map_or_else(String::new, |gauge| gauge.named.typed.to_string());
        }
        let mut words: Vec<String> = setup::corrected_words(tell, event).into_iter().collect();
        if read {
            words.extend(setup::stale_words(tell, slot));
            words.extend(setup::set_words(tell, slot, event));
        }
        spot.notes = words.into_iter().map(|words| self.note(words)).collect();
        spot
    }

    /// What a tag says.
    pub(super) fn tag(&self, tag: &Tag) -> Spot {
        let mut spot = self.said(tag.value.clone(), &[tag.at]);
        spot.more = format!("tag of {}", self.tell.cx.part(tag.part));
        spot
    }

    /// A figure.
    pub(super) fn figure(&mut self, fig: &Fig) -> Spot {
        let step = trace(&self.calc, fig, self.imperial);
        let spans: Vec<Span> = fig.typed().collect();
        let mut spot = self.said(event::value(&step), &spans);
        spot.formula = step.formula.map_or_else(String::new, |formula| formula.expression);
        if let Some(day) = self.calc.rests_on_later_bench(fig) {
            spot.notes = vec![self.note(crate::words::stale::benched_later(&words::short(day)))];
        }
        if let Some(stale) = &step.stale {
            let line = words::place(&stale.path, stale.line);
            // A corner under it may have said so already, and better.
            let known = self.notes.iter().find(|note| note.ends_with(&format!("({line})"))).cloned();
            let words = known.unwrap_or_else(|| crate::words::stale::since(&line));
            spot.notes = vec![self.note(words)];
        }
        spot
    }
}
