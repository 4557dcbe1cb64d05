//! Alignment: toe between angle and length, caster and steering-axis inclination from a sweep, drift since it was left.
//!
//! Toe-in is positive; caster is positive with the top rearward. Must not know springs or weights.

use super::calc::{Calc, Fig, Got, Missing};
use super::drift;
use super::formula::Formula;
use super::code::Code;
use super::springs::corner;
use crate::book::entry::Item;
use crate::book::place::Place;
use crate::units::DimensionId;

macro_rules! figures {
    ($($name:literal $compute:expr;)*) => {
        /// The field's figures.
        pub const FIGURES: &[Code] = &[
            $(($name, $compute)),*
        ];
    };
}
figures! {
    "toe-length" toe_length;
    "toe-angle" toe_angle;
    "total-toe-length" total_length;
    "total-toe-angle" total_angle;
    "caster-by-sweep" caster;
    "sai-by-sweep" sai;
    "camber-drift" |calc, place| drift::widths(calc, "camber", place);
    "toe-drift" |calc, place| drift::widths(calc, "toe", place);
    "caster-drift" |calc, place| drift::widths(calc, "caster", place);
    "ride-height-drift" |calc, place| drift::widths(calc, "ride-height", place);
}

macro_rules! formulas {
    ($($name:ident $id:literal $words:literal $expression:literal, $source:expr, $convention:literal, $dimension:ident;)*) => {
        $(const $name: Formula = Formula {
            id: $id,
            name: $words,
            expression: $expression,
            source: $source,
            convention: $convention,
            dimension: DimensionId::$dimension,
            shown: "",
            show: [None, None],
        };)*
    };
}
const AXES: &str = "geometry; axes of ISO 8855:2011";
const SWEEP: &str = "January, Steering Geometry and Caster Measurement, SAE 850219";
formulas! {
    LENGTH "toe-length" "toe of the wheel as a length" "d * sin(a)",
        AXES, "one wheel, in is positive; d is where toe is measured (rim or tyre), a the wheel's angle", LENGTH;
    TOTAL_LENGTH "total-toe-length" "toe of the axle as a length" "2 * d * sin(a / 2)",
        AXES, "both wheels together, in is positive, half to each; d is where toe is measured", LENGTH;
    SUM_LENGTH "total-toe-length-sum" "toe of the axle as a length" "d * sin(l) + d * sin(r)",
        AXES, "both wheels together, in is positive; d is where toe is measured", LENGTH;
    ANGLE "toe-angle" "toe of the wheel" "a", AXES, "one wheel, in is positive", ANGLE;
    HALF "toe-angle-half" "toe of the wheel" "a / 2", AXES, "half of the axle's total, in is positive", ANGLE;
    TOTAL "total-toe-angle" "toe of the axle" "a", AXES, "both wheels together, in is positive", ANGLE;
    SUM "total-toe-angle-sum" "toe of the axle" "l + r", AXES, "both wheels together, in is positive", ANGLE;
    CASTER "caster-by-sweep" "caster from the sweep" "(inner - outer) / (2 * sin(d))",
        SWEEP, "camber as inner and as outer wheel at the same steering angle d each way; positive is top rearward; good to 0.02 deg at 20 deg", ANGLE;
    SAI "sai-by-sweep" "steering-axis inclination from the sweep" "(inner - outer) / (2 * sin(d))",
        SWEEP, "spindle pitch as inner and as outer wheel, brake locked, at the same steering angle d each way; good to 0.2 deg at 20 deg", ANGLE;
}

/// Where toe is measured: what the line says (`over`), else the car's own.
fn diameter(calc: &mut Calc<'_>, toe: &Fig) -> Got {
    let entry = calc.nodes.get(toe.node).and_then(|node| node.entry);
    let line = entry.and_then(|entry| calc.book.entries.get(entry as usize));
    let over = line.and_then(|line| calc.book.extra(line)).and_then(|extra| extra.over);
    let car = calc.book.cars.get(calc.car.0 as usize);
    let (value, source) = match (over, car.and_then(|car| car.toe_over)) {
        (Some(over), _) => (over, "stated on the toe's line (`over`)"),
        (None, Some(over)) => (over, "the car's toe-over"),
        (None, None) => {
            return Err(Missing::one(
                "where toe is measured: `over 400 mm` on the line, or the car's toe-over",
            ));
        }
    };
    if value <= 0.0 {
        return Err(Missing::one("a diameter above nothing where toe is measured"));
    }
    Ok(calc.constant("where toe is measured", value, DimensionId::LENGTH, source))
}

/// A wheel's toe: its own, and whether it is only half of the axle's total.
fn wheel(calc: &mut Calc<'_>, place: Place) -> Got<(Fig, bool)> {
    corner(place)?;
    match calc.value("toe", place) {
        Ok(fig) => Ok((fig, false)),
        Err(missing) => {
            let axle = if place == Place::LF || place == Place::RF { Place::FRONT } else { Place::REAR };
            calc.value("toe", axle).map(|fig| (fig, true)).map_err(|_| missing)
        }
    }
}

fn toe_angle(calc: &mut Calc<'_>, place: Place) -> Got {
    let (toe, half) = wheel(calc, place)?;
    if half {
        return calc.derive(&HALF, place, &[("a", &toe)], |at| &at[0] / 2.0);
    }
    calc.derive(&ANGLE, place, &[("a", &toe)], |at| at[0].clone())
}

fn toe_length(calc: &mut Calc<'_>, place: Place) -> Got {
    let (toe, half) = wheel(calc, place)?;
    let over = diameter(calc, &toe)?;
    let angle = if half { calc.derive(&HALF, place, &[("a", &toe)], |at| &at[0] / 2.0)? } else { toe };
    calc.derive(&LENGTH, place, &[("d", &over), ("a", &angle)], |at| &at[0] * at[1].sin())
}

/// An axle's toe: its total, or both wheels'.
enum Axle {
    Total(Fig),
    Wheels(Fig, Fig),
}

fn axle(calc: &mut Calc<'_>, place: Place) -> Got<Axle> {
    let (true, [left, right]) = (place.is_axle(), place.corners()) else {
        return Err(Missing::one("an axle: front or rear"));
    };
    match calc.value("toe", place) {
        Ok(fig) => Ok(Axle::Total(fig)),
        Err(missing) => match (calc.value("toe", *left), calc.value("toe", *right)) {
            (Ok(left), Ok(right)) => Ok(Axle::Wheels(left, right)),
            (Err(_), Err(_)) => Err(missing),
            (Err(missing), _) | (_, Err(missing)) => Err(missing),
        },
    }
}

fn total_angle(calc: &mut Calc<'_>, place: Place) -> Got {
    match axle(calc, place)? {
        Axle::Total(toe) => calc.derive(&TOTAL, place, &[("a", &toe)], |at| at[0].clone()),
        Axle::Wheels(left, right) => {
            calc.derive(&SUM, place, &[("l", &left), ("r", &right)], |at| &at[0] + &at[1])
        }
    }
}

fn total_length(calc: &mut Calc<'_>, place: Place) -> Got {
    match axle(calc, place)? {
        Axle::Total(toe) => {
            let over = diameter(calc, &toe)?;
            let inputs = [("d", &over), ("a", &toe)];
            calc.derive(&TOTAL_LENGTH, place, &inputs, |at| 2.0 * &at[0] * (&at[1] / 2.0).sin())
        }
        Axle::Wheels(left, right) => {
            let over = diameter(calc, &left)?;
            let inputs = [("d", &over), ("l", &left), ("r", &right)];
            calc.derive(&SUM_LENGTH, place, &inputs, |at| &at[0] * at[1].sin() + &at[0] * at[2].sin())
        }
    }
}

fn caster(calc: &mut Calc<'_>, place: Place) -> Got {
    sweep(calc, "caster", place, &CASTER, "inner 1.5 outer -2.0")
}

fn sai(calc: &mut Calc<'_>, place: Place) -> Got {
    sweep(calc, "sai", place, &SAI, "pitch-in 3.9 pitch-out -4.4")
}

/// The last sweep of a corner before the moment.
fn sweep(calc: &mut Calc<'_>, name: &str, place: Place, formula: &'static Formula, like: &str) -> Got {
    corner(place)?;
    let id = calc.quantity(name)?;
    let at = calc.book.place_word(place);
    let here = |calc: &Calc<'_>, row: u32| {
        let entry = &calc.book.entries[row as usize];
        entry.broken || calc.book.items_of(entry).first().is_some_and(|item| item.place == place)
    };
    let rows = calc.rows(id);
    let Some((row, broken)) = rows.into_iter().find(|(row, _)| here(calc, *row)) else {
        return Err(Missing::one(format!(
            "a sweep of {at} under {name}, such as `sweep {at} 20 deg {like}`"
        )));
    };
    if broken {
        return Err(Missing::one(format!("the sweep of {at} under {name} put right (it has an error)")));
    }
    let items: Vec<Item> = calc.book.items_of(&calc.book.entries[row as usize]).to_vec();
    let [steer, inner, outer] = items.as_slice() else {
        return Err(Missing::one(format!("a sweep of {at} with its angle and two readings")));
    };
    if steer.si <= 0.0 {
        return Err(Missing::one(format!("a sweep of {at} by more than nothing: it tells no {name} at 0")));
    }
    let words = if name == "sai" {
        ["pitch as inner wheel", "pitch as outer wheel"]
    } else {
        ["camber as inner wheel", "camber as outer wheel"]
    };
    let steer = calc.item("steering angle each way", row, steer, DimensionId::ANGLE);
    calc.not_by_the_gauge(&steer);
    let inner = calc.item(words[0], row, inner, DimensionId::ANGLE);
    let outer = calc.item(words[1], row, outer, DimensionId::ANGLE);
    let inputs = [("inner", &inner), ("outer", &outer), ("d", &steer)];
    calc.derive(formula, place, &inputs, |at| (&at[0] - &at[1]) / (2.0 * at[2].sin()))
}
