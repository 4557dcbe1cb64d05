//! Waivers: a `waive` line answers the warning on the line above it; one that answers nothing is a warning itself.
//!
//! Must not know any particular check.

crate::check::family! {
    unknown,
    unused,
}

use super::{Context, find};
use crate::book::entry::Verb;
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::{FileId, Span};
use std::collections::BTreeMap;

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
        let block = || cx.book.head(entry).map_or(entry.span(), |head| head.span);
        let line = entry.parent.map_or_else(block, |above| cx.entry(above).span());
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
    // By check and line: no two lines overlap, so the last that starts at or before a message is the only one it can be on.
    let mut on: BTreeMap<(&str, FileId, u32), Vec<usize>> = BTreeMap::new();
    for (at, waiver) in waivers.iter().enumerate() {
        on.entry((waiver.check, waiver.line.file, waiver.line.start)).or_default().push(at);
    }
    let mut kept: Vec<Diagnostic> = Vec::with_capacity(all.len());
    for one in all {
        let waived = one.severity != Severity::Error
            && one.at.as_ref().is_some_and(|mark| {
                let (file, start) = (mark.span.file, mark.span.start);
                let before = on.range((one.check, file, 0)..=(one.check, file, start)).next_back();
                let mut hit = false;
                for at in before.into_iter().flat_map(|(_, list)| list) {
                    if let Some(waiver) = waivers.get_mut(*at).filter(|waiver| start <= waiver.line.end) {
                        waiver.used = true;
                        hit = true;
                    }
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
