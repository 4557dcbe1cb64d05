//! What would tell, after the runs that a trial has.
//!
//! Must not know words.

use super::effect::FREEDOM;
use super::plan::{self, Plan};
use super::refusal::Refusal;
use super::row::Row;
use super::trial::{Trial, TrialRun};

/// What would tell a difference of `wanted` seconds: further runs on the trial's last day, or runs on a day of their own where those cannot
/// be gone on with (that day is over, or something else changed too).
#[must_use]
pub fn plan(trial: &Trial, wanted: f64) -> Option<Plan> {
    if trial.levels.len() != 2 {
        return None;
    }
    let day = trial.runs.last().map(|run| run.day);
    let alone =
        !matches!(trial.measured, Err(Refusal::NotAlone(_) | Refusal::NotKnown | Refusal::LeftOut(_)));
    let after = trial.goes_on.filter(|_| alone);
    let ran = trial.runs.iter().filter(|run| after.is_some() && Some(run.day) == day);
    let ran: Vec<Row> = ran.map(TrialRun::row).collect();
    plan::plan(&ran, after.unwrap_or(0), scatter(trial), wanted)
}

/// How far a lap scatters from run to run, by the trial's own runs and the car's at other events together; `None` by fewer than two degrees
/// of freedom.
#[must_use]
pub fn scatter(trial: &Trial) -> Option<f64> {
    let own = trial.best().and_then(|best| best.effects.as_ref().ok());
    let own = own.map(|effects| (effects.scatter, effects.freedom));
    let parts: Vec<(f64, usize)> = own.into_iter().chain(trial.usual).collect();
    let freedom: usize = parts.iter().map(|(_, freedom)| freedom).sum();
    let squares: f64 = parts.iter().map(|(scatter, freedom)| scatter * scatter * *freedom as f64).sum();
    (freedom >= FREEDOM).then(|| (squares / freedom as f64).sqrt())
}
