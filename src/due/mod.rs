//! What must be done, carried or watched before an event: limits, chances, spares.
//!
//! Knows the book, its history and its lives. Must not know words, reports or the terminal.

pub mod beside;
pub mod carry;
pub mod chance;
pub mod ends;
pub mod fitted;
pub mod gauges;
pub mod limits;
pub mod loose;
pub mod open;
pub mod plan;
pub mod row;
pub mod spares;
pub mod trend;
pub mod work;

use crate::book::Book;
use crate::book::model::{CarId, EventId, PartId};
use crate::history::{Facts, History};
use crate::lives::{Lives, lives};
use carry::Carry;
use chance::{Bases, Chance, NoChance, bases};
use fitted::{Fitted, Whereabouts, whereabouts};
use jiff::civil::Date;
use plan::Plan;
use rayon::prelude::*;
use row::{Makings, Row};
use spares::{Promised, Spare};

/// The list before an event.
#[derive(Debug, Clone)]
pub struct Due {
    /// What is planned.
    pub plan: Plan,
    /// Lives as they were known then.
    pub lives: Lives,
    /// What is inside what, and what lies ready and is good.
    pub there: Whereabouts,
    /// Every part of the planned cars, the most pressing first.
    pub rows: Vec<Row>,
    /// The spare of each row.
    pub spares: Vec<Spare>,
    /// Spares that cars take which go elsewhere, and are not told of here.
    pub promised: Promised,
    /// How many of each kind to take along.
    pub carry: Vec<Carry>,
    /// What the chances rest on.
    pub bases: Bases,
    /// Work that comes round again.
    pub rounds: Vec<work::Round>,
    /// Parts off the cars that wait for somebody to look at them: after an impact, or in quarantine.
    pub loose: Vec<loose::Loose>,
    /// Gauges in use at events whose last good day comes before the end of this one.
    pub gauges: Vec<crate::book::model::GaugeId>,
    /// What was read of the planned cars over hours, and where it ends.
    pub trends: Vec<ends::Trend>,
    /// Jobs still to do.
    pub jobs: Vec<open::OpenJob>,
    /// Parts lent or borrowed until a day before the end of the event.
    pub loaned: Vec<beside::Loaned>,
    /// Kinds of which too few are on hand.
    pub short: Vec<beside::Short>,
}

/// What to list.
#[derive(Debug, Clone, Copy)]
pub struct Ask {
    /// Before which event; `None` asks for what is due as it stands, nothing being to come.
    pub event: Option<EventId>,
    /// Today's date: what is typed for later days has not happened.
    pub today: Date,
    /// The confidence that spares taken along are enough.
    pub confidence: f64,
}

/// Adds the places that must be filled and never were.
fn empty(book: &Book, history: &History, plan: &Plan, all: &mut Vec<(CarId, Fitted)>) {
    for (kind, _) in book.kinds.iter_enumerated().filter(|(_, kind)| kind.must) {
        for car in plan.cars.iter().map(|plan| plan.car) {
            for place in history.parts.places_for(book, car, kind) {
                let known = all.iter().any(|(_, one)| (one.car, one.kind, one.place) == (car, kind, place));
                if !known && history.parts.holder(car, kind, place, plan.cut).is_none() {
                    all.push((car, Fitted { car, kind, place, part: None, inside: None }));
                }
            }
        }
    }
}

/// Makes the list.
#[must_use]
pub fn due(facts: Facts<'_>, ask: Ask) -> Due {
    let plan = match ask.event {
        Some(event) => plan::plan(facts.book, facts.history, event, ask.today),
        None => plan::without_event(facts.book, facts.history, ask.today),
    };
    of_plan(facts, ask, plan, None)
}

/// The list of the cars that go to that event: one that is at an event before it, and not entered here, stays at home; what it takes from
/// the shelf by then is promised to it.
#[must_use]
pub fn going(facts: Facts<'_>, (ask, event): (Ask, EventId)) -> Due {
    let mut plan = plan::plan(facts.book, facts.history, event, ask.today);
    plan.cars.extend(plan::beside(facts.book, facts.history, &plan));
    plan.cars.sort_by_key(|car| car.car);
    of_plan(facts, ask, plan, Some(event))
}

/// The list of a plan; of the cars that go to one event alone, though spares are shared with all of them.
fn of_plan(facts: Facts<'_>, ask: Ask, mut plan: Plan, only: Option<EventId>) -> Due {
    let Facts { book, history, .. } = facts;
    let lives = lives(book, history, plan.cut);
    let mut there = whereabouts(book, history, plan.cut);
    let end = plan.end;
    there.keep(|part| spares::good(book, history, &lives, part, (plan.cut, end)));
    let mut all: Vec<(CarId, Fitted)> = Vec::new();
    for car in &plan.cars {
        for holder in there.on(facts.on(car.car, plan.cut)) {
            let must = book.kinds.get(holder.kind).is_some_and(|kind| kind.must);
            if holder.part.is_some() || must {
                all.push((car.car, holder));
            }
            all.extend(there.nest(book, &holder).into_iter().map(|inner| (car.car, inner)));
        }
    }
    empty(book, history, &plan, &mut all);
    // Spares may be of another spec than what is on the cars.
    let mut parts: Vec<PartId> = all.iter().filter_map(|(_, fitted)| fitted.part).collect();
    let kinds: std::collections::BTreeSet<_> = all.iter().map(|(_, fitted)| fitted.kind).collect();
    parts.extend(kinds.into_iter().flat_map(|kind| there.ready(kind).iter().copied()));
    let bases = bases(book, &lives, &parts);
    let with = Makings { facts, lives: &lives, there: &there, plan: &plan };
    let mut rows: Vec<Row> = all
        .into_par_iter()
        .filter_map(|(car, fitted)| {
            let car = plan.of(car)?;
            let life = fitted.part.and_then(|part| lives.now(part));
            if plan.event.is_none() {
                return Some(row::row(with, car, fitted, Chance::Unknown(NoChance::NothingPlanned)));
            }
            let chance = life.map_or(Chance::Unknown(NoChance::Empty), |life| bases.chance(book, life, car));
            Some(row::row(with, car, fitted, chance))
        })
        .collect();
    rows.sort_by(|a, b| {
        let likely = |row: &Row| row.chance.likely().unwrap_or(0.0);
        let soon = |row: &Row| row.reach().map_or(f64::MAX, limits::Reach::plans_left);
        a.action
            .cmp(&b.action)
            .then(b.safety.cmp(&a.safety))
            .then(likely(b).total_cmp(&likely(a)))
            .then(soon(a).total_cmp(&soon(b)))
            .then(a.fitted.car.cmp(&b.fitted.car))
            .then((a.fitted.kind, a.fitted.place, a.fitted.part).cmp(&(
                b.fitted.kind,
                b.fitted.place,
                b.fitted.part,
            )))
    });
    let mut spares = spares::share(with, &rows);
    let mut promised = Promised::new();
    if let Some(event) = only {
        let goes = |car: CarId| with.plan.of(car).is_some_and(|plan| plan.events.contains(&event));
        let all = rows.into_iter().zip(spares);
        let (own, others): (Vec<_>, Vec<_>) = all.partition(|(row, _)| goes(row.fitted.car));
        promised.extend(others.iter().filter_map(|(row, spare)| match spare {
            Spare::Given(part) => Some((*part, spares::promise(with, row))),
            _ => None,
        }));
        (rows, spares) = own.into_iter().unzip();
        plan.cars.retain(|car| car.events.contains(&event));
    }
    let with = Makings { facts, lives: &lives, there: &there, plan: &plan };
    let carry = match plan.event {
        Some(_) => carry::carry(with, &bases, &rows, (&spares, &promised), ask.confidence),
        None => Vec::new(),
    };
    let rounds = work::rounds(book, history, &plan);
    let jobs = open::open(book, history, &plan);
    let loose = loose::loose(book, history, &plan);
    let loaned = beside::loaned(book, history, &plan);
    let short = beside::short(book, history, &plan);
    let gauges = gauges::out_of_date(book, end);
    let trends = ends::trends(facts, &plan);
    Due {
        plan,
        lives,
        there,
        rows,
        spares,
        promised,
        carry,
        bases,
        rounds,
        loose,
        gauges,
        trends,
        jobs,
        loaned,
        short,
    }
}
