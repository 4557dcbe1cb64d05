//! `exchange`.

use super::place::{no_date, of_date};
use crate::book::Book;
use crate::book::dates::date;
use crate::book::model::Exchange;
use crate::book::sums;
use crate::book::trouble::{Trouble, What};
use crate::money::Currency;
use crate::money::exchange::Rate;
use crate::syntax::{Cursor, Shape};

/// `exchange GBP 1.1725 EUR from 2026-03-01 "the bank's, that morning"`.
pub(super) fn read(book: &mut Book, cur: &mut Cursor<'_>) -> Result<(), Trouble> {
    let wants = "two currencies with the rate between, and its day: `GBP 1.1725 EUR from 2026-03-01`";
    let missing = |cur: &Cursor<'_>| Trouble {
        span: cur.here(),
        what: What::PropertyValue { property: "exchange", wants },
    };
    let declared = cur.said();
    let Some(word) = cur.take(Shape::Word) else { return Err(missing(cur)) };
    let Some(from) = Currency::find(cur.str(word)) else {
        return Err(Trouble { span: cur.span(word), what: What::CurrencyBad });
    };
    if cur.peek().is_none_or(|word| word.shape != Shape::Number) {
        return Err(missing(cur));
    }
    let span = cur.here();
    // The shop's currency stands for none of the two: a rate without its second is no sum that lacks a code.
    let (rate, _) = sums::rate(cur, None, &|word| word.eq_ignore_ascii_case("from")).map_err(|trouble| {
        let half = trouble.what == What::CurrencyMissing(None);
        if half {
            Trouble { what: What::PropertyValue { property: "exchange", wants }, ..trouble }
        } else {
            trouble
        }
    })?;
    if rate.currency == from || rate.value.is_zero() {
        return Err(Trouble { span, what: What::PropertyValue { property: "exchange", wants } });
    }
    if !cur.take_keyword("from") {
        return Err(Trouble {
            span: cur.here(),
            what: What::PropertyValue {
                property: "exchange",
                wants: "`from` and the day from which it counts",
            },
        });
    }
    let Some(word) = cur.take(Shape::Date) else { return Err(no_date(cur, "exchange", "a date")) };
    let since =
        date(cur.str(word)).map_err(|trouble| Trouble { span: cur.span(word), what: of_date(trouble) })?;
    cur.take(Shape::Text);
    if !cur.is_done() {
        return Err(Trouble { span: cur.here(), what: What::WordUnexpected { near: None } });
    }
    let same = |known: &&Exchange| {
        known.rate.from == from && known.rate.to == rate.currency && known.rate.since == since
    };
    if let Some(known) = book.exchanges.iter().find(same) {
        if known.rate.rate == rate.value {
            return Ok(());
        }
        let (property, first) = ("exchange".to_owned(), known.declared);
        return Err(Trouble { span: declared, what: What::PropertyTwice { property, first } });
    }
    let rate = Rate { from, to: rate.currency, rate: rate.value, since };
    book.exchanges.push(Exchange { rate, declared });
    Ok(())
}
