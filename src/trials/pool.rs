//! How far one run of a car scatters when nothing is changed.
//!
//! Runs of one day between which nothing differs, about their own level and trend. Must not know trials.

use super::aside::Aside;
use super::course::{self, Course};
use super::days::days;
use super::effect::Pool;
use super::factor::Standings;
use crate::book::model::EventId;
use crate::history::Facts;
use crate::history::sessions::Session;
use crate::statistics::least_squares::least_squares;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The scatter of the best laps of some runs.
#[derive(Debug, Clone, PartialEq)]
pub struct Scatter {
    /// Where.
    pub course: Course,
    /// The event, or the day.
    pub meeting: Result<EventId, Date>,
    /// Their squares, s², and degrees of freedom.
    pub pool: Pool,
    /// Their mean, s.
    pub mean: f64,
}

/// Fewer degrees of freedom from other runs do not stand for a trial's own.
pub const LEAST: usize = 4;

/// The scatters at one event.
#[must_use]
pub fn of_meeting(
    facts: Facts<'_>,
    runs: &[&Session],
    standings: &[Standings],
    aside: &[Option<Aside>],
) -> Vec<Scatter> {
    let days = days(runs);
    let mut alike: BTreeMap<(usize, Vec<usize>), Vec<usize>> = BTreeMap::new();
    for run in (0..runs.len()).filter(|run| aside.get(*run).is_some_and(Option::is_none)) {
        let key: Option<Vec<usize>> =
            standings.iter().map(|one| one.of_run.get(run).copied().flatten()).collect();
        if let Some((key, (day, _))) = key.zip(days.get(run)) {
            alike.entry((*day, key)).or_default().push(run);
        }
    }
    alike.into_values().filter_map(|alike| scatter(facts, runs, &days, &alike)).collect()
}

fn scatter(facts: Facts<'_>, runs: &[&Session], days: &[(usize, u32)], alike: &[usize]) -> Option<Scatter> {
    let first = runs.get(*alike.first()?)?;
    let pairs: Vec<(f64, f64)> =
        alike.iter().filter_map(|run| Some((f64::from(days.get(*run)?.1), runs.get(*run)?.best?))).collect();
    let laps: Vec<f64> = pairs.iter().map(|(_, lap)| *lap).collect();
    let mean = laps.iter().sum::<f64>() / laps.len().max(1) as f64;
    let about: Vec<f64> = laps.iter().map(|lap| lap - mean).collect();
    let rows: Vec<Vec<f64>> = pairs.iter().map(|(order, _)| vec![1.0, *order]).collect();
    let fit = least_squares(&rows, &about).ok().filter(|fit| fit.freedom > 0)?;
    Some(Scatter {
        course: course::of_run(facts, first).ok()?,
        meeting: first.event.ok_or(first.date),
        pool: Pool { left_over: fit.left_over, freedom: fit.freedom },
        mean,
    })
}

/// The scatter of the runs on a course elsewhere in the book; `None` where too few.
#[must_use]
pub fn elsewhere(all: &[Scatter], course: &Course, meeting: Result<EventId, Date>) -> Option<Pool> {
    let like = all.iter().filter(|one| one.meeting != meeting && one.course == *course);
    let like = like.filter(|one| one.course.circuit.is_some());
    let pool = like.fold(Pool::default(), |sum, one| Pool {
        left_over: sum.left_over + one.pool.left_over,
        freedom: sum.freedom + one.pool.freedom,
    });
    (pool.freedom >= LEAST).then_some(pool)
}

/// How far a lap of that length scatters from run to run, s, by the car's runs at other events with nothing changed, each as a share of
/// its lap; and the degrees of freedom. For a plan, not for a verdict.
#[must_use]
pub fn usual(all: &[Scatter], lap: f64, meeting: Result<EventId, Date>) -> Option<(f64, usize)> {
    // What the trial itself counts is not counted again.
    let others = || all.iter().filter(|one| one.meeting != meeting);
    let freedom: usize = others().map(|one| one.pool.freedom).sum();
    let squares: f64 = others().map(|one| one.pool.left_over / (one.mean * one.mean)).sum();
    let scatter = (squares / freedom as f64).sqrt() * lap;
    (freedom > 0 && scatter.is_finite() && scatter > 0.0).then_some((scatter, freedom))
}
