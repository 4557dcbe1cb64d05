//! `empty-place-ran`: a car ran with nothing in a place that must be filled.

use crate::sorted;
use crate::history::order::Rank;
use crate::book::entry::{Verb, EntryId};
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::history::sessions::Session;

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
    let must: Vec<KindId> = cx.book.kinds.keys()
        .filter(|kind| cx.book.kinds[*kind].must)
        .collect();
    if must.is_empty() {
        return;
    }
    let doubtful = doubtful(cx);
    for (car, doubtful) in doubtful.iter().enumerate() {
        let car = CarId::from(car);
        // After a sale nothing is on the car by the book, and another check speaks of the lines.
        let sold = cx.history.parts.sold.get(&car).map_or(Rank::END, |(rank, _)| *rank);
        for kind in &must {
            let places = cx.history.parts.places_for(cx.book, car, *kind);
            let holders = |place: &Place| cx.history.parts.occupants.get(&(car, *kind, *place));
            // Before the shop first wrote such a part on this car, it did not keep track of them.
            let begun = places.iter().filter_map(|place| holders(place)?.first()).map(|(from, ..)| *from).min();
            for place in places {
                for (from, until) in gaps(cx, car, *kind, place, begun.unwrap_or(Rank::START)) {
                    let ran = cx.history.sessions.legs_between(car, from, until.min(sold));
                    let Some(session) = ran.first().copied() else { continue };
                    let later = sorted::from(doubtful, |(rank, _)| *rank < from);
                    let mut between = later.iter().take_while(|(rank, _)| *rank < until);
                    if !between.any(|(_, about)| about.is_none_or(|about| about == *kind))
                        && !was_doubted(cx, car, *kind, place, session.rank)
                        && !told::is_misdated(cx, session)
                    {
                        let legs = ran.array_windows().filter(|[leg, next]| leg.entry == next.entry).count();
                        out.push(message(cx, *kind, place, session, ran.len() - legs));
                    }
                }
            }
        }
    }
}

fn message(cx: &Context<'_>, kind: KindId, place: Place, session: &Session, count: usize) -> Diagnostic {
    let kind = &cx.book.kinds[kind].named;
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

/// Ranks `from <= rank < until`, from `begun` on, at which nothing is there.
fn gaps(cx: &Context<'_>, car: CarId, kind: KindId, place: Place, begun: Rank) -> Vec<(Rank, Rank)> {
    let mut gaps = Vec::new();
    let mut from = begun;
    for (start, end, _) in cx.history.parts.occupants.get(&(car, kind, place)).map_or(&[][..], Vec::as_slice) {
        // What goes on at a stop stands at the leg that it runs first.
        if *start > from {
            gaps.push((from, *start));
        }
        from = *end;
    }
    gaps.push((from, Rank::END));
    gaps
}

/// Whether a mistake had put the part that was there last in doubt.
fn was_doubted(cx: &Context<'_>, car: CarId, kind: KindId, place: Place, rank: Rank) -> bool {
    let list = cx.history.parts.occupants.get(&(car, kind, place)).map_or(&[][..], Vec::as_slice);
    let next = list.partition_point(|(from, ..)| *from < rank);
    let last = next.checked_sub(1).and_then(|at| list.get(at));
    last.is_some_and(|(from, _, part)| cx.history.parts.get(*part).doubted(*from, rank))
}

/// A rank, and the kind it is about where that is known.
type Doubt = (Rank, Option<KindId>);

/// Of each car, lines about parts that have an error of their own: what they would have put where is not known.
fn doubtful(cx: &Context<'_>) -> Vec<Vec<Doubt>> {
    let mut ranks: Vec<Vec<Doubt>> = vec![Vec::new(); cx.book.cars.len()];
    let mut note = |entry: EntryId, part: Option<PartId>| {
        let kind = part.and_then(|part| cx.book.parts.get(part)).and_then(|part| part.kind);
        let doubt = (cx.rank(entry), kind);
        match cx.car_of(entry) {
            Some(car) => ranks.get_mut(car.index()).into_iter().for_each(|list| list.push(doubt)),
            // Under a head that names no car it may have been any of them.
            None => ranks.iter_mut().for_each(|list| list.push(doubt)),
        }
    };
    for (index, entry) in cx.book.entries.iter_enumerated() {
        if entry.broken && matches!(entry.verb, Verb::Fit | Verb::Swap | Verb::Move | Verb::Remove) {
            note(index, None);
        }
    }
    for problem in &cx.history.problems {
        match problem {
            Problem::PartInTwoPlaces { entry, part, .. }
            | Problem::PullNotThere { entry, part, .. }
            | Problem::RetiredPartFitted { entry, part, .. }
            | Problem::DoesNotFit { entry, part, .. }
            | Problem::PlaceNeeded { entry, part, .. }
            | Problem::PlaceOccupied { entry, holds: part, .. } => note(*entry, Some(*part)),
            Problem::KindDiffers { entry, .. } => note(*entry, None),
            _ => {}
        }
    }
    for list in &mut ranks {
        list.sort_unstable();
    }
    ranks
}
