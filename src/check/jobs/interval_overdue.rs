//! `interval-overdue`: a part or a car ran past the time when work on it comes round again.

use crate::history::order::Rank;
use crate::book::model::{Clock, PartId, Work};
use crate::check::{Check, Context, Family, Look, follow, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::intervals::{self, Round, Since, Start};
use crate::history::sessions::Session;
use crate::history::slots::Owner;
use crate::history::tally::Tally;

/// The check.
pub const CHECK: Check = Check {
    name: "interval-overdue",
    severity: Severity::Warning,
    family: Family::Jobs,
    brief: "a part or a car ran past the time when work on it comes round again",
    why: "The kind, or the car, says after how much use something is to be looked at, tightened, filled or rebuilt; this \
          session took it past that. Use is counted from the line that did the work last, or from new, in assemblies \
          too; where some of it is not known the message says \"at least\". What was never done in the book on a car is \
          counted from its first line.",
    wrong: "kind coupling fits LR on heron  every 30 min inspect\n...\n  09:00..09:40 run s1",
    right: "kind coupling fits LR on heron  every 30 min inspect\n...\n  09:00..09:25 run s1\n  inspect cp-1 good \"no cracks\"",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let rounds = intervals::rounds(cx.book, cx.history);
    if rounds.is_empty() {
        return;
    }
    let doubt = (!cx.book.troubles.is_empty()).then(|| follow::Doubt::of(cx));
    for round in &rounds {
        // A refused line that names the part or the quantity may have been the work.
        if doubt.as_ref().is_some_and(|doubt| doubt.names_anywhere(&subject(cx, round))) {
            continue;
        }
        for (at, start) in round.starts.iter().enumerate().filter(|(_, start)| start.sure) {
            let until = round.starts.get(at + 1).map_or(Rank::END, |next| next.rank);
            out.extend(past(cx, round, start, until));
        }
    }
}

/// The name that a line of the work has on it.
fn subject(cx: &Context<'_>, round: &Round<'_>) -> String {
    match (round.owner, round.every.work) {
        (_, Work::Quantity(_, quantity)) => cx.quantity(quantity).name.to_string(),
        (Owner::Part(part), Work::Part(_)) => cx.part(part).to_owned(),
        (Owner::Car(car), Work::Part(_)) => cx.car(car).to_owned(),
    }
}

/// The first session that goes past the interval.
fn past(cx: &Context<'_>, round: &Round<'_>, start: &Start, until: Rank) -> Option<Diagnostic> {
    let limit = round.every.amount.value * 1.000_001;
    let mut used = Tally::default();
    let mut before = start.rank;
    for session in intervals::ran(cx.book, cx.history, round.owner, start.rank, until) {
        if let Owner::Part(part) = round.owner {
            // What came back before this session, and not before the one above.
            let lent = cx.history.parts.get(part).lent_between(before, session.rank);
            for loan in lent.filter(|loan| loan.back.is_some_and(|(back, _)| back < session.rank)) {
                used.add_away(loan.ran(cx.book, session.rank));
            }
        }
        before = session.rank;
        used.add(&session);
        let mut since = round.since(cx.book, cx.history, start, &used, session.last);
        if since.value <= limit {
            continue;
        }
        if told::is_ahead(cx, session.date) || told::is_misdated(cx, &session) {
            return None;
        }
        since.at_least |= !intervals::sure(cx.history, round.owner, start.rank, session.rank);
        return Some(message(cx, round, start, since, &session));
    }
    None
}

fn message(cx: &Context<'_>, round: &Round<'_>, start: &Start, since: Since, session: &Session) -> Diagnostic {
    let every = round.every;
    let typed = cx.text(every.amount.typed);
    let at_least = if since.at_least { "at least " } else { "" };
    let amount = told::amount(every.amount.clock, since.value, typed);
    let (name, work) = words(cx, round);
    let on = match round.owner {
        Owner::Part(_) => format!(" on {}", cx.car(session.car)),
        Owner::Car(_) => String::new(),
    };
    let reached = format!("{name} reaches {at_least}{amount}");
    let there = format!("in {}{on}", told::session(cx, session));
    let message = match (start.entry, round.owner) {
        (Some(entry), _) => {
            let when = cx.when(entry, session.label);
            format!("{reached} {there} since `{work}` ({when}); that comes round every {typed}.")
        }
        (None, owner) => {
            let since = match owner {
                Owner::Car(_) => "since the book began",
                Owner::Part(_) if every.amount.clock == Clock::Months => "since it was first fitted",
                Owner::Part(_) => "since new",
            };
            format!("{reached} {since} {there}; `{work}` comes round every {typed}.")
        }
    };
    let message = CHECK.at(session.label, message).and(every.typed, "how often");
    let message = match start.entry {
        Some(entry) => message.and(cx.entry(entry).span(), "done last here"),
        None => message,
    };
    message.cure(format!("write `{work}` where it was done; correct the interval if it is wrong"))
}

/// Whose interval it is, and the work as a line of the ledger has it.
fn words(cx: &Context<'_>, round: &Round<'_>) -> (String, String) {
    let name = |part: PartId| cx.part(part).to_owned();
    match (round.owner, round.every.work) {
        (Owner::Part(part), Work::Part(verb)) => (name(part), format!("{} {}", verb.word(), cx.part(part))),
        (Owner::Part(part), Work::Quantity(verb, quantity)) => {
            (name(part), format!("{} {}", verb.word(), cx.quantity(quantity).name))
        }
        (Owner::Car(car), Work::Part(verb)) => (cx.car(car).to_owned(), verb.word().to_owned()),
        (Owner::Car(car), Work::Quantity(verb, quantity)) => {
            (cx.car(car).to_owned(), format!("{} {}", verb.word(), cx.quantity(quantity).name))
        }
    }
}
