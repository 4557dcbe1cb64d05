//! What a turn of each setting is worth on a car, by its own lines, and the turns that bring the cross to what was asked.
//!
//! Must not know how it is worked out, nor which page it stands on.

use super::balance::{self, ShownBalance};
use crate::answer::worth::{TurnWorth, build};
use crate::book::entry::EntryId;
use crate::book::model::CarId;
use crate::history::order::Rank;
use crate::report::sources;
use crate::report::teller::Teller;
use serde::Serialize;

/// What turns are worth.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownWorth {
    /// What was turned often enough.
    pub turns: Vec<ShownTurn>,
    /// What running makes of what is read: hot pressures by the track and the cold pressure, oil by the tape on its cooler.
    pub hot: Vec<ShownTurn>,
    /// What was turned, and not often enough, each in a sentence.
    pub few: Vec<String>,
    /// The turns that bring the cross to what was asked, a sentence each; empty where nothing is asked, or it is there.
    pub balance: Vec<String>,
    /// The same on the car from above, with what was weighed; none where no perch was turned from a weighing, and nothing is asked.
    pub drawn: Option<ShownBalance>,
    /// What to look for where springs and tracks say otherwise; empty where they do not.
    pub look_for: String,
}

/// One setting at one place.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownTurn {
    /// What it is worth, in a sentence.
    pub sentence: String,
    /// What springs and tracks say of it; empty where they say nothing.
    pub statics: String,
    /// The lines it was read on.
    pub src: String,
}

/// What a car's settings are worth from the lines before a rank; none where nothing was turned, and nothing is asked.
pub(in crate::report) fn view(tell: &Teller<'_>, car: CarId, until: Rank) -> Option<ShownWorth> {
    let answer = build(tell.compiled, car, until);
    let drawn = balance::view(tell, car, until, &answer);
    if answer.turns.is_empty()
        && answer.hot.is_empty()
        && answer.few.is_empty()
        && answer.balance.is_none()
        && drawn.is_none()
    {
        return None;
    }
    let shown = |sentence: &str, statics: &str, lines: &[EntryId]| ShownTurn {
        sentence: sentence.to_owned(),
        statics: statics.to_owned(),
        src: sources::lines(tell.cx.files, lines.iter().filter_map(|line| Some(tell.entry(*line)?.span()))),
    };
    let turn = |turn: &TurnWorth| {
        let statics = turn.statics.as_ref().map_or("", |statics| &statics.sentence);
        shown(&turn.sentence, statics, &turn.readings)
    };
    Some(ShownWorth {
        turns: answer.turns.iter().map(turn).collect(),
        hot: answer.hot.iter().map(|one| shown(&one.sentence, "", &one.readings)).collect(),
        few: answer.few.iter().map(|few| few.sentence.clone()).collect(),
        drawn,
        balance: answer.balance.map(|balance| balance.sentences).unwrap_or_default(),
        look_for: answer.look_for.to_owned(),
    })
}
