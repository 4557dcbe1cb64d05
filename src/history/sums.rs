//! What a value is the sum of that was changed by so much: what it was changed from and each change, and with how many decimals it is
//! told.
//!
//! Must not know figures or answers.

use super::grain::per_si;
use super::slots::{Register, SlotEvent, Track};
use crate::book::Book;
use crate::book::entry::{Item, Verb};
use crate::source::{FileId, Files};
use crate::units::number;

/// What a value is the sum of, in order: what was stated, and each change since. It alone, where it was changed from nothing; what is
/// filled is an account (`fuel`), and never such a sum.
#[must_use]
pub fn parts<'t>(book: &Book, track: &'t Track, event: &SlotEvent) -> &'t [SlotEvent] {
    let Some(at) = track.events.iter().rposition(|one| one == event) else { return &[] };
    let changed = |event: &SlotEvent| {
        let fuel = || book.vocabulary.find("fuel") == Some(track.quantity);
        event.line(book).is_some_and(|line| line.verb == Verb::Adjust) && !fuel()
    };
    let mut from = at;
    while let Some(one) = track.events.get(from).filter(|one| changed(one))
        && let Some(before) = from.checked_sub(1)
        && one.register() != Register::Unknown
        && track.events.get(before).is_some_and(|before| before.register() != Register::Unknown)
    {
        from = before;
    }
    track.events.get(from..=at).unwrap_or_default()
}

/// With how many decimals a sum is told in the unit of its last change, so that no digit of what it is made of is lost: of what is typed
/// in that unit its own, of anything else so many that rounding takes no more than its last digit leaves open.
#[must_use]
pub fn decimals(book: &Book, files: &Files, track: &Track, event: &SlotEvent) -> u8 {
    let typed = |event: &SlotEvent| track.item(book, event).zip(track.file(book, event));
    let Some((last, file)) = typed(event) else { return 0 };
    let scale = per_si(files, file, last);
    let of = |(item, file): (&Item, FileId)| {
        let (own, theirs) = (written(files, file, item), per_si(files, file, item));
        // Toe over another diameter is another number.
        let alike = item.unit == last.unit && (theirs / scale - 1.0).abs() < 1e-3;
        let half = 0.5 * libm::pow(10.0, -f64::from(own)) / theirs * scale;
        if alike { own } else { own.max(number::decimals_for(half)) }
    };
    parts(book, track, event).iter().filter_map(typed).map(of).max().unwrap_or(last.decimals)
}

/// The decimals of a number as typed; of a fraction those that it is written out with, four at most.
fn written(files: &Files, file: FileId, item: &Item) -> u8 {
    if !files.text(item.span(file)).contains('/') {
        return item.decimals;
    }
    let value = item.si * per_si(files, file, item);
    let whole = |decimals: &u8| {
        let scaled = value * libm::pow(10.0, f64::from(*decimals));
        (scaled - scaled.round()).abs() < 1e-4
    };
    (item.decimals..4).find(whole).unwrap_or(4)
}
