//! Tyre pressures: hot from cold and back by the gas law, the gain of a session, the gauge at another altitude.
//!
//! A tyre's air is held to be dry and its volume constant. Gauge pressures become absolute with `air-pressure`, which must be
//! in the book: nothing is assumed for it. Must not know tyre sizes.

use crate::book::entry::By;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::all;
use crate::units::DimensionId;

/// The figures.
pub const FIGURES: &[Code] = &[
    ("tyre-hot-expected", hot),
    ("tyre-cold-for-hot", cold_for_hot),
    ("tyre-gain-expected", gain_expected),
    ("tyre-gain", gain),
    ("tyre-pressure-here", here),
];

const GAS_LAW: &str = "OpenStax College Physics (2012), section 13.3, ideal gas law at constant volume";
const DRY: &str =
    "absolute pressures and temperatures, dry air, constant volume, the same air pressure cold and hot";

const ABSOLUTE: Formula = Formula {
    id: "tyre-absolute",
    name: "absolute pressure in the tyre",
    expression: "gauge + air",
    source: GAS_LAW,
    convention: "gauge pressure and the air pressure where it is read",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const HOT_ABSOLUTE: Formula = Formula {
    id: "tyre-hot-absolute",
    name: "absolute pressure hot",
    expression: "cold * hot_gas / cold_gas",
    source: GAS_LAW,
    convention: "absolute pressures and temperatures, dry air, constant volume",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const COLD_ABSOLUTE: Formula = Formula {
    id: "tyre-cold-absolute",
    name: "absolute pressure cold",
    expression: "hot * cold_gas / hot_gas",
    source: GAS_LAW,
    convention: "absolute pressures and temperatures, dry air, constant volume",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const HOT: Formula = Formula {
    id: "tyre-hot-expected",
    name: "hot pressure expected",
    expression: "hot - air",
    source: GAS_LAW,
    convention: DRY,
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const COLD: Formula = Formula {
    id: "tyre-cold-for-hot",
    name: "cold pressure to set",
    expression: "cold - air",
    source: GAS_LAW,
    convention: DRY,
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const GAIN_EXPECTED: Formula = Formula {
    id: "tyre-gain-expected",
    name: "gain of pressure expected",
    expression: "hot - cold",
    source: GAS_LAW,
    convention: DRY,
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const GAIN: Formula = Formula {
    id: "tyre-gain",
    name: "gain of pressure",
    expression: "hot - cold",
    source: "common practice",
    convention: "hot less cold of one session, both by one gauge",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const GAIN_TWO: Formula = Formula {
    id: "tyre-gain",
    name: "gain of pressure by two gauges",
    expression: "hot - cold",
    source: "common practice",
    convention: "hot less cold of one session; the gauges differ, so their difference is in it",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const GAIN_UNNAMED: Formula = Formula {
    id: "tyre-gain",
    name: "gain of pressure, gauge not named",
    expression: "hot - cold",
    source: "common practice",
    convention: "hot less cold of one session; which gauge read them is not in the book",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};
const HERE: Formula = Formula {
    id: "tyre-pressure-here",
    name: "pressure on the gauge here",
    expression: "set + air_then - air_here",
    source: GAS_LAW,
    convention: "same temperature as when set; absolute pressure in the tyre does not change with altitude",
    dimension: DimensionId::PRESSURE,
    shown: "",
    show: [None, None],
};

/// A temperature of the gas: its quantity, else `with gas ...` on the line that gave the pressure.
fn gas(calc: &mut Calc<'_>, name: &str, of: &str, place: Place) -> Got {
    let own = calc.value(name, place);
    let fig = match own {
        Ok(fig) => fig,
        Err(missing) => {
            let entry = calc.typed(of, place).ok().and_then(|typed| typed.entry);
            let on_line = entry.map(|entry| calc.condition(entry, "gas", DimensionId::TEMPERATURE));
            on_line.and_then(Result::ok).ok_or(missing)?
        }
    };
    calc.positive(fig)
}

/// Gauge pressure to absolute; refused where nothing would be left in the tyre.
fn absolute(calc: &mut Calc<'_>, place: Place, gauge: &Fig, air: &Fig) -> Got {
    let fig = calc.derive(&ABSOLUTE, place, &[("gauge", gauge), ("air", air)], |x| &x[0] + &x[1])?;
    calc.positive(fig)
}

/// Pressure typed, its absolute, the air's, and the two temperatures.
fn chain(calc: &mut Calc<'_>, place: Place, gauge: Got, of: &str) -> Got<[Fig; 4]> {
    let air = calc.above_zero("air-pressure", Place::CAR);
    let cold = gas(calc, "tyre-gas-cold", "tyre-cold", place);
    let hot = gas(calc, "tyre-gas-hot", "tyre-hot", place);
    let [gauge, air, cold, hot] = all([gauge, air, cold, hot])?;
    let before = absolute(calc, place, &gauge, &air)?;
    let inputs = [
        if of == "hot" { ("hot", &before) } else { ("cold", &before) },
        ("hot_gas", &hot),
        ("cold_gas", &cold),
    ];
    let after = if of == "hot" {
        calc.derive(&COLD_ABSOLUTE, place, &inputs, |x| &x[0] * &x[2] / &x[1])?
    } else {
        calc.derive(&HOT_ABSOLUTE, place, &inputs, |x| &x[0] * &x[1] / &x[2])?
    };
    Ok([gauge, before, after, air])
}

fn hot(calc: &mut Calc<'_>, place: Place) -> Got {
    let gauge = calc.value("tyre-cold", place);
    let [_, _, after, air] = chain(calc, place, gauge, "cold")?;
    calc.derive(&HOT, place, &[("hot", &after), ("air", &air)], |x| &x[0] - &x[1])
}

fn cold_for_hot(calc: &mut Calc<'_>, place: Place) -> Got {
    let gauge = calc.asked("tyre-hot", place);
    let [_, _, after, air] = chain(calc, place, gauge, "hot")?;
    calc.derive(&COLD, place, &[("cold", &after), ("air", &air)], |x| &x[0] - &x[1])
}

fn gain_expected(calc: &mut Calc<'_>, place: Place) -> Got {
    let gauge = calc.value("tyre-cold", place);
    let [_, before, after, _] = chain(calc, place, gauge, "cold")?;
    calc.derive(&GAIN_EXPECTED, place, &[("hot", &after), ("cold", &before)], |x| &x[0] - &x[1])
}

fn gain(calc: &mut Calc<'_>, place: Place) -> Got {
    let session = calc.session_now()?;
    let (run, before) = (session.entry, session.rank);
    let (hot, read) = match calc.reading_during("tyre-hot", place, run) {
        Ok((hot, entry)) => (Ok(hot), entry),
        Err(missing) => (Err(missing), u32::MAX),
    };
    let now = calc.rank;
    calc.rank = before;
    let cold = calc.value("tyre-cold", place);
    let cold_line = calc.typed("tyre-cold", place).ok().and_then(|typed| typed.entry);
    calc.rank = now;
    let [hot, cold] = all([hot, cold])?;
    let gauge = |entry: u32| match calc.book.entries[entry as usize].by {
        By::Gauge(gauge) => Some(gauge),
        _ => None,
    };
    let formula = match (gauge(read), cold_line.and_then(gauge)) {
        (Some(a), Some(b)) if a == b => &GAIN,
        (Some(_), Some(_)) => &GAIN_TWO,
        _ => &GAIN_UNNAMED,
    };
    calc.derive(formula, place, &[("hot", &hot), ("cold", &cold)], |x| &x[0] - &x[1])
}

fn here(calc: &mut Calc<'_>, place: Place) -> Got {
    let set = calc.value("tyre-cold", place);
    let line = calc.typed("tyre-cold", place).ok().and_then(|typed| typed.entry);
    let now = calc.rank;
    calc.rank = line.map_or(0, |entry| calc.history.order.rank[entry as usize]);
    let then = calc.above_zero("air-pressure", Place::CAR).map_err(|mut missing| {
        missing.needs.iter_mut().for_each(|need| need.push_str(" before the tyres were set"));
        missing
    });
    let then_line = calc.typed("air-pressure", Place::CAR).ok().map(|typed| typed.entry);
    calc.rank = now;
    let here_line = calc.typed("air-pressure", Place::CAR).ok().map(|typed| typed.entry);
    let here = if here_line == then_line {
        Err(Missing::one("a value of air-pressure here, after the tyres were set"))
    } else {
        calc.above_zero("air-pressure", Place::CAR)
    };
    let [set, then, here] = all([set, then, here])?;
    absolute(calc, place, &set, &then)?;
    calc.derive(&HERE, place, &[("set", &set), ("air_then", &then), ("air_here", &here)], |x| {
        &x[0] + &x[1] - &x[2]
    })
}
