//! Waivers: a `waive` line answers the warning on the line above it; one that answers nothing is a warning itself.
//!
//! Must not know any particular check.

mod unknown;
mod unused;

pub use unknown::CHECK as WAIVER_UNKNOWN;
pub use unused::CHECK as WAIVER_UNUSED;

use super::{Context, find};
use crate::book::entry::{NONE, Verb};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;

/// Takes waived warnings and notes out, and adds what is wrong with the waivers themselves.
pub fn apply(cx: &Context<'_>, all: Vec<Diagnostic>) -> Vec<Diagnostic> {
    struct Waiver {
        line: Span,
        name: Span,
        check: &'static str,
        severity: Severity,
        used: bool,
    }
    let mut waivers: Vec<Waiver> = Vec::new();
    let mut own = Vec::new();
    for entry in cx.book.entries.iter().filter(|entry| entry.verb == Verb::Waive && !entry.broken) {
        let Some(name) = cx.book.extra(entry).and_then(|extra| extra.check) else { continue };
        let line = if entry.parent == NONE {
            cx.book.head(entry).map_or(entry.span(), |head| head.span)
        } else {
            cx.entry(entry.parent).span()
        };
        match find(cx.text(name)) {
            Some(check) => {
                waivers.push(Waiver { line, name, check: check.name, severity: check.severity, used: false });
            }
            None => own.push(unknown::message(cx, name)),
        }
    }
    if waivers.is_empty() {
        return all.into_iter().chain(own).collect();
    }
    let mut kept: Vec<Diagnostic> = Vec::with_capacity(all.len());
    for one in all {
        let waived = one.severity != Severity::Error
            && one.at.as_ref().is_some_and(|mark| {
                let mut hit = false;
                for waiver in waivers.iter_mut().filter(|waiver| {
                    waiver.check == one.check
                        && waiver.line.file == mark.span.file
                        && waiver.line.start <= mark.span.start
                        && mark.span.start <= waiver.line.end
                }) {
                    waiver.used = true;
                    hit = true;
                }
                hit
            });
        if !waived {
            kept.push(one);
        }
    }
    own.extend(
        waivers
            .iter()
            .filter(|waiver| !waiver.used)
            .map(|waiver| unused::message(cx, waiver.name, waiver.check, waiver.severity == Severity::Error)),
    );
    kept.extend(own);
    kept
}
