//! `page-unknown`: a line says that a page was handed out, and there is no such page.

use crate::book::handed::HandedPage;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words::{did_you_mean, or};

/// The check.
pub const CHECK: Check = Check {
    name: "page-unknown",
    severity: Severity::Error,
    family: Family::Book,
    brief: "a page that was handed out, and there is none of that name",
    why: "Which page went to a client is said by its name, so that it can be made again and laid beside what he has. At the foot of each page that \
          may be handed out stands the line that registers it.",
    wrong: "2026-05-12 heron\n  handed leter to orr 4f3a-91c2-07b1",
    right: "2026-05-12 heron\n  handed letter to orr 4f3a-91c2-07b1",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::PageUnknown { near } = &trouble.what else { return None };
    let message = CHECK.at(trouble.span, format!("No page is called `{}`.", cx.text(trouble.span)));
    let all: Vec<&str> = HandedPage::ALL.iter().map(|page| page.word()).collect();
    Some(message.cure(near.as_deref().map_or_else(|| format!("it is one of {}", or(&all)), did_you_mean)))
}
