//! What a name looks like: its skeleton by Unicode Technical Standard 39, so that a Cyrillic letter in it is told from a Latin one.
//!
//! Must not know what the names stand for.

use super::folded::folded;
use rustc_hash::FxHashMap;
use unicode_security::confusable_detection;

/// What is alike in all names that look alike. Names are compared in lower case, and so are their skeletons.
#[must_use]
pub fn skeleton(name: &str) -> String {
    if !name.is_ascii() {
        let look: String = confusable_detection::skeleton(&folded(name)).collect();
        return folded(&look);
    }
    let mut look = String::with_capacity(name.len() + 2);
    for byte in name.bytes() {
        // The rows of the standard's table for what may stand in a name of ASCII; `tests/language/alike.rs` holds them to it.
        match byte.to_ascii_lowercase() {
            b'0' => look.push('o'),
            b'1' => look.push('l'),
            b'm' => look.push_str("rn"),
            other => look.push(char::from(other)),
        }
    }
    look
}

/// A name with its sort and whatever the caller wants back.
pub type Named<'a, T> = (&'a str, &'static str, T);

/// Of names in order: each that looks like an earlier one and is another, with that one. Two of plain ASCII are taken for each
/// other only within one sort: the part `st-l` is on the left, and no line takes it for the gauge `st-1`.
pub fn pairs<'a, T: Copy>(names: impl Iterator<Item = Named<'a, T>>) -> Vec<(Named<'a, T>, Named<'a, T>)> {
    // Of each look the first name of each sort, plain or not: never more than a few.
    let mut looks: FxHashMap<String, Vec<Named<'_, T>>> = FxHashMap::default();
    let mut pairs = Vec::new();
    for one in names {
        let before = looks.entry(skeleton(one.0)).or_default();
        let plain = |other: &Named<'_, T>| one.0.is_ascii() && other.0.is_ascii();
        let earlier = before.iter().find(|other| other.0 != one.0 && (other.1 == one.1 || !plain(other)));
        pairs.extend(earlier.map(|earlier| (one, *earlier)));
        if !before.iter().any(|other| other.1 == one.1 && other.0.is_ascii() == one.0.is_ascii()) {
            before.push(one);
        }
    }
    pairs
}

/// In what two names that look alike differ, where a letter of another script stands in one: "its `е` is U+0435, not U+0065".
#[must_use]
pub fn difference(name: &str, other: &str) -> Option<String> {
    if name.is_ascii() && other.is_ascii() {
        return None;
    }
    let (name, other) = (folded(name), folded(other));
    let (a, b) = name.chars().zip(other.chars()).find(|(a, b)| a != b)?;
    Some(format!("its `{a}` is U+{:04X}, not U+{:04X}", u32::from(a), u32::from(b)))
}
