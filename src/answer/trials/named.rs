//! What was tried and how it stood, in the words of the book: `bar-hole front`, `3`.
//!
//! Must not know effects.

use super::super::value;
use crate::Compiled;
use crate::book::model::{KindId, PartId};
use crate::book::place::Place;
use crate::trials::{Aside, Factor, Level, Trial, number};
use crate::words;

/// The thing a trial is of, without its place: "bar-hole", "damper", "the driver".
#[must_use]
pub fn factor(compiled: &Compiled, factor: Factor) -> String {
    match factor {
        Factor::Setting(quantity) => compiled.book.vocabulary.get(quantity).name.to_string(),
        Factor::Parts(kind) => kind_name(compiled, kind),
        Factor::Driver => "the driver".to_owned(),
        Factor::Weather => "the weather".to_owned(),
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
fn spots(compiled: &Compiled, places: &[Place]) -> String {
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

/// "bar-hole front 3": each of its settings with the thing.
#[must_use]
pub fn full(compiled: &Compiled, trial: &Trial) -> Vec<String> {
    let what = what(compiled, trial);
    let settings = settings(compiled, trial);
    settings.iter().map(|text| format!("{what} {text}").trim_end().to_owned()).collect()
}

fn nth(index: usize) -> String {
    ["first", "second", "third"]
        .get(index)
        .map_or_else(|| format!("the {}th time", index + 1), |word| (*word).to_owned())
}

/// The places at which its settings differ.
fn places(compiled: &Compiled, trial: &Trial) -> Vec<Place> {
    let places: Vec<Place> = match trial.levels.first() {
        Some(Level::Setting(values)) => values.iter().map(|value| value.0).collect(),
        Some(Level::Parts(parts)) => parts.iter().map(|part| part.0).collect(),
        _ => Vec::new(),
    };
    let differing = number::differing(compiled.facts(), &trial.levels);
    differing.iter().filter_map(|place| places.get(*place)).copied().collect()
}

fn setting(compiled: &Compiled, level: &Level, places: &[Place]) -> String {
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

/// Why a run does not count.
#[must_use]
pub fn aside(compiled: &Compiled, why: &Aside) -> String {
    match why {
        Aside::NoLap => "no lap time that counts".to_owned(),
        Aside::Stopped(word) => word.clone(),
        Aside::Failed => "something failed or was hit in it".to_owned(),
        Aside::Short { laps, usual } => {
            format!("{}, where {usual} are usual", words::count(*laps, "lap", "laps"))
        }
        Aside::ChangedDuring(quantity) => {
            format!("{} was changed during it", compiled.book.vocabulary.get(*quantity).name)
        }
        Aside::Unknown(of) => format!("not known: {}", factor(compiled, *of)),
        Aside::Otherwise(of) => format!("{} differed", factor(compiled, *of)),
        Aside::FewThatDay => "fewer than three runs that day".to_owned(),
    }
}
