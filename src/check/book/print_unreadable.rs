//! `print-unreadable`: a page was handed out, and what stands for its fingerprint is none.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "print-unreadable",
    severity: Severity::Error,
    family: Family::Book,
    brief: "no fingerprint behind the client that a page went to",
    why: "The fingerprint says what stood on the page when it left: without it nobody can tell whether the page would read otherwise now. It is the \
          number at the page's foot, twelve digits of 0 to 9 and a to f, behind the client.",
    wrong: "2026-05-12 heron\n  handed letter to orr 4f3a-91c2",
    right: "2026-05-12 heron\n  handed letter to orr 4f3a-91c2-07b1",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    if !matches!(trouble.what, What::PrintUnreadable) {
        return None;
    }
    let typed = cx.text(trouble.span);
    let said = if typed.trim().is_empty() {
        "The page's fingerprint is missing.".to_owned()
    } else {
        format!("`{typed}` is no fingerprint of a page.")
    };
    Some(CHECK.at(trouble.span, said).cure("copy it from the page's foot: twelve digits such as `4f3a-91c2-07b1`"))
}
