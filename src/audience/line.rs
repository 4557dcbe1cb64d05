//! A line emptied of what its reader may not have.
//!
//! Must not know texts.

use super::Fate;
use super::scope::Scope;
use super::sums;
use crate::book::entry::{By, Entry, Extra, JobFacts, NONE, PartFacts, Run, Verb};

/// The entry itself.
pub(super) fn entry(entry: &mut Entry, fate: Fate) {
    if fate == Fate::Read {
        return;
    }
    entry.withheld = true;
    entry.by = By::Nobody;
    entry.item_count = 0;
    match fate {
        Fate::Read => {}
        Fate::Fact => {
            if entry.verb != Verb::Run {
                entry.quantity = u16::MAX;
            }
        }
        Fate::Unknown => {
            entry.broken = true;
            entry.subject = NONE;
        }
        Fate::Gone => {
            entry.broken = false;
            entry.quantity = u16::MAX;
            if entry.verb == Verb::Run {
                // A session's end still says when the lines below it stand; a void one is no session.
                entry.void = true;
            } else {
                entry.verb = Verb::Note;
                entry.void = false;
                entry.subject = NONE;
            }
        }
    }
}

/// What it says beyond its values; nothing of a line that is gone.
pub(super) fn extra(scope: &Scope<'_>, entry: &Entry, extra: &Extra, fate: Fate) -> Option<Extra> {
    let money = scope.money(entry);
    let parts = |facts: &PartFacts| {
        Box::new(PartFacts {
            money: facts.money.filter(|_| money),
            invoice: facts.invoice.filter(|_| money && fate == Fate::Read),
            ..facts.clone()
        })
    };
    match fate {
        Fate::Read => {
            let mut kept = extra.clone();
            kept.parts = extra.parts.as_deref().map(parts);
            if !money && let Some(facts) = kept.costs.as_mut() {
                (facts.sum, facts.rate, facts.invoice) = (None, None, None);
                (facts.minutes, facts.split) = (None, None);
            }
            if !money && sums::is_about_money(entry) {
                kept.from = None;
            }
            Some(kept)
        }
        Fate::Fact => Some(Extra {
            parts: extra.parts.as_deref().map(parts),
            // When it happened is part of the fact.
            during: extra.during,
            after: extra.after,
            lap: extra.lap,
            job_facts: extra.job_facts.as_ref().map(|facts| {
                Box::new(JobFacts { planned: facts.planned, event: facts.event, ..JobFacts::default() })
            }),
            ..Extra::default()
        }),
        Fate::Unknown | Fate::Gone => None,
    }
}

/// A session of which only the use counts: how many laps, not how fast.
pub(super) fn run(run: &mut Run) {
    laps(run);
    run.best = None;
}

/// Lap times that he may not read: how many there were stays.
pub(super) fn laps(run: &mut Run) {
    if run.laps.is_none() && !run.times.is_empty() {
        run.laps = Some(run.times.len() as u32);
    }
    run.times.clear();
}
