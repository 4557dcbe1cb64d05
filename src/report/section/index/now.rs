//! Where a car is now, in sentences: how it stands, what it ran last, what is open, what is next.
//!
//! Must not know the other cars, nor links.

use crate::answer;
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::{CarId, EventId, PartId};
use crate::due::row::{Reason, Row};
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::history::sessions::Session;
use crate::report::section::index::sentence::Sentence;
use crate::report::section::index::sentence::said;
use crate::report::section::unseen::unseen;
use crate::report::section::{aboard, bests, crash, entry, jobs, margins, stops, until, year};
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use std::collections::BTreeMap;

/// Sold, at an event that is not over by the book's last date, or none of the two; and what must be on it and is not.
pub(super) fn stands(tell: &Teller<'_>, car: CarId) -> Vec<Sentence> {
    let cx = &tell.cx;
    if let Some((_, line)) = cx.history.parts.sold.get(&car) {
        let to = tell.entry(*line).map_or_else(String::new, |line| entry::middle(tell, line, false));
        let date = cx.date(*line).map_or_else(String::new, words::date);
        // To its buyer it is where he took it; the words of that line are its seller's.
        if tell.entry(*line).is_some_and(|line| line.withheld) {
            return vec![said("bought", date, String::new())];
        }
        return vec![said("sold", format!("{date}: {to}"), tell.src_of(*line))];
    }
    let mut list = Vec::new();
    let last = year::own(tell, car).last();
    let event = last.and_then(|last| Some((last, last.event?)));
    let there = event.and_then(|(last, event)| Some((last, event, cx.book.events.get(event)?)));
    let there = there.filter(|(.., event)| tell.until().is_some_and(|until| until <= event.last));
    let left = there.is_some_and(|(last, id, _)| {
        let after = cx.history.order.entries.within(last.after..);
        let own = after.iter().filter(|index| cx.car_of(**index) == Some(car));
        own.into_iter().any(|index| {
            tell.entry(*index).and_then(|line| cx.book.head(line)).is_some_and(|head| head.event != Some(id))
        })
    });
    match there {
        Some((last, event, _)) if !left => {
            list.push(said("at", tell.event(event).to_owned(), tell.src_of(last.entry)));
        }
        _ if last.is_some() => list.push(said("", "between events".to_owned(), String::new())),
        _ => list.push(said("", "has not run in this book".to_owned(), String::new())),
    }
    let end = cx.history.order.entries.next_key();
    let empty: Vec<String> = cx
        .on(car, end)
        .places()
        .into_iter()
        .filter(|place| place.part.is_none())
        .filter_map(|place| {
            let kind = cx.book.kinds.get(place.kind).filter(|kind| kind.must)?;
            Some(format!("{} {}", kind.named.typed, cx.place(place.place)))
        })
        .collect();
    if !empty.is_empty() {
        list.push(Sentence { presses: true, ..said("nothing fitted", words::and(&empty), String::new()) });
    }
    list
}

/// The last session, and the best of its event.
pub(super) fn last(tell: &Teller<'_>, car: CarId, sessions: &[&Session]) -> Vec<Sentence> {
    let Some(last) = sessions.last() else { return Vec::new() };
    let ran = format!("{}, {}", words::date(last.date), bests::session_name(tell, last));
    let mut list = vec![said("", ran, tell.src_of(last.entry))];
    let event = last.event.map(|event| tell.cx.history.sessions.at(car, event).map(|(_, session)| session));
    if let Some(best) = event.and_then(bests::quickest) {
        let text = format!("{} in {}", bests::lap(tell, best), tell.label(best));
        list.push(said("best there", text, tell.src_of(best.entry)));
    }
    list
}

/// What is open: jobs, parts that wait to be looked at, what ends before the next event, rules it would not keep there.
pub(super) fn open(tell: &Teller<'_>, car: CarId, next: Option<EventId>) -> Vec<Sentence> {
    let cx = &tell.cx;
    let mut list = Vec::new();
    if let Some((text, src)) = jobs::open(tell, car) {
        list.push(said("jobs to do", text, src));
    }
    if cx.history.parts.sold.contains_key(&car) {
        return list;
    }
    let waiting = quarantined(tell, car);
    if !waiting.is_empty() {
        let names: Vec<String> = waiting.iter().map(|(part, _)| cx.part(*part).to_owned()).collect();
        let spans = waiting.iter().filter_map(|(_, line)| tell.entry(*line)).map(Entry::span);
        list.push(said("in quarantine", words::and(&names), sources::lines(tell.cx.files, spans)));
    }
    let mut waiting: BTreeMap<EntryId, Vec<String>> = BTreeMap::new();
    for (part, hit, _) in unseen(tell, car, Rank::END) {
        let what = format!("{} {}", cx.kind_of(part).replace('-', " "), cx.place(hit.place));
        waiting.entry(hit.entry).or_default().push(format!("{} {}", what.trim_end(), cx.part(part)));
    }
    for (line, place) in crash::hits(tell, car) {
        let Some(parts) = waiting.get(&line) else { continue };
        let date = cx.date(line).map_or_else(String::new, words::short);
        let text = format!("{} since the impact at {}, {date}", words::and(parts), cx.place(place));
        list.push(Sentence { presses: true, ..said("not looked at", text, tell.src_of(line)) });
    }
    let end = cx.history.order.entries.next_key();
    for one in until::until(tell, car, next, end).into_iter().filter(|one| !one.wrong.is_empty()) {
        let text = format!("{} {}, {}", one.what, one.part, one.wrong);
        let until = if one.until == words::DASH { String::new() } else { format!(" ({})", one.until) };
        list.push(Sentence { presses: true, ..said("", text + &until, one.src) });
    }
    for one in margins::margins(tell, car, next, end).into_iter().filter(|one| one.fails) {
        let text = format!("{} {}, {}: {}", one.what, one.is, one.limits, one.wrong);
        list.push(Sentence { presses: true, ..said("rule", text, one.src) });
    }
    // What falls due before an event to come has a page of its own.
    if next.is_none() {
        list.extend(by_use(tell, car));
    }
    list
}

/// What is due by use with nothing to come: parts at a limit or of which nobody knows that they are within it, and work that comes round.
fn by_use(tell: &Teller<'_>, car: CarId) -> Vec<Sentence> {
    let Some(due) = tell.due_now() else { return Vec::new() };
    let mut list = Vec::new();
    let by_limit = |row: &&Row| {
        let by_use = |reason: &Reason| matches!(reason, Reason::Over(_) | Reason::UnknownUse(_));
        row.fitted.car == car && row.reasons.iter().any(by_use)
    };
    for row in due.rows.iter().filter(by_limit) {
        let said_of = answer::due::row(tell.compiled, due, row);
        let what = format!("{} {}", aboard::what(tell, &row.fitted), said_of.part);
        let text = format!("{}: {}", what.trim_end(), said_of.why.join("; "));
        list.push(Sentence { presses: true, ..said("due", text, said_of.line.to_string()) });
    }
    for round in due.rounds.iter().filter(|round| round.car == car) {
        let work = answer::due::work(tell.compiled, round);
        let text = format!("{} {}", work.what, work.part);
        let src = work.line.to_string();
        list.push(Sentence {
            presses: true,
            ..said("due", format!("{}: {}", text.trim_end(), work.text), src)
        });
    }
    list
}

/// Parts of the car in quarantine, and the lines that put them there.
fn quarantined(tell: &Teller<'_>, car: CarId) -> Vec<(PartId, EntryId)> {
    let parts = tell.cx.history.parts.ever_on(car).iter().copied();
    parts
        .filter_map(|part| {
            let stays = &tell.cx.history.parts.get(part).stays;
            let held = stays.last().filter(|stay| stay.at == Where::Quarantine)?;
            let before = stays.iter().rev().find_map(|stay| stay.car)?;
            (before == car).then_some((part, held.entry))
        })
        .collect()
}

/// The next event, as the book says.
pub(super) fn next(tell: &Teller<'_>, next: Option<EventId>) -> Vec<Sentence> {
    let Some(event) = next else { return Vec::new() };
    let declared = tell.cx.book.events.get(event);
    let src = declared.map_or_else(String::new, |event| tell.src(event.named.declared));
    vec![said(tell.event(event), stops::about(tell, event), src)]
}

/// The last line about the car that is more than a note.
pub(super) fn line(tell: &Teller<'_>, car: CarId) -> Option<Sentence> {
    let cx = &tell.cx;
    let mut work = tell.lines_of(car).iter().rev().map(|(_, index)| *index).filter(|index| {
        tell.entry(*index).is_some_and(|line| !line.broken && !line.withheld && line.verb != Verb::Note)
    });
    let index = work.next()?;
    let line = tell.entry(index)?;
    let date = cx.date(index).map_or_else(String::new, words::date);
    let text = format!("{date}: {} {}", line.verb.word(), entry::middle(tell, line, false));
    Some(said("last entry", text, tell.src(line.span())))
}
