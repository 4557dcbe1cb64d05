//! What is to be known about a word: of a part what it has run, of a quantity what it was last time and when, of a figure what it is
//! made of, of any name where it is declared.
//!
//! Must not know the language: all of it is what `state`, `trace` and `why` say.

use super::leaf::{Leaf, Named};
use super::moment;
use crate::answer::{self, part, state};
use crate::book::entry::Entry;
use crate::book::model::PartId;
use crate::book::names::Thing;
use crate::book::place::Place;
use crate::book::verbs::VerbGroup;
use crate::figures::Calc;
use crate::figures::trace::{Step, trace};
use crate::history::{Moment, order::Rank};
use crate::syntax::Shape;
use crate::vocabulary::QuantityId;
use crate::words;
use serde_json::{Value, json};

/// The answer, as plain text: nothing typed into a book is taken for markup.
#[must_use]
pub fn at(page: &Leaf<'_>, offset: usize) -> Value {
    let Some(word) = page.word(offset) else { return Value::Null };
    let said = match page.name(offset) {
        Some((piece, named)) => Some((of_name(page, offset, piece.text, named), piece.start, piece.end())),
        None => number(page, offset)
            .or_else(|| check(word.text(page.source)))
            .map(|lines| (lines, word.start, word.end())),
    };
    let Some((lines, from, to)) = said.filter(|(lines, ..)| !lines.is_empty()) else { return Value::Null };
    json!({
        "contents": { "kind": "plaintext", "value": lines.join("\n") },
        "range": page.text.range(from, to),
    })
}

fn of_name(page: &Leaf<'_>, offset: usize, word: &str, named: Named) -> Vec<String> {
    match named {
        Named::Quantity(id) => quantity(page, offset, id),
        Named::Thing(Thing::Part(id)) => of_part(page, offset, id),
        Named::Thing(thing) => {
            let declared = page.compiled.book.names.declared(word);
            let line = declared.map(|span| answer::line(page.compiled, span));
            let said =
                declared.map(|span| page.compiled.files.text(span).lines().next().unwrap_or_default().trim());
            let mut lines = vec![format!("{} {word}", thing.sort())];
            lines.extend(said.filter(|said| *said != word).map(str::to_owned));
            lines.extend(line.map(|line| words::place(&line.path, line.line)));
            lines
        }
    }
}

fn of_part(page: &Leaf<'_>, offset: usize, id: PartId) -> Vec<String> {
    let book = &page.compiled.book;
    let Some(piece) = book.parts.get(id) else { return Vec::new() };
    let kind = book.kind_of(id).map_or("part", |kind| &*kind.named.typed);
    let mut first = format!("{} {kind}", piece.named.typed);
    if let Some(spec) = piece.spec.and_then(|spec| book.specs.get(spec)) {
        first.push_str(&format!(", {}", spec.named.typed));
    }
    let rank = moment::of_parts(page, offset);
    let when = if rank == Rank::END { "in all" } else { "before this line" };
    let (new, rebuilt) = part::run(page.compiled, id, rank);
    let amounts =
        |list: &[part::Amounted]| list.iter().map(|one| one.text.clone()).collect::<Vec<_>>().join(", ");
    // "Has run running time not known" is no English: of what nobody knows no running is told.
    let known = |list: &[part::Amounted]| list.iter().any(|one| !one.at_least || one.value_si > 0.0);
    let ran = if known(&new) { "has run " } else { "" };
    let mut lines = vec![first, format!("{ran}{} {when}", amounts(&new))];
    lines.extend(rebuilt.map(|list| format!("{} since its last rebuild", amounts(&list))));
    let line = answer::line(page.compiled, piece.named.declared);
    lines.push(format!("declared in {}", words::place(&line.path, line.line)));
    lines
}

/// A quantity: what it is, and under a car's head what it was at each place of the line.
fn quantity(page: &Leaf<'_>, offset: usize, id: QuantityId) -> Vec<String> {
    let quantity = page.compiled.book.vocabulary.get(id);
    let mut lines = vec![format!("{}, {}", quantity.name, quantity.dimension.name())];
    lines.extend((!quantity.sentence.is_empty()).then(|| quantity.sentence.to_string()));
    let line = page.line(offset);
    let entry = line.and_then(|line| page.entry(line));
    let entry = entry.filter(|(_, entry)| entry.quantity == Some(id) && is_of_car(entry));
    let mut places: Vec<Place> = Vec::new();
    for item in entry.map(|(_, entry)| page.compiled.book.items_of(entry)).unwrap_or_default() {
        if !places.contains(&item.place) {
            places.push(item.place);
        }
    }
    for place in places {
        lines.extend(last(page, offset, id, place));
    }
    lines.extend(figure(page, offset, &quantity.name));
    lines
}

/// What a quantity was at a place before this line, and when.
fn last(page: &Leaf<'_>, offset: usize, id: QuantityId, place: Place) -> Option<String> {
    let car = moment::car(page, offset)?;
    let slot = page.compiled.facts().on(car, moment::rank(page, offset)).slot_above(id, place)?;
    let view = state::slot(page.compiled, &slot);
    let site = answer::place(page.compiled, place).map_or_else(String::new, |word| format!("{word} "));
    let Some(value) = view.value() else { return Some(format!("{site}not known before this line")) };
    let day = value.date.as_ref().map_or_else(String::new, |day| format!(" on {day}"));
    let line = value
        .line
        .as_ref()
        .map_or_else(String::new, |line| format!(", {}", words::place(&line.path, line.line)));
    let stale = if view.stale.is_some() { ", stale since" } else { "" };
    Some(format!("last {site}{}, {}{day}{line}{stale}", value.text, value.verb))
}

/// The number at a byte: what it was last time at its place.
fn number(page: &Leaf<'_>, offset: usize) -> Option<Vec<String>> {
    let word =
        page.word(offset).filter(|word| matches!(word.shape, Shape::Number | Shape::Ratio | Shape::Dash))?;
    let (_, entry) = page.entry(page.line(offset)?).filter(|(_, entry)| is_of_car(entry))?;
    let items = page.compiled.book.items_of(entry);
    let item = items
        .iter()
        .find(|item| item.start <= word.start && word.start < item.start + u32::from(item.len))?;
    Some(vec![last(page, offset, entry.quantity?, item.place)?])
}

/// Whether a line's values are the car's: what was read of a part on the bench is no slot of the car under whose head it stands.
fn is_of_car(entry: &Entry) -> bool {
    matches!(entry.verb.group(), VerbGroup::Setting(_))
}

/// What a figure is made of at the moment after this line.
fn figure(page: &Leaf<'_>, offset: usize, name: &str) -> Vec<String> {
    let compiled = page.compiled;
    let (Some(id), Some(car)) = (compiled.book.figures.find(name), moment::car(page, offset)) else {
        return Vec::new();
    };
    let rank = moment::rank(page, offset);
    let after = if rank == Rank::END { rank } else { rank.next() };
    let mut calc = Calc::new(compiled.facts(), car, &Moment::of_rank(after));
    let imperial = compiled.book.cars.get(car).is_some_and(|car| car.imperial);
    match calc.figure(id, Place::CAR) {
        Ok(fig) => {
            let mut lines = Vec::new();
            step(&mut lines, "", &trace(&calc, &fig, imperial), 0);
            lines
        }
        Err(missing) => vec![words::missing(&missing)],
    }
}

/// One step of a chain, and what it is made of, two levels deep: `trace` has the rest.
fn step(lines: &mut Vec<String>, name: &str, one: &Step, depth: usize) {
    let label = if name.is_empty() { String::new() } else { format!("{name} = ") };
    let by = one.formula.as_ref().map_or_else(String::new, |formula| format!(" by {}", formula.expression));
    let typed = one
        .typed
        .as_ref()
        .map_or_else(String::new, |line| format!(", {}", words::place(&line.path, line.line)));
    lines.push(format!("{}{label}{}{by}{typed}", "  ".repeat(depth), one.shown));
    if depth < 2 {
        for input in &one.inputs {
            step(lines, &input.input, &input.step, depth + 1);
        }
    }
}

/// A check's name, as after `waive`: what `why` says.
fn check(word: &str) -> Option<Vec<String>> {
    let check = crate::check::find(word)?;
    Some(vec![format!("{}: {}", check.name, check.brief), check.why.to_owned()])
}
