//! A trial with what its runs say.
//!
//! Must not know words.

use super::aside::Aside;
use super::course;
use super::days::days;
use super::effect::{self, Effects, FREEDOM};
use super::factor::{Factor, Level, Standings};
use super::found::{self, Group};
use super::fuel;
use super::measure::{self, Measure, Values};
use super::number::numbers;
use super::order;
use super::pool::{self, Scatter};
use super::refusal::Refusal;
use super::row::Row;
use super::standings::RankedLine;
use crate::book::model::EventId;
use crate::history::Facts;
use crate::history::order::Rank;
use crate::history::sessions::{Session, SessionId};
use crate::units::UnitId;
use jiff::civil::Date;

/// Runs of a car that differ in one thing.
#[derive(Debug, Clone)]
pub struct Trial {
    /// The event; `None` for a day outside of one.
    pub event: Option<EventId>,
    /// The day of the event's first run.
    pub date: Date,
    /// What was tried.
    pub factor: Factor,
    /// Its settings: A, B and so on, in the order they were run.
    pub levels: Vec<Level>,
    /// The runs that count.
    pub runs: Vec<TrialRun>,
    /// The others of the event, each with why.
    pub aside: Vec<(SessionId, Aside)>,
    /// What the runs say of each measure, the best lap first; or why they say nothing of any.
    pub measured: Result<Vec<MeasuredTrial>, Refusal>,
    /// The same of the best lap with the scatter of the car's other runs on that course, where its own leave fewer than two degrees of
    /// freedom and there are enough of those.
    pub pooled: Option<Effects>,
    /// How far a lap of this car usually scatters from run to run, s, by its runs at other events, and by how many degrees of freedom.
    pub usual: Option<(f64, usize)>,
    /// How many runs the day of its last run has so far, those that do not count with them, where further ones may go on from there;
    /// `None` once that day is over: a run of another day has a level and a trend of its own.
    pub goes_on: Option<u32>,
}

/// A run that counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TrialRun {
    /// The session.
    pub session: SessionId,
    /// Its setting, 0 for A.
    pub level: usize,
    /// Its day, by number among the event's.
    pub day: usize,
    /// Its place in the running order of the day, from 1.
    pub order: u32,
}

impl TrialRun {
    /// The run as it counts.
    #[must_use]
    pub const fn row(&self) -> Row {
        Row { block: self.day, order: self.order, level: self.level }
    }
}

/// A measure and what the runs say of it.
#[derive(Debug, Clone)]
pub struct MeasuredTrial {
    /// What was measured.
    pub measure: Measure,
    /// Of each run that counts; `None` where it has none.
    pub values: Vec<Option<f64>>,
    /// The unit of a reading.
    pub unit: Option<UnitId>,
    /// Decimals that a reading was typed with; `None` of lap times.
    pub decimals: Option<u8>,
    /// What they say.
    pub effects: Result<Effects, Refusal>,
}

impl Trial {
    /// The best lap, as it was measured.
    #[must_use]
    pub fn best(&self) -> Option<&MeasuredTrial> {
        self.measured.as_ref().ok()?.first()
    }

    /// What bears the verdict: the best laps alone where they may, else with the scatter of other runs.
    #[must_use]
    pub fn verdict(&self) -> Option<&Effects> {
        let alone = self.best().and_then(|best| best.effects.as_ref().ok());
        alone.filter(|alone| alone.bears_verdict()).or(self.pooled.as_ref())
    }

    /// Its event.
    ///
    /// # Errors
    /// Outside of one, its day.
    pub fn meeting(&self) -> Result<EventId, Date> {
        self.event.ok_or(self.date)
    }
}

/// The runs of a car at one event, in order.
pub struct Meeting<'a> {
    /// The texts, the book and its fold.
    pub facts: Facts<'a>,
    /// The runs.
    pub runs: &'a [SessionId],
    /// What differs between them.
    pub standings: &'a [Standings],
    /// Which do not count whatever is tried.
    pub aside: &'a [Option<Aside>],
    /// The car's lines there.
    pub lines: &'a [RankedLine],
    /// The last day that the car's book tells of.
    pub latest: Date,
}

/// The trials among the runs of one event.
#[must_use]
pub fn of_meeting(meeting: &Meeting<'_>) -> Vec<Trial> {
    let sessions = &meeting.facts.history.sessions;
    let runs: Vec<&Session> = meeting.runs.iter().map(|id| sessions.get(*id)).collect();
    let days = days(&runs);
    let of_day: Vec<usize> = days.iter().map(|(day, _)| *day).collect();
    let values = measure::values(meeting.facts, &runs, meeting.lines);
    let mut all = Vec::new();
    for thing in meeting.standings.iter().filter(|one| one.factor.is_of_car()) {
        let groups = found::groups(thing, meeting.standings, meeting.aside, &of_day);
        all.extend(groups.iter().filter_map(|group| trial(meeting, &days, thing, group, &values)));
    }
    all
}

/// `days` are the day of each run and its place in it.
fn trial(
    meeting: &Meeting<'_>,
    days: &[(usize, u32)],
    thing: &Standings,
    group: &Group,
    values: &[Values],
) -> Option<Trial> {
    // Letters in the order they were run.
    let mut order: Vec<usize> = Vec::new();
    for (_, level) in &group.runs {
        if !order.contains(level) {
            order.push(*level);
        }
    }
    let levels: Vec<Level> = order.iter().filter_map(|level| thing.levels.get(*level)).cloned().collect();
    let letter = |level: usize| order.iter().position(|known| *known == level);
    let session = |run: usize| meeting.runs.get(run).copied();
    let counted: Vec<TrialRun> = group
        .runs
        .iter()
        .filter_map(|(run, level)| {
            let (day, order) = *days.get(*run)?;
            Some(TrialRun { session: session(*run)?, level: letter(*level)?, day, order })
        })
        .collect();
    let rows: Vec<Row> = counted.iter().map(TrialRun::row).collect();
    let numbers = numbers(meeting.facts, &levels);
    let fuelled: Vec<(&Session, usize, Rank)> = group
        .runs
        .iter()
        .filter_map(|(run, level)| {
            let sessions = &meeting.facts.history.sessions;
            let before = run.checked_sub(1).and_then(session).map_or(Rank::START, |id| sessions.get(id).rank);
            Some((sessions.get(session(*run)?), letter(*level)?, before))
        })
        .collect();
    let fuel = || fuel::went_with(meeting.facts, &fuelled).filter(|id| thing.factor != Factor::Setting(*id));
    let went_with = || fuel().map(|id| Refusal::NotAlone(vec![Factor::Setting(id)]));
    let measured = match group.refusal.clone().or_else(went_with) {
        Some(refusal) => Err(refusal),
        None => Ok(values.iter().map(|one| measured(one, group, &rows, numbers.as_deref())).collect()),
    };
    let measured = measured.and_then(|all: Vec<MeasuredTrial>| {
        order::order(&rows, numbers.as_deref())?;
        if all.is_empty() { Err(Refusal::NotMeasured) } else { Ok(all) }
    });
    let first = meeting.facts.history.sessions.get(session(0)?);
    Some(Trial {
        event: first.event,
        date: first.date,
        factor: thing.factor,
        levels,
        goes_on: counted.last().and_then(|run| goes_on(meeting, days, run)),
        runs: counted,
        aside: group.aside.iter().filter_map(|(run, why)| Some((session(*run)?, why.clone()))).collect(),
        measured,
        pooled: None,
        usual: None,
    })
}

/// How many runs the day of a run has, where nothing in the car's book is of a later day.
fn goes_on(meeting: &Meeting<'_>, days: &[(usize, u32)], run: &TrialRun) -> Option<u32> {
    let date = meeting.facts.history.sessions.get(run.session).date;
    let of_day = days.iter().filter(|(day, _)| *day == run.day);
    of_day.map(|(_, order)| *order).max().filter(|_| date >= meeting.latest)
}

fn measured(values: &Values, group: &Group, rows: &[Row], numbers: Option<&[f64]>) -> MeasuredTrial {
    let of_runs: Vec<Option<f64>> =
        group.runs.iter().map(|(run, _)| values.of_run.get(*run).copied().flatten()).collect();
    let (rows, known): (Vec<Row>, Vec<f64>) =
        rows.iter().zip(&of_runs).filter_map(|(row, value)| Some((*row, (*value)?))).unzip();
    let all = known.len() == of_runs.len() || !values.measure.is_lap();
    let effects = if all { effect::effects(&rows, &known, numbers, None) } else { Err(Refusal::NotMeasured) };
    MeasuredTrial {
        measure: values.measure,
        values: of_runs,
        unit: values.unit,
        decimals: values.decimals,
        effects,
    }
}

/// Gives each trial what the car's other runs say of scatter, and what would tell.
pub fn pooled(facts: Facts<'_>, all: &mut [Trial], scatters: &[Scatter]) {
    for trial in all {
        let Some(run) = trial.runs.first().map(|run| facts.history.sessions.get(run.session)) else {
            continue;
        };
        let lap = run.best.unwrap_or(0.0);
        trial.usual = pool::usual(scatters, lap, trial.meeting());
        let rows: Vec<Row> = trial.runs.iter().map(TrialRun::row).collect();
        let best = trial.best().cloned();
        let few = best.as_ref().is_some_and(|best| match &best.effects {
            Ok(effects) => effects.freedom < FREEDOM,
            Err(Refusal::TooFew { .. }) => true,
            Err(_) => false,
        });
        if let Some(best) = best.as_ref().filter(|_| few) {
            let course = course::of_run(facts, run).ok();
            let pool = course.and_then(|course| pool::elsewhere(scatters, &course, trial.meeting()));
            let values: Vec<f64> = best.values.iter().flatten().copied().collect();
            trial.pooled = pool.filter(|_| values.len() == rows.len()).and_then(|pool| {
                effect::effects(&rows, &values, numbers(facts, &trial.levels).as_deref(), Some(pool)).ok()
            });
        }
    }
}
