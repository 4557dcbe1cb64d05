//! The season report of one car: which sections it has, over which lines.
//!
//! Must not know how a section is made.

use super::bests::{self, Best};
use super::failures::{self, ShownFailure};
use super::figures::drift::{self, Drifts};
use super::figures::event::EventFigures;
use super::figures::{event, health};
use super::frame::{self, Frame};
use super::jobs::{self, ShownJob};
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
use crate::book::model::{CarId, EventId};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::time::Zone;
use crate::report::chart::strip::Strip;
use crate::report::page::{Desk, Key};
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

/// A car's season.
#[derive(Debug, Clone, Serialize, JsonSchema)]
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
    /// Best laps by circuit.
    pub bests: Vec<Best>,
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

/// A word and what is said of it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Fact {
    /// "owner", "class", "engine".
    pub word: String,
    /// As typed.
    pub text: String,
    /// Its line.
    pub src: String,
}

/// The years in which the book has a line about a car.
pub(in crate::report) fn years(tell: &Teller<'_>, car: CarId) -> Vec<i16> {
    let mut years: Vec<i16> = tell.cx.book.heads_of(car).map(|head| head.date.year()).collect();
    years.sort_unstable();
    years.dedup();
    years
}

/// First rank of a year, and one past its last.
pub(in crate::report) fn ranks(tell: &Teller<'_>, year: i16) -> (Rank, Rank) {
    let mut zone = Zone::new(tell.cx.book.shop.zone.as_deref());
    let order = &tell.cx.history.order;
    let mut rank = |year: i16| {
        let Ok(first) = Date::new(year, 1, 1) else { return order.entries.len() };
        let at = zone.day_start(first);
        order
            .entries
            .partition_point(|entry| order.at.get(*entry).is_some_and(|instant| *instant < at))
            .index()
    };
    (Rank::from(rank(year)), Rank::from(rank(year.saturating_add(1))))
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
        events: totals::events(&sessions).len(),
        method,
        gauges,
        totals,
        failure_count: failures.len(),
        imperial,
        by_event: totals::by_event(tell, car, &sessions, &failures),
        bests: bests::bests(tell, car, year, &sessions),
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
        legality: legality::view(tell, car, &totals::events(&sessions)),
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
    let events = events(desk.tell, car, year).into_iter();
    let links: Vec<Link> = events.filter_map(|event| desk.table.link(Key::Load(event))).collect();
    if !links.is_empty() {
        groups.push(LinkGroup { heading: "What was loaded:".to_owned(), links });
    }
    groups
}

/// The events of a car in a year, each once.
pub(in crate::report) fn events(tell: &Teller<'_>, car: CarId, year: i16) -> Vec<EventId> {
    totals::events(&sessions(tell, car, year))
}

/// The sessions of a car in a year.
pub(super) fn sessions<'a>(tell: &Teller<'a>, car: CarId, year: i16) -> Vec<&'a Session> {
    let all = tell.cx.history.sessions.of(car).map(|(_, session)| session);
    // What ran while the car was another's is in a reader's book for the hours of its parts.
    let own = |session: &&Session| tell.entry(session.entry).is_some_and(|entry| !entry.withheld);
    all.filter(|session| session.date.year() == year).filter(own).collect()
}

fn figures(desk: &Desk<'_>, car: CarId, sessions: &[&Session]) -> Vec<EventFigures> {
    let events = totals::events(sessions);
    let of = events.iter().rev().filter_map(|event| desk.sheets.get(&(car, *event)));
    of.enumerate().map(|(at, sheet)| event::view(desk.tell, sheet, at == 0)).collect()
}

/// "bittern; The Varga syndicate; class SR-2".
pub(in crate::report) fn subtitle(tell: &Teller<'_>, car: CarId) -> String {
    let Some(declared) = tell.cx.book.cars.get(car) else { return String::new() };
    let mut words = vec![declared.named.typed.to_string()];
    let client = declared.client.and_then(|client| tell.cx.book.clients.get(client));
    words.extend(client.map(|client| client.named.title.clone()));
    if !declared.class.is_empty() {
        words.push(format!("class {}", declared.class));
    }
    words.join(" · ")
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
