//! The setup sheet of one car for one event: one page of paper to take to the grid.
//!
//! Must not know how the car is drawn.

mod lives;
mod since;

use super::above::{self, FromAbove};
use super::best::{self, BestSetups, Room};
use super::frame::{self, Frame};
use super::link::Link;
use super::margins::{self, RuleMargin};
use super::plan::{self, Across, PlanDrawing};
use super::planned::{self, ShownPlan};
use super::stops;
use super::to_try::{self, ToTry};
use super::todo::{self, Todo};
use super::until::{self, GoodUntil};
use super::value::{ShownValue, ValueOrigin};
use crate::book::model::{CarId, EventId};
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::plan::PlanMoment;
use crate::report::section::whose;
use crate::report::teller::Teller;
use serde::Serialize;

pub use lives::LivedOf;
pub use since::SinceEvent;

/// The setup sheet of a car for an event: one printed page.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SetupSheet {
    /// Title and footer.
    pub frame: Frame,
    /// Other pages about the car.
    pub links: Vec<Link>,
    /// The car's name.
    pub car: String,
    /// The event's name.
    pub event: String,
    /// Its title, circuit and dates.
    pub about: String,
    /// Owner and class.
    pub whose: String,
    /// "as it stood before s1", "as its last line left it, 3 October 2026".
    pub state: String,
    /// The car.
    pub plan: PlanDrawing,
    /// What is looked at first, and what is otherwise than at the event before; for a phone.
    pub above: Option<FromAbove>,
    /// The same as a table, for a phone.
    pub setup: Across,
    /// Items that are good until a day.
    pub until: Vec<GoodUntil>,
    /// How many more of those there are, good all of them unless the list is full of others.
    pub until_more: usize,
    /// Rules in force, each with the last reading.
    pub margins: Vec<RuleMargin>,
    /// How many more of those there are.
    pub margins_more: usize,
    /// Jobs still to do.
    pub jobs: Vec<Todo>,
    /// How many more of those there are.
    pub jobs_more: usize,
    /// Parts with a limited life.
    pub lives: Vec<LivedOf>,
    /// How many more of those there are.
    pub lives_more: usize,
    /// What is otherwise than at the event before; none at a car's first.
    pub since: Option<SinceEvent>,
    /// The trials that are declared for it, and how far they are.
    pub planned: Vec<ShownPlan>,
    /// What is to be tried: settings whose laps could not tell yet, in an order that would.
    pub to_try: Vec<ToTry>,
    /// The best known setup at the circuit, as the runs before the event have it.
    pub best: Option<BestSetups>,
    /// What the wheels are tightened to, to be ticked off; none where the book does not say.
    pub torque: Option<ShownValue>,
    /// The blank ladder's sessions, to be filled in by hand.
    pub ladder: Vec<String>,
}

/// Sessions of the ladder: at least and at most as many, so that it stays on the page.
const LADDER: (usize, usize) = (6, 8);

/// A car with more rows than these at its corners leaves room for the shortest ladder only.
const MANY_ROWS: usize = 32;

/// More than these stand on other pages: trials, parts with a limit, jobs, dated items, rules.
const MOST_TO_TRY: usize = 2;
const MOST_LIVES: usize = 4;
const MOST_JOBS: usize = 4;
const MOST_UNTIL: usize = 6;
const MOST_MARGINS: usize = 4;

/// A car with more rows than these has the shortest ladder too where the best known setup stands above it.
const SOME_ROWS: usize = 24;

/// The first of a list, and how many more there are.
fn first<T>(mut list: Vec<T>, most: usize) -> (Vec<T>, usize) {
    let more = list.len().saturating_sub(most);
    list.truncate(most);
    (list, more)
}

/// The title of the page and its link.
pub(in crate::report) fn title(tell: &Teller<'_>, car: CarId, event: EventId) -> String {
    let title = tell.cx.book.cars.get(car).map_or("?", |car| car.named.title.as_str());
    format!("{title}: setup for {}", tell.event(event))
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId, event: EventId) -> SetupSheet {
    let tell = desk.tell;
    let cx = &tell.cx;
    let rank = stops::start(tell, car, event);
    let circuit = cx.book.events.get(event).and_then(|event| event.circuit);
    let sessions: Vec<_> = cx.history.sessions.at(car, event).map(|(_, session)| session).collect();
    let before = stops::before(tell, car, event);
    let first_day = cx.book.events.get(event).map(|event| event.first);
    let day = first_day.into_iter().chain(tell.until()).min();
    let (lives, lives_more) = first(lives::lives(tell, car, rank), MOST_LIVES);
    let (jobs, jobs_more) = first(todo::todo(tell, Some(car), rank, day), MOST_JOBS);
    let (until, until_more) = first(until::until(tell, car, Some(event), rank), MOST_UNTIL);
    let (margins, margins_more) = first(margins::margins(tell, car, Some(event), rank), MOST_MARGINS);
    let plan = plan::plan(tell, PlanMoment { car, rank, circuit });
    let count = match (sessions.len(), before) {
        (0, Some(before)) => cx.history.sessions.at(car, before).count(),
        (count, _) => count,
    };
    let links =
        [Some(Key::Now(car)), before.map(|before| Key::Diff(car, before, event)), Some(Key::Load(event))];
    let rows = plan.front.rows.len() + plan.rear.rows.len();
    let room = Room { known: 1, lines: if rows > MANY_ROWS { 0 } else { 4 } };
    let best = best::at(tell, car, Some(event), rank, room);
    let crowded = rows > MANY_ROWS || (best.is_some() && rows > SOME_ROWS);
    let setup = plan::across(plan.clone());
    let planned = first(planned::plans(tell, car, |plan| plan.event == Some(event)), MOST_TO_TRY).0;
    SetupSheet {
        frame: frame::frame(tell, title(tell, car, event), String::new(), Some(car)),
        links: links.into_iter().flatten().filter_map(|key| desk.table.link(key)).collect(),
        car: cx.car(car).to_owned(),
        event: tell.event(event).to_owned(),
        about: stops::about(tell, event),
        whose: whose::subtitle(tell, car),
        state: match sessions.first() {
            Some(session) => format!("as it stood before {}", tell.label(session)),
            None => stops::as_left(tell, car),
        },
        torque: plan.in_body("wheel torque").filter(|value| value.how != ValueOrigin::Missing).cloned(),
        above: above::of_setup(tell, car, &setup, before.map(|before| (stops::end(tell, car, before), rank))),
        setup,
        plan,
        until,
        until_more,
        margins,
        margins_more,
        jobs,
        jobs_more,
        lives,
        lives_more,
        to_try: to_try::to_try(tell, car, rank, &planned, MOST_TO_TRY),
        planned,
        best,
        since: before.map(|before| since::since(desk, car, (before, event), rank)),
        ladder: (1..=if crowded { LADDER.0 } else { count.clamp(LADDER.0, LADDER.1) })
            .map(|n| n.to_string())
            .collect(),
    }
}
