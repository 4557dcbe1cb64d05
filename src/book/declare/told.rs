//! Which properties of a declaration say one thing, and what was told of each: the same one with another value, on the same line, under it or
//! in another file, is a mistake at the second, and the first stands where nothing says that it is then not known.
//!
//! Must not know what a property means.

use crate::book::Book;
use crate::book::declare::words::{is_minutes, names_of};
use crate::book::names::{folded, lowered};
use crate::book::trouble::{Trouble, What};
use crate::source::Span;
use crate::syntax::{Cursor, Shape};

/// The properties of a declaration that say one thing of it.
fn once(of: &str) -> &'static [&'static str] {
    match of {
        "shop" => &["currency", "zone", "rate"],
        "client" => &["rate"],
        "person" => &["role"],
        "circuit" => &["length"],
        "event" => &["at", "zone"],
        "gauge" => &["resolution", "repeats", "valid-until"],
        "car" => {
            &["client", "class", "units", "cylinders", "gears", "drive", "body", "toe-over", "reference"]
        }
        "kind" => &["clicks", "from", "keep", "failure-costs"],
        "spec" => &["price"],
        "part" => {
            &["spec", "serial", "opening", "made", "serviced", "fitted", "valid-until", "price", "client"]
        }
        "rule" => &["class", "at", "min", "max", "from", "until"],
        _ => &[],
    }
}

/// What a declaration told so far.
#[derive(Debug, Default)]
pub(super) struct Told {
    said: Vec<(String, Span, String)>,
    /// What was told twice, from its property on: what hangs on it is not known.
    pub lost: Vec<String>,
    /// The rest of each line from a mistake on: whatever it would have told is not known either.
    pub unread: Vec<String>,
}

impl Told {
    /// Whatever of a declaration is not known: what was told twice, and what its lines would have told from a mistake on.
    pub(super) fn untold(&self) -> impl Iterator<Item = &str> {
        self.lost.iter().chain(&self.unread).map(String::as_str)
    }

    /// Whether a property was told twice with two values.
    pub(super) fn is_lost(&self, property: &str) -> bool {
        self.lost.iter().any(|text| text.split(' ').next() == Some(property))
    }

    /// What stands at the cursor was told before with another value: goes past it, and says so. `Some(Ok)` where it was told alike.
    pub(super) fn again(
        &mut self,
        book: &Book,
        cur: &mut Cursor<'_>,
        of: &'static str,
    ) -> Option<Result<(), Trouble>> {
        let word = cur.peek().filter(|word| word.shape == Shape::Word)?;
        let property = folded(cur.str(word));
        let mut end = cur.clone();
        end.bump();
        let value = value(book, &mut end, of);
        let mut twice: Option<(Span, bool)> = None;
        for (key, value) in keys(book, cur, of, &property, &value) {
            match self.said.iter().find(|(said, ..)| *said == key) {
                Some((_, first, before)) => {
                    let clash = *before != value;
                    if twice.is_none_or(|(_, known)| clash && !known) {
                        twice = Some((*first, clash));
                    }
                }
                None => self.said.push((key, cur.span(word), value)),
            }
        }
        let (first, clash) = twice?;
        let span = end.before().map_or(cur.span(word), |last| cur.span(word).to(cur.span(last)));
        *cur = end;
        if !clash {
            return Some(Ok(()));
        }
        self.lost.push(format!("{property} {value}"));
        Some(Err(Trouble { span, what: What::PropertyTwice { property, first } }))
    }
}

/// The words of a value, up to the next property or quoted words of another; moves past them.
fn value(book: &Book, cur: &mut Cursor<'_>, of: &'static str) -> String {
    let mut words: Vec<String> = Vec::new();
    while let Some(word) = cur.peek() {
        let text = cur.str(word);
        let ends = match word.shape {
            Shape::Text => !words.is_empty(),
            Shape::Word if of == "rule" && is_minutes(cur) => false,
            Shape::Word => {
                names_of(of).iter().any(|name| text.eq_ignore_ascii_case(name))
                    || of == "car" && lowered(text, |name| book.vocabulary.find(name)).is_some()
            }
            _ => false,
        };
        if ends && !words.is_empty() {
            break;
        }
        words.push(folded(text));
        cur.bump();
    }
    while words.last().is_some_and(|last| last == ",") {
        words.pop();
    }
    words.join(" ")
}

/// What a property says one thing of, each with the value: itself, or a part of it where it says several (`life 300 min, 8 days`).
fn keys(book: &Book, cur: &Cursor<'_>, of: &str, property: &str, value: &str) -> Vec<(String, String)> {
    if once(of).contains(&property) {
        return vec![(property.to_owned(), value.to_owned())];
    }
    let first = value.split(' ').next().unwrap_or_default();
    match (of, property) {
        ("kind" | "spec", "life") => value
            .split(',')
            .filter_map(|each| {
                let (amount, unit) = each.trim().split_once(' ')?;
                Some((format!("life {}", unit.trim_end_matches('s')), amount.to_owned()))
            })
            .collect(),
        ("part" | "spec", "tag") | ("car", "about") => {
            vec![(format!("{property} {first}"), value.to_owned())]
        }
        ("car", _) if book.vocabulary.find(property).is_some() => {
            let place = cur.peek_at(1).and_then(|word| book.names.place(cur.str(word)));
            vec![(format!("{property} {place:?}"), value.to_owned())]
        }
        _ => Vec::new(),
    }
}
