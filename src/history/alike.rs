//! Whether two typed values say the same: the same words, both `off`, or numbers within what is left open.
//!
//! Must not know whose the values are, or what anybody makes of it.

use super::grain;
use crate::book::Book;
use crate::book::entry::{Entry, Flags, Item};
use crate::book::names::folded;
use crate::source::{FileId, Files};
use crate::syntax::unquote;

/// What two readings of one thing say of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Likeness {
    /// They agree within what both leave open.
    Same,
    /// They differ by more.
    Moved,
    /// One of them is no value, or they cannot be compared.
    CannotTell,
}

/// What two differing numbers say, where both together leave so much open.
#[must_use]
pub fn within(difference: f64, room: f64) -> Likeness {
    if !difference.is_finite() || !room.is_finite() {
        Likeness::CannotTell
    } else if difference.abs() <= room * 1.001 + 1e-12 {
        // A hair of room: lengths that stand for angles, and tenths, are off by millionths.
        Likeness::Same
    } else {
        Likeness::Moved
    }
}

/// Whether two items say the same, where one of them is a text or `off`: as typed, but for case and quotes. `None` where both are
/// numbers, which whoever asks compares.
#[must_use]
pub fn words(files: &Files, a: (&Item, FileId), b: (&Item, FileId)) -> Option<bool> {
    let both = |flag: u8| a.0.is(flag) && b.0.is(flag);
    if a.0.is(Flags::TEXT) || b.0.is(Flags::TEXT) {
        let text = |(item, file): (&Item, FileId)| folded(unquote(files.text(item.span(file))));
        return Some(both(Flags::TEXT) && text(a) == text(b));
    }
    (a.0.is(Flags::OFF) || b.0.is(Flags::OFF)).then(|| both(Flags::OFF))
}

/// Whether an old value is what was said before: the same words, both `off`, or as near as half the last digit of the coarser; where the
/// gauge of that line says what it tells apart, that stands in place of the digits that it was typed with. Of what was said: its item and file, its line if it is on one, its value as it counts, SI.
#[must_use]
pub fn fits(
    book: &Book,
    files: &Files,
    old: (&Item, FileId),
    (was, line, value): ((&Item, FileId), Option<&Entry>, f64),
) -> bool {
    words(files, old, was).unwrap_or_else(|| {
        let gauge = line.and_then(|line| grain::resolution(book, files, line, was.0)).map(f64::abs);
        let room = f64::from(old.0.half).max(gauge.unwrap_or_else(|| f64::from(was.0.half)));
        within(old.0.si - value, room) == Likeness::Same
    })
}
