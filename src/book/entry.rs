//! What dated blocks say, resolved: heads, entries with their verb and values, in compact arrays.
//!
//! Must not know what was true before an entry; that is `history`.

use super::clause::{Clause, ClauseSet};
pub use super::condition::Condition;
use super::due_dates::Stated;
use super::handed::HandedFacts;
use super::ids::{CarId, ClientId, EventId, GaugeId, JobId, KindId, OutfitId, PartId, PersonId};
pub use super::item::{Flags, Item};
use super::loan::LoanFacts;
use super::place::Place;
pub use super::told::{Compared, Failure, HeldAgainst, ResultFacts};
pub use super::tried::TryFacts;
pub use super::until::Until;
use crate::ids::ids;
use crate::money::{Amount, Minutes};
use crate::source::{FileId, Span};
use crate::vocabulary::QuantityId;
use jiff::civil::Date;

ids! {
    /// An entry, by its place in the text.
    EntryId: u32,
    /// A dated head.
    HeadId: u32,
    /// A value of an entry.
    ItemId: u32,
    /// What an entry says beyond its values.
    ExtraId: u32,
    /// A session as typed.
    RunId: u32,
}

macro_rules! verbs {
    ($($name:ident $word:literal),* $(,)?) => {
        /// What an entry does. The first 53 are the language's verbs; the rest are lines that belong to one.
        #[allow(missing_docs)]
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
        #[serde(rename_all = "lowercase")]
        #[repr(u8)]
        pub enum Verb { $($name),* }
        impl Verb {
            /// Every verb, in the reference's order.
            pub const ALL: &[Self] = &[$(Self::$name),*];
            /// The word in a ledger.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$name => $word),* }
            }
        }
    };
}
verbs! {
    Set "set", Adjust "adjust", Found "found", Left "left", Read "read", Bench "bench", Fill "fill",
    Torque "torque", Recheck "recheck", Compare "compare", Fit "fit", Remove "remove", Swap "swap", Move "move", Build "build",
    Strip "strip", Rebuild "rebuild", Shelve "shelve", Quarantine "quarantine", Release "release",
    Scrap "scrap", Buy "buy", Sell "sell", Failed "failed", Hit "hit", Inspect "inspect", Service "service",
    Lend "lend", Borrow "borrow", Return "return", Count "count", Use "use", Run "run",
    Stint "stint", Stage "stage", Stop "stop", Laps "laps", Result "result", Correct "correct", Say "say", Think "think", Try "try", Waive "waive", Void "void",
    Job "job", Done "done", Defer "defer", Promise "promise",
    Hours "hours", Cost "cost", Credit "credit", Quote "quote", Paid "paid", Handed "handed",
    Points "points", Sweep "sweep", Lift "lift", Note "|",
}

impl Verb {
    /// How many of [`Verb::ALL`] start a line of their own or answer one (the rest are `points`, `sweep`, `lift`, notes).
    pub const COUNT: usize = 54;
}

/// Who or what `by` names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum By {
    /// Nobody.
    #[default]
    Nobody,
    /// A gauge.
    Gauge(GaugeId),
    /// A person.
    Person(PersonId),
}

/// A dated head.
#[derive(Debug, Clone, Copy)]
pub struct Head {
    /// The head's line.
    pub span: Span,
    /// Its date.
    pub date: Date,
    /// Whose car; `None` for shop work.
    pub car: Option<CarId>,
    /// The event it belongs to.
    pub event: Option<EventId>,
    /// Minutes of the day, if a time stands on it.
    pub clock: Option<u16>,
    /// The zone's offset from UTC in minutes, where one is typed behind that time.
    pub offset: Option<i16>,
    /// Who writes.
    pub person: Option<PersonId>,
    /// When it was typed, for late entries.
    pub written: Option<Date>,
    /// Whose the car is, on lines after its sale: the buyer it is looked after for.
    pub owner: Option<ClientId>,
    /// A car was named, but no such car is declared.
    pub car_unknown: bool,
    /// An event was named, but which cannot be read.
    pub event_unknown: bool,
    /// First entry.
    pub first: EntryId,
    /// One past its last entry.
    pub end: EntryId,
}

impl Head {
    /// Before every day that a book can have: that of a head whose date cannot be read, in a book without any.
    pub const UNDATED: jiff::civil::Date = jiff::civil::Date::constant(1900, 1, 1);

    /// Whether anybody knows its day.
    #[must_use]
    pub fn is_dated(&self) -> bool {
        self.date > Self::UNDATED
    }

    /// Its entries, in the order of the text.
    pub fn lines(&self) -> impl ExactSizeIterator<Item = EntryId> + DoubleEndedIterator + Clone + use<> {
        (self.first.index()..self.end.index()).map(EntryId::from)
    }

    /// Whether it has none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.end <= self.first
    }
}

/// What an entry is about, beyond its quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Subject {
    /// Nothing that has an id.
    #[default]
    Nothing,
    /// A part: lines that move one, look at one, or read one on the bench.
    Part(PartId),
    /// A session: `run`, and the `laps` under it.
    Run(RunId),
    /// A job: the line that opens it, and those that say how it goes on.
    Job(JobId),
}

/// One entry. 56 bytes or fewer: a book has millions.
#[derive(Debug, Clone, Copy)]
pub struct Entry {
    /// The file.
    pub file: FileId,
    /// The line's first word.
    pub start: u32,
    /// One past its last word.
    pub end: u32,
    /// Its head.
    pub head: HeadId,
    /// The entry it belongs to.
    pub parent: Option<EntryId>,
    /// First of its items.
    pub items: ItemId,
    /// What it says beyond its values.
    pub extra: Option<ExtraId>,
    /// What it is about.
    pub subject: Subject,
    /// Clock minutes of the day it starts and ends; -1 for none.
    pub clock: (i16, i16),
    /// How many items.
    pub item_count: u16,
    /// Its quantity.
    pub quantity: Option<QuantityId>,
    /// `by`.
    pub by: By,
    /// What it does.
    pub verb: Verb,
    /// Voided by a line under it.
    pub void: bool,
    /// The line had an error; what it touches is unknown.
    pub broken: bool,
    /// The reader of this book may not read it: kept for its place in time, and where it ran a car or moved a part for that.
    pub withheld: bool,
}

impl Entry {
    /// The whole line (its words).
    #[must_use]
    pub const fn span(&self) -> Span {
        Span::new(self.file, self.start, self.end)
    }

    /// The part it is about (for verbs about parts, and `bench`).
    #[must_use]
    pub const fn part(&self) -> Option<PartId> {
        if let Subject::Part(part) = self.subject { Some(part) } else { None }
    }

    /// The session it states (`run`) or belongs to (`laps`).
    #[must_use]
    pub const fn run(&self) -> Option<RunId> {
        if let Subject::Run(run) = self.subject { Some(run) } else { None }
    }

    /// The job it opens or goes on with (for `job`, `done`, `defer`, `promise`); for work on one see [`Extra::job`].
    #[must_use]
    pub const fn job(&self) -> Option<JobId> {
        if let Subject::Job(job) = self.subject { Some(job) } else { None }
    }
}

/// The state a part is in when it comes off or is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// Fit for use.
    Good,
    /// Broken.
    Failed,
}

/// Who may read a line, narrowest first: a wider word includes the narrower ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Audience {
    /// The shop alone.
    Shop,
    /// The car's client too.
    Client,
    /// Whoever buys the car too.
    Buyer,
}

impl Audience {
    /// Every word after `for`.
    pub const ALL: [Self; 3] = [Self::Shop, Self::Client, Self::Buyer];

    /// The word in a ledger.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Shop => "shop",
            Self::Client => "client",
            Self::Buyer => "buyer",
        }
    }

    /// The audience of that word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| word.eq_ignore_ascii_case(one.word()))
    }
}

/// What a line says beyond its values.
#[derive(Debug, Clone, Default)]
pub struct Extra {
    /// `with ...`.
    pub conditions: Vec<Condition>,
    /// `over 400 mm`, metres.
    pub over: Option<f64>,
    /// `at 7.0 bar`.
    pub at: Option<Item>,
    /// `during s6`: the label.
    pub during: Option<Span>,
    /// `lap 13`.
    pub lap: Option<u32>,
    /// `after s6`: the label.
    pub after: Option<Span>,
    /// The words after `because`.
    pub because: Option<Span>,
    /// Quoted words, and flags such as `unsure`, `ok`.
    pub words: Vec<Span>,
    /// `from ...`, `to ...`.
    pub from: Option<Span>,
    /// `from full-hard` (true), `from full-soft` (false).
    pub from_hard: Option<bool>,
    /// Facts of a line about parts.
    pub parts: Option<Box<PartFacts>>,
    /// `mode`, `mechanism`, `cause`, `found-by`.
    pub failure: Option<Box<Failure>>,
    /// `waive NAME`.
    pub check: Option<Span>,
    /// `on JOB`: the job that the work of this line belongs to.
    pub job: Option<JobId>,
    /// Which gauges a comparison is of.
    pub compared: Option<Compared>,
    /// Facts of a line about a job.
    pub job_facts: Option<Box<JobFacts>>,
    /// Facts of a line about money or hours.
    pub costs: Option<Box<CostFacts>>,
    /// What came of a session.
    pub result: Option<Box<ResultFacts>>,
    /// A trial that is to be run.
    pub tried: Option<Box<TryFacts>>,
    /// A page that was handed out.
    pub handed: Option<Box<HandedFacts>>,
    /// `for client`: who may read it, where the line says so.
    pub audience: Option<Audience>,
    /// Clauses with a mistake, which only add to the line: what they would have said is unknown.
    pub unclear: ClauseSet,
}

impl Extra {
    /// Whether a condition of it could not be read: those that it does not have are unknown, not the car's usual ones.
    #[must_use]
    pub const fn conditions_lost(&self) -> bool {
        self.unclear.has(Clause::With)
    }

    /// Whether it says nothing, so that it need not be kept.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.conditions.is_empty()
            && self.words.is_empty()
            && self.over.is_none()
            && self.at.is_none()
            && self.during.is_none()
            && self.lap.is_none()
            && self.after.is_none()
            && self.because.is_none()
            && self.from.is_none()
            && self.from_hard.is_none()
            && self.parts.is_none()
            && self.failure.is_none()
            && self.check.is_none()
            && self.job.is_none()
            && self.compared.is_none()
            && self.job_facts.is_none()
            && self.costs.is_none()
            && self.result.is_none()
            && self.tried.is_none()
            && self.handed.is_none()
            && self.audience.is_none()
            && self.unclear.is_empty()
    }
}

/// What a line about parts says.
#[derive(Debug, Clone, Default)]
pub struct PartFacts {
    /// The kind, where named.
    pub kind: Option<KindId>,
    /// The place.
    pub place: Option<Place>,
    /// The car, where another than the head's.
    pub car: Option<CarId>,
    /// The part that goes on, the assembly, or whatever else the verb has two of.
    pub other: Option<PartId>,
    /// `good` or `failed`.
    pub verdict: Option<Verdict>,
    /// More parts (`sell ... with cp-08, sp-05`).
    pub more: Vec<PartId>,
    /// Who buys (`sell ... to CLIENT`).
    pub buyer: Option<ClientId>,
    /// `with all`.
    pub all: bool,
    /// Money on the line.
    pub money: Option<Amount>,
    /// Money stood on the line and could not be read: how much is unknown.
    pub money_lost: bool,
    /// `invoice "2026-077"`.
    pub invoice: Option<Span>,
    /// `until 2027-06`: the last good day that a service states.
    pub until: Option<Stated>,
    /// What a line about a part lent or borrowed says of that.
    pub loan: Option<Box<LoanFacts>>,
    /// How many of a kind: counted, used, bought.
    pub count: Option<u32>,
    /// `fit gravel`: its lines stand under this one.
    pub outfit: Option<OutfitId>,
    /// A line of an outfit: whatever is in the place makes way.
    pub instead: bool,
}

/// A session, as typed.
#[derive(Debug, Clone)]
pub struct Run {
    /// Its entry.
    pub entry: EntryId,
    /// Its label.
    pub label: Span,
    /// Running minutes typed.
    pub minutes: Option<f64>,
    /// Laps typed.
    pub laps: Option<u32>,
    /// Best lap typed, seconds.
    pub best: Option<f64>,
    /// Standing starts.
    pub launches: Option<u32>,
    /// Heat cycles of the tyres; 1 where not typed.
    pub heat_cycles: Option<u32>,
    /// Metres typed.
    pub distance: Option<f64>,
    /// Metres of road between its stages, or all there was: driven, and not timed.
    pub road: Option<f64>,
    /// Lap times of its `laps` line, seconds; `true` for a lap that does not count (in, out, box, yellow).
    pub times: Vec<(f64, bool)>,
    /// How many of those were run under a yellow.
    pub yellow: u32,
    /// What it was made of, in the order typed: stints, stages, stops.
    pub stretches: Vec<Stretch>,
}

/// A part of a session, as typed: a stint, a stage, or a stop between them.
#[derive(Debug, Clone)]
pub struct Stretch {
    /// Its entry, whose verb says which it is and whose `by` who drove.
    pub entry: EntryId,
    /// The label of a stage.
    pub label: Option<Span>,
    /// The road that a stage is on, as it is declared: stages of one are the same stage.
    pub course: Option<super::model::CircuitId>,
    /// Minutes typed.
    pub minutes: Option<f64>,
    /// Laps typed.
    pub laps: Option<u32>,
    /// Best lap typed, seconds.
    pub best: Option<f64>,
    /// Metres typed: of a stage its length.
    pub distance: Option<f64>,
    /// Metres of road to it.
    pub road: Option<f64>,
}

/// What a `job`, `done`, `defer` or `promise` line says.
#[derive(Debug, Clone, Default)]
pub struct JobFacts {
    /// `planned`: for later, so that the car may run with it open.
    pub planned: bool,
    /// `on-part PART`.
    pub part: Option<PartId>,
    /// `at EVENT`: where it was found or is to be done.
    pub event: Option<EventId>,
    /// `to CLIENT` of a promise.
    pub client: Option<ClientId>,
    /// The day of a promise, or the time it is put off to.
    pub until: Option<(Until, Span)>,
}

/// What a cost is for, as typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum CostKind {
    /// Fees to take part.
    Entry,
    /// Parts.
    Parts,
    /// Fuel.
    Fuel,
    /// What is used up: oil, pads, tyres.
    Consumables,
    /// Work done by another shop.
    Outside,
    /// Prize money: of a credit alone.
    Prize,
    /// Anything else.
    #[default]
    Other,
}

impl CostKind {
    /// Every kind with its word.
    pub const ALL: [(&'static str, Self); 7] = [
        ("entry", Self::Entry),
        ("parts", Self::Parts),
        ("fuel", Self::Fuel),
        ("consumables", Self::Consumables),
        ("outside", Self::Outside),
        ("prize", Self::Prize),
        ("other", Self::Other),
    ];

    /// The kind of that word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|(each, _)| word.eq_ignore_ascii_case(each)).map(|(_, kind)| kind)
    }
}

/// What an `hours`, `cost`, `credit` or `quote` line says.
#[derive(Debug, Clone, Default)]
pub struct CostFacts {
    /// The sum, as typed.
    pub sum: Option<Amount>,
    /// The time worked.
    pub minutes: Option<Minutes>,
    /// What it is for.
    pub kind: CostKind,
    /// `at EVENT`.
    pub event: Option<EventId>,
    /// `to CLIENT`: who pays.
    pub client: Option<ClientId>,
    /// Who pays was typed and could not be read.
    pub client_lost: bool,
    /// `rate 62.00 EUR`, an hour.
    pub rate: Option<Amount>,
    /// `unbilled`: counted, not charged.
    pub unbilled: bool,
    /// `back`: paid back to the client.
    pub back: bool,
    /// `invoice "2026-077"`.
    pub invoice: Option<Span>,
    /// `split KEY among CARS`.
    pub split: Option<Split>,
}

/// How a cost is shared out among cars.
#[derive(Debug, Clone)]
pub struct Split {
    /// By what.
    pub key: SplitKey,
    /// Among which cars, in the order typed; empty for the cars that ran at the line's event.
    pub among: Vec<CarId>,
    /// From `split` to the last of its words.
    pub span: Span,
}

/// What a cost is shared out by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SplitKey {
    /// The same for each.
    Equal,
    /// Running minutes, at the line's event or in its year.
    Minutes,
    /// Events run in the line's year.
    Events,
    /// `2:1`: so many parts each.
    Parts(Vec<u32>),
}
