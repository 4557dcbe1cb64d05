//! What the book stage finds wrong, as facts without words; each is put into words by one file of `check`.
//!
//! Must not know messages or severities.

use super::ids::GaugeId;
use super::meaning::MeaningTrouble;
use super::model::CarId;
use super::place::Place;
use super::range::Limits;
use super::tried::TryTrouble;
use crate::money::Currency;
use crate::source::{LoadTrouble, Span};
use crate::syntax;
use crate::units::{DimensionId, UnitId};
use crate::vocabulary::QuantityId;

/// One mistake.
#[derive(Debug, Clone, PartialEq)]
pub struct Trouble {
    /// Where.
    pub span: Span,
    /// What.
    pub what: What,
}

/// What is wrong with a figure.
#[derive(Debug, Clone, PartialEq)]
pub enum FigureTrouble {
    /// A formula that cannot be read.
    Unreadable(syntax::formula::FormulaMistake),
    /// A quantity, figure or condition nobody declared.
    NameUnknown {
        /// The nearest.
        near: Option<String>,
    },
    /// A quantity whose values are words.
    NotANumber,
    /// A quantity that has two or three numbers at a place, of which none is said to be meant.
    SeveralNumbers(QuantityId),
    /// A place where the value is not to be had.
    PlaceWrong {
        /// Where it is.
        wants: &'static str,
    },
    /// Dimensions that do not go together.
    Clash(super::figure::Clash),
    /// A name that means something in the language.
    LocalReserved,
    /// Figures that need themselves, in a circle.
    Circle(Vec<String>),
    /// Too many figures behind one another.
    Deep,
    /// No `is`.
    NoFormula,
    /// A quantity and a figure of one name that are not of one sort.
    OtherSort {
        /// Where the other is declared.
        declared: Option<Span>,
        /// The other's kind.
        dimension: DimensionId,
        /// Where the figure is.
        wants: &'static str,
    },
}

/// What is wrong with a range that a car or a class states.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RangeTrouble {
    /// Its first number is not less than its second.
    Backward,
    /// Of a quantity that has words, or grades.
    NotANumber(QuantityId),
    /// Another stands for the same places.
    Twice(Span),
    /// What is usual lies outside what is possible, which is said there.
    Beyond(Span),
}

/// What `usual` and `possible` of a car or a class want.
pub const RANGE_OF_CAR: &str = "a quantity, where it has places a place, and a range with its unit";

/// A mistake without its place.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// Something about a range of a car or a class.
    Range(RangeTrouble),
    /// Something about a figure's declaration.
    Figure(FigureTrouble),
    /// Something about what a word means.
    Meaning(MeaningTrouble),
    /// Something about a trial that is to be run.
    Tried(TryTrouble),
    /// A file or folder that could not be read as text.
    Load(LoadTrouble),
    /// A line that could not be read.
    Syntax(syntax::Mistake),
    /// The book has no ledger file, or none that says anything.
    EmptyBook,
    /// An indented line with nothing above it to belong to.
    Orphan,
    /// Column 0 starts with a word that declares nothing.
    DeclarationUnknown {
        /// The nearest that does.
        near: Option<String>,
        /// Whether the word is a verb that should be indented.
        verb: bool,
    },
    /// A declaration without its name, or with something that cannot be one.
    NameMissing(&'static str),
    /// A name that means something already.
    NameReserved,
    /// A name declared twice; the first stands.
    NameTwice(Option<Span>),
    /// A built-in quantity declared once more, and the ranges that were to be said of it.
    QuantityBuiltIn(QuantityId, Vec<Span>),
    /// A name nobody declared.
    NameUnknown {
        /// What was looked for: "car", "part", "event" ...
        wanted: &'static str,
        /// The nearest declared.
        near: Option<String>,
    },
    /// A declared name of another sort.
    NameWrongSort {
        /// What was looked for.
        wanted: &'static str,
        /// What it is.
        is: &'static str,
        /// Where it is declared.
        declared: Span,
    },
    /// A declaration's property that it does not have.
    PropertyUnknown {
        /// What is declared.
        of: &'static str,
        /// The nearest it has.
        near: Option<String>,
    },
    /// There are as many of these as there can be.
    Full(&'static str),
    /// A property without what it needs.
    PropertyValue {
        /// The property.
        property: &'static str,
        /// What should follow.
        wants: &'static str,
    },
    /// No such day.
    DateImpossible {
        /// Days of that month, if the month exists.
        days: Option<i8>,
    },
    /// A head of a year that no block is of.
    YearFar,
    /// A range of dates that ends before it starts.
    DatesBackward,
    /// A head with a range of dates.
    HeadRange,
    /// A value that cannot be there.
    ValueImpossible {
        /// Of what.
        quantity: QuantityId,
        /// Where, and on which car.
        place: Place,
        /// On which car.
        car: Option<CarId>,
        /// What can be.
        limits: Limits,
        /// The unit it is typed in.
        unit: UnitId,
    },
    /// A ratio typed as teeth, one of them none.
    NoTeeth(QuantityId),
    /// No such zone.
    ZoneUnknown,
    /// A clock time that no day has.
    ClockImpossible,
    /// An entry without a verb, or with a word that is none.
    VerbUnknown {
        /// The nearest verb.
        near: Option<String>,
    },
    /// A line that only makes sense under another.
    OutOfPlace {
        /// The line's first word.
        line: &'static str,
        /// What it belongs under.
        under: &'static str,
    },
    /// Nothing after the verb.
    Incomplete {
        /// The verb.
        verb: &'static str,
        /// What is missing.
        wants: &'static str,
    },
    /// A word after `handed` that is no page.
    PageUnknown {
        /// The nearest.
        near: Option<String>,
    },
    /// No fingerprint of a page, behind whom it went to.
    PrintUnreadable,
    /// A quantity nobody declared.
    QuantityUnknown {
        /// The nearest.
        near: Option<String>,
    },
    /// A word that fits nothing in its place.
    WordUnexpected {
        /// After what.
        near: Option<String>,
    },
    /// A number without a unit.
    UnitMissing(QuantityId),
    /// A comparison in a unit that a gauge of it does not read.
    ComparedInOtherUnit(GaugeId),
    /// A gauge held against itself.
    ComparedWithItself(GaugeId),
    /// A unit of something else.
    UnitWrongKind {
        /// Of which quantity.
        quantity: Option<QuantityId>,
        /// What is wanted.
        wanted: DimensionId,
        /// What the word is.
        is: UnitId,
    },
    /// A word that could be several units.
    UnitAmbiguous(Vec<UnitId>),
    /// Not a unit.
    UnitUnknown {
        /// What is wanted.
        wanted: DimensionId,
        /// The nearest.
        near: Option<&'static str>,
    },
    /// Two units on one number.
    UnitTwice {
        /// The number, as typed.
        number: Span,
    },
    /// `13/8`.
    FractionImproper(Vec<String>),
    /// `5/12`.
    FractionOffRuler,
    /// `6d80'`.
    AngleMinutes,
    /// `1:75.0`.
    LapSeconds,
    /// Not a number, or one too long to be meant.
    NumberBad,
    /// A pair where one number is wanted.
    NotOneNumber(QuantityId),
    /// One number where a pair or triple is wanted.
    NotAPair(QuantityId, u8),
    /// A placed quantity with a bare number.
    PlaceMissing(QuantityId),
    /// A place the quantity does not have.
    PlaceWrong(QuantityId),
    /// A cylinder or a gear beyond those that the car has: so many.
    PlaceBeyond(u16),
    /// The same place twice on a line.
    PlaceTwice(Span),
    /// A clause that says one thing and stands on the line already, or a second name behind it.
    ClauseTwice(&'static str, Span),
    /// A clause that a line of its verb does not take, or with another kind of thing than it takes there.
    ClauseNotTaken {
        /// The word that opens it.
        clause: &'static str,
        /// The verb.
        verb: &'static str,
        /// What was meant, as it is typed.
        cure: Option<String>,
    },
    /// A property told twice with two values: which, and where it stands already.
    PropertyTwice {
        /// The property.
        property: String,
        /// Where it stands already.
        first: Span,
    },
    /// A dated head that is indented under another line.
    HeadIndented,
    /// What a line says once, twice on it: which, and where it stands already.
    FactTwice(&'static str, Span),
    /// So many numbers, so many wanted.
    ValueCount {
        /// The quantity.
        quantity: QuantityId,
        /// Typed.
        got: usize,
        /// Wanted: one of these.
        wanted: Vec<String>,
    },
    /// A quantity with no value.
    ValueMissing(QuantityId),
    /// `adjust` of what has no one number to add to: teeth, ramps, three temperatures; or in a unit that says less the more there is of
    /// it.
    ChangeOfPair(QuantityId),
    /// `adjust` with a number that has no sign.
    ChangeUnsigned(QuantityId),
    /// `->` where only `set` takes it, or with nothing on one side.
    ArrowBad,
    /// Toe without its direction, each/total, or where a length is measured.
    ToeUnderspecified {
        /// The direction is missing.
        direction: bool,
        /// Each or total is missing.
        share: bool,
        /// The diameter is missing.
        over: bool,
    },
    /// `because` with nothing after it.
    BecauseEmpty,
    /// Money with a code that ISO 4217 does not have, or before its sum.
    CurrencyBad,
    /// Money without a code: the shop's own is taken where it has one.
    CurrencyMissing(Option<Currency>),
    /// Money below zero.
    SumNegative,
    /// Money finer than its currency.
    SumTooFine(Currency),
    /// A car is wanted, and the head names none.
    NoCar(&'static str),
}
