//! The driver's words that somebody asks for: when they were said of the car, and what was changed next.
//!
//! Must not know stems, nor what is told of one case ([`super::before`]).

use super::before::{self, Phrase, all_heard};
use super::phrase::{Felt, asked_for};
use crate::book::model::CarId;
use crate::book::names::nearest;
use crate::history::sessions::Session;
use crate::report::teller::Teller;
use crate::report::words;
use crate::words::or_nearest;
use serde::Serialize;
use std::collections::BTreeSet;

/// Words that were asked for.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AskedWords {
    /// "entry push".
    pub words: String,
    /// When they were said, a phase each.
    pub phrases: Vec<Phrase>,
    /// Where they never were, so: "never said of this car in this book; did you mean `push`?"; empty where they were.
    pub never: String,
}

/// What was asked for; `sessions` are the last ones.
pub(super) fn asked(tell: &Teller<'_>, car: CarId, sessions: &[&Session]) -> Vec<AskedWords> {
    if tell.asked.is_empty() {
        return Vec::new();
    }
    let (all, heard) = all_heard(tell, car);
    let first = all.len() - sessions.len();
    let wanted = asked_for(&tell.cx.book.meanings, &tell.asked);
    let one = |felt: &Felt| {
        // Words without a phase are asked for in each.
        let phases: BTreeSet<&str> = heard.iter().map(|(_, heard)| heard.phase.as_str()).collect();
        let of_phase = |phase: &str| Felt { phase: phase.to_owned(), ..felt.clone() };
        let every: Vec<Felt> = phases.iter().map(|phase| of_phase(phase)).collect();
        let asked = if felt.phase.is_empty() { every.clone() } else { vec![felt.clone()] };
        let at = |felt: &Felt| -> Vec<usize> {
            let mut at: Vec<usize> =
                heard.iter().filter(|(_, other)| other.is_like(felt)).map(|(at, _)| *at).collect();
            at.dedup();
            at
        };
        let phrases: Vec<Phrase> = asked
            .iter()
            .filter_map(|felt| {
                let at = at(felt);
                (!at.is_empty()).then(|| before::phrase(tell, car, &all, felt, [&at, &at], first))
            })
            .collect();
        let elsewhere: Vec<&str> = every
            .iter()
            .filter(|other| !at(other).is_empty())
            .map(|other| if other.phase.is_empty() { "no phase" } else { other.phase.as_str() })
            .collect();
        let never = if !phrases.is_empty() {
            String::new()
        } else if !elsewhere.is_empty() {
            format!(
                "Never said of {} on this car in this book; of {} it was",
                felt.phase,
                words::and(&elsewhere)
            )
        } else {
            format!("Never said of this car in this book{}", or_nearest(near(felt, &heard)))
        };
        AskedWords { words: felt.told(), phrases, never }
    };
    if wanted.is_empty() {
        let never = "No word of it says how the car felt: only a phase, or nothing".to_owned();
        return vec![AskedWords { words: tell.asked.trim().to_owned(), phrases: Vec::new(), never }];
    }
    wanted.iter().map(one).collect()
}

/// The word that was said and is nearest to one that never was.
fn near(felt: &Felt, heard: &[(usize, Felt)]) -> Option<String> {
    let said: BTreeSet<String> = heard
        .iter()
        .flat_map(|(_, felt)| felt.words.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>())
        .collect();
    felt.words.split_whitespace().find_map(|word| nearest(word, said.iter().map(String::as_str)))
}
