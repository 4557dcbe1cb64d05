//! After an impact: what was found against how it was left, what is still to be measured, every part that was at that corner.
//!
//! Must not know how a drift is worked out.

mod measured;
mod parts;

use super::above::{self, FromAbove};
use super::frame::{self, Frame};
use super::link::Link;
use super::now::{SpokenWords, ladder};
use super::plan::{self, PlanDrawing};
use super::{bests, entry};
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::{CarId, EventId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::plan::PlanMoment;
use crate::report::section::whose;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

pub use measured::{Measured, Target};
pub use parts::Hurt;

/// A car after an impact: what is bent, what was at that corner, how it was before.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Crash {
    /// Title and footer.
    pub frame: Frame,
    /// Other pages about the car.
    pub links: Vec<Link>,
    /// Where it was hit.
    pub place: String,
    /// What it hit, in the words of the line.
    pub what: String,
    /// "28 June 2026, barrows-1 s6".
    pub when: String,
    /// What the driver said of that session.
    pub said: Vec<SpokenWords>,
    /// Its line.
    pub src: String,
    /// "The car ran again on 5 September 2026, quern-2 s1", or that it has not.
    pub again: String,
    /// The car from above: what moved, and what nobody has measured.
    pub above: Option<FromAbove>,
    /// What was found before anything was fitted there again, what moved most first.
    pub measured: Vec<Measured>,
    /// How many of those moved by more than both gauges leave open, half a division of each.
    pub moved: usize,
    /// Whether parts went on there again, so that what was not found by then cannot be found any more.
    pub mended: bool,
    /// What was not found since, with what it was.
    pub unread: Vec<Target>,
    /// Parts at that corner, those not looked at first.
    pub there: Vec<Hurt>,
    /// Parts elsewhere on the car whose failure can hurt.
    pub elsewhere: Vec<Hurt>,
    /// Those of both that nobody has looked at, a sentence each.
    pub waits: Vec<String>,
    /// The car as it was before.
    pub target: PlanDrawing,
}

/// The impacts on a car: the lines, in order, and the places.
pub(in crate::report) fn hits(tell: &Teller<'_>, car: CarId) -> Vec<(EntryId, Place)> {
    let all = tell.cx.history.disturbances.hits(car, Rank::START, Rank::END);
    // Of a line with a mistake nobody knows where the car was hit.
    let read = all.filter(|hit| tell.entry(hit.entry).is_some_and(|line| !line.broken));
    read.map(|hit| (hit.entry, hit.place)).collect()
}

/// The event of a line.
pub(in crate::report) fn event(tell: &Teller<'_>, line: EntryId) -> Option<EventId> {
    tell.entry(line).and_then(|entry| tell.cx.book.head(entry)).and_then(|head| head.event)
}

/// The title of the page.
pub(in crate::report) fn title(tell: &Teller<'_>, car: CarId, line: EntryId, place: Place) -> String {
    let title = tell.cx.book.cars.get(car).map_or("?", |car| car.named.title.as_str());
    let when = event(tell, line).map_or_else(String::new, |event| format!(" at {}", tell.event(event)));
    format!("{title}: {} hit{when}", tell.cx.place(place))
}

/// Makes the view; `None` where the line is no impact on the car.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId, line: EntryId) -> Option<Crash> {
    let tell = desk.tell;
    let cx = &tell.cx;
    let (_, place) = hits(tell, car).into_iter().find(|(entry, _)| *entry == line)?;
    let hit = tell.entry(line)?;
    let rank = cx.rank(line);
    let end = cx.history.order.entries.next_key();
    let during = cx.history.during(cx.book, line).and_then(|run| tell.session(run));
    let next =
        cx.history.sessions.between(car, rank.next(), end).first().map(|id| cx.history.sessions.get(*id));
    let mended = mended(tell, car, rank, place);
    let stop = next.map_or(end, |next| next.rank).min(mended.unwrap_or(end));
    let event = event(tell, line);
    let circuit = event.and_then(|event| cx.book.events.get(event)).and_then(|event| event.circuit);
    let measured = measured::measured(tell, car, rank, stop);
    let unread = measured::unread(tell, car, rank, place, &measured);
    let (there, elsewhere) = parts::hurt(tell, car, rank, place);
    let date = cx.history.day_of(cx.book, line).map_or_else(String::new, words::date);
    let links = [Some(Key::Now(car)), event.map(|event| Key::Sheet(car, event))];
    Some(Crash {
        frame: frame::frame(tell, title(tell, car, line, place), whose::subtitle(tell, car), Some(car)),
        links: links.into_iter().flatten().filter_map(|key| desk.table.link(key)).collect(),
        place: cx.place(place),
        what: entry::quotes(tell, hit),
        when: match (during, event) {
            (Some(session), _) => format!("{date}, {}", bests::session_name(tell, session)),
            (None, Some(event)) => format!("{date}, {}", tell.event(event)),
            (None, None) => date,
        },
        said: during.map_or_else(Vec::new, |session| ladder::said(tell, session)),
        src: tell.src(hit.span()),
        again: next.map_or_else(
            || "The car has not run since.".to_owned(),
            |next| {
                format!(
                    "The car ran again on {}, {}.",
                    words::date(next.date),
                    bests::session_name(tell, next)
                )
            },
        ),
        above: above::of_impact(tell, car, &measured, &unread),
        moved: measured.iter().filter(|one| one.moved).count(),
        measured,
        mended: mended.is_some() || next.is_some(),
        unread,
        waits: there
            .iter()
            .chain(&elsewhere)
            .filter(|part| part.open)
            .map(|part| part.waits.clone())
            .collect(),
        there,
        elsewhere,
        target: plan::plan(tell, PlanMoment { car, rank, circuit }),
    })
}

/// The rank of the first line after the impact that puts a part on at that corner: what is found later is another car.
fn mended(tell: &Teller<'_>, car: CarId, rank: Rank, place: Place) -> Option<Rank> {
    let cx = &tell.cx;
    let after = cx.history.order.entries.within(rank.next()..);
    let puts = |line: &Entry| {
        let facts = cx.book.extra(line).and_then(|extra| extra.parts.as_deref());
        matches!(line.verb, Verb::Fit | Verb::Swap)
            && facts.and_then(|facts| facts.place).is_some_and(|at| at.touches(place))
    };
    let own = after.iter().filter(|index| cx.car_of(**index) == Some(car));
    let mut lines = own.filter_map(|index| Some((*index, tell.entry(*index)?)));
    lines.find(|(_, line)| !line.broken && puts(line)).map(|(index, _)| cx.rank(index))
}
