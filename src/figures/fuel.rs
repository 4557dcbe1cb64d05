<<<<<<< HEAD
//! The fuel aboard, flow by flow: what was stated, what was added, what was burnt.
//!
//! Which flows there are is `history::fuel`. Must not know weights.
=======
//! The fuel aboard: as the car was weighed, as a session began, what was put in during it; and the weight read as it came in.
//!
//! What follows from it is arithmetic, in `grammar/figures.sline`. Must not know springs.
>>>>>>> main

use super::calc::{Calc, Fig, Got, Missing};
use super::code::Code;
use super::formula::Formula;
<<<<<<< HEAD
use crate::book::entry::EntryId;
use crate::book::place::Place;
use crate::history::fuel::{Flow, Tank, Unclear};
use crate::history::order::Rank;
use crate::history::slots::Owner;
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[("fuel-aboard", |calc, _| {
    let until = calc.rank;
    aboard(calc, until)
})];

const AFTER_FILL: Formula<'static> = flow("fuel-added", "fuel aboard after a fill", "before + added");
const AFTER_RUN: Formula<'static> = flow("fuel-after-run", "fuel aboard after running", "before - burnt");
const BURNT: Formula<'static> = flow("fuel-burnt-by-rate", "fuel burnt by the rate", "rate * time");

const fn flow(id: &'static str, name: &'static str, expression: &'static str) -> Formula<'static> {
    Formula {
        id,
        name,
        expression,
        source: "common practice",
        convention: "what was stated last, and added, less what the sessions since have burnt",
        dimension: DimensionId::VOLUME,
        shown: "",
        show: [None, None],
    }
}

/// The fuel aboard at a rank, the sessions before it burnt.
///
/// # Errors
/// Why that is not known.
pub(super) fn aboard(calc: &mut Calc<'_>, until: Rank) -> Got {
    let car = calc.car.ok_or_else(|| Missing::one("a car"))?;
    let slots = &calc.history.slots;
    let events = |name: &str| {
        let id = calc.book.vocabulary.find(name)?;
        slots.find(Owner::Car(car), id, Place::CAR).map(|track| track.events.as_slice())
    };
    let tank = Tank {
        fuel: events("fuel").unwrap_or_default(),
        rate: events("fuel-rate").unwrap_or_default(),
        used: events("fuel-used").unwrap_or_default(),
    };
    let texts = (calc.book, calc.files, &calc.history.order);
    let flows = tank.flows(texts, &calc.history.sessions, car, until).map_err(|why| missing(calc, why))?;
    let now = calc.rank;
    let got = account(calc, &flows);
    calc.rank = now;
    let level = got?;
    if level.value < 0.0 {
        return Err(Missing::one("a fuel-rate and fills by which there is some left (these say less than none)"));
    }
    Ok(level)
}

fn account(calc: &mut Calc<'_>, flows: &[Flow]) -> Got {
    let mut level: Option<Fig> = None;
    for flow in flows {
        let before = level.take();
        level = Some(match (flow, before) {
            (Flow::Stated(event), _) => {
                calc.rank = event.rank(&calc.history.order).unwrap_or(Rank::START).next();
                calc.typed_value("fuel", Place::CAR)?
            }
            (Flow::Added(event), Some(before)) => {
                let (Some(entry), Some(item)) = (event.entry, calc.book.items.get(event.item())) else {
                    return Err(Missing::one("a line that adds fuel"));
                };
                let added = calc.item("fuel added", entry, item, DimensionId::VOLUME);
                calc.derive(&AFTER_FILL, Place::CAR, &[("before", &before), ("added", &added)], |w| &w[0] + &w[1])?
            }
            (Flow::Used { run, .. }, Some(before)) => {
                let (used, _) = calc.reading_during("fuel-used", Place::CAR, *run)?;
                after(calc, &before, &used)?
            }
            (Flow::Burnt { run, minutes, from, .. }, Some(before)) => {
                calc.rank = *from;
                let rate = calc.typed_value("fuel-rate", Place::CAR)?;
                let time = calc.minutes_in(*run, *minutes)?;
                let burnt =
                    calc.derive(&BURNT, Place::CAR, &[("rate", &rate), ("time", &time)], |w| &w[0] * &w[1])?;
                after(calc, &before, &burnt)?
            }
            (_, None) => return Err(Missing::one("a line that says how much fuel is aboard")),
        });
    }
    level.ok_or_else(|| Missing::one("a line that says how much fuel is aboard"))
}

fn after(calc: &mut Calc<'_>, before: &Fig, burnt: &Fig) -> Got {
    calc.derive(&AFTER_RUN, Place::CAR, &[("before", before), ("burnt", burnt)], |w| &w[0] - &w[1])
}

fn missing(calc: &Calc<'_>, why: Unclear) -> Missing {
    let of = |run: EntryId| {
        let label = calc.session_of(run).map_or("a session", |session| calc.files.text(session.label));
        label.to_owned()
    };
    Missing::one(match why {
        Unclear::NotStated => "a line that says how much fuel is aboard, such as `fill fuel 48 L`".to_owned(),
        Unclear::Broken(_) => "fuel put right (its last line has an error)".to_owned(),
        Unclear::Rate(run) => format!("fuel-rate, or fuel-used read in {}", of(run)),
        Unclear::Minutes(run) => format!("minutes of {}, or fuel-used read in it", of(run)),
        Unclear::Road(run) => format!("fuel-used read in {}, which drove on the road too", of(run)),
    })
=======
use crate::book::entry::{EntryId, Verb};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::slots::Register;
use crate::units::DimensionId;
use crate::words;

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("fuel-on-pads", as_weighed),
    ("fuel-at-start", |calc, _| at_start(calc, |calc| aboard(calc))),
    ("fuel-on-pads-before", |calc, _| {
        at_start(calc, |calc| {
            let whole = whole_before(calc)?;
            fuel_of(calc, &whole)
        })
    }),
    ("weight-before-session", |calc, _| at_start(calc, whole_before)),
    ("fuel-added", added),
    ("weight-as-it-came-in", came_in),
];

const ADDED: Formula = Formula {
    id: "fuel-added",
    name: "fuel put in during the session",
    expression: "sum(put)",
    source: "common practice",
    convention: "`adjust fuel` lines under the session",
    dimension: DimensionId::VOLUME,
    shown: "",
    show: [None, None],
};

/// Works something out as it was when the session of the moment began, or the last before it.
fn at_start(calc: &mut Calc<'_>, work: impl Fn(&mut Calc<'_>) -> Got) -> Got {
    let start = calc.session_now()?.rank;
    let now = std::mem::replace(&mut calc.rank, start);
    let got = work(calc);
    calc.rank = now;
    got
}

/// The whole car as weighed last before the moment, which is the start of a session.
fn whole_before(calc: &mut Calc<'_>) -> Got {
    let weighed = calc.named("total-weight", Place::CAR);
    weighed
        .map_err(|_| Missing::one("total-weight, or a weight of the four corners, read before the session"))
}

/// The line that a weight of the whole car was read on, the newest of them.
fn line_of(calc: &Calc<'_>, whole: &Fig) -> Option<EntryId> {
    let lines = whole.by.iter().filter_map(|(root, _)| calc.read.get(root)).map(|read| read.entry);
    lines.max_by_key(|entry| calc.history.order.rank.get(*entry).copied())
}

/// The fuel aboard when the car was weighed last.
fn as_weighed(calc: &mut Calc<'_>, _: Place) -> Got {
    let whole = calc.named("total-weight", Place::CAR)?;
    fuel_of(calc, &whole)
}

/// The fuel that the line of the car's weight states, as a volume.
fn fuel_of(calc: &mut Calc<'_>, whole: &Fig) -> Got {
    let line = match line_of(calc, whole) {
        Some(line) => line,
        None => super::weights::line_of_pads(calc)?,
    };
    // What the car carries for its reference is no longer aboard after a session.
    let entry = &calc.book.entries[line];
    let own = calc.book.extra(entry).is_some_and(|extra| {
        extra.conditions.iter().any(|one| calc.files.text(one.key).eq_ignore_ascii_case("fuel"))
    });
    if !own && calc.history.during(calc.book, line).is_some() {
        return Err(Missing::one("`with fuel ...` on the weight line, which was read after a session"));
    }
    let then = calc.condition(line, "fuel", DimensionId::VOLUME)?;
    let unit = calc.nodes.get(then.node).and_then(|node| node.unit);
    if unit.is_none_or(|unit| unit.get().dim != DimensionId::VOLUME.get().dim) {
        return Err(Missing::one("the fuel on the weight line as a volume, such as `with fuel 20 L`"));
    }
    Ok(then)
}

/// The fuel that the book says is aboard, else as the car was weighed. Where sessions ran since it was filled, that is said.
fn aboard(calc: &mut Calc<'_>) -> Got {
    let id = calc.quantity("fuel")?;
    let Some(slot) = calc.state(id, Place::CAR) else {
        let whole = whole_before(calc)?;
        return fuel_of(calc, &whole);
    };
    let fuel = calc.value("fuel", Place::CAR)?;
    let filled = slot.held.is(calc.history).and_then(|event| event.entry);
    let filled = filled.filter(|entry| calc.book.entries[*entry].verb != Verb::Set);
    if let (Some(line), Some(car)) = (filled, calc.car) {
        let from = calc.history.order.rank.get(line).copied().unwrap_or(Rank::START);
        let ran = calc.history.sessions.between(car, from, calc.rank);
        let labels: Vec<String> =
            ran.iter().map(|id| calc.files.text(calc.history.sessions.get(*id).label).to_owned()).collect();
        if !labels.is_empty() {
            let has = if labels.len() == 1 { "has" } else { "have" };
            let words = format!("{} {has} run since it was filled", words::and(&labels));
            calc.cautions.insert(fuel.node, words.into());
        }
    }
    Ok(fuel)
}

/// What `adjust fuel` lines under the session put in; nothing where there are none.
fn added(calc: &mut Calc<'_>, place: Place) -> Got {
    let run = calc.session_now()?.entry;
    let id = calc.quantity("fuel")?;
    let put = |event: &&crate::history::slots::SlotEvent| {
        event.entry.is_some_and(|entry| {
            calc.book.entries[entry].verb == Verb::Adjust
                && calc.history.during(calc.book, entry) == Some(run)
        })
    };
    let slot = calc.state(id, Place::CAR);
    let events: Vec<_> = slot.iter().flat_map(|slot| &slot.track.events).filter(put).copied().collect();
    if events.iter().any(|event| event.register() == Register::Unknown) {
        return Err(Missing::one("the fuel put in during the session put right (its line has an error)"));
    }
    let mut figs = Vec::new();
    for event in events {
        if let (Some(entry), Some(item)) = (event.entry, calc.book.items.get(event.item()).copied()) {
            figs.push(calc.item("fuel put in", entry, &item, DimensionId::VOLUME));
        }
    }
    if figs.is_empty() {
        let words = "no fuel put in during the session";
        return Ok(calc.constant(words, 0.0, DimensionId::VOLUME, "no `adjust fuel` line under it"));
    }
    let names: Vec<String> = (1..=figs.len()).map(|n| format!("put{n}")).collect();
    let inputs: Vec<(&str, &Fig)> = names.iter().map(String::as_str).zip(&figs).collect();
    calc.derive(&ADDED, place, &inputs, |put| put.iter().skip(1).fold(put[0].clone(), |sum, one| &sum + one))
}

/// The weight of the whole car, read under the session of the moment or after it.
fn came_in(calc: &mut Calc<'_>, _: Place) -> Got {
    let run = calc.session_now()?.entry;
    let facts = calc.facts;
    let of_run = |entry: EntryId| facts.history.during(facts.book, entry) == Some(run);
    let mut newest: Option<Rank> = None;
    let pads = Place::CORNERS.map(|corner| ("weight", corner));
    for (name, place) in pads.into_iter().chain([("total-weight", Place::CAR)]) {
        let id = calc.quantity(name)?;
        let Some(slot) = calc.state(id, place) else { continue };
        let read = slot.track.events.iter().filter(|event| event.register() == Register::Read);
        let lines = read.filter_map(|event| event.entry).filter(|entry| of_run(*entry));
        newest = newest.max(lines.filter_map(|entry| calc.history.order.rank.get(entry).copied()).max());
    }
    let wanted = || Missing::one("a weight read after the session");
    let now = std::mem::replace(&mut calc.rank, newest.ok_or_else(wanted)?.next());
    let whole = calc.named("total-weight", Place::CAR);
    calc.rank = now;
    let whole = whole?;
    let all = whole.by.iter().filter_map(|(root, _)| calc.read.get(root)).all(|read| of_run(read.entry));
    if all { Ok(whole) } else { Err(wanted()) }
>>>>>>> main
}
