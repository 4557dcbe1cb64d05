//! Reading declarations: first every name, then the properties of each.
//!
//! Must not know dated blocks.

mod car;
mod dated;
mod every;
mod exchange;
mod figure;
mod job;
mod kind;
mod part;
mod place;
mod quantity;
mod rule;
mod shop;

use super::names::{Thing, composed, folded, is_name, lowered, nearest};
use super::sums;
use super::trouble::{Trouble, What};
use super::{Book, Named};
use crate::money::Amount;
use crate::source::{Files, Span};
use crate::syntax::{Block, Chunk, Cursor, Line, LineKind, Shape, unquote};

pub(in crate::book) use dated::stated;
pub(in crate::book) use place::{no_date, of_date};
pub use quantity::{BuiltIn, read_built_in};

/// The words that declare something.
pub const DECLARATIONS: [&str; 15] = [
    "shop", "person", "client", "circuit", "event", "gauge", "car", "kind", "spec", "part", "quantity",
    "baseline", "exchange", "rule", "figure",
];

/// Lines of dated blocks that have facts of their own, named like properties: those of jobs, and the four about money.
pub const LINES_WITH_FACTS: [&str; 2] = ["job", "cost"];

/// Words that cannot be names, because they mean something where a name may stand.
const RESERVED: [&str; 39] = [
    "by", "with", "over", "during", "at", "from", "to", "into", "found-by", "because", "after", "lap", "on",
    "of", "shop", "person", "client", "circuit", "event", "gauge", "car", "kind", "spec", "part", "quantity",
    "baseline", "exchange", "rule", "all", "front", "rear", "left", "right", "off", "good", "failed", "each",
    "total", "figure",
];

/// A declaration: its chunk, its head line and the lines under it.
#[derive(Clone, Copy)]
pub struct Declared<'a> {
    /// The chunk.
    pub chunk: &'a Chunk,
    /// The block.
    pub block: Block,
    /// The file's text.
    pub text: &'a str,
}

impl<'a> Declared<'a> {
    /// A cursor on the head line.
    #[must_use]
    pub fn head(&self) -> Cursor<'a> {
        self.cursor(&self.chunk.lines[self.block.head as usize])
    }

    /// Cursors on the indented lines, notes and unreadable ones left out.
    pub fn under(&self) -> impl Iterator<Item = Cursor<'a>> {
        let lines = &self.chunk.lines[self.block.head as usize + 1..self.block.end as usize];
        let this = *self;
        lines.iter().filter(|line| line.kind == LineKind::Entry).map(move |line| this.cursor(line))
    }

    /// Whether its head is a line of a dated block that stands at the margin.
    fn is_verb(&self) -> bool {
        let word = self.head().take(Shape::Word);
        let verb =
            |text: &str| super::entry::Verb::ALL.iter().any(|verb| verb.word().eq_ignore_ascii_case(text));
        word.is_some_and(|word| verb(word.text(self.text)))
    }

    /// Leaves out the lines from the first that says what was done on a day: their dated head is missing. Said once.
    fn cut_dated_lines(&mut self, book: &mut Book) {
        let from = self.block.head + 1;
        let figure = self.head().take_keyword("figure");
        let found = (from..self.block.end).find_map(|at| {
            let line = &self.chunk.lines[at as usize];
            let mut cur = self.cursor(line);
            cur.take(Shape::Clock);
            let word = cur.take(Shape::Word).filter(|_| line.kind == LineKind::Entry)?;
            // `set = ...` is a name that a formula cannot have, and is told so.
            if figure && cur.peek().is_some_and(|next| cur.str(next) == "=") {
                return None;
            }
            let verb = |verb: &super::entry::Verb| verb.word().eq_ignore_ascii_case(cur.str(word));
            super::entry::Verb::ALL.iter().any(verb).then(|| (at, cur.said()))
        });
        if let Some((at, span)) = found {
            book.trouble(span, What::Orphan);
            self.block.end = at;
        }
    }

    fn cursor(&self, line: &Line) -> Cursor<'a> {
        let words = self.chunk.words_of(line);
        Cursor::new(self.chunk.file, self.text, words, (line.start, line.end))
    }
}

/// Reads every declaration of the tree into the book.
pub fn declare(book: &mut Book, files: &Files, chunks: &[Chunk]) {
    let mut all = Vec::new();
    for chunk in chunks {
        let Some(file) = files.get(chunk.file) else { continue };
        let mut dated = false;
        for block in &chunk.blocks {
            let line = &chunk.lines[block.head as usize];
            let lines = &chunk.lines[block.head as usize..block.end as usize];
            let text =
                |line: &Line| file.text.get(line.start as usize..line.end as usize).unwrap_or_default();
            match line.kind {
                LineKind::Bad
                    if line.indent == 0 && !text(line).starts_with(|c: char| c.is_ascii_digit()) =>
                {
                    for line in lines {
                        book.names.refuse(text(line));
                    }
                }
                LineKind::Declaration => {
                    let bad = lines.iter().filter(|line| line.kind == LineKind::Bad);
                    bad.for_each(|line| book.names.refuse(text(line)));
                    let mut one = Declared { chunk, block: *block, text: &file.text };
                    // A verb that lost its indent says so itself; the lines below it belong to the date above.
                    if dated && one.is_verb() {
                        one.block.end = one.block.head + 1;
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
    for (one, thing) in all.iter().zip(&registered) {
        if keyword(one).1 == "shop" {
            fill(book, one, *thing);
        }
    }
    // Kinds before specs before parts: each names the one before it.
    for one in &all {
        if keyword(one).1 == "spec" {
            part::read_spec(book, one);
        }
    }
    for (one, thing) in all.iter().zip(registered) {
        if keyword(one).1 != "shop" {
            fill(book, one, thing);
        }
    }
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
    let twice = book.troubles[before..].iter().any(|trouble| matches!(trouble.what, What::NameTwice(_)));
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
        "shop" | "quantity" | "exchange" | "figure" => None,
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
        "rule" => named(book, &mut cur, "rule").map(|named| rule::new_rule(book, named)),
        _ => {
            let span = one.head().peek().map_or(cur.line(), |word| cur.span(word));
            let verb = super::entry::Verb::ALL.iter().any(|verb| verb.word() == word);
            book.names.refuse(line_text(&cur));
            book.trouble(
                span,
                What::DeclarationUnknown { near: nearest(&word, DECLARATIONS.into_iter()), verb },
            );
            None
        }
    }
}

/// Reads a declaration's name and title and enters nothing yet.
fn named(book: &mut Book, cur: &mut Cursor<'_>, what: &'static str) -> Option<Named> {
    let Some(word) = cur.peek().filter(|word| word.shape == Shape::Word) else {
        // `4ned` was read as a number with a word stuck to it: the whole of it was meant as the name.
        let mut span = cur.here();
        cur.bump();
        while cur.is_stuck(0)
            && let Some(next) = cur.peek().filter(|next| next.shape != Shape::Comma)
        {
            span = span.to(cur.span(next));
            cur.bump();
        }
        book.trouble(span, What::NameMissing(what));
        book.names.refuse(line_text(cur));
        return None;
    };
    cur.bump();
    let typed = cur.str(word);
    if !is_name(typed) {
        book.trouble(cur.span(word), What::NameMissing(what));
        return None;
    }
    let name = folded(typed);
    let own = names_of(what).contains(&name.as_str());
    if own || RESERVED.contains(&name.as_str()) || super::place::Place::parse(&name).is_some() {
        book.trouble(cur.span(word), What::NameReserved);
        book.names.refuse(line_text(cur));
        return None;
    }
    Some(Named {
        name: name.as_str().into(),
        typed: composed(typed).into(),
        title: title_of(cur, &composed(typed)),
        declared: cur.said(),
    })
}

/// The first quoted words of the line that are not the value of a property.
fn title_of(cur: &Cursor<'_>, typed: &str) -> String {
    let mut ahead = 0;
    let mut before = String::new();
    while let Some(word) = cur.peek_at(ahead) {
        let text = cur.str(word);
        if word.shape == Shape::Text && !matches!(before.as_str(), "serial" | "role" | "class" | "drive") {
            return unquote(text).to_owned();
        }
        before = text.to_ascii_lowercase();
        ahead += 1;
    }
    typed.to_owned()
}

/// The text of a line.
fn line_text<'a>(cur: &Cursor<'a>) -> &'a str {
    let line = cur.line();
    cur.text.get(line.start as usize..line.end as usize).unwrap_or_default()
}

/// Enters a name, or says that it is taken.
fn enter(book: &mut Book, name: &str, thing: Thing, at: Span) -> bool {
    match book.names.add(name, thing, at) {
        Ok(()) => true,
        Err(first) => {
            book.trouble(at, What::NameTwice(Some(first)));
            false
        }
    }
}

fn fill(book: &mut Book, one: &Declared<'_>, thing: Option<Thing>) {
    let (mut cur, word) = keyword(one);
    if thing.is_some() {
        cur.bump();
    }
    let mut each = |book: &mut Book,
                    property: &mut dyn FnMut(&mut Book, &mut Cursor<'_>) -> Result<bool, Trouble>,
                    of| {
        properties(book, &mut cur, of, property);
        for mut line in one.under() {
            properties(book, &mut line, of, property);
        }
    };
    match (word.as_str(), thing) {
        ("shop", _) => {
            book.shop.declared = Some(one.head().said());
            book.shop.title = title_of(&one.head(), "");
            each(book, &mut shop::shop_property, "shop");
        }
        (_, Some(Thing::Person(id))) => {
            each(book, &mut |book, cur| shop::person_property(book, id, cur), "person");
        }
        ("exchange", _) => {
            if let Err(trouble) = exchange::read(book, &mut cur) {
                book.troubles.push(trouble);
            }
            for mut line in one.under() {
                properties(book, &mut line, "exchange", &mut |_, _| Ok(false));
            }
        }
        (_, Some(Thing::Client(id))) => {
            each(book, &mut |book, cur| shop::client_property(book, id, cur), "client");
        }
        (_, Some(Thing::Circuit(id))) => {
            each(book, &mut |book, cur| place::circuit_property(book, id, cur), "circuit");
        }
        (_, Some(Thing::Event(id))) => {
            each(book, &mut |book, cur| place::event_property(book, id, cur), "event");
        }
        (_, Some(Thing::Gauge(id))) => {
            each(book, &mut |book, cur| place::gauge_property(book, id, cur), "gauge");
        }
        (_, Some(Thing::Car(id))) => each(book, &mut |book, cur| car::car_property(book, id, cur), "car"),
        (_, Some(Thing::Kind(id))) => each(book, &mut |book, cur| kind::kind_property(book, id, cur), "kind"),
        (_, Some(Thing::Part(id))) => {
            if part::part_kind(book, id, &mut cur) {
                properties(book, &mut cur, "part", &mut |book, cur| part::part_property(book, id, cur));
            }
            for mut line in one.under() {
                properties(book, &mut line, "part", &mut |book, cur| part::part_property(book, id, cur));
            }
        }
        (_, Some(Thing::Rule(id))) => {
            each(book, &mut |book, cur| rule::rule_property(book, id, cur), "rule");
            rule::complete(book, id);
        }
        (_, Some(Thing::Baseline(id))) => car::read_baseline(book, id, &mut cur),
        _ => {}
    }
}

/// Runs `property` over a line until it is read; one mistake ends the line.
fn properties(
    book: &mut Book,
    cur: &mut Cursor<'_>,
    of: &'static str,
    property: &mut dyn FnMut(&mut Book, &mut Cursor<'_>) -> Result<bool, Trouble>,
) {
    while let Some(word) = cur.peek() {
        if matches!(word.shape, Shape::Text | Shape::Comma) {
            cur.bump();
            continue;
        }
        match property(book, cur) {
            Ok(true) => {}
            Ok(false) => {
                let own = book.vocabulary.iter().map(|(_, quantity)| &*quantity.name).filter(|_| of == "car");
                let names = names_of(of).iter().copied().chain(own);
                let near = lowered(cur.str(word), |text| nearest(text, names));
                book.names.refuse(line_text(cur));
                book.trouble(cur.span(word), What::PropertyUnknown { of, near });
                return;
            }
            Err(trouble) => {
                // A position or a name that the rest of the line declares is not to be missed elsewhere; the name
                // that this message is about is.
                let line = cur.line();
                let text = |from: u32, to: u32| cur.text.get(from as usize..to as usize).unwrap_or_default();
                book.names.refuse(text(line.start, trouble.span.start));
                book.names.refuse(text(trouble.span.end, line.end));
                book.troubles.push(trouble);
                return;
            }
        }
    }
}

/// The properties a declaration has, for did-you-mean and messages.
#[must_use]
pub fn names_of(of: &str) -> &'static [&'static str] {
    match of {
        "shop" => &["currency", "zone", "rate"],
        "client" => &["rate", "unbilled"],
        "exchange" => &["from"],
        "rule" => &["class", "at", "min", "max", "from", "until", "with"],
        "person" => &["role"],
        "circuit" => &["length"],
        "event" => &["at", "entered", "zone", "sessions", "on"],
        "gauge" => &["reads", "resolution", "valid-until"],
        "car" => &[
            "client",
            "class",
            "units",
            "cylinders",
            "gears",
            "drive",
            "toe-over",
            "reference",
            "about",
            "every",
        ],
        "kind" => &[
            "fits",
            "on",
            "inside",
            "life",
            "valid",
            "safety",
            "gives",
            "carries",
            "clicks",
            "from",
            "one-use",
            "must",
            "consumable",
            "every",
            "failure-costs",
        ],
        "spec" => &["of", "price", "life", "valid", "tag"],
        "part" => &[
            "spec",
            "serial",
            "opening",
            "made",
            "serviced",
            "fitted",
            "valid-until",
            "tag",
            "price",
            "paid",
        ],
        // Its facts stand on the line that opens it.
        "job" => &["planned", "on-part", "promised", "until", "rate"],
        // The four verbs of money share theirs.
        "cost" => &["invoice", "split", "among", "rate", "unbilled"],
        "quantity" => &[
            "of",
            "area",
            "show",
            "usual",
            "possible",
            "disturbed-by",
            "needs",
            "pair",
            "triple",
            "counter",
            "relative",
            "supply",
        ],
        "figure" => &[
            "area",
            "show",
            "called",
            "step",
            "in-code",
            "is",
            "when",
            "must",
            "careful",
            "source",
            "convention",
            "plain",
            "inferred",
            "at",
        ],
        _ => &[],
    }
}

/// The clock of use that a unit word counts on: `min`, `days`, `launches`.
#[must_use]
pub fn clock_of(word: &str) -> Option<super::model::Clock> {
    kind::clock(word).map(|(clock, _)| clock)
}

/// Whether a word is a property of any declaration.
#[must_use]
pub fn is_property(word: &str) -> bool {
    // The words of a figure's lines (`is`, `when`, `source`) are ordinary ones elsewhere, and end no value there.
    DECLARATIONS.iter().filter(|of| **of != "figure").any(|of| is_name_of(of, word))
}

/// Whether a word is a property of that declaration, or a fact of that line.
#[must_use]
pub fn is_name_of(of: &str, word: &str) -> bool {
    names_of(of).iter().any(|name| word.eq_ignore_ascii_case(name))
}

/// A price after its property; a currency left out is said, and the shop's taken.
fn price(book: &mut Book, cur: &mut Cursor<'_>) -> Result<Amount, Trouble> {
    let (sum, slip) = sums::sum(cur, book.shop.currency, &is_property)?;
    book.troubles.extend(slip);
    Ok(sum)
}

/// What an hour of work costs, after its property.
fn hourly(book: &mut Book, cur: &mut Cursor<'_>) -> Result<Amount, Trouble> {
    let (sum, slip) = sums::rate(cur, book.shop.currency, &is_property)?;
    book.troubles.extend(slip);
    Ok(sum)
}

/// The words between quotes, or one word, after a property.
fn text_value(cur: &mut Cursor<'_>, property: &'static str) -> Result<String, Trouble> {
    match cur.peek() {
        Some(word) if word.shape != Shape::Comma && word.shape != Shape::Because => {
            cur.bump();
            let mut end = word;
            while cur.is_stuck(0) && cur.peek().is_some_and(|next| next.shape != Shape::Comma) {
                if let Some(next) = cur.peek() {
                    end = next;
                }
                cur.bump();
            }
            let whole = cur.text.get(word.start as usize..end.end() as usize).unwrap_or_default();
            Ok(unquote(whole).to_owned())
        }
        _ => Err(Trouble {
            span: cur.here(),
            what: What::PropertyValue { property, wants: "a word or quoted text" },
        }),
    }
}
