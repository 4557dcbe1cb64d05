//! What a driver said of a phase of the corner, so that the same words are found again: "pushes" is "push" is "understeer".
//!
//! Must not know which words are one (`book::meaning`), nor who said them.

use crate::book::meaning::Meanings;

/// Phases of a corner.
const PHASES: [&str; 3] = ["entry", "mid", "exit"];

/// Words that ask for no cure.
const WELL: [&str; 7] = ["neutral", "balanced", "good", "better", "fine", "happy", "planted"];

/// What was said of a phase; the phase is empty where none was named.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Felt {
    /// "entry", "mid", "exit" or empty.
    pub phase: String,
    /// As typed.
    pub words: String,
    /// The stems that stand for its words.
    pub stems: Vec<String>,
}

/// Reads "entry push, exit neutral".
pub(super) fn felt(meanings: &Meanings, graded: &str) -> Vec<Felt> {
    graded.split(',').filter_map(|said| one(meanings, said)).collect()
}

fn one(meanings: &Meanings, said: &str) -> Option<Felt> {
    let mut words: Vec<&str> = said.split_whitespace().collect();
    let phase = words.first().map(|word| word.to_lowercase()).filter(|word| PHASES.contains(&word.as_str()));
    if phase.is_some() {
        words.remove(0);
    }
    let stems: Vec<String> =
        felt_of(&words).iter().map(|word| meanings.one(word)).filter(|stem| !stem.is_empty()).collect();
    (!stems.is_empty()).then(|| Felt { phase: phase.unwrap_or_default(), words: words.join(" "), stems })
}

/// The words that say what is felt: "not push" and "push gone" say that it is not.
fn felt_of<'a>(words: &[&'a str]) -> Vec<&'a str> {
    let is = |at: Option<usize>, of: &[&str]| {
        let word = at.and_then(|at| words.get(at));
        word.is_some_and(|word| of.contains(&word.to_lowercase().as_str()))
    };
    let denied = |at: usize| is(at.checked_sub(1), &DENIES) || is(Some(at + 1), &["gone"]);
    let kept = words.iter().enumerate().filter(|(at, _)| {
        let gone = *at > 0 && is(Some(*at), &["gone"]);
        let passed = denied(*at) || gone || is(Some(*at), &DENIES);
        !passed
    });
    kept.map(|(_, word)| *word).collect()
}

/// Words that take back the one after them.
const DENIES: [&str; 4] = ["no", "not", "never", "without"];

/// Reads what somebody asks for: the phase before the words or behind them, or alone between commas, and then of what stands before it:
/// "entry push", "push entry", "push, entry".
pub(super) fn asked_for(meanings: &Meanings, asked: &str) -> Vec<Felt> {
    let mut pieces: Vec<(String, String)> = Vec::new();
    for piece in asked.split(',') {
        let is_phase = |word: &&str| PHASES.contains(&word.to_lowercase().as_str());
        let (phases, words): (Vec<&str>, Vec<&str>) = piece.split_whitespace().partition(is_phase);
        let (phase, words) =
            (phases.first().map_or_else(String::new, |phase| phase.to_lowercase()), words.join(" "));
        match pieces.last_mut() {
            Some((of, _)) if words.is_empty() && of.is_empty() => *of = phase,
            Some((of, said)) if said.is_empty() && phase.is_empty() && !of.is_empty() => *said = words,
            _ => pieces.push((phase, words)),
        }
    }
    let read = |(phase, words): &(String, String)| one(meanings, &format!("{phase} {words}"));
    pieces.iter().filter_map(read).collect()
}

impl Felt {
    /// "entry push".
    pub fn told(&self) -> String {
        format!("{} {}", self.phase, self.words).trim_start().to_owned()
    }

    /// Whether it asks for no cure.
    pub fn is_well(&self, meanings: &Meanings) -> bool {
        self.stems.iter().all(|word| WELL.iter().any(|well| meanings.one(well) == *word))
    }

    /// Whether two are of one phase and share a word.
    pub fn is_like(&self, other: &Self) -> bool {
        self.phase == other.phase && self.stems.iter().any(|word| other.stems.contains(word))
    }
}
