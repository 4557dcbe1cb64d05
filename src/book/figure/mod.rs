//! Figures as declared, built in or the book's own: what they are, and the formula where they are arithmetic.
//!
//! Data only. Must not know how a value is read off a book, nor a particular car.

mod dimensions;

use super::place::Place;
use crate::ids::Arena;
use crate::ids::ids;
use crate::source::Span;
use crate::syntax::formula::Compare;
use crate::units::{DimensionId, UnitId};
use crate::vocabulary::{Places, QuantityId};
pub use dimensions::{Checker, Clash, Known, OddUnit, Sort, unit_of_literal};
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// The built-in figures, in the language itself.
pub const BUILT_IN: &str = include_str!("../../../grammar/figures.sline");

ids! {
    /// A figure's number in the vocabulary.
    FigureId: u32,
}

/// Where a figure has values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sites {
    /// The car as a whole.
    Car,
    /// Each axle.
    Axles,
    /// Each corner.
    Corners,
    /// Each front corner.
    FrontCorners,
    /// Each cylinder.
    Cylinders,
    /// Each gear.
    Gears,
    /// A part on the bench.
    Part,
}

impl Sites {
    /// Reads the word of a class.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Some(match word.to_ascii_lowercase().as_str() {
            "car" => Self::Car,
            "axle" => Self::Axles,
            "corner" => Self::Corners,
            "front-corner" => Self::FrontCorners,
            "cylinder" => Self::Cylinders,
            "gear" => Self::Gears,
            "part" => Self::Part,
            _ => return None,
        })
    }

    /// The class of place, for a reading of the same name.
    #[must_use]
    pub const fn places(self) -> Places {
        match self {
            Self::Car | Self::Part => Places::CAR,
            Self::Axles => Places::AXLE,
            Self::Corners | Self::FrontCorners => Places::CORNER,
            Self::Cylinders => Places::CYLINDER,
            Self::Gears => Places::GEAR,
        }
    }

    /// All such places of a car with that many cylinders and gears; none where their number is not known.
    #[must_use]
    pub fn of_car(self, cylinders: Option<u16>, gears: Option<u16>) -> Vec<Place> {
        let numbered = |count: Option<u16>, of: fn(u16) -> Place| (1..=count.unwrap_or(0)).map(of).collect();
        match self {
            Self::Car | Self::Part => vec![Place::CAR],
            Self::Axles => vec![Place::FRONT, Place::REAR],
            Self::Corners => Place::CORNERS.to_vec(),
            Self::FrontCorners => vec![Place::LF, Place::RF],
            Self::Cylinders => numbered(cylinders, Place::cylinder),
            Self::Gears => numbered(gears, Place::gear),
        }
    }

    /// Whether it is such a place.
    #[must_use]
    pub fn has(self, place: Place) -> bool {
        match self {
            Self::Car | Self::Part => place == Place::CAR,
            Self::Axles => place.is_axle(),
            Self::Corners => place.is_corner(),
            Self::FrontCorners => place == Place::LF || place == Place::RF,
            Self::Cylinders => place.cylinder_number().is_some(),
            Self::Gears => place.gear_number().is_some(),
        }
    }

    /// What to name, for a message.
    #[must_use]
    pub const fn wants(self) -> &'static str {
        match self {
            Self::Car | Self::Part => "no place: it is of the whole car",
            Self::Axles => "an axle: front or rear",
            Self::Corners => "a corner: LF, RF, LR or RR",
            Self::FrontCorners => "a front corner: LF or RF",
            Self::Cylinders => "a cylinder, such as c1",
            Self::Gears => "a gear, such as g2",
        }
    }
}

/// One figure.
#[derive(Debug, Clone)]
pub struct Figure {
    /// Its name, lower case.
    pub name: Box<str>,
    /// What a step of a chain is called: "wheel rate".
    pub called: Box<str>,
    /// What it is, in a line.
    pub brief: Box<str>,
    /// Its kind of dimension.
    pub dimension: DimensionId,
    /// Where it has values.
    pub sites: Sites,
    /// Further classes of place a step has.
    pub places: Places,
    /// Which area of a report it belongs to.
    pub area: Box<str>,
    /// Only a step towards others: no page lists it.
    pub step: bool,
    /// Unit shown for a metric and for an imperial car, where it is not the usual one of its kind.
    pub show: [Option<UnitId>; 2],
    /// The names its formulas use.
    pub names: Vec<Name>,
    /// Its formulas, the first that can be had is taken.
    pub ways: Vec<Way>,
    /// Why it is worked out by the program instead.
    pub in_code: Option<Box<str>>,
    /// The quantity of its name, under which it may be read.
    pub quantity: Option<QuantityId>,
    /// Where the book declares it; `None` for a built-in.
    pub declared: Option<Span>,
    /// A mistake in it was said: it has no values.
    pub broken: bool,
}

/// All figures of a book, steps too.
#[derive(Debug, Clone, Default)]
pub struct Figures {
    list: Arena<FigureId, Arc<Figure>>,
    by_name: FxHashMap<Box<str>, FigureId>,
    /// Quantities that are there only so that a figure can be read.
    made: std::collections::BTreeSet<QuantityId>,
}

impl Figures {
    /// Notes a quantity that is there only so that a figure can be read.
    pub fn make(&mut self, quantity: QuantityId) {
        self.made.insert(quantity);
    }

    /// Whether a quantity is there only so that a figure can be read.
    #[must_use]
    pub fn made(&self, quantity: QuantityId) -> bool {
        self.made.contains(&quantity)
    }

    /// Looks a name up; it must be lower case.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<FigureId> {
        self.by_name.get(name).copied()
    }

    /// The figure; ids come only from here.
    #[must_use]
    pub fn get(&self, id: FigureId) -> &Arc<Figure> {
        &self.list[id]
    }

    /// The figure, to fill in.
    pub fn get_mut(&mut self, id: FigureId) -> &mut Figure {
        Arc::make_mut(&mut self.list[id])
    }

    /// Adds a figure; a second of the same name is refused with the first's id.
    ///
    /// # Errors
    /// The id of the figure that already has the name.
    pub fn add(&mut self, figure: Figure) -> Result<FigureId, FigureId> {
        if let Some(first) = self.find(&figure.name) {
            return Err(first);
        }
        let id = FigureId::from(self.list.len());
        self.by_name.insert(figure.name.clone(), id);
        self.list.push(Arc::new(figure));
        Ok(id)
    }

    /// All figures in order of declaration.
    pub fn iter(&self) -> impl Iterator<Item = (FigureId, &Arc<Figure>)> {
        self.list.iter_enumerated()
    }

    /// Says the words of the book's own figures otherwise, for a reader who may not have some of them. Formulas stay.
    pub fn reword(&mut self, say: &dyn Fn(&str) -> String) {
        for figure in self.list.iter_mut().filter(|figure| figure.declared.is_some()) {
            Arc::make_mut(figure).reword(say);
        }
    }

    /// Those that pages and lists name: no steps.
    pub fn listed(&self) -> impl Iterator<Item = (FigureId, &Arc<Figure>)> {
        self.iter().filter(|(_, figure)| !figure.step)
    }
}

impl Figure {
    fn reword(&mut self, say: &dyn Fn(&str) -> String) {
        let each = |text: &mut Box<str>| *text = say(text).into();
        [&mut self.name, &mut self.called, &mut self.brief, &mut self.area].into_iter().for_each(each);
        self.in_code.iter_mut().for_each(each);
        for name in &mut self.names {
            each(&mut name.name);
            name.needs.iter_mut().for_each(each);
            if let Limit::Within(_, _, words) = &mut name.limit {
                each(words);
            }
            for source in &mut name.sources {
                if let Source::Number { words, source, .. } = source {
                    each(words);
                    each(source);
                }
            }
        }
        for way in &mut self.ways {
            [&mut way.text, &mut way.source, &mut way.convention].into_iter().for_each(each);
            way.called.iter_mut().for_each(each);
            way.must.iter_mut().chain(&mut way.careful).for_each(|test| each(&mut test.words));
        }
    }
}

/// One way to a figure.
#[derive(Debug, Clone, Default)]
pub struct Way {
    /// The formula.
    pub term: Term,
    /// The formula as typed: what is printed is what is evaluated.
    pub text: Box<str>,
    /// The names the formula uses, in the order they are declared.
    pub inputs: Vec<u16>,
    /// The names its conditions use, beyond those.
    pub beside: Vec<u16>,
    /// Only at these places; empty for all.
    pub at: Vec<Place>,
    /// It is the way where these hold.
    pub when: Vec<Test>,
    /// Without these there is no value.
    pub must: Vec<Test>,
    /// Where one of these holds, its words stand beside the value.
    pub careful: Vec<Test>,
    /// What the step is called, where it is not the figure's.
    pub called: Option<Box<str>>,
    /// Where it is published, or "common practice".
    pub source: Box<str>,
    /// What a reader must know.
    pub convention: Box<str>,
    /// The one input is handed on as it is, without a step of its own.
    pub plain: bool,
    /// Worked out in place of a reading that was not taken.
    pub inferred: bool,
    /// Rests on a rate or a guess: shown with one decimal less than the readings of its kind under it.
    pub estimated: bool,
}

/// A condition and what is said of it.
#[derive(Debug, Clone)]
pub struct Test {
    /// The first expression.
    pub first: Term,
    /// Each comparison with the one before it.
    pub rest: Vec<(Compare, Term)>,
    /// What is said.
    pub words: Box<str>,
    /// It is about the figure's own value.
    pub of_result: bool,
}

/// A name of a formula.
#[derive(Debug, Clone)]
pub struct Name {
    /// In small letters.
    pub name: Box<str>,
    /// Only at these places; empty for all.
    pub at: Vec<Place>,
    /// Where its value is from; the first that has one.
    pub sources: Vec<Source>,
    /// What it is held to.
    pub limit: Limit,
    /// Stands in the chain beside the formula's own, where it can be had.
    pub beside: bool,
    /// What is said to be missing where nothing is typed for it; `PLACE` stands for the place.
    pub needs: Option<Box<str>>,
    /// Whether it is of several places.
    pub list: bool,
    /// Where it is declared.
    pub span: Span,
}

/// What a value is held to.
#[derive(Debug, Clone, Default)]
pub enum Limit {
    /// Nothing.
    #[default]
    None,
    /// Above nothing.
    AboveZero,
    /// Between two values, SI, said so.
    Within(f64, f64, Box<str>),
}

/// Which lines of a quantity count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// The later of asked and read, else what a figure of that name gives.
    Any,
    /// What was read.
    Read,
    /// What was read during the session of the moment.
    InSession,
    /// What was asked for.
    Set,
    /// The later of asked and read, and no figure.
    Typed,
}

/// Where a name's value is from.
#[derive(Debug, Clone)]
pub enum Source {
    /// A quantity or figure at a place.
    Value {
        /// Its name.
        name: Box<str>,
        /// The quantity, where there is one of that name.
        quantity: Option<QuantityId>,
        /// The figure, where there is one of that name.
        figure: Option<FigureId>,
        /// Which lines count.
        line: Line,
        /// Which number of a pair or a triple, from 1; 0 for the value.
        part: u8,
        /// Where.
        at: Where,
    },
    /// A condition: of the line that another name was read on, or of the session.
    With {
        /// Its key.
        key: Box<str>,
        /// Its kind.
        dimension: DimensionId,
        /// The name whose line it is; `None` for the session's.
        of: Option<u16>,
    },
    /// How many cylinders the car's declaration says.
    Cylinders,
    /// How many gears.
    Gears,
    /// Where its toe is measured.
    ToeOver,
    /// Laps of the session of the moment, or the last before it.
    SessionLaps,
    /// Its running time.
    SessionTime,
    /// A stated number.
    Number {
        /// SI.
        si: f64,
        /// Its kind.
        dimension: DimensionId,
        /// What it is worth in points of the scale of temperature; `None` for kelvin, which may be a difference.
        points: Option<f64>,
        /// What it is called.
        words: Box<str>,
        /// Where it is from.
        source: Box<str>,
        /// A default in place of what the book does not say, rather than a fact.
        assumed: bool,
    },
}

/// A place, seen from where the figure is worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Where {
    /// The figure's own place.
    Here,
    /// This one.
    At(Place),
    /// The axle's left corner, or that of the corner's axle.
    Left,
    /// The right one.
    Right,
    /// The corner's axle.
    Axle,
    /// The other axle.
    OtherAxle,
    /// The corner across the car.
    Across,
    /// The next gear.
    Next,
    /// Each corner.
    EachCorner,
    /// Each driven corner.
    EachDriven,
    /// Each cylinder.
    EachCylinder,
}

/// A formula with its literals in SI and its names by number.
#[derive(Debug, Clone, PartialEq)]
pub enum Term {
    /// A number, SI.
    Number(f64),
    /// A name, by its number in [`Figure::names`].
    Name(u16),
    /// The figure's own value.
    Result,
    /// A function.
    Call(Function, Vec<Term>),
    /// Added up; `true` takes away.
    Sum(Vec<(bool, Term)>),
    /// Multiplied; `true` divides.
    Product(Vec<(bool, Term)>),
    /// Base and exponent.
    Power(Box<Term>, Box<Term>),
}

impl Default for Term {
    fn default() -> Self {
        Self::Number(0.0)
    }
}

macro_rules! functions {
    ($($variant:ident $word:literal)*) => {
        /// A function of formulas.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Function { $(#[doc = concat!("`", $word, "`")] $variant),* }
        impl Function {
            /// Every function.
            pub const ALL: &'static [(Self, &'static str)] = &[$((Self::$variant, $word)),*];
        }
    };
}
functions! {
    Min "min" Max "max" Mean "mean" Sum "sum" Count "count"
    Sqrt "sqrt" Abs "abs" Exp "exp" Ln "ln" Floor "floor" Ceil "ceil"
    Sin "sin" Cos "cos" Tan "tan" Asin "asin" Acos "acos" Atan "atan"
}

impl Function {
    /// The function of that name.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(_, name)| *name == word).map(|(function, _)| *function)
    }

    /// Its name.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(function, _)| *function == self).map_or("", |(_, name)| name)
    }

    /// Whether it takes several values, or a name of several places.
    #[must_use]
    pub const fn takes_many(self) -> bool {
        matches!(self, Self::Min | Self::Max | Self::Mean | Self::Sum | Self::Count)
    }
}
