//! Turns of phrase that messages, answers and pages share: lists, counts, the nearest name, a line of a file, a lap time.
//!
//! Must not know the book.

use crate::units::number;
use std::fmt::Display;

/// "a", "a and b", "a, b and c".
#[must_use]
pub fn and(words: &[impl AsRef<str>]) -> String {
    listed(words, " and ")
}

/// "N/mm, lb/in or kgf/mm".
#[must_use]
pub fn or(words: &[impl AsRef<str>]) -> String {
    listed(words, " or ")
}

/// The most names that a message lists.
const MOST: usize = 12;

/// The same of a list that may be long: the first dozen, and how many more there are.
#[must_use]
pub fn and_more(words: &[impl AsRef<str>]) -> String {
    let first = words.iter().take(MOST).map(|word| word.as_ref().to_owned());
    let more = words.len().saturating_sub(MOST);
    let rest = (more > 0).then(|| format!("{more} more"));
    and(&first.chain(rest).collect::<Vec<_>>())
}

fn listed(words: &[impl AsRef<str>], before_last: &str) -> String {
    let mut list = String::new();
    for (index, word) in words.iter().enumerate() {
        if index > 0 {
            list.push_str(if index + 1 == words.len() { before_last } else { ", " });
        }
        list.push_str(word.as_ref());
    }
    list
}

/// "1 session", "28 sessions", "0 sessions".
#[must_use]
pub fn count<N: Copy + Display + PartialEq + From<u8>>(n: N, one: &str, many: &str) -> String {
    let noun = if n == N::from(1) { one } else { many };
    format!("{n} {noun}")
}

/// "1 day", "12 days".
#[must_use]
pub fn days(days: i32) -> String {
    count(days, "day", "days")
}

/// "did you mean `camber`?"
#[must_use]
pub fn did_you_mean(near: impl Display) -> String {
    format!("did you mean `{near}`?")
}

/// "; did you mean `camber`?" after what is wrong, or nothing.
#[must_use]
pub fn or_nearest(near: Option<impl Display>) -> String {
    near.map_or_else(String::new, |near| format!("; {}", did_you_mean(near)))
}

/// "bittern.sline:261".
#[must_use]
pub fn place(path: &str, line: u32) -> String {
    format!("{path}:{line}")
}

/// "1:08.42" of seconds with that many decimals; "0:41.40" below a minute.
#[must_use]
pub fn lap(seconds: f64, decimals: u8) -> String {
    let unit = libm::pow(10.0, f64::from(decimals));
    let ticks = libm::round(seconds.max(0.0) * unit) / unit;
    let minutes = libm::floor(ticks / 60.0);
    let rest = number::format(ticks - minutes * 60.0, decimals);
    let pad = if rest.find('.').unwrap_or(rest.len()) < 2 { "0" } else { "" };
    format!("{minutes:.0}:{pad}{rest}")
}

/// "09:35" of minutes of a day.
#[must_use]
pub fn clock(minutes: i16) -> String {
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// A count or amount that need not be whole: as few decimals as it needs, at most `most`.
#[must_use]
pub fn amount(value: f64, most: u8) -> String {
    let text = number::format(value, most);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// "a car", "an event".
#[must_use]
pub fn a(word: &str) -> String {
    let an = word.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']);
    format!("{} {word}", if an { "an" } else { "a" })
}

/// With a capital; what stands in backquotes stays as it is.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
