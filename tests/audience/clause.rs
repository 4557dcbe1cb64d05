//! `for shop` on a line of every verb, and what only looks like it.

use crate::checks::compile_text;
use stringline::book::entry::{Audience, Verb};
use stringline::diagnostics::Severity;

const VERBS: &str = include_str!("../fixtures/verbs.sline");

/// Every line of the fixture that has a verb, one after the other, says whom it is for, before its reason where it has one.
#[test]
fn every_verb_takes_it() {
    let lines: Vec<&str> = VERBS.lines().collect();
    let plain = compile_text(VERBS);
    let mut seen = Vec::new();
    for entry in plain.book.entries.iter().filter(|entry| entry.verb != Verb::Note) {
        let (line, _) = plain.files.line_column(entry.span());
        let at = line as usize - 1;
        let text = lines[at];
        let changed = match text.split_once(" because ") {
            Some((before, reason)) => format!("{before} for shop because {reason}"),
            None => format!("{text}  for shop"),
        };
        let mut all: Vec<&str> = lines.clone();
        all[at] = &changed;
        let compiled = compile_text(&(all.join("\n") + "\n"));
        let same = compiled.book.entries.iter().find(|one| compiled.files.line_column(one.span()).0 == line);
        let audience = compiled.book.extra(same.unwrap()).and_then(|extra| extra.audience);
        assert_eq!(audience, Some(Audience::Shop), "{changed}");
        assert_eq!(compiled.count(Severity::Error), plain.count(Severity::Error), "{changed}");
        seen.push(entry.verb);
    }
    for verb in Verb::ALL.iter().filter(|verb| **verb != Verb::Note) {
        assert!(seen.contains(verb), "no line of {verb:?}");
    }
}

fn audience(line: &str) -> Option<Audience> {
    let compiled = compile_text(&format!("car a \"A\"\nperson p \"P\"\n2025-01-01 a\n  {line}\n"));
    let entry = compiled.book.entries.first()?;
    compiled.book.extra(entry).and_then(|extra| extra.audience)
}

#[test]
fn a_purpose_is_no_audience() {
    assert_eq!(audience("say fine for a wet day \"nice\""), None);
    assert_eq!(audience("set rake 5 mm with soft tyres for qualifying"), None);
    assert_eq!(audience("set rake 5 mm because it is for client days only"), None);
    assert_eq!(audience("set rake 5 mm for client because of that"), Some(Audience::Client));
    assert_eq!(audience("think \"soft\" unsure for buyer"), Some(Audience::Buyer));
}
