//! The words of `lend`, `borrow` and `return`: to or from whom, until when, on approval, what it ran away.
//!
//! Must not know where the part is.

use super::Reader;
use crate::book::clauses;
use crate::book::declare::use_amounts;
use crate::book::entry::{PartFacts, Verb};
use crate::book::loan::{UseAway, Whom};
use crate::book::names::Thing;
use crate::book::trouble::{Trouble, What};
use crate::book::verbs::PartVerb;
use crate::source::Span;
use crate::syntax::{Cursor, Shape};

impl Reader<'_> {
    /// One word of such a line; `false` leaves it to the other words of a part's line.
    pub(super) fn loan_word(
        &self,
        cur: &mut Cursor<'_>,
        verb: PartVerb,
        facts: &mut PartFacts,
    ) -> Result<bool, Trouble> {
        let away = matches!(verb, PartVerb::Lend | PartVerb::Borrow);
        if !away && verb != PartVerb::Return {
            return Ok(false);
        }
        let loan = facts.loan.get_or_insert_with(Box::default);
        let opens = if verb == PartVerb::Lend { "to" } else { "from" };
        let approval = cur.peek_at(1).is_some_and(|next| cur.str(next).eq_ignore_ascii_case("approval"));
        if away && cur.take_keyword(opens) {
            let (whom, span) = self.whom(cur, verb)?;
            (loan.whom, loan.whom_span) = (Some(whom), Some(span));
        } else if away && cur.take_keyword("until") {
            loan.until = Some(self.until(cur, "until", false)?);
        } else if verb == PartVerb::Borrow && approval && cur.take_keyword("on") {
            cur.bump();
            loan.approval = true;
        } else if verb == PartVerb::Return && loan.away != UseAway::Unsaid && says_use(cur) {
            // `ran 95 min unused`.
            let what = What::Incomplete { verb: "return", wants: "what it ran, or `unused`, and not both" };
            return Err(Trouble { span: cur.here(), what });
        } else if verb == PartVerb::Return && cur.take_keyword("unused") {
            loan.away = UseAway::Unused;
        } else if verb == PartVerb::Return && cur.take_keyword("ran") {
            loan.away = UseAway::Ran(use_amounts(cur, "ran")?);
        } else if away && loan.whom.is_none() && self.names_whom(cur) {
            // `lend gv-1 imre`
            return Err(Trouble {
                span: cur.here(),
                what: What::Incomplete { verb: Verb::from(verb).word(), wants: wants(verb) },
            });
        } else {
            return Ok(false);
        }
        Ok(true)
    }

    fn names_whom(&self, cur: &Cursor<'_>) -> bool {
        let thing = cur.peek().and_then(|word| self.book.names.find(cur.str(word)));
        thing.is_some_and(|thing| matches!(thing, Thing::Client(_) | Thing::Person(_)))
    }

    /// A client, a person, or quoted words.
    fn whom(&self, cur: &mut Cursor<'_>, verb: PartVerb) -> Result<(Whom, Span), Trouble> {
        let span = cur.here();
        if cur.take(Shape::Text).is_some() {
            return Ok((Whom::Words(span), span));
        }
        let whom = clauses::look_up(cur, &self.book.names, "client or person", |thing| match thing {
            Thing::Client(client) => Some(Whom::Client(client)),
            Thing::Person(person) => Some(Whom::Person(person)),
            _ => None,
        });
        let whom = whom.map_err(|trouble| match trouble.what {
            What::NameMissing(_) => Trouble {
                span,
                what: What::Incomplete {
                    verb: Verb::from(verb).word(),
                    wants: "whom: a client, a person, or a name in quotes",
                },
            },
            _ => trouble,
        })?;
        cur.bump();
        Ok((whom, span))
    }
}

/// Whether the next word says what a part ran.
fn says_use(cur: &Cursor<'_>) -> bool {
    let is = |word: &str| cur.peek().is_some_and(|next| cur.str(next).eq_ignore_ascii_case(word));
    is("ran") || is("unused")
}

/// What such a line wants besides its part.
pub(super) fn wants(verb: PartVerb) -> &'static str {
    if verb == PartVerb::Lend {
        "`to` and whom: a client, a person, or a name in quotes"
    } else {
        "`from` and whom: a client, a person, or a name in quotes"
    }
}
