//! One car at an event.
//!
//! Must not know the other cars.

use crate::book::model::{CarId, EventId};
use crate::history::moment;
use crate::history::sessions::Session;
use crate::report::chart::runs::RunsChart;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::back_to_back;
use crate::report::section::failures::{self, ShownFailure};
use crate::report::section::link::Link;
use crate::report::section::now::{LadderSession, ladder};
use crate::report::section::results::{self, ShownResult};
use crate::report::section::todo::{self, Todo};
use crate::report::section::totals::{self, Totals};
use crate::report::section::treads::{self, ShownTyres};
use crate::report::section::{bests, crash, drives, laps_drawn, stops, whose, year};
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;
use std::collections::BTreeSet;

use crate::answer::trials::TrialOutcome;
use crate::history::order::Rank;

/// A car at an event.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CarThere {
    /// Its title.
    pub title: String,
    /// Client and class.
    pub about: String,
    /// Its pages about the event.
    pub links: Vec<Link>,
    /// What came of it.
    pub results: Vec<ShownResult>,
    /// "1:07.18 in s6"; an en dash without a lap.
    pub best: String,
    /// The line of the best.
    pub best_src: String,
    /// Sums over its sessions.
    pub totals: Totals,
    /// Whether miles are shown.
    pub imperial: bool,
    /// Who drove for how long on which day, where drivers shared sessions; else empty.
    pub drivers: String,
    /// Its laps; none where fewer than two sessions have one.
    pub laps: Option<RunsChart>,
    /// Its tyres as they came in from the last session that read them; none where none did.
    pub tyres: Option<ShownTyres>,
    /// Its sessions.
    pub sessions: Vec<LadderSession>,
    /// What was tried there and back, in a sentence each, with its lines.
    pub tried: Vec<(String, String)>,
    /// Impacts, in words, each with its line and its page.
    pub hits: Vec<(String, String, Option<Link>)>,
    /// What failed.
    pub failures: Vec<ShownFailure>,
    /// Jobs opened there and still to do as the book ends.
    pub open: Vec<Todo>,
}

/// Makes it.
pub(super) fn view(desk: &Desk<'_>, car: CarId, event: EventId) -> CarThere {
    let tell = desk.tell;
    let cx = &tell.cx;
    let declared = cx.book.cars.get(car);
    let imperial = declared.is_some_and(|car| car.imperial);
    let sessions: Vec<&Session> = cx
        .history
        .sessions
        .at(car, event)
        .map(|(_, session)| session)
        .filter(|session| !year::is_withheld(tell, session))
        .collect();
    let left = moment::span(cx.book, cx.history, car, event).map_or(Rank::START, |(_, last)| last.next());
    let best = bests::quickest(sessions.iter().copied());
    let years: BTreeSet<i16> = sessions.iter().map(|session| session.date.year()).collect();
    let name = tell.event(event);
    let failures = failures::failures(tell, car, Rank::START, Rank::END);
    let before = stops::before(tell, car, event);
    let season = years.first().map(|year| Key::Season(car, *year));
    let links = [season, Some(Key::Sheet(car, event)), before.map(|before| Key::Diff(car, before, event))]
        .into_iter();
    let tried = back_to_back::at(tell, car, Some(event)).into_iter();
    CarThere {
        title: declared.map_or_else(String::new, |car| car.named.title.clone()),
        about: whose::subtitle(tell, car),
        links: links.flatten().filter_map(|key| desk.table.link(key)).collect(),
        results: years.iter().flat_map(|year| results::of_event(tell, car, Some(event), *year)).collect(),
        best: best.map_or_else(
            || words::DASH.to_owned(),
            |best| format!("{} in {}", bests::lap(tell, best), tell.label(best)),
        ),
        best_src: best.map_or_else(String::new, |best| tell.src_of(best.entry)),
        totals: totals::totals(tell, &sessions, imperial, totals::hole(tell, car, Some(event), None)),
        imperial,
        drivers: drives::days(tell, &sessions),
        laps: laps_drawn::drawn(tell, car, &sessions, Some(event)),
        tyres: treads::view(tell, &sessions, left),
        // In their order; between sessions the last comes first.
        sessions: ladder::ladder(tell, car, &sessions).into_iter().rev().collect(),
        tried: tried
            .filter(|one| one.outcome != TrialOutcome::Refused)
            .map(|one| (one.sentence, one.src))
            .collect(),
        hits: crash::hits(tell, car)
            .into_iter()
            .filter(|(line, _)| crash::event(tell, *line) == Some(event))
            .map(|(line, place)| (cx.place(place), tell.src_of(line), desk.table.link(Key::Crash(car, line))))
            .collect(),
        failures: failures.into_iter().filter(|one| one.event == name).collect(),
        open: opened(tell, car, event),
    }
}

/// Jobs that a line at the event opened and that are not done as the book ends.
fn opened(tell: &Teller<'_>, car: CarId, event: EventId) -> Vec<Todo> {
    let end = tell.cx.history.order.entries.next_key();
    let open = todo::open_at(tell, Some(car), end).into_iter();
    let there = open.filter(|(_, job, _)| {
        let line = job.opened().and_then(|opened| tell.entry(opened.entry));
        line.and_then(|line| tell.cx.book.head(line)).is_some_and(|head| head.event == Some(event))
    });
    there.filter_map(|open| todo::one(tell, open, end, tell.until())).collect()
}
