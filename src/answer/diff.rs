//! How a car's setup differs between two moments, as plain data.
//!
//! Must not know rendering.

use super::value::{self, TypedValue};
use super::{LedgerLine, NamedCar, When, area, entry_date, entry_line, place};
use crate::Compiled;
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::history::Moment;
use crate::history::diff::{self, Fate, SlotDiff};
use crate::history::likeness;
use crate::history::slots::{Owner, SlotEvent, Track};
use serde::Serialize;

/// A whole difference.
#[derive(Debug, Clone, Serialize)]
pub struct DiffView {
    /// The car.
    pub car: NamedCar,
    /// The first moment.
    pub then: When,
    /// The second.
    pub now: When,
    /// Slots that differ, or were put back or read again, in order of area, quantity, place.
    pub slots: Vec<SlotView>,
    /// Places whose part differs.
    pub parts: Vec<PartChange>,
}

/// How much a number changed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NumberChange {
    /// Signed, in the unit of the second value.
    pub text: String,
    /// Second minus first, SI.
    pub value_si: f64,
}

/// One slot.
#[derive(Debug, Clone, Serialize)]
pub struct SlotView {
    /// The quantity.
    pub quantity: String,
    /// The place; null for the car as a whole.
    pub place: Option<String>,
    /// Where reports list it.
    pub area: String,
    /// The part it travels with at the second moment.
    pub part: Option<String>,
    /// What became of it.
    pub fate: Fate,
    /// The value then.
    pub then: Option<TypedValue>,
    /// The value now.
    pub now: Option<TypedValue>,
    /// How much it changed, where both are numbers and differ.
    pub change: Option<NumberChange>,
    /// The settings in between that differ from the one before, in order.
    pub steps: Vec<TypedValue>,
    /// How many times it left its first value and came back.
    pub returns: u32,
    /// The place, for columns.
    #[serde(skip)]
    pub at: Place,
}

/// One place whose part differs.
#[derive(Debug, Clone, Serialize)]
pub struct PartChange {
    /// The kind of part.
    pub kind: String,
    /// The place; null for the car as a whole.
    pub place: Option<String>,
    /// Who was there.
    pub then: Option<String>,
    /// Who is there.
    pub now: Option<String>,
    /// The line that put the present one there, or took the former off.
    pub line: Option<LedgerLine>,
    /// The day of that line.
    pub date: Option<String>,
    /// The words after `because`.
    pub because: Option<String>,
}

/// Builds the view. `typed` are the moments as asked for.
#[must_use]
pub fn build(compiled: &Compiled, id: CarId, moments: [&Moment; 2], typed: [&str; 2]) -> DiffView {
    let [then, now] = moments;
    let found = diff::diff(compiled.facts(), id, then.rank, now.rank);
    DiffView {
        car: super::car(compiled, id),
        then: super::when(compiled, then, Some(typed[0])),
        now: super::when(compiled, now, Some(typed[1])),
        slots: found.slots.iter().map(|one| slot(compiled, one)).collect(),
        parts: found.parts.iter().map(|one| part(compiled, one)).collect(),
    }
}

fn slot(compiled: &Compiled, one: &SlotDiff<'_>) -> SlotView {
    let then_track = one.then_track.unwrap_or(one.track);
    let value = |track: &Track, event: Option<SlotEvent>| {
        event.and_then(|event| value::of_event(compiled, track, &event))
    };
    let changed = matches!(one.fate, Fate::Changed | Fate::ReadsOtherwise);
    SlotView {
        quantity: compiled.book.vocabulary.get(one.quantity).name.to_string(),
        place: place(compiled, one.place),
        area: area(compiled, one.quantity),
        part: one.part.map(|part| name(compiled, part)),
        fate: one.fate,
        then: value(then_track, one.then),
        now: value(one.track, one.now),
        change: if changed { change(compiled, one, then_track) } else { None },
        steps: one.steps.iter().filter_map(|event| value::of_event(compiled, one.track, event)).collect(),
        returns: one.returns,
        at: one.place,
    }
}

fn change(compiled: &Compiled, one: &SlotDiff<'_>, then_track: &Track) -> Option<NumberChange> {
    let (then, now) = (one.then?, one.now?);
    let before = compiled.history.item(&compiled.book, then_track, &then)?;
    let item = compiled.history.item(&compiled.book, one.track, &now)?;
    // So many clicks of one damper and so many of another are no change of so many.
    let other = then_track.owner != one.track.owner && matches!(one.track.owner, Owner::Part(_));
    if other || !before.has_value() || !item.has_value() || then_track.from_hard != one.track.from_hard {
        return None;
    }
    let of = |track: &Track, event: &SlotEvent| value::of_event(compiled, track, event)?.value_si;
    let plain = of(one.track, &now)? - of(then_track, &then)?;
    // By two gauges that were held against one another it is how much the thing itself moved, not the digits.
    let (more, _) = likeness::gauges_between(compiled.facts(), (&now, one.track), (&then, then_track));
    let si = plain - more;
    if compiled.book.vocabulary.get(one.quantity).form != crate::vocabulary::Form::One {
        // Teeth typed as `41/11` change by their ratio, which has no typed unit or precision of its own.
        let text = if si > 0.0 { format!("+{si:.3}") } else { format!("{si:.3}") };
        return Some(NumberChange { text, value_si: si });
    }
    let file = compiled.history.file_of(&compiled.book, one.track, &now)?;
    // As many places as the two values are shown with.
    let shown = |track: &Track, event: &SlotEvent| {
        let text = value::of_event(compiled, track, event)?;
        let places = text.digits().rsplit_once('.').map(|(_, places)| places.to_owned())?;
        Some(places.bytes().take_while(u8::is_ascii_digit).count().min(6) as u8)
    };
    let places = [shown(then_track, &then), shown(one.track, &now)].into_iter().flatten().max();
    let typed = before.decimals.max(item.decimals);
    let finest = crate::book::entry::Item { decimals: typed.max(places.unwrap_or(0)), ..*item };
    let text = compiled.context().difference_in(si, file, &finest).replace(" %", "%");
    let mut text = if si > 0.0 && !text.starts_with('+') { format!("+{text}") } else { text };
    if more != 0.0 {
        text += ", by gauges that read otherwise: put right";
    }
    Some(NumberChange { text, value_si: si })
}

fn part(compiled: &Compiled, one: &diff::PartDiff) -> PartChange {
    let because = one
        .entry
        .and_then(|entry| compiled.book.entries.get(entry))
        .and_then(|entry| compiled.book.extra(entry))
        .and_then(|extra| extra.because);
    PartChange {
        kind: compiled.book.kinds[one.kind].named.typed.to_string(),
        place: place(compiled, one.place),
        then: one.then.map(|part| name(compiled, part)),
        now: one.now.map(|part| name(compiled, part)),
        line: one.entry.and_then(|entry| entry_line(compiled, entry)),
        date: one.entry.and_then(|entry| entry_date(compiled, entry)),
        because: because.map(|span| compiled.files.text(span).to_owned()),
    }
}

fn name(compiled: &Compiled, part: PartId) -> String {
    compiled.context().part(part).to_owned()
}
