//! The texts as a reader may have them: blank but for what is his, byte for byte in its place.
//!
//! Nothing is shown that is not named here: a line he may read, and the words of declarations that views quote. Must not know
//! views.

use super::policy::HEAD;
use super::scope::Scope;
use super::{Fate, Reader, sums};
use crate::Compiled;
use crate::book::entry::{Audience, Entry, Item};
use crate::book::model::{Amount, CarId, ClientId, Condition, Limit, PartId, Subject, Valid};
use crate::money::Currency;
use crate::source::{FileId, Files, SourceFile, Span};
use crate::syntax::{Shape, parse_lines_only};

struct Page<'a> {
    full: &'a str,
    shown: Vec<u8>,
}

/// The texts of the cut book.
pub(super) fn files(compiled: &Compiled, scope: &Scope<'_>, fates: &[Fate]) -> Files {
    let hidden = hidden_names(compiled, scope);
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
    for (index, fate) in fates.iter().enumerate() {
        let entry = &compiled.book.entries[index];
        match fate {
            Fate::Read => {
                show(&mut pages, entry.span());
                if !scope.money(entry) && has_money(compiled, entry) {
                    hide_sums(&mut pages, entry.span(), true);
                } else if !scope.money(entry) && matches!(scope.reader, Reader::Buyer(_)) {
                    hide_sums(&mut pages, entry.span(), false);
                }
                if !scope.money(entry) {
                    sums::beside(scope, entry).into_iter().for_each(|span| cover(&mut pages, span));
                }
                hide_names(&mut pages, entry.span(), &hidden);
            }
            Fate::Fact => {
                // Labels tie lines to sessions; they are no words.
                if let Some(run) = compiled.book.run(entry) {
                    show(&mut pages, run.label);
                }
                let extra = compiled.book.extra(entry);
                for label in extra.into_iter().flat_map(|extra| [extra.during, extra.after]).flatten() {
                    show(&mut pages, label);
                }
            }
            Fate::Unknown | Fate::Gone => {}
        }
    }
    for head in &compiled.book.heads {
        let read = (head.first..head.end).any(|entry| fates.get(entry as usize) == Some(&Fate::Read));
        let own = head.car.is_some_and(|car| scope.knows(car));
        if read && own && HEAD >= scope.reader.level() {
            show(&mut pages, head.span);
            hide_names(&mut pages, head.span, &hidden);
        }
    }
    let paths = paths(compiled, scope);
    let files = pages
        .into_iter()
        .zip(paths)
        .map(|(page, path)| SourceFile { path, text: String::from_utf8_lossy(&page.shown).into_owned() });
    Files::new(files.collect())
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
        bytes.fill(b'_');
    }
}

fn has_money(compiled: &Compiled, entry: &Entry) -> bool {
    let extra = compiled.book.extra(entry);
    extra.is_some_and(|extra| {
        extra.parts.as_ref().is_some_and(|facts| facts.money.is_some()) || extra.costs.is_some()
    })
}

/// Covers the sums of a line: a number and the code of a currency. `all` covers every number of it, for a line whose sum may
/// stand without its code.
fn hide_sums(pages: &mut [Page<'_>], span: Span, all: bool) {
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
    let mut at = 0;
    while let Some(first) = text.get(at..).and_then(|rest| rest.find(|c: char| c.is_ascii_digit())) {
        let start = at + first;
        let rest = text.get(start..).unwrap_or_default();
        let end = start + rest.find(|c| !is_digit(c)).unwrap_or(rest.len());
        let before = text.get(..start).unwrap_or_default();
        let after = text.get(end..).unwrap_or_default();
        let code = |word: &str| {
            word.len() == 3 && Currency::find(word).is_some() && word.bytes().all(|b| b.is_ascii_uppercase())
        };
        let next = after.trim_start().get(..3).unwrap_or_default();
        let last = before.trim_end().rsplit(|c: char| !c.is_ascii_alphabetic()).next().unwrap_or_default();
        let signed = after.trim_start().starts_with(sign) || before.trim_end().ends_with(sign);
        let word =
            after.trim_start().get(3..).is_none_or(|rest| !rest.starts_with(|c: char| c.is_alphanumeric()));
        let spelt = ["euro", "pound", "dollar", "quid"]
            .iter()
            .any(|name| after.trim_start().to_lowercase().starts_with(name));
        if code(next) && word || code(last) || signed || spelt {
            covered.push(Span::new(span.file, span.start + start as u32, span.start + end as u32));
        }
        at = end.max(start + 1);
    }
    for one in covered {
        cover(pages, one);
    }
}

/// Covers names of others wherever they stand in a line.
fn hide_names(pages: &mut [Page<'_>], span: Span, hidden: &[String]) {
    let Some(text) = pages
        .get(span.file.0 as usize)
        .and_then(|page| page.full.get(span.start as usize..span.end as usize))
    else {
        return;
    };
    let lower: Vec<(usize, char)> =
        text.char_indices().flat_map(|(at, c)| c.to_lowercase().map(move |c| (at, c))).collect();
    let mut covered = Vec::new();
    for name in hidden {
        let wanted: Vec<char> = name.chars().collect();
        for from in 0..lower.len().saturating_sub(wanted.len() - 1) {
            let here = &lower[from..from + wanted.len()];
            let edge = |c: Option<&(usize, char)>| c.is_none_or(|(_, c)| !c.is_alphanumeric());
            let whole = edge(from.checked_sub(1).and_then(|before| lower.get(before)))
                && edge(lower.get(from + wanted.len()));
            if whole && here.iter().map(|(_, c)| c).eq(wanted.iter()) {
                let end = lower.get(from + wanted.len()).map_or(text.len(), |(at, _)| *at);
                covered.push(Span::new(span.file, span.start + here[0].0 as u32, span.start + end as u32));
            }
        }
    }
    for one in covered {
        cover(pages, one);
    }
}

/// Names, in small letters, that are not his to know: other clients by name, by title and by the words of it that stand for
/// them, and other cars.
fn hidden_names(compiled: &Compiled, scope: &Scope<'_>) -> Vec<String> {
    let book = &compiled.book;
    let own: Vec<String> = book
        .clients
        .iter()
        .enumerate()
        .filter(|(index, _)| scope.is_self(ClientId(*index as u32)))
        .flat_map(|(_, client)| telling(&client.named.title))
        .collect();
    let mut hidden = Vec::new();
    for (index, client) in book.clients.iter().enumerate() {
        if scope.is_self(ClientId(index as u32)) {
            continue;
        }
        hidden.push(client.named.name.to_string());
        hidden.push(client.named.title.to_lowercase());
        hidden.extend(telling(&client.named.title).into_iter().filter(|word| !own.contains(word)));
    }
    for (index, car) in book.cars.iter().enumerate() {
        if !scope.knows(CarId(index as u32)) {
            hidden.push(car.named.name.to_string());
            hidden.push(car.named.title.to_lowercase());
        }
    }
    hidden.retain(|name| !name.trim().is_empty());
    hidden.sort_unstable();
    hidden.dedup();
    hidden
}

/// The words of a title that tell who it is: those with a capital, of four letters and more.
fn telling(title: &str) -> Vec<String> {
    let words = title.split(|c: char| !(c.is_alphanumeric() || c == '-'));
    words
        .filter(|word| word.chars().count() >= 4 && word.starts_with(char::is_uppercase))
        .map(str::to_lowercase)
        .collect()
}

/// Paths: his own ledgers keep theirs, the others get a number.
fn paths(compiled: &Compiled, scope: &Scope<'_>) -> Vec<String> {
    (0..compiled.files.len() as u32)
        .map(|index| {
            let file = FileId(index);
            let mut cars = compiled.book.heads.iter().filter(|head| head.span.file == file).peekable();
            let own = cars.peek().is_some() && cars.all(|head| head.car.is_some_and(|car| scope.knows(car)));
            if own { compiled.files.path(file).to_owned() } else { format!("book-{}.sline", index + 1) }
        })
        .collect()
}

/// The words of declarations that views quote as they were typed.
fn declarations(compiled: &Compiled, scope: &Scope<'_>, pages: &mut [Page<'_>]) {
    let book = &compiled.book;
    let mut spans: Vec<Span> = Vec::new();
    let item = |item: &Item, at: Span| item.span(at.file);
    let amounts = |list: &[Amount]| list.iter().map(|amount| amount.typed).collect::<Vec<_>>();
    let valid = |list: &[Valid]| list.iter().map(|valid| valid.typed).collect::<Vec<_>>();
    for gauge in &book.gauges {
        spans.extend(gauge.resolution.as_ref().map(|resolution| item(resolution, gauge.named.declared)));
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
    for (index, part) in book.parts.iter().enumerate() {
        if scope.parts.contains(&PartId(index as u32)) {
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
    for (index, car) in book.cars.iter().enumerate() {
        if scope.knows(CarId(index as u32)) {
            spans.extend(car.reference.iter().flat_map(words));
            spans.extend(car.every.iter().map(|every| every.typed));
            for (_, items, at) in &car.opening {
                spans.extend(items.iter().map(|one| item(one, *at)));
            }
        }
    }
    let client = scope.reader.level() <= Audience::Client;
    for setup in book.baselines.iter().filter(|setup| client && scope.knows(setup.car)) {
        spans.push(setup.moment);
    }
    for span in spans {
        show(pages, span);
    }
}

fn words(condition: &Condition) -> [Span; 2] {
    [condition.key, condition.said]
}
