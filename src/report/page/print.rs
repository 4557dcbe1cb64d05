//! Fingerprints: of a page, by what it tells, so that two prints of it can be told apart or known to say the same; of the whole book.
//!
//! Of a page's view counts what is said of cars, people and money. Where its lines stand in the book, which other pages are beside it, its
//! footer and whatever is empty do not: a comment, a page more, a field more in a later version of the program change no answer. Must
//! not know what a view holds.

use crate::book::handed::PagePrint;
use crate::source::Running;
use crate::words::without_lines;
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

/// A line of the book.
fn is_line(fields: &Map<String, Value>) -> bool {
    fields.len() == 2 && fields.contains_key("path") && fields.contains_key("line")
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
        Value::Object(fields) if is_link(&fields) || is_line(&fields) => None,
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
