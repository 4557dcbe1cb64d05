//! The texts as a reader may have them: blank but for what is his, byte for byte in its place.
//!
//! Nothing is shown that is not named here: a line he may read, and the words of declarations that views quote. Must not know
//! views.

use super::mask::Mask;
use super::policy::HEAD;
use super::scope::{Scope, is_everyones};
use super::{Fate, Reader, paths, sums};
use crate::Compiled;
use crate::book::entry::{Audience, Entry, EntryId, Item, Verb};
use crate::book::model::{Condition, LifeAmount, Limit, Subject, Valid};
use crate::book::names::folded;
use crate::ids::Arena;
use crate::money::Currency;
use crate::source::covered::{COVER, COVER_NOTE};
use crate::source::{FileId, Files, LineTable, SourceFile, Span};
use crate::syntax::{Shape, parse_lines_only};
use std::collections::{BTreeMap, BTreeSet};

struct Page<'a> {
    full: &'a str,
    shown: Vec<u8>,
}

/// The texts of the cut book. He is told of some lines that show him nothing: what is declared, what he pays for.
pub(super) fn files(
    compiled: &Compiled,
    scope: &Scope<'_>,
    fates: &Arena<EntryId, Fate>,
    mask: &Mask,
    told: &[Span],
) -> Files {
    let mut pages: Vec<Page<'_>> = compiled
        .files
        .iter()
        .map(|(_, file)| Page {
            full: &file.text,
            shown: file
                .text
                .bytes()
                .map(|byte| if matches!(byte, b'\n' | b'\r') { byte } else { b' ' })
                .collect(),
        })
        .collect();
    declarations(compiled, scope, &mut pages);
    for (index, fate) in fates.iter_enumerated() {
        let entry = &compiled.book.entries[index];
        match fate {
            Fate::Read => {
                show(&mut pages, entry.span());
                if !scope.money(entry) && sums::states_money(scope, entry) {
                    hide_sums(&mut pages, entry.span(), compiled.book.shop.currency, true);
                } else if !scope.money(entry) && matches!(scope.reader, Reader::Buyer(_)) {
                    hide_sums(&mut pages, entry.span(), compiled.book.shop.currency, false);
                }
                // Who lent it or has it, and until when, is the shop's.
                for span in sums::of_loan(scope, entry) {
                    cover(&mut pages, span);
                }
                if !scope.money(entry) {
                    for span in sums::beside(scope, entry) {
                        cover(&mut pages, span);
                    }
                }
            }
            Fate::Fact => {
                // Labels tie lines to sessions; they are no words.
                if let Some(run) = compiled.book.run(entry) {
                    show(&mut pages, run.label);
                }
                // Of a line with a mistake it must be one.
                let named = !entry.broken || compiled.history.sessions.named.contains_key(&index);
                let extra = compiled.book.extra(entry).filter(|_| named);
                for label in extra.into_iter().flat_map(|extra| [extra.during, extra.after]).flatten() {
                    show(&mut pages, label);
                }
            }
            Fate::Unknown | Fate::Gone => {}
        }
    }
    for head in &compiled.book.heads {
        let of_car = |entry: &EntryId| {
            let line = compiled.book.entries.get(*entry);
            line.is_some_and(|line| !is_everyones(line))
                || head.car.is_some_and(|car| scope.owns(car, scope.rank(*entry)))
        };
        let read = head.lines().filter(of_car).any(|entry| fates.get(entry) == Some(&Fate::Read));
        let own = head.car.is_some_and(|car| scope.knows(car));
        if read && own && HEAD >= scope.reader.level() {
            show(&mut pages, head.span);
        }
    }
    let notes = notes(compiled);
    for (index, page) in pages.iter_mut().enumerate() {
        hide_names(page, FileId(index as u32), mask, &notes);
    }
    tell_labels_apart(compiled, &mut pages);
    let shown: Vec<bool> =
        pages.iter().map(|page| page.shown.iter().any(|byte| !byte.is_ascii_whitespace())).collect();
    let paths = paths::paths(compiled, scope, mask, &shown);
    let mut told_of: Vec<Vec<u32>> = vec![Vec::new(); pages.len()];
    for at in told {
        if let Some(starts) = told_of.get_mut(at.file.0 as usize) {
            starts.push(at.start);
        }
    }
    let files = pages.into_iter().zip(paths).enumerate().map(|(index, (page, (path, own)))| {
        let text = String::from_utf8_lossy(&page.shown).into_owned();
        let lines = (!own).then(|| counted(&text, told_of.get(index).map_or(&[], Vec::as_slice)));
        (SourceFile { path, text }, lines)
    });
    Files::with_covers(files.collect())
}

/// The lines of a ledger that has no path of its own: those that show him anything, and those he is told of. How many others stand
/// between them is not for him.
fn counted(text: &str, told: &[u32]) -> LineTable {
    let all = LineTable::new(text);
    let shows =
        |line: &u32| text.get(all.range(text, *line)).is_some_and(|held| !held.trim_ascii().is_empty());
    let shown = (1..=all.count()).filter(shows);
    let start = |line: u32| all.start(line).map(|start| start as u32);
    LineTable::of_some(shown.chain(told.iter().map(|at| all.line(*at))).filter_map(start).collect())
}

fn show(pages: &mut [Page<'_>], span: Span) {
    let Some(page) = pages.get_mut(span.file.0 as usize) else { return };
    let range = span.start as usize..span.end as usize;
    // A span always stands on whole characters; one that does not is not shown.
    if let Some(text) = page.full.get(range.clone())
        && let Some(shown) = page.shown.get_mut(range)
    {
        shown.copy_from_slice(text.as_bytes());
    }
}

/// Covers bytes that were shown, so that a reader sees that something stood there.
fn cover(pages: &mut [Page<'_>], span: Span) {
    let shown = pages.get_mut(span.file.0 as usize).map(|page| &mut page.shown);
    if let Some(bytes) = shown.and_then(|shown| shown.get_mut(span.start as usize..span.end as usize)) {
        bytes.fill(COVER);
    }
}

/// Covers the sums of a line: a number and the code of a currency. `all` covers every number of it, for a line whose sum may
/// stand without its code.
fn hide_sums(pages: &mut [Page<'_>], span: Span, home: Option<Currency>, all: bool) {
    let Some(text) = pages
        .get(span.file.0 as usize)
        .and_then(|page| page.full.get(span.start as usize..span.end as usize))
    else {
        return;
    };
    let mut covered = Vec::new();
    if all {
        let line = format!("  {text}");
        let chunk = parse_lines_only(&line);
        for word in chunk.lines.first().map_or(&[][..], |line| chunk.words_of(line)) {
            if matches!(word.shape, Shape::Number | Shape::Code) {
                let start = span.start + word.start - 2;
                covered.push(Span::new(span.file, start, start + u32::from(word.len)));
            }
        }
    }
    // `127 EUR`, `127EUR`, `EUR 127`, `€127`, `127 €`, in free words too.
    let is_digit = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '\'');
    let sign = |c: char| matches!(c, '€' | '$' | '£' | '¥');
    // `all` and `try` are codes too, in small letters: of those only the shop's own and the common ones count.
    let code = |word: &str| {
        word.len() == 3
            && Currency::find(&word.to_ascii_uppercase()).is_some()
            && (word.bytes().all(|b| b.is_ascii_uppercase())
                || ["eur", "gbp", "usd", "chf"].contains(&&*word.to_ascii_lowercase())
                || home.is_some_and(|home| home.code().eq_ignore_ascii_case(word)))
    };
    let mut at = 0;
    while let Some(first) = text.get(at..).and_then(|rest| rest.find(|c: char| c.is_ascii_digit())) {
        let number = at + first;
        let rest = text.get(number..).unwrap_or_default();
        let digits = rest.get(..rest.find(|c| !is_digit(c)).unwrap_or(rest.len())).unwrap_or_default();
        let end = number + digits.trim_end_matches(|c: char| !c.is_ascii_digit()).len();
        let end = end + usize::from(text.get(end..).is_some_and(|rest| rest.starts_with(['k', 'K'])));
        let start = grouped(text, number, end);
        let before = text.get(..start).unwrap_or_default();
        let after = text.get(end..).unwrap_or_default();
        let next: String = after.trim_start().chars().take_while(char::is_ascii_alphabetic).collect();
        let last = before.trim_end().rsplit(|c: char| !c.is_ascii_alphabetic()).next().unwrap_or_default();
        let signed = after.trim_start().starts_with(sign) || before.trim_end().ends_with(sign);
        let spelt =
            ["euro", "pound", "dollar", "quid"].iter().any(|name| next.to_lowercase().starts_with(name));
        if code(&next) || code(last) || signed || spelt {
            covered.push(Span::new(span.file, span.start + start as u32, span.start + end as u32));
        }
        at = end.max(number + 1);
    }
    for one in covered {
        cover(pages, one);
    }
}

/// Where a number begins that is written in groups of three, `1 200 000`, of which the last ends at `end`.
fn grouped(text: &str, last: usize, end: usize) -> usize {
    let mut start = last;
    let mut until = end;
    while until - start >= 3 && text.get(start..until).is_some_and(is_group) {
        let Some(before) = text.get(..start) else { break };
        let Some(left) = before.strip_suffix([' ', '\u{a0}', '\u{202f}']) else { break };
        let digits = left.len() - left.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        if !(1..=3).contains(&digits) {
            break;
        }
        (start, until) = (left.len() - digits, left.len());
    }
    start
}

/// Three digits, and decimals after them.
fn is_group(group: &str) -> bool {
    let whole = group.split(['.', ',']).next().unwrap_or_default();
    whole.len() == 3 && whole.bytes().all(|byte| byte.is_ascii_digit())
}

/// Where the first word of each note stands.
fn notes(compiled: &Compiled) -> BTreeSet<(FileId, u32)> {
    let notes = compiled.book.entries.iter().filter(|entry| entry.verb == Verb::Note);
    let first = |entry: &Entry| {
        let text = compiled.files.text(entry.span());
        entry.start + (text.len() - text.trim_start().len()) as u32
    };
    notes.map(|entry| (entry.file, first(entry))).collect()
}

/// Covers the names in everything that is shown, line by line, whatever it is.
fn hide_names(page: &mut Page<'_>, file: FileId, mask: &Mask, notes: &BTreeSet<(FileId, u32)>) {
    let mut covered = Vec::new();
    let text = String::from_utf8_lossy(&page.shown);
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let words = line.trim_start();
        let at = start + line.len() - words.len();
        start += line.len();
        let note = notes.range((file, at as u32)..(file, start as u32)).next().is_some();
        // A row of underscores would be a rule to Markdown.
        let (ranges, with) =
            if note { (mask.ranges_of_note(words), COVER_NOTE) } else { (mask.ranges(words), COVER) };
        covered.extend(ranges.into_iter().map(|one| (at + one.start..at + one.end, with)));
    }
    for (at, with) in covered {
        if let Some(bytes) = page.shown.get_mut(at) {
            bytes.fill(with);
        }
    }
}

/// Labels tie lines to sessions: two that are covered alike end in a number each.
fn tell_labels_apart(compiled: &Compiled, pages: &mut [Page<'_>]) {
    let mut numbers: BTreeMap<String, usize> = BTreeMap::new();
    let of_runs = compiled.book.runs.iter().map(|run| run.label);
    let of_lines = compiled.book.extras.iter().flat_map(|extra| [extra.during, extra.after]).flatten();
    for label in of_runs.chain(of_lines) {
        let typed = compiled.files.text(label);
        let Some(page) = pages.get_mut(label.file.0 as usize) else { continue };
        let Some(shown) = page.shown.get_mut(label.start as usize..label.end as usize) else { continue };
        if !shown.contains(&COVER) || shown == typed.as_bytes() {
            continue;
        }
        let next = numbers.len() + 1;
        let number = numbers.entry(folded(typed)).or_insert(next).to_string();
        if let Some(start) = shown.len().checked_sub(number.len())
            && let Some(end) = shown.get_mut(start..)
        {
            end.copy_from_slice(number.as_bytes());
        }
    }
}

/// The words of declarations that views quote as they were typed.
fn declarations(compiled: &Compiled, scope: &Scope<'_>, pages: &mut [Page<'_>]) {
    let book = &compiled.book;
    let mut spans: Vec<Span> = Vec::new();
    let item = |item: &Item, at: Span| item.span(at.file);
    let amounts = |list: &[LifeAmount]| list.iter().map(|amount| amount.typed).collect::<Vec<_>>();
    let valid = |list: &[Valid]| list.iter().map(|valid| valid.typed).collect::<Vec<_>>();
    for gauge in &book.gauges {
        let stated = gauge.resolution.iter().chain(&gauge.repeats);
        spans.extend(stated.map(|stated| item(stated, gauge.named.declared)));
    }
    for kind in &book.kinds {
        spans.extend(amounts(&kind.life));
        spans.extend(valid(&kind.valid));
        spans.extend(kind.every.iter().map(|every| every.typed));
    }
    for spec in &book.specs {
        spans.extend(amounts(&spec.life));
        spans.extend(valid(&spec.valid));
        spans.extend(spec.tags.iter().map(|(_, tag)| item(tag, spec.named.declared)));
    }
    for (index, part) in book.parts.iter_enumerated() {
        if scope.parts.contains(&index) {
            spans.extend(amounts(&part.opening));
            let dates = [part.made, part.serviced, part.fitted, part.valid_until];
            spans.extend(dates.into_iter().flatten().map(|(_, at)| at));
            spans.extend(part.tags.iter().map(|(_, tag)| item(tag, part.named.declared)));
        }
    }
    for rule in &book.rules {
        let limit = |limit: Limit| [Some(limit.typed), limit.unit].into_iter().flatten();
        spans.extend([rule.min, rule.max].into_iter().flatten().flat_map(limit));
        spans.extend(rule.conditions.iter().flat_map(words));
        if let Some(Subject::Figure(name)) = rule.subject {
            spans.push(name);
        }
    }
    for (index, car) in book.cars.iter_enumerated() {
        if scope.knows(index) {
            spans.extend(car.reference.iter().flat_map(words));
            spans.extend(car.every.iter().map(|every| every.typed));
            for (_, items, at) in &car.opening {
                spans.extend(items.iter().map(|one| item(one, *at)));
            }
        }
    }
    let client = scope.reader.level() <= Audience::Client;
    for setup in book.baselines.iter().filter(|setup| client && setup.car.is_some_and(|car| scope.knows(car)))
    {
        spans.push(setup.moment);
    }
    for span in spans {
        show(pages, span);
    }
}

fn words(condition: &Condition) -> [Span; 2] {
    [condition.key, condition.said]
}
