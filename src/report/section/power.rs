//! Power and fuel on a card: does the fuel system cover the power, by how much, and which inputs that rests on.
//!
//! Must not know a formula.

use super::figures::event::{self, Absent, FigArea};
use super::figures::sheet;
use super::frame::{self, Frame};
use super::link::Link;
use super::value::{self, ShownValue};
use super::{stops, whose};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig};
use crate::figures::trace::trace;
use crate::history::Moment;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::teller::Teller;
use crate::report::words;
use crate::units::number;
use serde::Serialize;

/// Power and fuel on a card.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PowerCard {
    /// Title and footer.
    pub frame: Frame,
    /// Other pages about the car.
    pub links: Vec<Link>,
    /// "as its last line left it, 3 October 2026".
    pub state: String,
    /// The margins, a sentence each.
    pub margins: Vec<PowerMargin>,
    /// What the book says of fuel, air and power.
    pub inputs: Vec<PowerInput>,
    /// Figures that follow, by area, each with its chain.
    pub areas: Vec<FigArea>,
    /// What cannot be had, and what it needs.
    pub absent: Vec<Absent>,
}

/// What is asked, and what the figures say.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PowerMargin {
    /// "Do the injectors cover the power?"
    pub asked: String,
    /// The answer, or what is missing for one.
    pub answer: String,
    /// Whether it falls short.
    pub short: bool,
}

/// Something that the figures rest on.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PowerInput {
    /// Its name and place.
    pub name: String,
    /// Its value.
    pub value: ShownValue,
    /// When it was set or read.
    pub when: String,
    /// Its line.
    pub src: String,
}

const AREAS: [&str; 2] = ["fuel", "air"];

/// The title of the page.
pub(in crate::report) fn title(tell: &Teller<'_>, car: CarId) -> String {
    let title = tell.cx.book.cars.get(car).map_or("?", |car| car.named.title.as_str());
    format!("{title}: power and fuel")
}

/// Whether the book says anything of the car's fuel system beyond what is filled.
pub(in crate::report) fn any(tell: &Teller<'_>, car: CarId) -> bool {
    inputs(tell, car).iter().any(|input| !["fuel", "fuel grade"].contains(&input.name.as_str()))
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId) -> PowerCard {
    let tell = desk.tell;
    let cx = &tell.cx;
    let moment = Moment::of_rank(cx.history.order.entries.next_key());
    let wanted = |area: &str| AREAS.contains(&area);
    let made = sheet::at(tell, car, (String::new(), &moment), &|figure| wanted(&figure.area));
    let shown = event::view(tell, &made, true);
    let cylinders = cx.book.cars.get(car).and_then(|car| car.cylinders).unwrap_or(0);
    let imperial = cx.book.cars.get(car).is_some_and(|car| car.imperial);
    let mut calc = Calc::new(cx.facts, car, &moment);
    PowerCard {
        frame: frame::frame(tell, title(tell, car), whose::subtitle(tell, car), Some(car)),
        links: [Key::Now(car)].into_iter().filter_map(|key| desk.table.link(key)).collect(),
        state: stops::as_left(tell, car),
        margins: vec![injectors(&mut calc, cylinders, imperial), duty(&mut calc), range(&mut calc, imperial)],
        inputs: inputs(tell, car),
        areas: shown.areas,
        absent: shown.absent,
    }
}

/// What the book says in those areas.
fn inputs(tell: &Teller<'_>, car: CarId) -> Vec<PowerInput> {
    let cx = &tell.cx;
    let areas = &cx.book.vocabulary.areas;
    let end = cx.history.order.entries.next_key();
    let mut list = Vec::new();
    for slot in cx.on(car, end).slots() {
        let what = cx.quantity(slot.quantity);
        let area = areas.get(what.area as usize).map_or("", AsRef::<str>::as_ref);
        if !AREAS.contains(&area) && *what.name != *"peak-power" {
            continue;
        }
        let Some(event) = slot.held.is(cx.history) else { continue };
        let name = format!("{} {}", what.name.replace('-', " "), cx.place(slot.place));
        list.push(PowerInput {
            name: name.trim_end().to_owned(),
            value: value::value(tell, slot.track, &event),
            when: cx.date(event.entry).map_or_else(String::new, words::short),
            src: tell.src(value::span(tell, slot.track, &event)),
        });
    }
    list
}

fn margin(asked: &str, told: Result<(String, bool), String>) -> PowerMargin {
    let (answer, short) = match told {
        Ok((answer, short)) => (answer, short),
        Err(needs) => (format!("The book cannot say: it needs {needs}."), false),
    };
    PowerMargin { asked: asked.to_owned(), answer, short }
}

/// How much of a need there is: "8 % in hand", "3 % short"; whether that is more than both numbers leave open.
fn in_hand(calc: &Calc<'_>, has: &Fig, needs: &Fig) -> (String, bool) {
    let share = (has.value / needs.value - 1.0) * 100.0;
    let u = [has, needs].map(|fig| calc.u(fig).map_or(0.0, |u| u / fig.value));
    let open = 2.0 * 100.0 * libm::sqrt(u[0] * u[0] + u[1] * u[1]);
    let size = number::format(libm::fabs(share), 0);
    if libm::fabs(share) <= open {
        return (
            format!("that is {size} % {}, within what the readings leave open: no margin", over(share)),
            true,
        );
    }
    (format!("{size} % {}", over(share)), share < 0.0)
}

/// A figure in the unit that figures of the car are shown in, no coarser than a step in SI.
fn amount(calc: &Calc<'_>, fig: &Fig, imperial: bool, finest: f64) -> ShownValue {
    let step = trace(calc, fig, imperial);
    let unit = fig.value / step.value;
    let decimals = libm::ceil(libm::log10(unit / finest) - 1e-9).clamp(0.0, 6.0) as u8;
    ShownValue { text: number::format(step.value, decimals), ..event::value(&step) }
}

/// A cubic centimetre a minute, m³/s.
const CC_A_MINUTE: f64 = 1e-6 / 60.0;

/// A tenth of a litre, m³.
const DECILITRE: f64 = 1e-4;

fn over(share: f64) -> &'static str {
    if share < 0.0 { "short" } else { "in hand" }
}

fn injectors(calc: &mut Calc<'_>, cylinders: u16, imperial: bool) -> PowerMargin {
    let mut told = || {
        let needs =
            calc.named("injector-size-volume", Place::CAR).map_err(|missing| missing.needs.join("; "))?;
        let all = (1..=cylinders).map(|number| calc.named("injector-flow-here", Place::cylinder(number)));
        let all: Vec<Fig> = all.collect::<Result<_, _>>().map_err(|missing| missing.needs.join("; "))?;
        let least = all.into_iter().min_by(|a, b| a.value.total_cmp(&b.value));
        let least = least.ok_or_else(|| "the number of cylinders".to_owned())?;
        let (hand, short) = in_hand(calc, &least, &needs);
        let (has, needed) =
            (amount(calc, &least, imperial, CC_A_MINUTE), amount(calc, &needs, imperial, CC_A_MINUTE));
        Ok((
            format!(
                "The smallest gives {} {} at the fuel pressure, {} are needed at peak power: {hand}.",
                has.text, has.unit, needed.text
            ),
            short,
        ))
    };
    let told = told();
    margin("Do the injectors cover the power?", told)
}

fn duty(calc: &mut Calc<'_>) -> PowerMargin {
    let mut told = || {
        let has = calc.named("injector-duty", Place::CAR).map_err(|missing| missing.needs.join("; "))?;
        let limit = calc.value("duty-limit", Place::CAR).map_err(|missing| missing.needs.join("; "))?;
        let per_cent = |fig: &Fig| number::format(fig.value * 100.0, 0);
        let points = (limit.value - has.value) * 100.0;
        let u = calc.u(&has).unwrap_or(0.0) * 200.0;
        let hand = format!("{} points {}", number::format(libm::fabs(points), 0), over(points));
        let open =
            if libm::fabs(points) <= u { ", within what the reading leaves open: no margin" } else { "" };
        Ok((
            format!(
                "They are open {} % of the time, the limit is {} %: {hand}{open}.",
                per_cent(&has),
                per_cent(&limit)
            ),
            points < 0.0 || !open.is_empty(),
        ))
    };
    let told = told();
    margin("Do they close between shots?", told)
}

fn range(calc: &mut Calc<'_>, imperial: bool) -> PowerMargin {
    let mut told = || {
        let range = calc.named("fuel-range", Place::CAR).map_err(|missing| missing.needs.join("; "))?;
        let aboard = calc.named("fuel-aboard", Place::CAR).map_err(|missing| missing.needs.join("; "))?;
        let aboard = amount(calc, &aboard, imperial, DECILITRE);
        let minutes = number::format(range.value / 60.0, 0);
        Ok((
            format!(
                "{} are aboard after what it ran last: {minutes} min at the car's own rate.",
                aboard.full()
            ),
            false,
        ))
    };
    let told = told();
    margin("How far does what is aboard go?", told)
}
