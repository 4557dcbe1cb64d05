//! Wear of pads and discs: thickness lost in an hour of running, and hours left to the minimum.
//!
//! Must not know hydraulics.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::{Needs, all};
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("pad-wear", pad_wear),
    ("pad-hours-left", pad_left),
    ("disc-wear", disc_wear),
    ("disc-hours-left", disc_left),
];

const RUNNING: Formula = Formula {
    id: "running-between",
    name: "running between the readings",
    expression: "sum(m)",
    source: "common practice",
    convention: "minutes of the sessions between, as typed or by the clock",
    dimension: DimensionId::TIME,
    shown: "h",
    show: [None, None],
};
const PAD: Formula = Formula {
    id: "pad-wear",
    name: "pad wear in an hour of running",
    expression: "(first - last) / (running / 3600)",
    source: "common practice",
    convention: "first and last reading of these pads; even wear over the running between",
    dimension: DimensionId::LENGTH,
    shown: "mm",
    show: [None, None],
};
const DISC: Formula = Formula {
    id: "disc-wear",
    name: "disc wear in an hour of running",
    expression: "(first - last) / (running / 3600)",
    source: "common practice",
    convention: "first and last reading of this disc; even wear over the running between",
    dimension: DimensionId::LENGTH,
    shown: "mm",
    show: [None, None],
};
const LEFT: Formula = Formula {
    id: "hours-left",
    name: "running left to the minimum",
    expression: "(last - minimum) / wear * 3600",
    source: "common practice",
    convention: "at the wear so far; a plan, not a promise",
    dimension: DimensionId::TIME,
    shown: "h",
    show: [None, None],
};

const AT_MINIMUM: &str = "at or below its minimum: not to be run";

/// First and last reading since the thickness last grew (a new one went on), and the running between.
fn since_new(calc: &mut Calc<'_>, name: &str, place: Place) -> Got<[Fig; 3]> {
    let id = calc.quantity(name)?;
    let what = calc.slot_name(id, place);
    let readings = calc.readings(name, place)?;
    let new = readings.windows(2).rposition(|pair| pair[1].value > pair[0].value).map_or(0, |at| at + 1);
    let [first, .., last] = &readings[new..] else {
        return Err(Missing::one(format!("two readings of {what} with running between")));
    };
    let ranks = &calc.history.order.rank;
    let (from, until) = (ranks[first.entry as usize], ranks[last.entry as usize]);
    let sessions: Vec<u32> = calc
        .history
        .sessions
        .between(calc.car, from, until)
        .iter()
        .map(|id| calc.history.sessions.get(*id).entry)
        .collect();
    if sessions.is_empty() {
        return Err(Missing::one(format!("running between two readings of {what}")));
    }
    let mut needs = Needs::default();
    let minutes: Vec<(String, Fig)> = sessions
        .iter()
        .enumerate()
        .filter_map(|(at, entry)| Some((format!("m{}", at + 1), needs.take(calc.running_of(*entry))?)))
        .collect();
    if minutes.len() < sessions.len() {
        return Err(needs.missing());
    }
    let inputs: Vec<(&str, &Fig)> = minutes.iter().map(|(name, fig)| (name.as_str(), fig)).collect();
    let running = calc
        .derive(&RUNNING, Place::CAR, &inputs, |x| x.iter().skip(1).fold(x[0].clone(), |sum, one| sum + one));
    let now = calc.rank;
    calc.rank = from + 1;
    let first = calc.reading(name, place);
    calc.rank = now;
    let last = calc.reading(name, place);
    let running = running.and_then(|running| calc.positive(running));
    all([first, last, running])
}

fn wear(calc: &mut Calc<'_>, name: &str, place: Place, formula: &'static Formula) -> Got<(Fig, Fig)> {
    let [first, last, running] = since_new(calc, name, place)?;
    let inputs = [("first", &first), ("last", &last), ("running", &running)];
    let wear = calc.derive(formula, place, &inputs, |x| (&x[0] - &x[1]) / (&x[2] / 3600.0))?;
    Ok((wear, last))
}

fn left(calc: &mut Calc<'_>, name: &str, minimum: &str, place: Place, formula: &'static Formula) -> Got {
    let minimum = calc.value(minimum, place);
    let worn = wear(calc, name, place, formula);
    let (minimum, (wear, last)) = match (minimum, worn) {
        (Ok(minimum), Ok(worn)) => (minimum, worn),
        (minimum, worn) => {
            let mut needs = minimum.err().map_or_else(Vec::new, |missing| missing.needs);
            needs.extend(worn.err().map_or_else(Vec::new, |missing| missing.needs));
            return Err(Missing { needs });
        }
    };
    if wear.value <= 0.0 {
        return Err(Missing::one("readings that show wear"));
    }
    let inputs = [("last", &last), ("minimum", &minimum), ("wear", &wear)];
    let left = calc.derive(&LEFT, place, &inputs, |x| (&x[0] - &x[1]) / &x[2] * 3600.0)?;
    if left.value <= 0.0 {
        calc.caution(&left, AT_MINIMUM);
    }
    Ok(left)
}

fn pad_wear(calc: &mut Calc<'_>, place: Place) -> Got {
    wear(calc, "pad-thickness", place, &PAD).map(|(wear, _)| wear)
}

fn pad_left(calc: &mut Calc<'_>, place: Place) -> Got {
    left(calc, "pad-thickness", "pad-minimum", place, &PAD)
}

fn disc_wear(calc: &mut Calc<'_>, place: Place) -> Got {
    wear(calc, "disc-thickness", place, &DISC).map(|(wear, _)| wear)
}

fn disc_left(calc: &mut Calc<'_>, place: Place) -> Got {
    left(calc, "disc-thickness", "disc-minimum", place, &DISC)
}
