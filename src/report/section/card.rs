//! The card to take to the scrutineers: the rules in force with margin and gauge, what is good until when, torque and pressures to tick off.
//!
//! Must not know how a reading is judged.

use super::above::{self, FromAbove};
use super::frame::{self, Frame};
use super::legality::{self, DatedItem, RuleCard};
use super::link::Link;
use super::plan::{self, PlanMoment};
use super::value::{ShownValue, ValueOrigin};
use super::{aboard, stops, unseen, whose};
use crate::book::model::{CarId, EventId};
use crate::due::row::Action;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::teller::Teller;
use serde::Serialize;

/// The card to take to the scrutineers.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ScrutinyCard {
    /// Title and footer.
    pub frame: Frame,
    /// Other pages about the car.
    pub links: Vec<Link>,
    /// The event's title, circuit and dates.
    pub about: String,
    /// Owner and class.
    pub whose: String,
    /// How many of its rules and dates stand against it.
    pub verdict: String,
    /// Rules in force, those that do not pass first.
    pub rules: Vec<RuleCard>,
    /// What is good until a day, what is not good first.
    pub dated: Vec<DatedItem>,
    /// Parts on it that were in an impact and that nobody has looked at since, each with the impact's line.
    pub unseen: Vec<(String, String)>,
    /// What is to be done on it before the event, whatever the rules say: "replace coupling LR ar-01".
    pub before: Vec<String>,
    /// What the wheels are tightened to; none where the book does not say.
    pub torque: Option<ShownValue>,
    /// Pressures, heights and weights at the corners.
    pub above: Option<FromAbove>,
}

/// The title of the page.
pub(in crate::report) fn title(tell: &Teller<'_>, car: CarId, event: EventId) -> String {
    let title = tell.cx.book.cars.get(car).map_or("?", |car| car.named.title.as_str());
    format!("{title}: card for {}", tell.event(event))
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId, event: EventId) -> ScrutinyCard {
    let tell = desk.tell;
    let cx = &tell.cx;
    let rank = stops::start(tell, car, event);
    let circuit = cx.book.events.get(event).and_then(|event| event.circuit);
    let (mut rules, mut dated) = legality::at(tell, car, event, rank);
    rules.sort_by_key(|rule| !rule.bad);
    dated.sort_by_key(|item| !item.bad);
    let plan = plan::plan(tell, PlanMoment { car, rank, circuit });
    let torque = plan.in_body("wheel torque").filter(|value| value.how != ValueOrigin::Missing).cloned();
    let unseen: Vec<(String, String)> = unseen::unseen(tell, car, rank)
        .filter(|(_, _, stay)| stay.car == Some(car))
        .map(|(part, hit, _)| {
            (format!("{} {}", cx.kind_of(part).replace('-', " "), cx.part(part)), tell.src_of(hit.entry))
        })
        .collect();
    let against = unseen.len()
        + rules.iter().filter(|rule| rule.bad).count()
        + dated.iter().filter(|item| item.bad).count();
    let links = [Key::Sheet(car, event), Key::Now(car)];
    ScrutinyCard {
        frame: frame::frame(tell, title(tell, car, event), String::new(), Some(car)),
        links: links.into_iter().filter_map(|key| desk.table.link(key)).collect(),
        about: stops::about(tell, event),
        whose: whose::subtitle(tell, car),
        verdict: match (against, rules.is_empty() && dated.is_empty()) {
            (_, true) => "The book has no rule and no dated item for it.".to_owned(),
            (0, _) => "Its rules and dates: nothing stands against it in the book.".to_owned(),
            (1, _) => "1 thing stands against it in the book.".to_owned(),
            (count, _) => format!("{count} things stand against it in the book."),
        },
        rules,
        dated,
        unseen,
        before: before(tell, car, event),
        torque,
        above: above::of_setup(tell, car, &plan::across(plan), None),
    }
}

/// What `due` has of the car before an event that is not over; nothing of a reader's book, for it rests on other cars' lives too.
fn before(tell: &Teller<'_>, car: CarId, event: EventId) -> Vec<String> {
    let made = if tell.is_cut() { None } else { tell.due_before(event) };
    let rows = made.into_iter().flat_map(|due| &due.rows).filter(|row| row.fitted.car == car);
    rows.filter_map(|row| {
        let word = match row.action {
            Action::Fit => "fit",
            Action::Replace => "replace",
            Action::Inspect => "look at",
            Action::Carry | Action::Watch | Action::Leave => return None,
        };
        let part = row.fitted.part.map_or("", |part| tell.cx.part(part));
        Some(format!("{word} {} {part}", aboard::what(tell, &row.fitted)).trim_end().to_owned())
    })
    .collect()
}
