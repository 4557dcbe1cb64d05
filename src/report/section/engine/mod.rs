//! The engine check: is this cylinder getting worse, or was it always so? What was read of each over the engine's hours, and where it leads.
//!
//! Slopes, ends and what is taken alike are [`crate::due::ends`]'; which leak far more than the others [`crate::figures::apart`] says. Must not
//! know a formula.

mod answer;
mod block;
mod series;

use super::frame::{self, Frame};
use super::link::Link;
use super::value::{self, ShownValue};
use super::{stops, whose};
use crate::book::model::CarId;
use crate::due::ends;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use answer::EngineAnswer;
use block::EngineBlock;
use serde::Serialize;
use series::Series;

/// The engine check.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EngineCheck {
    /// Title and footer.
    pub frame: Frame,
    /// Other pages about the car.
    pub links: Vec<Link>,
    /// "as its last line left it, 3 October 2026".
    pub state: String,
    /// The sentence of decision.
    pub answer: EngineAnswer,
    /// What is read of each cylinder over hours, quantity by quantity.
    pub blocks: Vec<EngineBlock>,
    /// How many slopes stand on the page.
    pub slopes: usize,
    /// Plugs and gaps as they are now.
    pub plugs: Vec<EnginePlugs>,
}

/// Something that is set of each cylinder.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EnginePlugs {
    /// "plug", "plug gap".
    pub name: String,
    /// The unit, where all have the same; of a plug none.
    pub unit: String,
    /// One a cylinder.
    pub cells: Vec<ShownValue>,
    /// "since 22 Mar 2026".
    pub when: String,
    /// The lines.
    pub src: String,
}

/// The title of the page.
fn title(tell: &Teller<'_>, car: CarId) -> String {
    let title = tell.cx.book.cars.get(car).map_or("?", |car| car.named.title.as_str());
    format!("{title}: engine check")
}

/// Whether anything was read of the car's cylinders over hours.
pub(in crate::report) fn any(tell: &Teller<'_>, car: CarId) -> bool {
    series::KEPT.iter().any(|(name, _)| Series::of(tell, car, name).is_some())
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId) -> EngineCheck {
    let tell = desk.tell;
    let all: Vec<Series<'_>> =
        series::KEPT.iter().filter_map(|(name, _)| Series::of(tell, car, name)).collect();
    let links = [Key::Now(car), Key::Power(car)];
    EngineCheck {
        frame: frame::frame(tell, title(tell, car), whose::subtitle(tell, car), Some(car)),
        links: links.into_iter().filter_map(|key| desk.table.link(key)).collect(),
        state: stops::as_left(tell, car),
        answer: answer::answer(tell, car, &all),
        slopes: all.iter().flat_map(|one| &one.trends).filter(|one| one.slope.is_some()).count(),
        blocks: all.iter().map(|one| block::block(tell, car, one)).collect(),
        plugs: ["plug", "plug-gap"].iter().filter_map(|name| plugs(tell, car, name)).collect(),
    }
}

/// What a quantity is at each cylinder; `None` where it is at none.
fn plugs(tell: &Teller<'_>, car: CarId, name: &str) -> Option<EnginePlugs> {
    let cx = &tell.cx;
    let quantity = cx.book.vocabulary.find(name)?;
    let on = cx.on(car, cx.history.order.entries.next_key());
    let (mut spans, mut newest) = (Vec::new(), None);
    let mut cells = Vec::new();
    for place in ends::cylinders(cx.book, car) {
        let slot = on.slot(quantity, place).filter(|slot| slot.held.unknown.is_none());
        let is = slot.and_then(|slot| Some((slot, slot.held.is(cx.history)?)));
        cells.push(is.map_or_else(ShownValue::missing, |(slot, event)| {
            spans.push(value::span(tell, slot.track, &event));
            newest = newest.max(cx.date(event.entry));
            value::value(tell, slot.track, &event)
        }));
    }
    if spans.is_empty() {
        return None;
    }
    Some(EnginePlugs {
        name: name.replace('-', " "),
        unit: block::one_unit(&cells),
        cells,
        when: newest.map_or_else(String::new, |date| format!("since {}", words::date(date))),
        src: sources::lines(cx.files, spans),
    })
}
