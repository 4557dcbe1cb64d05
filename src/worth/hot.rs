//! What running makes of it: hot pressures by the track's temperature and the cold pressure, oil temperature by the tape on its cooler.
//!
//! Runs of one event, driver and weather, on the same tyres and read with the same gauges, have a level of their own; what varied within
//! them is fitted by least squares, both causes side by side, or one where the other stood still. Which runs count is what a trial
//! leaves out. Must not know words.

use crate::book::entry::{By, EntryId, Item};
use crate::book::model::{CarId, EventId, PartId};
use crate::book::place::Place;
use crate::figures::uncertainty::rectangular;
use crate::history::disturb::of_a_wheel;
use crate::history::order::Rank;
use crate::history::sessions::{Session, SessionId};
use crate::history::{Facts, grain};
use crate::statistics::least_squares::{NoFit, least_squares};
use crate::trials::best::comparable;
use crate::trials::course::Course;
use crate::trials::effect::{FREEDOM, wide};
use crate::trials::measure::read_under;
use crate::units::UnitId;
use crate::vocabulary::QuantityId;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// What makes a reading of a run another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// The track's temperature, as the run's line says it.
    Track,
    /// The air's.
    Air,
    /// What a setting stood at as the run began.
    Setting(QuantityId, Place),
}

/// What one cause is worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HotSlope {
    /// Which.
    pub cause: Cause,
    /// SI of what was read for each SI of it.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// The interval.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// The least that was tried, SI.
    pub least: f64,
    /// The most.
    pub most: f64,
    /// The unit it was typed in last.
    pub unit: Option<UnitId>,
}

/// What running makes of one reading.
#[derive(Debug, Clone)]
pub struct Hot {
    /// What was read.
    pub quantity: QuantityId,
    /// Where.
    pub place: Place,
    /// The runs, those of a group together.
    pub runs: Vec<HotRow>,
    /// What may have made it another, in the order of a run's `causes`.
    pub causes: Vec<Cause>,
    /// In how many groups of runs that are alike but for the causes.
    pub groups: usize,
    /// Degrees of freedom.
    pub freedom: usize,
    /// The unit it was typed in last.
    pub unit: Option<UnitId>,
    /// By cause, or why there is nothing.
    pub slopes: Result<Vec<HotSlope>, NotHot>,
}

/// A run that it is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct HotRow {
    /// The line that read it.
    pub line: EntryId,
    /// Its group, from 1.
    pub group: usize,
    /// What was read, SI.
    pub value: f64,
    /// What each cause stood at, SI.
    pub causes: Vec<f64>,
}

/// Why nothing is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotHot {
    /// So many runs more are needed.
    Few(usize),
    /// The causes went together.
    Together,
}

/// What is read of a run, and what makes it so. What must have varied for anything to be said comes first.
const READ: [(&str, &[Place], [&str; 2]); 2] = [
    ("tyre-hot", &Place::CORNERS, ["tyre-cold", "track"]),
    ("oil-temp", &[Place::CAR], ["oil-cooler-tape", "air"]),
];

/// A run with what was read of it.
#[derive(Debug, Clone)]
struct HotRun {
    key: Alike,
    line: EntryId,
    value: f64,
    grain: f64,
    causes: Vec<f64>,
}

impl HotRun {
    fn row(&self, group: usize) -> HotRow {
        HotRow { line: self.line, group, value: self.value, causes: self.causes.clone() }
    }
}

/// What must be the same of runs that are compared.
#[derive(Debug, Clone, PartialEq)]
struct Alike {
    meeting: Result<EventId, Date>,
    course: Course,
    by: By,
    cold: Option<By>,
    tyres: Vec<PartId>,
}

/// What running makes of each reading of a car, from the lines before a rank.
#[must_use]
pub fn of_car(facts: Facts<'_>, car: CarId, until: Rank) -> Vec<Hot> {
    let all = comparable(facts, car);
    let circuits: Vec<_> = all.circuits().map(|circuit| all.at(facts, circuit, until)).collect();
    let mut runs: BTreeMap<SessionId, Course> = BTreeMap::new();
    for on in circuits.into_iter().flat_map(|at| at.courses) {
        runs.extend(on.runs.iter().map(|run| (*run, on.course.clone())));
    }
    let lines = facts.history.order.lines_of(facts.book, car);
    let mut found = Vec::new();
    for (name, places, causes) in READ {
        let Some(quantity) = facts.book.vocabulary.find(name) else { continue };
        let read = read_in(facts, quantity, lines.iter().map(|(_, line)| *line));
        for place in places {
            let causes: Vec<Cause> = causes.iter().filter_map(|name| cause(facts, name, *place)).collect();
            found.extend(of_place(facts, car, &runs, &read, (quantity, *place), &causes));
        }
    }
    found
}

fn cause(facts: Facts<'_>, name: &str, place: Place) -> Option<Cause> {
    match name {
        "track" => Some(Cause::Track),
        "air" => Some(Cause::Air),
        name => Some(Cause::Setting(facts.book.vocabulary.find(name)?, place)),
    }
}

/// The lines that read a quantity under a run; of several the last.
fn read_in(
    facts: Facts<'_>,
    quantity: QuantityId,
    lines: impl Iterator<Item = EntryId>,
) -> BTreeMap<EntryId, Vec<EntryId>> {
    let mut found: BTreeMap<EntryId, Vec<EntryId>> = BTreeMap::new();
    for line in lines {
        if let Some((run, ..)) = read_under(facts, line).filter(|(_, read, _)| *read == quantity) {
            found.entry(run).or_default().push(line);
        }
    }
    found
}

fn item_at(facts: Facts<'_>, line: EntryId, place: Place) -> Option<Item> {
    let entry = facts.book.entries.get(line)?;
    facts.book.items_of(entry).iter().find(|item| item.place == place && item.has_value()).copied()
}

/// `None` where fewer than two runs read it, or no cause ever varied among those that are alike.
fn of_place(
    facts: Facts<'_>,
    car: CarId,
    runs: &BTreeMap<SessionId, Course>,
    read: &BTreeMap<EntryId, Vec<EntryId>>,
    (quantity, place): (QuantityId, Place),
    causes: &[Cause],
) -> Option<Hot> {
    let mut units: Vec<Option<UnitId>> = vec![None; causes.len()];
    let mut unit = None;
    let mut rows: Vec<HotRun> = Vec::new();
    for (id, course) in runs {
        let run = facts.history.sessions.get(*id);
        let lines = read.get(&run.entry).map_or(&[][..], Vec::as_slice);
        let Some((line, item)) =
            lines.iter().rev().find_map(|line| Some((*line, item_at(facts, *line, place)?)))
        else {
            continue;
        };
        let Some(entry) = facts.book.entries.get(line) else { continue };
        let stood: Option<Vec<(f64, Option<UnitId>, Option<By>)>> =
            causes.iter().map(|cause| stood(facts, car, run, *cause)).collect();
        // A run that does not say what a cause stood at is on no line.
        let Some(stood) = stood else { continue };
        unit = item.unit.or(unit);
        for (known, (_, typed, _)) in units.iter_mut().zip(&stood) {
            *known = typed.or(*known);
        }
        rows.push(HotRun {
            key: Alike {
                meeting: run.event.ok_or(run.date),
                course: course.clone(),
                by: entry.by,
                cold: stood.iter().find_map(|(.., by)| *by),
                tyres: tyres(facts, car, place, run.rank),
            },
            line,
            value: item.si,
            grain: rectangular(grain::half(facts.book, facts.files, entry, &item)),
            causes: stood.iter().map(|(value, ..)| *value).collect(),
        });
    }
    let groups = grouped(rows);
    fitted(&groups, causes, &units).map(|(slopes, freedom)| Hot {
        quantity,
        place,
        runs: groups
            .iter()
            .zip(1..)
            .flat_map(|(group, number)| group.iter().map(move |run| run.row(number)))
            .collect(),
        causes: causes.to_vec(),
        groups: groups.len(),
        freedom,
        unit,
        slopes,
    })
}

/// What a cause stood at in a run, in what unit, and by what gauge where it is a pressure.
fn stood(
    facts: Facts<'_>,
    car: CarId,
    run: &Session,
    cause: Cause,
) -> Option<(f64, Option<UnitId>, Option<By>)> {
    let (quantity, place) = match cause {
        Cause::Track | Cause::Air => {
            let key = if cause == Cause::Track { "track" } else { "air" };
            let extra = facts.book.entries.get(run.entry).and_then(|entry| facts.book.extra(entry))?;
            let named = extra.conditions.iter();
            let mut named = named.filter(|one| facts.files.text(one.key).eq_ignore_ascii_case(key));
            let (value, unit) = named.find_map(|one| one.value)?;
            return Some((value, Some(unit), None));
        }
        Cause::Setting(quantity, place) => (quantity, place),
    };
    let slot = facts.on(car, run.rank).slot(quantity, place)?;
    let held = slot.held.is(facts.history).filter(|_| slot.held.unknown.is_none())?;
    let item = facts.history.item(facts.book, slot.track, &held).filter(|item| item.has_value())?;
    let by = held.line(facts.book).map(|line| line.by);
    Some((held.value, item.unit, by))
}

/// The tyres, or what else comes on with a wheel, at a place.
fn tyres(facts: Facts<'_>, car: CarId, place: Place, rank: Rank) -> Vec<PartId> {
    let parts = &facts.history.parts;
    let places = parts.places_of(car).iter().filter(|(kind, at)| {
        at.covers(place) && facts.book.kinds.get(*kind).is_some_and(|kind| of_a_wheel(facts.book, kind))
    });
    places.filter_map(|(kind, at)| parts.holder(car, *kind, *at, rank)).collect()
}

/// The runs that are alike, two at least.
fn grouped(rows: Vec<HotRun>) -> Vec<Vec<HotRun>> {
    let mut groups: Vec<Vec<HotRun>> = Vec::new();
    for row in rows {
        match groups.iter_mut().find(|group| group.first().is_some_and(|first| first.key == row.key)) {
            Some(group) => group.push(row),
            None => groups.push(vec![row]),
        }
    }
    groups.retain(|group| group.len() > 1);
    groups
}

/// The causes that varied, and what each is worth; `None` where none did.
fn fitted(
    groups: &[Vec<HotRun>],
    causes: &[Cause],
    units: &[Option<UnitId>],
) -> Option<(Result<Vec<HotSlope>, NotHot>, usize)> {
    let mean = |group: &[HotRun], of: &dyn Fn(&HotRun) -> f64| {
        group.iter().map(of).sum::<f64>() / group.len().max(1) as f64
    };
    let at = |run: &HotRun, cause: usize| run.causes.get(cause).copied().unwrap_or(0.0);
    let varied = |cause: &usize| {
        groups.iter().any(|group| {
            let first = group.first().map_or(0.0, |run| at(run, *cause));
            group.iter().any(|run| (at(run, *cause) - first).abs() > 1e-9 * first.abs().max(1.0))
        })
    };
    let kept: Vec<usize> = (0..causes.len()).filter(varied).collect();
    if kept.is_empty() {
        return None;
    }
    let (mut rows, mut values, mut grains) = (Vec::new(), Vec::new(), 0.0);
    for group in groups {
        let middles: Vec<f64> = kept.iter().map(|cause| mean(group, &|run| at(run, *cause))).collect();
        let level = mean(group, &|run| run.value);
        for run in group {
            rows.push(kept.iter().zip(&middles).map(|(cause, middle)| at(run, *cause) - middle).collect());
            values.push(run.value - level);
            grains += run.grain * run.grain;
        }
    }
    let needed = groups.len() + kept.len() + FREEDOM;
    let Some(freedom) = (values.len() + FREEDOM).checked_sub(needed).filter(|left| *left >= FREEDOM) else {
        return Some((Err(NotHot::Few(needed.saturating_sub(values.len()))), 0));
    };
    let fit = match least_squares(&rows, &values) {
        Ok(fit) => fit,
        Err(NoFit::Follows(_)) => return Some((Err(NotHot::Together), freedom)),
        Err(_) => return None,
    };
    // No surer than the gauge, however well the numbers happen to agree.
    let variance = (fit.left_over / freedom as f64).max(grains / values.len() as f64);
    let wide = wide(freedom)?;
    let slope = |(index, cause): (usize, &usize)| {
        let value = *fit.coefficients.get(index)?;
        let error = variance.sqrt() * fit.error(index, None)?;
        let all = || groups.iter().flatten().map(|run| at(run, *cause));
        Some(HotSlope {
            cause: *causes.get(*cause)?,
            value,
            error,
            low: value - wide * error,
            high: value + wide * error,
            least: all().fold(f64::INFINITY, f64::min),
            most: all().fold(f64::NEG_INFINITY, f64::max),
            unit: units.get(*cause).copied().flatten(),
        })
    };
    let slopes: Option<Vec<HotSlope>> = kept.iter().enumerate().map(slope).collect();
    Some((Ok(slopes?), freedom))
}
