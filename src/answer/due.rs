//! What is due before an event, as plain data: for the terminal, the wall page and JSON.
//!
//! Must not know rendering. Words are made here so that terminal and page say the same.

mod beside;
mod carry;
mod confidence;
mod ends;
mod gauges;
mod jobs;
mod left;
mod loose;
mod plan;
mod row;
mod work;

pub use crate::answer::due::confidence::confidence_words;
pub use beside::BesideView;
pub use carry::CarryView;
pub use ends::{EndView, NoEndView, TrendView, trend, unit};
pub use gauges::GaugeView;
pub use jobs::DueJob;
pub use left::left;
pub use loose::LooseView;
pub use plan::{CarView, PlanView};
pub use row::{ChanceView, DueRow, SpareView, goes_to};
pub use work::WorkView;

use crate::Compiled;
use crate::due::row::{Action, Row};
use crate::due::spares::Spare;
use crate::due::work::Round;
use crate::due::{Ask, Due, due};
use serde::Serialize;

/// The list.
#[derive(Debug, Clone, Serialize)]
pub struct DueView {
    /// The event, the day the list is made for, the cars and what they are expected to run.
    pub plan: PlanView,
    /// Parts and places, the most pressing first.
    pub rows: Vec<DueRow>,
    /// How many parts of the planned cars need nothing.
    pub left_alone: usize,
    /// Parts off the cars that wait for somebody to look at them: after an impact, or in quarantine.
    pub loose: Vec<LooseView>,
    /// Gauges used at events whose last good day comes before the end of this one.
    pub gauges: Vec<GaugeView>,
    /// What is read over hours and may come to its end before the event is over.
    pub ends: Vec<EndView>,
    /// What comes to its end later.
    pub ends_later: Vec<EndView>,
    /// What is read over hours and has no end that can be told, with why.
    pub no_end: Vec<NoEndView>,
    /// Work that comes round again and falls due.
    pub work: Vec<WorkView>,
    /// Jobs still to do, with what was promised.
    pub jobs: Vec<DueJob>,
    /// Parts lent or borrowed until a day before the end of the event, and kinds of which too few are on hand.
    pub beside: Vec<BesideView>,
    /// Spares to take along, by kind.
    pub carry: Vec<CarryView>,
    /// The confidence that they are enough.
    pub confidence: f64,
    /// How the list comes about, in sentences.
    pub method: Vec<String>,
}

/// Makes the view. With `all`, parts that need nothing are listed too.
#[must_use]
pub fn view(compiled: &Compiled, ask: Ask, all: bool) -> DueView {
    told(compiled, &due(compiled.facts(), ask), ask.confidence, all)
}

/// The view of a list that is made already.
#[must_use]
pub fn told(compiled: &Compiled, made: &Due, confidence: f64, all: bool) -> DueView {
    let rows = made.rows.iter().zip(&made.spares);
    let ending = |soon: bool| -> Vec<EndView> {
        let of = made.trends.iter().filter(|one| one.is_soon() == soon);
        of.filter_map(|one| Some(ends::view(compiled, one, one.end.as_ref().ok()?))).collect()
    };
    DueView {
        plan: plan::view(compiled, made),
        left_alone: made.rows.iter().filter(|row| row.action == Action::Leave).count(),
        rows: rows
            .filter(|(row, _)| all || row.action != Action::Leave)
            .map(|(row, spare)| row::view(compiled, made, row, spare))
            .collect(),
        loose: made.loose.iter().map(|part| loose::view(compiled, part)).collect(),
        gauges: made.gauges.iter().map(|gauge| gauges::view(compiled, *gauge)).collect(),
        ends: ending(true),
        ends_later: ending(false),
        no_end: ends::open(compiled, &made.trends),
        work: made
            .rounds
            .iter()
            .map(|round| work::view(compiled, round))
            .chain(work::unread(compiled, made))
            .collect(),
        jobs: made.jobs.iter().map(|job| jobs::view(compiled, job)).collect(),
        beside: (made.loaned.iter().map(|one| beside::loaned(compiled, one)))
            .chain(made.short.iter().map(|one| beside::short(compiled, one)))
            .collect(),
        carry: made.carry.iter().map(|carry| carry::view(compiled, carry, confidence)).collect(),
        confidence,
        method: method(made),
    }
}

/// One row of a list, whatever is planned of spares.
#[must_use]
pub fn row(compiled: &Compiled, made: &Due, row: &Row) -> DueRow {
    row::view(compiled, made, row, &Spare::NotAsked)
}

/// Work that comes round again.
#[must_use]
pub fn work(compiled: &Compiled, round: &Round) -> WorkView {
    work::view(compiled, round)
}

fn method(made: &Due) -> Vec<String> {
    if made.plan.event.is_none() {
        return vec![
            "Nothing is planned, so this is how things stand: limits that are reached, days that are over, what waits to be looked at. A \
             safety part whose use is not known counts as run out. Whether a part may run is for whoever is answerable for the car to say."
                .to_owned(),
        ];
    }
    let mut list = vec![
        "What a car is expected to run is its own mean over the events it has run in this book.".to_owned(),
        "A limit rules, whatever the statistics: the shorter of the maker's, the series' and the stated one. A safety part \
         whose use is not known counts as run out."
            .to_owned(),
        "The chance is that of failing in what is expected, for a part that has lived as long as this one, by the Weibull distribution \
         of its kind and spec, with the 90 % range its lives allow. Where fewer than five failed the range stands first."
            .to_owned(),
        format!(
            "From a chance of {} on another is taken along, from {} on it is watched. Spares go to the cars in date order, then to the most \
             pressing, then to the greatest chance.",
            crate::words::scale::percent(crate::due::row::CARRY_FROM),
            crate::words::scale::percent(crate::due::row::WATCH_FROM)
        ),
        "Statistics plan, they do not certify. Whether a part may run is for whoever is answerable for the car to say.".to_owned(),
    ];
    if made.carry.iter().any(|carry| carry.wanted.is_some()) {
        list.insert(
            4,
            "Spares to take along are counted place by place from each part's own age: one that has just been renewed hardly fails at once."
                .to_owned(),
        );
    }
    list
}
