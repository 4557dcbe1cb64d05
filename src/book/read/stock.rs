//! Lines about how many of a kind there are: `count` and `use`.
//!
//! Must not know how many there were.

use super::Reader;
use super::line::Reading;
use crate::book::clauses::kind_here;
use crate::book::entry::{PartFacts, Verb};
use crate::book::trouble::{Trouble, What};
use crate::book::verbs::StockVerb;
use crate::syntax::{Cursor, Shape};

impl Reader<'_> {
    /// `count nut 12`, `use nut 2 on j-3`.
    pub(super) fn stock_line(&self, reading: &mut Reading<'_>, verb: StockVerb) -> Result<(), Trouble> {
        let verb = Verb::from(verb).word();
        let kind = kind_here(&mut reading.cur, &self.book.names)?;
        // What was read before a mistake is kept: of this kind alone nobody knows how many there are.
        let facts = PartFacts { kind: Some(kind), ..PartFacts::default() };
        let facts = &mut *reading.extra.parts.insert(Box::new(facts));
        let count = how_many(&mut reading.cur).ok_or_else(|| Trouble {
            span: reading.cur.here(),
            what: What::Incomplete { verb, wants: "how many: a whole number" },
        })?;
        facts.count = Some(count);
        self.clauses(reading)
    }
}

/// A whole number here, with nothing stuck to it; moves past it.
pub(super) fn how_many(cur: &mut Cursor<'_>) -> Option<u32> {
    let word = cur.peek().filter(|word| word.shape == Shape::Number)?;
    let text = cur.str(word);
    let count = text.bytes().all(|byte| byte.is_ascii_digit()).then(|| text.parse().ok()).flatten()?;
    cur.bump();
    Some(count)
}
