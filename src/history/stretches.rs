//! What a session was made of: its stints and stages, each with its own minutes and driver, its stops, and the legs between stops at
//! which something was done. What a part ran is counted leg by leg.
//!
//! Must not know settings or parts.

use super::order::{Order, Rank};
use super::session::Session;
use crate::book::Book;
use crate::book::entry::{By, EntryId, Run, Stretch, Verb};
use crate::book::model::PersonId;
use crate::source::Span;

/// A stint, a stage, or a stop.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its line.
    pub entry: EntryId,
    /// `stint`, `stage` or `stop`.
    pub verb: Verb,
    /// Who drove: its own word, else the session's.
    pub driver: Option<PersonId>,
    /// The label of a stage.
    pub label: Option<Span>,
    /// Minutes, typed, by its times, or what the others leave of the session's.
    pub minutes: Option<f64>,
    /// Laps typed.
    pub laps: Option<u32>,
    /// Best lap typed, seconds.
    pub best: Option<f64>,
    /// Metres, of a stage.
    pub distance: Option<f64>,
    /// Metres of road to it.
    pub road: f64,
    /// When it began, minutes since the epoch.
    pub start: i32,
    /// When it was over.
    pub end: i32,
}

impl Part {
    /// Whether the car ran in it.
    #[must_use]
    pub fn runs(&self) -> bool {
        self.verb != Verb::Stop
    }
}

/// The parts of a session, in the order of its lines; empty for one that is not divided.
pub(super) fn parts(book: &Book, order: &Order, run: &Run) -> Vec<Part> {
    let driver = |entry: EntryId| match book.entries.get(entry).map(|entry| entry.by) {
        Some(By::Person(person)) => Some(person),
        _ => None,
    };
    let of_run = driver(run.entry);
    let part = |typed: &Stretch| {
        let entry = book.entries.get(typed.entry)?;
        let spell = order.spells.get(&typed.entry).copied();
        let clocked =
            spell.and_then(|spell| spell.clocked).filter(|_| entry.verb != Verb::Stage).map(f64::from);
        let at = order.at.get(typed.entry).copied().unwrap_or_default();
        // Whoever a stint does not name is not known.
        let driver = driver(typed.entry).or(of_run.filter(|_| entry.verb != Verb::Stint));
        Some(Part {
            entry: typed.entry,
            verb: entry.verb,
            driver,
            label: typed.label,
            minutes: typed.minutes.or(clocked),
            laps: typed.laps,
            best: typed.best,
            distance: typed.distance,
            road: typed.road.unwrap_or(0.0),
            start: spell.map_or(at, |spell| spell.start),
            end: spell.map_or(at, |spell| spell.end),
        })
    };
    run.stretches.iter().filter_map(part).collect()
}

/// Who drove every stint and stage, where one did.
pub(super) fn only_driver(parts: &[Part]) -> Option<PersonId> {
    let mut drove = parts.iter().filter(|part| part.runs()).map(|part| part.driver);
    let first = drove.next()??;
    drove.all(|driver| driver == Some(first)).then_some(first)
}

/// The sum, where every amount is known.
pub(super) fn sum(amounts: impl Iterator<Item = Option<f64>>) -> Option<f64> {
    amounts.sum()
}

/// The running minutes of a session, by its parts; `typed` and `clocked` are what its own line says. One stint of which nothing is
/// known has what the others leave.
pub(super) fn minutes(parts: &mut [Part], typed: Option<f64>, clocked: Option<f64>) -> Option<f64> {
    let stops = sum(parts.iter().filter(|part| !part.runs()).map(|part| part.minutes));
    let net = || clocked.zip(stops).map(|(clocked, stops)| clocked - stops).filter(|net| *net >= 0.0);
    if parts.iter().all(|part| !part.runs()) {
        return typed.or_else(net);
    }
    // Between stages it drives on the road: the clock says nothing of how long it ran.
    let staged = parts.iter().any(|part| part.verb == Verb::Stage);
    let whole = if staged { typed } else { net().or(typed) };
    let known: f64 = parts.iter().filter(|part| part.runs()).filter_map(|part| part.minutes).sum();
    let mut unknown = parts.iter_mut().filter(|part| part.runs() && part.minutes.is_none());
    let Some(first) = unknown.next() else { return Some(known) };
    if unknown.next().is_none() {
        first.minutes = whole.map(|whole| whole - known).filter(|rest| *rest > 0.0);
    }
    whole
}

/// The legs of a session that was cut by stops at which something was done; empty for one that was not. Their minutes, laps and
/// distance are those of the session, divided; what cannot be divided is not known of any that it might belong to.
pub(super) fn legs(book: &Book, order: &Order, session: &Session, parts: &[Part], run: &Run) -> Vec<Session> {
    let cuts: Vec<(usize, Rank)> = parts
        .iter()
        .enumerate()
        .filter(|(_, part)| !part.runs())
        .filter_map(|(at, part)| Some((at, done(book, order, part.entry)?)))
        .collect();
    if cuts.is_empty() {
        return Vec::new();
    }
    let bounds: Vec<usize> =
        [0].into_iter().chain(cuts.iter().map(|(at, _)| *at)).chain([parts.len()]).collect();
    let of_leg: Vec<&[Part]> =
        bounds.array_windows().map(|[from, to]| parts.get(*from..*to).unwrap_or_default()).collect();
    let running = |leg: &[Part]| leg.iter().filter(|part| part.runs()).cloned().collect::<Vec<_>>();
    let stinted = parts.iter().any(Part::runs);
    let minutes = if stinted {
        of_leg.iter().map(|leg| sum(running(leg).iter().map(|part| part.minutes))).collect()
    } else {
        by_clock(book, order, session, parts, &cuts)
    };
    let laps = of_leg
        .iter()
        .map(|leg| sum(running(leg).iter().map(|part| part.laps.map(f64::from))).filter(|_| stinted));
    let distance =
        of_leg.iter().map(|leg| sum(running(leg).iter().map(|part| part.distance)).filter(|_| stinted));
    let minutes = divided(minutes, session.minutes);
    let laps = divided(laps.collect(), session.laps.map(f64::from));
    let mut metres: Vec<Option<f64>> = distance.collect();
    if let (Some(distance), Some(all)) = (session.distance, session.laps.filter(|all| *all > 0))
        && !parts.iter().any(|part| part.verb == Verb::Stage)
    {
        metres = laps.iter().map(|laps| laps.map(|laps| distance * laps / f64::from(all))).collect();
    }
    let metres = divided(metres, session.distance);
    let road_of_run = run.road.is_some_and(|road| road > 0.0);
    let mut before = Some(0.0);
    let ranks: Vec<Rank> = [session.rank].into_iter().chain(cuts.iter().map(|(_, rank)| *rank)).collect();
    let ends = ranks.iter().skip(1).copied().chain([session.after]);
    let mut legs = Vec::new();
    for (number, ((rank, after), leg)) in ranks.iter().zip(ends).zip(&of_leg).enumerate() {
        let own = laps.get(number).copied().flatten();
        legs.push(Session {
            rank: *rank,
            after,
            minutes: minutes.get(number).copied().flatten(),
            laps: own.map(|laps| laps as u32),
            distance: metres.get(number).copied().flatten(),
            road: if road_of_run { None } else { Some(leg.iter().map(|part| part.road).sum()) },
            launches: if number == 0 { session.launches } else { Some(0) },
            leg: number as u32,
            during: rank.next(),
            laps_before: before.map(|laps: f64| laps as u32),
            ..session.clone()
        });
        before = before.zip(own).map(|(before, own)| before + own);
    }
    legs
}

/// The rank of the last thing done at a stop; `None` where nothing was.
fn done(book: &Book, order: &Order, stop: EntryId) -> Option<Rank> {
    let mut last = None;
    for (index, below) in book.entries.iter_enumerated().skip(stop.index() + 1) {
        if below.parent.is_none_or(|parent| parent < stop) {
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
    use super::order::Length;
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

/// Shares of a whole: one that is not known is what the others leave.
fn divided(mut shares: Vec<Option<f64>>, whole: Option<f64>) -> Vec<Option<f64>> {
    let known: f64 = shares.iter().flatten().sum();
    let mut unknown = shares.iter_mut().filter(|share| share.is_none());
    if let (Some(first), None) = (unknown.next(), unknown.next()) {
        *first = whole.map(|whole| whole - known).filter(|rest| *rest >= 0.0);
    }
    shares
}
