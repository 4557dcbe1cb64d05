//! What was tried and how it stood, in the words of the book: `bar-hole front`, `3`.
//!
//! Must not know effects.

use super::super::value;
use crate::Compiled;
use crate::book::model::{KindId, PartId};
use crate::book::place::Place;
use crate::history::sessions::SessionId;
use crate::trials::said::weather;
use crate::trials::{Aside, Factor, Level, Trial, number};
use crate::words;

/// The thing a trial is of, without its place: "bar-hole", "damper", "the driver".
#[must_use]
pub fn factor(compiled: &Compiled, factor: Factor) -> String {
    match factor {
        Factor::Setting(quantity) => compiled.book.vocabulary.get(quantity).name.to_string(),
        Factor::Parts(kind) => kind_name(compiled, kind),
        Factor::Driver => "the driver".to_owned(),
        Factor::Weather => "what its line says".to_owned(),
        Factor::Impact => "an impact".to_owned(),
        Factor::Hidden => "something the shop keeps to itself".to_owned(),
    }
}

fn kind_name(compiled: &Compiled, kind: KindId) -> String {
    compiled.book.kinds.get(kind).map_or_else(String::new, |kind| kind.named.typed.to_string())
}

/// The thing with the places at which it differs: "bar-hole front", "camber LF".
#[must_use]
pub fn what(compiled: &Compiled, trial: &Trial) -> String {
    let places = places(compiled, trial);
    format!("{} {}", factor(compiled, trial.factor), spots(compiled, &places)).trim_end().to_owned()
}

/// Places in words: an axle for its two corners, nothing for all four.
pub(super) fn spots(compiled: &Compiled, places: &[Place]) -> String {
    let mut words: Vec<String> = Vec::new();
    let whole = |axle: Place| axle.corners().iter().all(|corner| places.contains(corner));
    if whole(Place::FRONT) && whole(Place::REAR) && places.len() == 4 {
        return String::new();
    }
    for place in places {
        let axle = place.axle().filter(|axle| whole(*axle));
        let word = compiled.book.place_word(axle.unwrap_or(*place));
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words.join(" ")
}

/// Each of its settings.
#[must_use]
pub fn settings(compiled: &Compiled, trial: &Trial) -> Vec<String> {
    let places = places(compiled, trial);
    let all: Vec<String> = trial.levels.iter().map(|level| setting(compiled, level, &places)).collect();
    // What differs only inside, or by a rebuild, has no word of its own.
    all.iter()
        .enumerate()
        .map(|(index, text)| {
            let twin = all.iter().enumerate().any(|(other, one)| other != index && one == text);
            if twin { format!("{text}, as it was {}", nth(index)) } else { text.clone() }
        })
        .collect()
}

/// A trial's words: the thing with its places, and its settings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrialNames {
    /// "bar-hole front".
    pub what: String,
    /// "1", "3": A first.
    pub settings: Vec<String>,
}

impl TrialNames {
    /// Those of a trial.
    #[must_use]
    pub fn of(compiled: &Compiled, trial: &Trial) -> Self {
        Self { what: what(compiled, trial), settings: settings(compiled, trial) }
    }

    /// "3".
    #[must_use]
    pub fn setting(&self, level: usize) -> &str {
        self.settings.get(level).map_or("", String::as_str)
    }

    /// "bar-hole front 3": a setting with the thing.
    #[must_use]
    pub fn full(&self, level: usize) -> String {
        format!("{} {}", self.what, self.setting(level)).trim_end().to_owned()
    }
}

fn nth(index: usize) -> String {
    ["first", "second", "third"]
        .get(index)
        .map_or_else(|| format!("the {}th time", index + 1), |word| (*word).to_owned())
}

/// The places at which its settings differ.
fn places(compiled: &Compiled, trial: &Trial) -> Vec<Place> {
    number::turned(compiled.facts(), &trial.levels).into_keys().collect()
}

pub(super) fn setting(compiled: &Compiled, level: &Level, places: &[Place]) -> String {
    let mut texts: Vec<(String, Vec<Place>)> = Vec::new();
    let mut tell = |place: Place, text: String| match texts.iter_mut().find(|(known, _)| *known == text) {
        Some((_, there)) => there.push(place),
        None => texts.push((text, vec![place])),
    };
    match level {
        Level::Setting(values) => {
            for (place, held) in values.iter().filter(|(place, _)| places.contains(place)) {
                let typed = held.and_then(|(event, key)| {
                    value::of_event(compiled, key.track(&compiled.history)?, &event)
                });
                tell(*place, typed.map_or_else(|| "not set".to_owned(), |typed| typed.text));
            }
        }
        Level::Parts(parts) => {
            for (place, part, ..) in parts.iter().filter(|(place, ..)| places.contains(place)) {
                tell(*place, part.map_or_else(|| "none".to_owned(), |part| part_name(compiled, part)));
            }
        }
        Level::Driver(_) | Level::Weather(_) | Level::Times(_) => {}
    }
    match texts.as_slice() {
        [] => String::new(),
        [(text, _)] => text.clone(),
        texts => {
            let each = texts.iter().map(|(text, places)| format!("{} {text}", spots(compiled, places)));
            each.map(|one| one.trim_start().to_owned()).collect::<Vec<_>>().join(", ")
        }
    }
}

fn part_name(compiled: &Compiled, part: PartId) -> String {
    compiled.book.parts.get(part).map_or_else(String::new, |part| part.named.typed.to_string())
}

/// A thing that changed with what was tried; what the lines of the runs say with its words: "what its line says (new-tyres)".
#[must_use]
pub fn with_it(compiled: &Compiled, trial: &Trial, with: Factor) -> String {
    let name = factor(compiled, with);
    if with != Factor::Weather {
        return name;
    }
    let of_runs: Vec<Vec<String>> = trial.runs.iter().map(|run| said(compiled, run.session)).collect();
    let mut differ: Vec<&str> = of_runs
        .iter()
        .flatten()
        .filter(|word| !of_runs.iter().all(|said| said.contains(word)))
        .map(String::as_str)
        .collect();
    differ.sort_unstable();
    differ.dedup();
    if differ.is_empty() { name } else { format!("{name} ({})", differ.join(", ")) }
}

fn said(compiled: &Compiled, session: SessionId) -> Vec<String> {
    weather(compiled.facts(), compiled.history.sessions.get(session))
}

/// Why a run does not count.
#[must_use]
pub fn aside(compiled: &Compiled, why: &Aside, run: Option<SessionId>) -> String {
    match why {
        Aside::Hidden => "this reader may not read it".to_owned(),
        Aside::NoLap => "no lap time that counts".to_owned(),
        Aside::Stopped(word) => word.clone(),
        Aside::OtherWay => "it was of another length: another road".to_owned(),
        Aside::Failed => "something failed or was hit in it".to_owned(),
        Aside::Short { laps, usual } => {
            format!("{}, where {usual} are usual", words::count(*laps, "lap", "laps"))
        }
        Aside::PartsDuring => "parts were changed during it".to_owned(),
        Aside::ChangedDuring(quantity) => {
            format!("{} was changed during it", compiled.book.vocabulary.get(*quantity).name)
        }
        Aside::Unknown(of) => format!("not known: {}", factor(compiled, *of)),
        Aside::Otherwise(Factor::Weather) => {
            let words = run.map_or_else(Vec::new, |run| said(compiled, run));
            if words.is_empty() {
                "its line says nothing of what the others' say".to_owned()
            } else {
                format!("its line says {}", words::and(&words))
            }
        }
        Aside::Otherwise(of) => format!("{} differed", factor(compiled, *of)),
        Aside::FewThatDay => "fewer than three runs that day".to_owned(),
    }
}
