//! The season report of one car: which sections it has, over which lines.
//!
//! Must not know how a section is made.

use super::back_to_back::{self, Lessons};
use super::bests::{self, Best};
use super::failures::{self, ShownFailure};
use super::figures::drift::{self, Drifts};
use super::figures::event::EventFigures;
use super::figures::{event, health};
use super::frame::{self, Frame};
use super::jobs::{self, ShownJob};
use super::laps_drawn;
use super::legality::{self, Legality};
use super::link::{Link, LinkGroup};
use super::method;
use super::money::{self, ShownMoney};
use super::moves::{self, Moved};
use super::outlook;
use super::parts::{self, OnCar};
use super::problems::{self, ShownProblem};
use super::setup::{self, Area};
use super::timeline::{self, Chapter};
use super::totals::{self, EventTotals, Totals};
use super::tyres::{self, TyreSet};
use super::winter::{self, Winter};
use super::worth::{self, ShownWorth};
use crate::book::model::{CarId, EventId};
use crate::history::sessions::Session;
use crate::report::chart::ladder::LadderChart;
use crate::report::chart::strip::Strip;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::fact::Fact;
use crate::report::section::stops;
use crate::report::section::whose::subtitle;
use crate::report::section::year::ranks;
use crate::report::section::year::sessions;
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use serde::Serialize;

/// A car's season.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Season {
    /// Title and footer.
    pub frame: Frame,
    /// Who owns it, its class, and what else is said about it.
    pub facts: Vec<Fact>,
    /// What is open when it ends, and the next event; none of a car that was sold.
    pub outlook: Vec<Fact>,
    /// The cover's numbers.
    pub events: usize,
    /// Sums of the season.
    pub totals: Totals,
    /// Failures in the season.
    pub failure_count: usize,
    /// Whether miles are shown.
    pub imperial: bool,
    /// The table by event.
    pub by_event: Vec<EventTotals>,
    /// The laps of every event, drawn; none where no session has one.
    pub ladders: Option<LadderChart>,
    /// Best laps by circuit.
    pub bests: Vec<Best>,
    /// What was learnt from changes tried there and back; none where nothing was changed between two runs.
    pub lessons: Option<Lessons>,
    /// What a turn of its settings is worth by its own lines; none where nothing was turned, and nothing is asked.
    pub worth: Option<ShownWorth>,
    /// The car's other pages of this year, sort by sort.
    pub pages: Vec<LinkGroup>,
    /// What is to be done before the next season; none of a car that was sold, or where nothing is.
    pub winter: Option<Winter>,
    /// What failed.
    pub failures: Vec<ShownFailure>,
    /// Jobs and promises.
    pub jobs: Vec<ShownJob>,
    /// "as it ended on 31 December", "as it was sold on 14 November".
    pub ended: String,
    /// The setup then.
    pub setup: Vec<Area>,
    /// How settings moved.
    pub moves: Vec<Moved>,
    /// Derived numbers, event by event, the last first.
    pub figures: Vec<EventFigures>,
    /// How settings were found against how they were left.
    pub drift: Option<Drifts>,
    /// The engine's leak-down.
    pub leakdown: Option<Strip>,
    /// Rules and dated items, event by event, the last first.
    pub legality: Vec<Legality>,
    /// Parts then.
    pub parts: Vec<OnCar>,
    /// The page of which part was where, session by session.
    pub usage: Option<Link>,
    /// Tyre sets.
    pub tyres: Vec<TyreSet>,
    /// What it cost; none where nothing was booked.
    pub money: Option<ShownMoney>,
    /// The season in order.
    pub chapters: Vec<Chapter>,
    /// How the numbers came about: what is counted, circuits, readings that are not used.
    pub method: Vec<Fact>,
    /// The gauges that its lines of the year were read with, and how finely each reads.
    pub gauges: Vec<Fact>,
    /// What is wrong in the car's lines.
    pub problems: Vec<ShownProblem>,
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId, year: i16) -> Season {
    let tell = desk.tell;
    let cx = &tell.cx;
    let (from, until) = ranks(tell, year);
    let sessions = sessions(tell, car, year);
    let declared = cx.book.cars.get(car);
    let title = declared.map_or("?", |car| car.named.title.as_str());
    let imperial = declared.is_some_and(|car| car.imperial);
    let found = problems::of_car(tell, car, |date| date.is_none_or(|date| date.year() == year));
    let failures = failures::failures(tell, car, from, until);
    let sale = cx.history.parts.sold.get(&car).copied().filter(|(rank, _)| *rank >= from && *rank < until);
    let end = sale.map_or(until, |(rank, _)| rank);
    let last = cx.book.heads_of(car).filter(|head| head.date.year() == year);
    let last = last.map(|head| head.date).max();
    let sold = sale.and_then(|(_, entry)| cx.date(entry));
    let on = sold.or(last).unwrap_or(Date::constant(year, 12, 31));
    let totals = totals::totals(tell, &sessions, imperial, totals::hole(tell, car, None, Some(year)));
    let (method, gauges) = method::notes(tell, car, year, &sessions, &totals);
    Season {
        frame: frame::frame(tell, format!("{title}: season {year}"), subtitle(tell, car), Some(car)),
        facts: facts(tell, car),
        outlook: if sold.is_some() { Vec::new() } else { outlook::facts(tell, car, end, on) },
        events: stops::events(&sessions).len(),
        method,
        gauges,
        totals,
        failure_count: failures.len(),
        imperial,
        by_event: totals::by_event(tell, car, &sessions, &failures),
        ladders: laps_drawn::season(tell, car, &sessions),
        bests: bests::bests(tell, car, year, &sessions)
            .into_iter()
            .chain(bests::stages(tell, car, year))
            .collect(),
        lessons: back_to_back::lessons(tell, car, year),
        worth: worth::view(tell, car, end),
        pages: pages(desk, car, year),
        winter: if sold.is_some() { None } else { winter::view(desk, car, &sessions, (end, on)) },
        failures,
        jobs: jobs::jobs(tell, Some(car), from, until),
        ended: match (sold, last) {
            (Some(date), _) => format!("As it was sold on {}.", words::date(date)),
            (None, Some(date)) => {
                format!("As it stood after its last line of the year, {}.", words::date(date))
            }
            (None, None) => String::new(),
        },
        setup: setup::areas(tell, car, end, &found),
        moves: moves::moves(tell, car, from, until),
        figures: figures(desk, car, &sessions),
        drift: drift::drifts(tell, car, from, until),
        leakdown: health::leakdown(tell, car, end),
        legality: legality::view(tell, car, &stops::events(&sessions)),
        parts: parts::on_car(desk, car, end, on),
        usage: desk.table.link(Key::Usage(car, year)),
        tyres: tyres::sets(tell, car, &sessions, end),
        money: money::of_car(tell, car, year),
        chapters: timeline::chapters(tell, car, from, until, &found),
        problems: found.list,
    }
}

/// The car's other pages of the year, and what was loaded for its events.
fn pages(desk: &Desk<'_>, car: CarId, year: i16) -> Vec<LinkGroup> {
    let mut groups = desk.table.of_year(car, year);
    let events = events(desk.tell, car, year);
    let of = |key: fn(EventId) -> Key| -> Vec<Link> {
        events.iter().filter_map(|event| desk.table.link(key(*event))).collect()
    };
    for (heading, links) in [("What happened:", of(Key::Event)), ("What was loaded:", of(Key::Load))] {
        if !links.is_empty() {
            groups.push(LinkGroup { heading: heading.to_owned(), links });
        }
    }
    groups
}

/// The events of a car in a year, each once.
pub(in crate::report) fn events(tell: &Teller<'_>, car: CarId, year: i16) -> Vec<EventId> {
    stops::events(&sessions(tell, car, year))
}

fn figures(desk: &Desk<'_>, car: CarId, sessions: &[&Session]) -> Vec<EventFigures> {
    let events = stops::events(sessions);
    let of = events.iter().rev().filter_map(|event| desk.sheets.get(&(car, *event)));
    of.enumerate().map(|(at, sheet)| event::view(desk.tell, sheet, at == 0)).collect()
}

fn facts(tell: &Teller<'_>, car: CarId) -> Vec<Fact> {
    let Some(declared) = tell.cx.book.cars.get(car) else { return Vec::new() };
    declared
        .about
        .iter()
        .map(|(word, text, span)| Fact {
            word: word.replace('-', " "),
            text: text.clone(),
            src: tell.src(*span),
        })
        .collect()
}
