//! Work that comes round again, in words.

use crate::Compiled;
use crate::answer::{LedgerLine, dates, entry_line, line};
use crate::book::model::{Clock, Work};
use crate::book::names::Thing;
use crate::due::Due;
use crate::due::work::{Press, Round};
use crate::history::slots::Owner;
use crate::words::scale::Scale;
use serde::Serialize;
use std::collections::BTreeSet;

/// One work on one part or car.
#[derive(Debug, Clone, Serialize)]
pub struct WorkView {
    /// The car.
    pub car: String,
    /// The part; empty for work on the car itself.
    pub part: String,
    /// What is to be done: `inspect`, `torque wheel-torque`.
    pub work: String,
    /// The same in words: "inspect", "wheel torque", "fill brake fluid".
    pub what: String,
    /// After how much: `300 min`.
    pub every: String,
    /// How pressing.
    pub press: Press,
    /// Use since it was last done.
    pub since: String,
    /// The day it was last done; null for never in this book.
    pub last: Option<String>,
    /// On the calendar: the day it runs to.
    pub due_on: Option<String>,
    /// In words.
    pub text: String,
    /// The line that did it last, else the one that asks for it.
    pub line: LedgerLine,
}

/// What comes round again on a planned car, or on a part of a kind that is on one, and stands in a declaration that could not be read.
pub(super) fn unread(compiled: &Compiled, made: &Due) -> Vec<WorkView> {
    let book = &compiled.book;
    let lost = |of: Thing| book.unread.has(Some(of), "every");
    let cars = made.plan.cars.iter().map(|one| (one.car, None));
    let kinds: BTreeSet<_> = made.rows.iter().map(|row| (row.fitted.car, Some(row.fitted.kind))).collect();
    let all = cars.chain(kinds).filter_map(|(car, kind)| {
        let named = match kind {
            Some(kind) => &book.kinds.get(kind).filter(|_| lost(Thing::Kind(kind)))?.named,
            None => &book.cars.get(car).filter(|_| lost(Thing::Car(car)))?.named,
        };
        Some(WorkView {
            car: compiled.context().car(car).to_owned(),
            part: kind.map_or_else(String::new, |_| format!("of a {}", named.typed)),
            work: String::new(),
            what: "what comes round again".to_owned(),
            every: String::new(),
            press: Press::Unknown,
            since: String::new(),
            last: None,
            due_on: None,
            text: "it could not be read: whether it is due is not known".to_owned(),
            line: line(compiled, named.declared),
        })
    });
    all.collect()
}

pub(super) fn view(compiled: &Compiled, round: &Round) -> WorkView {
    let book = &compiled.book;
    let amount = round.every.amount;
    let typed = compiled.files.text(amount.typed).trim();
    let scale = Scale::typed(amount.clock, typed);
    // Not every reader may have the line that asks for it.
    let every = if typed.is_empty() { scale.words(amount.value) } else { typed.to_owned() };
    let since = scale.told(round.since.value, round.since.at_least);
    let now = match round.since.at_least {
        true if round.since.value <= 0.0 => since.clone(),
        true => format!("at least {}", scale.digits(round.since.value)),
        false => scale.digits(round.since.value),
    };
    let last = round.last.and_then(|entry| compiled.context().date(entry));
    let done = last.map_or_else(
        || "never done in this book".to_owned(),
        |last| format!("last on {}", dates::date(last)),
    );
    let how = match round.press {
        Press::Over => "over".to_owned(),
        Press::During => {
            let after = round.more.map_or_else(String::new, |more| scale.digits(round.since.value + more));
            let by = round.due_on.map_or(after, |day| format!("on {}", dates::date(day)));
            if amount.clock == Clock::Months {
                format!("runs out {by}")
            } else {
                format!("{by} after the event")
            }
        }
        Press::Unknown => "not known to be within it".to_owned(),
    };
    WorkView {
        car: book.cars[round.car].named.typed.to_string(),
        part: match round.owner {
            Owner::Part(part) => book.parts[part].named.typed.to_string(),
            Owner::Car(_) => String::new(),
        },
        work: match round.every.work {
            Work::Part(verb) => verb.word().to_owned(),
            Work::Quantity(verb, quantity) => {
                format!("{} {}", verb.word(), book.vocabulary.get(quantity).name)
            }
        },
        what: words(compiled, round.every.work),
        press: round.press,
        last: last.map(|day| day.to_string()),
        due_on: round.due_on.map(|day| day.to_string()),
        text: format!("due every {every}: {now} now, {how}; {done}"),
        line: round
            .last
            .and_then(|entry| entry_line(compiled, entry))
            .unwrap_or_else(|| line(compiled, round.every.typed)),
        since,
        every,
    }
}

/// "inspect", "fill brake fluid"; "wheel torque", since who torques wheels says the word once.
fn words(compiled: &Compiled, work: Work) -> String {
    match work {
        Work::Part(verb) => verb.word().to_owned(),
        Work::Quantity(verb, quantity) => {
            let name = compiled.book.vocabulary.get(quantity).name.replace('-', " ");
            if name.split(' ').any(|word| word == verb.word()) {
                name
            } else {
                format!("{} {name}", verb.word())
            }
        }
    }
}
