//! Roll: stiffness of an axle from springs and bar, what it does to the lean and to the loads in a corner.
//!
//! Elementary form: the sprung mass is the whole car, the body is stiff, the roll axis is straight (RCVD ch. 18). The fuller
//! form, which lets the lean itself shift weight, differs by half a percent on a usual car; each figure says which it is.

use super::calc::{Calc, Fig, Got, Missing};
use super::formula::Formula;
use super::code::Code;
use super::springs::{both, positive, wheel_rate};
use super::{bench, cg, weights};
use crate::book::entry::Flags;
use crate::book::place::Place;
use crate::history::slots::giver;
use crate::units::DimensionId;

macro_rules! figures {
    ($($name:literal $compute:ident;)*) => {
        /// The field's figures.
        pub const FIGURES: &[Code] = &[
            $(($name, $compute)),*
        ];
    };
}
figures! {
    "spring-roll" spring_roll;
    "bar-roll" bar_roll;
    "axle-roll" axle_roll;
    "roll-share" roll_share;
    "roll-gradient" gradient;
    "load-transfer" transfer;
    "axle-load-transfer" axle_transfer;
    "load-transfer-share" transfer_share;
}

macro_rules! formulas {
    ($($name:ident $id:literal $words:literal $expression:literal, $source:expr, $convention:expr, $dimension:ident $shown:literal;)*) => {
        $(const $name: Formula = Formula {
            id: $id,
            name: $words,
            expression: $expression,
            source: $source,
            convention: $convention,
            dimension: DimensionId::$dimension,
            shown: $shown,
            show: [None, None],
        };)*
    };
}
const RCVD_16: &str = "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16";
const RCVD_18: &str = "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 18";
const ELEMENTARY: &str =
    "elementary form: whole car as sprung mass, stiff body, the lean's own weight shift left out";
formulas! {
    SPRINGS "spring-roll" "roll stiffness of the springs" "kl * kr * t^2 / (kl + kr)",
        RCVD_16, "wheel rates of both sides; half the rate times track squared where they are equal; tyres left out", ROLL_STIFFNESS "";
    BAR "bar-roll" "roll stiffness of the bar" "k * mr^2 * t^2",
        RCVD_16, "k with one end held; mr is travel of the bar's end over wheel travel", ROLL_STIFFNESS "";
    WITH_BAR "axle-roll" "roll stiffness of the axle" "ks + kb",
        RCVD_16, "springs and bar; tyres left out", ROLL_STIFFNESS "";
    BAR_OFF "axle-roll-bar-off" "roll stiffness of the axle" "ks",
        RCVD_16, "springs alone: the bar's link is off", ROLL_STIFFNESS "";
    NO_BAR "axle-roll-no-bar" "roll stiffness of the axle" "ks",
        RCVD_16, "springs alone: the book knows no bar on this axle", ROLL_STIFFNESS "";
    SHARE "roll-share" "front share of the roll stiffness" "kf / (kf + kr)", RCVD_16, "springs and bars; tyres left out", RATIO "%";
    ARM "roll-arm" "centre of gravity above the roll axis" "h - zf - (zr - zf) * (1 - front)",
        RCVD_18, "straight down at the centre of gravity", LENGTH "";
    GRADIENT "roll-gradient" "lean of the body for 1 g" "w * arm / (kf + kr)", RCVD_16, ELEMENTARY, ANGLE "";
    TOTAL "load-transfer" "load transfer in all" "w * ay / 9.80665 * h / ((tf + tr) / 2)",
        RCVD_18, "mean of the two tracks; whatever the springs are", WEIGHT "";
    FRONT "front-load-transfer" "load transfer of the axle" "w * ay / 9.80665 / t * (arm * k / (k + other) + front * z)",
        RCVD_18, ELEMENTARY, WEIGHT "";
    REAR "rear-load-transfer" "load transfer of the axle" "w * ay / 9.80665 / t * (arm * k / (k + other) + (1 - front) * z)",
        RCVD_18, ELEMENTARY, WEIGHT "";
    TRANSFER_SHARE "load-transfer-share" "front share of the load transfer" "f / (f + r)", RCVD_18, ELEMENTARY, RATIO "%";
}

/// What is to be known about an axle's anti-roll bar.
#[derive(Debug, Clone)]
pub(super) enum Bar {
    /// Its rate with one end held, and the hole that picks it, where one is set.
    Rate(Fig, Option<Fig>),
    /// Its link is off.
    Off,
    /// The book knows of none.
    None,
}

/// The bar of an axle at the moment.
pub(super) fn bar(calc: &mut Calc<'_>, axle: Place) -> Got<Bar> {
    let (rate, hole) = (calc.quantity("bar-rate")?, calc.quantity("bar-hole")?);
    let state = calc.state(hole, axle);
    let supposed = calc.what_if.iter().any(|one| one.0 == hole && one.1 == axle);
    let mut at = None;
    if supposed {
        at = calc.instead(hole, axle);
    } else if let Some(slot) = state {
        let is = slot.held.is(calc.history);
        let item = is.and_then(|event| calc.history.item(calc.book, slot.track, &event));
        if item.is_some_and(|item| item.is(Flags::OFF)) {
            return Ok(Bar::Off);
        }
        at = Some(calc.value("bar-hole", axle)?);
    }
    if let Some(fig) = calc.instead(rate, axle) {
        return Ok(Bar::Rate(fig, None));
    }
    let carriers = &calc.history.slots.carriers;
    let part = giver(carriers, calc.book, &calc.history.parts, calc.car, rate, axle, calc.rank);
    if let Some(part) = part {
        let rate = bench::fitted_bar(calc, part, at.as_ref().map(|fig| fig.value));
        let rate = rate.map_err(|missing| match at {
            None if missing.needs.iter().any(|need| need.starts_with("a hole for")) => {
                Missing::one(format!("a value of {}", calc.slot_name(hole, axle)))
            }
            _ => missing,
        })?;
        return Ok(Bar::Rate(rate, at));
    }
    if at.is_none() && calc.state(rate, axle).is_none() {
        return Ok(Bar::None);
    }
    let rate = calc.value("bar-rate", axle)?;
    Ok(Bar::Rate(rate, at))
}

/// An axle is wanted; anything else says so.
fn axle(place: Place) -> Got<()> {
    if place.is_axle() { Ok(()) } else { Err(Missing::one("an axle: front or rear")) }
}

fn track(calc: &mut Calc<'_>, axle: Place) -> Got {
    calc.value("track", axle).and_then(|fig| positive(calc, fig))
}

fn spring_roll(calc: &mut Calc<'_>, place: Place) -> Got {
    axle(place)?;
    let [left, right] = place.corners() else { return Err(Missing::one("an axle: front or rear")) };
    let sides = both(wheel_rate(calc, *left), wheel_rate(calc, *right));
    let track = track(calc, place);
    let ((kl, kr), track) = all(sides, track)?;
    calc.derive(&SPRINGS, place, &[("kl", &kl), ("kr", &kr), ("t", &track)], |at| {
        &at[0] * &at[1] * at[2].powi(2) / (&at[0] + &at[1])
    })
}

/// Both, or all that is missing of both.
fn all<A, B>(first: Got<A>, second: Got<B>) -> Got<(A, B)> {
    match (first, second) {
        (Ok(first), Ok(second)) => Ok((first, second)),
        (first, second) => {
            let mut needs: Vec<String> = first.err().map(|missing| missing.needs).unwrap_or_default();
            for need in second.err().map(|missing| missing.needs).unwrap_or_default() {
                if !needs.contains(&need) {
                    needs.push(need);
                }
            }
            Err(Missing { needs })
        }
    }
}

fn bar_roll(calc: &mut Calc<'_>, place: Place) -> Got {
    axle(place)?;
    match bar(calc, place)? {
        Bar::Rate(rate, hole) => bar_stiffness(calc, place, &rate, hole.as_ref()),
        Bar::Off => Err(Missing::one("the bar's link on (bar-hole is off)")),
        Bar::None => Err(Missing::one(format!(
            "a bar on the {} axle: a fitted part that gives bar-rate, or bar-rate set",
            calc.book.place_word(place)
        ))),
    }
}

fn bar_stiffness(calc: &mut Calc<'_>, place: Place, rate: &Fig, hole: Option<&Fig>) -> Got {
    let (ratio, track) = both(calc.value("bar-motion-ratio", place), track(calc, place))?;
    let mut inputs = vec![("k", rate), ("mr", &ratio), ("t", &track)];
    inputs.extend(hole.map(|hole| ("hole", hole)));
    calc.derive(&BAR, place, &inputs, |at| &at[0] * at[1].powi(2) * at[2].powi(2))
}

pub(super) fn axle_roll(calc: &mut Calc<'_>, place: Place) -> Got {
    axle(place)?;
    let springs = spring_roll(calc, place);
    let bar = match bar(calc, place) {
        Ok(Bar::Rate(rate, hole)) => bar_stiffness(calc, place, &rate, hole.as_ref()).map(Some),
        Ok(Bar::Off | Bar::None) => Ok(None),
        Err(missing) => Err(missing),
    };
    let (springs, bar) = all(springs, bar)?;
    if let Some(bar) = bar {
        return calc.derive(&WITH_BAR, place, &[("ks", &springs), ("kb", &bar)], |at| &at[0] + &at[1]);
    }
    let formula = if matches!(self::bar(calc, place)?, Bar::Off) { &BAR_OFF } else { &NO_BAR };
    calc.derive(formula, place, &[("ks", &springs)], |at| at[0].clone())
}

fn axles(calc: &mut Calc<'_>) -> Got<(Fig, Fig)> {
    let front = axle_roll(calc, Place::FRONT);
    let rear = axle_roll(calc, Place::REAR);
    both(front, rear)
}

fn roll_share(calc: &mut Calc<'_>, _: Place) -> Got {
    let (front, rear) = axles(calc)?;
    calc.derive(&SHARE, Place::CAR, &[("kf", &front), ("kr", &rear)], |at| &at[0] / (&at[0] + &at[1]))
}

/// Centre of gravity above the roll axis.
fn arm(calc: &mut Calc<'_>) -> Got {
    let height = cg::height(calc, Place::CAR);
    let front = weights::front(calc, Place::CAR);
    let zf = calc.value("roll-centre-height", Place::FRONT);
    let zr = calc.value("roll-centre-height", Place::REAR);
    let ((height, front), (zf, zr)) = all(both(height, front), both(zf, zr))?;
    let inputs = [("h", &height), ("zf", &zf), ("zr", &zr), ("front", &front)];
    calc.derive(&ARM, Place::CAR, &inputs, |at| &at[0] - &at[1] - (&at[2] - &at[1]) * (1.0 - &at[3]))
}

/// Cornering: what the book says, else 1 g.
fn lateral(calc: &mut Calc<'_>) -> Got {
    let id = calc.quantity("lateral")?;
    if calc.state(id, Place::CAR).is_some() || calc.what_if.iter().any(|one| one.0 == id) {
        return calc.value("lateral", Place::CAR);
    }
    Ok(calc.default("cornering of 1 g", 9.80665, DimensionId::ACCELERATION, "no lateral is set, so for 1 g"))
}

fn gradient(calc: &mut Calc<'_>, _: Place) -> Got {
    let weight = weights::total(calc, Place::CAR);
    let arm = arm(calc);
    let ((weight, arm), (front, rear)) = all(both(weight, arm), axles(calc))?;
    let inputs = [("w", &weight), ("arm", &arm), ("kf", &front), ("kr", &rear)];
    calc.derive(&GRADIENT, Place::CAR, &inputs, |at| &at[0] * &at[1] / (&at[2] + &at[3]))
}

fn transfer(calc: &mut Calc<'_>, _: Place) -> Got {
    let weight = weights::total(calc, Place::CAR);
    let height = cg::height(calc, Place::CAR);
    let tracks = both(track(calc, Place::FRONT), track(calc, Place::REAR));
    let ((weight, height), (tf, tr)) = all(both(weight, height), tracks)?;
    let ay = lateral(calc)?;
    let inputs = [("w", &weight), ("ay", &ay), ("h", &height), ("tf", &tf), ("tr", &tr)];
    calc.derive(&TOTAL, Place::CAR, &inputs, |at| {
        &at[0] * &at[1] / 9.80665 * &at[2] / ((&at[3] + &at[4]) / 2.0)
    })
}

fn axle_transfer(calc: &mut Calc<'_>, place: Place) -> Got {
    axle(place)?;
    let weight = weights::total(calc, Place::CAR);
    let front = weights::front(calc, Place::CAR);
    let arm = arm(calc);
    let own = both(track(calc, place), calc.value("roll-centre-height", place));
    let (((weight, front), arm), ((t, z), (kf, kr))) =
        all(all(both(weight, front), arm), all(own, axles(calc)))?;
    let ay = lateral(calc)?;
    let is_front = place == Place::FRONT;
    let (k, other) = if is_front { (&kf, &kr) } else { (&kr, &kf) };
    let inputs = [
        ("w", &weight),
        ("ay", &ay),
        ("t", &t),
        ("arm", &arm),
        ("k", k),
        ("other", other),
        ("front", &front),
        ("z", &z),
    ];
    calc.derive(if is_front { &FRONT } else { &REAR }, place, &inputs, |at| {
        let share = if is_front { at[6].clone() } else { 1.0 - &at[6] };
        &at[0] * &at[1] / 9.80665 / &at[2] * (&at[3] * &at[4] / (&at[4] + &at[5]) + share * &at[7])
    })
}

fn transfer_share(calc: &mut Calc<'_>, _: Place) -> Got {
    let front = axle_transfer(calc, Place::FRONT);
    let rear = axle_transfer(calc, Place::REAR);
    let (front, rear) = both(front, rear)?;
    calc.derive(&TRANSFER_SHARE, Place::CAR, &[("f", &front), ("r", &rear)], |at| &at[0] / (&at[0] + &at[1]))
}
