//! What a book declares: the shop, its cars, kinds, parts, people and places, as plain data with typed ids.
//!
//! Must not know how lines are read, nor what happens to anything on a date.

use super::due_dates::Stated;
use super::entry::{CostKind, Entry, Extra, ExtraId, Item, ItemId, Verb};
pub use super::ids::{
    BaselineId, CarId, CircuitId, ClassId, ClientId, EventId, GaugeId, JobId, KindId, OutfitId, PartId,
    PersonId, RuleId, SpecId,
};
use super::place::Place;
use super::range::StatedRange;
pub use crate::book::clock::{Clock, LifeAmount};
pub use crate::book::condition::Condition;
pub use crate::book::lost::LostLimits;
use crate::ids::Arena;
use crate::money::exchange::Rate;
use crate::money::{Amount, Currency};
use crate::source::Span;
use crate::vocabulary::QuantityId;
use jiff::civil::Date;

/// The shop itself.
#[derive(Debug, Clone, Default)]
pub struct Shop {
    /// As typed.
    pub title: String,
    /// The currency of its book.
    pub currency: Option<Currency>,
    /// What an hour of its work costs.
    pub rate: Option<Amount>,
    /// IANA zone name.
    pub zone: Option<Box<str>>,
    /// Where it is declared.
    pub declared: Option<Span>,
}

/// What every declared thing has.
#[derive(Debug, Clone)]
pub struct Named {
    /// Lower case, as looked up.
    pub name: Box<str>,
    /// As typed.
    pub typed: Box<str>,
    /// The words after the name, or the name as typed.
    pub title: String,
    /// The declaring line.
    pub declared: Span,
}

impl Named {
    /// The words after the name; empty where there are none.
    #[must_use]
    pub fn words(&self) -> &str {
        if self.title == *self.typed { "" } else { &self.title }
    }
}

/// A person.
#[derive(Debug, Clone)]
pub struct Person {
    /// Name and place.
    pub named: Named,
    /// What he does.
    pub role: String,
}

/// A client.
#[derive(Debug, Clone)]
pub struct Client {
    /// Name and place.
    pub named: Named,
    /// What an hour of work costs this client.
    pub rate: Option<Amount>,
    /// Hours are counted and not charged: the shop's own cars.
    pub unbilled: bool,
}

/// A circuit.
#[derive(Debug, Clone)]
pub struct Circuit {
    /// Name and place.
    pub named: Named,
    /// Of one lap, metres.
    pub length: Option<f64>,
}

/// An event.
#[derive(Debug, Clone)]
pub struct Event {
    /// Name and place.
    pub named: Named,
    /// First day.
    pub first: Date,
    /// Last day.
    pub last: Date,
    /// Where.
    pub circuit: Option<CircuitId>,
    /// Cars entered; `None` where nobody is named, so that every car may go.
    pub entered: Option<Vec<CarId>>,
    /// A zone of its own.
    pub zone: Option<Box<str>>,
    /// Sessions planned, and for which cars; for all where none is named. Of several the last that names the car counts.
    pub sessions: Vec<(u32, Vec<CarId>)>,
}

impl Event {
    /// Whether a car goes there: it is entered, or nobody is named.
    #[must_use]
    pub fn takes(&self, car: CarId) -> bool {
        self.entered.as_ref().is_none_or(|entered| entered.contains(&car))
    }
}

/// A gauge.
#[derive(Debug, Clone)]
pub struct Gauge {
    /// Name and place.
    pub named: Named,
    /// What it reads.
    pub reads: Vec<QuantityId>,
    /// Its resolution, as typed and in SI.
    pub resolution: Option<Item>,
    /// Within how much it repeats: what a second reading of the same may differ by, from the middle.
    pub repeats: Option<Item>,
    /// Last day it may be trusted.
    pub valid_until: Option<Date>,
    /// Whether it shows degrees and minutes.
    pub degrees_minutes: bool,
}

/// A class that cars run in, where the book says what is normal in it.
#[derive(Debug, Clone)]
pub struct Class {
    /// Name and place. A class has its name apart from all others.
    pub named: Named,
    /// Its ranges.
    pub ranges: Vec<StatedRange>,
}

/// What a car looks like from above: which outline is drawn.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Body {
    /// Nothing is said of it.
    #[default]
    Unsaid,
    /// One seat, wheels outside.
    SingleSeater,
    /// Open, wheels inside.
    Sports,
    /// A roof.
    Saloon,
    /// A frame.
    Kart,
}

impl Body {
    /// Each by its word in the language.
    pub const WORDS: [(&'static str, Self); 4] = [
        ("single-seater", Self::SingleSeater),
        ("sports", Self::Sports),
        ("saloon", Self::Saloon),
        ("kart", Self::Kart),
    ];
}

/// A car.
#[derive(Debug, Clone)]
pub struct Car {
    /// Name and place.
    pub named: Named,
    /// Whose.
    pub client: Option<ClientId>,
    /// The class it runs in.
    pub class: String,
    /// The same, where the book declares it.
    pub of_class: Option<ClassId>,
    /// What is normal on it.
    pub ranges: Vec<StatedRange>,
    /// Whether inch, pound and psi are shown.
    pub imperial: bool,
    /// How many cylinders.
    pub cylinders: Option<u16>,
    /// How many gears.
    pub gears: Option<u16>,
    /// What is driven.
    pub drive: String,
    /// What it looks like from above.
    pub body: Body,
    /// Where toe is measured, metres.
    pub toe_over: Option<f64>,
    /// Reference conditions of its readings.
    pub reference: Vec<Condition>,
    /// Attributes of the shop's own: word and text.
    pub about: Vec<(String, String, Span)>,
    /// Opening values: quantity and items.
    pub opening: Vec<(QuantityId, Vec<Item>, Span)>,
    /// Not the reader's: kept without its words, for the hours that parts of his ran on it.
    pub withheld: bool,
    /// Work that comes round again.
    pub every: Vec<Every>,
}

impl Car {
    /// The corners whose wheels are driven; none where `drive` does not say it in one of its words.
    #[must_use]
    pub fn driven(&self) -> Option<&'static [Place]> {
        Self::wheels_of(&self.drive)
    }

    /// The corners that a word of `drive` means.
    #[must_use]
    pub fn wheels_of(word: &str) -> Option<&'static [Place]> {
        match word.to_ascii_lowercase().as_str() {
            "front" => Some(Place::FRONT.corners()),
            "rear" => Some(Place::REAR.corners()),
            "all" | "four" => Some(Place::ALL.corners()),
            _ => None,
        }
    }

    /// Everything it is declared with for a quantity, in order: an opening value knows its place in this.
    pub fn opening_of(&self, quantity: QuantityId) -> impl Iterator<Item = &Item> {
        self.opening.iter().filter(move |(of, ..)| *of == quantity).flat_map(|(_, items, _)| items)
    }
}

/// Where a kind goes.
#[derive(Debug, Clone)]
pub struct Fit {
    /// The positions.
    pub places: Vec<Place>,
    /// The cars; empty for every car.
    pub cars: Vec<CarId>,
    /// It rides along there and does not work: nothing counts it.
    pub carried: bool,
}

impl Fit {
    /// Whether it is about a car; where no car is known, only what is about every car.
    #[must_use]
    pub fn on(&self, car: impl Into<Option<CarId>>) -> bool {
        self.cars.is_empty() || car.into().is_some_and(|car| self.cars.contains(&car))
    }
}

/// What the days of a dated item count from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Since {
    /// The day it was made.
    Made,
    /// Its last service; the day it was made where it never had one.
    Serviced,
    /// The day it first went on a car.
    Fitted,
}

impl Since {
    /// The word in a ledger.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Made => "made",
            Self::Serviced => "serviced",
            Self::Fitted => "fitted",
        }
    }
}

/// How long a dated item is good for, whether it runs or not: `valid 5 years from made`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Valid {
    /// Calendar months.
    pub months: u32,
    /// From when.
    pub since: Since,
    /// As typed, after `valid`.
    pub typed: Span,
}

/// Work that comes round again: after so much use, or so many months.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Every {
    /// After how much.
    pub amount: LifeAmount,
    /// The work.
    pub work: Work,
    /// The amounts and the work as typed.
    pub typed: Span,
}

/// What a line must do for it to be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// The verb, about the part: `inspect`, `rebuild`, `bench`.
    Part(Verb),
    /// The verb, about a quantity of the car: `torque wheel-torque`. `read` is any reading of it.
    Quantity(Verb, QuantityId),
}

/// A kind of part.
#[derive(Debug, Clone)]
pub struct Kind {
    /// Name and place.
    pub named: Named,
    /// What its declaration limits and could not be read.
    pub lost: LostLimits,
    /// Where it fits.
    pub fits: Vec<Fit>,
    /// The kinds of assembly it lives in.
    pub inside: Vec<KindId>,
    /// Limits of life; the first reached counts.
    pub life: Vec<LifeAmount>,
    /// How long it is good for by the calendar; the first reached counts.
    pub valid: Vec<Valid>,
    /// Whether its failure can hurt.
    pub safety: bool,
    /// Quantities whose value comes from the part fitted.
    pub gives: Vec<QuantityId>,
    /// Settings that travel with the part.
    pub carries: Vec<QuantityId>,
    /// Range of its clicks: lowest, highest.
    pub clicks: Option<(f64, f64)>,
    /// Whether clicks count from full hard (true) or full soft.
    pub from_hard: Option<bool>,
    /// Used once.
    pub one_use: bool,
    /// How many of it are always to be on hand.
    pub keep: Option<u32>,
    /// An empty place is asked about.
    pub must: bool,
    /// What its price is booked under: parts, or what is used up.
    pub books: CostKind,
    /// Work that comes round again.
    pub every: Vec<Every>,
    /// What a failure costs beyond the part: lost sessions, a tow.
    pub failure_costs: Option<Amount>,
}

/// A spec of a kind.
#[derive(Debug, Clone)]
pub struct Spec {
    /// Name and place.
    pub named: Named,
    /// What its declaration limits and could not be read.
    pub lost: LostLimits,
    /// Of which kind.
    pub kind: KindId,
    /// Price of one.
    pub price: Option<Amount>,
    /// Its own limits of life; empty for the kind's.
    pub life: Vec<LifeAmount>,
    /// Its own limits by the calendar; empty for the kind's.
    pub valid: Vec<Valid>,
    /// What the tag says.
    pub tags: Vec<(QuantityId, Item)>,
}

/// A part.
#[derive(Debug, Clone)]
pub struct Part {
    /// Name and place.
    pub named: Named,
    /// What its declaration limits and could not be read.
    pub lost: LostLimits,
    /// Of which kind, where it could be read.
    pub kind: Option<KindId>,
    /// Its spec.
    pub spec: Option<SpecId>,
    /// Serial, as typed.
    pub serial: String,
    /// Use before the book; a clock that is not here is not known unless `opening_new`.
    pub opening: Vec<LifeAmount>,
    /// `opening new`: nothing on any clock.
    pub opening_new: bool,
    /// When it was made.
    pub made: Option<(Stated, Span)>,
    /// When it was last serviced before the book.
    pub serviced: Option<(Stated, Span)>,
    /// When it first went on a car, before the book.
    pub fitted: Option<(Stated, Span)>,
    /// The last good day on its label.
    pub valid_until: Option<(Stated, Span)>,
    /// What its own tag says.
    pub tags: Vec<(QuantityId, Item)>,
    /// Whether the reader has nothing to do with it.
    pub withheld: bool,
    /// What it was bought for, where no line buys it.
    pub price: Option<Amount>,
    /// Paid for before the book began.
    pub paid: bool,
    /// The client whose own it is, from the beginning.
    pub owner: Option<ClientId>,
}

impl Part {
    /// Whether it had been in use before the book began, so that it was paid for then.
    #[must_use]
    pub fn is_used(&self) -> bool {
        self.paid || self.owner.is_some() || self.opening.iter().any(|amount| amount.value > 0.0)
    }
}

/// A rate of exchange, from a day on.
#[derive(Debug, Clone, Copy)]
pub struct Exchange {
    /// The rate.
    pub rate: Rate,
    /// Its line.
    pub declared: Span,
}

/// Parts at places and settings that go on a car together.
#[derive(Debug, Clone)]
pub struct Outfit {
    /// Name and place.
    pub named: Named,
    /// Of which car, where it could be read.
    pub car: Option<CarId>,
    /// Its lines, as they stand.
    pub lines: std::sync::Arc<crate::syntax::Chunk>,
    /// The same, read once; entered anew wherever it is fitted.
    pub read: std::sync::Arc<OutfitLines>,
}

/// The lines of an outfit, read; ids are of these lists alone.
#[derive(Debug, Clone, Default)]
pub struct OutfitLines {
    /// An entry a line.
    pub entries: Vec<Entry>,
    /// Their values.
    pub items: Arena<ItemId, Item>,
    /// What they say beyond those.
    pub extras: Arena<ExtraId, Extra>,
}

/// A named setup.
#[derive(Debug, Clone)]
pub struct Baseline {
    /// Name and place.
    pub named: Named,
    /// Of which car, where it could be read.
    pub car: Option<CarId>,
    /// The moment as typed; resolved by history.
    pub moment: Span,
}

/// A job. What its line says beyond the name stands with the line, an entry of verb `job`.
#[derive(Debug, Clone)]
pub struct Job {
    /// Name and place.
    pub named: Named,
}

/// What a rule limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Subject {
    /// A quantity.
    Quantity(QuantityId),
    /// A name that is no quantity: a figure, if there is one of it.
    Figure(Span),
}

/// Whose rulebook a rule is from, where that is not a class's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Local {
    /// An event's.
    Event(EventId),
    /// A circuit's.
    Circuit(CircuitId),
}

/// The least or the most that a rule allows, as typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// In the unit typed.
    pub value: f64,
    /// Decimals typed.
    pub decimals: u8,
    /// The number.
    pub typed: Span,
    /// Its unit.
    pub unit: Option<Span>,
}

/// A class rule, or one of a local rulebook.
#[derive(Debug, Clone)]
pub struct Rule {
    /// Name and place.
    pub named: Named,
    /// The class it is for; empty for a local one that is for every car.
    pub class: String,
    /// The event or circuit whose rulebook it is from.
    pub local: Option<Local>,
    /// What it limits.
    pub subject: Option<Subject>,
    /// Where; empty for wherever the quantity or figure has values.
    pub places: Vec<Place>,
    /// The least allowed.
    pub min: Option<Limit>,
    /// The most allowed.
    pub max: Option<Limit>,
    /// First day it is in force; always, where it does not say.
    pub from: Option<(Date, Span)>,
    /// Last day it is in force.
    pub until: Option<(Date, Span)>,
    /// Conditions it is judged at.
    pub conditions: Vec<Condition>,
    /// One of its lines could not be read; it is not judged.
    pub broken: bool,
}
