//! Runs every check over a book, joins repeats of one mistake, applies waivers, sorts.
//!
//! Must not know any particular check.

use super::{CHECKS, Context, Look, waive, worded};
use crate::book::What;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, ClientId};
use crate::book::names::folded;
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::source::FileId;
use rayon::prelude::*;
use rustc_hash::FxHashMap;

/// A file's messages of one severity beyond this many are counted, not listed.
pub const MOST_PER_FILE: usize = 100;

/// Every message about a book, sorted by place, with waivers applied.
#[must_use]
pub fn check(cx: &Context<'_>) -> Vec<Diagnostic> {
    let mut all: Vec<Diagnostic> = words_of_troubles(cx);
    words_of_problems(cx, &mut all);
    words_of_costs(cx, &mut all);
    // The longest passes first, so that no core waits for the last of them.
    let ((wholes, cars), (entries, tracks)) = rayon::join(
        || rayon::join(|| wholes(cx), || cars(cx)),
        || rayon::join(|| entries(cx), || tracks(cx)),
    );
    all.extend(entries.into_iter().chain(tracks).chain(cars).chain(wholes));
    let all = join(cx, all);
    let mut all = super::follow::once(waive::apply(cx, all));
    sort(&mut all);
    // A line of an outfit that went on twice is one mistake.
    all.dedup_by(|later, earlier| {
        (later.check, &later.at, &later.message) == (earlier.check, &earlier.at, &earlier.message)
    });
    cap(all)
}

fn wholes(cx: &Context<'_>) -> Vec<Diagnostic> {
    let looks: Vec<_> = CHECKS
        .iter()
        .filter_map(|check| if let Look::Whole(look) = check.look { Some(look) } else { None })
        .collect();
    each(&looks, 1, |look, out| look(cx, out))
}

fn cars(cx: &Context<'_>) -> Vec<Diagnostic> {
    let cars: Vec<CarId> = cx.book.cars.keys().collect();
    each(&cars, 1, |car, out| {
        for check in CHECKS.iter() {
            if let Look::Car(look) = check.look {
                look(cx, *car, out);
            }
        }
    })
}

fn tracks(cx: &Context<'_>) -> Vec<Diagnostic> {
    each(&cx.history.slots.tracks, 32, |track, out| {
        for check in CHECKS.iter() {
            if let Look::Track(look) = check.look {
                look(cx, track, out);
            }
        }
    })
}

/// Runs over a list on all cores, so many at a time, keeping its order.
fn each<T: Sync>(list: &[T], many: usize, look: impl Fn(&T, &mut Vec<Diagnostic>) + Sync) -> Vec<Diagnostic> {
    let parts: Vec<Vec<Diagnostic>> = list
        .par_chunks(many)
        .map(|chunk| {
            let mut out = Vec::new();
            for item in chunk {
                look(item, &mut out);
            }
            out
        })
        .collect();
    parts.into_iter().flatten().collect()
}

fn entries(cx: &Context<'_>) -> Vec<Diagnostic> {
    type ByVerb = fn(&Context<'_>, EntryId, &crate::book::entry::Entry, &mut Vec<Diagnostic>);
    let mut by_verb: FxHashMap<Verb, Vec<ByVerb>> = FxHashMap::default();
    for check in CHECKS.iter() {
        if let Look::Entry(verbs, look) = check.look {
            for verb in verbs {
                by_verb.entry(*verb).or_default().push(look);
            }
        }
    }
    let parts: Vec<Vec<Diagnostic>> = cx
        .book
        .entries
        .as_slice()
        .par_chunks(4096)
        .enumerate()
        .map(|(chunk, entries)| {
            let mut out = Vec::new();
            for (index, entry) in entries.iter().enumerate() {
                if entry.broken {
                    continue;
                }
                for look in by_verb.get(&entry.verb).into_iter().flatten() {
                    look(cx, EntryId::from(chunk * 4096 + index), entry, &mut out);
                }
            }
            out
        })
        .collect();
    parts.into_iter().flatten().collect()
}

/// Lines out of place that stand below each other, where the line above them is missing, are one mistake.
fn words_of_troubles(cx: &Context<'_>) -> Vec<Diagnostic> {
    let mut all: Vec<Diagnostic> = Vec::with_capacity(cx.book.troubles.len());
    let mut last: Option<(FileId, u32, &str)> = None;
    for trouble in cx.book.missing.iter().chain(&cx.book.troubles) {
        let here = match trouble.what {
            What::OutOfPlace { line, .. } => Some((trouble.span.file, cx.files.line(trouble.span), line)),
            _ => None,
        };
        let goes_on = here.zip(last).is_some_and(|(here, last)| here == (last.0, last.1 + 1, last.2));
        match all.last_mut().filter(|_| goes_on) {
            Some(message) => message.times += 1,
            None => all.push(worded::trouble(cx, trouble)),
        }
        last = here;
    }
    all
}

fn words_of_problems(cx: &Context<'_>, all: &mut Vec<Diagnostic>) {
    if cx.history.problems.is_empty() {
        return;
    }
    let doubt = super::follow::Doubt::of(cx);
    // A sale that is not in the book, or a wrong name typed again and again, is one mistake.
    let mut owners: FxHashMap<(CarId, ClientId), usize> = FxHashMap::default();
    for problem in cx.history.problems.iter().filter(|problem| !doubt.explains(cx, problem)) {
        if let Problem::NotTheOwner { car, client, .. } = *problem {
            if let Some(first) = owners.get(&(car, client)).and_then(|index| all.get_mut(*index)) {
                first.times += 1;
                continue;
            }
            owners.insert((car, client), all.len());
        }
        all.push(worded::problem(cx, problem));
    }
}

fn words_of_costs(cx: &Context<'_>, all: &mut Vec<Diagnostic>) {
    if cx.costs.problems.is_empty() {
        return;
    }
    let doubt = super::follow::Doubt::of(cx);
    let problems = cx.costs.problems.iter().filter(|problem| !doubt.explains_cost(cx, problem));
    all.extend(problems.map(|problem| worded::cost(cx, problem)));
}

/// Messages about the same unknown word become one with a count.
fn join(cx: &Context<'_>, all: Vec<Diagnostic>) -> Vec<Diagnostic> {
    let mut joined: Vec<Diagnostic> = Vec::with_capacity(all.len());
    let mut first: FxHashMap<(&'static str, String), usize> = FxHashMap::default();
    for message in all {
        let repeats = matches!(
            message.check,
            "name-unknown"
                | "serial-unknown"
                | "quantity-unknown"
                | "verb-unknown"
                | "unit-unknown"
                | "declaration-unknown"
        );
        if repeats && let Some(mark) = &message.at {
            let key = (message.check, folded(cx.text(mark.span)));
            // No word, or a number: two such are not the same mistake.
            if !key.1.starts_with(char::is_alphabetic) {
                joined.push(message);
                continue;
            }
            if let Some(first) = first.get(&key).and_then(|index| joined.get_mut(*index)) {
                first.times += 1;
                continue;
            }
            first.insert(key, joined.len());
        }
        joined.push(message);
    }
    joined
}

fn sort(all: &mut [Diagnostic]) {
    all.sort_by(|a, b| {
        let key = |message: &Diagnostic| {
            message.at.as_ref().map(|mark| (mark.span.file, mark.span.start, mark.span.end))
        };
        key(a)
            .cmp(&key(b))
            .then(a.severity.cmp(&b.severity))
            .then(a.check.cmp(b.check))
            .then(a.message.cmp(&b.message))
    });
}

/// Keeps the first messages of each file and severity and says how many more there are.
fn cap(all: Vec<Diagnostic>) -> Vec<Diagnostic> {
    let mut counts: FxHashMap<(Option<FileId>, Severity), usize> = FxHashMap::default();
    let mut kept: Vec<Diagnostic> = Vec::with_capacity(all.len());
    let mut last: FxHashMap<(Option<FileId>, Severity), usize> = FxHashMap::default();
    for message in all {
        let file = message.at.as_ref().map(|mark| mark.span.file);
        let count = counts.entry((file, message.severity)).or_default();
        *count += 1;
        if *count <= MOST_PER_FILE {
            last.insert((file, message.severity), kept.len());
            kept.push(message);
        }
    }
    let mut over: Vec<((Option<FileId>, Severity), usize)> =
        counts.into_iter().filter(|(_, count)| *count > MOST_PER_FILE).collect();
    over.sort_unstable();
    for (key, count) in over {
        if let Some(last) = last.get(&key).and_then(|index| kept.get_mut(*index)) {
            let more = count - MOST_PER_FILE;
            let word = key.1.word();
            let note = format!("{more} more {word}s in this file are not shown");
            let cure = last.cure.take().map_or(note.clone(), |cure| format!("{cure}; {note}"));
            last.cure = Some(cure);
        }
    }
    kept
}
