//! Fingerprints: of a page, by what it tells, so that two prints of it can be told apart or known to say the same; of the whole book.
//!
//! Of a page's view counts what is said of cars, people and money. Where its lines stand in the book, which other pages are beside it, its
//! footer and whatever is empty do not: a comment, a page more, a field more in a later version of the program change no answer. Must
//! not know what a view holds.

use crate::book::handed::PagePrint;
use crate::source::Running;
use serde::Serialize;
use serde_json::{Map, Value};

/// A running fingerprint.
#[derive(Debug, Default)]
pub(in crate::report) struct Print(Running);

impl Print {
    /// Takes bytes in.
    pub fn eat(&mut self, bytes: &[u8]) {
        self.0.eat(bytes);
    }

    /// "9f3c21aa 07b1c4de".
    pub fn words(&self) -> String {
        let hex = self.0.hex(8);
        let (one, other) = hex.split_at_checked(8).unwrap_or_default();
        format!("{one} {other}")
    }
}

/// The fingerprint of what a view tells.
pub(in crate::report) fn of(view: &impl Serialize) -> PagePrint {
    let mut print = Print::default();
    // A view is plain data; were it not, every page would have the fingerprint of nothing, and be told as altered.
    let mut view = serde_json::to_value(view).unwrap_or_default();
    if let Some(frame) = view.get_mut("frame").and_then(Value::as_object_mut) {
        frame.retain(|name, _| matches!(name.as_str(), "title" | "subtitle"));
    }
    let told = told(view).unwrap_or_default();
    print.eat(told.to_string().as_bytes());
    PagePrint::read(&print.0.hex(6)).unwrap_or_default()
}

/// Fields that say where a line stands, or which pages are beside this one.
fn is_aside(name: &str) -> bool {
    name == "src" || name.ends_with("_src") || matches!(name, "href" | "links" | "file")
}

/// A link to another page.
fn is_link(fields: &Map<String, Value>) -> bool {
    fields.contains_key("href")
        && fields.keys().all(|name| matches!(name.as_str(), "href" | "text" | "remark"))
}

/// What of a value counts; `None` where nothing is left of it. Keys stand in the order of their letters.
fn told(value: Value) -> Option<Value> {
    match value {
        Value::Null | Value::Bool(false) => None,
        Value::String(text) => Some(without_lines(&text)).filter(|text| !text.is_empty()).map(Value::String),
        Value::Array(list) => {
            // A place in a list counts, so that what is empty keeps it.
            let list: Vec<Value> = list.into_iter().map(|one| told(one).unwrap_or_default()).collect();
            let any = list.iter().any(|one| !one.is_null());
            any.then_some(Value::Array(list))
        }
        Value::Object(fields) if is_link(&fields) => None,
        Value::Object(fields) => {
            let kept = fields.into_iter().filter(|(name, _)| !is_aside(name));
            let mut kept: Vec<(String, Value)> =
                kept.filter_map(|(name, value)| Some((name, told(value)?))).collect();
            kept.sort_unstable_by(|a, b| a.0.cmp(&b.0));
            (!kept.is_empty()).then(|| Value::Object(kept.into_iter().collect()))
        }
        other => Some(other),
    }
}

/// How the name of a ledger ends.
const LEDGER: &str = ".sline";

/// A text without the lines that it names: `bench.sline:12, 14`, `:14…20 (5 lines)` of the page's own ledger, `line 14`.
fn without_lines(text: &str) -> String {
    let numbers = |c: char| c.is_ascii_digit() || matches!(c, ',' | ' ' | '…' | '·' | ':');
    let counts = |c: char| c.is_ascii_digit();
    let mut out = String::new();
    let mut rest = text;
    while let Some((at, mark)) = rest.char_indices().find(|(at, each)| names_a_line(rest, *at, *each)) {
        let (before, after) = rest.split_at(at);
        out.push_str(before);
        if let Some(without) = out.strip_suffix(LEDGER) {
            let name = without.rfind(|c: char| c.is_whitespace() || c == '(').map_or(0, |at| at + 1);
            out.truncate(name);
        }
        rest = match mark {
            ':' => after.trim_start_matches(numbers),
            _ => after.trim_start_matches(counts),
        };
        // How many lines stand there is said where not all of them are named.
        let many = rest.strip_prefix('(').map(|many| many.trim_start_matches(counts));
        rest = many.and_then(|many| many.strip_prefix(" lines)")).unwrap_or(rest);
    }
    out.push_str(rest);
    out
}

/// Whether the number of a line begins here: behind a ledger's name or by itself `:14`, behind `line ` a bare number.
fn names_a_line(text: &str, at: usize, each: char) -> bool {
    let Some((before, after)) = text.split_at_checked(at) else { return false };
    let number = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
    match each {
        ':' => {
            let begins = before.ends_with(|c: char| c.is_whitespace() || matches!(c, '(' | '·'));
            (before.is_empty() || begins || before.ends_with(LEDGER)) && after.get(1..).is_some_and(number)
        }
        '0'..='9' => before.ends_with(" line ") || before.ends_with("(line ") || before == "line ",
        _ => false,
    }
}
