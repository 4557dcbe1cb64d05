//! A sheet of figures as a season page shows it: compact rows by area, each opening to its chain.
//!
//! Must not know how a figure is worked out.

use super::chain::{ChainStep, Chains, digits};
use super::sheet::{FigureRow, Sheet};
use crate::book::figure::Sites;
use crate::book::place::Place;
use crate::figures::calc::Status;
use crate::figures::trace::Step;
use crate::report::chart::corners::{Corners, corners};
use crate::report::chart::{Words, id};
use crate::report::section::value::{ShownValue, ValueOrigin};
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// The figures of an event.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EventFigures {
    /// The event.
    pub name: String,
    /// "quern-2, during s8 (the last session)".
    pub words: String,
    /// How many figures.
    pub count: usize,
    /// Whether it is the last event, the one that is printed.
    pub last: bool,
    /// What stood on the pads, where any was read.
    pub weights: Option<Corners>,
    /// The figures by area.
    pub areas: Vec<FigArea>,
    /// What cannot be had.
    pub absent: Vec<Absent>,
    /// How many figures that is.
    pub absent_count: usize,
}

/// An area of figures.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FigArea {
    /// The area.
    pub name: String,
    /// Whether its rows have a column for each corner.
    pub corners: bool,
    /// Its rows.
    pub rows: Vec<FigRow>,
}

/// A figure.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FigRow {
    /// Its name in words.
    pub name: String,
    /// What it is.
    pub brief: String,
    /// "derived", "inferred, measured".
    pub status: String,
    /// Whether something changed since.
    pub stale: bool,
    /// Whether there is something to be told.
    pub caution: bool,
    /// The unit of all its values; empty where they differ, or have none.
    pub unit: String,
    /// The standard uncertainty of all its values: "0.02", "0.02 to 0.04"; empty where none has one, or their units differ.
    pub u: String,
    /// Its lines.
    pub src: String,
    /// Values.
    pub cells: Vec<FigCell>,
    /// Where they are from.
    pub chain: Vec<ChainStep>,
}

/// A cell: one corner, one axle, or the whole.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FigCell {
    /// Columns it takes, of four.
    pub span: u8,
    /// What is in it.
    pub items: Vec<FigItem>,
}

/// A value.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FigItem {
    /// Its place, where the column does not say it.
    pub label: String,
    /// The value.
    pub value: ShownValue,
    /// Its standard uncertainty.
    pub u: String,
}

/// Figures that wait for the same thing.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Absent {
    /// What is missing.
    pub needs: String,
    /// Which figures need it.
    pub names: String,
}

/// Makes the view.
pub(in crate::report) fn view(tell: &Teller<'_>, sheet: &Sheet, last: bool) -> EventFigures {
    let mut chains = Chains::new(id(&["f", &sheet.event]));
    let mut areas: Vec<FigArea> = Vec::new();
    for row in &sheet.rows {
        let corner = matches!(row.figure.sites, Sites::Corners | Sites::FrontCorners);
        let shown = one(tell, row, &mut chains);
        match areas.iter_mut().find(|area| *area.name == *row.figure.area) {
            Some(area) => {
                area.corners |= corner;
                area.rows.push(shown);
            }
            None => {
                areas.push(FigArea { name: row.figure.area.to_string(), corners: corner, rows: vec![shown] });
            }
        }
    }
    let names =
        |list: &[Box<str>]| list.iter().map(|name| name.replace('-', " ")).collect::<Vec<_>>().join(", ");
    EventFigures {
        name: sheet.event.clone(),
        words: sheet.words.clone(),
        count: sheet.rows.len(),
        last,
        weights: weights(tell, sheet),
        areas,
        absent: sheet
            .absent
            .iter()
            .map(|(needs, list)| Absent { needs: needs.clone(), names: names(list) })
            .collect(),
        absent_count: sheet.absent.iter().map(|(_, names)| names.len()).sum(),
    }
}

fn one(tell: &Teller<'_>, row: &FigureRow, chains: &mut Chains) -> FigRow {
    let steps = || row.sites.iter().filter_map(|(_, step)| step.as_ref());
    let word = |place: Place| tell.cx.place(place);
    let mut statuses: Vec<&str> = Vec::new();
    for step in steps() {
        let word = step.status.word();
        if !statuses.contains(&word) {
            statuses.push(word);
        }
    }
    let many = row.sites.len() > 1;
    let sites = row.sites.iter().filter_map(|(place, step)| Some((*place, step.as_ref()?)));
    let cells = cells(tell, row);
    let labelled = sites.map(|(place, step)| (if many { word(place) } else { String::new() }, step));
    FigRow {
        name: row.figure.name.replace('-', " "),
        brief: row.figure.brief.to_string(),
        status: statuses.join(", "),
        stale: steps().any(|step| step.stale.is_some()),
        caution: steps().any(careful),
        src: sources::lines(tell.cx.files, row.spans.iter().copied()),
        unit: unit(&cells).unwrap_or_default(),
        u: unit(&cells).map_or_else(String::new, |_| spread(&cells)),
        cells,
        chain: chains.chain(labelled),
    }
}

/// The unit that all values of a row are in; none where two differ.
fn unit(cells: &[FigCell]) -> Option<String> {
    let mut units = cells.iter().flat_map(|cell| &cell.items).filter(|item| item.value.text != words::DASH);
    let first = units.next()?.value.unit.clone();
    units.all(|item| item.value.unit == first).then_some(first)
}

/// The uncertainties of a row's values, which are in one unit: the one, or the least and the most.
fn spread(cells: &[FigCell]) -> String {
    let mut all: Vec<(f64, &str)> = cells
        .iter()
        .flat_map(|cell| &cell.items)
        .filter_map(|item| Some((item.u.parse().ok()?, item.u.as_str())))
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    match (all.first(), all.last()) {
        (Some(least), Some(most)) if least.0 < most.0 => format!("{} to {}", least.1, most.1),
        (Some((_, one)), _) => (*one).to_owned(),
        _ => String::new(),
    }
}

fn careful(step: &Step) -> bool {
    !step.caution.is_empty() || step.inputs.iter().any(|input| careful(&input.step))
}

fn cells(tell: &Teller<'_>, row: &FigureRow) -> Vec<FigCell> {
    let item = |label: String, step: Option<&Step>| FigItem {
        label,
        value: step.map_or_else(ShownValue::missing, value),
        u: step.map_or_else(String::new, |step| digits(step).2),
    };
    let span = match row.figure.sites {
        Sites::Corners | Sites::FrontCorners => 1,
        Sites::Axles => 2,
        Sites::Car | Sites::Part | Sites::Cylinders | Sites::Gears => 4,
    };
    let label = |place: Place| match row.figure.sites {
        Sites::Car | Sites::Corners | Sites::Part => String::new(),
        Sites::FrontCorners => String::new(),
        _ => tell.cx.place(place),
    };
    let items = row.sites.iter().map(|(place, step)| item(label(*place), step.as_ref()));
    if span == 4 {
        return vec![FigCell { span, items: items.collect() }];
    }
    items.map(|one| FigCell { span, items: vec![one] }).collect()
}

/// A step as a value: what was read stays bold, what was worked out slanted.
pub(in crate::report) fn value(step: &Step) -> ShownValue {
    let (text, unit, _) = digits(step);
    let how = match step.status {
        Status::Measured if step.formula.is_none() => ValueOrigin::Read,
        Status::Stated | Status::Tag => ValueOrigin::Set,
        _ => ValueOrigin::Derived,
    };
    ShownValue { text, unit, how }
}

/// The drawing of the corner weights, where a pad was read.
fn weights(tell: &Teller<'_>, sheet: &Sheet) -> Option<Corners> {
    let full = |step: &Step| value(step).full();
    let share = |name: &str| sheet.find(name, Place::CAR).map(full);
    // The shares and the pads beside them are of one weighing; a pad that was not read is said to be worked out.
    let shares_of = sheet.find("cross-weight", Place::CAR);
    let inputs = shares_of.map(|step| step.inputs.as_slice()).unwrap_or_default();
    let mut inferred = None;
    let mut stale: Option<String> = None;
    let mut read = sheet.pads.iter();
    let pads: [Option<String>; 4] = Place::CORNERS.map(|place| {
        let read = read.next().and_then(Option::as_ref);
        let word = tell.cx.place(place);
        let of_shares = inputs.iter().map(|input| &input.step).find(|step| step.place == word);
        let pad = of_shares.or_else(|| sheet.find("corner-weight", place)).or(read)?;
        let line = pad.stale.as_ref().map(|line| crate::words::place(&line.path, line.line));
        stale = stale.take().or(line);
        if pad.status != Status::Inferred {
            return Some(full(pad));
        }
        inferred = Some(word);
        Some(format!("({})", full(pad)))
    });
    if pads.iter().all(Option::is_none) {
        return None;
    }
    let shares = [share("cross-weight"), share("front-weight"), share("left-weight")];
    let whole = pads.iter().all(Option::is_some) && shares[0].is_some();
    let desc = if whole {
        "The car from above, its front at the top, with the weight on each pad and three shares."
    } else {
        "The car from above, its front at the top. The four pads were not all read together, so there are no shares."
    };
    let note = inferred.map_or_else(String::new, |place| format!(" ({place} inferred from the whole car)"));
    let words = Words {
        id: id(&["weights", &sheet.event]),
        title: format!("What stood on each wheel, {}{note}", sheet.event),
        desc: desc.to_owned(),
    };
    let mut drawing = corners(words, &pads, shares);
    if let Some(line) = stale {
        drawing.stale = format!("stale, {}", crate::words::stale::since(&line));
    }
    Some(drawing)
}
