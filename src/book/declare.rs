//! Reading declarations: first every name, then the properties of each.
//!
//! Must not know dated blocks.

mod car;
mod clock;
mod common;
mod dated;
mod day;
mod every;
mod exchange;
mod figure;
mod job;
mod kind;
mod lost;
mod normal;
mod outfit;
mod part;
mod place;
mod quantity;
mod rule;
mod shop;
mod shown;
mod told;
mod word;
mod words;

use super::Book;
use super::names::{Thing, nearest};
use super::trouble::{Trouble, What};
pub use crate::book::declare::common::Declared;
use crate::book::declare::common::{
    enter, hourly, line_text, named, price, properties, text_value, title_of,
};
use crate::book::declare::told::Told;
pub use crate::book::declare::words::{
    DECLARATIONS, LINES_WITH_FACTS, can_name, is_name_of, is_property, names_of,
};
use crate::money::exchange::LostRate;
use crate::source::Files;
use crate::syntax::{Chunk, Cursor, Line, LineKind, Shape};

pub(in crate::book) use clock::use_amounts;
pub(in crate::book) use dated::stated;
pub(in crate::book) use place::{no_date, of_date};
pub use quantity::{BuiltIn, read_built_in};

/// Reads every declaration of the tree into the book.
pub fn declare(book: &mut Book, files: &Files, chunks: &[Chunk]) {
    let mut all = Vec::new();
    for chunk in chunks {
        let Some(file) = files.get(chunk.file) else { continue };
        let mut dated = false;
        for block in &chunk.blocks {
            let Some((line, under)) = chunk.lines_of(*block).split_first() else { continue };
            let lines = || std::iter::once(line).chain(under);
            let text =
                |line: &Line| file.text.get(line.start as usize..line.end as usize).unwrap_or_default();
            match line.kind {
                LineKind::Bad
                    if line.indent == 0 && !text(line).starts_with(|c: char| c.is_ascii_digit()) =>
                {
                    for line in lines() {
                        book.names.refuse(text(line));
                    }
                    if text(line).get(..8).is_some_and(|word| word.eq_ignore_ascii_case("exchange")) {
                        book.lost_rates.push(LostRate::of(text(line)));
                    }
                }
                LineKind::Declaration => {
                    let bad = lines().filter(|line| line.kind == LineKind::Bad);
                    bad.for_each(|line| book.names.refuse(text(line)));
                    let mut one = Declared { chunk, line, lines: under, text: &file.text };
                    // A verb that lost its indent says so itself; the lines below it belong to the date above.
                    if dated && one.is_verb() {
                        one.lines = &[];
                    } else {
                        one.cut_dated_lines(book);
                        dated = false;
                    }
                    all.push(one);
                }
                LineKind::Head => dated = true,
                _ => {}
            }
        }
    }
    // Quantities first (others name them), then names, then properties: a book may declare in any order.
    quantity::read_all(book, &all);
    figure::read_all(book, &all);
    let registered: Vec<Option<Thing>> = all.iter().map(|one| register(book, one)).collect();
    job::register_all(book, files, chunks);
    // The shop first: its currency stands for one left out.
    // What one file says of it another may not say otherwise.
    let mut told = Told::default();
    for (one, thing) in all.iter().zip(&registered) {
        if keyword(one).1 == "shop" {
            fill(book, one, *thing, &mut told);
        }
    }
    // Kinds before specs before parts: each names the one before it.
    for one in &all {
        if keyword(one).1 == "spec" {
            part::read_spec(book, one);
        }
    }
    for one in &all {
        normal::read_class(book, one);
    }
    for (one, thing) in all.iter().zip(registered) {
        if keyword(one).1 != "shop" {
            fill(book, one, thing, &mut Told::default());
        }
    }
    normal::complete(book);
    book.meanings.settle_all();
}

/// The declaring word of a head line.
fn keyword<'a>(one: &Declared<'a>) -> (Cursor<'a>, String) {
    let mut cur = one.head();
    let word = cur.take(Shape::Word).map(|word| cur.str(word).to_ascii_lowercase()).unwrap_or_default();
    (cur, word)
}

fn register(book: &mut Book, one: &Declared<'_>) -> Option<Thing> {
    let before = book.troubles.len();
    let thing = register_any(book, one);
    // A name that is taken ends its declaration: the rest may be a name left out, read as something else.
    let twice = book.troubles.iter().skip(before).any(|trouble| matches!(trouble.what, What::NameTwice(_)));
    let thing = thing.filter(|_| !twice);
    if thing.is_none() && book.troubles.len() > before {
        for line in one.under() {
            book.names.refuse(line_text(&line));
        }
    }
    thing
}

fn register_any(book: &mut Book, one: &Declared<'_>) -> Option<Thing> {
    let (mut cur, word) = keyword(one);
    match word.as_str() {
        "shop" | "quantity" | "exchange" | "figure" | "class" | "word" => None,
        "person" => named(book, &mut cur, "person").map(|named| shop::new_person(book, named)),
        "client" => named(book, &mut cur, "client").map(|named| shop::new_client(book, named)),
        "circuit" => named(book, &mut cur, "circuit").map(|named| place::new_circuit(book, named)),
        "event" => named(book, &mut cur, "event").and_then(|named| place::new_event(book, named, &mut cur)),
        "gauge" => named(book, &mut cur, "gauge").map(|named| place::new_gauge(book, named)),
        "car" => named(book, &mut cur, "car").map(|named| car::new_car(book, named)),
        "kind" => named(book, &mut cur, "kind").map(|named| kind::new_kind(book, named)),
        "part" => named(book, &mut cur, "part").map(|named| part::new_part(book, named)),
        "spec" => None,
        "baseline" => named(book, &mut cur, "baseline").map(|named| car::new_baseline(book, named)),
        "outfit" => named(book, &mut cur, "outfit").map(|named| outfit::new_outfit(book, named)),
        "rule" => named(book, &mut cur, "rule").map(|named| rule::new_rule(book, named)),
        _ => {
            let span = one.head().peek().map_or(cur.line(), |word| cur.span(word));
            let verb = super::entry::Verb::ALL.iter().any(|verb| verb.word() == word);
            book.names.refuse(line_text(&cur));
            let near = nearest(&word, DECLARATIONS.into_iter());
            meant(book, &cur, near.as_deref());
            book.trouble(span, What::DeclarationUnknown { near, verb });
            None
        }
    }
}

/// What no other line names, so that it would be missed in silence: a rate from that day on, a rule that nobody can read.
fn meant(book: &mut Book, cur: &Cursor<'_>, near: Option<&str>) {
    match near {
        Some("exchange") => book.lost_rates.push(LostRate::of(line_text(cur))),
        Some("rule") => {
            let troubles = book.troubles.len();
            if let Some(Thing::Rule(id)) =
                named(book, &mut cur.clone(), "rule").map(|named| rule::new_rule(book, named))
            {
                book.rules[id].broken = true;
            }
            // The word that declares has the line's message.
            book.troubles.truncate(troubles);
        }
        _ => {}
    }
}

fn fill(book: &mut Book, one: &Declared<'_>, thing: Option<Thing>, told: &mut Told) {
    let (mut cur, word) = keyword(one);
    if thing.is_some() {
        cur.bump();
    }
    let mut each = |book: &mut Book,
                    property: &mut dyn FnMut(&mut Book, &mut Cursor<'_>) -> Result<bool, Trouble>,
                    of| {
        properties(book, &mut cur, (of, &mut *told), property);
        for mut line in one.under() {
            properties(book, &mut line, (of, &mut *told), property);
        }
    };
    match (word.as_str(), thing) {
        ("shop", _) => {
            book.shop.declared = Some(one.head().said());
            book.shop.title = title_of(&one.head(), "");
            each(book, &mut shop::shop_property, "shop");
            if told.is_lost("rate") {
                book.shop.rate = None;
            }
        }
        (_, Some(Thing::Person(id))) => {
            each(book, &mut |book, cur| shop::person_property(book, id, cur), "person");
        }
        ("exchange", _) => {
            if let Err(trouble) = exchange::read(book, &mut cur) {
                book.lost_rates.push(LostRate::of(line_text(&cur)));
                book.troubles.push(trouble);
            }
            for mut line in one.under() {
                properties(book, &mut line, ("exchange", &mut *told), &mut |_, _| Ok(false));
            }
        }
        ("word", _) => {
            if let Err(trouble) = word::read(book, &mut cur) {
                book.troubles.push(trouble);
            }
            for mut line in one.under() {
                properties(book, &mut line, ("word", &mut *told), &mut |_, _| Ok(false));
            }
        }
        (_, Some(Thing::Client(id))) => {
            each(book, &mut |book, cur| shop::client_property(book, id, cur), "client");
            if told.is_lost("rate") {
                book.clients[id].rate = None;
            }
        }
        (_, Some(Thing::Circuit(id))) => {
            each(book, &mut |book, cur| place::circuit_property(book, id, cur), "circuit");
            if told.is_lost("length") {
                book.circuits[id].length = None;
            }
        }
        (_, Some(Thing::Event(id))) => {
            each(book, &mut |book, cur| place::event_property(book, id, cur), "event");
            if told.is_lost("at") {
                book.events[id].circuit = None;
            }
        }
        (_, Some(Thing::Gauge(id))) => {
            each(book, &mut |book, cur| place::gauge_property(book, id, cur), "gauge");
            if told.is_lost("valid-until") {
                book.gauges[id].valid_until = None;
            }
        }
        (_, Some(Thing::Car(id))) => {
            each(book, &mut |book, cur| car::car_property(book, id, cur), "car");
            told.lost.iter().for_each(|text| car::told_twice(book, id, text));
        }
        (_, Some(Thing::Kind(id))) => {
            each(book, &mut |book, cur| kind::kind_property(book, id, cur), "kind");
            told.lost.iter().for_each(|text| kind::told_twice(book, id, text));
            for text in one.lost_lines().chain(told.untold()) {
                kind::lose(book, id, text);
            }
        }
        (_, Some(Thing::Part(id))) => {
            if part::part_kind(book, id, &mut cur) {
                properties(book, &mut cur, ("part", &mut *told), &mut |book, cur| {
                    part::part_property(book, id, cur)
                });
            }
            for mut line in one.under() {
                properties(book, &mut line, ("part", &mut *told), &mut |book, cur| {
                    part::part_property(book, id, cur)
                });
            }
            for text in &told.lost {
                part::told_twice(book, id, text);
            }
            for text in one.lost_lines().chain(told.untold()) {
                book.parts[id].lost.lose(text, "part");
            }
        }
        (_, Some(Thing::Rule(id))) => {
            each(book, &mut |book, cur| rule::rule_property(book, id, cur), "rule");
            book.rules[id].broken |= !told.lost.is_empty();
            rule::complete(book, id);
        }
        (_, Some(Thing::Outfit(id))) => outfit::read_outfit(book, id, &mut cur, one),
        (_, Some(Thing::Baseline(id))) => car::read_baseline(book, id, &mut cur),
        _ => {}
    }
    if word == "shop" || thing.is_some() {
        for text in one.lost_lines().chain(told.untold()) {
            let mut names = lost::named(text, &word).peekable();
            if names.peek().is_none() {
                book.unread.note(thing, "");
            }
            names.for_each(|name| book.unread.note(thing, name));
        }
    }
}

/// The clock of use that a unit word counts on: `min`, `days`, `launches`.
#[must_use]
pub fn clock_of(word: &str) -> Option<super::model::Clock> {
    kind::clock(word).map(|(clock, _)| clock)
}
