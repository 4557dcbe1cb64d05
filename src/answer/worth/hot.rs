//! What running makes of a reading, in words: a hot pressure by the track and the cold pressure, oil by the tape on its cooler.
//!
//! Must not know how it is worked out.

use super::sentence::{self, decimals};
use super::shown::{Shown, at};
use crate::Compiled;
use crate::answer::{LedgerLine, entry_line};
use crate::book::entry::EntryId;
use crate::book::model::CarId;
use crate::units::{DimensionId, UnitId, number, table};
use crate::words;
use crate::worth::hot::{Cause, Hot, HotRow, HotSlope, NotHot};
use serde::Serialize;

/// What running makes of one reading.
#[derive(Debug, Clone, Serialize)]
pub struct HotWorth {
    /// What was read: `tyre-hot LF`.
    pub moved: String,
    /// Its unit; null for a plain number.
    pub unit: Option<String>,
    /// What makes it another, one after the other.
    pub by: Vec<HotCause>,
    /// How many runs.
    pub runs: usize,
    /// In how many groups that are alike but for the causes.
    pub groups: usize,
    /// Degrees of freedom.
    pub freedom: usize,
    /// In words.
    pub sentence: String,
    /// The lines it was read on.
    pub lines: Vec<LedgerLine>,
    /// The same, for who shows them otherwise.
    #[serde(skip)]
    pub readings: Vec<EntryId>,
    /// What each run read: what a trace of it shows.
    #[serde(skip)]
    pub made_of: Vec<HotReading>,
}

/// What a run read, and what made it so.
#[derive(Debug, Clone, Serialize)]
pub struct HotReading {
    /// Its group of runs that are alike but for the causes, from 1.
    pub group: usize,
    /// What was read, in the unit of the worth.
    pub value: f64,
    /// What each cause stood at, in its unit and the order of `by`.
    pub causes: Vec<f64>,
    /// The line.
    pub line: LedgerLine,
}

/// What one cause is worth.
#[derive(Debug, Clone, Serialize)]
pub struct HotCause {
    /// `track temperature`, `tyre-cold LF`.
    pub cause: String,
    /// By how much for one of its units.
    pub value: f64,
    /// The standard error.
    pub error: f64,
    /// The lower end of the interval that holds it with 0.95.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// Its unit; null for a plain number.
    pub unit: Option<String>,
    /// The least that was tried: nothing is said under it.
    pub least: f64,
    /// The most: nothing is said over it.
    pub most: f64,
}

/// What is said; and of what nothing can be, with why.
pub(super) fn told(compiled: &Compiled, car: CarId, all: &[Hot]) -> (Vec<HotWorth>, Vec<(String, String)>) {
    let (mut known, mut few) = (Vec::new(), Vec::new());
    for one in all {
        match &one.slopes {
            Ok(slopes) => known.push(worth(compiled, car, one, slopes)),
            Err(why) => few.push((at(compiled, one.quantity, one.place), refused(compiled, one, *why))),
        }
    }
    (known, few)
}

fn refused(compiled: &Compiled, one: &Hot, why: NotHot) -> String {
    let moved = at(compiled, one.quantity, one.place);
    let runs = words::count(one.runs.len() as u64, "run", "runs");
    match why {
        NotHot::Few(more) => format!(
            "{moved} by running: {runs} that can be compared, and {more} more {} needed",
            if more == 1 { "is" } else { "are" }
        ),
        NotHot::Together => {
            format!(
                "{moved} by running: what makes it another went together in all {runs}, so that nothing tells it apart"
            )
        }
    }
}

/// The unit that a quantity is told in: as typed last.
fn unit_of(compiled: &Compiled, car: CarId, cause: Option<Cause>, one: &Hot, typed: Option<UnitId>) -> Shown {
    let quantity = match cause {
        None => one.quantity,
        Some(Cause::Setting(quantity, _)) => quantity,
        Some(Cause::Track | Cause::Air) => {
            let imperial = compiled.book.cars.get(car).is_some_and(|car| car.imperial);
            let usual = table().find_one(if imperial { "F" } else { "C" }, DimensionId::TEMPERATURE);
            return Shown::of(typed.or(usual).unwrap_or_else(|| table().plain()));
        }
    };
    let quantity = compiled.book.vocabulary.get(quantity);
    let typed = typed.or(quantity.show[0]).unwrap_or_else(|| table().plain());
    Shown::of(words::normal::unit(quantity, typed))
}

fn worth(compiled: &Compiled, car: CarId, one: &Hot, slopes: &[HotSlope]) -> HotWorth {
    let unit = unit_of(compiled, car, None, one, one.unit);
    let by: Vec<HotCause> = slopes
        .iter()
        .map(|slope| {
            let of = unit_of(compiled, car, Some(slope.cause), one, slope.unit);
            let scale = of.si / unit.si;
            HotCause {
                cause: match slope.cause {
                    Cause::Track => "track temperature".to_owned(),
                    Cause::Air => "air temperature".to_owned(),
                    Cause::Setting(quantity, place) => at(compiled, quantity, place),
                },
                value: slope.value * scale,
                error: slope.error * scale,
                low: slope.low * scale,
                high: slope.high * scale,
                unit: of.symbol(),
                least: of.unit.get().from_si(slope.least),
                most: of.unit.get().from_si(slope.most),
            }
        })
        .collect();
    let mut view = HotWorth {
        moved: at(compiled, one.quantity, one.place),
        unit: unit.symbol(),
        by,
        runs: one.runs.len(),
        groups: one.groups,
        freedom: one.freedom,
        sentence: String::new(),
        lines: one.runs.iter().filter_map(|run| entry_line(compiled, run.line)).collect(),
        readings: one.runs.iter().map(|run| run.line).collect(),
        made_of: Vec::new(),
    };
    view.made_of =
        one.runs.iter().filter_map(|run| reading(compiled, car, (one, slopes), run, &unit)).collect();
    view.sentence = said(&view);
    view
}

fn reading(
    compiled: &Compiled,
    car: CarId,
    (one, slopes): (&Hot, &[HotSlope]),
    run: &HotRow,
    unit: &Shown,
) -> Option<HotReading> {
    let stood = slopes.iter().filter_map(|slope| {
        let index = one.causes.iter().position(|cause| *cause == slope.cause)?;
        let of = unit_of(compiled, car, Some(slope.cause), one, slope.unit);
        run.causes.get(index).map(|si| of.unit.get().from_si(*si))
    });
    Some(HotReading {
        group: run.group,
        value: unit.unit.get().from_si(run.value),
        causes: stood.collect(),
        line: entry_line(compiled, run.line)?,
    })
}

/// "Tyre-hot LF: 1 C more of track temperature moves it by +0.006 bar (+0.002 to +0.010), tried from 17 to 30 C; by 8 runs in 2 groups".
fn said(one: &HotWorth) -> String {
    let moved = sentence::unit(one.unit.as_deref());
    let causes = one.by.iter().map(|by| {
        let (places, of) = (decimals(by.low, by.high), sentence::unit(by.unit.as_deref()));
        let range = format!("{} to {}", number::signed(by.low, places), number::signed(by.high, places));
        let tried = format!("tried from {} to {}{of}", words::amount(by.least, 2), words::amount(by.most, 2));
        if by.low <= 0.0 && by.high >= 0.0 {
            return format!(
                "1{of} more of {} cannot be told from nothing ({range}{moved}), {tried}",
                by.cause
            );
        }
        format!(
            "1{of} more of {} moves it by {}{moved} ({range}), {tried}",
            by.cause,
            number::signed(by.value, places)
        )
    });
    let causes: Vec<String> = causes.collect();
    format!(
        "{}: {}; by {} in {}, and nothing is said beyond what was tried",
        words::capital(&one.moved),
        causes.join("; "),
        words::count(one.runs as u64, "run", "runs"),
        words::count(one.groups as u64, "group that is alike", "groups that are alike")
    )
}
