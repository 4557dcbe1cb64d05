//! The legs of a session between stops at which something was done, and what several of them come to together. What a part ran is counted
//! by them.
//!
//! Must not know settings or parts.

use super::order::{Length, Order, Rank};
use super::session::Session;
use super::stretches::{self, Part};
use crate::book::Book;
use crate::book::entry::{EntryId, Run};
use std::ops::Range;

/// A leg as it is worked out.
struct Leg<'a> {
    rank: Rank,
    after: Rank,
    parts: &'a [Part],
    minutes: Option<f64>,
    laps: Option<f64>,
    metres: Option<f64>,
}

/// The legs of a session that was cut by stops at which something was done, and the moment behind the last of these; `None` for one that
/// was not. Their minutes, laps and distance are those of the session, divided; what cannot be divided is not known of any that it might
/// belong to. Between two stops in which nothing ran there is none.
pub(super) fn legs(
    book: &Book,
    order: &Order,
    session: &Session,
    parts: &[Part],
    run: &Run,
) -> Option<(Vec<Session>, Rank)> {
    let cuts: Vec<(usize, Rank)> = parts
        .iter()
        .enumerate()
        .filter(|(_, part)| !part.runs())
        .filter_map(|(at, part)| Some((at, below(book, order, part.entry)?)))
        .collect();
    let (_, during) = cuts.last().map(|(at, rank)| (at, rank.next()))?;
    let stinted = parts.iter().any(Part::runs);
    let clocked = if stinted { Vec::new() } else { by_clock(book, order, session, parts, &cuts) };
    let mut legs: Vec<Leg<'_>> = Vec::new();
    let ends = cuts.iter().copied().chain([(parts.len(), session.after)]);
    let (mut from, mut rank) = (0, session.rank);
    for (number, (to, after)) in ends.enumerate() {
        let of_leg = parts.get(from..to).unwrap_or_default();
        let ran = || of_leg.iter().filter(|part| part.runs());
        let of_parts =
            |amount: fn(&Part) -> Option<f64>| stretches::sum(ran().map(amount)).filter(|_| stinted);
        let minutes = of_parts(|part| part.minutes).or(clocked.get(number).copied().flatten());
        if if stinted { ran().next().is_some() } else { minutes != Some(0.0) } {
            let laps = of_parts(|part| part.laps.map(f64::from));
            let metres = of_parts(|part| part.distance);
            legs.push(Leg { rank, after, parts: of_leg, minutes, laps, metres });
        }
        (from, rank) = (to, after);
    }
    share(&mut legs, session, parts);
    let road_of_run = run.road.is_some_and(|road| road > 0.0);
    let alone = legs.len() == 1;
    let mut before = Some(0.0);
    let mut all = Vec::new();
    for (number, leg) in legs.iter().enumerate() {
        let road = if road_of_run { None } else { Some(leg.parts.iter().map(|part| part.road).sum()) };
        let of_leg = Session {
            minutes: leg.minutes,
            laps: leg.laps.map(|laps| laps as u32),
            distance: leg.metres,
            road,
            ..session.clone()
        };
        all.push(Session {
            rank: leg.rank,
            after: leg.after,
            launches: if number == 0 { session.launches } else { Some(0) },
            leg: number as u32,
            during: leg.rank.next(),
            laps_before: before.map(|laps: f64| laps as u32),
            ..if alone { session.clone() } else { of_leg }
        });
        before = before.zip(leg.laps).map(|(before, own)| before + own);
    }
    (!all.is_empty()).then_some((all, during))
}

/// Gives a leg of which something is not known what the others leave.
fn share(legs: &mut [Leg<'_>], session: &Session, parts: &[Part]) {
    divided(legs.iter_mut().map(|leg| &mut leg.minutes), session.minutes);
    divided(legs.iter_mut().map(|leg| &mut leg.laps), session.laps.map(f64::from));
    if let (Some(distance), Some(all)) = (session.distance, session.laps.filter(|all| *all > 0))
        && !parts.iter().any(|part| part.verb == crate::book::entry::Verb::Stage)
    {
        for leg in legs.iter_mut() {
            leg.metres = leg.laps.map(|laps| distance * laps / f64::from(all));
        }
    }
    divided(legs.iter_mut().map(|leg| &mut leg.metres), session.distance);
}

/// Shares of a whole: one that is not known is what the others leave.
fn divided<'a>(shares: impl Iterator<Item = &'a mut Option<f64>>, whole: Option<f64>) {
    let (mut known, mut unknown) = (0.0, Vec::new());
    for share in shares {
        match share {
            Some(share) => known += *share,
            None => unknown.push(share),
        }
    }
    if let [only] = unknown.as_mut_slice() {
        **only = whole.map(|whole| whole - known).filter(|rest| *rest >= 0.0);
    }
}

/// What the legs come to together, up to a stop, from a stop on, and all: all of them are the whole session, and some of which one does not
/// say it are what the others leave. A leg alone needs none.
pub(super) fn joined(whole: &Session, legs: &[Session]) -> Vec<(Range<u32>, Session)> {
    let mut all = Vec::new();
    let heads = (2..=legs.len()).map(|to| 0..to);
    let tails = (1..legs.len().saturating_sub(1)).map(|from| from..legs.len());
    for Range { start: from, end: to } in heads.chain(tails) {
        let row = legs.get(from..to).unwrap_or_default();
        let rest = || legs.iter().take(from).chain(legs.iter().skip(to));
        let of = |amount: fn(&Session) -> Option<f64>| {
            let own = stretches::sum(row.iter().map(amount)).filter(|_| row.len() < legs.len());
            let left = || {
                let rest = stretches::sum(rest().map(amount))?;
                amount(whole).map(|whole| whole - rest).filter(|left| *left >= 0.0)
            };
            own.or_else(left)
        };
        let [Some(first), Some(last)] = [row.first(), row.last()] else { continue };
        all.push((
            from as u32..to as u32,
            Session {
                minutes: of(|leg| leg.minutes),
                laps: of(|leg| leg.laps.map(f64::from)).map(|laps| laps as u32),
                distance: of(|leg| leg.distance),
                road: of(|leg| leg.road),
                after: last.after,
                during: last.during,
                ..first.clone()
            },
        ));
    }
    all
}

/// The rank of the last line under a line; `None` where there is none.
pub(super) fn below(book: &Book, order: &Order, line: EntryId) -> Option<Rank> {
    let mut last = None;
    for (index, below) in book.entries.iter_enumerated().skip(line.index() + 1) {
        if below.parent.is_none_or(|parent| parent < line) {
            break;
        }
        last = last.max(order.rank.get(index).copied());
    }
    last
}

/// The minutes of the legs by the clock alone: from stop to stop, where every time is known.
fn by_clock(
    book: &Book,
    order: &Order,
    session: &Session,
    stops: &[Part],
    cuts: &[(usize, Rank)],
) -> Vec<Option<f64>> {
    let unknown = vec![None; cuts.len() + 1];
    let known = matches!(order.lengths.get(session.run), Some(Length::Known(_) | Length::Back(_)));
    let timed = |stop: &Part| book.entries.get(stop.entry).is_some_and(|line| line.clock.0 >= 0);
    if !known || stops.iter().any(|stop| stop.minutes.is_none() || !timed(stop)) {
        return unknown;
    }
    let mut legs = Vec::new();
    let mut from = f64::from(session.start);
    let mut ran = 0.0;
    for (at, stop) in stops.iter().enumerate() {
        ran += f64::from(stop.start) - from;
        from = f64::from(stop.start) + stop.minutes.unwrap_or(0.0);
        if cuts.iter().any(|(cut, _)| *cut == at) {
            legs.push(ran);
            ran = 0.0;
        }
    }
    legs.push(ran + f64::from(session.end) - from);
    // Minutes typed that are others than the clock's cannot be divided by it.
    let sum: f64 = legs.iter().sum();
    if legs.iter().any(|leg| *leg < 0.0) || session.minutes.is_none_or(|whole| (whole - sum).abs() > 1.0) {
        return unknown;
    }
    if let (Some(last), Some(whole)) = (legs.last_mut(), session.minutes) {
        *last = (*last + whole - sum).max(0.0);
    }
    legs.into_iter().map(Some).collect()
}
