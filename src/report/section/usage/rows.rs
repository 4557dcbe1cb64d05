//! Who was in each place of a car in each session, joined into runs.
//!
//! A part in an assembly has a row of its own, by the place of that assembly. Must not know the drawing's paper.

use crate::book::entry::EntryId;
use crate::book::model::{CarId, KindId, PartId, SpecId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::history::sessions::Session;
use crate::report::chart::usage::UsagePiece;
use crate::report::teller::Teller;
use std::collections::BTreeMap;

/// A place.
#[derive(Debug, Clone)]
pub(super) struct PlaceRow {
    /// The kind of part.
    pub kind: KindId,
    /// Its words: "LR", "in the hub LF".
    pub name: String,
    /// Who was there, in order.
    pub ran: Vec<PlaceRun>,
}

/// A part in a place over some sessions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct PlaceRun {
    /// First session, or leg of one, from 0.
    pub from: usize,
    /// One past the last.
    pub until: usize,
    /// The part.
    pub part: PartId,
    /// Its spec.
    pub spec: Option<SpecId>,
    /// The line that put it there.
    pub entry: EntryId,
    /// It failed at the end of it.
    pub failed: bool,
}

/// A row's place: the kind, the place on the car, and the kind of assembly it is in.
type At = (KindId, Place, Option<KindId>);

/// The rows, by kind and place.
pub(super) fn rows(tell: &Teller<'_>, car: CarId, sessions: &[&Session]) -> Vec<PlaceRow> {
    let mut all: BTreeMap<At, Vec<PlaceRun>> = BTreeMap::new();
    for part in tell.travels().on(car) {
        put(tell, car, *part, sessions, &mut all);
    }
    all.into_iter()
        .map(|((kind, place, inside), mut ran)| {
            ran.sort_by_key(|ran| (ran.from, ran.part));
            PlaceRow { kind, name: name(tell, place, inside), ran }
        })
        .collect()
}

/// "LR", "in the hub LF", "the car".
fn name(tell: &Teller<'_>, place: Place, inside: Option<KindId>) -> String {
    let word = tell.cx.place(place);
    let kind = inside.and_then(|kind| tell.cx.book.kinds.get(kind));
    match (kind, word.is_empty()) {
        (None, true) => "the car".to_owned(),
        (None, false) => word,
        (Some(kind), _) => {
            format!("in the {} {word}", kind.named.typed.replace('-', " ")).trim_end().to_owned()
        }
    }
}

/// Adds the runs of one part.
fn put(
    tell: &Teller<'_>,
    car: CarId,
    part: PartId,
    sessions: &[&Session],
    all: &mut BTreeMap<At, Vec<PlaceRun>>,
) {
    let cx = &tell.cx;
    let Some(declared) = cx.book.parts.get(part) else { return };
    let Some(kind) = declared.kind else { return };
    for stay in cx.history.parts.get(part).stays.iter().filter(|stay| stay.car == Some(car)) {
        let first = sessions.partition_point(|session| session.rank < stay.from);
        let last = sessions.partition_point(|session| session.rank < stay.until);
        for (at, session) in sessions.iter().enumerate().take(last).skip(first) {
            let Some((place, inside)) = place(tell, stay.at, session.rank) else { continue };
            let row = all.entry((kind, place, inside)).or_default();
            let next = sessions.get(at + 1).map_or(Rank::END, |session| session.rank);
            let failed = failed(tell, part, session, stay.until.min(next));
            match row.last_mut().filter(|ran| ran.part == part && ran.until == at) {
                Some(ran) => (ran.until, ran.failed) = (at + 1, failed),
                None => row.push(PlaceRun {
                    from: at,
                    until: at + 1,
                    part,
                    spec: declared.spec,
                    entry: stay.entry,
                    failed,
                }),
            }
        }
    }
}

/// Where a part is on its car: its own place, or that of the assembly it is in, with the assembly's kind.
fn place(tell: &Teller<'_>, there: Where, rank: Rank) -> Option<(Place, Option<KindId>)> {
    let cx = &tell.cx;
    let mut at = there;
    let mut inside = None;
    // Assemblies never hold themselves; the count guards against a book that says so.
    for _ in 0..64 {
        match at {
            Where::Car(_, place) => return Some((place, inside)),
            Where::Inside(holder) => {
                inside = inside.or_else(|| cx.book.parts.get(holder)?.kind);
                at = cx.history.parts.get(holder).at(rank.next())?.at;
            }
            _ => return None,
        }
    }
    None
}

/// Whether a part failed in a session, or was found failed or came off as failed before a rank.
fn failed(tell: &Teller<'_>, part: PartId, session: &Session, until: Rank) -> bool {
    let cx = &tell.cx;
    cx.history.parts.get(part).failures.iter().any(|line| match cx.history.during(cx.book, *line) {
        Some(run) => run == session.entry,
        None => (session.rank..=until).contains(&cx.rank(*line)),
    })
}

/// The specs among some rows, in the order of the book; parts without one last.
pub(super) fn specs(tell: &Teller<'_>, kind: KindId, rows: &[PlaceRow]) -> Vec<Option<SpecId>> {
    let used = |spec: &Option<SpecId>| rows.iter().flat_map(|row| &row.ran).any(|ran| ran.spec == *spec);
    let book = tell.cx.book;
    let of_kind = book.specs.keys().filter(|spec| book.specs[*spec].kind == kind);
    of_kind.map(Some).chain([None]).filter(used).collect()
}

/// A spec's name.
pub(super) fn spec<'a>(tell: &Teller<'a>, spec: Option<SpecId>) -> Option<&'a str> {
    tell.cx.book.specs.get(spec?).map(|spec| &*spec.named.typed)
}

/// A run as the drawing takes it.
pub(super) fn bar(tell: &Teller<'_>, specs: &[Option<SpecId>], ran: &PlaceRun) -> UsagePiece {
    UsagePiece {
        from: ran.from,
        until: ran.until,
        part: tell.cx.part(ran.part).to_owned(),
        spec: specs.iter().position(|spec| *spec == ran.spec).unwrap_or(0),
        failed: ran.failed,
    }
}
