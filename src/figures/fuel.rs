//! The fuel aboard: as the car was weighed, as a session began, what was put in during it; and the weight read as it came in.
//!
//! What follows from it is arithmetic, in `grammar/figures.sline`. Must not know springs.

use super::calc::{Calc, Fig, Got, Missing};
use super::code::Code;
use super::dual::Dual;
use super::formula::Formula;
use crate::book::entry::EntryId;
use crate::book::model::Condition;
use crate::book::place::Place;
use crate::history::fuel;
use crate::history::order::Rank;
use crate::history::slots::{Register, SlotEvent};
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("fuel-on-pads", as_weighed),
    ("fuel-at-start", |calc, _| match said_of_run(calc) {
        Some(said) => said,
        None => at_start(calc, aboard),
    }),
    ("fuel-on-pads-before", |calc, _| {
        at_start(calc, |calc| {
            let whole = whole_before(calc)?;
            fuel_of(calc, &whole)
        })
    }),
    ("weight-before-session", |calc, _| at_start(calc, whole_before)),
    ("fuel-aboard", |calc, _| {
        let session = calc.session_now().ok().map(|session| (session.entry, session.during, session.after));
        let asked = session.map(|(run, ..)| run);
        // What a line of the session itself says is aboard as it comes in stands for it.
        let own = session.filter(|(run, during, _)| *during == calc.rank && is_stated_in(calc, *run));
        let until = own.map_or(calc.rank, |(_, _, after)| after);
        super::tank::aboard(calc, until, asked)
    }),
    ("fuel-stated", stated),
    ("fuel-added", added),
    ("weight-as-it-came-in", came_in),
];

const ADDED: Formula = Formula {
    id: "fuel-added",
    name: "fuel put in during the session",
    expression: "sum(put)",
    source: "common practice",
    convention: "`fill fuel +` and `adjust fuel` lines under the session",
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
    if !says_fuel(calc, line) && calc.history.during(calc.book, line).is_some() {
        return Err(Missing::one("`with fuel ...` on the weight line, which was read after a session"));
    }
    let then = calc.condition(line, "fuel", DimensionId::VOLUME)?;
    let unit = calc.nodes.get(then.node).and_then(|node| node.unit);
    if unit.is_none_or(|unit| unit.get().dim != DimensionId::VOLUME.get().dim) {
        return Err(Missing::one("the fuel on the weight line as a volume, such as `with fuel 20 L`"));
    }
    Ok(then)
}

/// Whether a line says `with fuel ...` itself.
fn says_fuel(calc: &Calc<'_>, line: EntryId) -> bool {
    let extra = calc.book.entries.get(line).and_then(|entry| calc.book.extra(entry));
    let fuel = |one: &Condition| calc.files.text(one.key).eq_ignore_ascii_case("fuel");
    extra.is_some_and(|extra| extra.conditions.iter().any(fuel))
}

/// The fuel that the session's own line says it began with.
fn said_of_run(calc: &mut Calc<'_>) -> Option<Got> {
    let run = calc.session_now().ok()?.entry;
    says_fuel(calc, run).then(|| calc.condition(run, "fuel", DimensionId::VOLUME))
}

/// The fuel that the book says is aboard, what the sessions since burnt taken off; else as the car was weighed, where it did not run since.
fn aboard(calc: &mut Calc<'_>) -> Got {
    let id = calc.quantity("fuel")?;
    if calc.state(id, Place::CAR).is_some() {
        let until = calc.rank;
        return super::tank::aboard(calc, until, None);
    }
    let whole = whole_before(calc)?;
    let weighed = match line_of(calc, &whole) {
        Some(line) => line,
        None => super::weights::line_of_pads(calc)?,
    };
    let weighed = calc.history.order.rank.get(weighed).copied().unwrap_or(Rank::START);
    if !calc.between(weighed, calc.rank).is_empty() {
        return Err(Missing::one(
            "a line that says how much fuel is aboard, such as `fill fuel 30 L` (the car ran since it was weighed)",
        ));
    }
    fuel_of(calc, &whole)
}

/// The fuel aboard as the session of the moment came in, where a line of it says how much there was then, and not only how much was added.
fn stated(calc: &mut Calc<'_>, _: Place) -> Got {
    let session = calc.session_now()?;
    let (run, after) = (session.entry, session.after);
    if !is_stated_in(calc, run) {
        let line =
            "a line under the session that says what is aboard as it comes in, such as `read fuel 12 L`";
        let rate = calc.quantity("fuel-rate")?;
        let known = calc.state(rate, Place::CAR).is_some();
        return Err(Missing::one(if known {
            line.to_owned()
        } else {
            format!("fuel-rate, such as `set fuel-rate 36 L/h`, or {line}")
        }));
    }
    super::tank::aboard(calc, after, Some(run))
}

/// Whether a line of a session says how much fuel there is, and not only how much was added.
fn is_stated_in(calc: &Calc<'_>, run: EntryId) -> bool {
    let slot = calc.quantity("fuel").ok().and_then(|id| calc.state(id, Place::CAR));
    slot.iter().flat_map(|slot| &slot.track.events).any(|event| {
        let of_run = |entry| calc.history.during(calc.book, entry) == Some(run);
        event.entry.is_some_and(of_run) && !adds(calc, event)
    })
}

fn adds(calc: &Calc<'_>, event: &SlotEvent) -> bool {
    let line = event.entry.zip(calc.book.items.get(event.item()));
    line.is_some_and(|(entry, item)| fuel::adds(calc.book, calc.files, entry, item))
}

/// What `fill fuel +` and `adjust fuel` lines under the session put in; nothing where there are none.
fn added(calc: &mut Calc<'_>, place: Place) -> Got {
    let run = calc.session_now()?.entry;
    let id = calc.quantity("fuel")?;
    let of_run = |event: &&SlotEvent| {
        event.entry.is_some_and(|entry| calc.history.during(calc.book, entry) == Some(run))
    };
    let slot = calc.state(id, Place::CAR);
    let mut events: Vec<_> =
        slot.iter().flat_map(|slot| &slot.track.events).filter(of_run).copied().collect();
    // Whether a line adds or states, its mistake may hide.
    let unread = |event: &SlotEvent| event.register() == Register::Unknown && !adds(calc, event);
    if events.iter().any(unread) {
        return Err(Missing::one("the fuel put in during the session put right (its line has an error)"));
    }
    events.retain(|event| adds(calc, event));
    let mut figs = Vec::new();
    for event in events {
        if let (Some(entry), Some(item)) = (event.entry, calc.book.items.get(event.item()).copied()) {
            figs.push(calc.item("fuel put in", entry, &item, DimensionId::VOLUME));
        }
    }
    if figs.is_empty() {
        let words = "no fuel put in during the session";
        return Ok(calc.constant(words, 0.0, DimensionId::VOLUME, "no line under it adds fuel"));
    }
    let names: Vec<String> = (1..=figs.len()).map(|n| format!("put{n}")).collect();
    let inputs: Vec<(&str, &Fig)> = names.iter().map(String::as_str).zip(&figs).collect();
    calc.derive(&ADDED, place, &inputs, |put| {
        put.iter()
            .cloned()
            .reduce(|sum, one| &sum + &one)
            .unwrap_or_else(|| Dual::constant(f64::NAN, put.len()))
    })
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
}
