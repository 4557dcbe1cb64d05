//! Which cylinders of one line leak far more than the others.
//!
//! Must not know lines, nor who asks.

use crate::statistics;

/// So far above the middle of the others is far more; a share of the supply.
const APART: f64 = 0.08;
/// Above this it is, however the others are.
const MOST: f64 = 0.20;
/// Fewer cylinders have no middle to be held against.
const LEAST: usize = 3;

/// Whether so many cylinders can be held against one another.
#[must_use]
pub const fn can_be_held(cylinders: usize) -> bool {
    cylinders >= LEAST
}

/// Those of some losses (shares of the supply) that leak far more than the others: which, and the middle of the others.
#[must_use]
pub fn far_more(losses: &[f64]) -> Vec<(usize, f64)> {
    if !can_be_held(losses.len()) {
        return Vec::new();
    }
    let far = |(index, loss): (usize, &f64)| {
        let mut others: Vec<f64> =
            losses.iter().enumerate().filter(|(other, _)| *other != index).map(|(_, loss)| *loss).collect();
        others.sort_by(f64::total_cmp);
        let middle = statistics::middle(&others)?;
        (loss - middle > APART + 1e-9 || *loss > MOST + 1e-9).then_some((index, middle))
    };
    losses.iter().enumerate().filter_map(far).collect()
}
