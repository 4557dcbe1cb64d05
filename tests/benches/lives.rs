//! Every life, everything that `lives` says of every kind, and what is due before the next event.
//!
//! Knows the library.

use super::measure::{middle, once};
use rayon::prelude::*;
use std::collections::BTreeMap;
use stringline::Compiled;
use stringline::answer::due::{DueView, view};
use stringline::answer::lives::{CountedFailures, KindLives, kind};
use stringline::book::model::{EventId, KindId};
use stringline::due::Ask;
use stringline::due::plan::next_event;
use stringline::history::order::Rank;

/// Seconds of each, and what came out.
pub struct Measured {
    lives: f64,
    views: f64,
    due: f64,
    counts: String,
}

impl Measured {
    pub fn seconds(&self) -> f64 {
        self.lives + self.views + self.due
    }

    pub fn words(&self) -> String {
        let Self { lives, views, due, counts } = self;
        format!("lives {lives:.4}, their views {views:.4}, due {due:.4} s; {counts}")
    }
}

fn views(compiled: &Compiled, all: &stringline::lives::Lives) -> Vec<KindLives> {
    let kinds = (0..compiled.book.kinds.len() as u32).into_par_iter().map(KindId::new);
    kinds.filter_map(|id| kind(compiled, all, id, None, &CountedFailures::default())).collect()
}

fn due(compiled: &Compiled, event: EventId) -> DueView {
    view(compiled, Ask { event: Some(event), today: compiled.today, confidence: 0.9 }, false)
}

/// Measures them, and stops where something is refused without its reason.
pub fn measure(compiled: &Compiled, times: usize) -> Measured {
    let of = |work: &dyn Fn() -> f64| middle((0..times).map(|_| work()).collect());
    let all = stringline::lives::lives(&compiled.book, &compiled.history, Rank::END);
    let event = next_event(&compiled.book, &compiled.history, compiled.today).expect("an event ahead");
    Measured {
        lives: of(&|| once(|| stringline::lives::lives(&compiled.book, &compiled.history, Rank::END)).0),
        views: of(&|| once(|| views(compiled, &all)).0),
        due: of(&|| once(|| due(compiled, event)).0),
        counts: counts(&views(compiled, &all), &due(compiled, event)),
    }
}

fn counts(views: &[KindLives], due: &DueView) -> String {
    let specs = || views.iter().flat_map(|view| &view.specs);
    let mut refused: BTreeMap<&str, usize> = BTreeMap::new();
    for spec in specs().filter(|spec| spec.weibull.is_none()) {
        assert!(!spec.no_weibull.is_empty(), "{} is refused without a reason", spec.spec);
        *refused.entry(&spec.no_weibull).or_default() += 1;
    }
    for pair in views.iter().flat_map(|view| &view.against) {
        assert!(!pair.sentence.is_empty() && !pair.how.is_empty(), "{} against {}", pair.first, pair.second);
    }
    for row in &due.rows {
        let told = row.chance.likely.is_some() || !row.chance.text.is_empty() || row.part.is_empty();
        assert!(told, "{} {}: no chance and no reason", row.car, row.part);
    }
    let failed: usize = specs().map(|spec| spec.failed).sum();
    format!(
        "{} lives, {failed} failed; {} specs of {} kinds, {} fitted{}; {} pairs; {} rows due",
        views.iter().map(|view| view.lives.len()).sum::<usize>(),
        specs().count(),
        views.len(),
        specs().filter(|spec| spec.weibull.is_some()).count(),
        refused.iter().fold(String::new(), |text, (why, count)| text + &format!(", {count} refused ({why})")),
        views.iter().map(|view| view.against.len()).sum::<usize>(),
        due.rows.len(),
    )
}
