//! A trial with what its runs say.
//!
//! Must not know words.

use super::aside::Aside;
use super::days::days;
use super::effect::{self, Effects, FREEDOM, Row};
use super::factor::{Factor, Level, Standings};
use super::found::{self, Group};
use super::measure::{self, Measure, Values};
use super::number::numbers;
use super::plan::{self, Plan};
use super::pool::{self, Scatter};
use super::refusal::Refusal;
use super::standings::RankedLine;
use crate::book::model::{CarId, EventId};
use crate::history::Facts;
use crate::history::sessions::{Session, SessionId};
use crate::units::UnitId;
use jiff::civil::Date;

/// Runs of a car that differ in one thing.
#[derive(Debug, Clone)]
pub struct Trial {
    /// The car.
    pub car: CarId,
    /// The event; `None` for a day outside of one.
    pub event: Option<EventId>,
    /// The day of its first run, and of its last.
    pub days: [Date; 2],
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
    /// How far a lap of this car usually scatters from run to run, s, and by how many degrees of freedom.
    pub usual: Option<(f64, usize)>,
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

/// A measure and what the runs say of it.
#[derive(Debug, Clone)]
pub struct MeasuredTrial {
    /// What was measured.
    pub measure: Measure,
    /// Of each run that counts; `None` where it has none.
    pub values: Vec<Option<f64>>,
    /// The unit of a reading.
    pub unit: Option<UnitId>,
    /// Decimals worth showing.
    pub decimals: u8,
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
        self.event.ok_or(self.days[0])
    }
}

/// The trials among the runs of one event.
#[must_use]
pub fn of_meeting(
    facts: Facts<'_>,
    car: CarId,
    meeting: &[SessionId],
    standings: &[Standings],
    aside: &[Option<Aside>],
    lines: &[RankedLine],
) -> Vec<Trial> {
    let runs: Vec<&Session> = meeting.iter().map(|id| facts.history.sessions.get(*id)).collect();
    let days = days(&runs);
    let of_day: Vec<usize> = days.iter().map(|(day, _)| *day).collect();
    let values = measure::values(facts, &runs, lines);
    let mut all = Vec::new();
    for thing in standings.iter().filter(|one| one.factor.is_of_car()) {
        for group in found::groups(thing, standings, aside, &of_day) {
            let Some(trial) = trial(facts, car, meeting, &runs, &days, thing, &group, &values) else {
                continue;
            };
            all.push(trial);
        }
    }
    all
}

#[allow(clippy::too_many_arguments)]
fn trial(
    facts: Facts<'_>,
    car: CarId,
    meeting: &[SessionId],
    runs: &[&Session],
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
    let counted: Vec<TrialRun> = group
        .runs
        .iter()
        .filter_map(|(run, level)| {
            let (day, order) = *days.get(*run)?;
            Some(TrialRun { session: *meeting.get(*run)?, level: letter(*level)?, day, order })
        })
        .collect();
    let rows: Vec<Row> =
        counted.iter().map(|run| Row { block: run.day, order: run.order, level: run.level }).collect();
    let numbers = numbers(facts, &levels);
    let measured = match &group.refusal {
        Some(refusal) => Err(refusal.clone()),
        None => Ok(values.iter().map(|one| measured(one, group, &rows, numbers.as_deref())).collect()),
    };
    let measured = measured.and_then(|all: Vec<MeasuredTrial>| {
        effect::order(&rows, numbers.as_deref())?;
        if all.is_empty() { Err(Refusal::NotMeasured) } else { Ok(all) }
    });
    let first = runs.first()?;
    Some(Trial {
        car,
        event: first.event,
        days: [first.date, runs.last()?.last],
        factor: thing.factor,
        levels,
        runs: counted,
        aside: group.aside.iter().filter_map(|(run, why)| Some((*meeting.get(*run)?, why.clone()))).collect(),
        measured,
        pooled: None,
        usual: None,
    })
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
        trial.usual = pool::usual(scatters, lap);
        let rows: Vec<Row> =
            trial.runs.iter().map(|run| Row { block: run.day, order: run.order, level: run.level }).collect();
        let best = trial.best().cloned();
        let few = best.as_ref().is_some_and(|best| match &best.effects {
            Ok(effects) => effects.freedom < FREEDOM,
            Err(Refusal::TooFew { .. }) => true,
            Err(_) => false,
        });
        if let Some(best) = best.as_ref().filter(|_| few) {
            let pool = pool::elsewhere(scatters, &pool::course(facts, run), trial.meeting());
            let values: Vec<f64> = best.values.iter().flatten().copied().collect();
            trial.pooled = pool.filter(|_| values.len() == rows.len()).and_then(|pool| {
                effect::effects(&rows, &values, numbers(facts, &trial.levels).as_deref(), Some(pool)).ok()
            });
        }
    }
}

/// What would tell a difference of `wanted` seconds, after the runs of the trial's last day; on a day of its own where they cannot be gone
/// on with (something else changed too).
#[must_use]
pub fn plan(trial: &Trial, wanted: f64) -> Option<Plan> {
    if trial.levels.len() != 2 {
        return None;
    }
    let day = trial.runs.last().map(|run| run.day);
    let goes_on =
        !matches!(trial.measured, Err(Refusal::NotAlone(_) | Refusal::NotKnown | Refusal::LeftOut(_)));
    let ran: Vec<Row> = trial
        .runs
        .iter()
        .filter(|run| goes_on && Some(run.day) == day)
        .map(|run| Row { block: run.day, order: run.order, level: run.level })
        .collect();
    plan::plan(&ran, scatter(trial), wanted)
}

/// How far a lap scatters from run to run, by the trial's own runs and the car's others together; `None` by fewer than two degrees of freedom.
#[must_use]
pub fn scatter(trial: &Trial) -> Option<f64> {
    let own = trial.best().and_then(|best| best.effects.as_ref().ok());
    let own = own.map(|effects| (effects.scatter, effects.freedom));
    let parts: Vec<(f64, usize)> = own.into_iter().chain(trial.usual).collect();
    let freedom: usize = parts.iter().map(|(_, freedom)| freedom).sum();
    let squares: f64 = parts.iter().map(|(scatter, freedom)| scatter * scatter * *freedom as f64).sum();
    (freedom >= FREEDOM).then(|| (squares / freedom as f64).sqrt())
}
