//! What is wrong in the book, as far as it belongs to this page.
//!
//! Must not know any particular check.

use crate::book::model::CarId;
use crate::diagnostics::Diagnostic;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;
use std::fmt::Write as _;

/// One message.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownProblem {
    /// Its number on this page, for marks.
    pub number: usize,
    /// "error", "warning", "note".
    pub severity: &'static str,
    /// The check's name.
    pub check: &'static str,
    /// What is wrong.
    pub message: String,
    /// The shortest cure, or empty.
    pub cure: String,
    /// The date of its block, or empty.
    pub date: String,
    /// Its line.
    pub src: String,
    /// The other lines it quarrels with.
    pub also: String,
}

/// A page's problems, and the number of each of the book's messages on the page.
#[derive(Debug, Clone, Default)]
pub(in crate::report) struct Problems {
    pub(in crate::report) list: Vec<ShownProblem>,
    numbers: std::collections::BTreeMap<usize, usize>,
}

/// A mark in place: the number of the problem, and its severity's word.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ProblemMark {
    /// Number on this page.
    pub number: usize,
    /// The severity's word.
    pub word: &'static str,
    /// What is wrong.
    pub message: String,
}

impl Problems {
    /// The marks of a line.
    pub(in crate::report) fn marks(&self, tell: &Teller<'_>, span: crate::source::Span) -> Vec<ProblemMark> {
        tell.messages(span)
            .iter()
            .filter_map(|index| {
                let number = *self.numbers.get(index)?;
                let one = self.list.get(number.checked_sub(1)?)?;
                Some(ProblemMark { number, word: one.severity, message: one.message.clone() })
            })
            .collect()
    }
}

/// The problems of a car's lines that `keep` keeps.
pub(in crate::report) fn of_car(
    tell: &Teller<'_>,
    car: CarId,
    keep: impl Fn(Option<jiff::civil::Date>) -> bool,
) -> Problems {
    let mut problems = Problems::default();
    for (index, one) in tell.messages_of(car) {
        let date = one.at.as_ref().and_then(|mark| tell.date_at(mark.span));
        if keep(date) {
            problems.list.push(problem(tell, one, problems.list.len() + 1));
            problems.numbers.insert(index, problems.list.len());
        }
    }
    problems
}

/// The problems of the book as a whole: those of no car.
pub(in crate::report) fn of_book(tell: &Teller<'_>) -> Vec<ShownProblem> {
    tell.messages_of_book().enumerate().map(|(at, (_, one))| problem(tell, one, at + 1)).collect()
}

fn problem(tell: &Teller<'_>, one: &Diagnostic, number: usize) -> ShownProblem {
    let span = one.at.as_ref().map(|mark| mark.span);
    let mut message = one.message.clone();
    if one.times > 1 {
        let _ = write!(message, " And {} more like it.", one.times - 1);
    }
    ShownProblem {
        number,
        severity: one.severity.word(),
        check: one.check,
        message,
        cure: one.cure.clone().unwrap_or_default(),
        date: span.and_then(|span| tell.date_at(span)).map_or_else(String::new, words::date),
        src: span.map_or_else(String::new, |span| tell.src(span)),
        also: crate::report::sources::lines(tell.cx.files, one.also.iter().map(|mark| mark.span)),
    }
}
