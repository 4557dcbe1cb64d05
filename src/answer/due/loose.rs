//! A part off the cars that waits to be looked at, after an impact or in quarantine, in words.

use crate::Compiled;
use crate::answer::{LedgerLine, dates, entry_line, line};
use crate::due::loose::Loose;
use serde::Serialize;

/// A part off the cars that was in an impact and that nobody has looked at since, or that is in quarantine with nothing in its place.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LooseView {
    /// The car that was hit, or that it came off.
    pub car: String,
    /// Where the part was on it then.
    pub place: String,
    /// The kind.
    pub kind: String,
    /// The part.
    pub part: String,
    /// The day of the impact; null for a part in quarantine for something else.
    pub hit: Option<String>,
    /// The day it came off.
    pub off: Option<String>,
    /// In words.
    pub text: String,
    /// The impact, or the line that put it in quarantine.
    pub line: LedgerLine,
}

pub(super) fn view(compiled: &Compiled, loose: &Loose) -> LooseView {
    let book = &compiled.book;
    let cx = compiled.context();
    let part = &book.parts[loose.part];
    let (hit, off) = (loose.hit.and_then(|hit| cx.date(hit)), cx.date(loose.off));
    let off_words = off.map_or_else(String::new, |day| format!(" since {}", dates::date(day)));
    let text = match (loose.hit, loose.quarantine) {
        (Some(_), quarantine) => format!(
            "not looked at since the impact{}; off the car{off_words}{}: do not refit before it is looked at",
            hit.map_or_else(String::new, |day| format!(" of {}", dates::date(day))),
            if quarantine.is_some() { ", in quarantine" } else { "" }
        ),
        (None, quarantine) => {
            let day = quarantine.and_then(|line| cx.date(line));
            let day = day.map_or_else(String::new, |day| format!(" since {}", dates::date(day)));
            format!("in quarantine{day}, to be judged: nothing is in its place on the car")
        }
    };
    let line_of = loose.hit.or(loose.quarantine).and_then(|entry| entry_line(compiled, entry));
    LooseView {
        car: book.cars[loose.car].named.typed.to_string(),
        place: book.place_word(loose.place),
        kind: book.kind_of(loose.part).map_or("part", |kind| &kind.named.typed).to_owned(),
        part: part.named.typed.to_string(),
        hit: hit.map(|day| day.to_string()),
        off: off.map(|day| day.to_string()),
        text,
        line: line_of.unwrap_or_else(|| line(compiled, part.named.declared)),
    }
}
