//! Items that are good until a day: which day, by which rule of the book, and whether an impact sends them to be looked at.
//!
//! Years and months stand in the book (`valid 5 years from made` of a kind or a spec, a label's own day on a part), never
//! here. Must not know messages, reports or today.

use super::History;
use super::parts::{Seen, Where};
use crate::book::Book;
use crate::book::calendar::Calendar;
use crate::book::due_dates::Stated;
use crate::book::entry::{EntryId, Verdict};
use crate::book::model::{CarId, EventId, Part, PartId, Since, Valid};
use crate::history::order::Rank;
use crate::history::unread::unread;
use crate::source::Span;
use jiff::civil::Date;

/// What says the last good day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// So many months from a date.
    Counted {
        /// The rule.
        valid: Valid,
        /// The date it counts from.
        from: Stated,
        /// Where that date stands: the part's declaration, or the line that serviced or fitted it.
        at: Span,
    },
    /// The label on the part, or the paper of its last service.
    Label {
        /// As typed.
        until: Stated,
        /// Where it stands.
        at: Span,
    },
}

/// A dated item at a moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Dated {
    /// The part.
    pub part: PartId,
    /// The car it is on, or inside something on it.
    pub car: Option<CarId>,
    /// Where it is.
    pub at: Where,
    /// The last day it is good; the first reached where several rules count. `None` where no rule can be counted.
    pub last_good_day: Option<Date>,
    /// What says so.
    pub basis: Option<Basis>,
    /// Something that says until when could not be read: the day is not known, whatever the rest says.
    pub lost: bool,
    /// Rules that cannot be counted, for the book does not say from when.
    pub uncounted: Vec<Valid>,
    /// The impact on its car that it has not been looked at since (`inspect ... good`, `service`): the line.
    pub impact: Option<EntryId>,
    /// A line with a mistake may have taken it off since.
    pub may_be_off: bool,
}

impl Dated {
    /// Whether it is good on a day, as far as the book can say: not past its day, and no impact waits to be looked at.
    #[must_use]
    pub fn is_good_on(&self, day: Date) -> bool {
        self.impact.is_none() && self.last_good_day.is_some_and(|last| day <= last)
    }
}

/// Every dated item that is still about (not scrapped, not sold) at the moment before `rank`, in the order they are
/// declared. An item whose rules cannot be counted is there too, without its day.
#[must_use]
pub fn dated(book: &Book, history: &History, rank: Rank) -> Vec<Dated> {
    let parts = book.parts.keys();
    parts.filter_map(|part| of_part(book, history, part, rank)).filter(|one| !one.at.is_gone()).collect()
}

/// One part at the moment before `rank`; `None` where nothing about it is dated.
#[must_use]
pub fn of_part(book: &Book, history: &History, part: PartId, rank: Rank) -> Option<Dated> {
    let declared = book.parts.get(part)?;
    let lines = history.parts.get(part);
    let rules = rules(book, declared);
    let service = service(history, part, rank);
    let paper = service.and_then(|seen| until(book, seen));
    let unread = unread(book, history, part, rank).is_some();
    if rules.is_empty() && declared.valid_until.is_none() && paper.is_none() && !days_lost(book, declared) {
        return None;
    }
    let lost = unread || paper.is_none() && days_lost(book, declared);
    let mut uncounted = Vec::new();
    let mut bases: Vec<(Date, Basis)> = Vec::new();
    if let Some((until, at)) = paper {
        // Whoever serviced it last has said until when; that paper outranks the years of the book.
        bases.push((until.last_day(), Basis::Label { until, at }));
    } else {
        if let Some((until, at)) = declared.valid_until {
            bases.push((until.last_day(), Basis::Label { until, at }));
        }
        for valid in rules {
            let counted = from(book, history, part, valid.since, service)
                .and_then(|(from, at)| Some((from.last_good_day(valid.months)?, from, at)));
            match counted {
                Some((day, from, at)) => bases.push((day, Basis::Counted { valid: *valid, from, at })),
                None => uncounted.push(*valid),
            }
        }
    }
    let first = bases.into_iter().min_by_key(|(day, _)| *day).filter(|_| !lost);
    let stay = lines.at(rank);
    Some(Dated {
        part,
        car: stay.and_then(|stay| stay.car),
        at: stay.map_or(Where::New, |stay| stay.at),
        last_good_day: first.map(|(day, _)| day),
        basis: first.map(|(_, basis)| basis),
        lost,
        uncounted,
        impact: impact(history, part, rank),
        may_be_off: lines.may_be_off(rank),
    })
}

/// Whether a declaration that says until when a part is good could not be read.
fn days_lost(book: &Book, part: &Part) -> bool {
    let spec = part.spec.and_then(|spec| book.specs.get(spec));
    let outranked = spec.is_some_and(|spec| !spec.valid.is_empty());
    let kind = part.kind.and_then(|kind| book.kinds.get(kind)).filter(|_| !outranked);
    part.lost.days || spec.is_some_and(|spec| spec.lost.days) || kind.is_some_and(|kind| kind.lost.days)
}

/// The rules of a part: its spec's own, else its kind's.
#[must_use]
pub fn rules<'a>(book: &'a Book, part: &Part) -> &'a [Valid] {
    let spec = part.spec.and_then(|spec| book.specs.get(spec));
    match spec.filter(|spec| !spec.valid.is_empty()) {
        Some(spec) => &spec.valid,
        None => part.kind.and_then(|kind| book.kinds.get(kind)).map_or(&[], |kind| kind.valid.as_slice()),
    }
}

/// The date that a rule of a part counts from at the moment before `rank`; `None` where nobody can say.
#[must_use]
pub fn counted_from(
    book: &Book,
    history: &History,
    part: PartId,
    since: Since,
    rank: Rank,
) -> Option<Stated> {
    from(book, history, part, since, service(history, part, rank)).map(|(stated, _)| stated)
}

/// The last good day that the last service of a part states, or else the part's label, at the moment before `rank`.
#[must_use]
pub fn label(book: &Book, history: &History, part: PartId, rank: Rank) -> Option<Stated> {
    let paper = service(history, part, rank).and_then(|seen| until(book, seen)).map(|(stated, _)| stated);
    paper.or_else(|| book.parts.get(part)?.valid_until.map(|(stated, _)| stated))
}

fn service(history: &History, part: PartId, rank: Rank) -> Option<&Seen> {
    history.parts.get(part).seen.iter().rev().find(|seen| seen.service && seen.rank < rank)
}

/// The last good day that a service states, and where.
fn until(book: &Book, seen: &Seen) -> Option<(Stated, Span)> {
    let entry = book.entries.get(seen.entry)?;
    let stated = book.extra(entry)?.parts.as_ref()?.until?;
    Some((stated, entry.span()))
}

/// The date that a rule counts from, and where it stands.
fn from(
    book: &Book,
    history: &History,
    part: PartId,
    since: Since,
    service: Option<&Seen>,
) -> Option<(Stated, Span)> {
    let declared = book.parts.get(part)?;
    let day_of = |entry: EntryId| {
        Some((Stated::Day(history.order.date(book, entry)?), book.entries.get(entry)?.span()))
    };
    match since {
        Since::Made => declared.made,
        Since::Serviced => {
            let last = service.and_then(|seen| day_of(seen.entry));
            last.or(declared.serviced).or(declared.made)
        }
        Since::Fitted => declared.fitted.or_else(|| {
            // What had run before the book was fitted before it: when, only the declaration can say.
            let first = history.parts.get(part).stays.iter().find(|stay| stay.car.is_some())?;
            declared.opening_new.then(|| day_of(first.entry)).flatten()
        }),
    }
}

/// The last impact on a car while the part was on it that nobody has looked at it since.
fn impact(history: &History, part: PartId, rank: Rank) -> Option<EntryId> {
    let lines = history.parts.get(part);
    let stays = lines.stays.iter().filter_map(|stay| stay.car.map(|car| (car, stay)));
    let hits = stays.flat_map(|(car, stay)| history.disturbances.hits(car, stay.from, stay.until.min(rank)));
    let last = hits.max_by_key(|hit| hit.rank)?;
    let cleared = lines.seen.iter().any(|seen| {
        let good = seen.service || seen.verdict == Some(Verdict::Good);
        good && seen.rank > last.rank && seen.rank < rank
    });
    (!cleared).then_some(last.entry)
}

/// The next event of each car that ends on or after a day: one it goes to, or that the book has lines of it at.
#[must_use]
pub fn next_events(book: &Book, from: Date) -> Vec<Option<EventId>> {
    let ahead = Calendar::ahead(book, from);
    let day = |id: &EventId| {
        let event = &book.events[*id];
        (event.last >= from).then_some((event.first, event.last, *id))
    };
    let next = |car: CarId| {
        let at = book.heads_of(car).filter_map(|head| head.event);
        at.chain(ahead.first(book, car)).filter_map(|id| day(&id)).min().map(|(.., id)| id)
    };
    book.cars.keys().map(next).collect()
}

/// The same of one car.
#[must_use]
pub fn next_event(book: &Book, car: CarId, from: Date) -> Option<EventId> {
    next_events(book, from).get(car.index()).copied().flatten()
}
