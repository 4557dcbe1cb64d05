//! The turns that bring the cross to what was asked: by the car's own moves, by springs and tracks, and which of the two is surer.
//!
//! Must not know rendering.

use super::statics::figure;
use crate::Compiled;
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::Calc;
use crate::history::moment::Moment;
use crate::history::order::Rank;
use crate::units::{DimensionId, number, table};
use crate::words;
use crate::worth::solve::{self, Turns};
use crate::worth::{Outcome, Worth};
use serde::Serialize;

/// The turns that bring cross-weight to what was asked.
#[derive(Debug, Clone, Serialize)]
pub struct TurnsWanted {
    /// Cross-weight now, per cent.
    pub now: f64,
    /// What was asked, per cent.
    pub asked: f64,
    /// By this car's own moves; null where they do not say.
    pub own: Option<CornerTurns>,
    /// By springs and tracks; null where the book has not what that takes.
    pub statics: Option<CornerTurns>,
    /// `own` or `statics`, whichever is surer; null where there is but one, or none.
    pub surer: Option<&'static str>,
    /// In words, a sentence each.
    pub sentences: Vec<String>,
    /// What the turns by this car's own moves are made of; null where they say nothing of the corners.
    #[serde(skip)]
    pub made_of: Option<OwnTurns>,
}

/// What the turns by a car's own moves are made of.
#[derive(Debug, Clone, Serialize)]
pub struct OwnTurns {
    /// The change of cross-weight that is wanted, per cent.
    pub change: f64,
    /// The axles that are turned.
    pub axles: Vec<AxleTurns>,
    /// The standard error of the change, per cent.
    pub error: f64,
    /// How far one weighing scatters, per cent.
    pub scatter: f64,
    /// Student's t at 0.95.
    pub t: f64,
    /// How far the cross may come out from what was asked, either way, per cent.
    pub within: f64,
    /// Corners that would be turned further than they ever were: nothing is said then.
    pub beyond: Vec<String>,
}

/// An axle whose two ends are turned by as much, one up and one down.
#[derive(Debug, Clone, Serialize)]
pub struct AxleTurns {
    /// The corner that is turned up for more cross.
    pub up: String,
    /// What a turn there is worth, per cent of cross.
    pub up_worth: f64,
    /// The corner that is turned down.
    pub down: String,
    /// What a turn there is worth.
    pub down_worth: f64,
    /// What a turn of both is worth.
    pub worth: f64,
    /// How far they are to be turned.
    pub turns: f64,
}

/// The turns of the corners.
#[derive(Debug, Clone, Serialize)]
pub struct CornerTurns {
    /// Each corner with its turns, up the body positive.
    pub turns: Vec<(String, f64)>,
    /// How far the cross may come out from what was asked, either way, per cent; null where nobody can say.
    pub within: Option<f64>,
}

/// The turns, where a cross is asked for, one was read, and the two differ.
pub(super) fn wanted(
    compiled: &Compiled,
    car: CarId,
    until: Rank,
    all: &[Worth],
    doubted: bool,
) -> Option<TurnsWanted> {
    let mut calc = Calc::new(compiled.facts(), car, &Moment::of_rank(until));
    let asked = calc.asked("cross-weight", Place::CAR).ok()?.value;
    let cross = calc.value("cross-weight", Place::CAR).ok()?;
    // What was weighed before something else was changed says nothing of the car as it stands.
    if cross.stale.is_some() || !cross.value.is_finite() || !asked.is_finite() {
        return None;
    }
    let change = asked - cross.value;
    let places = 1;
    if number::format(change.abs() * 100.0, places) == number::format(0.0, places) {
        return None;
    }
    let turn =
        table().find_one("turn", DimensionId::TURN).map_or(1.0, |unit| unit.get().difference_to_si(1.0));
    let perch = compiled.book.vocabulary.find("perch");
    // What the pads say of the cross, else what was read of it.
    let by_perch = |outcome: Option<Outcome>| {
        let one = all.iter().find(|one| Some(one.outcome) == outcome && Some(one.cause) == perch)?;
        solve::turns(one.slopes.as_ref().ok()?, change)
    };
    let vocabulary = &compiled.book.vocabulary;
    let pads = vocabulary.find("weight").map(Outcome::Cross);
    let read = vocabulary.find("cross-weight").map(|id| Outcome::Reading(id, Place::CAR));
    let own = by_perch(pads).or_else(|| by_perch(read));
    let statics = by_statics(&mut calc, turn);
    let mut sentences = vec![format!(
        "Cross-weight is {} %, and {} % is asked",
        number::format(cross.value * 100.0, places),
        number::format(asked * 100.0, places)
    )];
    let named = |place: Place| compiled.book.place_word(place);
    let listed = |turns: &[(Place, f64)]| {
        let each = turns.iter().map(|(place, by)| format!("{} {}", named(*place), number::signed(*by, 2)));
        each.collect::<Vec<_>>().join(", ")
    };
    let own_turns =
        own.as_ref().map(|own| own.turns.iter().map(|(place, by)| (*place, by / turn)).collect::<Vec<_>>());
    let mut view = TurnsWanted {
        now: cross.value * 100.0,
        asked: asked * 100.0,
        own: None,
        statics: None,
        surer: None,
        sentences: Vec::new(),
        made_of: own.as_ref().map(|own| made_of(compiled, own, turn)),
    };
    if let Some((own, turns)) = own.as_ref().zip(own_turns.as_ref()) {
        if own.beyond.is_empty() {
            sentences.push(format!(
                "By this car's own moves: {} turn, and the middle of each axle keeps its height; cross-weight then comes within {} % of it",
                listed(turns),
                number::format((own.half * 100.0).max(0.01), 2)
            ));
            view.own = Some(CornerTurns {
                turns: turns.iter().map(|(place, by)| (named(*place), *by)).collect(),
                within: Some(own.half * 100.0),
            });
        } else {
            let far: Vec<String> = own.beyond.iter().map(|place| named(*place)).collect();
            sentences.push(format!(
                "By this car's own moves nothing is said: {} would be turned further than it ever was between two weighings; go part of the way and weigh again",
                words::and(&far)
            ));
        }
    }
    if let Some((turns, u)) = &statics {
        let but = if doubted { ", which is not what this car's own moves bear out" } else { "" };
        sentences.push(format!("By springs and tracks: {} turn{but}", listed(turns)));
        view.statics = Some(CornerTurns {
            turns: turns.iter().map(|(place, by)| (named(*place), *by)).collect(),
            within: u.map(|u| 2.0 * u * change.abs() * 100.0),
        });
    }
    if let (Some(own), Some((_, share))) = (own.as_ref().filter(|_| view.own.is_some()), &statics) {
        let (surer, words) = which(own, *share, change);
        view.surer = Some(surer);
        sentences.push(words.to_owned());
    }
    if sentences.len() < 2 {
        return None;
    }
    view.sentences = sentences;
    Some(view)
}

/// What the turns are made of, per cent and turns.
fn made_of(compiled: &Compiled, own: &Turns, turn: f64) -> OwnTurns {
    let named = |place: Place| compiled.book.place_word(place);
    let turned =
        |place: Place| own.turns.iter().find(|(at, _)| *at == place).map_or(0.0, |(_, by)| by / turn);
    OwnTurns {
        change: own.change * 100.0,
        axles: own
            .axles
            .iter()
            .map(|axle| AxleTurns {
                up: named(axle.up.0),
                up_worth: axle.up.1 * turn * 100.0,
                down: named(axle.down.0),
                down_worth: axle.down.1 * turn * 100.0,
                worth: axle.worth() * turn * 100.0,
                turns: turned(axle.up.0),
            })
            .collect(),
        error: own.error * 100.0,
        scatter: own.scatter * 100.0,
        t: own.t,
        within: own.half * 100.0,
        beyond: own.beyond.iter().map(|place| named(*place)).collect(),
    }
}

/// Which of the two says it more surely: the one whose change is known more closely.
fn which(own: &Turns, share: Option<f64>, change: f64) -> (&'static str, &'static str) {
    match share {
        Some(share) if share * change.abs() < own.error => {
            ("statics", "Springs and tracks are the surer here: the car's own moves scatter more")
        }
        Some(_) => ("own", "The car's own moves are the surer"),
        None => {
            ("own", "The car's own moves are the surer: how far off springs and tracks are nobody has said")
        }
    }
}

/// The turns of all four corners by springs and tracks, and the share of the change that is not known.
fn by_statics(calc: &mut Calc<'_>, turn: f64) -> Option<(Vec<(Place, f64)>, Option<f64>)> {
    let mut turns = Vec::new();
    let mut share: Option<f64> = None;
    for place in Place::CORNERS {
        let (value, u) = figure(calc, "perch-turns", place)?;
        turns.push((place, value / turn));
        if let Some(u) = u.filter(|_| value != 0.0) {
            share = Some(share.unwrap_or(0.0).max((u / value).abs()));
        }
    }
    Some((turns, share))
}
