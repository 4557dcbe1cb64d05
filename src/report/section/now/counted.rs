//! How often something was said before, what was changed next each time, and how often it was gone then: counted, not judged.
//!
//! Must not know stems.

use super::ladder;
use crate::book::entry::{Entry, EntryId};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::report::teller::Teller;
use crate::vocabulary::QuantityId;
use crate::words;
use crate::worth;
use std::cmp::Ordering;

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
    /// Counts a time: what was changed before the next session, where that is known, and what became of it.
    pub fn count(&mut self, changes: Option<&[String]>, became: Became) {
        let change = match changes {
            None => "not known what was changed".to_owned(),
            Some([]) => "nothing changed".to_owned(),
            Some([one]) => one.clone(),
            Some(_) => "several changes at once".to_owned(),
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

/// What stood otherwise in the next session, each thing with the way it went: "bar-hole front down", "another driver". `None` as for
/// [`changed`].
pub(super) fn turned(
    tell: &Teller<'_>,
    car: CarId,
    session: &Session,
    next: &Session,
) -> Option<Vec<String>> {
    let mut list = changed(tell, car, session, next)?;
    if tell.drivers(session) != tell.drivers(next) {
        list.push("another driver".to_owned());
    }
    Some(list)
}

/// What stood otherwise on the car, each thing with the way it went. What is filled is no setting, and what was put back no change.
/// `None` where a line between has an error, or is not this reader's.
pub(super) fn changed(
    tell: &Teller<'_>,
    car: CarId,
    session: &Session,
    next: &Session,
) -> Option<Vec<String>> {
    let (from, until) = (session.after, next.rank);
    let lines = || {
        let all = tell.cx.history.order.entries.within(from..until).iter().copied();
        all.filter(move |line| tell.cx.car_of(*line) == Some(car))
    };
    let hidden = |line: &EntryId| tell.cx.history.kept_back.contains(line);
    let lost = |line: &EntryId| tell.entry(*line).is_none_or(|entry| entry.broken || entry.withheld);
    if lines().any(|line| hidden(&line) || lost(&line)) {
        return None;
    }
    let mut list: Vec<String> = Vec::new();
    for line in ladder::settings(tell, car, from, until) {
        let told = tell.entry(line).and_then(|entry| change(tell, car, entry, [from, until]));
        list.extend(told.filter(|told| !list.contains(told)));
    }
    Some(list)
}

fn change(tell: &Teller<'_>, car: CarId, entry: &Entry, ranks: [Rank; 2]) -> Option<String> {
    let Some(quantity) = entry.quantity else {
        return Some(ladder::done(tell, entry).text);
    };
    let mut text = tell.cx.book.vocabulary.get(quantity).name.to_string();
    // Each place once, whatever was typed of it: old, new, further numbers.
    let mut places: Vec<Place> = Vec::new();
    for item in tell.cx.book.items_of(entry) {
        if !places.contains(&item.place) {
            places.push(item.place);
        }
    }
    let mut turned: Vec<(Place, Option<Ordering>)> =
        places.into_iter().map(|place| (place, way(tell, car, (quantity, place), ranks))).collect();
    // Where some were turned, those that stand as they stood were not.
    if turned.iter().any(|(_, way)| *way != Some(Ordering::Equal)) {
        turned.retain(|(_, way)| *way != Some(Ordering::Equal));
    }
    for place in turned.iter().map(|(place, _)| tell.cx.place(*place)).filter(|place| !place.is_empty()) {
        text = format!("{text} {place}");
    }
    let ways: Vec<Option<Ordering>> = turned.iter().map(|(_, way)| *way).collect();
    let way = ways.first().copied().flatten().filter(|first| ways.iter().all(|way| *way == Some(*first)));
    match way {
        Some(Ordering::Equal) => None,
        Some(Ordering::Greater) => Some(format!("{text} up")),
        Some(Ordering::Less) => Some(format!("{text} down")),
        None => Some(text),
    }
}

/// Which way a number went between two ranks; `None` where it is no number, or was none.
fn way(
    tell: &Teller<'_>,
    car: CarId,
    (quantity, place): (QuantityId, Place),
    [from, until]: [Rank; 2],
) -> Option<Ordering> {
    // Of an axle its first corner tells, where that is where the value stands.
    let number = |rank: Rank| {
        let of_axle = tell.cx.facts.on(car, rank).number(quantity, place).is_some();
        let place = place.corners().first().copied().filter(|_| !of_axle).unwrap_or(place);
        worth::stands(tell.cx.facts, car, rank, quantity, place)
    };
    number(until)?.partial_cmp(&number(from)?)
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
