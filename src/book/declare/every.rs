//! `every N UNIT WORK`: work that comes round again, of a kind or a car.
//!
//! Must not know when it was last done.

use super::clock::use_amounts;
use super::place::quantity_here;
use crate::book::Book;
use crate::book::entry::Verb;
use crate::book::model::{Every, Work};
use crate::book::trouble::{Trouble, What};
use crate::syntax::{Cursor, Shape};

/// Work on a part: its line names the part.
const ON_PARTS: [Verb; 3] = [Verb::Inspect, Verb::Rebuild, Verb::Bench];
/// Work on a car: its line names a quantity.
const ON_CARS: [Verb; 4] = [Verb::Torque, Verb::Recheck, Verb::Fill, Verb::Read];

/// Reads what stands after `every`: one amount or several (the first reached counts), then the work.
pub(super) fn every(book: &Book, cur: &mut Cursor<'_>, of_car: bool) -> Result<Vec<Every>, Trouble> {
    let first = cur.here();
    let amounts = use_amounts(cur, "every")?;
    let wants = if of_car {
        "the work: `torque`, `recheck`, `fill` or `read`, and a quantity"
    } else {
        "the work: `inspect`, `rebuild` or `bench`; or `torque`, `recheck`, `fill` or `read`, and a quantity"
    };
    let wrong = |cur: &Cursor<'_>| Trouble {
        span: cur.here(),
        what: What::PropertyValue { property: "every", wants },
    };
    if amounts.iter().any(|amount| amount.value <= 0.0) {
        let what = What::PropertyValue { property: "every", wants: "more than nothing" };
        return Err(Trouble { span: first, what });
    }
    let Some(word) = cur.take(Shape::Word) else { return Err(wrong(cur)) };
    let verb =
        |list: &[Verb]| list.iter().copied().find(|verb| verb.word().eq_ignore_ascii_case(cur.str(word)));
    let (part, quantity) = (verb(&ON_PARTS).filter(|_| !of_car), verb(&ON_CARS));
    let work = match (part, quantity) {
        (Some(verb), _) => Work::Part(verb),
        (None, Some(verb)) => {
            let quantity = quantity_here(book, cur)?;
            cur.bump();
            Work::Quantity(verb, quantity)
        }
        (None, None) => {
            let what = What::PropertyValue { property: "every", wants };
            return Err(Trouble { span: cur.span(word), what });
        }
    };
    let last = cur.before().map_or(first, |word| cur.span(word));
    Ok(amounts.into_iter().map(|amount| Every { amount, work, typed: first.to(last) }).collect())
}
