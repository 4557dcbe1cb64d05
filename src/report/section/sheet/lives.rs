//! Parts on a car whose life has a limit in use, each with what it has run of it. Limits in calendar time are dated items.
//!
//! Must not know what is due.

use crate::book::model::{CarId, Clock, PartId};
use crate::due::fitted::Fitted;
use crate::history::order::Rank;
use crate::lives::life;
use crate::report::section::aboard::{aboard, what};
use crate::report::teller::Teller;
use crate::words::scale::Scale;
use serde::Serialize;

/// A part with a limit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LivedOf {
    /// The kind and where it is: "coupling LR".
    pub what: String,
    /// The part.
    pub part: String,
    /// What it has run: "82 min".
    pub now: String,
    /// The limit: "300 min".
    pub limit: String,
    /// Whether it is at the limit or over it, or nobody knows.
    pub over: bool,
    /// The line that put it there.
    pub src: String,
}

/// The parts of a car at the moment before a rank whose kind or spec states a limit, those that have least of it left first.
pub(super) fn lives(tell: &Teller<'_>, car: CarId, rank: Rank) -> Vec<LivedOf> {
    let on = aboard(tell, car, rank).into_iter();
    let mut all: Vec<(f64, LivedOf)> = on.filter_map(|one| lived(tell, &one, one.part?, rank)).collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all.into_iter().map(|(_, one)| one).collect()
}

fn lived(tell: &Teller<'_>, fitted: &Fitted, part: PartId, rank: Rank) -> Option<(f64, LivedOf)> {
    let cx = &tell.cx;
    let (limits, _) = cx.book.limits(part);
    let lives = life::of(cx.book, cx.history, part, rank);
    let life = lives.last()?;
    let left = limits
        .iter()
        .filter(|limit| limit.clock != Clock::Months && limit.value > 0.0)
        .map(|limit| (1.0 - life.on(cx.book, limit.clock).value / limit.value, limit));
    let (share, limit) = left.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let now = life.on(cx.book, limit.clock);
    let scale = Scale::typed(limit.clock, cx.text(limit.typed));
    let stay = cx.history.parts.get(part).at(rank);
    Some((
        share,
        LivedOf {
            what: what(tell, fitted),
            part: cx.part(part).to_owned(),
            now: scale.told(now.value, now.at_least),
            limit: scale.words(limit.value),
            over: share <= 0.0,
            src: stay.map_or_else(String::new, |stay| tell.src_of(stay.entry)),
        },
    ))
}
