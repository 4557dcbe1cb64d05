//! The fuel aboard, flow by flow: what was stated, what was added, what was burnt.
//!
//! Which flows there are is `history::fuel`. Must not know weights.

use super::calc::{Calc, Fig, Got, Missing};
use super::formula::Formula;
use crate::book::entry::EntryId;
use crate::book::place::Place;
use crate::history::fuel::{Flow, Since, Tank, Unclear};
use crate::history::order::Rank;
use crate::history::slots::Owner;
use crate::units::DimensionId;

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

/// Less than this is the rounding of a rate, cubic metres: a hundredth of a litre.
const NONE: f64 = -0.000_01;

/// The fuel aboard at a rank, the sessions before it burnt. Where some but `asked` ran since the last line about fuel, nobody knows
/// whether it was filled between them: that is said.
///
/// # Errors
/// Why that is not known; also where by what is written there is less than none.
pub(super) fn aboard(calc: &mut Calc<'_>, until: Rank, asked: Option<EntryId>) -> Got {
    let car = calc.car.ok_or_else(|| Missing::one("a car"))?;
    let slots = &calc.history.slots;
    let find = |name: &str| calc.book.vocabulary.find(name);
    let events = |name: &str| {
        let id = find(name)?;
        slots.find(Owner::Car(car), id, Place::CAR).map(|track| track.events.as_slice())
    };
    let tank = Tank {
        fuel: events("fuel").unwrap_or_default(),
        rate: events("fuel-rate").unwrap_or_default(),
        used: events("fuel-used").unwrap_or_default(),
        lost: find("fuel-used").map_or(&[], |id| slots.lost_of(Owner::Car(car), id)),
    };
    let texts = (calc.book, calc.files, &calc.history.order);
    let flows = tank
        .flows(texts, &calc.history.sessions, (car, until), Since::Stated)
        .map_err(|why| missing(calc, why))?;
    let now = calc.rank;
    let got = account(calc, &flows);
    calc.rank = now;
    let level = got?;
    let labels: Vec<String> =
        ran_since(&flows).into_iter().filter(|run| Some(*run) != asked).map(|run| label(calc, run)).collect();
    if level.value < NONE {
        let since = if labels.is_empty() { String::new() } else { format!(" between {}", labels.join(", ")) };
        let rate = flows.iter().any(|flow| matches!(flow, Flow::Burnt { .. }));
        let by = if rate { "fuel-rate" } else { "fuel-used" };
        return Err(Missing::one(format!(
            "the fuel that was filled{since}: what is aboard stands above a session, such as `fill fuel 30 L` (by {by} and the \
             lines that there are, less than none is left)"
        )));
    }
    if !labels.is_empty() {
        let ran = labels.join(", ");
        let words =
            format!("run since it was filled: {ran}; whether it was filled between, the book does not say");
        calc.cautions.insert(level.node, words.into());
    }
    Ok(level)
}

/// The sessions that ran since the last line about fuel, in order.
fn ran_since(flows: &[Flow]) -> Vec<EntryId> {
    let mut ran = Vec::new();
    for flow in flows {
        match flow {
            Flow::Stated(_) | Flow::Added(_) => ran.clear(),
            Flow::Used { run, .. } | Flow::Burnt { run, .. } => {
                if ran.last() != Some(run) {
                    ran.push(*run);
                }
            }
        }
    }
    ran
}

fn label(calc: &Calc<'_>, run: EntryId) -> String {
    calc.session_of(run).map_or("a session", |session| calc.files.text(session.label)).to_owned()
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
                let inputs = [("before", &before), ("added", &added)];
                calc.derive_of(&AFTER_FILL, Place::CAR, inputs, |[before, added]| before + added)?
            }
            (Flow::Used { run, .. }, Some(before)) => {
                let (used, _) = calc.reading_during("fuel-used", Place::CAR, *run)?;
                after(calc, &before, &used)?
            }
            (Flow::Burnt { run, minutes, from, .. }, Some(before)) => {
                calc.rank = *from;
                let rate = calc.typed_value("fuel-rate", Place::CAR)?;
                let time = calc.minutes_in(*run, *minutes)?;
                let inputs = [("rate", &rate), ("time", &time)];
                let burnt = calc.derive_of(&BURNT, Place::CAR, inputs, |[rate, time]| rate * time)?;
                after(calc, &before, &burnt)?
            }
            (_, None) => return Err(Missing::one("a line that says how much fuel is aboard")),
        });
    }
    level.ok_or_else(|| Missing::one("a line that says how much fuel is aboard"))
}

fn after(calc: &mut Calc<'_>, before: &Fig, burnt: &Fig) -> Got {
    let inputs = [("before", before), ("burnt", burnt)];
    calc.derive_of(&AFTER_RUN, Place::CAR, inputs, |[before, burnt]| before - burnt)
}

fn missing(calc: &Calc<'_>, why: Unclear) -> Missing {
    Missing::one(match why {
        Unclear::NotStated => "a line that says how much fuel is aboard, such as `fill fuel 48 L`".to_owned(),
        Unclear::Broken(_) => "fuel put right (its last line has an error)".to_owned(),
        Unclear::AddedTo(_) => {
            "how much fuel was aboard when it was topped up, such as `fill fuel 48 L` before that".to_owned()
        }
        Unclear::Rate(run) => format!(
            "fuel-rate, such as `set fuel-rate 36 L/h`, or `read fuel-used` under {}",
            label(calc, run)
        ),
        Unclear::Minutes(run) => format!("minutes of {}, or `read fuel-used` under it", label(calc, run)),
        Unclear::Road(run) => {
            format!("`read fuel-used` under {}, which drove on the road too", label(calc, run))
        }
    })
}
