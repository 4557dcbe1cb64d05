//! A dated head with the lines a car usually gets, the old values filled in, to paste and edit.
//!
//! Every line but the head is a comment that becomes a right line when its `#` goes. Must not know the terminal.

use super::value::{self, TypedValue};
use crate::Compiled;
use crate::book::clause::Clause;
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::{CarId, EventId};
use crate::book::names::{Thing, same};
use crate::book::place::Place;
use crate::history::jobs::Status;
use crate::history::order::Rank;
use crate::history::slots::{Register, SlotEvent};
use crate::history::{Moment, fuel};
use crate::syntax::{Shape, parse_lines_only};
use crate::units::DimensionId;
use crate::vocabulary::{Form, QuantityId};
use jiff::civil::Date;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The block.
#[derive(Debug, Clone, Serialize)]
pub struct Blank {
    /// The car.
    pub car: String,
    /// The event.
    pub event: Option<String>,
    /// The day of the head.
    pub date: String,
    /// The head's line.
    pub head: String,
    /// The lines under it, without their `#`.
    pub lines: Vec<BlankLine>,
}

/// One line.
#[derive(Debug, Clone, Serialize)]
pub struct BlankLine {
    /// Its verb.
    pub verb: &'static str,
    /// Its quantity; null for a session or an outfit.
    pub quantity: Option<String>,
    /// How deep it stands under the head, from 1.
    pub depth: usize,
    /// The line.
    pub text: String,
}

/// The order of the day: read before touching, change, fill, read when done, tighten.
const VERBS: [Verb; 7] =
    [Verb::Found, Verb::Set, Verb::Adjust, Verb::Fill, Verb::Left, Verb::Read, Verb::Torque];

/// A line is usual from so many events, or so many times in all.
const EVENTS: usize = 2;
const TIMES: usize = 3;

/// The day on which a car left the shop for good, by a moment: nothing is to be typed of it from then on.
#[must_use]
pub fn gone(compiled: &Compiled, id: CarId, rank: Rank) -> Option<Date> {
    super::of_car(compiled, id, &Moment::of_rank(rank)).1
}

/// Builds the block for a car on a day.
#[must_use]
pub fn build(compiled: &Compiled, id: CarId, event: Option<EventId>, date: Date, rank: Rank) -> Blank {
    let book = &compiled.book;
    let car = book.cars[id].named.typed.to_string();
    let event_name =
        event.and_then(|event| book.events.get(event)).map(|event| event.named.typed.to_string());
    let mut head = format!("{date} {car}");
    if let Some(event) = &event_name {
        head.push_str(&format!(" at {event}"));
    }
    // Sold, and still in the shop's care.
    let sale = compiled.history.parts.sales_of(id).rfind(|sale| sale.rank < rank);
    if let Some(owner) = sale.and_then(|sale| sale.to).and_then(|client| book.clients.get(client)) {
        head.push_str(&format!(" for {}", owner.named.typed));
    }
    let mut lines = Vec::new();
    let usual = usual(compiled, id);
    let mut touched: BTreeSet<QuantityId> = BTreeSet::new();
    for verb in VERBS {
        if verb == Verb::Set {
            outfits(compiled, id, &mut lines);
        }
        if verb == Verb::Left {
            runs(compiled, id, event, &mut lines);
        }
        for ((_, _, quantity), (last, places)) in usual.iter().filter(|((of, ..), _)| *of == rank_of(verb)) {
            // One line to change a quantity is enough.
            if verb == Verb::Adjust && touched.contains(quantity) {
                continue;
            }
            if let Some(text) = line(compiled, id, (verb, *quantity), (*last, places), (rank, date)) {
                if verb == Verb::Set {
                    touched.insert(*quantity);
                }
                let quantity = Some(book.vocabulary.get(*quantity).name.to_string());
                lines.push(BlankLine { verb: verb.word(), quantity, depth: 1, text });
            }
        }
    }
    Blank { car, event: event_name, date: date.to_string(), head, lines }
}

fn rank_of(verb: Verb) -> usize {
    VERBS.iter().position(|one| *one == verb).unwrap_or(VERBS.len())
}

/// By place in [`VERBS`], area and quantity.
type Key = (usize, u32, QuantityId);

/// The verbs and quantities this car usually gets, each with its last line and every place it ever had.
fn usual(compiled: &Compiled, id: CarId) -> BTreeMap<Key, (EntryId, BTreeSet<Place>)> {
    let book = &compiled.book;
    let mut seen: BTreeMap<Key, (BTreeSet<EventId>, usize, EntryId, BTreeSet<Place>)> = BTreeMap::new();
    for index in &compiled.history.order.entries {
        let entry = &book.entries[*index];
        let (Some(quantity), Some(head)) = (entry.quantity, book.head(entry)) else { continue };
        if head.car != Some(id)
            || entry.broken
            || entry.void
            || entry.item_count == 0
            || !VERBS.contains(&entry.verb)
            // What is put in at a stop says nothing of how much is aboard at a start.
            || entry.verb == Verb::Fill && adds(compiled, *index)
        {
            continue;
        }
        let key = (rank_of(entry.verb), book.vocabulary.get(quantity).area, quantity);
        let (events, times, last, places) =
            seen.entry(key).or_insert_with(|| (BTreeSet::new(), 0, *index, BTreeSet::new()));
        places.extend(book.items_of(entry).iter().map(|item| item.place));
        events.extend(head.event);
        *times += 1;
        *last = *index;
    }
    seen.into_iter()
        .filter(|(_, (events, times, ..))| events.len() >= EVENTS || *times >= TIMES)
        .map(|(key, (_, _, last, places))| (key, (last, places)))
        .collect()
}

/// Whether a line fills up what there is.
fn adds(compiled: &Compiled, line: EntryId) -> bool {
    let (book, files) = (&compiled.book, &compiled.files);
    let entry = book.entries.get(line).filter(|entry| entry.verb == Verb::Fill);
    entry.is_some_and(|entry| book.items_of(entry).iter().any(|item| fuel::adds(book, files, line, item)))
}

/// One usual line, after the manner of the last one.
fn line(
    compiled: &Compiled,
    id: CarId,
    (verb, quantity): (Verb, QuantityId),
    (last, places): (EntryId, &BTreeSet<Place>),
    (rank, date): (Rank, Date),
) -> Option<String> {
    let book = &compiled.book;
    let entry = &book.entries[last];
    let typed = compiled.files.text(entry.span());
    let (spelt, values, clauses) =
        pieces(typed, &|clause, named| is_past(compiled, (clause, named), (rank, date)))?;
    let what = book.vocabulary.get(quantity);
    let plain = what.form == Form::One && !matches!(what.dimension, DimensionId::TOE | DimensionId::FLUID);
    let held: Vec<(Place, TypedValue)> = places
        .iter()
        .filter_map(|place| {
            let slot = compiled.facts().on(id, rank).slot(quantity, *place)?;
            let before = |event: &&SlotEvent| {
                event.register() != Register::Unknown
                    && event.rank(&compiled.history.order).is_some_and(|at| at < rank)
                    && event.entry.is_none_or(|line| !adds(compiled, line))
            };
            let is = if verb == Verb::Fill {
                *slot.track.events.iter().rev().find(before)?
            } else {
                slot.held.is(&compiled.history)?
            };
            Some((*place, value::of_event(compiled, slot.track, &is)?))
        })
        .collect();
    let first = held.first().and_then(|(_, value)| value.unit.clone());
    let alike = held
        .iter()
        .all(|(_, value)| value.unit == first && (value.value_si.is_none() || !value.text.contains(", ")));
    let held = Some(held).filter(|held| !held.is_empty() && plain && alike);
    let values = match held {
        held if verb == Verb::Adjust => {
            let unit = held.as_ref().and_then(|held| held.first()).and_then(|(_, value)| value.unit.clone());
            let unit = unit.or_else(|| last_unit(compiled, entry))?;
            let zeros: Vec<String> = places.iter().map(|place| named(compiled, *place, "+0")).collect();
            format!("{} {unit}", zeros.join(" "))
        }
        Some(held) => {
            let one = |(place, value): &(Place, TypedValue)| {
                let digits = if value.value_si.is_none() && value.text != "off" {
                    format!("\"{}\"", value.text)
                } else {
                    value.digits().to_owned()
                };
                let digits = if verb == Verb::Set { format!("{digits} -> {digits}") } else { digits };
                named(compiled, *place, &digits)
            };
            let values: Vec<String> = held.iter().map(one).collect();
            let unit = held.first().and_then(|(_, value)| value.unit.clone()).unwrap_or_default();
            format!("{} {unit}", values.join(" "))
        }
        // What cannot be put together from the old values is copied as it was typed.
        None => without_old(&values),
    };
    let mut text = format!("{} {spelt} {}", verb.word(), values.trim());
    if !clauses.is_empty() {
        text = format!("{text}  {clauses}");
    }
    Some(text)
}

fn named(compiled: &Compiled, place: Place, digits: &str) -> String {
    format!("{} {digits}", compiled.book.place_word(place)).trim_start().to_owned()
}

fn last_unit(compiled: &Compiled, entry: &Entry) -> Option<String> {
    let item = compiled.book.items_of(entry).first()?;
    Some(item.unit().get().shown().to_owned())
}

/// Whether a clause is of a day that is over: the session it was in, a job that is closed by now, a gauge that is out of date.
fn is_past(compiled: &Compiled, (clause, named): (&str, &str), (rank, date): (Rank, Date)) -> bool {
    let thing = compiled.book.names.find(named);
    match (Clause::find(clause), thing) {
        (Some(Clause::During | Clause::After), _) => true,
        (Some(Clause::On), Some(Thing::Job(job))) => {
            let step = compiled.history.jobs.get(job).at(rank);
            step.is_none_or(|step| step.status == Status::Done)
        }
        (Some(Clause::By), Some(Thing::Gauge(gauge))) => {
            let until = compiled.book.gauges.get(gauge).and_then(|gauge| gauge.valid_until);
            until.is_some_and(|until| until < date)
        }
        _ => false,
    }
}

/// A line's quantity as spelt, its values, and its clauses without the reason and those that are past.
fn pieces(typed: &str, is_past: &dyn Fn(&str, &str) -> bool) -> Option<(String, String, String)> {
    let line = format!("  {typed}");
    let chunk = parse_lines_only(&line);
    let words = chunk.words_of(chunk.lines.first()?);
    let text: Vec<&str> = words.iter().map(|word| word.text(&line)).collect();
    let from = usize::from(words.first()?.shape == Shape::Clock) + 1;
    let spelt = (*text.get(from)?).to_owned();
    let end = words.iter().position(|word| word.shape == Shape::Because).unwrap_or(words.len());
    let shape = |at: usize| words.get(at).map(|word| word.shape);
    let ends_values = |at: usize| {
        shape(at) == Some(Shape::Word) && text.get(at).is_some_and(|text| crate::book::ends_values(text))
    };
    let clause = (from + 1..end).find(|at| ends_values(*at));
    let clause = clause.unwrap_or(end);
    let slice = |from: usize, to: usize| {
        let (Some(first), Some(last)) = (words.get(from), words.get(to.wrapping_sub(1))) else {
            return String::new();
        };
        if from >= to {
            String::new()
        } else {
            line.get(first.start as usize..last.end() as usize).unwrap_or_default().to_owned()
        }
    };
    let mut clauses = Vec::new();
    let mut at = clause;
    while at < end {
        let next = (at + 1..end).find(|next| ends_values(*next)).unwrap_or(end);
        let word = |at: usize| text.get(at).copied().unwrap_or_default();
        if !is_past(word(at), word(at + 1)) {
            clauses.push(slice(at, next));
        }
        at = next;
    }
    Some((spelt, slice(from + 1, clause), clauses.join(" ")))
}

/// Typed values without the old ones: `rear 2 -> 3` is `rear 3`.
fn without_old(values: &str) -> String {
    let words: Vec<&str> = values.split_whitespace().collect();
    let mut kept: Vec<&str> = Vec::new();
    for word in words {
        if word == "->" || word == "\u{2192}" {
            kept.pop();
        } else {
            kept.push(word);
        }
    }
    kept.join(" ")
}

/// What the car may go out in.
fn outfits(compiled: &Compiled, id: CarId, lines: &mut Vec<BlankLine>) {
    let own = compiled.book.outfits.iter().filter(|outfit| outfit.car == Some(id));
    lines.extend(own.map(|outfit| {
        let text = format!("{} {}", Verb::Fit.word(), outfit.named.typed);
        BlankLine { verb: Verb::Fit.word(), quantity: None, depth: 1, text }
    }));
}

/// The car's usual sessions that this event does not have yet, with a line for the driver's words.
fn runs(compiled: &Compiled, id: CarId, event: Option<EventId>, lines: &mut Vec<BlankLine>) {
    let (book, sessions) = (&compiled.book, &compiled.history.sessions);
    let mut labels: Vec<(String, BTreeSet<EventId>, Vec<String>)> = Vec::new();
    for (_, session) in sessions.of(id) {
        let Some(at) = session.event else { continue };
        let label = compiled.files.text(session.label).to_owned();
        let drivers = sessions.drivers(session).into_iter().filter_map(|person| book.people.get(person));
        let drivers: Vec<String> = drivers.map(|person| person.named.typed.to_string()).collect();
        match labels.iter_mut().find(|(one, ..)| same(one, &label)) {
            Some((_, events, by)) => {
                events.insert(at);
                *by = drivers;
            }
            None => labels.push((label, BTreeSet::from([at]), drivers)),
        }
    }
    for (label, events, drivers) in labels {
        if events.len() < EVENTS || event.is_some_and(|event| events.contains(&event)) {
            continue;
        }
        let by = if let [driver] = drivers.as_slice() { format!("  by {driver}") } else { String::new() };
        let run = Verb::Run.word();
        lines.push(BlankLine { verb: run, quantity: None, depth: 1, text: format!("run {label}{by}") });
        for driver in drivers.iter().filter(|_| drivers.len() > 1) {
            let stint = Verb::Stint.word();
            lines.push(BlankLine { verb: stint, quantity: None, depth: 2, text: format!("stint {driver}") });
        }
        let text = "say \"\"".to_owned();
        lines.push(BlankLine { verb: Verb::Say.word(), quantity: None, depth: 2, text });
    }
}
