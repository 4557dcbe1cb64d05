//! What is wrong with a date.
//!
//! Must not know what it is the date of.

use crate::book::dates::DateTrouble;
use crate::book::trouble::{Trouble, What};
use crate::syntax::{Cursor, Mistake, looks_like_a_date};

/// What is wrong where a date must stand and none does: perhaps one in another order.
pub(in crate::book) fn no_date(cur: &Cursor<'_>, property: &'static str, wants: &'static str) -> Trouble {
    let order = cur.peek().is_some_and(|word| looks_like_a_date(cur.str(word)));
    let what = if order { What::Syntax(Mistake::DateOrder) } else { What::PropertyValue { property, wants } };
    Trouble { span: cur.here(), what }
}

/// A date's trouble as the book's.
pub(in crate::book) const fn of_date(trouble: DateTrouble) -> What {
    match trouble {
        DateTrouble::Impossible(days) => What::DateImpossible { days },
        DateTrouble::Backward => What::DatesBackward,
    }
}
