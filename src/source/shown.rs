//! How a path is shown to people: as text in which no two paths look alike, whatever bytes their names are made of.
//!
//! What is shown is never opened. Must not know where it is shown.

use std::fmt::Write as _;
use std::path::{MAIN_SEPARATOR, Path};

/// The path as text. A byte that is no character stands as `\xff`, a character that steers a terminal or hides as `\u{1b}`, and a backslash in a
/// name as two, so that a name which spells `\xff` out is told from one that holds the byte.
#[must_use]
pub fn shown(path: &Path) -> String {
    let mut out = String::new();
    for chunk in path.as_os_str().as_encoded_bytes().utf8_chunks() {
        for c in chunk.valid().chars() {
            match c {
                '\\' if MAIN_SEPARATOR != '\\' => out.push_str("\\\\"),
                c if crate::visible::hides(c) => out.extend(c.escape_unicode()),
                c => out.push(c),
            }
        }
        for byte in chunk.invalid() {
            let _ = write!(out, "\\x{byte:02x}");
        }
    }
    out
}
