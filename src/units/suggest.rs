//! Did-you-mean and the usual units, for messages.
//!
//! Knows spellings. It must not word a message: callers do.

use super::kind::DimensionId;
use super::table::table;

/// How alike two spellings must be, 0 to 1 (share of letters in common, in order).
const ALIKE: f32 = 0.6;

/// The spelling that was probably meant where a unit of `wanted` was asked for, if one is near. Spellings left
/// out on purpose (`mil`) have a fixed answer.
#[must_use]
pub fn suggest(spelling: &str, wanted: DimensionId) -> Option<&'static str> {
    let table = table();
    if let Some((_, _, right)) =
        table.hints.iter().find(|(wrong, kind, _)| *kind == wanted && wrong.eq_ignore_ascii_case(spelling))
    {
        return Some(right);
    }
    // What is a word of its own is no unit with a slip in it, and of two letters every other two are near.
    let word = WORDS.iter().any(|word| word.eq_ignore_ascii_case(spelling));
    if spelling.len() > 24 || word || spelling.chars().count() < 3 {
        return None;
    }
    let accepts = wanted.get().accepts;
    let small = spelling.to_lowercase();
    // One slip of the finger in a usual unit is that unit, however alike a rare one is.
    let slip = |unit: &&&str| strsim::osa_distance(&small, &unit.to_lowercase()) == 1;
    if small.chars().count() > 2
        && let Some(usual) = wanted.get().usual.iter().find(slip)
    {
        return Some(usual);
    }
    let near: Vec<(String, &'static str)> = table
        .spellings
        .iter()
        .filter(|(_, id)| accepts.contains(&table.unit(*id).kind))
        .map(|(known, _)| (known.to_lowercase(), *known))
        .collect();
    let words: Vec<&str> = near.iter().map(|(word, _)| word.as_str()).collect();
    let best = *similar::get_close_matches(small.as_str(), &words, 1, ALIKE).first()?;
    // Alike is not near: of a short word one letter may be wrong, of a longer one two.
    let allowed = if small.chars().count() <= 4 { 1 } else { 2 };
    near.iter()
        .find(|(word, _)| word == best && strsim::osa_distance(&small, word) <= allowed)
        .map(|(_, known)| *known)
}

/// Words that people type between numbers, and that are near a unit in their letters.
const WORDS: [&str; 16] = [
    "neg", "negative", "pos", "positive", "minus", "plus", "and", "or", "not", "equal", "equals", "same",
    "each", "both", "about", "from",
];

/// The usual unit spellings of a kind, best first: `N/mm`, `lb/in`, `kgf/mm`.
#[must_use]
pub fn units_for(wanted: DimensionId) -> &'static [&'static str] {
    wanted.get().usual
}
