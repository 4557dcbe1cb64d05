//! Class rules and local rulebooks: which are in force on a day, what was read for them, and by how much it passes or falls
//! short.
//!
//! A reading is judged by the rule in force on its day. A margin smaller than the gauge's error is no pass. Must not know
//! messages, pages or the terminal.

pub mod conflict;
pub mod driven;
pub mod force;
pub mod judge;
pub mod known;
mod lost;
pub mod reading;
pub mod sets;
mod stints;
mod toe;

use crate::book::figure::FigureId;
use crate::book::model::{Limit, Rule, RuleId, Subject};
use crate::book::names::folded;
use crate::history::Facts;
use crate::units::{DimensionId, UnitId, table};
use crate::vocabulary::QuantityId;
use known::Known;

/// What rules are judged with.
#[derive(Debug, Clone, Copy)]
pub struct Scrutiny<'a> {
    /// The texts, the book, its fold.
    pub facts: Facts<'a>,
    /// What was read for rules so far.
    pub known: &'a Known,
}

impl<'a> std::ops::Deref for Scrutiny<'a> {
    type Target = Facts<'a>;

    fn deref(&self) -> &Facts<'a> {
        &self.facts
    }
}

/// What a rule's name turned out to be: a quantity, a figure, or both (the total of four pads may also be read off one scale).
#[derive(Debug, Clone, Copy)]
pub struct Meant {
    /// The quantity of that name.
    pub quantity: Option<QuantityId>,
    /// The figure of that name.
    pub figure: Option<FigureId>,
}

impl<'a> Scrutiny<'a> {
    /// The rule; ids come only from the book.
    #[must_use]
    pub fn rule(&self, id: RuleId) -> &'a Rule {
        &self.book.rules[id]
    }

    /// The name of what a rule limits, as the book has it.
    #[must_use]
    pub fn name(&self, rule: &Rule) -> &'a str {
        match rule.subject {
            Some(Subject::Quantity(id)) => &self.book.vocabulary.get(id).name,
            Some(Subject::Figure(span)) => self.files.text(span),
            None => "",
        }
    }

    /// What that name means.
    #[must_use]
    pub fn meant(&self, rule: &Rule) -> Meant {
        let quantity = match rule.subject {
            Some(Subject::Quantity(id)) => Some(id),
            _ => None,
        };
        Meant {
            quantity,
            figure: self
                .book
                .figures
                .find(&folded(self.name(rule)))
                .filter(|id| !self.book.figures.get(*id).step),
        }
    }

    /// A limit's unit among those of a kind of dimension; `None` where it is no unit of that kind.
    #[must_use]
    pub fn unit(&self, limit: &Limit, dimension: DimensionId) -> Option<UnitId> {
        match limit.unit {
            Some(unit) => table().find_one(self.files.text(unit), dimension),
            None if dimension.get().bare => Some(table().plain()),
            // `5d54'` has its unit in it.
            None if dimension == DimensionId::ANGLE => table().find_one("deg", dimension),
            None => None,
        }
    }
}
