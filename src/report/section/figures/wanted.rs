//! The pair-finder on the rate book's page: rates wanted of a bar, and what is owned that comes nearest to each end.
//!
//! Must not know how the nearest is found.

use super::chain::{ChainStep, Chains, digits};
use super::event::value;
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::calc::Calc;
use crate::figures::trace::{Step, trace};
use crate::history::moment;
use crate::report::chart::rates::RatesChart;
use crate::report::section::value::ShownValue;
use crate::report::teller::Teller;
use crate::units::number;
use crate::words;
use serde::Serialize;

/// What is wanted of one axle's bar.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Wanted {
    /// The car.
    pub car: String,
    /// Which axle.
    pub place: String,
    /// Softest and stiffest rate wanted.
    pub ends: Vec<ShownValue>,
    /// The line that wants them.
    pub src: String,
    /// Everything on the bench against the range; none where no bar is.
    pub drawn: Option<RatesChart>,
    /// Whether the holes of each part on the bench span the range, in words.
    pub spans: Vec<WantedSpan>,
    /// What follows.
    pub rows: Vec<WantedRow>,
    /// The two ends, N/m, for the drawing.
    #[serde(skip)]
    pub range: (f64, f64),
}

/// Whether a part spans the range.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WantedSpan {
    /// The part.
    pub part: String,
    /// "spans it: hole 5 gives 28 within its scatter, 54 lies between holes 2 (58) and 3 (50)".
    pub text: String,
    /// Whether it does.
    pub whole: bool,
}

/// One figure of the finder.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WantedRow {
    /// What it is.
    pub name: &'static str,
    /// The bar and its hole, where it is one.
    pub what: String,
    /// Its value.
    pub value: ShownValue,
    /// How far from what is wanted, per cent with its sign; empty for a ratio.
    pub off: String,
    /// What is missing, where it cannot be had.
    pub needs: String,
    /// Where it is from.
    pub chain: Vec<ChainStep>,
}

const ROWS: [(&str, &str); 4] = [
    ("wanted-stiffness-ratio", "stiffest over softest wanted"),
    ("wanted-arm-ratio", "arms that would do it, longest over shortest"),
    ("nearest-to-softest", "nearest owned to the softest"),
    ("nearest-to-stiffest", "nearest owned to the stiffest"),
];

/// Every axle whose bar has wanted rates, car by car.
pub(in crate::report) fn wanted(tell: &Teller<'_>) -> Vec<Wanted> {
    let mut chains = Chains::new("w".to_owned());
    let cars = tell.cx.book.cars.keys();
    let axles = cars.flat_map(|car| [Place::FRONT, Place::REAR].map(|place| (car, place)));
    axles.filter_map(|(car, place)| axle(tell, car, place, &mut chains)).collect()
}

fn axle(tell: &Teller<'_>, car: CarId, place: Place, chains: &mut Chains) -> Option<Wanted> {
    let cx = &tell.cx;
    let imperial = cx.book.cars.get(car).is_some_and(|car| car.imperial);
    let end = moment::end(cx.history);
    let mut calc = Calc::new(cx.facts, car, &end);
    let ratio = calc.named(ROWS[0].0, place).ok()?;
    let ratio = trace(&calc, &ratio, imperial);
    let end_of = |name: &str| ratio.inputs.iter().find(|input| input.input == name).map(|input| &input.step);
    let (softest, stiffest) = (end_of("softest")?, end_of("stiffest")?);
    let src = softest.typed.as_ref().map_or_else(String::new, |line| words::place(&line.path, line.line));
    let mut rows = Vec::with_capacity(ROWS.len());
    for (figure, name) in ROWS {
        rows.push(match calc.named(figure, place) {
            Ok(fig) => row(name, &trace(&calc, &fig, imperial), chains),
            Err(missing) => WantedRow {
                name,
                what: String::new(),
                value: ShownValue::missing(),
                off: String::new(),
                needs: missing.needs.join("; "),
                chain: Vec::new(),
            },
        });
    }
    Some(Wanted {
        car: cx.car(car).to_owned(),
        place: cx.place(place),
        ends: vec![value(softest), value(stiffest)],
        drawn: None,
        spans: Vec::new(),
        range: (softest.value_si, stiffest.value_si),
        src,
        rows,
    })
}

fn row(name: &'static str, step: &Step, chains: &mut Chains) -> WantedRow {
    let input = |name: &str| step.inputs.iter().find(|input| input.input == name).map(|input| &input.step);
    let owned = input("owned");
    let what =
        owned.map_or("", |owned| owned.name.trim_start_matches("rate of ")).replace(" in hole ", " at ");
    let off = owned.zip(input("wanted")).filter(|(_, wanted)| wanted.value_si > 0.0);
    let off = off.map_or_else(String::new, |(owned, wanted)| {
        let text = number::format((owned.value_si / wanted.value_si - 1.0) * 100.0, 1);
        if text.starts_with('-') { format!("{text} %") } else { format!("+{text} %") }
    });
    let (text, unit, _) = digits(step);
    WantedRow {
        name,
        what,
        value: ShownValue { text, unit, ..value(step) },
        off,
        needs: String::new(),
        chain: chains.chain([(String::new(), step)]),
    }
}
