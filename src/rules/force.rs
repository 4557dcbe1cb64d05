//! Which rules are in force for a class on a day, at an event or not.
//!
//! Must not know readings.

use super::Scrutiny;
use crate::book::model::{EventId, Local, Rule, RuleId};
use crate::book::names::same;
use crate::book::place::Place;
use jiff::civil::Date;

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

/// Whether a rule is of a class: its own, or a local one for every car.
#[must_use]
pub fn of_class(rule: &Rule, class: &str) -> bool {
    same(&rule.class, class) && !class.is_empty() || rule.class.is_empty() && rule.local.is_some()
}

impl Scrutiny<'_> {
    /// The rules of a class that are in force on a day, in the order they are declared; those of the event's own rulebook
    /// and its circuit's too, where it is at one.
    #[must_use]
    pub fn in_force(&self, class: &str, day: Date, event: Option<EventId>) -> Vec<InForce> {
        let here = |rule: &Rule| match rule.local {
            None => true,
            Some(Local::Event(at)) => event == Some(at),
            Some(Local::Circuit(at)) => {
                let event = event.and_then(|event| self.book.events.get(event.0 as usize));
                event.is_some_and(|event| event.circuit == Some(at))
            }
        };
        let all = self
            .book
            .rules
            .iter()
            .enumerate()
            .filter(|(_, rule)| !rule.broken && on(rule, day) && of_class(rule, class) && here(rule));
        let all: Vec<(RuleId, &Rule)> = all.map(|(at, rule)| (RuleId(at as u32), rule)).collect();
        all.iter()
            .map(|(id, rule)| {
                let stands =
                    |other: &&(RuleId, &Rule)| rule.local.is_none() && self.stands_for(other.1, rule);
                InForce { rule: *id, outranked: all.iter().find(stands).map(|(other, _)| *other) }
            })
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
