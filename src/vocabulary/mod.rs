//! Quantities: what a shop can set and read, loaded from `grammar/vocabulary.sline` and the book's own lines.
//!
//! Knows names, kinds of dimension, places and ranges. Must not know a particular car, nor how lines are read
//! (`book` reads `quantity` lines, the built-in ones too).

use crate::ids::Arena;
use crate::ids::ids;
use crate::source::Span;
use crate::units::{DimensionId, UnitId};
use rustc_hash::FxHashMap;

/// The built-in quantities, in the language itself.
pub const BUILT_IN: &str = include_str!("../../grammar/vocabulary.sline");

ids! {
    /// A quantity's number in the vocabulary.
    QuantityId: u16,
}

/// Which classes of place a quantity has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Places(u8);

impl Places {
    /// Each corner.
    pub const CORNER: Self = Self(1);
    /// Each axle.
    pub const AXLE: Self = Self(2);
    /// The car as a whole.
    pub const CAR: Self = Self(4);
    /// Each cylinder.
    pub const CYLINDER: Self = Self(8);
    /// Each gear.
    pub const GEAR: Self = Self(16);

    /// Reads the word of a class.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Some(match word.to_ascii_lowercase().as_str() {
            "corner" => Self::CORNER,
            "axle" => Self::AXLE,
            "car" => Self::CAR,
            "cylinder" => Self::CYLINDER,
            "gear" => Self::GEAR,
            _ => return None,
        })
    }

    /// Both.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether the class is among them.
    #[must_use]
    pub const fn has(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }
}

/// How many numbers one value has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Form {
    /// One.
    #[default]
    One,
    /// `a/b`.
    Pair,
    /// `a/b/c`.
    Triple,
}

/// One quantity.
#[derive(Debug, Clone)]
#[allow(clippy::struct_excessive_bools)] // each is a word of the language, and none depends on another
pub struct Quantity {
    /// Its name, lower case.
    pub name: Box<str>,
    /// Other words of the trade for it, lower case, and where they are said.
    pub also: Vec<(Box<str>, Span)>,
    /// Its kind of dimension.
    pub dimension: DimensionId,
    /// Where it has values.
    pub places: Places,
    /// Whether it may travel with a part.
    pub of_part: bool,
    /// Index into [`Vocabulary::areas`].
    pub area: u32,
    /// Unit shown for a metric and for an imperial car, if stated.
    pub show: [Option<UnitId>; 2],
    /// Outside this is asked about: SI, low to high.
    pub usual: Option<(f64, f64)>,
    /// Outside this is refused: SI.
    pub possible: Option<(f64, f64)>,
    /// How many numbers one value has.
    pub form: Form,
    /// Only goes up.
    pub counter: bool,
    /// `adjust` needs no base.
    pub relative: bool,
    /// It is of a rear axle: two numbers without places are its left and its right.
    pub rear_axle: bool,
    /// A value may be typed as pressure held over supply (`60/80`), read as the share lost.
    pub over_supply: bool,
    /// Quantities whose change makes an older reading stale.
    pub disturbed_by: Vec<QuantityId>,
    /// Whether an impact does too.
    pub disturbed_by_hit: bool,
    /// Whether nobody can read what else does: anything may.
    pub disturbed_by_anything: bool,
    /// Conditions without which a reading cannot be compared.
    pub needs: Vec<Box<str>>,
    /// A plain sentence about it.
    pub sentence: Box<str>,
    /// Where the book declares it; `None` for a built-in.
    pub declared: Option<Span>,
}

impl Quantity {
    /// Whether it is something that is filled in: a fluid, or so much of it.
    #[must_use]
    pub fn is_filled(&self) -> bool {
        matches!(self.dimension, DimensionId::FLUID | DimensionId::VOLUME | DimensionId::MASS)
    }

    /// Whether a change of that quantity makes an older reading stale.
    #[must_use]
    pub fn feels(&self, by: QuantityId) -> bool {
        self.disturbed_by_anything || self.disturbed_by.contains(&by)
    }

    /// Whether a change of any quantity does.
    #[must_use]
    pub const fn is_disturbed(&self) -> bool {
        self.disturbed_by_anything || !self.disturbed_by.is_empty()
    }

    /// A quantity of which nothing more is said than its name, its kind and where it has values.
    #[must_use]
    pub fn new(name: &str, dimension: DimensionId, places: Places) -> Self {
        Self {
            name: name.into(),
            also: Vec::new(),
            dimension,
            places,
            of_part: false,
            area: 0,
            show: [None, None],
            usual: None,
            possible: None,
            form: Form::One,
            counter: false,
            relative: false,
            rear_axle: false,
            over_supply: false,
            disturbed_by: Vec::new(),
            disturbed_by_hit: false,
            disturbed_by_anything: false,
            needs: Vec::new(),
            sentence: Box::default(),
            declared: None,
        }
    }
}

/// All quantities of a book.
#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    quantities: Arena<QuantityId, Quantity>,
    by_name: FxHashMap<Box<str>, QuantityId>,
    /// Areas in order of first use; reports list by them.
    pub areas: Vec<Box<str>>,
}

impl Quantity {
    /// What it stood at before anything was said of it: one that is `relative` counts from where it stood when the book began, and stood at
    /// nought. `None` of any other; and where it is not sure that nothing was said (`untouched`), for then nobody knows.
    #[must_use]
    pub fn nought(&self, untouched: bool) -> Option<f64> {
        (self.relative && untouched).then_some(0.0)
    }
}

impl Vocabulary {
    /// Looks a name up; it must be lower case.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<QuantityId> {
        self.by_name.get(name).copied()
    }

    /// Looks up a name as a line spells it: of a toe with the way that its numbers go, 1 for `toe-in`, -1 for `toe-out`, else 0. It must be
    /// lower case.
    #[must_use]
    pub fn find_spelt(&self, name: &str) -> Option<(QuantityId, i8)> {
        let spelt = || {
            let (stem, direction) = match (name.strip_suffix("-in"), name.strip_suffix("-out")) {
                (Some(stem), _) => (stem, 1),
                (_, Some(stem)) => (stem, -1),
                _ => return None,
            };
            let id = self.find(stem)?;
            (self.get(id).dimension == DimensionId::TOE).then_some((id, direction))
        };
        self.find(name).map(|id| (id, 0)).or_else(spelt)
    }

    /// The quantity; ids come only from this vocabulary.
    #[must_use]
    pub fn get(&self, id: QuantityId) -> &Quantity {
        &self.quantities[id]
    }

    /// The quantity, to fill in.
    pub fn get_mut(&mut self, id: QuantityId) -> &mut Quantity {
        &mut self.quantities[id]
    }

    /// Adds a quantity; a second of the same name is refused with the first's id.
    ///
    /// # Errors
    /// The id of the quantity that already has the name; none where there are as many as there can be.
    pub fn add(&mut self, quantity: Quantity) -> Result<QuantityId, Option<QuantityId>> {
        if let Some(first) = self.find(&quantity.name) {
            return Err(Some(first));
        }
        let id = u16::try_from(self.quantities.len()).ok().filter(|id| *id < u16::MAX).ok_or(None)?;
        let id = QuantityId::new(id);
        self.by_name.insert(quantity.name.clone(), id);
        self.quantities.push(quantity);
        Ok(id)
    }

    /// Lets a quantity be found by another word too.
    ///
    /// # Errors
    /// The id of the quantity that has the word already.
    pub fn alias(&mut self, id: QuantityId, word: &str) -> Result<(), QuantityId> {
        match self.find(word) {
            Some(other) if other != id => Err(other),
            Some(_) => Ok(()),
            None => {
                self.by_name.insert(word.into(), id);
                Ok(())
            }
        }
    }

    /// The area's index, added when new.
    pub fn area(&mut self, name: &str) -> u32 {
        let index = self.areas.iter().position(|area| **area == *name).unwrap_or_else(|| {
            self.areas.push(name.into());
            self.areas.len() - 1
        });
        index as u32
    }

    /// Whether a change of one quantity may move what is read of another: it disturbs it, or something that does.
    #[must_use]
    pub fn moves(&self, by: QuantityId, of: QuantityId) -> bool {
        let mut known = vec![of];
        let mut at = 0;
        while let Some(next) = known.get(at).copied() {
            at += 1;
            if self.get(next).disturbed_by_anything {
                return true;
            }
            for other in &self.get(next).disturbed_by {
                if *other == by {
                    return true;
                }
                if !known.contains(other) {
                    known.push(*other);
                }
            }
        }
        false
    }

    /// All quantities in order of declaration.
    pub fn iter(&self) -> impl Iterator<Item = (QuantityId, &Quantity)> {
        self.quantities.iter_enumerated()
    }
}
