//! How a worth came about: its formula in words, and each pair of readings that it is made of, with their lines.
//!
//! Must not know rendering, nor how a slope is found.

use super::{HotWorth, TurnStep, TurnWorth, build};
use crate::Compiled;
use crate::answer::NamedCar;
use crate::book::model::CarId;
use crate::history::order::Rank;
use serde::Serialize;

/// How the worth of turns came about.
pub const BY_TURNS: &str = "least squares through no change: readings with nothing between them but turns of this setting are a chain; in each, what was read \
                            less the mean of its chain against what the setting stood at less its mean; the interval is Student's t at 0.95 times \
                            the error, which is never less than the gauge's";

/// How what running makes of a reading came about.
pub const BY_RUNNING: &str = "least squares: what was read in each run against each cause, less the means of the runs that are alike but for the causes (one \
                              event, driver and weather, the same tyres and gauges); the interval is Student's t at 0.95 times the error";

/// How what `worth` tells came about.
#[derive(Debug, Clone, Serialize)]
pub struct WorthTrace {
    /// `worth`.
    pub name: &'static str,
    /// The car.
    pub car: NamedCar,
    /// What was turned.
    pub turns: Vec<TracedTurn>,
    /// What running makes of a reading.
    pub hot: Vec<TracedHot>,
}

/// What one setting is worth, with what it is made of.
#[derive(Debug, Clone, Serialize)]
pub struct TracedTurn {
    /// In words.
    pub formula: &'static str,
    /// What came of it.
    pub worth: TurnWorth,
    /// From each reading to the next of its chain.
    pub steps: Vec<TurnStep>,
}

/// What running makes of a reading, with what it is made of.
#[derive(Debug, Clone, Serialize)]
pub struct TracedHot {
    /// In words.
    pub formula: &'static str,
    /// What came of it, with its lines.
    pub worth: HotWorth,
}

/// What `worth` tells of a setting, or of a reading that running makes another; of everything where nothing is named.
#[must_use]
pub fn traced(compiled: &Compiled, car: CarId, named: Option<&str>) -> WorthTrace {
    let all = build(compiled, car, Rank::END);
    let meant = |text: &str| named.is_none_or(|named| is_of(text, named));
    let turns = all.turns.into_iter().filter(|turn| meant(&turn.turned) || meant(&turn.moved));
    let hot = all.hot.into_iter().filter(|one| meant(&one.moved) || one.by.iter().any(|by| meant(&by.cause)));
    WorthTrace {
        name: "worth",
        car: crate::answer::car(compiled, car),
        turns: turns
            .map(|worth| TracedTurn { formula: BY_TURNS, steps: worth.steps.clone(), worth })
            .collect(),
        hot: hot.map(|worth| TracedHot { formula: BY_RUNNING, worth }).collect(),
    }
}

/// Whether "perch LF" is what is named: `perch`, or `perch LF`.
#[must_use]
pub fn is_of(text: &str, named: &str) -> bool {
    let (text, named) = (text.to_lowercase(), named.to_lowercase());
    text == named || text.strip_prefix(&named).is_some_and(|rest| rest.starts_with(' '))
}
