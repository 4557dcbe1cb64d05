//! Fluids by grade and quantity: one fill of each as the cars were last filled, added up over the cars that go.
//!
//! Must not know what is used up at an event: the book does not say.

use crate::book::entry::{Entry, Flags, Item, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::trace::usual;
use crate::history::fuel;
use crate::history::order::Rank;
use crate::history::slots::SlotEvent;
use crate::history::state::SlotState;
use crate::report::section::value;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::source::Span;
use crate::units::{DimensionId, UnitId, number};
use serde::Serialize;

/// A fluid of one grade.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Fluid {
    /// "engine oil", "fuel".
    pub what: String,
    /// The grade, as typed.
    pub grade: String,
    /// All fills together; an en dash where one is not known.
    pub total: String,
    #[serde(skip)]
    volume: Option<Volume>,
    /// Car by car.
    pub fills: Vec<Fill>,
    /// The lines of the fills.
    pub src: String,
}

/// One car's fill.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Fill {
    /// The car.
    pub car: String,
    /// As last filled: "5.2 L".
    pub amount: String,
}

/// A volume in SI, the unit it is told in and how finely.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Volume {
    si: f64,
    unit: UnitId,
    decimals: u8,
}

impl Volume {
    /// Two fills of one unit are told in it, of two in that one.
    fn with(self, other: Self, unit: UnitId) -> Self {
        let decimals = self.decimals.max(other.decimals);
        let sum = Self { si: self.si + other.si, decimals, ..self };
        if self.unit == other.unit { sum } else { sum.told_in(unit) }
    }

    /// In another unit, with a decimal at least: eight quarts are not eight litres.
    fn told_in(self, unit: UnitId) -> Self {
        if unit == self.unit { self } else { Self { unit, decimals: self.decimals.max(1), ..self } }
    }

    fn text(self) -> String {
        let unit = self.unit.get();
        format!("{} {}", number::format(unit.from_si(self.si), self.decimals), unit.shown())
    }
}

/// A fill with its number.
struct Found {
    what: String,
    grade: String,
    fill: Fill,
    volume: Option<Volume>,
    spans: Vec<Span>,
}

/// The unit that amounts of several cars are told in: that of imperial cars where all of them are.
pub(super) fn unit(tell: &Teller<'_>, cars: &[CarId]) -> UnitId {
    let imperial = |car: &CarId| tell.cx.book.cars.get(*car).is_some_and(|car| car.imperial);
    usual(DimensionId::VOLUME, cars.iter().all(imperial))
}

/// The fluids of some cars at the moment before a rank, by name and grade.
pub(super) fn fluids(tell: &Teller<'_>, cars: &[CarId], rank: Rank) -> Vec<Fluid> {
    let mut found: Vec<Found> = cars.iter().flat_map(|car| of_car(tell, *car, rank)).collect();
    let unit = unit(tell, cars);
    found.sort_by(|a, b| (&a.what, a.grade.to_lowercase()).cmp(&(&b.what, b.grade.to_lowercase())));
    let mut list: Vec<(Fluid, Option<Volume>, Vec<Span>)> = Vec::new();
    for one in found {
        let same = |fluid: &Fluid| fluid.what == one.what && fluid.grade.eq_ignore_ascii_case(&one.grade);
        if let Some((fluid, total, spans)) = list.last_mut().filter(|(fluid, ..)| same(fluid)) {
            fluid.fills.push(one.fill);
            *total = total.zip(one.volume).map(|(a, b)| a.with(b, unit));
            spans.extend(one.spans);
        } else {
            let (total, src) = (String::new(), String::new());
            let fluid =
                Fluid { what: one.what, grade: one.grade, total, volume: None, fills: vec![one.fill], src };
            list.push((fluid, one.volume, one.spans));
        }
    }
    list.into_iter()
        .map(|(mut fluid, total, spans)| {
            fluid.total = total.map_or_else(|| crate::report::words::DASH.to_owned(), Volume::text);
            fluid.volume = total;
            fluid.src = sources::lines(tell.cx.files, spans);
            fluid
        })
        .collect()
}

/// What is to be filled of each fluid, whatever its grade: "fuel 98.3 L". Nothing of one of which no amount is known; petrol and oil add
/// up to nothing.
pub(super) fn of_each(fluids: &[Fluid], unit: UnitId) -> Vec<String> {
    let mut names: Vec<&str> = fluids.iter().map(|fluid| fluid.what.as_str()).collect();
    names.dedup();
    let told = names.into_iter().filter_map(|name| {
        let own = || fluids.iter().filter(|fluid| fluid.what == name);
        let whole = own().filter_map(|fluid| fluid.volume).reduce(|a, b| a.with(b, unit))?;
        let least = if own().any(|fluid| fluid.volume.is_none()) { "at least " } else { "" };
        Some(format!("{name} {least}{}", whole.text()))
    });
    told.collect()
}

fn of_car(tell: &Teller<'_>, car: CarId, rank: Rank) -> Vec<Found> {
    let cx = &tell.cx;
    let slots = cx.on(car, rank).slots();
    let of = |name: &str| {
        let id = cx.book.vocabulary.find(name)?;
        slots.iter().find(|slot| slot.quantity == id && slot.place == Place::CAR)
    };
    let is = |slot: &SlotState<'_>| slot.held.is(cx.history);
    let mut list = Vec::new();
    for slot in &slots {
        if cx.quantity(slot.quantity).dimension != DimensionId::FLUID || slot.place != Place::CAR {
            continue;
        }
        let Some(event) = is(slot) else { continue };
        let value = value::value(tell, slot.track, &event);
        let number = cx.book.items.get(event.item().plus(1));
        let number = number.filter(|item| item.is(Flags::PART) && item.has_value());
        // A top-up does not say what the whole is.
        let topped = |item: &Item| {
            event.line(cx.book).is_some_and(|line| cx.files.typed(item.span(line.file)).starts_with('+'))
        };
        let number = number.filter(|item| !topped(item));
        let (grade, amount) = match number.and_then(|_| value.text.rsplit_once(' ')) {
            Some((grade, amount)) => (grade.to_owned(), format!("{amount} {}", value.unit)),
            None => (value.text.clone(), crate::report::words::DASH.to_owned()),
        };
        list.push(Found {
            what: cx.quantity(slot.quantity).name.replace('-', " "),
            grade,
            fill: Fill { car: cx.car(car).to_owned(), amount },
            volume: number.map(|item| volume(item.si, item)),
            spans: line(tell, &event).into_iter().collect(),
        });
    }
    if let Some(slot) = of("fuel") {
        let grade = of("fuel-grade").and_then(|slot| Some((slot, is(slot)?)));
        // What was read is what was left: to fill is what was filled last as a whole.
        let whole = |event: &&SlotEvent| {
            let filled = event.line(cx.book).is_none_or(|line| matches!(line.verb, Verb::Fill | Verb::Set));
            let item = cx.history.item(cx.book, slot.track, event);
            let adds =
                event.entry.zip(item).is_some_and(|(line, item)| fuel::adds(cx.book, cx.files, line, item));
            filled && !adds && item.is_some_and(Item::has_value)
        };
        let past = |event: &&SlotEvent| event.rank(&cx.history.order).is_none_or(|at| at < rank);
        let event = slot.track.events.iter().take_while(past).filter(whole).last().copied();
        let item =
            event.and_then(|event| cx.history.item(cx.book, slot.track, &event).map(|item| (event, item)));
        let amount = event.map_or_else(
            || crate::report::words::DASH.to_owned(),
            |event| value::value(tell, slot.track, &event).full(),
        );
        list.push(Found {
            what: "fuel".to_owned(),
            grade: grade.map_or_else(
                || crate::report::words::DASH.to_owned(),
                |(slot, event)| value::value(tell, slot.track, &event).text,
            ),
            fill: Fill { car: cx.car(car).to_owned(), amount },
            volume: item.map(|(event, item)| volume(event.value, item)),
            spans: event
                .and_then(|event| line(tell, &event))
                .into_iter()
                .chain(grade.and_then(|(_, event)| line(tell, &event)))
                .collect(),
        });
    }
    list
}

/// A volume as it was typed.
fn volume(si: f64, item: &Item) -> Volume {
    Volume { si, unit: item.unit(), decimals: item.decimals }
}

fn line(tell: &Teller<'_>, event: &SlotEvent) -> Option<Span> {
    tell.entry(event.entry).map(Entry::span)
}
