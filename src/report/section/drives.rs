//! Who drove for how long, day by day, where sessions were shared.
//!
//! Must not know settings or parts.

use crate::history::sessions::Session;
use crate::report::teller::Teller;
use crate::report::words;
use crate::rules::driven::DriverDay;

/// "9 May: Ada 166 min, Bo 55 min" of the days of some sessions of one car; empty where one driver drove all, and none of them was divided.
pub(in crate::report) fn days(tell: &Teller<'_>, sessions: &[&Session]) -> String {
    let Some(first) = sessions.first() else { return String::new() };
    let mine = |session: &&Session| sessions.iter().any(|own| own.entry == session.entry);
    let all = tell.cx.history.sessions.of(first.car);
    let own: Vec<_> = all.filter(|(_, session)| mine(session)).map(|(id, _)| id).collect();
    let divided = |id: &crate::history::sessions::SessionId| {
        tell.cx.history.sessions.parts(*id).iter().any(crate::history::stretches::Part::runs)
    };
    let days = DriverDay::of(tell.cx.book, tell.cx.history, &own);
    let several = days.iter().any(|day| days.first().is_some_and(|first| first.driver != day.driver));
    if !several && !own.iter().any(divided) {
        return String::new();
    }
    let mut told: Vec<String> = Vec::new();
    let mut date = None;
    for day in days {
        let name = tell.cx.book.people.get(day.driver).map_or("?", |person| person.named.title.as_str());
        let minutes = if day.at_least && day.minutes <= 0.0 {
            "not known how long".to_owned()
        } else {
            let least = if day.at_least { "at least " } else { "" };
            format!("{least}{} min", words::amount(day.minutes, 1))
        };
        if date.replace(day.date) == Some(day.date) {
            told.push(format!(", {name} {minutes}"));
        } else {
            let apart = if told.is_empty() { "" } else { "; " };
            told.push(format!("{apart}{}: {name} {minutes}", words::short(day.date)));
        }
    }
    // What stands under a day is that day's part of it alone.
    if sessions.iter().any(|session| session.date != session.last) {
        told.push("; what ran past midnight is cut there".to_owned());
    }
    told.concat()
}
