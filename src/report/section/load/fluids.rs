//! Fluids by grade and quantity, added up over the cars that go: one fill of each as they were last filled, and of fuel what `fuel` finds.
//!
//! Two fluids, or two grades of one, add up to nothing; of a grade that a mistake hides nobody knows which it is. Must not know how much
//! fuel an event takes.

use super::amount::{Fill, Found, Volume};
use super::fuel;
use crate::book::entry::{Entry, Flags, Item};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::due::plan::CarPlan;
use crate::figures::trace::usual;
use crate::history::order::Rank;
use crate::history::slots::SlotEvent;
use crate::report::section::value;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::source::Span;
use crate::units::{DimensionId, UnitId};
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
    /// Those fills together of which the amount is known.
    #[serde(skip)]
    known: Option<Volume>,
    #[serde(skip)]
    grade_lost: bool,
    /// Car by car.
    pub fills: Vec<Fill>,
    /// The lines of the fills.
    pub src: String,
}

/// The unit that amounts of several cars are told in: that of imperial cars where all of them are.
pub(super) fn unit(tell: &Teller<'_>, cars: &[CarId]) -> UnitId {
    let imperial = |car: &CarId| tell.cx.book.cars.get(*car).is_some_and(|car| car.imperial);
    usual(DimensionId::VOLUME, cars.iter().all(imperial))
}

/// The fluids of some cars at the moment before a rank, by name and grade.
pub(super) fn fluids(tell: &Teller<'_>, plans: &[CarPlan], unit: UnitId, rank: Rank) -> Vec<Fluid> {
    let mut found: Vec<Found> = plans.iter().flat_map(|plan| of_car(tell, plan, (rank, unit))).collect();
    found.sort_by(|a, b| (&a.what, a.grade.to_lowercase()).cmp(&(&b.what, b.grade.to_lowercase())));
    let mut list: Vec<(Fluid, Option<Volume>, Vec<Span>)> = Vec::new();
    for one in found {
        let same = |fluid: &Fluid| {
            let lost = fluid.grade_lost || one.grade_lost;
            !lost && fluid.what == one.what && fluid.grade.eq_ignore_ascii_case(&one.grade)
        };
        if let Some((fluid, total, spans)) = list.last_mut().filter(|(fluid, ..)| same(fluid)) {
            fluid.fills.push(one.fill);
            fluid.known = match (fluid.known, one.volume) {
                (Some(a), Some(b)) => Some(a.with(b, unit)),
                (a, b) => a.or(b),
            };
            *total = total.zip(one.volume).map(|(a, b)| a.with(b, unit));
            spans.extend(one.spans);
        } else {
            let fluid = Fluid {
                what: one.what,
                grade: one.grade,
                total: String::new(),
                volume: None,
                known: one.volume,
                grade_lost: one.grade_lost,
                fills: vec![one.fill],
                src: String::new(),
            };
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

/// What is to be filled of each fluid: "fuel 98.3 L", and where a fluid is of several grades each of them by itself, "engine oil 10W-40
/// 2.8 L". Nothing of one of which no amount is known; petrol and oil add up to nothing, nor do two sorts of either.
pub(super) fn of_each(fluids: &[Fluid]) -> Vec<String> {
    let told = fluids.iter().filter_map(|fluid| {
        let told = fluid.volume.or(fluid.known)?;
        let several = fluids.iter().filter(|other| other.what == fluid.what).count() > 1;
        let least = if fluid.volume.is_none() { "at least " } else { "" };
        let grade = match fluid.grade.as_str() {
            _ if !several => String::new(),
            crate::report::words::DASH => " of a grade not known".to_owned(),
            grade => format!(" {grade}"),
        };
        Some(format!("{}{grade} {least}{}", fluid.what, told.text()))
    });
    told.collect()
}

fn of_car(tell: &Teller<'_>, plan: &CarPlan, (rank, unit): (Rank, UnitId)) -> Vec<Found> {
    let cx = &tell.cx;
    let car = plan.car;
    let slots = cx.on(car, rank).slots();
    let mut list = Vec::new();
    for slot in &slots {
        if cx.quantity(slot.quantity).dimension != DimensionId::FLUID || slot.place != Place::CAR {
            continue;
        }
        let what = cx.quantity(slot.quantity).name.replace('-', " ");
        let fill =
            |amount: String, how: &str| Fill { car: cx.car(car).to_owned(), amount, how: how.to_owned() };
        let dash = || crate::report::words::DASH.to_owned();
        let Some(event) = slot.held.is(cx.history) else {
            let spans = slot.held.unknown.and_then(|lost| line(tell, &lost)).into_iter().collect();
            let fill = fill(dash(), "not known: the last line about it has a mistake");
            list.push(Found { what, grade: dash(), grade_lost: true, fill, volume: None, spans });
            continue;
        };
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
            None => (value.text.clone(), dash()),
        };
        list.push(Found {
            what,
            grade,
            grade_lost: false,
            fill: fill(amount, ""),
            volume: number.map(|item| Volume::typed(item.si, item)),
            spans: line(tell, &event).into_iter().collect(),
        });
    }
    list.extend(fuel::of_car(tell, plan, &slots, (rank, unit)));
    list
}

fn line(tell: &Teller<'_>, event: &SlotEvent) -> Option<Span> {
    tell.entry(event.entry).map(Entry::span)
}
