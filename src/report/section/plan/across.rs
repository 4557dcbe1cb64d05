//! The same car as a table of four columns, for a phone: one row a quantity, both axles in it.
//!
//! Must not know how a value is found.

use super::PlanDrawing;
use super::axle::PlanPair;
use super::body::BodyGroup;
use super::spot::Spot;
use crate::report::section::value::ValueOrigin;
use serde::Serialize;

/// The car as a table.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Across {
    /// The file that most of the lines are in.
    pub file: String,
    /// Pressures: what is looked at first.
    pub tyres: Vec<AcrossRow>,
    /// What is set between sessions and lies between the corners: bars, differential, pads, brakes, wings.
    pub near: Vec<BodyGroup>,
    /// All other rows with four corners.
    pub rows: Vec<AcrossRow>,
    /// Everything else.
    pub rest: Vec<BodyGroup>,
    /// What to know of some values, by the number that stands at them, from 1.
    pub notes: Vec<String>,
}

/// A quantity at four corners.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AcrossRow {
    /// Its name.
    pub name: String,
    /// The unit, where all have the same.
    pub unit: String,
    /// LF, RF, LR, RR.
    pub spots: Vec<Spot>,
    /// Numbers of the notes that are about all of them; each has its own besides.
    pub notes: Vec<usize>,
    /// Where they come from, each once.
    pub came: Vec<Spot>,
}

/// Lays a plan out as a table.
pub(in crate::report) fn across(plan: PlanDrawing) -> Across {
    let mut rear = plan.rear.rows;
    let mut rows = Vec::new();
    for front in plan.front.rows {
        let back = rear.iter().position(|row| row.name == front.name);
        let back = back.map(|at| rear.remove(at));
        rows.push(row(front.name.clone(), Some(front), back));
    }
    // What only the rear has keeps its order, after the rest.
    rows.extend(rear.into_iter().map(|back| row(back.name.clone(), None, Some(back))));
    let axles = [plan.front.between, plan.rear.between].into_iter().zip([plan.front.name, plan.rear.name]);
    let axles = axles.map(|(items, name)| BodyGroup { name, with: String::new(), items });
    let (own, body): (Vec<BodyGroup>, Vec<BodyGroup>) =
        plan.body.into_iter().partition(|group| NEAR.contains(&group.name.as_str()));
    let near = axles.chain(own).filter(|group| !group.items.is_empty()).collect();
    let rest = body.into_iter().chain(plan.away).filter(|group| !group.items.is_empty()).collect();
    let (tyres, rows) = rows.into_iter().partition(|row| row.name.starts_with("tyre "));
    Across { file: plan.file, tyres, near, rows, rest, notes: plan.notes }
}

/// Groups of the body that are set between sessions.
const NEAR: [&str; 2] = ["brakes", "aero"];

/// Takes the notes that all values have from each of them.
fn shared(spots: &mut [Spot]) -> Vec<usize> {
    let mut known = spots.iter_mut().filter(|spot| spot.value.how != ValueOrigin::Missing);
    let Some(mut all) = known.next().map(|spot| spot.notes.clone()) else { return Vec::new() };
    for spot in known {
        all.retain(|note| spot.notes.contains(note));
    }
    for spot in spots {
        spot.notes.retain(|note| !all.contains(note));
    }
    all
}

fn row(name: String, front: Option<PlanPair>, rear: Option<PlanPair>) -> AcrossRow {
    let units = [front.as_ref(), rear.as_ref()];
    let mut units: Vec<String> =
        units.into_iter().flatten().map(|pair| pair.unit.clone()).filter(|unit| !unit.is_empty()).collect();
    units.dedup();
    let unit = match units.as_slice() {
        [one] => one.clone(),
        _ => String::new(),
    };
    let pair = |pair: Option<PlanPair>| {
        pair.map_or_else(|| [Spot::missing(), Spot::missing()], |pair| [pair.left, pair.right])
    };
    let mut spots: Vec<Spot> = pair(front).into_iter().chain(pair(rear)).collect();
    for spot in &mut spots {
        spot.own_unit = spot.value.unit != unit && !spot.value.unit.is_empty();
    }
    let mut came: Vec<Spot> = Vec::new();
    for spot in spots.iter().filter(|spot| !spot.src.is_empty()) {
        if !came.iter().any(|known| (&known.src, &known.more) == (&spot.src, &spot.more)) {
            came.push(spot.clone());
        }
    }
    let notes = shared(&mut spots);
    AcrossRow { name, unit, spots, notes, came }
}
