//! How a worth came about: its formula in words, and each pair of readings that it is made of, with their lines.
//!
//! Must not know rendering, nor how a slope is found.

use super::{HotReading, HotWorth, OwnTurns, TurnStep, TurnWorth, TurnsWanted, build};
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

/// How the turns that bring the cross to what was asked came about.
pub const BY_OWN_MOVES: &str = "least squares: the two ends of an axle turn by as much, one up and one down; w is what a turn of both is worth, and of all \
                                such turns the least are taken, the change wanted times w over the sum of the axles' w squared; it comes within \
                                Student's t times the root of the change's error squared and two weighings' scatter squared";

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
    /// The turns that bring cross-weight to what was asked; null where nothing is asked, it is there, or something else was named.
    pub balance: Option<TracedBalance>,
}

/// The turns that bring the cross to what was asked, with what they are made of.
#[derive(Debug, Clone, Serialize)]
pub struct TracedBalance {
    /// In words.
    pub formula: &'static str,
    /// What came of it.
    pub wanted: TurnsWanted,
    /// What the car's own turns are made of; null where its moves say nothing.
    pub made_of: Option<OwnTurns>,
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
    /// What each run read, those of a group together.
    pub runs: Vec<HotReading>,
}

/// What `worth` tells of a setting, or of a reading that running makes another; of everything where nothing is named.
#[must_use]
pub fn traced(compiled: &Compiled, car: CarId, named: Option<&str>) -> WorthTrace {
    let all = build(compiled, car, Rank::END);
    let meant = |text: &str| named.is_none_or(|named| is_of(text, named));
    let wanted =
        all.balance.filter(|_| meant("cross-weight") || named.is_some_and(|named| is_of("perch", named)));
    let balance =
        wanted.map(|wanted| TracedBalance { formula: BY_OWN_MOVES, made_of: wanted.made_of.clone(), wanted });
    let turns = all.turns.into_iter().filter(|turn| meant(&turn.turned) || meant(&turn.moved));
    let hot = all.hot.into_iter().filter(|one| meant(&one.moved) || one.by.iter().any(|by| meant(&by.cause)));
    WorthTrace {
        name: "worth",
        car: crate::answer::car(compiled, car),
        turns: turns
            .map(|worth| TracedTurn { formula: BY_TURNS, steps: worth.steps.clone(), worth })
            .collect(),
        hot: hot.map(|worth| TracedHot { formula: BY_RUNNING, runs: worth.made_of.clone(), worth }).collect(),
        balance,
    }
}

/// Whether "perch LF" is what is named: `perch`, or `perch LF`.
#[must_use]
pub fn is_of(text: &str, named: &str) -> bool {
    let (text, named) = (text.to_lowercase(), named.to_lowercase());
    text == named || text.strip_prefix(&named).is_some_and(|rest| rest.starts_with(' '))
}
