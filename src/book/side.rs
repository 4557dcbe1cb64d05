//! What survives a mistake: for each verb, the clauses that only add to its fact, and those that change it.
//!
//! A bad clause that only adds (who, why, which job, who may read, by which gauge, under which conditions) leaves the fact
//! standing, and what it would have said is unknown: where nothing of the rest of the line can be anything else than what it was
//! (`skip`). One that changes the fact (where, how much, which part, when, who pays) leaves nothing that could be believed: the
//! line is broken. Lines of money, of jobs and of pages handed out survive none.
//!
//! Must not know how clauses are read, nor what is made of a line.

use super::clause::{Clause, ClauseSet};
use super::entry::Verb;
use super::taken;
use super::trouble::Trouble;
use super::verbs::{LAP_MARKS, PartVerb, VerbGroup};

/// The words of a result.
pub const RESULT: [&str; 8] =
    ["grid", "finish", "class", "laps-down", "penalty", "points", "prize", "retired"];

/// Whether a clause only adds to the fact of a verb's line.
#[must_use]
pub const fn only_adds(verb: Verb, clause: Clause) -> bool {
    let group = verb.group();
    if is_money(group) {
        return false;
    }
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
        Clause::On => true,
        // The other parts that were renewed.
        Clause::With => !matches!(verb, Verb::Rebuild),
        Clause::Over => !group.is_of_values(),
        Clause::At => !group.is_of_values(),
        // An impact happened where its line stands; the words and answers under a line do when that does.
        Clause::During => matches!(group, VerbGroup::Hit) || is_words(group),
        Clause::After => is_words(group),
        Clause::From | Clause::To => !(group.is_of_values() || matches!(group, VerbGroup::Part(_))),
        // A word of the line of an assembly, and of no other.
        Clause::Into => stray(verb),
    }
}

/// Whether a word that is no clause leaves the fact standing: it is said in full before any such word.
#[must_use]
pub const fn stray(verb: Verb) -> bool {
    matches!(verb.group(), VerbGroup::Hit | VerbGroup::Words | VerbGroup::Void)
}

/// Whose money a sum is, and how much, or to whom a page went, may hang on any word of such a line.
const fn is_money(group: VerbGroup) -> bool {
    matches!(
        group,
        VerbGroup::Cost
            | VerbGroup::Handed
            | VerbGroup::Result
            | VerbGroup::Job(_)
            | VerbGroup::Part(PartVerb::Buy | PartVerb::Sell | PartVerb::Borrow)
    )
}

/// Words besides names and clauses that are facts of a verb's lines.
const fn own_words(group: VerbGroup) -> &'static [&'static str] {
    match group {
        VerbGroup::Setting(_) | VerbGroup::Bench | VerbGroup::Row(_) => {
            &["each", "total", "inner", "outer", "radius", "pitch-in", "pitch-out"]
        }
        VerbGroup::Compare => &["reference"],
        VerbGroup::Part(_) => &["until", "invoice", "approval", "ran", "unused"],
        VerbGroup::Run => &["best", "lap", "laps", "launch", "launches", "heat-cycle", "heat-cycles", "road"],
        VerbGroup::Stretch(_) => &["best", "lap", "laps", "road"],
        VerbGroup::Laps => &LAP_MARKS,
        VerbGroup::Result => &RESULT,
        VerbGroup::Correct => &["each", "total"],
        VerbGroup::Try => &["each", "total", "order"],
        VerbGroup::Hit
        | VerbGroup::Words
        | VerbGroup::Waive
        | VerbGroup::Void
        | VerbGroup::Job(_)
        | VerbGroup::Cost
        | VerbGroup::Stock(_)
        | VerbGroup::Handed
        | VerbGroup::Note => &[],
    }
}

const fn is_words(group: VerbGroup) -> bool {
    matches!(group, VerbGroup::Words | VerbGroup::Waive | VerbGroup::Void | VerbGroup::Laps | VerbGroup::Note)
}

/// What a line may survive, and the first mistake that it did.
#[derive(Debug, Default)]
pub struct Side {
    /// The clauses that only add to it.
    pub adds: ClauseSet,
    /// The clauses that its line takes.
    pub takes: ClauseSet,
    /// Its verb, where it has one.
    pub verb: Option<Verb>,
    /// Whether a word that is no clause only adds to it.
    pub stray: bool,
    /// Whether numbers are facts of its own.
    pub counts: bool,
    /// Words of its own besides names and clauses.
    pub own: &'static [&'static str],
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
        let group = verb.group();
        let counts =
            group.is_of_values() || is_money(group) || matches!(group, VerbGroup::Run | VerbGroup::Laps);
        Self {
            adds,
            takes: taken::of(verb),
            verb: Some(verb),
            stray: stray(verb),
            counts,
            own: own_words(group),
            mistake: None,
        }
    }

    /// Notes a mistake; one line has one message.
    pub fn forgive(&mut self, trouble: Trouble) {
        self.mistake.get_or_insert(trouble);
    }
}
