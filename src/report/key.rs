//! What names a page of the book: its sort, and what it is about.
//!
//! Must not know how any page is made.

use crate::book::entry::EntryId;
use crate::book::model::{CarId, ClientId, EventId, KindId, PartId};

/// Names one page of the book: its sort, and what it is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::report) enum Key {
    /// The first page.
    Index,
    /// What the book still lacks of its events, or of one.
    Monday(Option<EventId>),
    /// What happened at an event.
    Event(EventId),
    /// What to load for an event.
    Load(EventId),
    /// The rate book.
    Bench,
    /// The letter to a client.
    Client(ClientId),
    /// A car after an impact: the line of the `hit`.
    Crash(CarId, EntryId),
    /// A car between sessions.
    Now(CarId),
    /// A car on the flat: what was left last, boxes to write in.
    Alignment(CarId),
    /// What goes in the place of what breaks on a car.
    Spare(CarId),
    /// A car's power and fuel.
    Power(CarId),
    /// A car's engine, cylinder by cylinder.
    Engine(CarId),
    /// A car before the scrutineers of an event.
    Card(CarId, EventId),
    /// A car's setup for an event.
    Sheet(CarId, EventId),
    /// The shop's costs of a year.
    Costs(i16),
    /// What is due before the next event.
    Due,
    /// How long the parts of a kind last.
    Kind(KindId),
    /// A part's travel.
    Part(PartId),
    /// A car's season.
    Season(CarId, i16),
    /// Which part was where on a car in a year.
    Usage(CarId, i16),
    /// What changed on a car between two events.
    Diff(CarId, EventId, EventId),
}

/// A page that is to be made, as its sort lists it.
#[derive(Debug, Clone)]
pub(in crate::report) struct Listed {
    /// Which.
    pub key: Key,
    /// What its file name is made of: `["bittern", "2026"]` becomes `bittern-2026.html`.
    pub name: Vec<String>,
    /// The words of a link to it.
    pub text: String,
    /// A remark after the link; may be empty.
    pub remark: &'static str,
    /// The year it is about. Pages of one car and year are made together and share that car's figures; the season's page
    /// links to them, the first page only to the latest year's.
    pub year: Option<i16>,
}

impl Key {
    /// The car it is about.
    pub fn car(self) -> Option<CarId> {
        match self {
            Self::Season(car, _)
            | Self::Usage(car, _)
            | Self::Diff(car, ..)
            | Self::Sheet(car, _)
            | Self::Now(car)
            | Self::Alignment(car)
            | Self::Spare(car)
            | Self::Power(car)
            | Self::Engine(car)
            | Self::Card(car, _)
            | Self::Crash(car, _) => Some(car),
            Self::Index
            | Self::Due
            | Self::Bench
            | Self::Client(_)
            | Self::Monday(_)
            | Self::Event(_)
            | Self::Load(_)
            | Self::Costs(_)
            | Self::Kind(_)
            | Self::Part(_) => None,
        }
    }
}
