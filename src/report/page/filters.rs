//! What templates may do with a text beside showing it: align numbers on their points, quote for a style sheet.
//!
//! Must not know any view.

use crate::report::typeset::{digits, minus};
use minijinja::Environment;
use minijinja::value::{Value, ValueKind};

/// Adds the filters.
pub(super) fn add(environment: &mut Environment<'_>) {
    environment.add_filter("css", css);
    environment.add_filter("decimals", decimals);
    environment.add_filter("point", point);
    environment.add_filter("digits", digits);
    environment.add_filter("aligned", aligned);
    environment.add_filter("apart", apart);
}

/// A text as it may stand in a style sheet's quotes: all but letters, digits and blanks as escapes (CSS Syntax Module
/// Level 3, section 4.3.7), so that it can end neither the quotes nor the style.
fn css(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if c.is_ascii_alphanumeric() || c == ' ' {
            out.push(c);
        } else {
            out.push_str(&format!("\\{:x} ", u32::from(c)));
        }
    }
    out
}

/// Digits after the point, of a text that is one number; a word may stand before it: "at least 12.5". Several beside one another,
/// "1.79 / 1.80", have no one point.
fn after_point(text: &str) -> Option<usize> {
    if text.contains(" / ") {
        return None;
    }
    let number = text.rsplit(' ').next()?.trim_start_matches(['-', '+', '\u{2212}']);
    let (whole, after) = number.split_once('.').unwrap_or((number, ""));
    // A lap time has a colon before its seconds.
    let whole = whole.rsplit(':').next()?;
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    (!whole.is_empty() && digits(whole) && digits(after)).then_some(after.len())
}

/// The most digits after the point in a list: of its texts, and of every `text` anywhere in its maps.
fn decimals(all: &Value) -> usize {
    fn most(value: &Value, counts: bool) -> usize {
        match value.kind() {
            ValueKind::String if counts => value.as_str().and_then(after_point).unwrap_or(0),
            ValueKind::Seq => items(value).map(|one| most(&one, counts)).max().unwrap_or(0),
            ValueKind::Map => items(value)
                .filter_map(|key| {
                    let inner = value.get_item(&key).ok()?;
                    Some(most(&inner, key.as_str() == Some("text")))
                })
                .max()
                .unwrap_or(0),
            _ => 0,
        }
    }
    // A list of plain texts counts them; below that only `text` does.
    items(all).map(|one| most(&one, one.kind() == ValueKind::String)).max().unwrap_or(0)
}

/// A number with blanks of a point's and a digit's width after it, so that in a column flush right its point stands under
/// that of a number with so many digits after the point. Anything else as it is.
fn point(text: &str, most: usize) -> String {
    let mut out = minus(text);
    if let Some(own) = after_point(text).filter(|own| *own < most) {
        if own == 0 {
            out.push('\u{2008}');
        }
        out.extend(std::iter::repeat_n('\u{2007}', most - own));
    }
    out
}

/// The rows of a table of texts, with the numbers of each column aligned: each cell a `text` and whether its column is one of
/// numbers.
fn aligned(rows: &Value) -> Value {
    let rows: Vec<Vec<String>> =
        items(rows).map(|row| items(&row).map(|cell| cell.to_string()).collect()).collect();
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let most: Vec<Option<usize>> = (0..columns)
        .map(|at| {
            let cells =
                rows.iter().filter_map(|row| row.get(at)).filter(|cell| !matches!(cell.as_str(), "" | "–"));
            let digits: Option<Vec<usize>> = cells.map(|cell| after_point(cell)).collect();
            digits?.into_iter().max()
        })
        .collect();
    let cell = |(text, most): (String, &Option<usize>)| {
        let text = most.map_or_else(|| minus(&text), |most| point(&text, most));
        minijinja::context! { text => text, number => most.is_some() }
    };
    rows.into_iter().map(|row| row.into_iter().zip(&most).map(cell).collect::<Value>()).collect()
}

/// The lines of a number, `bittern.sline:261 · bench.sline:12`, file by file: what stands between, the file's name where it
/// is that of the page, and the rest.
fn apart(lines: &str, file: &str) -> Value {
    let each = lines.split(" · ").enumerate().map(|(at, one)| {
        let rest = one.strip_prefix(file).filter(|rest| !file.is_empty() && rest.starts_with(':'));
        let (between, own) = (if at > 0 { " · " } else { "" }, if rest.is_some() { file } else { "" });
        minijinja::context! { between => between, own => own, rest => rest.unwrap_or(one) }
    });
    each.collect()
}

fn items(value: &Value) -> impl Iterator<Item = Value> {
    value.try_iter().into_iter().flatten()
}
