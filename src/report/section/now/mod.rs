//! Between sessions, on a phone: what the last sessions did, what was said like it before, the setup as it is.
//!
//! Must not know how a phrase is told from another.

mod asked;
mod before;
mod counted;
pub(in crate::report) mod ladder;
mod phrase;

use super::above::{self, FromAbove};
use super::back_to_back::{self, ShownTrial};
use super::best::{self, BestSetups, Room};
use super::frame::{self, Frame};
use super::laps_drawn;
use super::link::Link;
use super::plan::{self, Across};
use super::planned::{self, ShownPlan};
use super::stops;
use super::treads::{self, ShownTyres};
use crate::book::model::CarId;
use crate::history::sessions::Session;
use crate::report::chart::runs::RunsChart;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::plan::PlanMoment;
use crate::report::section::whose;
use crate::report::section::year;
use crate::report::teller::Teller;
use crate::trials::Followed;
use serde::Serialize;

pub use asked::AskedWords;
pub use before::{Phrase, SaidCase};
pub use ladder::{LadderChange, LadderSession, SpokenWords};

/// A car between two sessions, for a phone.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Now {
    /// Title and footer.
    pub frame: Frame,
    /// Other pages about the car.
    pub links: Vec<Link>,
    /// "as its last line left it, 3 October 2026".
    pub state: String,
    /// The event of the last sessions; empty outside one.
    pub event: String,
    /// Its title, circuit and dates.
    pub about: String,
    /// The trials that were declared for the last event, and any that are still to be run.
    pub planned: Vec<ShownPlan>,
    /// What was tried there and back at the last event, the verdicts first.
    pub tried: Vec<ShownTrial>,
    /// What looking at so many of the car's trials means; empty where nothing was judged.
    pub caution: String,
    /// The best known setup at the circuit of the last sessions.
    pub best: Option<BestSetups>,
    /// The last event's sessions, the last one first.
    pub ladder: Vec<LadderSession>,
    /// When the words that were asked for were said, and what followed; empty where none were.
    pub asked: Vec<AskedWords>,
    /// What was said there, and what followed when it was said before.
    pub said: Vec<Phrase>,
    /// The car from above: what is looked at first, and what was set otherwise since it came there.
    pub above: Option<FromAbove>,
    /// The tyres as they came in from the last of those sessions that read them; none where none did.
    pub tyres: Option<ShownTyres>,
    /// The laps of the last sessions; none where fewer than two have one.
    pub laps: Option<RunsChart>,
    /// The setup.
    pub setup: Across,
}

/// As much of the best known setups has room.
const BEST: Room = Room { known: 8, lines: 16 };

/// The title of the page.
pub(in crate::report) fn title(tell: &Teller<'_>, car: CarId) -> String {
    let title = tell.cx.book.cars.get(car).map_or("?", |car| car.named.title.as_str());
    format!("{title}: now")
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId) -> Now {
    let tell = desk.tell;
    let cx = &tell.cx;
    let sessions = last_sessions(tell, car);
    let event = sessions.last().and_then(|session| session.event);
    let circuit = event.and_then(|event| cx.book.events.get(event)).and_then(|event| event.circuit);
    let rank = cx.history.order.entries.next_key();
    let next = stops::ahead(tell, car).into_iter().next();
    let sheet = next.or(event).map(|event| Key::Sheet(car, event));
    let before = event.and_then(|event| Some(Key::Diff(car, stops::before(tell, car, event)?, event)));
    let year = cx.book.heads_of(car).map(|head| head.date.year()).max();
    let season = year.map(|year| Key::Season(car, year));
    let setup = plan::across(plan::plan(tell, PlanMoment { car, rank, circuit }));
    let since = event.map(|event| (stops::start(tell, car, event), rank));
    Now {
        above: above::of_setup(tell, car, &setup, since),
        tyres: treads::view(tell, &sessions, rank),
        laps: laps_drawn::drawn(tell, car, &sessions, event),
        frame: frame::frame(tell, title(tell, car), whose::subtitle(tell, car), Some(car)),
        links: [sheet, before, season].into_iter().flatten().filter_map(|key| desk.table.link(key)).collect(),
        state: stops::as_left(tell, car),
        event: event.map_or_else(String::new, |event| tell.event(event).to_owned()),
        about: event.map_or_else(String::new, |event| stops::about(tell, event)),
        planned: planned::plans(tell, car, |plan| {
            matches!(plan.followed, Followed::Open(_)) || event.is_some() && plan.event == event
        }),
        tried: back_to_back::at(tell, car, event),
        caution: back_to_back::careful(tell, car),
        best: best::at(tell, car, event, rank, BEST),
        ladder: ladder::ladder(tell, car, &sessions),
        asked: asked::asked(tell, car, &sessions),
        said: before::said(tell, car, &sessions),
        setup,
    }
}

/// The sessions of the car's last event; outside one, those of its last day.
fn last_sessions<'a>(tell: &Teller<'a>, car: CarId) -> Vec<&'a Session> {
    let all: Vec<&Session> = year::own(tell, car).collect();
    let Some(last) = all.last().copied() else { return Vec::new() };
    let together =
        |one: &&Session| one.event == last.event && (last.event.is_some() || one.date == last.date);
    all.iter().rev().copied().take_while(together).collect::<Vec<_>>().into_iter().rev().collect()
}
