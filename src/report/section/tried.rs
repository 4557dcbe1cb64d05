//! What was tried and put back between two moments, settings and parts, how often, and the best laps with each.
//!
//! Must not know what is made of it.

use super::bests;
use super::value;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, EventId, PartId};
use crate::history::diff::{Fate, SetupDiff, SlotDiff};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::report::teller::Teller;
use jiff::civil::Date;

/// Everything that was tried there and back, in sentences without an end: "bar hole front at quern-2, twice: 1 in s5 1:07.61, 3 in s6
/// 1:07.18", "coupling LR at quern-2, once: cp-1 in s1 1:09.80, cp-2 in s2 1:09.61".
pub(super) fn tried(tell: &Teller<'_>, car: CarId, diff: &SetupDiff<'_>, ranks: [Rank; 2]) -> Vec<String> {
    let slots = diff.slots.iter().filter_map(|one| Some(slot(tell, car, one, there_and_back(tell, one)?)));
    slots.chain(parts(tell, car, ranks)).collect()
}

fn event(tell: &Teller<'_>, entry: EntryId) -> Option<EventId> {
    tell.cx.book.head(tell.entry(entry)?)?.event
}

/// The event within which a slot was set to something else and back: what happened over months proves nothing.
fn there_and_back(tell: &Teller<'_>, slot: &SlotDiff<'_>) -> Option<EventId> {
    if slot.returns == 0 && slot.fate != Fate::PutBack {
        return None;
    }
    let event = |entry: Option<EntryId>| event(tell, entry?);
    slot.steps.windows(2).find_map(|pair| match pair {
        [one, next] => event(one.entry).filter(|at| event(next.entry) == Some(*at)),
        _ => None,
    })
}

fn slot(tell: &Teller<'_>, car: CarId, slot: &SlotDiff<'_>, at: EventId) -> String {
    let cx = &tell.cx;
    let there =
        slot.steps.iter().filter_map(|step| step.entry).filter(|entry| event(tell, *entry) == Some(at));
    let days: Vec<Date> = there.filter_map(|entry| cx.history.order.date(cx.book, entry)).collect();
    let sessions = cx.history.sessions.at(car, at).map(|(_, session)| session);
    let name = cx.slot(slot.quantity, slot.place).replace('-', " ");
    let with = sessions.filter(|session| days.contains(&session.date)).map(|session| {
        let held = cx.on(car, session.rank).slot(slot.quantity, slot.place)?;
        Some((session, value::value(tell, held.track, &held.held.is(cx.history)?).full()))
    });
    told(tell, &name, Some(at), slot.returns.max(1), with)
}

/// Places whose part was changed for another, and changed back.
fn parts(tell: &Teller<'_>, car: CarId, [then, now]: [Rank; 2]) -> Vec<String> {
    let cx = &tell.cx;
    let all = &cx.history.parts;
    let mut list = Vec::new();
    for spot in cx.on(car, now).places() {
        let key = (car, spot.kind, spot.place);
        let Some(first) = all.holder(car, spot.kind, spot.place, then) else { continue };
        // Who went on between, in order: a part that was only looked at and went on again is no other.
        let mut on: Vec<(Rank, PartId)> = vec![(then, first)];
        for (from, _, part) in all.occupants.get(&key).map_or(&[][..], Vec::as_slice) {
            if *from >= then && *from < now && on.last().is_some_and(|(_, last)| last != part) {
                on.push((*from, *part));
            }
        }
        let times = on.iter().skip(1).filter(|(_, part)| *part == first).count();
        if times == 0 {
            continue;
        }
        let lines = on.iter().skip(1).filter_map(|(from, part)| Some(all.get(*part).at(from.next())?.entry));
        let lines: Vec<EntryId> = lines.collect();
        let days: Vec<Date> = lines.iter().filter_map(|line| cx.history.order.date(cx.book, *line)).collect();
        let at = lines.first().and_then(|line| event(tell, *line));
        let at = at.filter(|at| lines.iter().all(|line| event(tell, *line) == Some(*at)));
        let sessions = cx.history.sessions.between(car, then, now).iter();
        let with = sessions.map(|id| cx.history.sessions.get(*id)).filter(|one| days.contains(&one.date));
        let with = with.map(|session| {
            let part = all.holder(car, spot.kind, spot.place, session.rank)?;
            Some((session, cx.part(part).to_owned()))
        });
        let kind = cx.book.kinds.get(spot.kind).map_or("part", |kind| &*kind.named.typed);
        let name = format!("{} {}", kind.replace('-', " "), cx.place(spot.place));
        list.push(told(tell, name.trim_end(), at, times as u32, with));
    }
    list
}

/// "NAME at EVENT, twice: this in s1 1:09.80, that in s2 1:09.61".
fn told<'s>(
    tell: &Teller<'_>,
    name: &str,
    at: Option<EventId>,
    times: u32,
    with: impl Iterator<Item = Option<(&'s Session, String)>>,
) -> String {
    let lap = |(session, what): (&Session, String)| {
        session.best?;
        let label =
            if at.is_some() { tell.label(session).to_owned() } else { bests::session_name(tell, session) };
        Some(format!("{what} in {label} {}", bests::lap(tell, session)))
    };
    let laps: Vec<String> = with.flatten().filter_map(lap).collect();
    let laps = if laps.is_empty() { String::new() } else { format!(": {}", laps.join(", ")) };
    let place = at.map_or_else(String::new, |at| format!(" at {}", tell.event(at)));
    let often = match times {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        times => format!("{times} times"),
    };
    format!("{name}{place}, {often}{laps}")
}
