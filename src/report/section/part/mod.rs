//! A part's whole travel: what it is, its lives, every place it was in with its use there, what was in it, every line about it.
//!
//! Must not know other parts' lives.

mod inner;
mod travel;

use super::entry;
use super::frame::{self, Frame};
use super::link::Link;
use super::parts::{self, LifeLeft};
use crate::answer::lives::{LifeRow, row};
use crate::book::model::{Clock, PartId};
use crate::history::order::Rank;
use crate::lives::Life;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::teller::Teller;
use crate::report::words;
use crate::words::scale::Scale;
use inner::InnerPart;
use serde::Serialize;
use travel::PartStep;

/// A part's whole travel.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PartPage {
    /// Title and footer.
    pub frame: Frame,
    /// Its kind's page.
    pub kind: Option<Link>,
    /// What it is.
    pub facts: Vec<PartFact>,
    /// How far it is from its limits.
    pub left: Vec<LifeLeft>,
    /// Its lives.
    pub lives: Vec<LifeRow>,
    /// Where it was, in order.
    pub steps: Vec<PartStep>,
    /// What was built into it.
    pub inner: Vec<InnerPart>,
    /// Every line about it.
    pub lines: Vec<PartLine>,
}

/// A fact of a part.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PartFact {
    /// "spec", "serial", "now".
    pub word: String,
    /// What is said.
    pub text: String,
    /// Its line.
    pub src: String,
}

/// A line about a part.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PartLine {
    /// "18 April 2026".
    pub date: String,
    /// The car and the event it stands under; empty for shop work.
    pub under: String,
    /// Verb and words, as typed.
    pub text: String,
    /// The words after `because`.
    pub because: String,
    /// The line.
    pub src: String,
}

/// Makes the view; `None` for no part of the book.
pub(in crate::report) fn view(desk: &Desk<'_>, part: PartId) -> Option<PartPage> {
    let tell = desk.tell;
    let declared = tell.cx.book.parts.get(part)?;
    let kind = declared.kind.and_then(|kind| tell.cx.book.kinds.get(kind));
    let title = kind.map_or_else(String::new, |kind| kind.named.title.clone());
    let lives = tell.lives().of_part(part);
    let clock = declared.kind.map_or(Clock::Time, |kind| super::lives::clock(tell, kind));
    Some(PartPage {
        frame: frame::frame(tell, declared.named.typed.to_string(), title, None),
        kind: declared.kind.and_then(|kind| desk.table.link(Key::Kind(kind))),
        facts: facts(tell, part),
        left: left(tell, part),
        lives: lives.iter().map(|life| row(tell.compiled, life, clock)).collect(),
        steps: travel::steps(tell, part),
        inner: inner::inner(desk, part),
        lines: lines(tell, part),
    })
}

/// What is left of its limits; nothing for one that will not run here again.
fn left(tell: &Teller<'_>, part: PartId) -> Vec<LifeLeft> {
    let runs = tell.lives().now(part).is_some_and(Life::may_run);
    tell.until().filter(|_| runs).map_or_else(Vec::new, |on| parts::left(tell, part, Rank::END, on))
}

fn facts(tell: &Teller<'_>, part: PartId) -> Vec<PartFact> {
    let cx = &tell.cx;
    let Some(declared) = cx.book.parts.get(part) else { return Vec::new() };
    let here = || tell.src(declared.named.declared);
    let fact = |word: &str, text: String, src: String| PartFact { word: word.to_owned(), text, src };
    let mut facts = Vec::new();
    if declared.named.title != *declared.named.typed {
        facts.push(fact("called", declared.named.title.clone(), here()));
    }
    facts.push(fact("kind", cx.kind_of(part).replace('-', " "), here()));
    if let Some(spec) = declared.spec.and_then(|spec| cx.book.specs.get(spec)) {
        let typed = spec.named.typed.to_string();
        let text = if spec.named.title == typed { typed } else { format!("{typed}, {}", spec.named.title) };
        facts.push(fact("spec", text, tell.src(spec.named.declared)));
    }
    if !declared.serial.is_empty() {
        facts.push(fact("serial", declared.serial.clone(), here()));
    }
    for (quantity, text, unit, at) in parts::tags(tell, part) {
        let word = format!("tag, {}", cx.quantity(quantity).name.replace('-', " "));
        facts.push(fact(&word, format!("{text} {unit}"), tell.src(at)));
    }
    let scale = |clock| Scale::of_part(cx.book, cx.files, part, clock);
    let before: Vec<String> =
        declared.opening.iter().map(|amount| scale(amount.clock).words(amount.value)).collect();
    let before = match (before.is_empty(), declared.opening_new) {
        (false, _) => before.join(", "),
        (true, true) => "nothing, it was new".to_owned(),
        (true, false) => "not known".to_owned(),
    };
    facts.push(fact("already run when the book began", before, here()));
    let now = cx.history.parts.get(part).stays.last();
    let (text, src) = now.map_or_else(
        || ("declared; no line says where it is".to_owned(), here()),
        |stay| (travel::place(tell, stay, stay.from), tell.src_of(stay.entry)),
    );
    facts.push(fact("now", text, src));
    facts
}

/// The lines that name it, in the order of the book.
fn lines(tell: &Teller<'_>, part: PartId) -> Vec<PartLine> {
    let cx = &tell.cx;
    let lines = cx.history.parts.get(part).lines.iter();
    lines
        .filter_map(|index| {
            let line = tell.entry(*index)?;
            let head = cx.book.head(line)?;
            let mut under: Vec<&str> = head.car.map(|car| cx.car(car)).into_iter().collect();
            under.extend(head.event.map(|event| tell.event(event)));
            Some(PartLine {
                date: words::date(cx.history.day_of(cx.book, *index).unwrap_or(head.date)),
                under: under.join(" at "),
                text: format!("{} {}", line.verb.word(), entry::middle(tell, line, false)),
                because: tell.because(line).unwrap_or_default().to_owned(),
                src: tell.src(line.span()),
            })
        })
        .collect()
}
