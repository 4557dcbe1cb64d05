//! How often something was said before, what was changed next each time, and how often it was gone then: counted, not judged.
//!
//! Must not know stems.

use super::ladder;
use crate::book::entry::{Entry, EntryId};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::report::teller::Teller;
use crate::vocabulary::QuantityId;
use crate::words;

/// What became of it in the next session.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Became {
    /// Something was said of that phase, and not this.
    Gone,
    /// It was said again.
    Still,
    /// Nothing was said of that phase.
    NotSaid,
}

/// One kind of change, and what became of the words after it.
#[derive(Debug, Clone, PartialEq, Eq)]
struct After {
    change: String,
    times: usize,
    gone: usize,
    still: usize,
}

/// "6 times before with a session after it: bar-hole front down 4 times (gone 3 times, said again once); nothing changed once; 2 changes at once once".
#[derive(Debug, Clone, Default)]
pub(super) struct Counted {
    times: usize,
    after: Vec<After>,
}

impl Counted {
    /// Counts a time: what was changed before the next session, and what became of it.
    pub fn count(&mut self, changes: &[String], became: Became) {
        let change = match changes {
            [] => "nothing changed".to_owned(),
            [one] => one.clone(),
            _ => "several changes at once".to_owned(),
        };
        self.times += 1;
        let at = self.after.iter().position(|one| one.change == change).unwrap_or_else(|| {
            self.after.push(After { change, times: 0, gone: 0, still: 0 });
            self.after.len() - 1
        });
        if let Some(one) = self.after.get_mut(at) {
            one.times += 1;
            one.gone += usize::from(became == Became::Gone);
            one.still += usize::from(became == Became::Still);
        }
    }

    /// In words; empty for never.
    pub fn sentence(&self) -> String {
        if self.times == 0 {
            return String::new();
        }
        let mut after: Vec<&After> = self.after.iter().collect();
        after.sort_by_key(|one| std::cmp::Reverse(one.times));
        let told = after.into_iter().map(|one| {
            let unsaid = one.times - one.gone - one.still;
            let all = [(one.gone, "gone"), (one.still, "said again"), (unsaid, "nothing said after")];
            let became = all.into_iter().filter(|(n, _)| *n > 0);
            let became: Vec<String> = became
                .map(
                    |(n, word)| if n == one.times { word.to_owned() } else { format!("{word} {}", often(n)) },
                )
                .collect();
            format!("{} {} ({})", one.change, often(one.times), became.join(", "))
        });
        words::capital(&format!(
            "{} before with a session after it: {}.",
            often(self.times),
            told.collect::<Vec<_>>().join("; ")
        ))
    }
}

fn often(times: usize) -> String {
    match times {
        1 => "once".to_owned(),
        times => words::count(times as u64, "time", "times"),
    }
}

/// What was set or fitted between two sessions, each thing with the way it went: "bar-hole front down", "damper LF". What is filled is no
/// setting.
pub(super) fn turned(tell: &Teller<'_>, car: CarId, from: Rank, until: Rank) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    for line in ladder::settings(tell, car, from, until) {
        let told = tell.entry(line).map(|entry| change(tell, car, line, entry));
        list.extend(told.filter(|told| !list.contains(told)));
    }
    list
}

fn change(tell: &Teller<'_>, car: CarId, line: EntryId, entry: &Entry) -> String {
    let Some(quantity) = entry.quantity else {
        return ladder::done(tell, entry).text;
    };
    let places: Vec<Place> = tell.cx.book.items_of(entry).iter().map(|item| item.place).collect();
    let ways: Vec<Option<bool>> =
        places.iter().map(|place| way(tell, car, line, (quantity, *place))).collect();
    let way = match ways.as_slice() {
        [first, rest @ ..] if rest.iter().all(|way| way == first) => *first,
        _ => None,
    };
    let mut text = tell.cx.book.vocabulary.get(quantity).name.to_string();
    let mut words: Vec<String> = places.iter().map(|place| tell.cx.place(*place)).collect();
    words.dedup();
    for place in words.iter().filter(|place| !place.is_empty()) {
        text = format!("{text} {place}");
    }
    match way {
        Some(true) => format!("{text} up"),
        Some(false) => format!("{text} down"),
        None => text,
    }
}

/// Whether a line took a number up; `None` where it is no number, was none, or stayed.
fn way(tell: &Teller<'_>, car: CarId, line: EntryId, (quantity, place): (QuantityId, Place)) -> Option<bool> {
    let rank = *tell.cx.history.order.rank.get(line)?;
    // Of an axle its first corner tells, where that is where the value stands.
    let spots = std::iter::once(place).chain(place.corners().first().copied());
    let number = |rank: Rank| {
        spots.clone().find_map(|spot| {
            let slot = tell.cx.facts.on(car, rank).slot(quantity, spot)?;
            let event = slot.held.is(tell.cx.history)?;
            let item = tell.cx.history.item(tell.cx.book, slot.track, &event)?;
            item.has_value().then_some(event.value)
        })
    };
    let after = number(rank.next())?;
    let before = number(rank).or_else(|| tell.cx.book.vocabulary.get(quantity).relative.then_some(0.0))?;
    (after - before != 0.0).then_some(after > before)
}

/// What became of words of a phase by the next session there.
pub(super) const fn became(spoke: bool, again: bool) -> Became {
    if again {
        Became::Still
    } else if spoke {
        Became::Gone
    } else {
        Became::NotSaid
    }
}
