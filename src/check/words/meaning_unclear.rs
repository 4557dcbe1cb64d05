//! `meaning-unclear`: a word that is said to mean two things, or that comes back to itself.

use crate::book::meaning::MeaningTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "meaning-unclear",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a word of the driver's that is said to mean two things, or comes back to itself",
    why: "`word washes means push` says that two words are one, wherever the driver's words are counted. One that means two things would \
          be counted for both, and a circle of words has none that stands for the others.",
    wrong: "word washes means push\nword washes means loose",
    right: "word washes means push\nword skates means loose",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Meaning(what) = &trouble.what else { return None };
    Some(match what {
        MeaningTrouble::TwoThings(first) => CHECK
            .at(trouble.span, format!("{} means two things.", cx.text(trouble.span)))
            .and(*first, "the first")
            .cure("take one of the two out"),
        MeaningTrouble::Circle(way) => CHECK
            .at(trouble.span, format!("A circle of words: {}.", way.join(" means ")))
            .cure("let one word stand for all of them, and the others mean that one"),
    })
}
