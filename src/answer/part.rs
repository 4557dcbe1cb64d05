//! A part in its place with its use, as plain data.
//!
//! Must not know limits (those are checks' and reports'), nor rendering.

use super::{LedgerLine, entry_date, entry_line, place};
use crate::Compiled;
use crate::book::model::{CarId, Clock, KindId, LifeAmount, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::usage::{self, Use};
use crate::words::scale::Scale;
use serde::Serialize;

/// A place of a car and who is there.
#[derive(Debug, Clone, Serialize)]
pub struct PartView {
    /// The kind of part.
    pub kind: String,
    /// The place; null for the car as a whole.
    pub place: Option<String>,
    /// The part there; null for an empty place.
    pub part: Option<String>,
    /// Its spec.
    pub spec: Option<String>,
    /// Its serial, as typed; may be empty.
    pub serial: String,
    /// The line that put it there.
    pub line: Option<LedgerLine>,
    /// The day of that line.
    pub date: Option<String>,
    /// Use since it was new.
    pub since_new: Vec<Amounted>,
    /// Use since its last rebuild; null where it had none.
    pub since_rebuild: Option<Vec<Amounted>>,
    /// A line with a mistake since then may have taken it off, or put it elsewhere.
    pub doubtful: bool,
    /// It rides along and does not work there.
    pub carried: bool,
    /// What is built into it.
    pub holds: Vec<String>,
    /// The place, for columns.
    #[serde(skip)]
    pub at: Place,
}

/// An amount of use on one clock.
#[derive(Debug, Clone, Serialize)]
pub struct Amounted {
    /// The clock.
    pub clock: Clock,
    /// Seconds, metres or a count.
    pub value_si: f64,
    /// It is this much or more: something was not written down.
    pub at_least: bool,
    /// In words: `3.4 h`, `at least 12 laps`.
    pub text: String,
}

/// Every place of a car that ever held a part, and the spares that ride along in it, before rank `rank`.
#[must_use]
pub fn all(compiled: &Compiled, car: CarId, rank: Rank) -> Vec<PartView> {
    let list = compiled.facts().on(car, rank).places();
    let mut all: Vec<PartView> =
        list.iter().map(|one| view(compiled, one.kind, one.place, one.part, rank)).collect();
    let history = &compiled.history;
    for (id, part) in compiled.book.parts.iter_enumerated() {
        let there = history.parts.get(id).at(rank).and_then(|stay| stay.carried);
        if let Some(((_, place), kind)) = there.filter(|(on, _)| *on == car).zip(part.kind) {
            all.push(PartView { carried: true, ..view(compiled, kind, place, Some(id), rank) });
        }
    }
    all
}

fn view(compiled: &Compiled, kind: KindId, at: Place, part: Option<PartId>, rank: Rank) -> PartView {
    let (book, history) = (&compiled.book, &compiled.history);
    let mut view = PartView {
        kind: book.kinds[kind].named.typed.to_string(),
        place: place(compiled, at),
        part: None,
        spec: None,
        serial: String::new(),
        line: None,
        date: None,
        since_new: Vec::new(),
        since_rebuild: None,
        doubtful: false,
        carried: false,
        holds: Vec::new(),
        at,
    };
    let Some(part) = part else { return view };
    let piece = &book.parts[part];
    view.part = Some(piece.named.typed.to_string());
    view.spec = piece.spec.and_then(|spec| book.specs.get(spec)).map(|spec| spec.named.typed.to_string());
    crate::syntax::unquote(&piece.serial).clone_into(&mut view.serial);
    if let Some(stay) = history.parts.get(part).at(rank) {
        view.doubtful = history.parts.get(part).may_be_off(rank);
        view.line = entry_line(compiled, stay.entry);
        view.date = entry_date(compiled, stay.entry);
    }
    (view.since_new, view.since_rebuild) = run(compiled, part, rank);
    let inside = history.parts.inside(part, rank);
    view.holds.extend(inside.map(|part| book.parts[part].named.typed.to_string()));
    view
}

/// What a part has run before rank `rank`: since it was new, and since its last rebuild where it had one.
#[must_use]
pub fn run(compiled: &Compiled, part: PartId, rank: Rank) -> (Vec<Amounted>, Option<Vec<Amounted>>) {
    let (book, history) = (&compiled.book, &compiled.history);
    let piece = &book.parts[part];
    let clocks = clocks(compiled, part);
    let scale = |clock| Scale::of_part(book, &compiled.files, part, clock);
    let run = usage::of_part(book, history, part, Rank::START, rank);
    let since_new =
        clocks.iter().map(|clock| new(scale(*clock), &run, &piece.opening, piece.opening_new)).collect();
    let rebuilt = usage::since_rebuild(history, part, rank);
    let was_rebuilt = history.parts.get(part).rebuilds.iter().any(|rebuild| rebuild.rank < rank);
    let since_rebuild = was_rebuilt.then(|| {
        let run = usage::of_part(book, history, part, rebuilt, rank);
        let on = |clock: &Clock| {
            let (value, at_least) = run.on(*clock);
            amount(scale(*clock), value, at_least)
        };
        clocks.iter().map(on).collect()
    });
    (since_new, since_rebuild)
}

/// The clocks that matter for a part: those of its life, else those of its opening use, else time.
fn clocks(compiled: &Compiled, part: PartId) -> Vec<Clock> {
    let book = &compiled.book;
    let piece = &book.parts[part];
    let (life, _) = book.limits(part);
    let mut clocks: Vec<Clock> = Vec::new();
    for amount in life.iter().chain(if life.is_empty() { &piece.opening[..] } else { &[] }) {
        if amount.clock != Clock::Months && !clocks.contains(&amount.clock) {
            clocks.push(amount.clock);
        }
    }
    if clocks.is_empty() {
        clocks.push(Clock::Time);
    }
    clocks
}

fn new(scale: Scale, run: &Use, opening: &[LifeAmount], opening_new: bool) -> Amounted {
    let clock = scale.clock;
    let (value, at_least) = run.on(clock);
    let before = opening.iter().find(|amount| amount.clock == clock);
    let unknown = before.is_none() && !opening_new;
    amount(scale, value + before.map_or(0.0, |amount| amount.value), at_least || unknown)
}

/// An amount of use in words.
#[must_use]
pub fn amount(scale: Scale, value: f64, at_least: bool) -> Amounted {
    let clock = scale.clock;
    let words = match clock {
        Clock::Time if value >= 7200.0 => format!("{:.1} h", value / 3600.0),
        // A lap of a short track is a part of a mile.
        _ if scale.is_in_miles() => {
            scale.words(libm::round(value / scale.factor() * 10.0) / 10.0 * scale.factor())
        }
        _ => scale.words(libm::round(value / scale.factor()) * scale.factor()),
    };
    let text = match at_least {
        true if value <= 0.0 => scale.told_of(value, at_least),
        true => format!("at least {words}"),
        false => words,
    };
    Amounted { clock, value_si: value, at_least, text }
}
