//! Which rules are in force for a class on a day or on any of an event's days, at an event or not.
//!
//! Must not know readings.

use super::Scrutiny;
use crate::book::model::{CarId, EventId, Local, Rule, RuleId};
use crate::book::names::{Thing, folded, same};
use crate::book::place::Place;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// A rule in force.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct InForce {
    /// The rule.
    pub rule: RuleId,
    /// The local rule that stands in its place there: local rulebooks outrank a class's.
    pub outranked: Option<RuleId>,
}

/// Whether a rule is in force on a day.
#[must_use]
pub fn on(rule: &Rule, day: Date) -> bool {
    rule.from.is_none_or(|(from, _)| from <= day) && rule.until.is_none_or(|(until, _)| day <= until)
}

/// On which of some days a rule is in force: the first and the last of them; `None` where it is on none.
#[must_use]
pub fn within(rule: &Rule, [first, last]: [Date; 2]) -> Option<[Date; 2]> {
    let from = rule.from.map_or(first, |(from, _)| from.max(first));
    let until = rule.until.map_or(last, |(until, _)| until.min(last));
    (from <= until).then_some([from, until])
}

/// Whether spans of days leave none of some days out.
fn cover(mut spans: Vec<[Date; 2]>, [first, last]: [Date; 2]) -> bool {
    spans.sort_unstable();
    let mut next = Some(first);
    for [from, until] in spans {
        let Some(day) = next.filter(|day| *day <= last) else { return true };
        if from > day {
            return false;
        }
        next = if until < day { next } else { until.tomorrow().ok() };
    }
    next.is_none_or(|day| day > last)
}

/// Whether a rule is of a class: its own, or a local one for every car.
#[must_use]
pub fn of_class(rule: &Rule, class: &str) -> bool {
    same(&rule.class, class) && !class.is_empty() || rule.class.is_empty() && rule.local.is_some()
}

/// The local rules that are of a class, by what they limit.
#[derive(Debug)]
pub struct Locals<'a>(BTreeMap<String, Vec<(RuleId, &'a Rule)>>);

impl<'a> Scrutiny<'a> {
    /// The local rules of a class, whenever and wherever they are in force, in the order they are declared.
    #[must_use]
    pub fn locals(&self, class: &str) -> Locals<'a> {
        let mut locals: BTreeMap<String, Vec<(RuleId, &Rule)>> = BTreeMap::new();
        for (at, rule) in self.book.rules.iter_enumerated() {
            if !rule.broken && rule.local.is_some() && rule.subject.is_some() && of_class(rule, class) {
                let name = folded(self.name(rule));
                locals.entry(name).or_default().push((at, rule));
            }
        }
        Locals(locals)
    }

    /// A rule of a class, if it is in force on any day from the first to the last of two, at an event or not. A local rule stands in its
    /// place where one does on every one of those days.
    #[must_use]
    pub fn force_of(
        &self,
        locals: &Locals<'_>,
        id: RuleId,
        (days, event): ([Date; 2], Option<EventId>),
    ) -> Option<InForce> {
        let rule = self.rule(id);
        let days =
            (!self.is_unread(rule) && self.is_here(rule, event)).then(|| within(rule, days)).flatten()?;
        let outranked = (rule.local.is_none() && !locals.0.is_empty()).then(|| {
            let rivals = locals.0.get(&folded(self.name(rule)))?;
            let stands = |(_, local): &&(RuleId, &Rule)| {
                within(local, days).is_some() && self.is_here(local, event) && self.stands_for(local, rule)
            };
            let mut standing = rivals.iter().filter(stands).peekable();
            let (first, _) = **standing.peek()?;
            cover(standing.filter_map(|(_, local)| within(local, days)).collect(), days).then_some(first)
        });
        Some(InForce { rule: id, outranked: outranked.flatten() })
    }

    /// Whether the class a car runs in could not be read: which rules are in force for it is then not known.
    #[must_use]
    pub fn class_lost(&self, car: CarId, class: &str) -> bool {
        class.is_empty()
            && self.book.unread.may_be(Some(Thing::Car(car)), "class")
            && self.book.rules.iter().any(|rule| !rule.class.is_empty())
    }

    /// The rules that could not be read and may be of a class, there: what they would limit is not known.
    #[must_use]
    pub fn unread(&self, class: &str, event: Option<EventId>) -> Vec<RuleId> {
        let may_be = |rule: &Rule| rule.class.is_empty() || same(&rule.class, class);
        let lost = |rule: &Rule| self.is_unread(rule) && may_be(rule) && self.is_here(rule, event);
        self.book.rules.iter_enumerated().filter(|(_, rule)| lost(rule)).map(|(at, _)| at).collect()
    }

    /// Whether a rule could not be read, or limits something that there is not.
    pub(super) fn is_unread(&self, rule: &Rule) -> bool {
        let meant = self.meant(rule);
        rule.broken || rule.subject.is_some() && meant.quantity.is_none() && meant.figure.is_none()
    }

    /// Whether a rule is everybody's, or of the rulebook of that event or its circuit.
    fn is_here(&self, rule: &Rule, event: Option<EventId>) -> bool {
        match rule.local {
            None => true,
            Some(Local::Event(at)) => event == Some(at),
            Some(Local::Circuit(at)) => {
                let event = event.and_then(|event| self.book.events.get(event));
                event.is_some_and(|event| event.circuit == Some(at))
            }
        }
    }

    /// The rules of a class that are in force on any day from the first to the last of two, in the order they are declared; those of the
    /// event's own rulebook and its circuit's too, where it is at one.
    #[must_use]
    pub fn in_force(&self, class: &str, days: [Date; 2], event: Option<EventId>) -> Vec<InForce> {
        let locals = self.locals(class);
        let all = self.book.rules.keys();
        all.filter(|id| of_class(self.rule(*id), class))
            .filter_map(|id| self.force_of(&locals, id, (days, event)))
            .collect()
    }

    /// Whether a local rule limits all that a class's rule limits.
    fn stands_for(&self, local: &Rule, rule: &Rule) -> bool {
        let sides =
            (rule.min.is_none() || local.min.is_some()) && (rule.max.is_none() || local.max.is_some());
        local.local.is_some() && sides && self.same_subject(local, rule) && touch(&local.places, &rule.places)
    }

    /// Whether two rules limit the same quantity or figure.
    #[must_use]
    pub fn same_subject(&self, a: &Rule, b: &Rule) -> bool {
        a.subject.is_some() && b.subject.is_some() && same(self.name(a), self.name(b))
    }
}

/// Whether two lists of places have a place in common; an empty list is every place.
#[must_use]
pub fn touch(a: &[Place], b: &[Place]) -> bool {
    a.is_empty() || b.is_empty() || a.iter().any(|a| b.iter().any(|b| a.touches(*b)))
}
