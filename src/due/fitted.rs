//! What is on the cars at a moment, in places and in assemblies, and what lies ready to go on.
//!
//! Must not know limits or chances.

use crate::book::Book;
use crate::book::entry::{EntryId, Verb, Verdict};
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::history::impact::unseen;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::history::unread::{is_placed, unread};
use crate::history::{Facts, History, Standing};
use crate::ids::Arena;
use rayon::prelude::*;

/// A part on a car, or a place that must be filled and is not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fitted {
    /// The car.
    pub car: CarId,
    /// Its kind.
    pub kind: KindId,
    /// The place on the car, or of the assembly it is in.
    pub place: Place,
    /// The part; `None` for an empty place.
    pub part: Option<PartId>,
    /// The assembly it is in.
    pub inside: Option<PartId>,
}

/// What was inside what, and what lay ready, at one moment.
#[derive(Debug, Clone, Default)]
pub struct Whereabouts {
    inside: Arena<PartId, Vec<PartId>>,
    ready: Arena<KindId, Vec<PartId>>,
}

/// The same at the moment before rank `cut`.
#[must_use]
pub fn whereabouts(book: &Book, history: &History, cut: Rank) -> Whereabouts {
    let count = book.parts.len();
    let mut all = Whereabouts {
        inside: vec![Vec::new(); count].into(),
        ready: vec![Vec::new(); book.kinds.len()].into(),
    };
    let stands = |part: PartId| {
        let at = history.parts.get(part).at(cut).map_or(Where::New, |stay| stay.at);
        // A spare that was sold to a client lies there for his cars.
        let his = at == Where::Sold && history.parts.get(part).owner_at(cut).is_some();
        let ready = (his || matches!(at, Where::New | Where::Shelf))
            && !bought_later(book, history, part, cut)
            && condemned(book, history, part, cut).is_none()
            && unseen(book, history, part, cut).is_none()
            && unread(book, history, part, cut).is_none()
            && is_placed(history, part, cut);
        (at, ready)
    };
    let stands: Vec<(Where, bool)> =
        (0..count as u32).into_par_iter().map(|part| stands(PartId::new(part))).collect();
    for ((at, ready), part) in stands.into_iter().zip((0..count as u32).map(PartId::new)) {
        if let Where::Inside(assembly) = at {
            all.inside[assembly].push(part);
        }
        if ready && let Some(ready) = book.parts[part].kind.and_then(|kind| all.ready.get_mut(kind)) {
            ready.push(part);
        }
    }
    all
}

/// Whether a part had not come to the shop yet.
fn bought_later(book: &Book, history: &History, part: PartId, cut: Rank) -> bool {
    let bought = history
        .parts
        .get(part)
        .lines
        .iter()
        .find(|line| matches!(book.entries[**line].verb, Verb::Buy | Verb::Borrow));
    bought.is_some_and(|line| history.order.rank[*line] >= cut)
}

/// The line by which a part was inspected and found bad, where nothing was done about it since: no rebuild, no release, no other
/// inspection that found it good.
#[must_use]
pub fn condemned(book: &Book, history: &History, part: PartId, cut: Rank) -> Option<EntryId> {
    let told = history.parts.get(part);
    let judged =
        told.seen.iter().rev().find(|seen| seen.rank < cut && seen.verdict.is_some() && !seen.service)?;
    let bad = (judged.verdict == Some(Verdict::Failed)).then_some(judged)?;
    let since = |rank: Rank| rank > bad.rank && rank < cut;
    // A rebuild of the assembly with all in it is no line about this part.
    let rebuilt = told.rebuilds.iter().any(|rebuild| since(rebuild.rank));
    let released = told
        .lines
        .iter()
        .rev()
        .any(|line| since(history.order.rank[*line]) && book.entries[*line].verb == Verb::Release);
    (!rebuilt && !released).then_some(bad.entry)
}

impl Whereabouts {
    /// Keeps ready only what is good.
    pub fn keep(&mut self, good: impl Fn(PartId) -> bool) {
        self.ready.iter_mut().for_each(|kind| kind.retain(|part| good(*part)));
    }

    /// Good parts of a kind on no car, in the order of the book.
    #[must_use]
    pub fn ready(&self, kind: KindId) -> &[PartId] {
        self.ready.get(kind).map_or(&[], Vec::as_slice)
    }

    /// What is on a car: every place in order of first use, each followed by what is inside what is there.
    #[must_use]
    pub fn on(&self, standing: Standing<'_>) -> Vec<Fitted> {
        let Standing { facts: Facts { history, .. }, car, rank: cut } = standing;
        let mut list = Vec::new();
        for there in standing.places() {
            let known = |list: &Vec<(Rank, Rank, PartId)>| list.first().is_some_and(|(from, ..)| *from < cut);
            // A place that held nothing until later was not known then.
            if !history.parts.occupants.get(&(car, there.kind, there.place)).is_some_and(known) {
                continue;
            }
            list.push(Fitted { car, kind: there.kind, place: there.place, part: there.part, inside: None });
        }
        list
    }

    /// What is inside a part, and inside that, in order; a loop, not a recursion: nests may be deep.
    #[must_use]
    pub fn nest(&self, book: &Book, holder: &Fitted) -> Vec<Fitted> {
        let mut list = Vec::new();
        let mut open: Vec<PartId> = holder.part.into_iter().collect();
        while let Some(assembly) = open.pop() {
            for part in self.inside.get(assembly).into_iter().flatten() {
                let kind = book.parts[*part].kind;
                list.extend(kind.map(|kind| Fitted {
                    kind,
                    part: Some(*part),
                    inside: Some(assembly),
                    ..*holder
                }));
                open.push(*part);
            }
        }
        list
    }
}

/// Whether a kind has but one place on a car, so that its name says where it is.
#[must_use]
pub fn one_place(book: &Book, kind: KindId, car: CarId) -> bool {
    let Some(kind) = book.kinds.get(kind) else { return false };
    let fits = kind.fits.iter().filter(|fit| fit.on(car) && !fit.carried);
    let mut places: Vec<Place> = fits.flat_map(|fit| fit.places.iter().copied()).collect();
    places.sort_unstable();
    places.dedup();
    matches!(places.as_slice(), [one] if matches!(one.corners().len(), 0 | 4))
}

/// Whether a kind goes in a place of a car.
#[must_use]
pub fn goes_there(book: &Book, kind: KindId, car: CarId, place: Place) -> bool {
    let Some(kind) = book.kinds.get(kind) else { return false };
    let fits = kind.fits.iter().filter(|fit| fit.on(car) && !fit.carried);
    fits.flat_map(|fit| &fit.places).any(|fit| fit.covers(place))
}
