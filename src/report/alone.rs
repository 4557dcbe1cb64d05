//! One page by itself, to be printed or mailed: it has no link to a page that is not with it.
//!
//! Must not know what is on it, nor how a person is told that there is none.

use super::page::press::Press;
use super::page::{self, Sort as _};
use super::section::alignment::AlignmentSheet;
use super::section::card::ScrutinyCard;
use super::section::crash::{self, Crash};
use super::section::engine::{self, EngineCheck};
use super::section::event::{self, EventPage};
use super::section::load::{self, Load};
use super::section::monday::MondayList;
use super::section::now::Now;
use super::section::power::PowerCard;
use super::section::sheet::SetupSheet;
use super::section::spare::SparePage;
use super::section::stops;
use super::teller::Teller;
use super::{Own, Report};
use crate::Compiled;
use crate::book::model::{CarId, EventId};
use crate::report::desk::Options;
use crate::report::key::Listed;
use crate::report::section::year;

/// Which page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alone {
    /// A car's setup sheet for an event; for its next where none is named, else its last.
    Setup(CarId, Option<EventId>),
    /// A car between sessions.
    Now(CarId),
    /// A car after its last impact, or its last at an event.
    Crash(CarId, Option<EventId>),
    /// A car on the flat: what was left last, boxes to write in.
    Alignment(CarId),
    /// What goes in the place of what breaks on a car.
    Spare(CarId),
    /// A car's power and fuel.
    Power(CarId),
    /// A car's engine, cylinder by cylinder.
    Engine(CarId),
    /// A car before the scrutineers of an event; of its next where none is named, else its last.
    Card(CarId, Option<EventId>),
    /// What happened at an event; at the last that a car ran at where none is named.
    Event(Option<EventId>),
    /// What the book still lacks of an event; of each car's last ones where none is named.
    Monday(Option<EventId>),
    /// What to load for an event; for the next where none is named.
    Load(Option<EventId>),
}

/// Why there is no such page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoPage {
    /// The book has no event of that car, or none that a car goes to.
    NoEvent,
    /// The car neither ran at that event nor goes there; or no car does.
    NotThere,
    /// The book has no line about the car.
    NoLine,
    /// The car was not hit, or not at that event.
    NoHit,
    /// Nothing was read of the car's cylinders over hours.
    NoCylinder,
    /// It is the shop's own, and the book is cut for a reader.
    ShopsOwn,
}

impl<'a> Report<'a> {
    /// A report of one page.
    ///
    /// # Errors
    /// Why there is none.
    pub fn alone(compiled: &'a Compiled, which: Alone, own: &'a Own) -> Result<Self, NoPage> {
        let tell = Teller::new(compiled);
        let (template, listed) = listed(&tell, which)?;
        let table = page::table::only(template, listed);
        Ok(Self { tell, options: Options::default(), table, press: Press::new(own) })
    }

    /// The same, asked for when the driver said these words: of the page between sessions alone.
    #[must_use]
    pub fn asked(mut self, words: &str) -> Self {
        words.clone_into(&mut self.tell.asked);
        self
    }

    /// The view behind the first page, as JSON; its shape is in `report-templates/views/`.
    #[must_use]
    pub fn json(&self) -> Option<String> {
        page::stream::json(&self.tell, self.options, &self.table)
    }
}

/// The event that a page about a car's setup is for: its next where none is named, else its last.
fn setup_at(tell: &Teller<'_>, car: CarId, event: Option<EventId>) -> Result<EventId, NoPage> {
    let (ran, ahead) = (stops::ran(tell, car), stops::ahead(tell, car));
    match event {
        Some(event) if ran.contains(&event) || ahead.contains(&event) => Ok(event),
        Some(_) => Err(NoPage::NotThere),
        None => ahead.first().or(ran.last()).copied().ok_or(NoPage::NoEvent),
    }
}

/// The page and its template.
fn listed(tell: &Teller<'_>, which: Alone) -> Result<(&'static str, Listed), NoPage> {
    match which {
        Alone::Setup(car, event) => {
            let event = setup_at(tell, car, event)?;
            Ok((SetupSheet::TEMPLATE, page::sheet::listed(tell, car, event)))
        }
        Alone::Now(car) if year::years(tell, car).is_empty() => Err(NoPage::NoLine),
        Alone::Now(car) => Ok((Now::TEMPLATE, page::now::listed(tell, car))),
        Alone::Crash(car, event) => {
            let hits = crash::hits(tell, car).into_iter();
            let hit = hits.rev().find(|(line, _)| event.is_none() || crash::event(tell, *line) == event);
            Ok((Crash::TEMPLATE, page::crash::listed(tell, car, hit.ok_or(NoPage::NoHit)?)))
        }
        Alone::Alignment(car) | Alone::Spare(car) | Alone::Power(car) | Alone::Engine(car)
            if year::years(tell, car).is_empty() =>
        {
            Err(NoPage::NoLine)
        }
        Alone::Spare(_) if tell.is_cut() => Err(NoPage::ShopsOwn),
        Alone::Spare(car) => Ok((SparePage::TEMPLATE, page::spare::listed(tell, car))),
        Alone::Engine(car) if !engine::any(tell, car) => Err(NoPage::NoCylinder),
        Alone::Engine(car) => Ok((EngineCheck::TEMPLATE, page::engine::listed(tell, car))),
        Alone::Power(car) => Ok((PowerCard::TEMPLATE, page::power::listed(tell, car))),
        Alone::Alignment(car) => Ok((AlignmentSheet::TEMPLATE, page::alignment::listed(tell, car))),
        Alone::Card(car, event) => {
            let event = setup_at(tell, car, event)?;
            Ok((ScrutinyCard::TEMPLATE, page::card::listed(tell, car, event)))
        }
        Alone::Event(Some(event)) if event::cars(tell, event).is_empty() => Err(NoPage::NotThere),
        Alone::Event(event) => {
            let ran = tell.cx.book.events.keys().filter(|event| !event::cars(tell, *event).is_empty());
            let first = |event: &EventId| tell.cx.book.events.get(*event).map(|event| event.first);
            let event = event.or_else(|| ran.max_by_key(|event| (first(event), *event)));
            Ok((EventPage::TEMPLATE, page::event::listed(tell, event.ok_or(NoPage::NoEvent)?)))
        }
        Alone::Monday(_) if tell.is_cut() => Err(NoPage::ShopsOwn),
        Alone::Monday(Some(event)) if event::cars(tell, event).is_empty() => Err(NoPage::NotThere),
        Alone::Monday(event) => Ok((MondayList::TEMPLATE, page::monday::listed(tell, event))),
        Alone::Load(_) if tell.is_cut() => Err(NoPage::ShopsOwn),
        Alone::Load(Some(event)) if !load::any(tell, event) => Err(NoPage::NotThere),
        Alone::Load(Some(event)) => Ok((Load::TEMPLATE, page::load::listed(tell, event))),
        Alone::Load(None) => {
            let first = |event: &EventId| tell.cx.book.events.get(*event).map(|event| event.first);
            let cars = tell.cx.book.cars.keys();
            let all = cars.flat_map(|car| stops::ahead(tell, car));
            let next = all.min_by_key(|event| (first(event), *event));
            Ok((Load::TEMPLATE, page::load::listed(tell, next.ok_or(NoPage::NoEvent)?)))
        }
    }
}
