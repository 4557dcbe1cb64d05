//! The clauses that a line may still open, and with whom or what some of them go on.
//!
//! Must not know how a clause is read.

use super::{NAME, Offers, WORD};
use crate::book::clause::Clause;
use crate::book::entry::Verb;
use crate::book::names::folded;
use crate::book::taken;
use crate::units::DimensionId;

/// Whether a verb reads a clause itself, as a word of its own line.
const fn is_own(verb: Verb, clause: Clause) -> bool {
    let of_money = matches!(verb, Verb::Hours | Verb::Cost | Verb::Credit);
    if matches!(clause, Clause::At) {
        of_money || matches!(verb, Verb::Job | Verb::Stage | Verb::Handed)
    } else if matches!(clause, Clause::To) {
        of_money || matches!(verb, Verb::Defer | Verb::Promise | Verb::Handed | Verb::Lend)
    } else if matches!(clause, Clause::From) {
        matches!(verb, Verb::Strip | Verb::Borrow)
    } else {
        matches!(clause, Clause::Into) && matches!(verb, Verb::Build)
    }
}

impl Offers<'_> {
    /// The clauses that the verb takes and that do not stand on the line yet.
    pub(super) fn clauses(&mut self, verb: Verb, words: &[&str]) {
        let stands = |clause: Clause| words.iter().any(|word| word.eq_ignore_ascii_case(clause.word()));
        let dimension = self.dimension(verb, words);
        for clause in Clause::ALL {
            let of_values = verb.group().is_of_values();
            let fits = match clause {
                // Only clicks are counted from an end, and only toe is over a length.
                Clause::From if of_values => dimension == Some(DimensionId::CLICK),
                Clause::Over => dimension == Some(DimensionId::TOE),
                // A lap is one of a session that is named before it.
                Clause::Lap => stands(Clause::During),
                _ => true,
            };
            let takes = taken::takes(verb, clause) || is_own(verb, clause);
            if takes && fits && !stands(clause) {
                self.add(clause.word(), "clause", WORD);
            }
        }
    }

    fn dimension(&self, verb: Verb, words: &[&str]) -> Option<DimensionId> {
        let vocabulary = &self.page.compiled.book.vocabulary;
        let id = vocabulary.find(&folded(words.get(usize::from(verb == Verb::Bench))?))?;
        Some(vocabulary.get(id).dimension)
    }

    /// Behind `to`, `from` and `into`: to whom, where from, what into, by the verb.
    pub(super) fn with_whom(&mut self, verb: Verb, word: &str, words: &[&str]) {
        let is = |verbs: &[Verb], clause: &str| verbs.contains(&verb) && word == clause;
        let booked = [Verb::Sell, Verb::Promise, Verb::Hours, Verb::Cost, Verb::Credit, Verb::Handed];
        if is(&[Verb::Lend], "to") || is(&[Verb::Borrow], "from") {
            self.things(&["client", "person"]);
        } else if is(&[Verb::Defer], "to") {
            self.things(&["event"]);
        } else if is(&booked, "to") {
            self.things(&["client"]);
        } else if is(&[Verb::Build], "into") || is(&[Verb::Strip], "from") {
            self.assemblies(verb, words);
        } else if word == "from" && self.dimension(verb, words) == Some(DimensionId::CLICK) {
            for end in ["full-hard", "full-soft"] {
                self.add(end, "end of travel", NAME);
            }
        }
    }

    /// Behind a number of a session's line what it counts, and behind `best` nothing: a time is read off the watch.
    pub(super) fn session(&mut self, verb: Verb, words: &[&str]) {
        let Some((last, above)) = words.split_last() else { return };
        if ["best", "road"].iter().any(|word| last.eq_ignore_ascii_case(word)) {
            return;
        }
        let number = last.parse::<f64>().is_ok();
        let behind = |word: &str| above.last().is_some_and(|before| before.eq_ignore_ascii_case(word));
        if !number || behind("best") {
            return self.clauses(verb, words);
        }
        let all = if behind("road") { &["km"][..] } else { &["min", "laps", "km", "launches"][..] };
        for unit in all.iter().filter(|unit| behind("road") || !words.contains(unit)) {
            // A part of a session has no starts of its own, a halt has no laps, and a stage is so long.
            let has = match *unit {
                "min" => verb != Verb::Stage,
                "laps" => matches!(verb, Verb::Run | Verb::Stint),
                "km" => matches!(verb, Verb::Run | Verb::Stage),
                _ => verb == Verb::Run,
            };
            if has {
                self.add(unit, "unit", WORD);
            }
        }
    }
}
