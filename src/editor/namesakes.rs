//! Words of a book that may be spelt as a name is and do not name the same: labels of sessions, specs, classes, and words that are said once
//! and declared nowhere.
//!
//! Must not know who asks.

use crate::Compiled;
use crate::book::entry::Flags;
use crate::book::names::same;
use crate::source::{FileId, Span};

/// What else a word is in a book: "a session", "a spec".
#[must_use]
pub fn find(compiled: &Compiled, word: &str) -> Option<&'static str> {
    let (book, files) = (&compiled.book, &compiled.files);
    let in_words = |span: Span| files.text(span).split_whitespace().any(|one| same(one, word));
    let extras = || book.extras.iter();
    let session = || {
        let named = extras().flat_map(|extra| [extra.during, extra.after]).flatten();
        book.runs.iter().map(|run| run.label).chain(named).any(in_words)
    };
    let spec = || book.specs.iter().any(|spec| same(&spec.named.typed, word));
    let class = || {
        let of_cars = book.cars.iter().map(|car| car.class.as_str());
        let of_rules = book.rules.iter().map(|rule| rule.class.as_str());
        let declared = book.classes.iter().map(|class| &*class.named.typed);
        of_cars.chain(of_rules).chain(declared).any(|class| same(class, word))
    };
    let condition = || {
        let of_lines = extras().flat_map(|extra| &extra.conditions);
        let of_cars = book.cars.iter().flat_map(|car| &car.reference);
        let of_rules = book.rules.iter().flat_map(|rule| &rule.conditions);
        of_lines.chain(of_cars).chain(of_rules).any(|one| in_words(one.said))
    };
    let failure = || {
        let said = extras().filter_map(|extra| extra.failure.as_deref());
        said.flat_map(|one| [one.mode, one.mechanism, one.cause, one.found_by]).flatten().any(in_words)
    };
    let value = || {
        book.entries.iter().any(|entry| {
            let file: FileId = entry.file;
            book.items_of(entry).iter().any(|item| item.is(Flags::TEXT) && in_words(item.span(file)))
        })
    };
    let sorts: [(&dyn Fn() -> bool, &'static str); 6] = [
        (&session, "a session"),
        (&spec, "a spec"),
        (&class, "a class"),
        (&condition, "a word of a condition"),
        (&failure, "a word about a failure"),
        (&value, "a value"),
    ];
    sorts.into_iter().find(|(holds, _)| holds()).map(|(_, sort)| sort)
}
