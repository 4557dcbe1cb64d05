//! What parts have run of their limits, drawn: one bar a part, its limit as the tick, the event ahead as the hatched piece.
//!
//! The one place that makes such a drawing, whichever page it stands on. Must not know which parts a page chooses.

use super::aboard::what;
use crate::due::limits::{Reach, Standing};
use crate::due::row::Row;
use crate::report::chart::bars::{BarSeries, BarsChart, bars};
use crate::report::chart::{Table, Words};
use crate::report::teller::Teller;
use crate::report::words;
use crate::words::scale::Scale;

/// More bars than these nobody compares; the list beside them has every part.
const MOST: usize = 12;

/// A part's limit to draw.
pub(super) struct LifeOf {
    /// The kind and where it is: "coupling LR".
    pub what: String,
    /// The part.
    pub part: String,
    /// Its limit, what it has of it, and what is to come.
    pub reach: Reach,
}

/// What rows of the list of what is due have run of the limits that decide.
pub(super) fn before<'r>(
    tell: &Teller<'_>,
    id: &str,
    rows: impl Iterator<Item = &'r Row>,
) -> Option<BarsChart> {
    let event = tell.due()?.plan.event?;
    let lives = rows.filter_map(|row| {
        let place = tell.cx.place(row.fitted.place);
        let spot = if place.is_empty() { what(tell, &row.fitted) } else { place };
        Some(LifeOf {
            what: format!("{} {spot}", tell.cx.car(row.fitted.car)),
            part: tell.cx.part(row.fitted.part?).to_owned(),
            reach: *row.reach()?,
        })
    });
    drawn(tell, id, tell.event(event), &lives.collect::<Vec<_>>())
}

/// The drawing of the first of some parts; none of none. `ahead` is what is to come: "quern-27", "an event like its mean".
pub(super) fn drawn(tell: &Teller<'_>, id: &str, ahead: &str, lives: &[LifeOf]) -> Option<BarsChart> {
    let lives = lives.get(..lives.len().min(MOST)).filter(|lives| !lives.is_empty())?;
    let mut rows = Vec::with_capacity(lives.len());
    let mut series = Vec::with_capacity(lives.len());
    for life in lives {
        let reach = &life.reach;
        let typed = tell.cx.text(reach.limit.typed);
        let scale = Scale::typed(reach.limit.clock, typed);
        let share = |value: f64| if reach.limit.value > 0.0 { value / reach.limit.value } else { 0.0 };
        let now = match (reach.now.at_least, reach.now.value > 0.0) {
            (true, false) => "not known".to_owned(),
            (true, true) => format!("at least {}", scale.digits(reach.now.value)),
            (false, _) => scale.digits(reach.now.value),
        };
        series.push(BarSeries {
            name: format!("{} {}", life.what, life.part),
            told: format!("{now} of {typed}"),
            used: share(reach.now.value),
            at_least: reach.now.at_least,
            more: reach.more.map(share),
        });
        rows.push(vec![
            life.part.clone(),
            life.what.clone(),
            now,
            typed.to_owned(),
            reach.after().map_or_else(
                || words::DASH.to_owned(),
                |after| {
                    let least = if reach.now.at_least { "at least " } else { "" };
                    format!("{least}{}", scale.digits(after))
                },
            ),
            stands(reach).to_owned(),
        ]);
    }
    let after = format!("after {ahead}");
    let drawing = Words {
        id: id.to_owned(),
        title: "What has been run of each limit".to_owned(),
        desc: format!(
            "One bar a part, as a share of its own limit, which is the tick. Filled is what it has run, hatched what {ahead} is expected to add; \
             a broken outline is the least it may have run. An arrow: the bar goes on beyond the paper."
        ),
    };
    let head = ["part", "where", "has run", "limit", after.as_str(), "then"];
    Some(bars(drawing, ahead, &series, Table { head: head.map(str::to_owned).to_vec(), rows }))
}

/// How a part stands to its limit, in words.
fn stands(reach: &Reach) -> &'static str {
    match reach.standing() {
        Standing::Over => "at its limit or over it",
        Standing::During => "passes it",
        Standing::Unknown => "nobody can say that it is within",
        Standing::Unplanned => "within now",
        Standing::Soon => "within, and not twice",
        Standing::Within => "within",
    }
}
