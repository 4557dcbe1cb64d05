//! Where a part was, stay by stay: from which session to which, what it ran there and what it had run by then.
//!
//! Must not know limits.

use crate::book::entry::{EntryId, Verb};
use crate::book::model::{Clock, PartId};
use crate::history::order::Rank;
use crate::history::parts::{Stay, Where};
use crate::history::tally::Tally;
use crate::history::{partly, usage};
use crate::report::section::{parts, ran};
use crate::report::teller::Teller;
use crate::report::words;
use crate::words::scale::Scale;
use serde::Serialize;

/// One stay, or what ended a life between two.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PartStep {
    /// `stay`, `failed` or `rebuilt`.
    pub sort: &'static str,
    /// "on bittern LR", "in hub-3, on bittern LF", "on the shelf", "failed: split, tear, worn".
    pub what: String,
    /// Since when, at the precision of a session: "6 Jun, ardwell-1 after s2".
    pub from: String,
    /// Until when; empty while it lasts.
    pub until: String,
    /// The sessions it ran there, first to last; empty for none.
    pub ran: String,
    /// What it ran there, clock by clock; empty off the cars.
    pub used: Vec<String>,
    /// What it had run by then since new, clock by clock.
    pub total: Vec<String>,
    /// The line that put it there.
    pub src: String,
    /// The lines of the sessions.
    pub counted: String,
}

/// Every stay in order, with failures and rebuilds where they came.
pub(super) fn steps(tell: &Teller<'_>, part: PartId) -> Vec<PartStep> {
    let cx = &tell.cx;
    let told = cx.history.parts.get(part);
    let clocks = parts::clocks(tell, part);
    let mut marks: Vec<(Rank, &'static str, EntryId)> =
        told.failures.iter().map(|at| (cx.rank(*at), "failed", *at)).collect();
    marks.extend(told.rebuilds.iter().map(|rebuild| (rebuild.rank, "rebuilt", rebuild.entry)));
    marks.sort_by_key(|(rank, ..)| *rank);
    let mut marks = marks.into_iter().peekable();
    let mut sum = Tally::default();
    let mut steps = Vec::new();
    for (at, stay) in told.stays.iter().enumerate() {
        // A move from car to car passes the shelf without lying on it.
        if stay.from == stay.until {
            continue;
        }
        // A line that says it failed as it came off belongs before the place it then went to.
        while let Some((_, sort, entry)) = marks.next_if(|(rank, ..)| *rank <= stay.from) {
            steps.push(mark(tell, part, sort, entry));
        }
        let next = told.stays.get(at + 1);
        steps.push(step(tell, part, stay, next, &clocks, &mut sum));
    }
    steps.extend(marks.map(|(_, sort, entry)| mark(tell, part, sort, entry)));
    steps
}

fn step(
    tell: &Teller<'_>,
    part: PartId,
    stay: &Stay,
    next: Option<&Stay>,
    clocks: &[Clock],
    sum: &mut Tally,
) -> PartStep {
    let cx = &tell.cx;
    let failures = &cx.history.parts.get(part).failures;
    let (sessions, sure) = usage::ran(cx.history, part, stay, stay.from, stay.until);
    let mut here = Tally::default();
    if !sure {
        here.unsure();
        sum.unsure();
    }
    for session in &sessions {
        let session = partly::up_to(cx.book, cx.history, failures, session);
        here.add(&session);
        sum.add(&session);
    }
    let lent = stay.at == Where::Lent;
    let loans = cx.history.parts.get(part).lent_between(stay.from, stay.until);
    for loan in loans.filter(|loan| loan.out.0 >= stay.from) {
        for tally in [&mut here, &mut *sum] {
            tally.add_away(loan.ran(cx.book, Rank::END));
        }
    }
    let scale = |clock: Clock| Scale::of_part(cx.book, cx.files, part, clock);
    let words = |(value, at_least): (f64, bool), clock: Clock| scale(clock).told_of(value, at_least);
    let total = |clock: &Clock| {
        let (value, at_least) = sum.on(*clock);
        let opening = usage::opening(cx.book, part, *clock);
        words((value + opening.unwrap_or(0.0), at_least || opening.is_none()), *clock)
    };
    let on = stay.car.is_some() || lent;
    PartStep {
        sort: "stay",
        what: place(tell, stay, stay.from),
        from: tell.since(stay.entry, stay.from),
        until: next.map_or_else(String::new, |next| tell.since(next.entry, next.from)),
        ran: ran::words(tell, &sessions),
        used: if on {
            clocks.iter().map(|clock| words(here.on(*clock), *clock)).collect()
        } else {
            Vec::new()
        },
        total: if on { clocks.iter().map(total).collect() } else { Vec::new() },
        src: tell.src_of(stay.entry),
        counted: ran::src(tell, &sessions),
    }
}

/// What ended a life.
fn mark(tell: &Teller<'_>, part: PartId, sort: &'static str, index: EntryId) -> PartStep {
    let cx = &tell.cx;
    let line = tell.entry(index);
    let fields =
        line.and_then(|line| cx.book.extra(line)).and_then(|extra| extra.failure.as_deref()).copied();
    let fields = fields.unwrap_or_default();
    let said: Vec<String> = [fields.mode, fields.mechanism, fields.cause]
        .into_iter()
        .flatten()
        .map(|span| cx.text(span).replace('-', " "))
        .collect();
    let said = if said.is_empty() { String::new() } else { format!(": {}", said.join(", ")) };
    let run = cx.history.during(cx.book, index).and_then(|run| tell.session(run));
    let run = run.filter(|_| line.is_some_and(|line| line.verb == Verb::Failed));
    let day = cx.history.day_of(cx.book, index);
    let with = line.filter(|line| line.part() != Some(part)).map_or("", |_| " with what it is in");
    PartStep {
        sort,
        what: format!("{sort}{with}{said}"),
        from: match run.zip(day) {
            Some((session, day)) => {
                format!("{} {}, {}", words::short(day), day.year(), ran::session(tell, session))
            }
            None => tell.since(index, cx.rank(index)),
        },
        until: String::new(),
        ran: String::new(),
        used: Vec::new(),
        total: Vec::new(),
        src: tell.src_of(index),
        counted: String::new(),
    }
}

/// "on bittern LR", "in hub-3, on bittern LF", "on the shelf".
pub(super) fn place(tell: &Teller<'_>, stay: &Stay, rank: Rank) -> String {
    let cx = &tell.cx;
    if let Some((car, place)) = stay.carried {
        return format!("carried in {}, {}", cx.car(car), cx.place(place));
    }
    match stay.at {
        Where::Inside(holder) => {
            let on = outermost(tell, holder, rank).map_or_else(String::new, |on| format!(", {on}"));
            format!("in {}{on}", cx.part(holder))
        }
        there => cx.place_words(there),
    }
}

/// "on bittern LF" of the car that an assembly is on at a rank, however deep; `None` off the cars.
fn outermost(tell: &Teller<'_>, holder: PartId, rank: Rank) -> Option<String> {
    let cx = &tell.cx;
    let mut outer = holder;
    // Assemblies never hold themselves; the count guards against a book that says so.
    for _ in 0..64 {
        match cx.history.parts.get(outer).at(rank.next())?.at {
            Where::Inside(next) => outer = next,
            there @ Where::Car(..) => return Some(cx.place_words(there)),
            _ => return None,
        }
    }
    None
}
