//! Rules that cannot both be kept, or that limit one thing twice at one time.
//!
//! Must not know messages.

use super::Scrutiny;
use super::force::touch;
use super::sets::{Limits, Quarrel, Set, sets};
use crate::book::model::{Limit, Local, Rule, RuleId};
use crate::book::names::folded;
use crate::book::place::Place;
use crate::units::DimensionId;
use std::collections::BTreeMap;

/// A set of rules that quarrel, by two of them; or one rule against itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Conflict {
    /// The least of the one is above the most of the other: nothing can keep both.
    Impossible {
        /// The rule with the minimum.
        least: RuleId,
        /// The rule with the maximum; the same for one that contradicts itself.
        most: RuleId,
        /// How many more rules there are in the set.
        more: usize,
    },
    /// Two limits of one side, unlike, in force on one day.
    Twice {
        /// The one declared first.
        first: RuleId,
        /// The other.
        second: RuleId,
        /// How many more rules there are in the set.
        more: usize,
    },
}

/// What two rules must have in common to meet: class, rulebook, what they limit, and the conditions. Under unlike conditions they
/// are unlike rules: with and without the driver.
type Meet = (String, Option<(bool, u32)>, String, Vec<String>);

impl Scrutiny<'_> {
    /// Every conflict among the book's rules.
    #[must_use]
    pub fn conflicts(&self) -> Vec<Conflict> {
        let mut all = Vec::new();
        let mut groups: BTreeMap<Meet, Vec<RuleId>> = BTreeMap::new();
        for (at, rule) in self.book.rules.iter_enumerated() {
            let id = at;
            if rule.broken || rule.subject.is_none() || days(rule).is_none() {
                continue;
            }
            if self.against_itself(rule) {
                all.push(Conflict::Impossible { least: id, most: id, more: 0 });
                continue;
            }
            groups.entry(self.meet(rule)).or_default().push(id);
        }
        for group in groups.into_values().filter(|group| group.len() > 1) {
            self.of_group(group, &mut all);
        }
        all
    }

    fn meet(&self, rule: &Rule) -> Meet {
        let mut keys: Vec<String> =
            rule.conditions.iter().map(|one| folded(self.files.text(one.said))).collect();
        keys.sort_unstable();
        let local = rule.local.map(|local| match local {
            Local::Event(id) => (false, id.number()),
            Local::Circuit(id) => (true, id.number()),
        });
        (folded(&rule.class), local, folded(self.name(rule)), keys)
    }

    /// The conflicts of rules that meet wherever their days and places do.
    fn of_group(&self, group: Vec<RuleId>, all: &mut Vec<Conflict>) {
        let mut rest = group;
        while let Some(kind) = self.kind(&rest) {
            let si = |limit: Option<Limit>| {
                let limit = limit?;
                Some(self.unit(&limit, kind)?.get().to_si(limit.value))
            };
            let known = |id: &RuleId| {
                let rule = self.rule(*id);
                si(rule.min).is_some() || si(rule.max).is_some()
            };
            let (own, other): (Vec<RuleId>, Vec<RuleId>) = rest.into_iter().partition(known);
            rest = other;
            let mut lists: Vec<&[Place]> = own.iter().map(|id| &*self.rule(*id).places).collect();
            lists.sort_unstable();
            lists.dedup();
            let with = |list: &&[Place]| {
                let others = lists.iter().enumerate().filter(|(_, other)| touch(list, other));
                others.map(|(number, _)| number).collect::<Vec<usize>>()
            };
            let touching: Vec<Vec<usize>> = lists.iter().map(with).collect();
            let limits = own.iter().filter_map(|id| {
                let rule = self.rule(*id);
                let (from, until) = days(rule)?;
                let places = lists.binary_search(&&*rule.places).ok()?;
                Some(Limits { from, until, min: si(rule.min), max: si(rule.max), places })
            });
            let limits: Vec<Limits> = limits.collect();
            told(&own, &limits, &touching, all);
        }
    }

    /// The kind of dimension in which limits of one thing are compared: of a quantity its own; of a figure alone whatever kind
    /// knows the most of their units.
    fn kind(&self, rules: &[RuleId]) -> Option<DimensionId> {
        let own = self.meant(self.rule(*rules.first()?)).quantity;
        let limits = || rules.iter().flat_map(|id| [self.rule(*id).min, self.rule(*id).max]).flatten();
        let mut units: BTreeMap<Option<&str>, Limit> = BTreeMap::new();
        for limit in limits() {
            units.entry(limit.unit.map(|unit| self.files.text(unit))).or_insert(limit);
        }
        let knows =
            |kind: DimensionId| units.values().filter(|limit| self.unit(limit, kind).is_some()).count();
        let kinds: Vec<DimensionId> = match own {
            Some(id) => of_one_sort(self.book.vocabulary.get(id).dimension),
            None => DimensionId::all().collect(),
        };
        // Of kinds that know as many, the first.
        let best = kinds.into_iter().rev().max_by_key(|kind| knows(*kind))?;
        (knows(best) > 0).then_some(best)
    }

    fn against_itself(&self, rule: &Rule) -> bool {
        let (Some(least), Some(most)) = (rule.min, rule.max) else { return false };
        let own = self.meant(rule).quantity.map(|id| self.book.vocabulary.get(id).dimension);
        let mut kinds: Vec<DimensionId> = own.map(of_one_sort).unwrap_or_default();
        if own.is_none() {
            kinds.extend(DimensionId::all());
        }
        let si = |limit: &Limit, kind| Some(self.unit(limit, kind)?.get().to_si(limit.value));
        let both = kinds.into_iter().find_map(|kind| Some((si(&least, kind)?, si(&most, kind)?)));
        both.is_some_and(|(least, most)| least > most)
    }
}

/// The kinds whose limits may be held against one another: of toe an angle to an angle, a length to a length, since over which diameter
/// is each car's own.
fn of_one_sort(dimension: DimensionId) -> Vec<DimensionId> {
    if dimension == DimensionId::TOE {
        vec![DimensionId::ANGLE, DimensionId::LENGTH]
    } else {
        vec![dimension]
    }
}

/// Tells the sets of a group. What nothing can keep is not told once more as limited twice.
#[expect(clippy::indexing_slicing, reason = "sets are of the numbers of these limits, one limit a rule")]
fn told(own: &[RuleId], limits: &[Limits], touching: &[Vec<usize>], all: &mut Vec<Conflict>) {
    let impossible = sets(limits, touching, Quarrel::Impossible);
    let twice = sets(limits, touching, Quarrel::Unlike);
    let mut worse: Vec<Option<usize>> = vec![None; own.len()];
    for (number, set) in impossible.iter().enumerate() {
        for at in &set.all {
            worse[*at] = Some(number);
        }
    }
    for Set { pair: (a, b), all: set } in impossible {
        let above = limits[a].min.zip(limits[b].max).is_some_and(|(min, max)| min > max);
        let (least, most) = if above { (own[a], own[b]) } else { (own[b], own[a]) };
        all.push(Conflict::Impossible { least, most, more: set.len() - 2 });
    }
    for Set { pair: (a, b), all: set } in twice {
        let said = worse[a].is_some() && set.iter().all(|at| worse[*at] == worse[a]);
        if !said {
            all.push(Conflict::Twice { first: own[a], second: own[b], more: set.len() - 2 });
        }
    }
}

/// First and last day; `None` for a rule that ends before it starts.
fn days(rule: &Rule) -> Option<(jiff::civil::Date, jiff::civil::Date)> {
    let from = rule.from.map_or(jiff::civil::Date::MIN, |(from, _)| from);
    let until = rule.until.map_or(jiff::civil::Date::MAX, |(until, _)| until);
    (from <= until).then_some((from, until))
}
