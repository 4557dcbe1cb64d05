//! `audience-in-reason`: who may read a line stands after `because`, where it is only the end of the reason.

use crate::book::entry::{EntryId, Audience, Entry, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;

/// The check.
pub const CHECK: Check = Check {
    name: "audience-in-reason",
    severity: Severity::Warning,
    family: Family::Words,
    brief: "`for shop`, `for client` or `for buyer` after `because` is part of the reason",
    why: "`because` takes the rest of the line. `for shop` at its end hides nothing: whoever may read lines of that verb reads \
          this one, reason and all. Who may read it stands before `because`.",
    wrong: "2026-10-30 curlew\n  set rake 12 mm  because our own trick  for shop",
    right: "2026-10-30 curlew\n  set rake 12 mm  for shop  because our own trick",
    look: Look::Entry(Verb::ALL, look),
};

fn look(cx: &Context<'_>, _: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let Some(extra) = cx.book.extra(entry) else { return };
    let Some(reason) = extra.because.filter(|_| extra.audience.is_none()) else { return };
    let text = cx.text(reason).trim_end();
    let Some((before, last)) = text.rsplit_once(char::is_whitespace) else { return };
    let before = before.trim_end();
    let word = before.rsplit(char::is_whitespace).next().unwrap_or_default();
    let Some(audience) = Audience::find(last).filter(|_| word.eq_ignore_ascii_case("for")) else { return };
    let from = reason.start + (before.len() - word.len()) as u32;
    let span = Span::new(reason.file, from, reason.start + text.len() as u32);
    out.push(
        CHECK
            .at(span, format!("`for {}` is read as the end of the reason, not as who may read the line.", audience.word()))
            .cure("put it before `because`; if the reason does end so, say it in other words"),
    );
}
