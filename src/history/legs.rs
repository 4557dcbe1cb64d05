//! The legs of a session between the moments at which something was done to the car, and what several of them come to together. What a part
//! ran is counted by them.
//!
//! The rule. A session is cut at each of its stops under which something was done, and at the clock of what another block, or a line below the
//! session, did while it lasted. Where the car stood then, the running before and after is known; where it ran by its times, or nobody knows,
//! what ran about then is known of neither side, and of both together it is.
//!
//! Must not know settings or parts.

use super::order::{Length, Order, Rank};
use super::session::Session;
use super::stretches::{self, Part};
use crate::book::Book;
use crate::book::entry::{EntryId, Run, Verb};
use std::ops::Range;

/// What was done to a car while a session of it lasted, by a line that stands under none of its stops.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Done {
    /// When in the order of the book.
    pub rank: Rank,
    /// When by the clock, minutes since the epoch.
    pub at: i32,
    /// The line.
    pub entry: EntryId,
    /// A part went on the car or came off it: that cuts the session wherever it was.
    pub moves: bool,
}

/// What a session was made of, in order: running, and standing.
#[derive(Debug, Clone, Copy)]
struct Piece {
    runs: bool,
    minutes: Option<f64>,
    laps: Option<u32>,
    metres: Option<f64>,
    road: f64,
    /// From when until when, where that is known.
    was: Option<(i32, i32)>,
}

/// A moment at which something was done: between the pieces before `from` and those from `to` on; those from `from` to `to` were about then.
struct Cut {
    rank: Rank,
    from: usize,
    to: usize,
}

/// A leg as it is worked out.
struct Leg {
    rank: Rank,
    after: Rank,
    was: Option<(i32, i32)>,
    minutes: Option<f64>,
    /// Of those the ones that are known.
    known: f64,
    laps: Option<f64>,
    metres: Option<f64>,
    road: Option<f64>,
}

/// A session divided.
pub(super) struct Divided {
    /// Its legs, in order; their minutes, laps and distance are those of the session, divided. What cannot be divided is not known of any that it
    /// might belong to.
    pub legs: Vec<Session>,
    /// The moment behind what was done last.
    pub during: Rank,
    /// Lines that put parts on the car or took them off while it ran.
    pub unsure: Vec<EntryId>,
}

/// The legs of a session during which something was done; `None` for another. Between two moments in which nothing ran there is none.
pub(super) fn legs(
    book: &Book,
    order: &Order,
    session: &Session,
    parts: &[Part],
    run: &Run,
    done: &[Done],
) -> Option<Divided> {
    let stinted = parts.iter().any(Part::runs);
    let pieces =
        if stinted { parts.iter().map(piece).collect() } else { between(book, order, session, parts) };
    let (cuts, unsure) = cuts(book, order, parts, &pieces, done);
    let during = cuts.last()?.rank.next();
    let open = open(&pieces, &cuts);
    let mut legs: Vec<Leg> = Vec::new();
    let mut leg = |range: Range<usize>, known: bool, rank: Rank, after: Rank| {
        let of_leg = pieces.get(range).unwrap_or_default();
        let ran = || of_leg.iter().filter(|piece| piece.runs);
        let Some((first, last)) = ran().next().zip(ran().next_back()) else { return };
        let of = |amount: fn(&Piece) -> Option<f64>| stretches::sum(ran().map(amount)).filter(|_| known);
        let minutes = of(|piece| piece.minutes);
        if !stinted && minutes == Some(0.0) {
            return;
        }
        let road: f64 = ran().map(|piece| piece.road).sum();
        legs.push(Leg {
            rank,
            after,
            was: first.was.zip(last.was).map(|((start, _), (_, end))| (start, end)).filter(|_| known),
            minutes,
            known: ran().filter(|_| known).filter_map(|piece| piece.minutes).sum(),
            laps: of(|piece| piece.laps.map(f64::from)),
            metres: of(|piece| piece.metres),
            road: (known || road <= 0.0).then_some(road),
        });
    };
    let (mut at, mut rank, mut within) = (0, session.rank, None::<&Range<usize>>);
    for cut in &cuts {
        if let Some(region) = within.take_if(|region| region.end <= cut.from) {
            leg(region.clone(), false, rank, cut.rank);
            at = region.end;
        }
        let region = open.iter().find(|region| region.start < cut.to && cut.from < region.end);
        if let Some(region) = region {
            if within.is_none() {
                leg(at..region.start, true, rank, cut.rank);
            }
            leg(region.clone(), false, rank, cut.rank);
            within = Some(region);
        } else {
            leg(at..cut.to, true, rank, cut.rank);
            at = cut.to;
        }
        rank = cut.rank;
    }
    if let Some(region) = within {
        leg(region.clone(), false, rank, session.after);
        at = region.end;
    }
    leg(at..pieces.len(), true, rank, session.after);
    share(&mut legs, session, parts);
    let road_of_run = run.road.is_some_and(|road| road > 0.0);
    let alone = legs.len() == 1;
    let mut before = Some(0.0);
    let mut all = Vec::new();
    for (number, leg) in legs.iter().enumerate() {
        let (start, end) = leg.was.unwrap_or((session.start, session.end));
        let of_leg = Session {
            minutes: leg.minutes,
            known: leg.known,
            laps: leg.laps.map(|laps| laps as u32),
            distance: leg.metres,
            road: if road_of_run { None } else { leg.road },
            untimed: session.untimed && (road_of_run || leg.road != Some(0.0)),
            start,
            end,
            ..session.clone()
        };
        all.push(Session {
            rank: leg.rank,
            after: leg.after,
            launches: session.launches.map(|launches| if number == 0 { launches } else { 0 }),
            leg: number as u32,
            during: leg.rank.next(),
            laps_before: before.map(|laps: f64| laps as u32),
            ..if alone { session.clone() } else { of_leg }
        });
        before = before.zip(leg.laps).map(|(before, own)| before + own);
    }
    (!all.is_empty()).then_some(Divided { legs: all, during, unsure })
}

fn piece(part: &Part) -> Piece {
    Piece {
        runs: part.runs(),
        minutes: part.minutes,
        laps: part.laps,
        metres: part.distance,
        road: part.road,
        was: part.was,
    }
}

/// The moments at which something was done, in order, and the lines that moved a part while the car ran by its times, or may have.
fn cuts(
    book: &Book,
    order: &Order,
    parts: &[Part],
    pieces: &[Piece],
    done: &[Done],
) -> (Vec<Cut>, Vec<EntryId>) {
    let stinted = parts.iter().any(Part::runs);
    // Where nothing but stops is said, what ran stands between them.
    let place = |part: usize| if stinted { part } else { 2 * part + 1 };
    let stops = parts.iter().enumerate().filter(|(_, part)| !part.runs());
    let mut cuts: Vec<Cut> = stops
        .filter_map(|(at, part)| {
            Some(Cut { rank: below(book, order, part.entry)?, from: place(at), to: place(at) })
        })
        .collect();
    let mut unsure = Vec::new();
    for one in done {
        let over = |piece: &Piece| piece.was.is_some_and(|(_, end)| end <= one.at);
        let ahead = |piece: &Piece| piece.was.is_some_and(|(start, _)| start >= one.at);
        let from = pieces.iter().rposition(over).map_or(0, |last| last + 1);
        let to = pieces.iter().position(ahead).unwrap_or(pieces.len()).max(from);
        let ran = pieces.get(from..to).unwrap_or_default().iter().any(|piece| piece.runs);
        if !ran {
            cuts.push(Cut { rank: one.rank, from: to, to });
        } else if one.moves {
            cuts.push(Cut { rank: one.rank, from, to });
            unsure.push(one.entry);
        }
    }
    cuts.sort_by_key(|cut| cut.rank);
    unsure.dedup();
    (cuts, unsure)
}

/// The pieces of which it is not known how much of them was before a cut, in rows that do not touch one another.
fn open(pieces: &[Piece], cuts: &[Cut]) -> Vec<Range<usize>> {
    let mut open: Vec<Range<usize>> = Vec::new();
    let ran = |cut: &&Cut| pieces.get(cut.from..cut.to).unwrap_or_default().iter().any(|piece| piece.runs);
    let mut rows: Vec<Range<usize>> = cuts.iter().filter(ran).map(|cut| cut.from..cut.to).collect();
    rows.sort_unstable_by_key(|row| (row.start, row.end));
    for row in rows {
        match open.last_mut() {
            Some(last) if row.start < last.end => last.end = last.end.max(row.end),
            _ => open.push(row),
        }
    }
    open
}

/// Gives a leg of which something is not known what the others leave.
fn share(legs: &mut [Leg], session: &Session, parts: &[Part]) {
    divided(legs.iter_mut().map(|leg| &mut leg.minutes), session.minutes);
    divided(legs.iter_mut().map(|leg| &mut leg.laps), session.laps.map(f64::from));
    if let (Some(distance), Some(all)) = (session.distance, session.laps.filter(|all| *all > 0))
        && !parts.iter().any(|part| part.verb == Verb::Stage)
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
        let one = (
            from as u32..to as u32,
            Session {
                minutes: of(|leg| leg.minutes),
                known: row.iter().map(Session::least_minutes).sum(),
                untimed: row.iter().any(|leg| leg.untimed),
                end: last.end,
                last: last.last,
                laps: of(|leg| leg.laps.map(f64::from)).map(|laps| laps as u32),
                distance: of(|leg| leg.distance),
                road: of(|leg| leg.road),
                after: last.after,
                during: last.during,
                ..first.clone()
            },
        );
        // Leg by leg more may be known: the least that some of them ran.
        let amounts: [fn(&Session) -> bool; 3] =
            [|leg| leg.minutes.is_some(), |leg| leg.laps.is_some(), |leg| leg.distance.is_some()];
        let loses = amounts.iter().any(|said| !said(&one.1) && row.iter().any(said));
        if !loses || row.len() == legs.len() {
            all.push(one);
        }
    }
    all
}

/// The rank of the last line under a line; `None` where there is none.
pub(super) fn below(book: &Book, order: &Order, line: EntryId) -> Option<Rank> {
    let mut last = None;
    for (index, below) in book.entries.iter_from(line.plus(1)) {
        if below.parent.is_none_or(|parent| parent < line) {
            break;
        }
        last = last.max(order.rank.get(index).copied());
    }
    last
}

/// What a session was made of that has no stints: its running up to each stop, the stop, and its running behind the last, where every time is
/// known by the clock.
fn between(book: &Book, order: &Order, session: &Session, stops: &[Part]) -> Vec<Piece> {
    let standing = Piece { runs: false, minutes: None, laps: None, metres: None, road: 0.0, was: None };
    let running = Piece { runs: true, ..standing };
    let known = matches!(order.lengths.get(session.run), Some(Length::Known(_) | Length::Back(_)));
    let timed = |stop: &Part| book.entries.get(stop.entry).is_some_and(|line| line.clock.0 >= 0);
    let clocked = known && stops.iter().all(|stop| stop.minutes.is_some() && timed(stop));
    let mut pieces = Vec::new();
    let mut from = f64::from(session.start);
    for stop in stops {
        let to = f64::from(stop.start);
        let was = clocked.then_some((libm::ceil(from) as i32, stop.start));
        pieces.push(Piece { minutes: clocked.then_some(to - from), was, ..running });
        pieces.push(Piece { was: stop.was, ..standing });
        from = to + stop.minutes.unwrap_or(0.0);
    }
    let whole = known || session.end > session.start;
    let was = (clocked || stops.is_empty() && whole).then_some((libm::ceil(from) as i32, session.end));
    pieces.push(Piece { minutes: clocked.then_some(f64::from(session.end) - from), was, ..running });
    // Minutes typed that are others than the clock's cannot be divided by it.
    let sum: f64 = pieces.iter().filter_map(|piece| piece.minutes).sum();
    let back = pieces.iter().filter_map(|piece| piece.minutes).any(|minutes| minutes < 0.0);
    let apart = session.minutes.is_none_or(|whole| (whole - sum).abs() > 1.0);
    if back || apart {
        for piece in &mut pieces {
            piece.minutes = None;
        }
    } else if let (Some(Piece { minutes: Some(last), .. }), Some(whole)) =
        (pieces.last_mut(), session.minutes)
    {
        *last = (*last + whole - sum).max(0.0);
    }
    pieces
}
