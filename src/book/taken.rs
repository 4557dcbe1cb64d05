//! Which clauses a line of a verb takes, and what kind of thing each of them is: one table, asked before a clause is read.
//!
//! A clause that the line does not take is a mistake at its words, never swallowed: `paid 200.00 EUR from moor` is nobody's payment from
//! moor, and `set bar-hole rear 4 from 3` no change that was checked. What a verb reads itself (`sell ... to CLIENT`, `strip ... from PART`)
//! never comes here. Must not know how a clause is read, nor what survives a mistake in it (`side`).

use super::clause::{Clause, ClauseSet};
use super::entry::Verb;
use super::names::{Names, Thing, nearest};
use super::trouble::{Trouble, What};
use super::verbs::{PartVerb, VerbGroup};
use crate::syntax::{Cursor, Shape, Word};

/// The ends of travel that clicks are counted from.
const ENDS: [&str; 2] = ["full-hard", "full-soft"];

/// Whether a line of the verb takes a clause.
#[must_use]
pub const fn takes(verb: Verb, clause: Clause) -> bool {
    let group = verb.group();
    let values = group.is_of_values();
    let money = matches!(group, VerbGroup::Cost | VerbGroup::Handed | VerbGroup::Job(_));
    match clause {
        Clause::By | Clause::For | Clause::Because | Clause::On => true,
        Clause::With => !money && !matches!(group, VerbGroup::Stock(_) | VerbGroup::Result),
        // Where toe is measured, and the pressure that a reading was taken at.
        Clause::Over | Clause::At => values,
        Clause::During | Clause::After => {
            let paper = matches!(group, VerbGroup::Cost | VerbGroup::Handed);
            !paper && !matches!(group, VerbGroup::Run | VerbGroup::Stretch(_) | VerbGroup::Result)
        }
        Clause::Lap => {
            matches!(group, VerbGroup::Part(PartVerb::Failed) | VerbGroup::Hit | VerbGroup::Words)
        }
        // From whom it came, and from which end clicks are counted.
        Clause::From => {
            values
                || matches!(verb, Verb::Cost | Verb::Credit)
                || matches!(group, VerbGroup::Part(PartVerb::Buy))
        }
        Clause::To => matches!(group, VerbGroup::Part(PartVerb::Sell)),
        Clause::Into => false,
        Clause::FoundBy | Clause::Mode | Clause::Mechanism | Clause::Cause => {
            matches!(group, VerbGroup::Part(_) | VerbGroup::Hit)
        }
    }
}

/// All that a line of the verb takes.
#[must_use]
pub fn of(verb: Verb) -> ClauseSet {
    let mut set = ClauseSet::NONE;
    for clause in Clause::ALL.into_iter().filter(|clause| takes(verb, *clause)) {
        set.add(clause);
    }
    set
}

/// Whether `from` says which end clicks are counted from, and nothing else.
#[must_use]
pub const fn from_is_an_end(verb: Verb) -> bool {
    takes(verb, Clause::From) && !matches!(verb.group(), VerbGroup::Cost | VerbGroup::Part(_))
}

/// Whether `by` may name a gauge: on lines of something that is read.
#[must_use]
pub const fn by_gauge(verb: Verb) -> bool {
    let group = verb.group();
    group.is_of_values()
        || matches!(group, VerbGroup::Part(PartVerb::Inspect | PartVerb::Service | PartVerb::Failed))
}

/// Whether `by` may name a client: one who drives stands there like a person; on a line about money he would be whoever pays.
#[must_use]
pub const fn by_client(verb: Verb) -> bool {
    !matches!(verb, Verb::Paid | Verb::Cost | Verb::Credit | Verb::Quote)
}

/// What is wrong with a clause that the line does not take; the cursor stands at its keyword.
#[must_use]
pub fn not_taken(cur: &Cursor<'_>, names: &Names, verb: Verb, clause: Clause) -> Trouble {
    let next = argument(cur);
    let said = next.map_or("", |next| cur.str(next));
    let mut span = cur.here();
    if let Some(next) = next {
        span = span.to(cur.span(next));
    }
    let before = cur.before().filter(|word| word.shape == Shape::Number);
    let cure = match (clause, before, next) {
        (Clause::From | Clause::To, Some(value), Some(old))
            if old.shape == Shape::Number && verb.has_values() =>
        {
            let value_said = cur.str(value);
            span = cur.span(value).to(span);
            Some(if clause == Clause::To {
                format!("`{value_said} -> {said}`")
            } else {
                format!("`{said} -> {value_said}`")
            })
        }
        _ => instead(names, verb, clause, said),
    };
    Trouble { span, what: What::ClauseNotTaken { clause: clause.word(), verb: verb.word(), cure } }
}

/// What is wrong with a `from` of a setting that names no end; the cursor stands behind `from`.
#[must_use]
pub fn no_end(cur: &Cursor<'_>, from: Word, names: &Names, verb: Verb) -> Trouble {
    let said = cur.peek().filter(|word| word.shape != Shape::Comma);
    let text = said.map_or("", |word| cur.str(word));
    let span = said.map_or(cur.span(from), |word| cur.span(from).to(cur.span(word)));
    let cure = match nearest(text, ENDS.into_iter()) {
        Some(near) => Some(format!("`from {near}`")),
        None if names.find(text).is_some() || text.is_empty() => instead(names, verb, Clause::From, text),
        None => Some("`from full-hard` or `from full-soft`".to_owned()),
    };
    Trouble { span, what: What::ClauseNotTaken { clause: "from", verb: verb.word(), cure } }
}

/// The first word of a clause's argument, from its keyword on.
fn argument(cur: &Cursor<'_>) -> Option<Word> {
    let next = cur.peek_at(1)?;
    let ends = matches!(next.shape, Shape::Because | Shape::Comma)
        || next.shape == Shape::Word && Clause::find(cur.str(next)).is_some();
    (!ends).then_some(next)
}

/// What was meant, as it is typed.
fn instead(names: &Names, verb: Verb, clause: Clause, said: &str) -> Option<String> {
    let thing = names.find(said);
    let place = names.place(said).is_some();
    let car = matches!(thing, Some(Thing::Car(_)));
    let who = thing.is_some_and(|thing| names.person(thing).is_some());
    let client = matches!(thing, Some(Thing::Client(_)));
    let date = said.starts_with(|first: char| first.is_ascii_digit()) && said.contains('-');
    let is = |verbs: &[Verb], clauses: &[Clause]| verbs.contains(&verb) && clauses.contains(&clause);
    let on_a_part =
        [Verb::Fit, Verb::Remove, Verb::Swap, Verb::Failed, Verb::Inspect, Verb::Service].contains(&verb);
    let ways = [Clause::From, Clause::To, Clause::Into];
    if is(&[Verb::Paid], &[Clause::From, Clause::To, Clause::By]) && client {
        Some(format!("`paid {said}`, then the sum"))
    } else if is(&[Verb::Service], &[Clause::To]) && date {
        Some(format!("`until {said}`"))
    } else if is(&[Verb::Lend], &[Clause::From, Clause::Into]) && who {
        Some(format!("`to {said}`"))
    } else if is(&[Verb::Build], &[Clause::To, Clause::On]) {
        Some(format!("`into {said}`"))
    } else if is(&[Verb::Borrow], &[Clause::To, Clause::Into]) && who
        || is(&[Verb::Strip], &[Clause::To, Clause::Into])
    {
        Some(format!("`from {said}`"))
    } else if is(&[Verb::Move], &[Clause::To, Clause::Into]) && (car || place) {
        Some(format!("`-> {said}`"))
    } else if on_a_part && (ways.contains(&clause) || clause == Clause::At) && (car || place) {
        Some(format!("`{said}`, without a word before it"))
    } else if verb.has_values() && ways.contains(&clause) {
        Some("`old -> new`, the arrow between them".to_owned())
    } else {
        (clause == Clause::From && who).then(|| format!("`by {said}`"))
    }
}
