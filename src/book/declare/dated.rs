//! `valid 5 years from made`, and the dates of labels: a day, a month or a year.
//!
//! Must not know what part they belong to.

use super::place::{no_date, of_date};
use crate::book::due_dates::Stated;
use crate::book::model::{Since, Valid};
use crate::book::trouble::{Trouble, What};
use crate::source::Span;
use crate::syntax::{Cursor, Shape};

/// Reads a date as labels have it after a property or a clause.
///
/// # Errors
/// When none follows, or there is no such day.
pub(in crate::book) fn stated(
    cur: &mut Cursor<'_>,
    property: &'static str,
) -> Result<(Stated, Span), Trouble> {
    let wants = "a day, a month or a year, such as 2026-12-31, 2026-12 or 2026";
    let date = cur.peek().filter(|word| matches!(word.shape, Shape::Date | Shape::Code | Shape::Number));
    let Some(word) = date else { return Err(no_date(cur, property, wants)) };
    let span = cur.span(word);
    let text = cur.str(word);
    // `2021-07` is a month; `7/2021` and `07.2021` are dates in another order, and say so.
    let shaped = text.split('-').enumerate().all(|(at, part)| {
        part.len() == if at == 0 { 4 } else { 2 } && part.bytes().all(|byte| byte.is_ascii_digit())
    });
    if !shaped {
        return Err(no_date(cur, property, wants));
    }
    cur.bump();
    Stated::parse(text)
        .map(|stated| (stated, span))
        .map_err(|trouble| Trouble { span, what: of_date(trouble) })
}

/// Reads `5 years from made`, or several with commas.
pub(super) fn valid(cur: &mut Cursor<'_>) -> Result<Vec<Valid>, Trouble> {
    let mut list = vec![one(cur)?];
    loop {
        let more = cur.peek().is_some_and(|word| word.shape == Shape::Comma)
            && cur.peek_at(1).is_some_and(|word| word.shape == Shape::Number);
        if !more {
            return Ok(list);
        }
        cur.bump();
        list.push(one(cur)?);
    }
}

fn one(cur: &mut Cursor<'_>) -> Result<Valid, Trouble> {
    let wrong = |cur: &Cursor<'_>| Trouble {
        span: cur.here(),
        what: What::PropertyValue {
            property: "valid",
            wants: "whole years or months, and from when: `5 years from made`, `24 months from serviced`, `from fitted`",
        },
    };
    let first = cur.here();
    let number = cur.peek().filter(|word| word.shape == Shape::Number);
    let number = number.and_then(|word| cur.str(word).parse::<u32>().ok()).filter(|n| (1..=1200).contains(n));
    let Some(number) = number else { return Err(wrong(cur)) };
    cur.bump();
    let each = if cur.take_keyword("years") || cur.take_keyword("year") {
        12
    } else if cur.take_keyword("months") || cur.take_keyword("month") {
        1
    } else {
        return Err(wrong(cur));
    };
    if !cur.take_keyword("from") {
        return Err(wrong(cur));
    }
    let last = cur.here();
    let since = [Since::Made, Since::Serviced, Since::Fitted].into_iter();
    let Some(since) = since.into_iter().find(|since| cur.take_keyword(since.word())) else {
        return Err(wrong(cur));
    };
    Ok(Valid { months: number * each, since, typed: first.to(last) })
}
