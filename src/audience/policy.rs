//! The audience of a line: what it says itself, else what its verb has.
//!
//! Must not know readers. `grammar/README.md` states the same table.

use crate::book::Book;
use crate::book::entry::{Audience, Entry, Verb};
use crate::book::verbs::{JobVerb, VerbGroup};
use crate::source::Files;

/// The audience of a verb's lines that do not say one. A new verb does not compile until somebody says who may read it.
#[must_use]
pub const fn of_verb(verb: Verb) -> Audience {
    match verb {
        // Setup, parts, work and running: everyone.
        Verb::Set
        | Verb::Adjust
        | Verb::Found
        | Verb::Left
        | Verb::Read
        | Verb::Fill
        | Verb::Torque
        | Verb::Recheck
        | Verb::Compare
        | Verb::Fit
        | Verb::Remove
        | Verb::Swap
        | Verb::Move
        | Verb::Build
        | Verb::Strip
        | Verb::Rebuild
        | Verb::Shelve
        | Verb::Quarantine
        | Verb::Release
        | Verb::Scrap
        | Verb::Buy
        | Verb::Sell
        | Verb::Failed
        | Verb::Hit
        | Verb::Inspect
        | Verb::Service
        | Verb::Lend
        | Verb::Borrow
        | Verb::Return
        | Verb::Run
        | Verb::Stint
        | Verb::Stage
        | Verb::Stop
        | Verb::Laps
        | Verb::Result
        | Verb::Correct
        | Verb::Try
        | Verb::Sweep
        | Verb::Lift => Audience::Buyer,
        // Words, jobs and money: the shop and the car's client.
        Verb::Say
        | Verb::Think
        | Verb::Job
        | Verb::Done
        | Verb::Defer
        | Verb::Promise
        | Verb::Hours
        | Verb::Cost
        | Verb::Credit
        | Verb::Quote
        | Verb::Paid => Audience::Client,
        // The bench, the shop's stock, its answers to the compiler, what it handed to whom, and notes: the shop.
        Verb::Bench
        | Verb::Points
        | Verb::Waive
        | Verb::Void
        | Verb::Note
        | Verb::Count
        | Verb::Use
        | Verb::Handed => Audience::Shop,
    }
}

/// Whom the fact on a line concerns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shows {
    /// It is no fact that stands without its words.
    None,
    /// Everybody with a part aboard the car of its block.
    OfCar,
    /// Whose car, part or job it is about.
    OfItself,
}

/// Whether the fact itself is nobody's secret: that a car ran, what was on it, what broke, what hit it. Such a line is kept for
/// every reader it concerns, without its words where he may not have them.
#[must_use]
pub const fn fact(verb: Verb) -> Shows {
    match verb.group() {
        VerbGroup::Run | VerbGroup::Stretch(_) | VerbGroup::Hit => Shows::OfCar,
        VerbGroup::Part(_) => Shows::OfItself,
        VerbGroup::Job(job) => match job {
            JobVerb::Job | JobVerb::Done | JobVerb::Defer => Shows::OfItself,
            JobVerb::Promise => Shows::None,
        },
        VerbGroup::Setting(_)
        | VerbGroup::Bench
        | VerbGroup::Compare
        | VerbGroup::Row(_)
        | VerbGroup::Laps
        | VerbGroup::Result
        | VerbGroup::Correct
        | VerbGroup::Words
        | VerbGroup::Try
        | VerbGroup::Waive
        | VerbGroup::Void
        | VerbGroup::Cost
        | VerbGroup::Stock(_)
        | VerbGroup::Handed
        | VerbGroup::Note => Shows::None,
    }
}

/// The audience of a sum of money on a line: never wider than the client, unless the line itself says so.
pub const MONEY: Audience = Audience::Client;

/// The audience of the words on a dated head.
pub const HEAD: Audience = Audience::Client;

/// Who may read a line, if it says so itself: `for client`, or a note that begins so, `| for client: ...`.
#[must_use]
pub fn stated(book: &Book, files: &Files, entry: &Entry) -> Option<Audience> {
    if entry.verb == Verb::Note {
        return note(files.text(entry.span())).map(|(audience, _)| audience);
    }
    book.extra(entry).and_then(|extra| extra.audience)
}

/// Who may read a note that says so itself, and the note without those words.
#[must_use]
pub fn note(text: &str) -> Option<(Audience, &str)> {
    let said = text.strip_prefix('|').unwrap_or(text).trim_start();
    let (who, rest) = said.split_once(':')?;
    let mut words = who.split_whitespace();
    let audience = words.next().filter(|word| word.eq_ignore_ascii_case("for")).and(words.next())?;
    let audience = Audience::find(audience)?;
    words.next().is_none().then(|| (audience, rest.strip_prefix(' ').unwrap_or(rest)))
}
