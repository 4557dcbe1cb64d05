//! How far to turn each corner so that the cross comes to what is wanted, by what this car's own moves were worth.
//!
//! The two ends of an axle are turned by as much, one up and one down, so that the middle of each axle keeps its height; of all such turns
//! the least (least squares). Must not know books.

use super::fit::Slopes;
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
}

/// The turns for a change of the cross (a share); `None` where neither axle has both its ends, or a turn is worth nothing.
#[must_use]
pub fn turns(slopes: &Slopes, change: f64) -> Option<Turns> {
    let find = |place: Place| slopes.slopes.iter().position(|slope| slope.place == place);
    let pairs = [(Place::RF, Place::LF), (Place::LR, Place::RR)];
    let pairs: Vec<(usize, usize)> =
        pairs.into_iter().filter_map(|(up, down)| Some((find(up)?, find(down)?))).collect();
    let value = |index: usize| slopes.slopes.get(index).map_or(0.0, |slope| slope.value);
    let worth: Vec<f64> = pairs.iter().map(|(up, down)| value(*up) - value(*down)).collect();
    let square: f64 = worth.iter().map(|worth| worth * worth).sum();
    if square <= 0.0 || !change.is_finite() {
        return None;
    }
    let mut by = vec![0.0; slopes.slopes.len()];
    for ((up, down), worth) in pairs.iter().zip(&worth) {
        for (index, sign) in [(up, 1.0), (down, -1.0)] {
            if let Some(turn) = by.get_mut(*index) {
                *turn = sign * change * worth / square;
            }
        }
    }
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
    let half = wide(freedom)? * (variance.max(0.0) + weighed).sqrt();
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
    })
}
