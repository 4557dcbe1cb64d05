//! The first page: where each car is now, and the way to every other page.
//!
//! Must not know the other pages' sections.

mod now;
mod sentence;
mod year;

use crate::report::desk::Desk;
use crate::report::key::Key;

pub use sentence::Sentence;

use super::accounts::{self, ClientAccounts};
use super::frame::{self, Frame};
use super::jobs::{self, ShownJob};
use super::life_bars;
use super::link::{Link, LinkGroup};
use super::problems::{self, ShownProblem};
use super::stops;
use super::totals::{self, Totals};
use crate::book::model::CarId;
use crate::diagnostics::Severity;
use crate::due::limits::{Reach, Standing};
use crate::due::row::Row;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::report::chart::bars::BarsChart;
use crate::report::chart::year::YearChart;
use crate::report::section::whose;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// The first page: where each car is now, and the way to every other page.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Index {
    /// Title and footer.
    pub frame: Frame,
    /// Pages that belong to no car.
    pub pages: Vec<LinkGroup>,
    /// "The book is written up to 10 November 2026; the next event, quern-27, is 158 days later."; empty for a book without a date.
    pub when: String,
    /// The season as a strip; none where no car ran or goes anywhere.
    pub year: Option<YearChart>,
    /// What comes to its limit by the next event, or nearly, drawn; none where nothing does.
    pub bars: Option<BarsChart>,
    /// What clients owe, since when, and what they paid; none where the book says of no payment.
    pub accounts: Option<ClientAccounts>,
    /// The cars.
    pub cars: Vec<Card>,
    /// Jobs that belong to no car.
    pub jobs: Vec<ShownJob>,
    /// Problems of lines that belong to no car.
    pub problems: Vec<ShownProblem>,
}

/// One car.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Card {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Client and class.
    pub about: String,
    /// Its page for between sessions.
    pub page: Option<Link>,
    /// Where it stands: sold, at an event, in the shop; what is missing on it.
    pub stands: Vec<Sentence>,
    /// When it ran last, and how fast.
    pub last: Vec<Sentence>,
    /// What is open: jobs, parts nobody has looked at, what ends before its next event, rules it does not keep there.
    pub open: Vec<Sentence>,
    /// Its next event.
    pub next: Vec<Sentence>,
    /// Its days: "17–18 April 2027".
    pub due: String,
    /// The pages of that event.
    pub next_pages: Vec<Link>,
    /// The last line about it.
    pub line: Option<Sentence>,
    /// Whether it was sold.
    pub sold: bool,
    /// Its use over the whole book.
    pub totals: Totals,
    /// Whether miles are shown.
    pub imperial: bool,
    /// Errors on its lines.
    pub errors: usize,
    /// Warnings.
    pub warnings: usize,
    /// Notes.
    pub notes: usize,
    /// Its pages, sort by sort.
    pub pages: Vec<LinkGroup>,
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>) -> Index {
    let tell = desk.tell;
    let mine = tell.cx.book.cars.keys().filter(|car| desk.options.car.is_none_or(|only| only == *car));
    let mine = mine.filter(|car| tell.cx.book.cars.get(*car).is_some_and(|car| !car.withheld));
    let mine: Vec<CarId> = mine.collect();
    let cars: Vec<Card> = mine.iter().map(|car| card(desk, *car)).collect();
    let title = "Where each car is now".to_owned();
    let subtitle = words::count(cars.len(), "car", "cars");
    Index {
        frame: Frame {
            errors: tell.any_error(),
            whole: Some(frame::whole(tell)),
            ..frame::frame(tell, title, subtitle, None)
        },
        pages: desk.table.groups(None),
        when: when(tell, &mine),
        year: year::strip(tell, &mine),
        bars: bars(tell, &mine),
        accounts: accounts::accounts(desk),
        cars,
        jobs: jobs::jobs(tell, None, Rank::START, Rank::END),
        problems: problems::of_book(tell),
    }
}

/// The parts of these cars that come to their limit at the next event or the one after, or of which nobody can say; the first few.
fn bars(tell: &Teller<'_>, cars: &[CarId]) -> Option<BarsChart> {
    const MOST: usize = 6;
    let pressing = |row: &&Row| {
        let standing = row.reach().map(Reach::standing);
        cars.contains(&row.fitted.car)
            && standing.is_some_and(|standing| !matches!(standing, Standing::Within | Standing::Unplanned))
    };
    life_bars::before(tell, "lives", tell.due()?.rows.iter().filter(pressing).take(MOST))
}

/// How far the book is written, and how long it is from there to the next event of these cars.
fn when(tell: &Teller<'_>, cars: &[CarId]) -> String {
    let Some(until) = tell.until() else { return String::new() };
    let written = format!("The book is written up to {}", words::date(until));
    let first = |event: crate::book::model::EventId| tell.cx.book.events.get(event).map(|event| event.first);
    let ahead = cars.iter().flat_map(|car| stops::ahead(tell, *car));
    let next = ahead.filter_map(|event| Some((first(event)?, event))).min();
    match next {
        None => format!("{written}; no event lies ahead in it."),
        Some((date, event)) if date <= until => format!("{written}; {} is on.", tell.event(event)),
        Some((date, event)) => {
            let days = until.until(date).map_or(0, |span| span.get_days()).unsigned_abs() as usize;
            let days = words::count(days, "day", "days");
            format!("{written}; {} is {days} later.", tell.event(event))
        }
    }
}

fn card(desk: &Desk<'_>, car: CarId) -> Card {
    let tell = desk.tell;
    let cx = &tell.cx;
    let declared = cx.book.cars.get(car);
    let sessions: Vec<&Session> = super::year::own(tell, car).collect();
    let imperial = declared.is_some_and(|car| car.imperial);
    let count = |severity| Teller::count(tell.messages_of(car), severity);
    let next = stops::ahead(tell, car).into_iter().next();
    let keys = next.map(|event| [Key::Sheet(car, event), Key::Load(event)]);
    Card {
        name: cx.car(car).to_owned(),
        title: declared.map_or_else(String::new, |car| car.named.title.clone()),
        about: whose::subtitle(tell, car),
        page: desk.table.link(Key::Now(car)),
        stands: now::stands(tell, car),
        last: now::last(tell, car, &sessions),
        open: now::open(tell, car, next),
        next: now::next(tell, next),
        due: next
            .and_then(|event| cx.book.events.get(event))
            .map_or_else(String::new, |event| words::dates(event.first, event.last)),
        next_pages: keys.into_iter().flatten().filter_map(|key| desk.table.link(key)).collect(),
        line: now::line(tell, car),
        sold: cx.history.parts.sold.contains_key(&car),
        totals: totals::totals(tell, &sessions, imperial, totals::hole(tell, car, None, None)),
        imperial,
        errors: tell.errors_of(car),
        warnings: count(Severity::Warning),
        notes: count(Severity::Note),
        pages: desk.table.groups(Some(car)),
    }
}
