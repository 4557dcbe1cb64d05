//! How far to turn each corner so that the cross comes to what is wanted, by what this car's own moves were worth.
//!
//! The two ends of an axle are turned by as much, one up and one down, so that the middle of each axle keeps its height; of all such turns
//! the least (least squares). Must not know books.

use super::fit::{Slope, Slopes};
use crate::book::place::Place;
use crate::trials::effect::wide;

/// Turns that bring it there.
#[derive(Debug, Clone, PartialEq)]
pub struct Turns {
    /// At each corner, SI of the setting: up the body is positive.
    pub turns: Vec<(Place, f64)>,
    /// By how much the cross is expected to change: what is wanted.
    pub change: f64,
    /// How far the change, as it is weighed, may be from that, either way, at 95 %.
    pub half: f64,
    /// The standard error of the change.
    pub error: f64,
    /// The corners that would be turned further than they ever were.
    pub beyond: Vec<Place>,
    /// What a turn is worth at the ends of each axle that is turned.
    pub axles: Vec<TurnedAxle>,
    /// How far one weighing scatters.
    pub scatter: f64,
    /// Student's t that `half` is reckoned with.
    pub t: f64,
}

/// The ends of an axle: the one that is turned up for more cross, and the one that is turned down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurnedAxle {
    /// Up, and the change of the cross for each bit it is turned.
    pub up: (Place, f64),
    /// Down, and the same of it.
    pub down: (Place, f64),
}

impl TurnedAxle {
    /// The change of the cross where both are turned by as much, one up and one down.
    #[must_use]
    pub fn worth(&self) -> f64 {
        self.up.1 - self.down.1
    }
}

/// The turns for a change of the cross (a share); `None` where neither axle has both its ends, or a turn is worth nothing.
#[must_use]
pub fn turns(slopes: &Slopes, change: f64) -> Option<Turns> {
    let end = |place: Place| {
        slopes.slopes.iter().find(|slope| slope.place == place).map(|slope| (place, slope.value))
    };
    let axles = [(Place::RF, Place::LF), (Place::LR, Place::RR)];
    let axles: Vec<TurnedAxle> = axles
        .into_iter()
        .filter_map(|(up, down)| Some(TurnedAxle { up: end(up)?, down: end(down)? }))
        .collect();
    let square: f64 = axles.iter().map(|axle| axle.worth() * axle.worth()).sum();
    if square <= 0.0 || !change.is_finite() {
        return None;
    }
    let turn_of = |slope: &Slope| {
        let of_axle = |axle: &TurnedAxle| match slope.place {
            place if place == axle.up.0 => Some(change * axle.worth() / square),
            place if place == axle.down.0 => Some(-change * axle.worth() / square),
            _ => None,
        };
        axles.iter().find_map(of_axle).unwrap_or(0.0)
    };
    let by: Vec<f64> = slopes.slopes.iter().map(turn_of).collect();
    let variance: f64 = slopes
        .covariance
        .iter()
        .zip(&by)
        .map(|(row, a)| row.iter().zip(&by).map(|(shared, b)| shared * a * b).sum::<f64>())
        .sum();
    let error = variance.max(0.0).sqrt();
    let freedom = slopes.slopes.iter().map(|slope| slope.freedom).min()?;
    // What is weighed before and after scatters too.
    let weighed = 2.0 * slopes.scatter * slopes.scatter;
    let t = wide(freedom)?;
    let half = t * (variance.max(0.0) + weighed).sqrt();
    let turned = || slopes.slopes.iter().zip(&by).filter(|(_, turn)| **turn != 0.0);
    Some(Turns {
        turns: turned().map(|(slope, turn)| (slope.place, *turn)).collect(),
        change,
        half,
        error,
        beyond: turned()
            .filter(|(slope, turn)| turn.abs() > slope.furthest * (1.0 + 1e-9))
            .map(|(slope, _)| slope.place)
            .collect(),
        axles,
        scatter: slopes.scatter,
        t,
    })
}
