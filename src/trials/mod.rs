//! Trials: runs of a car that differ in one thing, and what the thing did to the clock and to what was read.
//!
//! A trial is found from what everything stood at in each run. The effect comes by least squares beside each day's own level and trend, never
//! as a bare mean; a run is one value, a lap never a replicate. What cannot be said is a [`Refusal`]. Must not know words, pages or the
//! terminal.

pub mod aside;
pub mod best;
pub mod combined;
pub mod course;
pub mod credit;
mod days;
pub mod effect;
pub mod factor;
mod found;
mod fuel;
pub mod measure;
mod meetings;
pub mod next;
pub mod number;
pub mod order;
pub mod plan;
pub mod planned;
pub mod pool;
pub mod refusal;
pub mod row;
pub mod said;
mod standings;
pub mod trial;

pub use aside::Aside;
pub use effect::{Effect, Effects};
pub use factor::{Factor, Level};
pub use measure::Measure;
pub use planned::{Departure, Followed, Planned};
pub use refusal::Refusal;
use trial::Meeting;
pub use trial::{MeasuredTrial, Trial, TrialRun};

use crate::book::entry::EntryId;
use crate::book::model::CarId;
use crate::history::Facts;
use crate::history::sessions::Session;
use jiff::civil::Date;
use standings::RankedLine;

/// The trials of a car, in order of its events, refused ones too.
#[must_use]
pub fn of_car(facts: Facts<'_>, car: CarId) -> Vec<Trial> {
    let lines = facts.history.order.lines_of(facts.book, car);
    let set = standings::settings(facts, car, &lines);
    let latest = latest(facts, car, &lines);
    let mut all = Vec::new();
    let mut scatters = Vec::new();
    for meeting in meetings::meetings(facts, car).into_iter().filter(|runs| runs.len() > 1) {
        let runs: Vec<&Session> = meeting.iter().map(|id| facts.history.sessions.get(*id)).collect();
        let here = meetings::lines_of(&lines, &runs);
        let standings = standings::standings(facts, car, &runs, here, &set);
        let aside = aside::of_runs(facts, &runs, here);
        scatters.extend(pool::of_meeting(facts, &runs, &standings, &aside));
        if standings.iter().any(|one| one.factor.is_of_car()) {
            all.extend(trial::of_meeting(&Meeting {
                facts,
                runs: &meeting,
                standings: &standings,
                aside: &aside,
                lines: here,
                latest,
            }));
        }
    }
    trial::pooled(facts, &mut all, &scatters);
    all
}

/// The last day of a car's runs, or of its lines where those go on.
fn latest(facts: Facts<'_>, car: CarId, lines: &[RankedLine]) -> Date {
    let runs = facts.history.sessions.of(car).map(|(_, session)| session.date);
    let line = lines.last().and_then(|(_, line)| facts.history.order.date(facts.book, *line));
    runs.chain(line).max().unwrap_or(Date::MIN)
}

/// The last day of the book's lines: an event is over when the shop writes of a later day, whichever car that is about. Of another client's
/// lines a reader learns nothing.
fn latest_of_book(facts: Facts<'_>) -> Date {
    let (book, order) = (facts.book, &facts.history.order);
    let read =
        |line: &&EntryId| book.entries.get(**line).is_some_and(|entry| !entry.withheld && !entry.broken);
    order.entries.iter().rev().find(read).and_then(|line| order.date(book, *line)).unwrap_or(Date::MIN)
}
