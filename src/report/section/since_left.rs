//! Did it move, or was it set? What was found of a setting against how it was left, in a sentence.
//!
//! Whether two readings are alike [`likeness::compare`] says, and nobody else. Must not know what is measured.

use super::change;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::CarId;
use crate::figures::drift::ran_between;
use crate::history::likeness::{self, Likeness, Reading};
use crate::history::order::Rank;
use crate::history::slots::{Register, SlotEvent};
use crate::history::state::SlotState;
use crate::report::teller::Teller;
use crate::report::words;
use crate::units::number;

/// What was found at one place.
pub(super) struct SinceLeft {
    place: String,
    what: What,
    /// How it was left: "as left", "as read".
    word: &'static str,
    /// What happened since it was left: "since 4 Apr (743 km, no impact between)".
    between: String,
}

enum What {
    Same,
    /// By how much, with what was changed between that moves it.
    Moved(String, Vec<String>),
    /// It was set on a line between, that day, and was found so.
    Set(String),
    CannotTell,
}

/// What was found against how it was left; `None` where nobody knows when either was.
pub(super) fn of(
    tell: &Teller<'_>,
    car: CarId,
    slot: &SlotState<'_>,
    [left, found]: [SlotEvent; 2],
) -> Option<SinceLeft> {
    let cx = &tell.cx;
    let rank = |event: &SlotEvent| event.rank(&cx.history.order);
    let (from, until) = (rank(&left)?, rank(&found)?);
    let compare = |then: SlotEvent| likeness::compare(cx.facts, (found, slot.track), (then, slot.track));
    let by = |then: &SlotEvent| moved(tell, slot, then, &found);
    let inside = |event: &&SlotEvent| rank(event).is_some_and(|rank| rank > from && rank < until);
    let between = || slot.track.events.iter().filter(inside);
    let set = between().rfind(|event| event.register() == Register::Asked);
    let what = if between().any(|event| event.register() == Register::Unknown) {
        What::CannotTell
    } else if let Some(set) = set {
        let day = day(tell, set.entry, found.entry);
        let stood = match compare(*set) {
            Likeness::Same => "found as set".to_owned(),
            Likeness::Moved => format!("found {} from that", by(set)?),
            Likeness::CannotTell => "whether it was found so cannot be told".to_owned(),
        };
        What::Set(format!("was set between, {day}, and {stood}"))
    } else {
        match compare(left) {
            Likeness::Same => What::Same,
            Likeness::Moved => What::Moved(by(&left)?, changed(tell, car, slot, left.entry?, [from, until])),
            Likeness::CannotTell => What::CannotTell,
        }
    };
    let is_left = tell.entry(left.entry).is_some_and(|entry| entry.verb == Verb::Left);
    Some(SinceLeft {
        place: cx.place(slot.place),
        what,
        word: if is_left { "as left" } else { "as read before" },
        between: format!(
            "since {} ({})",
            day(tell, left.entry, found.entry),
            ran_between(cx.facts, car, [from, until])
        ),
    })
}

/// "4 Apr", with its year where that is not the other line's.
fn day(tell: &Teller<'_>, line: Option<EntryId>, other: Option<EntryId>) -> String {
    let Some(date) = tell.cx.date(line) else { return String::new() };
    let same = tell.cx.date(other).is_some_and(|other| other.year() == date.year());
    if same { words::short(date) } else { words::date(date) }
}

/// "+0.5 deg, 5 gauge widths".
fn moved(tell: &Teller<'_>, slot: &SlotState<'_>, then: &SlotEvent, found: &SlotEvent) -> Option<String> {
    let cx = &tell.cx;
    let item = |event: &SlotEvent| cx.history.item(cx.book, slot.track, event);
    let (was, is) = (item(then)?, item(found)?);
    let difference = likeness::difference(cx.facts, (found, slot.track), (then, slot.track));
    let room = likeness::room(cx.facts, (found, is), (then, was));
    let file = cx.history.file_of(cx.book, slot.track, found)?;
    let by = change::moved(tell, slot.quantity, difference, (file, is), is.decimals.max(was.decimals));
    if room <= 0.0 || !room.is_finite() {
        return Some(by);
    }
    let widths = number::format((difference / room).abs(), 1);
    Some(format!("{by}, {} gauge widths", widths.strip_suffix(".0").unwrap_or(&widths)))
}

/// What was changed between that moves what is read there, but for impacts.
fn changed(
    tell: &Teller<'_>,
    car: CarId,
    slot: &SlotState<'_>,
    entry: EntryId,
    between: [Rank; 2],
) -> Vec<String> {
    let cx = &tell.cx;
    let reading = Reading { quantity: slot.quantity, place: slot.place, entry, owner: slot.track.owner };
    let mut names: Vec<String> = Vec::new();
    for change in likeness::changes(cx.facts, car, reading, between) {
        let Some(quantity) = change.quantity else { continue };
        let name = cx.quantity(quantity).name.replace('-', " ");
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// All places of a quantity, what moved first: "RF moved +0.5 deg, 5 gauge widths, since 4 Apr (743 km, no impact between)", "LF, LR and RR as left".
pub(super) fn told(all: &[SinceLeft]) -> Vec<String> {
    let whose = |one: &SinceLeft| if one.place.is_empty() { "it".to_owned() } else { one.place.clone() };
    let mut list = Vec::new();
    for one in all {
        let place = whose(one);
        match &one.what {
            What::Moved(by, changed) if changed.is_empty() => {
                list.push(format!("{place} moved {by}, {}", one.between));
            }
            What::Moved(by, changed) => list.push(format!(
                "{place} differs by {by}, and {} changed between, {}",
                words::and(changed),
                one.between
            )),
            What::Set(words) => list.push(format!("{place} {words}")),
            What::Same | What::CannotTell => {}
        }
    }
    let mut together = |what: &dyn Fn(&What) -> bool, said: &dyn Fn(&SinceLeft) -> String| {
        let mut kept: Vec<(String, Vec<String>)> = Vec::new();
        for one in all.iter().filter(|one| what(&one.what)) {
            let words = said(one);
            match kept.iter_mut().find(|(same, _)| *same == words) {
                Some((_, places)) => places.push(whose(one)),
                None => kept.push((words, vec![whose(one)])),
            }
        }
        list.extend(kept.into_iter().map(|(words, places)| {
            if places.len() == all.len() && all.len() > 1 {
                format!("all {words}")
            } else {
                format!("{} {words}", crate::words::and(&places))
            }
        }));
    };
    together(&|what| matches!(what, What::CannotTell), &|one| format!("cannot be told to be {}", one.word));
    together(&|what| matches!(what, What::Same), &|one| one.word.to_owned());
    list
}
