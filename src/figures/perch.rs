//! Perch turns: what a turn of a spring collar does to the pads, and how many bring the cross weight to a target.
//!
//! A rigid body on level pads takes a perch change in warp only: one diagonal gains, the other loses, the same at each corner
//! (equal tracks). Must not know the total or shares beyond what `weights` gives.

use super::calc::{Calc, Fig, Got, Missing};
use super::dual::Dual;
use super::formula::Formula;
use super::code::Code;
use super::roll::{Bar, bar};
use super::springs::{both, corner, positive, wheel_rate};
use super::weights;
use crate::book::place::Place;
use crate::units::DimensionId;

/// The field's figures.
pub const FIGURES: &[Code] = &[
    ("perch-turns", shared),
    ("perch-turns-alone", alone),
    ("perch-effect", effect),
];

const STATICS: &str = "common practice; statics of a stiff body on four springs";

macro_rules! formulas {
    ($($name:ident $id:literal $words:literal $expression:literal, $convention:literal, $dimension:ident;)*) => {
        $(const $name: Formula = Formula {
            id: $id,
            name: $words,
            expression: $expression,
            source: STATICS,
            convention: $convention,
            dimension: DimensionId::$dimension,
            shown: "",
            show: [None, None],
        };)*
    };
}
formulas! {
    AXLE "axle-warp-rate" "wheel rate of the axle in warp" "2 / (1 / kl + 1 / kr)",
        "the rate of each wheel where both are the same", STIFFNESS;
    BAR_AT_WHEEL "bar-at-wheel" "bar rate at the wheel" "k * mr^2",
        "one end held; mr is travel of the bar's end over wheel travel", STIFFNESS;
    SHARED "perch-turns" "turns of the perch, all four shared" "s * (target - cross) * w / 4 * (1 / kf + 1 / kr) * mr / pitch",
        "up is positive (s is 1 at RF and LR, -1 at LF and RR); bars off, equal tracks, level pads; ride height stays", TURN;
    SHARED_BARS "perch-turns-bars-on" "turns of the perch, all four shared" "s * (target - cross) * w / 2 * (kf + 2 * bf + kr + 2 * br) / (kf * (kr + 2 * br) + kr * (kf + 2 * bf)) * mr / pitch",
        "up is positive (s is 1 at RF and LR, -1 at LF and RR); bars on, equal tracks, level pads; ride height stays", TURN;
    ALONE "perch-turns-alone" "turns of the perch alone" "s * (target - cross) * w * (1 / kf + 1 / kr) * mr / pitch",
        "up is positive (s is 1 at RF and LR, -1 at LF and RR); bars off, equal tracks, level pads; ride height changes", TURN;
    ALONE_BARS "perch-turns-alone-bars-on" "turns of the perch alone" "s * (target - cross) * w * (k + 2 * b + o + 2 * c) / (k * (o + 2 * c)) * mr / pitch",
        "up is positive (s is 1 at RF and LR, -1 at LF and RR); bars on (b here, c at the other end), equal tracks, level pads; ride height changes", TURN;
    EFFECT "perch-effect" "load gained for one turn up" "pitch / mr / (2 / kf + 2 / kr)",
        "this corner and its diagonal gain it, the other two lose it; bars off, equal tracks", WEIGHT;
    EFFECT_BARS "perch-effect-bars-on" "load gained for one turn up" "k * pitch / mr / 2 * (o + 2 * c) / (k + 2 * b + o + 2 * c)",
        "this corner and its diagonal gain it, the other two lose it; bars on (b here, c at the other end), equal tracks", WEIGHT;
}

/// What both ends of the car put against a warp.
struct Warp {
    front: Fig,
    rear: Fig,
    /// Bars at the wheel, front and rear, where they are on.
    bars: Option<(Fig, Fig)>,
}

fn axle_rate(calc: &mut Calc<'_>, axle: Place) -> Got {
    let [left, right] = axle.corners() else { return Err(Missing::one("an axle")) };
    let (left_rate, right_rate) = both(wheel_rate(calc, *left), wheel_rate(calc, *right))?;
    calc.derive(&AXLE, axle, &[("kl", &left_rate), ("kr", &right_rate)], |at| {
        2.0 / (1.0 / &at[0] + 1.0 / &at[1])
    })
}

fn bar_at_wheel(calc: &mut Calc<'_>, axle: Place) -> Got {
    match bar(calc, axle)? {
        Bar::Rate(rate, hole) => {
            let ratio = calc.value("bar-motion-ratio", axle)?;
            let mut inputs = vec![("k", &rate), ("mr", &ratio)];
            inputs.extend(hole.as_ref().map(|hole| ("hole", hole)));
            calc.derive(&BAR_AT_WHEEL, axle, &inputs, |at| &at[0] * at[1].powi(2))
        }
        Bar::Off | Bar::None => {
            let name = if axle == Place::FRONT { "front bar (none on)" } else { "rear bar (none on)" };
            Ok(calc.constant(name, 0.0, DimensionId::STIFFNESS, "the book has no bar connected on this axle"))
        }
    }
}

/// Whether the pads were read with the bars on: what their line says, else the car's reference. `None` where neither says.
fn bars_on(calc: &Calc<'_>) -> Got<Option<bool>> {
    let line = &calc.book.entries[weights::line_of_pads(calc)? as usize];
    let said = calc.book.extra(line).map_or(&[][..], |extra| extra.conditions.as_slice());
    let reference = calc.book.cars.get(calc.car.0 as usize).map_or(&[][..], |car| car.reference.as_slice());
    let bars = said.iter().chain(reference).find(|one| {
        let key = calc.files.text(one.key);
        key.eq_ignore_ascii_case("bars") || key.eq_ignore_ascii_case("links")
    });
    Ok(bars.map(|one| !calc.files.text(one.said).to_lowercase().ends_with("off")))
}

fn warp(calc: &mut Calc<'_>) -> Got<Warp> {
    let front = axle_rate(calc, Place::FRONT);
    let rear = axle_rate(calc, Place::REAR);
    let (front, rear) = both(front, rear)?;
    let bars = match bars_on(calc)? {
        Some(true) => {
            let ends = (bar_at_wheel(calc, Place::FRONT), bar_at_wheel(calc, Place::REAR));
            Some(both(ends.0, ends.1)?)
        }
        Some(false) => None,
        None => {
            for axle in [Place::FRONT, Place::REAR] {
                if !matches!(bar(calc, axle), Ok(Bar::Off | Bar::None)) {
                    return Err(Missing::one(
                        "`with bars off` (or `bars on`) on the weight line, or the car's reference",
                    ));
                }
            }
            None
        }
    };
    Ok(Warp { front, rear, bars })
}

/// Motion ratio and thread of a corner.
fn thread(calc: &mut Calc<'_>, place: Place) -> Got<(Fig, Fig)> {
    let ratio = calc.value("motion-ratio", place).and_then(|fig| positive(calc, fig));
    let pitch = calc.value("perch-pitch", place).and_then(|fig| positive(calc, fig));
    both(ratio, pitch)
}

/// RF and LR go up for more cross, LF and RR down.
fn sign(calc: &mut Calc<'_>, place: Place) -> Fig {
    let up = place == Place::RF || place == Place::LR;
    let (name, value) =
        if up { ("this diagonal makes cross", 1.0) } else { ("this diagonal takes from cross", -1.0) };
    calc.constant(name, value, DimensionId::RATIO, "cross is right front + left rear")
}

/// s, target, cross, w, then the rates: what both kinds of turns start from.
fn start(calc: &mut Calc<'_>, place: Place) -> Got<([Fig; 3], Warp, (Fig, Fig))> {
    corner(place)?;
    let target = calc.asked("cross-weight", Place::CAR);
    let cross = weights::cross(calc, Place::CAR);
    let (target, cross) = both(target, cross)?;
    let weight = weights::total(calc, Place::CAR)?;
    let warp = warp(calc);
    let thread = thread(calc, place);
    match (warp, thread) {
        (Ok(warp), Ok(thread)) => Ok(([target, cross, weight], warp, thread)),
        (warp, thread) => {
            let needs = warp.err().into_iter().chain(thread.err()).flat_map(|missing| missing.needs);
            let mut all: Vec<String> = Vec::new();
            for need in needs {
                if !all.contains(&need) {
                    all.push(need);
                }
            }
            Err(Missing { needs: all })
        }
    }
}

/// The load each corner of a diagonal is to gain.
fn need(at: &[Dual]) -> Dual {
    &at[0] * (&at[1] - &at[2]) * &at[3] / 2.0
}

fn shared(calc: &mut Calc<'_>, place: Place) -> Got {
    let ([target, cross, weight], warp, (ratio, pitch)) = start(calc, place)?;
    let up = sign(calc, place);
    let mut inputs = vec![
        ("s", &up),
        ("target", &target),
        ("cross", &cross),
        ("w", &weight),
        ("kf", &warp.front),
        ("kr", &warp.rear),
        ("mr", &ratio),
        ("pitch", &pitch),
    ];
    let Some((bf, br)) = &warp.bars else {
        return calc.derive(&SHARED, place, &inputs, |at| {
            need(at) / 2.0 * (1.0 / &at[4] + 1.0 / &at[5]) * &at[6] / &at[7]
        });
    };
    inputs.extend([("bf", bf), ("br", br)]);
    calc.derive(&SHARED_BARS, place, &inputs, |at| {
        let front = &at[4] + 2.0 * &at[8];
        let rear = &at[5] + 2.0 * &at[9];
        need(at) * (&front + &rear) / (&at[4] * &rear + &at[5] * &front) * &at[6] / &at[7]
    })
}

/// This axle's rate and bar, then the other's.
fn ends(warp: &Warp, place: Place) -> [(&Fig, Option<&Fig>); 2] {
    let front = (&warp.front, warp.bars.as_ref().map(|bars| &bars.0));
    let rear = (&warp.rear, warp.bars.as_ref().map(|bars| &bars.1));
    if place == Place::LF || place == Place::RF { [front, rear] } else { [rear, front] }
}

fn alone(calc: &mut Calc<'_>, place: Place) -> Got {
    let ([target, cross, weight], warp, (ratio, pitch)) = start(calc, place)?;
    let up = sign(calc, place);
    let head = [("s", &up), ("target", &target), ("cross", &cross), ("w", &weight)];
    let tail = [("mr", &ratio), ("pitch", &pitch)];
    let [(k, b), (o, c)] = ends(&warp, place);
    if let (Some(b), Some(c)) = (b, c) {
        let inputs: Vec<(&str, &Fig)> =
            head.into_iter().chain([("k", k), ("o", o), ("b", b), ("c", c)]).chain(tail).collect();
        return calc.derive(&ALONE_BARS, place, &inputs, |at| {
            let own = &at[4] + 2.0 * &at[6];
            let other = &at[5] + 2.0 * &at[7];
            2.0 * need(at) * (own + &other) / (&at[4] * &other) * &at[8] / &at[9]
        });
    }
    let rates = [("kf", &warp.front), ("kr", &warp.rear)];
    let inputs: Vec<(&str, &Fig)> = head.into_iter().chain(rates).chain(tail).collect();
    calc.derive(&ALONE, place, &inputs, |at| 2.0 * need(at) * (1.0 / &at[4] + 1.0 / &at[5]) * &at[6] / &at[7])
}

fn effect(calc: &mut Calc<'_>, place: Place) -> Got {
    corner(place)?;
    let warp = warp(calc)?;
    let (ratio, pitch) = thread(calc, place)?;
    let [(k, b), (o, c)] = ends(&warp, place);
    if let (Some(b), Some(c)) = (b, c) {
        let inputs = [("k", k), ("o", o), ("b", b), ("c", c), ("mr", &ratio), ("pitch", &pitch)];
        return calc.derive(&EFFECT_BARS, place, &inputs, |at| {
            let own = &at[0] + 2.0 * &at[2];
            let other = &at[1] + 2.0 * &at[3];
            &at[0] * &at[5] / &at[4] / 2.0 * &other / (own + &other)
        });
    }
    let inputs = [("kf", &warp.front), ("kr", &warp.rear), ("mr", &ratio), ("pitch", &pitch)];
    calc.derive(&EFFECT, place, &inputs, |at| &at[3] / &at[2] / (2.0 / &at[0] + 2.0 / &at[1]))
}
