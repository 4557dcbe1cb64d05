//! What a `try` line says: what is to be compared, at which settings, and in which order.
//!
//! Must not know whether it was followed.

use super::ids::{KindId, PartId, SpecId};
use super::item::Item;
use super::place::Place;
use crate::source::Span;
use crate::vocabulary::QuantityId;

/// What is to be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Tried {
    /// A setting.
    Setting(QuantityId),
    /// Parts of a kind.
    Parts(KindId),
}

/// A trial that is declared beforehand.
#[derive(Debug, Clone, PartialEq)]
pub struct TryFacts {
    /// Of what.
    pub of: Tried,
    /// Where; of parts as typed, and nowhere in particular where no place is typed.
    pub places: Vec<Place>,
    /// Its settings, by letter, as they are typed.
    pub levels: Vec<TryLevel>,
    /// The settings of the runs in order, each by its number among the levels.
    pub order: Vec<usize>,
    /// Where the order is typed.
    pub order_span: Span,
}

/// A setting with its letter.
#[derive(Debug, Clone, PartialEq)]
pub struct TryLevel {
    /// A capital.
    pub letter: char,
    /// The words of it, with a unit that stands further on.
    pub words: Vec<Span>,
    /// What it is.
    pub stands: LevelAt,
}

/// What a setting is.
#[derive(Debug, Clone, PartialEq)]
pub enum LevelAt {
    /// A value in each place, with the further numbers of a pair or triple.
    Values(Vec<Item>),
    /// These parts.
    Parts(Vec<PartId>),
    /// Any part of this spec.
    Spec(SpecId),
}

impl TryFacts {
    /// The settings as numbers: where each has one number, the same in all its places and all in one unit.
    #[must_use]
    pub fn numbers(&self) -> Option<Vec<f64>> {
        let mut units = Vec::new();
        let number = |level: &TryLevel| {
            let LevelAt::Values(items) = &level.stands else { return None };
            let first = items.first()?;
            units.extend(items.iter().map(|item| item.unit));
            let mut firsts = Item::by_value(items).filter_map(<[Item]>::first);
            firsts.all(|item| item.has_value() && near(item.si, first.si)).then_some(first.si)
        };
        let numbers: Option<Vec<f64>> = self.levels.iter().map(number).collect();
        numbers.filter(|_| units.windows(2).all(|pair| pair.first() == pair.last()))
    }
}

/// Whether two numbers are one, but for what the arithmetic of units leaves.
#[must_use]
pub fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}

/// What is wrong with a `try` line beyond its words and values.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TryTrouble {
    /// It has one setting.
    OneLevel,
    /// A letter stands for two settings; the first is there.
    LetterTwice(Span),
    /// A letter of the order stands for nothing; these do for something.
    LetterUnknown(Vec<char>),
    /// A setting is in no run of the order.
    LetterUnused(char),
    /// Two settings are one: the letter of the other.
    SameTwice(char),
    /// A setting is said for other places than that of this letter.
    OtherPlaces(char),
    /// A part of another kind.
    OtherKind(KindId),
}
