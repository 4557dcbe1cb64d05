//! Work that comes round again, in words.

use crate::Compiled;
use crate::book::model::{Clock, Work};
use crate::due::work::{Press, Round};
use crate::history::slots::Owner;
use crate::view::scale::Scale;
use crate::view::{Line, entry_date, entry_line, line};
use serde::Serialize;

/// One work on one part or car.
#[derive(Debug, Clone, Serialize)]
pub struct WorkView {
    /// The car.
    pub car: String,
    /// The part; empty for work on the car itself.
    pub part: String,
    /// What is to be done: `inspect`, `torque wheel-torque`.
    pub work: String,
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
    pub line: Line,
}

pub(super) fn view(compiled: &Compiled, round: &Round) -> WorkView {
    let book = &compiled.book;
    let amount = round.every.amount;
    let every = compiled.files.text(amount.typed).to_owned();
    let scale = Scale::typed(amount.clock, &every);
    let since = scale.told(round.since.value, round.since.at_least);
    let last = round.last.and_then(|entry| entry_date(compiled, entry));
    let done =
        last.as_ref().map_or_else(|| "never done in this book".to_owned(), |last| format!("last on {last}"));
    let how = match round.press {
        Press::Over => "over".to_owned(),
        Press::During => {
            let after = round.more.map_or_else(String::new, |more| scale.words(round.since.value + more));
            let by = round.due_on.map_or(after, |day| format!("on {day}"));
            if amount.clock == Clock::Months {
                format!("runs out {by}")
            } else {
                format!("{by} after the event")
            }
        }
        Press::Unknown => "not known to be within it".to_owned(),
    };
    WorkView {
        car: book.cars[round.car.0 as usize].named.typed.to_string(),
        part: match round.owner {
            Owner::Part(part) => book.parts[part.0 as usize].named.typed.to_string(),
            Owner::Car(_) => String::new(),
        },
        work: match round.every.work {
            Work::Part(verb) => verb.word().to_owned(),
            Work::Quantity(verb, quantity) => {
                format!("{} {}", verb.word(), book.vocabulary.get(quantity).name)
            }
        },
        press: round.press,
        last,
        due_on: round.due_on.map(|day| day.to_string()),
        text: format!("{since} of {every}, {how}; {done}"),
        line: round
            .last
            .and_then(|entry| entry_line(compiled, entry))
            .unwrap_or_else(|| line(compiled, round.every.typed)),
        since,
        every,
    }
}
