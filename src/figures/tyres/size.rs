//! What a tyre's size code means: section height, diameter, circumference free and rolling, turns in a kilometre or mile.
//!
//! Must not know pressures.

use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::formula::Formula;
use crate::figures::code::Code;
use crate::figures::typed::Typed;
use crate::units::{DimensionId, UnitId, table};

/// The figures.
pub const FIGURES: &[Code] = &[
    ("tyre-section-height", height),
    ("tyre-diameter", diameter),
    ("tyre-diameter-table", diameter_table),
    ("tyre-circumference", circumference),
    ("tyre-circumference-rolling", rolling),
    ("tyre-revs-per-km", revs_km),
    ("tyre-revs-per-mile", revs_mile),
    ("tyre-revs-per-km-free", revs_km_free),
    ("tyre-revs-per-mile-free", revs_mile_free),
];

const SIZES: &str = "ISO 4000-1; UN Regulation 30, paragraph 6.1.2";
const ROLLING: &str = "ETRTO Standards Manual: rolling circumference is 3.05 diameters";

const HEIGHT: Formula = Formula {
    id: "tyre-section-height",
    name: "section height",
    expression: "width * aspect",
    source: SIZES,
    convention: "section width by the aspect ratio, not rounded",
    dimension: DimensionId::LENGTH,
    shown: "mm",
    show: [None, None],
};
const DIAMETER: Formula = Formula {
    id: "tyre-diameter",
    name: "free diameter",
    expression: "rim + 2 * height",
    source: SIZES,
    convention: "rim at 25.4 mm to the inch, nothing rounded",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const DIAMETER_TABLE: Formula = Formula {
    id: "tyre-diameter-table",
    name: "free diameter by the tables",
    expression: "rim + 2 * floor(height * 1000 + 0.5) / 1000",
    source: SIZES,
    convention: "rim in whole mm by its code, section height to the nearest mm",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const CIRCUMFERENCE: Formula = Formula {
    id: "tyre-circumference",
    name: "free circumference",
    expression: "3.141592653589793 * diameter",
    source: "closed form",
    convention: "no load on the tyre",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const CIRCUMFERENCE_ROLLING: Formula = Formula {
    id: "tyre-circumference-rolling",
    name: "rolling circumference",
    expression: "3.05 * diameter",
    source: ROLLING,
    convention: "radial tyre under load, diameter of the tables; 3.05 in place of pi stands for its deflection",
    dimension: DimensionId::LENGTH,
    shown: "",
    show: [None, None],
};
const REVS_KM: Formula = Formula {
    id: "tyre-revs-per-km",
    name: "turns in a kilometre",
    expression: "1000 / circumference",
    source: "closed form",
    convention: "by the rolling circumference: the tyre under load",
    dimension: DimensionId::TURN,
    shown: "",
    show: [None, None],
};
const REVS_MILE: Formula = Formula {
    id: "tyre-revs-per-mile",
    name: "turns in a mile",
    expression: "1609.344 / circumference",
    source: "closed form",
    convention: "by the rolling circumference: the tyre under load",
    dimension: DimensionId::TURN,
    shown: "",
    show: [None, None],
};
const REVS_KM_FREE: Formula = Formula {
    id: "tyre-revs-per-km-free",
    name: "turns in a kilometre, free",
    expression: "1000 / circumference",
    source: "closed form",
    convention: "by the free circumference: no deflection in it",
    dimension: DimensionId::TURN,
    shown: "",
    show: [None, None],
};
const REVS_MILE_FREE: Formula = Formula {
    id: "tyre-revs-per-mile-free",
    name: "turns in a mile, free",
    expression: "1609.344 / circumference",
    source: "closed form",
    convention: "by the free circumference: no deflection in it",
    dimension: DimensionId::TURN,
    shown: "",
    show: [None, None],
};

/// A rim code in whole millimetres (ISO 4000-1). The name is the default's own.
const RIMS: [(&str, &str, f64); 8] = [
    ("13", "rim 13 by the tables", 0.330),
    ("14", "rim 14 by the tables", 0.356),
    ("15", "rim 15 by the tables", 0.381),
    ("16", "rim 16 by the tables", 0.406),
    ("17", "rim 17 by the tables", 0.432),
    ("18", "rim 18 by the tables", 0.457),
    ("19", "rim 19 by the tables", 0.483),
    ("20", "rim 20 by the tables", 0.508),
];

/// A size code's numbers.
struct Size {
    width: Fig,
    aspect: Fig,
    rim: Fig,
    rim_code: String,
    radial: bool,
}

/// Takes `205/55R16` apart; letters before the width (`P205`) and after the rim (`91V`) are let be.
fn size(calc: &mut Calc<'_>, place: Place) -> Got<Size> {
    let typed = calc.typed("tyre-size", place)?;
    let text = calc.files.text(typed.item.span(typed.file)).to_owned();
    let bad = || {
        Missing::one(format!("{} as width/aspect, R, rim, such as 205/55R16 (it says {text})", typed.name))
    };
    let take = |from: usize, wanted: fn(char) -> bool| {
        let rest = text.get(from..).unwrap_or_default();
        rest.find(|c: char| !wanted(c)).map_or(text.len(), |at| from + at)
    };
    let digit: fn(char) -> bool = |c| c.is_ascii_digit() || c == '.';
    let start = take(0, |c| !c.is_ascii_digit());
    let width_end = take(start, digit);
    if text.get(width_end..=width_end) != Some("/") {
        return Err(bad());
    }
    let aspect_end = take(width_end + 1, digit);
    let letters_end = take(aspect_end, |c| !c.is_ascii_digit());
    let rim_end = take(letters_end, digit);
    let unit = |symbol: &str, kind| (kind, table().find_one(symbol, kind).unwrap_or_else(|| table().plain()));
    let mm = unit("mm", DimensionId::LENGTH);
    let percent = unit("%", DimensionId::RATIO);
    let inch = unit("in", DimensionId::LENGTH);
    let width = number(calc, &typed, &text, "section width", mm, (start, width_end)).ok_or_else(bad)?;
    let aspect =
        number(calc, &typed, &text, "aspect ratio", percent, (width_end + 1, aspect_end)).ok_or_else(bad)?;
    let rim = number(calc, &typed, &text, "rim diameter", inch, (letters_end, rim_end)).ok_or_else(bad)?;
    let letters = text.get(aspect_end..letters_end).unwrap_or_default();
    let radial = letters.contains(['R', 'r']);
    let rim_code = text.get(letters_end..rim_end).unwrap_or_default().to_owned();
    Ok(Size { width, aspect, rim, rim_code, radial })
}

fn number(
    calc: &mut Calc<'_>,
    typed: &Typed,
    text: &str,
    what: &str,
    unit: (DimensionId, UnitId),
    (from, to): (usize, usize),
) -> Option<Fig> {
    let value: f64 = text.get(from..to)?.parse().ok().filter(|value| *value > 0.0)?;
    let name = format!("{what} by {}", typed.name);
    Some(calc.piece(typed.piece(name, unit.1.get().to_si(value), unit, (from, to - from))))
}

fn height(calc: &mut Calc<'_>, place: Place) -> Got {
    let size = size(calc, place)?;
    height_of(calc, place, &size)
}

fn height_of(calc: &mut Calc<'_>, place: Place, size: &Size) -> Got {
    calc.derive(&HEIGHT, place, &[("width", &size.width), ("aspect", &size.aspect)], |x| &x[0] * &x[1])
}

fn diameter_of(calc: &mut Calc<'_>, place: Place, size: &Size) -> Got {
    let height = height_of(calc, place, size)?;
    calc.derive(&DIAMETER, place, &[("rim", &size.rim), ("height", &height)], |x| &x[0] + 2.0 * &x[1])
}

fn diameter(calc: &mut Calc<'_>, place: Place) -> Got {
    let size = size(calc, place)?;
    diameter_of(calc, place, &size)
}

fn diameter_table(calc: &mut Calc<'_>, place: Place) -> Got {
    let size = size(calc, place)?;
    let height = height_of(calc, place, &size)?;
    let Some((_, name, metres)) = RIMS.iter().find(|(code, ..)| *code == size.rim_code) else {
        return Err(Missing::one("a rim from 13 to 20 in for the tables"));
    };
    let rim = calc.default(name, *metres, DimensionId::LENGTH, "ISO 4000-1, rim diameters");
    calc.derive(&DIAMETER_TABLE, place, &[("rim", &rim), ("height", &height)], |x| {
        // Rounded: the slope by the height is that of the unrounded sum.
        let whole = (x[1].value * 1000.0 + 0.5).floor() / 1000.0 - x[1].value;
        &x[0] + 2.0 * (&x[1] + whole)
    })
}

fn circumference(calc: &mut Calc<'_>, place: Place) -> Got {
    let diameter = diameter(calc, place)?;
    calc.derive(&CIRCUMFERENCE, place, &[("diameter", &diameter)], |x| std::f64::consts::PI * &x[0])
}

fn rolling(calc: &mut Calc<'_>, place: Place) -> Got {
    let size = size(calc, place)?;
    if !size.radial {
        return Err(Missing::one(
            "rolling-circumference measured (3.05 diameters holds for a radial tyre only)",
        ));
    }
    let in_tables = RIMS.iter().any(|(code, ..)| *code == size.rim_code);
    let diameter = if in_tables { diameter_table(calc, place)? } else { diameter_of(calc, place, &size)? };
    calc.derive(&CIRCUMFERENCE_ROLLING, place, &[("diameter", &diameter)], |x| 3.05 * &x[0])
}

/// The circumference a corner rolls on: measured, else by a measured free diameter, else by the size code.
pub(in crate::figures) fn rolling_circumference(calc: &mut Calc<'_>, place: Place) -> Got {
    if let Ok(measured) = calc.value("rolling-circumference", place) {
        return calc.positive(measured);
    }
    if let Ok(diameter) = calc.value("tyre-diameter", place) {
        let diameter = calc.positive(diameter)?;
        return calc
            .derive(&CIRCUMFERENCE, place, &[("diameter", &diameter)], |x| std::f64::consts::PI * &x[0]);
    }
    rolling(calc, place).map_err(|missing| {
        let id = calc.quantity("tyre-size").ok();
        let name = id.map_or_else(|| "tyre-size".to_owned(), |id| calc.slot_name(id, place));
        let bare = calc.typed("tyre-size", place).is_err();
        if bare {
            Missing::one(format!("{name} (or rolling-circumference, or tyre-diameter)"))
        } else {
            missing
        }
    })
}

fn revs(calc: &mut Calc<'_>, place: Place, length: f64, formula: &'static Formula, around: Got) -> Got {
    let around = around?;
    calc.derive(formula, place, &[("circumference", &around)], |x| length / &x[0])
}

fn revs_km(calc: &mut Calc<'_>, place: Place) -> Got {
    let around = rolling_circumference(calc, place);
    revs(calc, place, 1000.0, &REVS_KM, around)
}

fn revs_mile(calc: &mut Calc<'_>, place: Place) -> Got {
    let around = rolling_circumference(calc, place);
    revs(calc, place, 1609.344, &REVS_MILE, around)
}

fn revs_km_free(calc: &mut Calc<'_>, place: Place) -> Got {
    let around = circumference(calc, place);
    revs(calc, place, 1000.0, &REVS_KM_FREE, around)
}

fn revs_mile_free(calc: &mut Calc<'_>, place: Place) -> Got {
    let around = circumference(calc, place);
    revs(calc, place, 1609.344, &REVS_MILE_FREE, around)
}
