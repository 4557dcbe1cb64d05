//! Sums of money as typed: a number, then the code of its currency.
//!
//! Must not know who pays, nor any rate.

use super::trouble::{Trouble, What};
use crate::money::{Amount, Currency, Slip};
use crate::source::Span;
use crate::syntax::{Cursor, Shape};

/// A sum, and the mistake that does not keep it from being counted: its currency left out, where the shop has one.
pub type Typed = (Amount, Option<Trouble>);

/// Reads `38.00 EUR` and moves past it. `goes_on` says which words may follow a sum, so that one of them is not taken for
/// its currency.
///
/// # Errors
/// What is wrong with it.
pub fn sum(
    cur: &mut Cursor<'_>,
    shop: Option<Currency>,
    goes_on: &dyn Fn(&str) -> bool,
) -> Result<Typed, Trouble> {
    typed(cur, shop, goes_on, Amount::read)
}

/// Reads a rate or a price of one, which may be finer than the currency's minor unit.
///
/// # Errors
/// What is wrong with it.
pub fn rate(
    cur: &mut Cursor<'_>,
    shop: Option<Currency>,
    goes_on: &dyn Fn(&str) -> bool,
) -> Result<Typed, Trouble> {
    typed(cur, shop, goes_on, Amount::read_rate)
}

fn typed(
    cur: &mut Cursor<'_>,
    shop: Option<Currency>,
    goes_on: &dyn Fn(&str) -> bool,
    read: fn(&str, Currency) -> Result<Amount, Slip>,
) -> Result<Typed, Trouble> {
    let Some(number) = cur.take(Shape::Number) else {
        return Err(Trouble { span: cur.here(), what: What::CurrencyBad });
    };
    let span = cur.span(number);
    if let (Some(comma), Some(more)) = (cur.peek(), cur.peek_at(1))
        && comma.shape == Shape::Comma
        && more.shape == Shape::Number
    {
        let what = What::Syntax(crate::syntax::Mistake::DecimalComma);
        return Err(Trouble { span: span.to(cur.span(more)), what });
    }
    if let Some(comma) = cur.peek().filter(|word| word.shape == Shape::Comma)
        && cur.peek_at(1).is_some_and(|next| Currency::find(cur.str(next)).is_some())
    {
        // `20.00, EUR`: the currency is there, and the comma is what is wrong.
        return Err(Trouble { span: cur.span(comma), what: What::WordUnexpected { near: None } });
    }
    let next = cur.peek().filter(|word| word.shape == Shape::Word);
    let code = next.map_or("", |word| cur.str(word));
    let mut slip = None;
    let currency = match (Currency::find(code), shop) {
        (Some(currency), _) => {
            cur.bump();
            currency
        }
        (None, _) if !code.is_empty() && !goes_on(code) => {
            return Err(Trouble { span: cur.here(), what: What::CurrencyBad });
        }
        (None, Some(currency)) => {
            slip = Some(Trouble { span, what: What::CurrencyMissing(shop) });
            currency
        }
        (None, None) => return Err(Trouble { span, what: What::CurrencyMissing(None) }),
    };
    let amount = read(cur.str(number), currency).map_err(|slip| of_slip(span, slip))?;
    Ok((amount, slip))
}

/// A slip of the number as the book's trouble.
#[must_use]
pub fn of_slip(span: Span, slip: Slip) -> Trouble {
    let what = match slip {
        Slip::Number => What::NumberBad,
        Slip::Negative => What::SumNegative,
        Slip::TooFine(currency) => What::SumTooFine(currency),
    };
    Trouble { span, what }
}
