//! One difference between two moments: then, now, how much, when, why, and what the driver said after.
//!
//! Must not know which differences a page shows.

use super::value::{self, ShownValue, ValueOrigin};
use crate::book::entry::{Entry, EntryId, Flags, Verb};
use crate::book::model::CarId;
use crate::history::diff::{Fate, SlotDiff};
use crate::history::likeness;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::slots::{Register, SlotEvent};
use crate::report::sources;
use crate::report::teller::Teller;
use crate::source::FileId;
use crate::units::DimensionId;
use serde::Serialize;

/// A difference.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownChange {
    /// The quantity.
    pub name: String,
    /// Its places, joined where they changed alike.
    pub places: String,
    /// Then.
    pub then: ShownValue,
    /// Now.
    pub now: ShownValue,
    /// Now less then, with its sign and its unit; worked out. Empty where there is no such number.
    pub change: String,
    /// The steps on the way there, "1 → 3 → 1 → 3".
    pub way: String,
    /// How many times it left its first value and came back.
    pub returns: u32,
    /// When it was last changed.
    pub when: String,
    /// Why.
    pub because: String,
    /// What was said after it.
    pub said: Option<DriverWords>,
    /// The lines of then, now and the steps.
    pub src: String,
}

/// The driver's words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DriverWords {
    /// In quotes, or empty.
    pub quote: String,
    /// "entry push, exit neutral".
    pub graded: String,
    /// Who.
    pub who: String,
    /// After which session.
    pub session: String,
    /// Its line.
    pub src: String,
}

/// Makes a difference. `entry` is the line that made it, where that is not a line about the slot itself.
pub(super) fn change(
    tell: &Teller<'_>,
    car: CarId,
    slot: &SlotDiff<'_>,
    entry: Option<EntryId>,
    until: Rank,
) -> ShownChange {
    let cx = &tell.cx;
    let then_track = slot.then_track.unwrap_or(slot.track);
    let relative = slot.then.is_none() && from_zero(tell, slot);
    let now = slot.now.map_or_else(ShownValue::missing, |event| value::value(tell, slot.track, &event));
    let then = match slot.then {
        Some(event) => value::value(tell, then_track, &event),
        // Counted from where it stood when the book began: that is its zero, not a missing value.
        None if relative => {
            ShownValue { text: "0".to_owned(), unit: now.unit.clone(), how: ValueOrigin::Derived }
        }
        None => ShownValue::missing(),
    };
    let last = entry.or_else(|| slot.steps.last().and_then(|event| event.entry));
    let shown = last.or_else(|| slot.now.and_then(|event| event.entry));
    let mut spans = Vec::new();
    spans.extend(slot.then.map(|event| value::span(tell, then_track, &event)));
    spans.extend(slot.now.map(|event| value::span(tell, slot.track, &event)));
    spans.extend(slot.steps.iter().map(|event| value::span(tell, slot.track, event)));
    spans.extend(entry.and_then(|entry| tell.entry(entry)).map(Entry::span));
    let mut way = Vec::new();
    if slot.steps.len() > 1 || slot.returns > 0 {
        way.push(then.text.clone());
        way.extend(slot.steps.iter().map(|event| value::value(tell, slot.track, event).text));
    }
    ShownChange {
        name: cx.quantity(slot.quantity).name.replace('-', " "),
        places: cx.place(slot.place),
        change: difference(tell, slot),
        then,
        now,
        way: way.join(" → "),
        returns: slot.returns,
        when: shown.map_or_else(String::new, |entry| tell.moment(entry)),
        because: last
            .and_then(|entry| tell.entry(entry))
            .and_then(|entry| tell.because(entry))
            .unwrap_or_default()
            .to_owned(),
        said: last
            .and_then(|entry| at_a_stop(tell, entry).or_else(|| said(tell, car, cx.rank(entry), until))),
        src: sources::lines(tell.cx.files, spans),
    }
}

/// Whether the quantity counts from where it stood when the book began, and nothing had moved it then.
pub(super) fn from_zero(tell: &Teller<'_>, slot: &SlotDiff<'_>) -> bool {
    slot.from_nought(tell.cx.book).is_some() && slot.now.is_some()
}

/// Whether nobody can say if it was set otherwise: of one moment it is not known, or somebody set it for the first time since.
pub(super) fn is_unclear(tell: &Teller<'_>, slot: &SlotDiff<'_>) -> bool {
    let set = || {
        let asked = |event: &SlotEvent| event.register() == Register::Asked && event.entry.is_some();
        slot.steps.iter().any(asked) || slot.now.as_ref().is_some_and(asked)
    };
    match slot.fate {
        Fate::Unknown => true,
        Fate::FirstStated => !from_zero(tell, slot) && set(),
        Fate::Changed | Fate::PutBack | Fate::SameByGauges | Fate::ReadsOtherwise | Fate::ReadAgain => false,
    }
}

/// Whether somebody set it to something else, or nobody can say.
pub(super) fn is_set_otherwise(tell: &Teller<'_>, slot: &SlotDiff<'_>) -> bool {
    matches!(slot.fate, Fate::Changed | Fate::Unknown) || from_zero(tell, slot)
}

/// The line that put the part there whose own value this is, where another part was there then.
pub(super) fn swapped(tell: &Teller<'_>, slot: &SlotDiff<'_>, now: Rank) -> Option<EntryId> {
    let part = slot.part?;
    if slot.then_track.is_some_and(|then| then.owner == slot.track.owner) {
        return None;
    }
    tell.cx.history.parts.get(part).at(now).map(|stay| stay.entry)
}

/// Now less then in the unit typed last, with a sign; for toe, which way.
fn difference(tell: &Teller<'_>, slot: &SlotDiff<'_>) -> String {
    let cx = &tell.cx;
    let Some(now) = slot.now else { return String::new() };
    let Some(then) = slot.then else {
        let whole = value::value(tell, slot.track, &now).full();
        let sign = if whole.starts_with('-') { "" } else { "+" };
        return if from_zero(tell, slot) { format!("{sign}{whole}") } else { String::new() };
    };
    let then_track = slot.then_track.unwrap_or(slot.track);
    let (Some(old), Some(new)) =
        (cx.history.item(cx.book, then_track, &then), cx.history.item(cx.book, slot.track, &now))
    else {
        return String::new();
    };
    let plain = |item: &crate::book::entry::Item, track: &crate::history::slots::Track| {
        item.has_value()
            && !item.is(Flags::TEXT | Flags::OFF | Flags::PART)
            && cx.quantity(track.quantity).form == crate::vocabulary::Form::One
    };
    if !plain(old, then_track) || !plain(new, slot.track) {
        return String::new();
    }
    // In the unit typed last; where both are typed in it, as finely as the finer needs.
    let mut like = *new;
    let mut most = new.decimals;
    if old.unit == new.unit {
        like.decimals = old.decimals.min(new.decimals);
        most = old.decimals.max(new.decimals);
    }
    moved(
        tell,
        slot.quantity,
        likeness::difference(cx.facts, (&now, slot.track), (&then, then_track)),
        (value::span(tell, slot.track, &now).file, &like),
        most,
    )
}

/// A difference (SI) in the unit of a line's item, with its sign; for toe, which way.
pub(in crate::report) fn moved(
    tell: &Teller<'_>,
    quantity: crate::vocabulary::QuantityId,
    by: f64,
    (file, like): (FileId, &crate::book::entry::Item),
    most: u8,
) -> String {
    let text = value::difference(tell, by, file, like, most);
    if tell.cx.quantity(quantity).dimension == DimensionId::TOE && by != 0.0 {
        let size = text.trim_start_matches('-');
        return format!("{size} {}", if by < 0.0 { "further out" } else { "further in" });
    }
    if text.starts_with('-') || by == 0.0 { text } else { format!("+{text}") }
}

/// What was said first after a rank, at the end of the first session after it that has any words, before `until`.
pub(super) fn said(tell: &Teller<'_>, car: CarId, rank: Rank, until: Rank) -> Option<DriverWords> {
    let cx = &tell.cx;
    let sessions = cx.history.sessions.between(car, rank, until);
    words_of(tell, cx.history.sessions.get(*sessions.first()?))
}

/// What was said of the session at whose stop a line was done: it ran on with it.
fn at_a_stop(tell: &Teller<'_>, line: EntryId) -> Option<DriverWords> {
    let stop = tell.entry(tell.entry(line)?.parent)?;
    words_of(tell, tell.session(stop.parent.filter(|_| stop.verb == Verb::Stop)?)?)
}

/// The first words of a session.
fn words_of(tell: &Teller<'_>, session: &Session) -> Option<DriverWords> {
    let cx = &tell.cx;
    let (index, entry) =
        cx.book.under(session.entry).find(|(_, entry)| entry.verb == Verb::Say && !entry.broken)?;
    Some(DriverWords {
        quote: super::entry::quotes(tell, entry),
        graded: super::entry::middle(tell, entry, true),
        who: match tell.drivers(session).as_slice() {
            [driver] => (*driver).to_owned(),
            _ => "the driver".to_owned(),
        },
        session: super::bests::session_name(tell, session),
        src: tell.src_of(index),
    })
}

/// Joins neighbours that differ only in their place: "LF RF".
pub(super) fn join(changes: Vec<ShownChange>) -> Vec<ShownChange> {
    let mut joined: Vec<ShownChange> = Vec::new();
    for one in changes {
        let alike = |last: &ShownChange| {
            last.name == one.name
                && last.then == one.then
                && last.now == one.now
                && last.src == one.src
                && last.way == one.way
                && last.when == one.when
        };
        match joined.last_mut().filter(|last| alike(last) && one.then.how != ValueOrigin::Missing) {
            Some(last) => {
                last.places.push(' ');
                last.places.push_str(&one.places);
            }
            None => joined.push(one),
        }
    }
    joined
}
