//! Sharing a sum out by weights so that the shares add up to it again, to the last minor unit.
//!
//! Largest remainders (A. Hamilton's method of 1792; Balinski and Young, *Fair Representation*, 1982): each share is
//! rounded down, and the units left over go to the largest remainders. Must not know what the weights are.

/// Shares of `units` in the ratio of `weights`. Between equal remainders the earlier weight is served first, so the order of
/// the weights decides; a sum below zero is shared as its opposite. `None` where no weight is above zero, or the numbers
/// are too large to hold.
#[must_use]
pub fn out(units: i128, weights: &[u64]) -> Option<Vec<i128>> {
    let all: i128 = weights.iter().map(|weight| i128::from(*weight)).sum();
    if all == 0 {
        return None;
    }
    let size = i128::try_from(units.unsigned_abs()).ok()?;
    let mut shares = Vec::with_capacity(weights.len());
    let mut rests: Vec<i128> = Vec::with_capacity(weights.len());
    let mut given: i128 = 0;
    for weight in weights {
        let part = size.checked_mul(i128::from(*weight))?;
        shares.push(part / all);
        given += part / all;
        rests.push(part % all);
    }
    let left = usize::try_from(size - given).ok()?;
    let mut turns: Vec<(&i128, &mut i128)> = rests.iter().zip(&mut shares).collect();
    // Stable: of equal remainders the earlier stays the earlier.
    turns.sort_by(|(a, _), (b, _)| b.cmp(a));
    for (_, share) in turns.into_iter().take(left) {
        *share += 1;
    }
    if units < 0 {
        for share in &mut shares {
            *share = -*share;
        }
    }
    Some(shares)
}
