//! The share still good at each age, from lives that failed and lives that did not: Kaplan-Meier.
//!
//! Kaplan & Meier, "Nonparametric estimation from incomplete observations", JASA 53 (1958) 457-481; late entry as in Klein
//! & Moeschberger, *Survival Analysis*, 4.6 (from memory). At one age, failures count before removals.

use super::Interval;
use super::normal::two_sided;
use super::observation::{Observation, Why, sorted};
use super::risk::Watched;
use crate::sorted;

/// What 0.5 may miss by rounding and still be reached.
const ROUNDING: f64 = 1e-12;

/// The curve: 1 until the first step, flat between steps, ending at `last`.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// A step for each age at which something failed, in order.
    pub steps: Vec<Step>,
    /// Ages of lives that ended without failing, sorted, repeats kept.
    pub unfailed: Vec<f64>,
    /// The age past which nobody was watched: the curve ends there.
    pub last: f64,
    /// How many lives.
    pub lives: usize,
    /// How many of them failed.
    pub failures: usize,
    /// Time watched, in all.
    pub watched: f64,
    /// Why the curve, from that age on, is not to be believed.
    pub trap: Option<Trap>,
}

/// One step down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// The age.
    pub time: f64,
    /// How many were watched just before it.
    pub at_risk: usize,
    /// How many failed at it.
    pub failed: usize,
    /// The share still good after it.
    pub survival: f64,
    /// Greenwood's sum of failed / (at risk x what was left of them); `None` once nothing was left.
    sum: Option<f64>,
}

/// A hole in what was watched, which only late entry can make.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Trap {
    /// All that were watched at that age failed, so that the curve is 0 from there, yet others were watched later: one early
    /// failure among late entries has spoken for all.
    Emptied {
        /// The age.
        at: f64,
    },
    /// Nobody was watched between the two ages, so that what failed there is unknown. From 0: the curve holds only for those
    /// that reached the first entry.
    Unwatched {
        /// Where the hole begins.
        from: f64,
        /// The next entry.
        to: f64,
    },
}

impl Trap {
    /// The age from which on the curve is not to be believed.
    #[must_use]
    pub fn from(&self) -> f64 {
        match self {
            Self::Emptied { at } => *at,
            Self::Unwatched { from, .. } => *from,
        }
    }
}

impl Step {
    /// Greenwood's standard error of the survival; `None` where the survival is 0.
    #[must_use]
    pub fn error(&self) -> Option<f64> {
        self.sum.map(|sum| self.survival * sum.sqrt())
    }

    /// The band of the survival through ln(-ln S), which keeps it within 0 and 1 (Kalbfleisch & Prentice; Collett).
    fn band(&self, z: f64) -> Interval {
        let Some(sum) = self.sum else { return Interval { low: None, high: None } };
        let log = libm::log(self.survival);
        let spread = libm::exp(z * sum.sqrt() / -log);
        Interval { low: Some(libm::exp(log * spread)), high: Some(libm::exp(log / spread)) }
    }
}

/// The Kaplan-Meier curve of those lives.
///
/// # Errors
/// The first unusable life.
pub fn curve(lives: &[Observation]) -> Result<Curve, Why> {
    let lives = sorted(lives)?;
    let watched = Watched::of(&lives);
    let mut survival = 1.0;
    let mut sum = Some(0.0);
    let mut steps = Vec::with_capacity(watched.failures.len());
    for &(time, failed) in &watched.failures {
        let at_risk = watched.at_risk(time);
        let left = at_risk - failed;
        survival *= left as f64 / at_risk as f64;
        sum = sum.filter(|_| left > 0).map(|sum| sum + failed as f64 / (at_risk as f64 * left as f64));
        steps.push(Step { time, at_risk, failed, survival, sum });
    }
    Ok(Curve {
        trap: trap(&watched, &steps),
        steps,
        unfailed: lives.iter().filter(|life| !life.failed()).map(|life| life.exit).collect(),
        last: watched.exits.last().copied().unwrap_or(0.0),
        lives: lives.len(),
        failures: watched.failures.iter().map(|(_, count)| count).sum(),
        watched: lives.iter().map(|life| life.exit - life.entry).sum(),
    })
}

/// The first hole.
fn trap(watched: &Watched, steps: &[Step]) -> Option<Trap> {
    let last = watched.exits.last().copied().unwrap_or(0.0);
    let emptied = steps.iter().find(|step| step.at_risk == step.failed && step.time < last);
    let emptied = emptied.map(|step| Trap::Emptied { at: step.time });
    // A hole lies before an entry that nobody's watching covers: all that were in before it were also out before it.
    let hole = watched.entries.iter().enumerate().find_map(|(before, &to)| {
        let out = sorted::until(&watched.exits, |exit| *exit < to);
        let first = watched.entries.partition_point(|entry| *entry < to) == before;
        let from = out.last().copied().unwrap_or(0.0);
        (first && out.len() == before && from < to).then_some(Trap::Unwatched { from, to })
    });
    // `then`: whichever comes first; at one age, the failure says more.
    match (emptied, hole) {
        (Some(one), Some(other)) if other.from() < one.from() => Some(other),
        (Some(one), _) => Some(one),
        (None, hole) => hole,
    }
}

impl Curve {
    /// The share still good after that age; `None` past the last age watched, or from a trap on.
    #[must_use]
    pub fn survival(&self, age: f64) -> Option<f64> {
        let known = age <= self.last && self.trap.is_none_or(|trap| age < trap.from());
        let before = sorted::until(&self.steps, |step| step.time <= age);
        known.then(|| before.last().map_or(1.0, |step| step.survival))
    }

    /// The first age at which no more than half were still good; `None` where that is not reached, or only past a trap.
    #[must_use]
    pub fn median(&self) -> Option<f64> {
        self.steps
            .iter()
            .find(|step| step.survival <= 0.5 + ROUNDING)
            .and_then(|step| self.believed(step.time))
    }

    /// The band at that level, a row for each step: ln(-ln S) with Greenwood's error. Both ends are `None` where the survival
    /// is 0. `None` outside 0 < level < 1.
    #[must_use]
    pub fn bands(&self, level: f64) -> Option<Vec<Interval>> {
        let z = two_sided(level)?;
        Some(self.steps.iter().map(|step| step.band(z)).collect())
    }

    /// The band of the median: the ages at which the log-log band at that level comes down past 0.5, its lower edge first
    /// (Brookmeyer & Crowley, Biometrics 38 (1982) 29-41, with the log-log band in place of the plain one). An end that the
    /// band never reaches is `None`.
    #[must_use]
    pub fn median_band(&self, level: f64) -> Option<Interval> {
        let bands = self.bands(level)?;
        let crossed = |edge: fn(&Interval) -> Option<f64>| {
            let under = |band: &Interval| edge(band).is_some_and(|value| value <= 0.5 + ROUNDING);
            let first = bands.iter().zip(&self.steps).find(|(band, _)| under(band));
            first.and_then(|(_, step)| self.believed(step.time))
        };
        Some(Interval { low: crossed(|band| band.low), high: crossed(|band| band.high) })
    }

    fn believed(&self, age: f64) -> Option<f64> {
        self.trap.is_none_or(|trap| age < trap.from()).then_some(age)
    }
}
