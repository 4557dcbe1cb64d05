//! One value of a slot: what was typed first, then SI, the line, the day and how it was read.
//!
//! Must not know which register it stands in, nor rendering.

use super::{LedgerLine, entry_date, line};
use crate::Compiled;
use crate::book::entry::{By, Entry, EntryId, Flags, Item, ItemId, Verb};
use crate::figures::{Calc, Fig, lines_under, trace};
use crate::history::slots::{Owner, SlotEvent, Track};
use crate::history::sums;
use crate::source::FileId;
use crate::units::{DimensionId, number};
use serde::Serialize;

/// One value.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TypedValue {
    /// As typed, with its unit; what it comes to, for `adjust`.
    pub text: String,
    /// In SI; the mean of repeats; of teeth (`41/11`) their ratio. Null for words, `off` and other pairs.
    pub value_si: Option<f64>,
    /// The unit it was typed in; null for a plain number and for words.
    pub unit: Option<String>,
    /// The verb of its line: `set`, `found` ...; `car` for an opening value, `spec` or `part` for a tag.
    pub verb: &'static str,
    /// Its line.
    pub line: Option<LedgerLine>,
    /// The day it stands under.
    pub date: Option<String>,
    /// The gauge it was read with.
    pub gauge: Option<String>,
    /// Who read or set it.
    pub person: Option<String>,
    /// The conditions of a reading, as typed: `driver 78 kg`, `bars off`.
    pub conditions: Vec<String>,
    /// The words after `because`.
    pub because: Option<String>,
    /// What was typed first, where a `correct` line put it right.
    pub corrected_from: Option<String>,
}

impl TypedValue {
    /// The text without its unit, for a column that has the unit elsewhere.
    #[must_use]
    pub fn digits(&self) -> &str {
        match &self.unit {
            Some(unit) => self.text.strip_suffix(unit.as_str()).unwrap_or(&self.text).trim_end(),
            None => &self.text,
        }
    }
}

/// The value of a slot's event; `None` where the event only makes it unknown.
#[must_use]
pub fn of_event(compiled: &Compiled, track: &Track, event: &SlotEvent) -> Option<TypedValue> {
    let book = &compiled.book;
    let item = compiled.history.item(book, track, event)?;
    let Some((index, entry)) = event.entry.zip(event.line(book)) else {
        return opening(compiled, track, item);
    };
    let group = group(compiled, entry, event.item());
    let cx = compiled.context();
    let mut value = typed(compiled, entry.file, item, group);
    let filled = entry.verb == Verb::Fill || book.vocabulary.find("fuel") == Some(track.quantity);
    let added = filled && crate::history::fuel::adds(book, &compiled.files, index, item);
    if entry.verb == Verb::Adjust || added {
        // What is left of a fill is no round number.
        let decimals = if added { 2 } else { sums::decimals(book, &compiled.files, track, event) };
        value.text = sum(compiled, entry.file, item, event.value, decimals);
        value.unit = shown_unit(item);
    }
    let quantity = book.vocabulary.get(track.quantity);
    value.value_si = si(compiled, track, event, item, group);
    if track.from_hard.is_some() && item.has_value() {
        // Whatever end its line counted from, it is told from that of its slot.
        value.text = sum(compiled, entry.file, item, event.value, item.decimals);
        value.unit = shown_unit(item);
    }
    if quantity.dimension == DimensionId::TOE && item.has_value() {
        toe(&mut value, event.value, item, cx.text(entry.span()));
    }
    value.corrected_from = cx.typed_first(event.item());
    value.verb = entry.verb.word();
    value.line = Some(line(compiled, entry.span()));
    value.date = entry_date(compiled, index);
    match entry.by {
        By::Gauge(gauge) => {
            value.gauge = book.gauges.get(gauge).map(|one| one.named.typed.to_string());
        }
        By::Person(person) => {
            value.person = book.people.get(person).map(|one| one.named.typed.to_string());
        }
        By::Nobody => {}
    }
    if let Some(hard) = track.from_hard.filter(|_| item.has_value()) {
        value.conditions.push(if hard { "from full-hard" } else { "from full-soft" }.to_owned());
    }
    if let Some(extra) = book.extra(entry) {
        value.conditions.extend(extra.conditions.iter().map(|one| cx.text(one.said).to_owned()));
        if let Some(at) = &extra.at {
            value.conditions.push(format!("at {}", cx.typed(index, at)));
        }
        if extra.over.is_some() {
            value.conditions.extend(over(cx.text(entry.span())));
        }
        value.because = extra.because.map(|span| cx.text(span).to_owned());
    }
    Some(value)
}

/// What an event's value comes to, SI: the mean of repeats, of teeth their ratio; of other pairs (ramps, three temperatures) no one number.
fn si(compiled: &Compiled, track: &Track, event: &SlotEvent, item: &Item, group: &[Item]) -> Option<f64> {
    if !is_pair(group) {
        return item.has_value().then_some(event.value);
    }
    match group {
        [first, _] if compiled.book.vocabulary.get(track.quantity).dimension == DimensionId::RATIO => {
            first.has_value().then_some(event.value)
        }
        _ => None,
    }
}

/// What is typed on an event's line, without its unit, and what the event's value comes to, SI; `None` where the event only makes it
/// unknown.
#[must_use]
pub fn typed_and_si(compiled: &Compiled, track: &Track, event: &SlotEvent) -> Option<(String, Option<f64>)> {
    let item = compiled.history.item(&compiled.book, track, event)?;
    let Some(entry) = event.line(&compiled.book) else {
        let value = opening(compiled, track, item)?;
        return Some((value.digits().to_owned(), value.value_si));
    };
    let group = group(compiled, entry, event.item());
    Some((digits(compiled, entry.file, item, group), si(compiled, track, event, item, group)))
}

/// A value off a tag or a declaration: the item and the span of the line it stands on.
#[must_use]
pub fn of_tag(compiled: &Compiled, item: &Item, at: crate::source::Span, verb: &'static str) -> TypedValue {
    let mut value = typed(compiled, at.file, item, std::slice::from_ref(item));
    value.value_si = item.has_value().then_some(item.si);
    value.verb = verb;
    value.line = Some(line(compiled, crate::source::Span::new(at.file, item.start, item.start)));
    value
}

fn opening(compiled: &Compiled, track: &Track, item: &Item) -> Option<TypedValue> {
    let Owner::Car(car) = track.owner else { return None };
    let car = compiled.book.cars.get(car)?;
    let (_, items, span) = car.opening.iter().find(|(quantity, items, _)| {
        *quantity == track.quantity && items.iter().any(|one| std::ptr::eq(one, item))
    })?;
    let at = items.iter().position(|one| std::ptr::eq(one, item))?;
    let more = items.iter().skip(at + 1).take_while(|item| item.is(Flags::PART)).count();
    let mut value = typed(compiled, span.file, item, items.get(at..=at + more)?);
    value.value_si = item.has_value().then_some(item.si);
    value.verb = "car";
    value.line = Some(line(compiled, crate::source::Span::new(span.file, item.start, item.start)));
    Some(value)
}

/// The item, its further numbers (`41/11`) and its repeats.
fn group<'a>(compiled: &'a Compiled, entry: &Entry, item: ItemId) -> &'a [Item] {
    let end = entry.items.plus(entry.item_count.into());
    let all = compiled.book.items.within(item..end);
    let more = all.iter().skip(1).take_while(|item| item.is(Flags::PART | Flags::REPEAT)).count();
    all.get(..=more).unwrap_or_default()
}

/// Whether the value is several numbers with strokes between.
fn is_pair(group: &[Item]) -> bool {
    group.iter().any(|item| item.is(Flags::PART)) && group.first().is_some_and(|item| !item.is(Flags::TEXT))
}

fn shown_unit(item: &Item) -> Option<String> {
    let unit = item.unit().get().shown();
    (!unit.is_empty()).then(|| unit.to_owned())
}

fn with_unit(digits: String, unit: Option<&str>) -> String {
    match unit {
        Some(unit @ ("%" | "°")) => digits + unit,
        Some(unit) => format!("{digits} {unit}"),
        None => digits,
    }
}

/// The numbers of a value as typed.
fn digits(compiled: &Compiled, file: FileId, item: &Item, group: &[Item]) -> String {
    let text = |item: &Item| crate::syntax::unquote(compiled.files.text(item.span(file)));
    let mut digits = text(item).to_owned();
    for more in group.iter().skip(1) {
        digits += if more.is(Flags::REPEAT) && !more.is(Flags::PART) {
            ", "
        } else if item.is(Flags::TEXT) {
            " "
        } else {
            "/"
        };
        digits += text(more);
    }
    digits
}

/// What was typed: the slice of the ledger from the first number to the last, and the unit.
fn typed(compiled: &Compiled, file: FileId, item: &Item, group: &[Item]) -> TypedValue {
    let digits = digits(compiled, file, item, group);
    let number = group.iter().find(|item| item.has_value());
    let unit = number.and_then(shown_unit);
    // `5d54'` has its unit in it.
    let unit = unit.filter(|_| !digits.contains(['d', '°']) || item.is(Flags::TEXT));
    TypedValue {
        text: with_unit(digits, unit.as_deref()),
        value_si: None,
        unit,
        verb: "",
        line: None,
        date: None,
        gauge: None,
        person: None,
        conditions: Vec::new(),
        because: None,
        corrected_from: None,
    }
}

/// What a figure comes to, with the newest line under it: a rate by rows on the bench.
#[must_use]
pub fn of_figure(compiled: &Compiled, calc: &Calc<'_>, fig: &Fig) -> TypedValue {
    let step = trace::told(calc, fig, calc.imperial());
    let rank = |entry: &EntryId| compiled.history.order.rank.get(*entry).copied();
    let newest = lines_under(calc, fig.node).into_iter().max_by_key(rank);
    let entry = newest.and_then(|entry| compiled.book.entries.get(entry));
    let above = entry.and_then(|entry| compiled.book.entries.get(entry.parent?)).or(entry);
    TypedValue {
        text: step.shown,
        value_si: Some(fig.value),
        unit: Some(step.unit).filter(|unit| !unit.is_empty()),
        verb: above.map_or("bench", |line| line.verb.word()),
        line: above.map(|above| line(compiled, above.span())),
        date: newest.and_then(|entry| entry_date(compiled, entry)),
        gauge: None,
        person: None,
        conditions: Vec::new(),
        because: None,
        corrected_from: None,
    }
}

/// A value reckoned from an `adjust`: SI put back in the unit it was typed in.
fn sum(compiled: &Compiled, file: FileId, item: &Item, si: f64, decimals: u8) -> String {
    let unit = item.unit().get();
    let digits = compiled.files.text(item.span(file));
    let length_for_angle = unit.dim == DimensionId::LENGTH.get().dim && item.si != 0.0;
    let ratio = number::Number::parse(digits).map_or(0.0, |number| number.value.abs() / item.si.abs());
    // Toe typed as a length is kept as an angle: what was typed over what is kept.
    let value = if length_for_angle && ratio > 0.0 { si * ratio } else { unit.from_si(si) };
    with_unit(number::format(value, decimals), shown_unit(item).as_deref())
}

/// `over 400 mm`, as typed on the line.
fn over(line: &str) -> Option<String> {
    let words: Vec<&str> = line.split_whitespace().collect();
    let at = words.iter().position(|word| word.eq_ignore_ascii_case("over"))?;
    let length = *words.get(at + 1)?;
    let unit = words.get(at + 2).filter(|_| length.ends_with(|last: char| last.is_ascii_digit()));
    Some(std::iter::once("over").chain([length]).chain(unit.copied()).collect::<Vec<_>>().join(" "))
}

/// Toe says its direction and whose it is in words: `out 1.5 mm total`.
fn toe(value: &mut TypedValue, si: f64, item: &Item, line: &str) {
    let digits = value.digits().trim_start_matches(['+', '-', '\u{2212}']).to_owned();
    let text = with_unit(digits, value.unit.as_deref());
    let way = if si < 0.0 { "out " } else { "in " };
    let way = if si == 0.0 { "" } else { way };
    let has = |word: &str| line.split_whitespace().any(|one| one.eq_ignore_ascii_case(word));
    let share = match (item.place.is_axle(), has("total"), has("each")) {
        (true, true, _) => " total",
        (true, _, true) => " each",
        _ => "",
    };
    value.text = format!("{way}{text}{share}");
}
