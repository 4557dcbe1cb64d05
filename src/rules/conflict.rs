//! Rules that cannot both be kept, or that limit one thing twice at one time.
//!
//! Must not know messages.

use super::Scrutiny;
use super::force::touch;
use crate::book::model::{Limit, Rule, RuleId};
use crate::book::names::{folded, same};
use crate::units::DimensionId;

/// Two rules, or one against itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Conflict {
    /// The least of the one is above the most of the other: nothing can keep both.
    Impossible {
        /// The rule with the minimum.
        least: RuleId,
        /// The rule with the maximum; the same for one that contradicts itself.
        most: RuleId,
    },
    /// Two limits of one side, unlike, in force on one day.
    Twice {
        /// The one declared first.
        first: RuleId,
        /// The other.
        second: RuleId,
    },
}

impl Scrutiny<'_> {
    /// Every conflict among the book's rules, in the order they are declared.
    #[must_use]
    pub fn conflicts(&self) -> Vec<Conflict> {
        let mut all = Vec::new();
        let rules: Vec<(RuleId, &Rule)> = self
            .book
            .rules
            .iter()
            .enumerate()
            .filter(|(_, rule)| !rule.broken && rule.subject.is_some() && days(rule).is_some())
            .map(|(at, rule)| (RuleId(at as u32), rule))
            .collect();
        for (at, (id, rule)) in rules.iter().enumerate() {
            if self.above(rule.min.as_ref(), rule.max.as_ref(), rule) {
                all.push(Conflict::Impossible { least: *id, most: *id });
                continue;
            }
            for (other, second) in &rules[at + 1..] {
                if self.above(second.min.as_ref(), second.max.as_ref(), second) || !self.meet(rule, second) {
                    continue;
                }
                if self.above(rule.min.as_ref(), second.max.as_ref(), rule) {
                    all.push(Conflict::Impossible { least: *id, most: *other });
                } else if self.above(second.min.as_ref(), rule.max.as_ref(), rule) {
                    all.push(Conflict::Impossible { least: *other, most: *id });
                } else if self.unlike(rule.min.as_ref(), second.min.as_ref(), rule)
                    || self.unlike(rule.max.as_ref(), second.max.as_ref(), rule)
                {
                    all.push(Conflict::Twice { first: *id, second: *other });
                }
            }
        }
        all
    }

    /// Whether two rules are for one class (or one rulebook), one thing, one place and one day.
    fn meet(&self, a: &Rule, b: &Rule) -> bool {
        let (Some((a_from, a_until)), Some((b_from, b_until))) = (days(a), days(b)) else { return false };
        // Under unlike conditions they are unlike rules: with and without the driver.
        let keys = |rule: &Rule| {
            let mut keys: Vec<String> =
                rule.conditions.iter().map(|one| folded(self.files.text(one.said))).collect();
            keys.sort_unstable();
            keys
        };
        same(&a.class, &b.class)
            && a.local == b.local
            && self.same_subject(a, b)
            && touch(&a.places, &b.places)
            && a_from <= b_until
            && b_from <= a_until
            && keys(a) == keys(b)
    }

    fn above(&self, least: Option<&Limit>, most: Option<&Limit>, rule: &Rule) -> bool {
        self.compare(least, most, rule).is_some_and(|(least, most)| least > most)
    }

    fn unlike(&self, a: Option<&Limit>, b: Option<&Limit>, rule: &Rule) -> bool {
        self.compare(a, b, rule).is_some_and(|(a, b)| (a - b).abs() > 1e-9 * a.abs().max(b.abs()))
    }

    /// Two limits in one unit. Those of a quantity by its own kind; those of a figure alone by whatever kind knows both.
    fn compare(&self, a: Option<&Limit>, b: Option<&Limit>, rule: &Rule) -> Option<(f64, f64)> {
        let (a, b) = (a?, b?);
        let own = self.meant(rule).quantity.map(|id| self.book.vocabulary.get(id).dimension);
        let mut kinds: Vec<DimensionId> = own.into_iter().collect();
        if own.is_none() {
            kinds.extend(DimensionId::all());
        }
        kinds.into_iter().find_map(|kind| {
            let (first, second) = (self.unit(a, kind)?, self.unit(b, kind)?);
            Some((first.get().to_si(a.value), second.get().to_si(b.value)))
        })
    }
}

/// First and last day; `None` for a rule that ends before it starts.
fn days(rule: &Rule) -> Option<(jiff::civil::Date, jiff::civil::Date)> {
    let from = rule.from.map_or(jiff::civil::Date::MIN, |(from, _)| from);
    let until = rule.until.map_or(jiff::civil::Date::MAX, |(until, _)| until);
    (from <= until).then_some((from, until))
}
