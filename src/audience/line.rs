//! A line emptied of what its reader may not have.
//!
//! Must not know texts.

use super::Fate;
use super::scope::Scope;
use super::sums;
use crate::book::clause::ClauseSet;
use crate::book::entry::{
    By, CostFacts, Entry, Extra, Flags, Item, JobFacts, PartFacts, Run, Stretch, Subject, Verb,
};
use crate::book::loan::{LoanFacts, UseAway, Whom};

/// The entry itself; `places` where a line of values with a mistake may say which places it was about.
pub(super) fn entry(entry: &mut Entry, fate: Fate, places: bool) {
    if fate == Fate::Read {
        return;
    }
    entry.withheld = true;
    entry.by = By::Nobody;
    if !(places && fate == Fate::Unknown) {
        entry.item_count = 0;
    }
    match fate {
        Fate::Read => {}
        Fate::Fact => {
            if entry.verb != Verb::Run {
                entry.quantity = None;
            }
        }
        Fate::Unknown => {
            entry.broken = true;
            // Of which part something was read on the bench that he does not know.
            if entry.verb != Verb::Bench {
                entry.subject = Subject::Nothing;
            }
        }
        Fate::Gone => {
            entry.broken = false;
            entry.quantity = None;
            if entry.verb == Verb::Run {
                // A session's end still says when the lines below it stand; a void one is no session.
                entry.void = true;
            } else {
                // A head with nothing else on it is no day of the car's, for a reader either.
                if entry.verb != Verb::Handed {
                    entry.verb = Verb::Note;
                }
                entry.void = false;
                entry.subject = Subject::Nothing;
            }
        }
    }
}

/// A value of a line with a mistake: where on the car it was to be, and nothing else.
pub(super) fn place(item: &mut Item) {
    let Item { si, half, start: _, len, place: _, unit, flags, decimals } = item;
    (*si, *half, *len, *unit, *flags, *decimals) = (0.0, 0.0, 0, None, Flags::UNKNOWN, 0);
}

/// What it says beyond its values; nothing of a line that is gone. Field by field, so that a new one does not compile until
/// somebody has decided who may read it; the words behind spans are masked in the text.
pub(super) fn extra(scope: &Scope<'_>, entry: &Entry, extra: &Extra, fate: Fate) -> Option<Extra> {
    let money = scope.money(entry);
    let read = match fate {
        Fate::Read => true,
        Fate::Fact => false,
        Fate::Unknown | Fate::Gone => return None,
    };
    let Extra {
        conditions,
        over,
        at,
        during,
        lap,
        after,
        because,
        words,
        from,
        from_hard,
        parts,
        failure,
        check,
        job,
        compared,
        job_facts,
        costs,
        result,
        tried,
        handed,
        audience,
        unclear,
    } = extra;
    Some(Extra {
        conditions: if read { conditions.clone() } else { Vec::new() },
        over: over.filter(|_| read),
        at: at.filter(|_| read),
        // When it happened is part of the fact.
        during: *during,
        lap: *lap,
        after: *after,
        because: because.filter(|_| read),
        words: if read { words.clone() } else { Vec::new() },
        // Of money that is not his: from whom, and to whom.
        from: from.filter(|_| read && (money || !sums::is_about_money(entry))),
        from_hard: from_hard.filter(|_| read),
        parts: parts.as_deref().map(|facts| Box::new(part_facts(facts, money, read))),
        failure: failure.clone().filter(|_| read),
        check: check.filter(|_| read),
        job: job.filter(|_| read),
        compared: compared.filter(|_| read),
        job_facts: job_facts.as_deref().map(|facts| Box::new(job_facts_of(facts, read))),
        costs: costs.as_deref().filter(|_| read).map(|facts| Box::new(cost_facts(facts, money))),
        result: result.clone().filter(|_| read),
        tried: tried.clone().filter(|_| read),
        handed: handed.clone().filter(|_| read),
        audience: audience.filter(|_| read),
        unclear: if read { *unclear } else { ClauseSet::NONE },
    })
}

/// What moved where is nobody's secret; what was paid for it is.
fn part_facts(facts: &PartFacts, money: bool, read: bool) -> PartFacts {
    let PartFacts {
        kind,
        place,
        car,
        other,
        verdict,
        more,
        buyer,
        all,
        money: sum,
        money_lost,
        invoice,
        until,
        loan,
        count,
        outfit,
        instead,
    } = facts;
    PartFacts {
        kind: *kind,
        place: *place,
        car: *car,
        other: *other,
        verdict: *verdict,
        more: more.clone(),
        buyer: *buyer,
        all: *all,
        money: sum.filter(|_| money),
        money_lost: *money_lost && money,
        invoice: invoice.filter(|_| money && read),
        until: *until,
        loan: loan.as_deref().map(|loan| Box::new(loan_facts(loan, read))),
        count: *count,
        outfit: outfit.filter(|_| read),
        instead: *instead,
    }
}

/// That it was away, and what it ran there; whose it is and until when is the shop's.
fn loan_facts(facts: &LoanFacts, read: bool) -> LoanFacts {
    let LoanFacts { whom, whom_span: _, until: _, approval: _, away } = facts;
    let away = if read { away.clone() } else { UseAway::Unsaid };
    LoanFacts { whom: whom.map(|_| Whom::Withheld), whom_span: None, until: None, approval: false, away }
}

/// Of a job whose line he may not read only whether it was to wait, and where, counts.
fn job_facts_of(facts: &JobFacts, read: bool) -> JobFacts {
    let JobFacts { planned, part, event, client, until } = facts;
    JobFacts {
        planned: *planned,
        part: part.filter(|_| read),
        event: *event,
        client: client.filter(|_| read),
        until: until.filter(|_| read),
    }
}

/// The work, and the money where it is his.
fn cost_facts(facts: &CostFacts, money: bool) -> CostFacts {
    let CostFacts { sum, minutes, kind, event, client, client_lost, rate, unbilled, back, invoice, split } =
        facts;
    CostFacts {
        sum: sum.filter(|_| money),
        minutes: minutes.filter(|_| money),
        kind: *kind,
        event: *event,
        client: *client,
        client_lost: *client_lost,
        rate: rate.filter(|_| money),
        unbilled: *unbilled,
        back: *back,
        invoice: invoice.filter(|_| money),
        split: split.clone().filter(|_| money),
    }
}

/// A session of which only the use counts: how many laps, not how fast.
pub(super) fn run(run: &mut Run) {
    laps(run);
    let Run {
        entry: _,
        label: _,
        minutes: _,
        laps: _,
        best,
        launches: _,
        heat_cycles: _,
        distance: _,
        road: _,
        times: _,
        yellow: _,
        stretches,
    } = run;
    *best = None;
    stretches.iter_mut().for_each(stretch);
}

/// A part of a session of which only the use counts.
pub(super) fn stretch(stretch: &mut Stretch) {
    let Stretch { entry: _, label: _, course: _, minutes: _, laps: _, best, distance: _, road: _ } = stretch;
    *best = None;
}

/// Lap times that he may not read: how many there were stays.
pub(super) fn laps(run: &mut Run) {
    if run.laps.is_none() && !run.times.is_empty() {
        run.laps = Some(run.times.len() as u32);
    }
    run.times.clear();
    run.yellow = 0;
}
