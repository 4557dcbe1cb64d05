//! A night: sessions of one car, one close behind the other, that go on past midnight. What they took from the first start to
//! the last end, and how much of it the car stood between them.
//!
//! Instants, not clock faces: a night in which the clock changes is as long as it was. Must not know settings or parts.

use crate::history::sessions::Session;
use crate::report::section::year::is_withheld;
use crate::report::teller::Teller;
use crate::report::words;

/// The longest stand between two sessions, in minutes, that is taken as a stop in one night rather than the end of a day.
const LONGEST_STOP: i32 = 120;

/// The nights among a car's sessions at one event, in words; empty where it did not run past midnight.
pub(in crate::report) fn nights(tell: &Teller<'_>, sessions: &[&Session]) -> String {
    let mut all: Vec<String> = Vec::new();
    let mut night: Vec<&Session> = Vec::new();
    for session in sessions {
        if night.last().is_some_and(|before| session.start - before.end > LONGEST_STOP) {
            all.extend(told(tell, &night));
            night.clear();
        }
        night.push(session);
    }
    all.extend(told(tell, &night));
    all.join("; ")
}

fn told(tell: &Teller<'_>, night: &[&Session]) -> Option<String> {
    let (first, last) = (night.first()?, night.last()?);
    if first.date == last.last {
        return None;
    }
    let name = if night.len() == 1 {
        tell.label(first).to_owned()
    } else {
        format!("{} to {}", tell.label(first), tell.label(last))
    };
    let unsure = |why: &str| Some(format!("{name} past midnight: how long in all is not known, for {why}"));
    // A session whose start or end is not known has no place between the others.
    let order = &tell.cx.history.order;
    let unknown = night.iter().find(|session| session.end <= session.start || !order.decided[session.entry]);
    if let Some(session) = unknown {
        return unsure(&format!("{} has no sure times", tell.label(session)));
    }
    if let Some([session, next]) = night.array_windows().find(|[session, next]| next.start < session.end) {
        return unsure(&format!("{} and {} overlap", tell.label(session), tell.label(next)));
    }
    // What it ran of which the reader may read nothing is no stop of his.
    let between = tell.cx.history.sessions.between(first.car, first.rank, last.after);
    let all = between.iter().map(|id| tell.cx.history.sessions.get(*id));
    let hidden = |session: &&Session| {
        is_withheld(tell, session) || tell.entry(session.entry).is_some_and(|line| line.withheld)
    };
    if all.filter(hidden).count() > 0 {
        return Some(format!("{name} past midnight"));
    }
    let elapsed = hours(last.end - first.start);
    let stops: Vec<i32> = night.array_windows().map(|[session, next]| next.start - session.end).collect();
    if stops.is_empty() {
        return Some(format!("{name} past midnight: {elapsed} from start to end"));
    }
    let each: Vec<String> = stops.iter().map(i32::to_string).collect();
    let each = if each.len() == 1 { String::new() } else { format!(" ({})", words::and(&each)) };
    let pits: i32 = stops.iter().sum();
    Some(format!("{name} past midnight: {elapsed} from first start to last end, pit time {pits} min{each}"))
}

/// "6 h 00 min".
fn hours(minutes: i32) -> String {
    format!("{} h {:02} min", minutes / 60, minutes % 60)
}
