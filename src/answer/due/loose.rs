//! A part off the cars that waits to be looked at after an impact, in words.

use crate::Compiled;
use crate::answer::{LedgerLine, dates, entry_line, line};
use crate::due::loose::Loose;
use serde::Serialize;

/// A part off the cars that was in an impact and that nobody has looked at since.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LooseView {
    /// The car that was hit.
    pub car: String,
    /// Where the part was on it then.
    pub place: String,
    /// The kind.
    pub kind: String,
    /// The part.
    pub part: String,
    /// The day of the impact.
    pub hit: Option<String>,
    /// The day it came off.
    pub off: Option<String>,
    /// In words.
    pub text: String,
    /// The impact.
    pub line: LedgerLine,
}

pub(super) fn view(compiled: &Compiled, loose: &Loose) -> LooseView {
    let book = &compiled.book;
    let cx = compiled.context();
    let part = &book.parts[loose.part];
    let (hit, off) = (cx.date(loose.unseen.entry), cx.date(loose.off));
    LooseView {
        car: book.cars[loose.unseen.car].named.typed.to_string(),
        place: book.place_word(loose.unseen.place),
        kind: book.kind_of(loose.part).map_or("part", |kind| &kind.named.typed).to_owned(),
        part: part.named.typed.to_string(),
        hit: hit.map(|day| day.to_string()),
        off: off.map(|day| day.to_string()),
        text: format!(
            "not looked at since the impact{}; {}: do not refit before it is looked at",
            hit.map_or_else(String::new, |day| format!(" of {}", dates::date(day))),
            whereabouts(loose, off.map(dates::date))
        ),
        line: entry_line(compiled, loose.unseen.entry).unwrap_or_else(|| line(compiled, part.named.declared)),
    }
}

fn whereabouts(loose: &Loose, day: Option<String>) -> String {
    let day = day.map_or_else(String::new, |day| format!(" since {day}"));
    if loose.quarantine { format!("off the car{day}, in quarantine") } else { format!("off the car{day}") }
}
