//! Quick fixes: a cure that is an edit.
//!
//! What a cure quotes is tried in the place of what its message points at, and offered where the book then has less to complain of:
//! fewer errors for an error; for the rest as few errors, and fewer warnings and notes. So nothing is offered that cures nothing, and no check has
//! to say its cure a second time; and nothing that would lose what was typed (`kept`). Must not know any check.

use super::kept::{keeps, quoted};
use super::leaf::Leaf;
use super::told;
use crate::Compiled;
use crate::diagnostics::{Diagnostic, Severity};
use lsp_types::Range;
use serde_json::{Value, json};
use std::path::Path;

/// The most edits that are tried at one asking: each compiles the book once.
const MOST: usize = 8;

/// The fixes of the messages that touch a range.
#[must_use]
pub fn of_range(page: &Leaf<'_>, root: &Path, range: Range) -> Vec<Value> {
    let (from, to) = (page.text.offset(range.start) as u32, page.text.offset(range.end) as u32);
    let mut found = Vec::new();
    let mut tried = 0;
    for one in &page.compiled.diagnostics {
        let Some(span) = one.at.as_ref().map(|mark| mark.span).filter(|span| span.file == page.file) else {
            continue;
        };
        if span.end < from || span.start > to {
            continue;
        }
        for new in one.cure.as_deref().map(quoted).unwrap_or_default() {
            let old = page.compiled.files.text(span);
            if old == new || !keeps(old, new) {
                continue;
            }
            tried += 1;
            if tried > MOST {
                return found;
            }
            let place = page.text.range(span.start, span.end);
            if !better(page, root, one, place, new) {
                continue;
            }
            let edit = json!({ "range": place, "newText": new });
            let address = page.desk.address_of(&page.path);
            found.push(json!({
                "title": format!("write `{new}`"),
                "kind": "quickfix",
                "diagnostics": [told::as_told(page.desk, page.compiled, one)],
                "edit": { "changes": { address: [edit] } },
            }));
        }
    }
    found
}

/// Whether the book is better with the edit in it.
fn better(page: &Leaf<'_>, root: &Path, one: &Diagnostic, place: Range, new: &str) -> bool {
    let Some(mut world) = page.desk.world(root) else { return false };
    let Some(held) = world.texts.get_mut(&page.path) else { return false };
    *held = super::text::Text::new(held).replaced(place, new);
    let Ok(then) = crate::compile(&world) else { return false };
    let (was, is) = (weight(page.compiled), weight(&then));
    let gone = weight_of(page.compiled, one.check) > weight_of(&then, one.check);
    gone && if one.severity == Severity::Error { is[0] < was[0] } else { is < was && is[0] <= was[0] }
}

/// How many errors, warnings and notes, each as often as it stands in the book.
fn weight(compiled: &Compiled) -> [u32; 3] {
    [Severity::Error, Severity::Warning, Severity::Note].map(|severity| {
        compiled.diagnostics.iter().filter(|one| one.severity == severity).map(|one| one.times).sum()
    })
}

fn weight_of(compiled: &Compiled, check: &str) -> u32 {
    compiled.diagnostics.iter().filter(|one| one.check == check).map(|one| one.times).sum()
}
