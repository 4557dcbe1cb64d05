//! `line-out-of-place`: a line that only makes sense under another.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;

/// The check.
pub const CHECK: Check = Check {
    name: "line-out-of-place",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a line that only makes sense under another",
    why: "Some lines answer or complete the line above them and are indented deeper: `points` under `bench`, \
          `sweep` under a caster reading, `void` and `waive` under what they speak of. Standing elsewhere it \
          cannot be told what they belong to.",
    wrong: "  found caster  by cg-1\n  sweep LF 20 deg inner 1.4 outer -2.0",
    right: "  found caster  by cg-1\n    sweep LF 20 deg inner 1.4 outer -2.0",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    if trouble.what == What::HeadIndented {
        return Some(
            CHECK
                .at(trouble.span, "A dated head stands at the margin.")
                .cure("take its blanks away; till then nobody knows which car the lines under it are about"),
        );
    }
    let What::OutOfPlace { line, under } = trouble.what else { return None };
    let text = cx.text(trouble.span);
    let at = match text.split_ascii_whitespace().position(|word| word.eq_ignore_ascii_case(line)) {
        Some(index) => phrase::word_of(text, trouble.span, index),
        None => trouble.span,
    };
    Some(
        CHECK
            .at(at, format!("`{line}` belongs under {}.", under.trim_end_matches(", indented deeper")))
            .cure(if line == "run" {
                "take it back to the indent of the first line under the date"
            } else {
                "move it straight below that line and indent it deeper"
            }),
    )
}
