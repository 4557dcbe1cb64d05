//! What is on a car at a moment, as plain data: every slot with both registers, every part with its use.
//!
//! Must not know rendering.

use super::job::{self, JobView};
use super::part::{self, PartView};
use super::value::{self, TypedValue};
use super::{LedgerLine, NamedCar, When, area, entry_date, entry_line, place};
use crate::Compiled;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::figures::Calc;
use crate::history::benched;
use crate::history::disturb::Disturbance;
use crate::history::moment::Which;
use crate::history::order::Rank;
use crate::history::slots::{Register, SlotEvent, Track};
use crate::history::state::{PlaceState, SlotState};
use crate::history::{Moment, slots::Owner};
use crate::source::Span;
use crate::vocabulary::QuantityId;
use serde::Serialize;
use std::collections::BTreeSet;

/// A car at a moment.
#[derive(Debug, Clone, Serialize)]
pub struct State {
    /// The car.
    pub car: NamedCar,
    /// The moment.
    pub at: When,
    /// Slots, in order of area, quantity, place.
    pub slots: Vec<Slot>,
    /// Places, in order of kind.
    pub parts: Vec<PartView>,
    /// Jobs still to do, in the order they were opened.
    pub jobs: Vec<JobView>,
}

/// What a slot is, by its later register.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Is {
    /// As asked.
    Asked,
    /// As read.
    Read,
    /// What the fitted part's tag says; nobody set or read it.
    Tag,
    /// An error in a line makes it unknown.
    Unknown,
    /// Two files say it on one day, and no times decide.
    Disputed,
}

/// What made a reading stale.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Stale {
    /// The line that did.
    pub because: Option<LedgerLine>,
    /// What changed: `perch RF`, or `hit RF`.
    pub changed: String,
    /// The day it did.
    pub date: Option<String>,
}

/// A slot.
#[derive(Debug, Clone, Serialize)]
pub struct Slot {
    /// The quantity.
    pub quantity: String,
    /// The place; null for the car as a whole.
    pub place: Option<String>,
    /// Where reports list it.
    pub area: String,
    /// The part it travels with, or that gives it.
    pub part: Option<String>,
    /// Which of the two it is.
    pub is: Is,
    /// What was asked last.
    pub asked: Option<TypedValue>,
    /// What was read last.
    pub read: Option<TypedValue>,
    /// What the tag of the fitted part says, where nothing was asked or read.
    pub tag: Option<TypedValue>,
    /// The reading is of the bench, and later: the part is the same from one rebuild to the next.
    pub benched_later: bool,
    /// What made the reading stale.
    pub stale: Option<Stale>,
    /// The line that made it unknown, or the later of the two that quarrel.
    pub unknown: Option<LedgerLine>,
    /// What would have to be in the book to know it, where no line of it has a mistake: what the account of fuel lacks.
    pub needs: Vec<String>,
    /// The two values that quarrel, where it is disputed.
    pub claims: Vec<TypedValue>,
    /// The place, for columns.
    #[serde(skip)]
    pub at: Place,
}

impl Slot {
    /// The value it is.
    #[must_use]
    pub fn value(&self) -> Option<&TypedValue> {
        match self.is {
            Is::Asked => self.asked.as_ref(),
            Is::Read => self.read.as_ref(),
            Is::Tag => self.tag.as_ref(),
            Is::Unknown | Is::Disputed => None,
        }
    }
}

/// Builds the view of a car before a moment.
#[must_use]
pub fn build(compiled: &Compiled, id: CarId, moment: &Moment, typed: Option<&str>) -> State {
    let book = &compiled.book;
    let asked = moment;
    let (moment, sold) = &super::of_car(compiled, id, asked);
    let mut slots: Vec<(u32, QuantityId, Slot)> = Vec::new();
    for state in compiled.facts().on(id, moment.rank).slots() {
        let area = book.vocabulary.get(state.quantity).area;
        let mut slot = slot(compiled, &state);
        if slot.is == Is::Unknown {
            slot.needs = needs(compiled, id, moment, &state);
        }
        slots.push((area, state.quantity, slot));
    }
    let mut there: BTreeSet<(QuantityId, Place)> = slots.iter().map(|(_, id, slot)| (*id, slot.at)).collect();
    for (quantity, slot) in given(compiled, id, moment) {
        if there.insert((quantity, slot.at)) {
            slots.push((book.vocabulary.get(quantity).area, quantity, slot));
        }
    }
    let mut known: BTreeSet<QuantityId> = there.iter().map(|(quantity, _)| *quantity).collect();
    for (quantity, slot) in never_known(compiled, id, moment.rank) {
        // Of a line that names no place it is told where nothing else is known of the quantity.
        let news =
            if slot.at == Place::CAR { known.insert(quantity) } else { there.insert((quantity, slot.at)) };
        if news {
            known.insert(quantity);
            slots.push((book.vocabulary.get(quantity).area, quantity, slot));
        }
    }
    slots.sort_by_key(|(area, quantity, slot)| (*area, *quantity, slot.at));
    State {
        car: super::car(compiled, id),
        at: When {
            words: sold
                .map_or_else(|| still_running(compiled, id, asked), |day| format!("as it was sold on {day}")),
            ..super::when(compiled, asked, typed)
        },
        slots: slots.into_iter().map(|(_, _, slot)| slot).collect(),
        parts: part::all(compiled, id, moment.rank),
        jobs: job::to_do(compiled, id, moment.rank),
    }
}

/// The moment in words; of the end of a day in the middle of a session, how far that session is counted. How much of it was run by then no line says.
fn still_running(compiled: &Compiled, car: CarId, moment: &Moment) -> String {
    let mut told = super::when(compiled, moment, None).words;
    let Which::Day(day) = moment.which else { return told };
    let sessions = &compiled.history.sessions;
    for (_, session) in sessions.of(car).filter(|(_, one)| one.date <= day && day < one.last) {
        let legs = |until: Rank| sessions.legs_between(car, session.rank, until).len();
        let end =
            if legs(moment.rank) < legs(session.after) { "up to the next stop of it" } else { "to its end" };
        let label = compiled.files.text(session.label);
        told += &format!("; {label} went on past midnight, and is counted {end}");
    }
    told
}

/// One slot as a view.
#[must_use]
pub fn slot(compiled: &Compiled, state: &SlotState<'_>) -> Slot {
    let held = &state.held;
    let value =
        |event: Option<SlotEvent>| event.and_then(|event| value::of_event(compiled, state.track, &event));
    let is = match (held.unknown, held.is(&compiled.history)) {
        (Some(unknown), _) if disputed(compiled, state.track, &unknown) => Is::Disputed,
        (Some(_), _) | (None, None) => Is::Unknown,
        (None, Some(event)) if event.register() == Register::Asked => Is::Asked,
        (None, Some(_)) => Is::Read,
    };
    Slot {
        quantity: compiled.book.vocabulary.get(state.quantity).name.to_string(),
        place: place(compiled, state.place),
        area: area(compiled, state.quantity),
        part: state.part.map(|part| part_name(compiled, part)),
        is,
        asked: value(held.asked),
        read: value(held.read),
        benched_later: held.later && is == Is::Read,
        tag: None,
        stale: held.stale.filter(|_| is == Is::Read).map(|change| stale(compiled, change)),
        unknown: held.unknown.and_then(|event| entry_line(compiled, event.entry)),
        needs: Vec::new(),
        claims: if is == Is::Disputed { claims(compiled, state.track, held.unknown) } else { Vec::new() },
        at: state.place,
    }
}

/// What the account of fuel lacks, where what made it unknown is no mistake.
fn needs(compiled: &Compiled, car: CarId, moment: &Moment, state: &SlotState<'_>) -> Vec<String> {
    let line = state.held.unknown.and_then(|event| compiled.book.entries.get(event.entry?));
    let fuel = &*compiled.book.vocabulary.get(state.quantity).name == "fuel";
    if !fuel || line.is_none_or(|line| line.broken) {
        return Vec::new();
    }
    let aboard = Calc::new(compiled.facts(), car, moment).named("fuel-aboard", Place::CAR);
    // Where all of it is known, what is not is how much of the session was before the line.
    let before = || {
        vec![
            "how long the session ran up to that line; `fuel-aboard` says what there is behind it".to_owned(),
        ]
    };
    aboard.err().map_or_else(before, |missing| missing.needs)
}

/// A dispute leaves the quarrelling value in the track and makes it unknown by the same line.
fn disputed(compiled: &Compiled, track: &Track, unknown: &SlotEvent) -> bool {
    let broken = unknown.line(&compiled.book).is_some_and(|entry| entry.broken);
    !broken
        && track
            .events
            .iter()
            .any(|event| event.entry == unknown.entry && event.register() != Register::Unknown)
}

/// The value that a dispute is about and the one before it.
fn claims(compiled: &Compiled, track: &Track, unknown: Option<SlotEvent>) -> Vec<TypedValue> {
    let Some(unknown) = unknown else { return Vec::new() };
    let stated = |event: &&SlotEvent| event.register() != Register::Unknown;
    let Some(at) = track.events.iter().position(|event| event.entry == unknown.entry && stated(&event))
    else {
        return Vec::new();
    };
    let (earlier, from_it) = track.events.split_at(at);
    let before = earlier.iter().rev().find(stated);
    let both = before.into_iter().chain(from_it.first());
    both.filter_map(|event| value::of_event(compiled, track, event)).collect()
}

/// What lines with an error are about: at each place that they name, or of the car where they name none, the car has it, and nobody knows
/// how much. The last such line first.
fn never_known(compiled: &Compiled, id: CarId, rank: Rank) -> Vec<(QuantityId, Slot)> {
    let (book, history) = (&compiled.book, &compiled.history);
    let before = |line: &&EntryId| history.order.rank.get(**line).is_some_and(|at| *at < rank);
    let of_car = history.slots.lost.iter().filter(|lost| lost.owner == Owner::Car(id));
    let mut all = Vec::new();
    for lost in of_car {
        for line in lost.lines.iter().rev().filter(before) {
            let named = book.entries.get(*line).map_or(&[][..], |entry| book.items_of(entry));
            let nowhere = named.is_empty().then_some(Place::CAR);
            for at in named.iter().map(|item| item.place).chain(nowhere) {
                let slot = Slot {
                    quantity: book.vocabulary.get(lost.quantity).name.to_string(),
                    place: place(compiled, at),
                    area: area(compiled, lost.quantity),
                    part: None,
                    is: Is::Unknown,
                    asked: None,
                    read: None,
                    benched_later: false,
                    tag: None,
                    stale: None,
                    unknown: entry_line(compiled, *line),
                    needs: Vec::new(),
                    claims: Vec::new(),
                    at,
                };
                all.push((lost.quantity, slot));
            }
        }
    }
    all
}

/// What a change did to a reading before it.
#[must_use]
pub fn stale(compiled: &Compiled, change: Disturbance) -> Stale {
    let book = &compiled.book;
    let kind = |entry: &crate::book::entry::Entry| book.parts.get(entry.part()?)?.kind;
    let kind = book.entries.get(change.entry).filter(|_| change.brought).and_then(kind);
    let what = match change.quantity {
        _ if let Some(kind) = kind.and_then(|kind| book.kinds.get(kind)) => {
            let place = book.place_word(change.place);
            format!("another {} {place}", kind.named.typed).trim_end().to_owned()
        }
        Some(quantity) => compiled.context().slot(quantity, change.place),
        None => format!("hit {}", compiled.book.place_word(change.place)).trim_end().to_owned(),
    };
    let date = entry_date(compiled, change.entry);
    Stale { because: entry_line(compiled, change.entry), changed: what, date }
}

fn part_name(compiled: &Compiled, part: PartId) -> String {
    compiled.context().part(part).to_owned()
}

/// What rows on the bench, or else the tags of the fitted parts, say of quantities that their kind gives or carries.
fn given(compiled: &Compiled, id: CarId, moment: &Moment) -> Vec<(QuantityId, Slot)> {
    let (book, history, rank) = (&compiled.book, &compiled.history, moment.rank);
    let mut calc = Calc::new(compiled.facts(), id, moment);
    let standing = compiled.facts().on(id, rank);
    let mut list = Vec::new();
    for holder in standing.places() {
        let Some(part) = holder.part else { continue };
        let (kind, piece) = (&book.kinds[holder.kind], &book.parts[part]);
        let spec = piece.spec.and_then(|spec| book.specs.get(spec));
        for quantity in kind.gives.iter().chain(&kind.carries) {
            if history.slots.of_quantity(Owner::Part(part), *quantity).iter().any(|track| {
                // One that was benched at another hole has no tag that would stand in for it.
                let before = |event: &SlotEvent| event.rank(&history.order).is_none_or(|at| at < rank);
                track.events.iter().any(before)
            }) {
                continue;
            }
            if let Some(benched) = by_rows(compiled, &mut calc, *quantity, &holder) {
                list.push((*quantity, benched));
                continue;
            }
            let own = piece.tags.iter().find(|(of, _)| of == quantity);
            let of_spec = spec.and_then(|spec| spec.tags.iter().find(|(of, _)| of == quantity));
            let (item, at, verb): (_, Span, _) = match (own, of_spec, spec) {
                (Some((_, item)), _, _) => (item, piece.named.declared, "part"),
                (None, Some((_, item)), Some(spec)) => (item, spec.named.declared, "spec"),
                _ => continue,
            };
            // Nor has one of which something is said that cannot be read.
            let lost = benched::lost(book, history, (part, *quantity), rank);
            list.push((
                *quantity,
                Slot {
                    quantity: book.vocabulary.get(*quantity).name.to_string(),
                    place: place(compiled, holder.place),
                    area: area(compiled, *quantity),
                    part: Some(part_name(compiled, part)),
                    is: if lost.is_some() { Is::Unknown } else { Is::Tag },
                    asked: None,
                    read: None,
                    benched_later: false,
                    tag: Some(value::of_tag(compiled, item, at, verb)).filter(|_| lost.is_none()),
                    stale: None,
                    unknown: entry_line(compiled, lost),
                    needs: Vec::new(),
                    claims: Vec::new(),
                    at: holder.place,
                },
            ));
        }
    }
    list
}

/// What rows on the bench say of a fitted part: a rate, or what they lack to tell one. `None` where it has no rows.
fn by_rows(
    compiled: &Compiled,
    calc: &mut Calc<'_>,
    quantity: QuantityId,
    holder: &PlaceState,
) -> Option<Slot> {
    let told = calc.benched_by_rows(quantity, holder.place)?;
    let later = told.as_ref().is_ok_and(|fig| calc.rests_on_later_bench(fig).is_some());
    let (read, needs) = match told {
        Ok(fig) => (Some(value::of_figure(compiled, calc, &fig)), Vec::new()),
        Err(missing) => (None, missing.needs),
    };
    Some(Slot {
        quantity: compiled.book.vocabulary.get(quantity).name.to_string(),
        place: place(compiled, holder.place),
        area: area(compiled, quantity),
        part: holder.part.map(|part| part_name(compiled, part)),
        is: if read.is_some() { Is::Read } else { Is::Unknown },
        asked: None,
        benched_later: later,
        read,
        tag: None,
        stale: None,
        unknown: None,
        needs,
        claims: Vec::new(),
        at: holder.place,
    })
}
