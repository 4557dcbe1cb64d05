//! `empty-place-ran`: a car ran with nothing in a place that must be filled.

use crate::book::entry::Verb;
use crate::book::model::{CarId, KindId};
use crate::book::place::Place;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::history::sessions::SessionId;

/// The check.
pub const CHECK: Check = Check {
    name: "empty-place-ran",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a car ran with nothing in a place that must be filled",
    why: "A kind declared with `must` has to be in its place whenever the car runs: a hub without its bearing does \
          not turn. The book has nothing there, so either the line that fits it is missing, and its hours go to \
          nobody, or the wrong part was taken off. One message stands at the first session of each stretch that \
          ran so; sessions before the first such part was written on the car are left alone.",
    wrong: "kind hub fits LF RF on heron  must\n2026-05-03 heron\n  09:30..09:50 run s1",
    right: "2026-05-03 heron\n  fit hub-1 LF\n  fit hub-2 RF\n  09:30..09:50 run s1",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let must: Vec<KindId> = (0..cx.book.kinds.len() as u32)
        .map(KindId)
        .filter(|kind| cx.book.kinds[kind.0 as usize].must)
        .collect();
    if must.is_empty() {
        return;
    }
    let doubtful = doubtful(cx);
    for (car, doubtful) in doubtful.iter().enumerate() {
        let car = CarId(car as u32);
        // After a sale nothing is on the car by the book, and another check speaks of the lines.
        let sold = cx.history.parts.sold.get(&car).map_or(u32::MAX, |(rank, _)| *rank);
        for kind in &must {
            let places = places(cx, car, *kind);
            let holders = |place: &Place| cx.history.parts.occupants.get(&(car, *kind, *place));
            // Before the shop first wrote such a part on this car, it did not keep track of them.
            let begun = places.iter().filter_map(|place| holders(place)?.first()).map(|(from, ..)| *from).min();
            for place in places {
                for (from, until) in gaps(cx, car, *kind, place, begun.unwrap_or(0)) {
                    let ran = cx.history.sessions.between(car, from, until.min(sold));
                    let (Some(first), Some(last)) = (ran.first(), ran.last()) else { continue };
                    let last = cx.history.sessions.get(*last).rank;
                    let next = doubtful.partition_point(|rank| rank.saturating_add(1) < from);
                    if doubtful.get(next).is_none_or(|rank| *rank > last) {
                        out.push(message(cx, *kind, place, *first, ran.len()));
                    }
                }
            }
        }
    }
}

fn message(cx: &Context<'_>, kind: KindId, place: Place, first: SessionId, count: usize) -> Diagnostic {
    let session = cx.history.sessions.get(first);
    let kind = &cx.book.kinds[kind.0 as usize].named;
    let more = match count {
        1 => String::new(),
        2 => " and the session after it".to_owned(),
        more => format!(" and the {} sessions after it", more - 1),
    };
    let place = cx.place(place);
    CHECK
        .at(
            session.label,
            format!("{} ran {}{more} with no {} at {place} in the book.", cx.car(session.car), told::session(cx, session), kind.typed),
        )
        .and(kind.declared, "a place that must be filled")
        .cure(format!("write the `fit` of the {} that was there", kind.typed))
}

/// The places of a kind on a car; the corners of an axle, if parts went there by corner.
fn places(cx: &Context<'_>, car: CarId, kind: KindId) -> Vec<Place> {
    let mut list = Vec::new();
    let fits = cx.book.kinds[kind.0 as usize].fits.iter();
    for place in fits.filter(|fit| fit.cars.is_empty() || fit.cars.contains(&car)).flat_map(|fit| &fit.places) {
        let used: Vec<Place> = place
            .corners()
            .iter()
            .copied()
            .filter(|corner| corner != place && cx.history.parts.occupants.contains_key(&(car, kind, *corner)))
            .collect();
        if used.is_empty() { list.push(*place) } else { list.extend(used) }
    }
    list.dedup();
    list
}

/// Ranks `from <= rank < until`, from `begun` on, at which nothing is there.
fn gaps(cx: &Context<'_>, car: CarId, kind: KindId, place: Place, begun: u32) -> Vec<(u32, u32)> {
    let mut gaps = Vec::new();
    let mut from = begun;
    for (start, end, _) in cx.history.parts.occupants.get(&(car, kind, place)).map_or(&[][..], Vec::as_slice) {
        if *start >= from {
            gaps.push((from, start.saturating_add(1)));
        }
        from = end.saturating_add(1);
    }
    gaps.push((from, u32::MAX));
    gaps
}

/// Of each car, ranks of lines about parts that have an error of their own: what they would have put where is not known.
fn doubtful(cx: &Context<'_>) -> Vec<Vec<u32>> {
    let mut ranks: Vec<Vec<u32>> = vec![Vec::new(); cx.book.cars.len()];
    let mut note = |entry: u32| {
        if let Some(list) = cx.car_of(entry).and_then(|car| ranks.get_mut(car.0 as usize)) {
            list.push(cx.rank(entry));
        }
    };
    for (index, entry) in cx.book.entries.iter().enumerate() {
        if entry.broken && matches!(entry.verb, Verb::Fit | Verb::Swap | Verb::Move | Verb::Remove | Verb::Run) {
            note(index as u32);
        }
    }
    for problem in &cx.history.problems {
        match problem {
            Problem::PartInTwoPlaces { entry, .. }
            | Problem::PullNotThere { entry, .. }
            | Problem::RetiredPartFitted { entry, .. }
            | Problem::DoesNotFit { entry, .. }
            | Problem::PlaceNeeded { entry, .. }
            | Problem::PlaceOccupied { entry, .. }
            | Problem::KindDiffers { entry, .. } => note(*entry),
            _ => {}
        }
    }
    for list in &mut ranks {
        list.sort_unstable();
    }
    ranks
}
