//! What a driver said of a phase of the corner, so that the same words are found again: "pushes" is "push" is "understeer".
//!
//! Stems and groups of our own; English, as the trade speaks it. Must not know the book.

/// Phases of a corner.
const PHASES: [&str; 3] = ["entry", "mid", "exit"];

/// Words that mean the same (common practice), by their stems; the first stands for all.
const SAME: [&[&str]; 4] = [
    &["push", "understeer", "plough", "plow"],
    &["loose", "oversteer", "slide", "tail-happy"],
    &["nervous", "twitchy", "edgy", "darty"],
    &["wheelspin", "spin"],
];

/// Words that ask for no cure.
const WELL: [&str; 7] = ["neutral", "balanced", "good", "better", "fine", "happy", "planted"];

/// What was said of a phase; the phase is empty where none was named.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Felt {
    /// "entry", "mid", "exit" or empty.
    pub phase: String,
    /// As typed.
    pub words: String,
    /// Stems of its words.
    pub stems: Vec<String>,
}

/// Reads "entry push, exit neutral".
pub(super) fn felt(graded: &str) -> Vec<Felt> {
    graded.split(',').filter_map(one).collect()
}

fn one(said: &str) -> Option<Felt> {
    let mut words: Vec<&str> = said.split_whitespace().collect();
    let phase = words.first().map(|word| word.to_lowercase()).filter(|word| PHASES.contains(&word.as_str()));
    if phase.is_some() {
        words.remove(0);
    }
    let stems: Vec<String> = words.iter().map(|word| stem(word)).filter(|stem| !stem.is_empty()).collect();
    (!stems.is_empty()).then(|| Felt { phase: phase.unwrap_or_default(), words: words.join(" "), stems })
}

impl Felt {
    /// Whether it asks for no cure.
    pub fn is_well(&self) -> bool {
        self.stems.iter().all(|word| WELL.iter().any(|well| stem(well) == *word))
    }

    /// Whether two are of one phase and share a word.
    pub fn is_like(&self, other: &Self) -> bool {
        self.phase == other.phase && self.stems.iter().any(|word| other.stems.contains(word))
    }
}

/// A word without its ending: "pushes", "pushing" and "pushed" are "push"; those that mean the same are one.
fn stem(word: &str) -> String {
    let plain: String = word.to_lowercase().chars().filter(|c| c.is_alphanumeric() || *c == '-').collect();
    let short = ending_off(&plain);
    let group = SAME.iter().find(|group| group.iter().any(|word| ending_off(word) == short));
    group.and_then(|group| group.first()).map_or(short, |first| ending_off(first))
}

fn ending_off(word: &str) -> String {
    const LEAST: usize = 3;
    let long_enough = |rest: &&str| rest.chars().count() >= LEAST;
    let cut =
        ["ing", "ed", "es", "s"].iter().find_map(|ending| word.strip_suffix(ending).filter(long_enough));
    let mut stem = cut.unwrap_or(word);
    stem = stem.strip_suffix('e').filter(long_enough).unwrap_or(stem);
    // "spinning" is "spin".
    let mut back = stem.chars().rev();
    if cut.is_some()
        && let (Some(last), Some(before)) = (back.next(), back.next())
        && last == before
        && !"aeiouls".contains(last)
    {
        stem = stem.get(..stem.len() - last.len_utf8()).unwrap_or(stem);
    }
    stem.to_owned()
}
