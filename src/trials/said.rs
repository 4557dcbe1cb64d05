//! What the line of a run says of it in words.
//!
//! Must not know trials.

use crate::history::Facts;
use crate::history::sessions::Session;

/// Words on a run's line that say it was stopped or held up. Common practice.
const STOPPED: [&str; 6] = ["red-flag", "yellow-flag", "safety-car", "oil-down", "stopped", "aborted"];

/// Whether a word says that a run was stopped or held up: `red-flag`, `red-flagged`, `red flag`.
#[must_use]
pub fn stops_a_run(word: &str) -> bool {
    let word = word.replace(' ', "-");
    STOPPED.iter().any(|stop| word.starts_with(stop)) || word == "red"
}

/// What a run's line says of weather and track, in order: without `dry`, which goes without saying, and what stops a run.
#[must_use]
pub fn weather(facts: Facts<'_>, run: &Session) -> Vec<String> {
    let mut words = flags(facts, run);
    words.retain(|word| word != "dry" && !stops_a_run(word));
    words.sort_unstable();
    words
}

/// What a run's line says without a number: `damp`, `red-flag`.
#[must_use]
pub fn flags(facts: Facts<'_>, run: &Session) -> Vec<String> {
    let extra = facts.book.entries.get(run.entry).and_then(|entry| facts.book.extra(entry));
    let words = extra.into_iter().flat_map(|extra| &extra.conditions).filter(|one| one.value.is_none());
    words
        .map(|one| facts.files.text(one.said).split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase())
        .collect()
}
