//! What stands beside a line unasked: behind a session how long the car has run by its end, behind a reading what its gauge's comparisons
//! make of it.
//!
//! Must not know how either is worked out.

use super::leaf::Leaf;
use crate::book::entry::{Entry, EntryId, Flags, HeldAgainst, Verb};
use crate::history::{grain, usage};
use crate::units::{DimensionId, number};
use lsp_types::Range;
use serde_json::{Value, json};

/// The hints of the lines in a range.
#[must_use]
pub fn in_range(page: &Leaf<'_>, range: Range) -> Value {
    let (from, to) = (page.text.offset(range.start) as u32, page.text.offset(range.end) as u32);
    let mut hints = Vec::new();
    for line in page.chunk.lines.iter().filter(|line| line.end >= from && line.start <= to) {
        let Some((id, entry)) = page.entry(line) else { continue };
        let (words, tip) = if entry.verb == Verb::Run {
            let Some(words) = so_far(page, id, entry) else { continue };
            (words, "what the car has run by the end of this session")
        } else {
            let Some(words) = corrected(page, id, entry) else { continue };
            (words, "as read, less what its gauge reads high by the comparisons in the book")
        };
        hints.push(json!({
            "position": page.text.position(entry.end as usize),
            "label": words,
            "tooltip": tip,
            "paddingLeft": true,
        }));
    }
    Value::Array(hints)
}

/// "312 min so far".
fn so_far(page: &Leaf<'_>, id: EntryId, entry: &Entry) -> Option<String> {
    let history = &page.compiled.history;
    let head = page.compiled.book.head(entry)?;
    let rank = history.rank(&page.compiled.book, id);
    let ran = history.sessions.of(head.car?).map(|(_, one)| one).filter(|one| one.rank <= rank);
    let run = usage::total(ran);
    let (seconds, at_least) = run.on(crate::book::model::Clock::Time);
    let least = if at_least { "at least " } else { "" };
    Some(format!("{least}{} min so far", number::format(seconds / 60.0, 0)))
}

/// "corrected LF 1.800 bar": what a figure would take in the place of what was typed, in the unit and the sense of the line.
fn corrected(page: &Leaf<'_>, id: EntryId, entry: &Entry) -> Option<String> {
    // A change has no gauge's error in it: it is the same at both of its ends.
    if entry.broken || entry.void || entry.verb == Verb::Adjust || !entry.verb.has_values() {
        return None;
    }
    let files = &page.compiled.files;
    let mut words: Vec<String> = Vec::new();
    for item in page.compiled.book.items_of(entry) {
        let Some(unit) = item.unit.filter(|_| item.has_value() && !item.is(Flags::OLD)) else { continue };
        let Some((_, found)) = page.compiled.facts().correction(id, item) else { continue };
        // Held against another gauge alone, nobody knows which of the two is right.
        if found.against != HeldAgainst::Reference {
            continue;
        }
        let Some(scale) = grain::si_per_metre(files, page.file, item) else { continue };
        let (unit, si) = (unit.get(), item.si - found.high * scale);
        let value = if unit.dim == DimensionId::LENGTH.get().dim {
            // Toe typed as a length is kept as an angle, in positive.
            let typed = number::Number::parse(files.text(item.span(page.file))).ok();
            let out = typed.is_some_and(|typed| typed.value * item.si < 0.0);
            si * grain::per_si(files, page.file, item) * if out { -1.0 } else { 1.0 }
        } else {
            unit.from_si(si)
        };
        let place = crate::answer::place(page.compiled, item.place)
            .map_or_else(String::new, |word| format!("{word} "));
        words.push(format!("{place}{} {}", number::format(value, item.decimals + 1), unit.shown()));
    }
    (!words.is_empty()).then(|| format!("corrected {}", words.join(", ")))
}
