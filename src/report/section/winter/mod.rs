//! What is to be done on a car before its next season: jobs still to do, and parts that run out of life or of their date.
//!
//! Only the limits that the book states and the car's own running are looked at, so that the same may be told of a book cut for a
//! reader. What a thing costs is exact money. Must not know how a part's life is counted, nor any statistics.

mod item;
mod parts;

use crate::report::chart::bars::BarsChart;
use crate::report::desk::Desk;
pub use item::{WinterItem, WinterWhy};

use super::outlook::next_event;
use super::todo::{self, Todo};
use super::{jobs, life_bars};
use crate::answer::costs::SumsView;
use crate::book::model::{CarId, Clock};
use crate::costs::quote_left;
use crate::due::plan::usual;
use crate::history::jobs::Status;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::tally::Tally;
use crate::money::Total;
use crate::report::section::winter::item::Asked;
use crate::report::section::winter::item::price;
use crate::report::words;
use crate::words::scale::Scale;
use jiff::civil::Date;
use serde::Serialize;

/// What is to be done before the next season.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Winter {
    /// As of when, and what the parts are held against: "An event of this car's is 162.5 min, the mean of 4."
    pub basis: Vec<String>,
    /// What its parts have run of their limits, drawn; none where no part of it has a limit.
    pub bars: Option<BarsChart>,
    /// Jobs, then parts; a list without an item is left out.
    pub lists: Vec<WinterList>,
    /// How many items there are.
    pub count: usize,
    /// Whether any price is known, so that there is a column for them.
    pub priced: bool,
    /// Known prices together: "at least 1240.00 EUR"; may be empty.
    pub total: String,
    /// The currency that goes without saying; empty where the shop has none.
    pub currency: String,
}

/// Items of one sort.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WinterList {
    /// "jobs", "parts and dated items".
    pub name: String,
    /// The items.
    pub items: Vec<WinterItem>,
}

/// Makes the view of the moment before a rank, by the calendar of a day; none where there is nothing to plan.
pub(in crate::report) fn view(
    desk: &Desk<'_>,
    car: CarId,
    sessions: &[&Session],
    (rank, on): (Rank, Date),
) -> Option<Winter> {
    let tell = desk.tell;
    let mut season = Tally::default();
    for session in sessions {
        season.add(session);
    }
    let (event, of) = usual(tell.cx.book, tell.cx.history, car, rank, on);
    let end = Date::new(on.year().saturating_add(1), 12, 31).unwrap_or(on);
    let next = next_event(tell, car, on);
    // While the year goes on there is no winter to plan for.
    let ahead = next.and_then(|event| tell.cx.book.events.get(event));
    if ahead.is_some_and(|event| event.first.year() == on.year()) {
        return None;
    }
    let asked = Asked { desk, car, rank, on, end, next, event, season };
    let mut total = Total::default();
    let jobs = jobs_to_do(&asked, &mut total);
    let (parts, lives) = parts::parts_to_see_to(&asked, &mut total);
    let ahead = next.map_or("an event like its mean", |event| tell.event(event));
    let count = jobs.len() + parts.len();
    let lists = [("jobs", jobs), ("parts and dated items", parts)];
    let lists = lists.into_iter().filter(|(_, items)| !items.is_empty());
    let silent = tell.compiled.costs.home.map(crate::money::Currency::code);
    let priced = !total.sums().is_empty();
    total.at_least = true;
    (count > 0).then(|| Winter {
        basis: basis(&asked, of),
        bars: life_bars::drawn(tell, "winter-lives", ahead, &lives),
        lists: lists.map(|(name, items)| WinterList { name: name.to_owned(), items }).collect(),
        count,
        priced,
        total: if priced { SumsView::of(&total).words(None) } else { String::new() },
        currency: silent.filter(|_| priced).unwrap_or_default().to_owned(),
    })
}

fn basis(asked: &Asked<'_, '_>, of: u32) -> Vec<String> {
    let tell = asked.desk.tell;
    let time = Scale::plain(Clock::Time);
    let mut said = vec![format!("As the book stood on {}.", words::date(asked.on))];
    if let Some(event) = asked.event[Clock::Time] {
        let mean = match of {
            1 => "what it ran at its only one so far".to_owned(),
            more => format!("the mean of its {more} so far"),
        };
        said.push(format!("An event of this car's is {}, {mean}.", time.words(event)));
    }
    let (run, at_least) = asked.season.on(Clock::Time);
    if run > 0.0 {
        said.push(format!("This season it ran {}.", time.told(run, at_least)));
    }
    if let Some(event) = asked.next.and_then(|event| tell.cx.book.events.get(event)) {
        said.push(format!("Next comes {}, {}.", event.named.title, words::dates(event.first, event.last)));
    }
    said
}

fn jobs_to_do(asked: &Asked<'_, '_>, total: &mut Total) -> Vec<WinterItem> {
    let tell = asked.desk.tell;
    let all = todo::open_at(tell, Some(asked.car), asked.rank).into_iter();
    let items = all.filter_map(|(id, job, step)| {
        let Todo { name, title, status, promised, late, src } =
            todo::one(tell, (id, job, step), asked.rank, Some(asked.on))?;
        let put_off = step.status == Status::Deferred;
        let line = tell.entry(step.entry).filter(|_| put_off);
        let mut why = vec![WinterWhy {
            text: if put_off { format!("put off to {}", jobs::until(tell, step.until)) } else { status },
            now: false,
            because: line.and_then(|line| tell.because(line)).unwrap_or_default().to_owned(),
            src: if put_off { tell.src_of(step.entry) } else { src },
        }];
        let promise = job.promise_at(asked.rank);
        why.extend(promise.filter(|_| !promised.is_empty()).map(|promise| WinterWhy {
            text: promised,
            now: late,
            because: String::new(),
            src: tell.src_of(promise.entry),
        }));
        let quote = quote_left(&tell.compiled.costs, tell.cx.history, id, asked.rank);
        let quote = quote.and_then(|(left, entry)| Some((left, tell.entry(entry)?.span())));
        let (price, price_src) = price(asked, quote, total);
        Some(WinterItem { name, about: title, page: None, why, price, price_src })
    });
    items.collect()
}
