//! What survives a mistake: for each verb, the clauses that only add to its fact, and those that change it.
//!
//! A bad clause that only adds (who, why, which job, who may read, by which gauge, under which conditions) leaves the fact
//! standing, and what it would have said is unknown. One that changes the fact (where, how much, which part, when, who pays)
//! leaves nothing that could be believed: the line is broken.
//!
//! Must not know how clauses are read, nor what is made of a line.

use super::clause::{Clause, ClauseSet};
use super::entry::Verb;
use super::trouble::Trouble;
use super::verbs::VerbGroup;

/// Whether a clause only adds to the fact of a verb's line.
#[must_use]
pub const fn only_adds(verb: Verb, clause: Clause) -> bool {
    let group = verb.group();
    match clause {
        Clause::By
        | Clause::For
        | Clause::Lap
        | Clause::FoundBy
        | Clause::Mode
        | Clause::Mechanism
        | Clause::Cause => true,
        // The reason is the whole of an answer to a check.
        Clause::Because => !matches!(group, VerbGroup::Waive),
        // A job says which car a sum belongs to, and at what rate.
        Clause::On => !matches!(group, VerbGroup::Cost),
        // The other parts that were sold or renewed.
        Clause::With => !matches!(verb, Verb::Sell | Verb::Rebuild),
        Clause::Over => !is_value(group),
        Clause::At => !(is_value(group) || matches!(group, VerbGroup::Cost | VerbGroup::Job(_))),
        // An impact happened where its line stands; the words and answers under a line do when that does.
        Clause::During => matches!(group, VerbGroup::Hit) || is_words(group),
        Clause::After => is_words(group),
        Clause::From => !(is_value(group) || matches!(group, VerbGroup::Part(_) | VerbGroup::Cost)),
        Clause::To => {
            !(is_value(group) || matches!(group, VerbGroup::Part(_) | VerbGroup::Cost | VerbGroup::Job(_)))
        }
        // A word of the line of an assembly, and of no other.
        Clause::Into => stray(verb),
    }
}

/// Whether a word that is no clause leaves the fact standing: it is said in full before any such word.
#[must_use]
pub const fn stray(verb: Verb) -> bool {
    matches!(verb.group(), VerbGroup::Hit | VerbGroup::Words | VerbGroup::Void)
}

const fn is_value(group: VerbGroup) -> bool {
    matches!(group, VerbGroup::Setting(_) | VerbGroup::Bench | VerbGroup::Compare | VerbGroup::Row(_))
}

const fn is_words(group: VerbGroup) -> bool {
    matches!(group, VerbGroup::Words | VerbGroup::Waive | VerbGroup::Void | VerbGroup::Laps | VerbGroup::Note)
}

/// What a line may survive, and the first mistake that it did.
#[derive(Debug, Default)]
pub struct Side {
    /// The clauses that only add to it.
    pub adds: ClauseSet,
    /// Whether a word that is no clause only adds to it.
    pub stray: bool,
    /// Whether parts, cars and kinds are words of its own, so that a clause's missing name is not one of them.
    pub names_things: bool,
    /// Its mistake, which is said; the line is believed without it.
    pub mistake: Option<Trouble>,
}

impl Side {
    /// That of a verb.
    #[must_use]
    pub fn of(verb: Verb) -> Self {
        let mut adds = ClauseSet::NONE;
        for clause in Clause::ALL.into_iter().filter(|clause| only_adds(verb, *clause)) {
            adds.add(clause);
        }
        let names_things = matches!(verb.group(), VerbGroup::Part(_));
        Self { adds, stray: stray(verb), names_things, mistake: None }
    }

    /// Notes a mistake; one line has one message.
    pub fn forgive(&mut self, trouble: Trouble) {
        self.mistake.get_or_insert(trouble);
    }
}
