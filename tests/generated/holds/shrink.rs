//! A book with a finding, made as small as it gets with the finding still in it.

use super::super::book::Written;
use super::Broken;

/// Drops lines, first many at once and then one by one, as long as the same property breaks; at most so many tries.
pub fn shrink(
    written: &Written,
    most: usize,
    broken: &dyn Fn(&Written) -> Option<Broken>,
) -> (Written, Option<Broken>) {
    let mut best = written.clone();
    let mut shows = broken(&best);
    let Some(property) = shows.as_ref().map(|one| one.property) else { return (best, shows) };
    let (mut tries, mut piece) = (0, best.lines.len() / 2);
    while piece > 0 && tries < most {
        let mut at = 0;
        while at < best.lines.len() && tries < most {
            let mut less = best.clone();
            less.lines.drain(at..(at + piece).min(best.lines.len()));
            tries += 1;
            match broken(&less).filter(|one| one.property == property) {
                Some(still) => (best, shows) = (less, Some(still)),
                None => at += piece,
            }
        }
        piece = if piece > best.lines.len() { best.lines.len() / 2 } else { piece / 2 };
    }
    (best, shows)
}
