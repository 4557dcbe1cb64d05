//! File names of pages: readable, safe on every system, no two alike.
//!
//! Must not know what is on a page.

use std::collections::BTreeSet;

/// Names given so far.
#[derive(Debug, Default)]
pub(super) struct Names {
    taken: BTreeSet<String>,
}

/// Longest name of one part; three parts, dashes and a number stay far below what any disk takes.
const MOST: usize = 60;

impl Names {
    /// `bittern-quern-1-quern-2.html`, with a number where another page has that name already.
    pub(super) fn page(&mut self, parts: &[String]) -> String {
        let parts: Vec<String> = parts.iter().map(|part| plain(part)).collect();
        let base = parts.join("-");
        let mut name = format!("{base}.html");
        let mut more = 2;
        while !self.taken.insert(name.clone()) {
            name = format!("{base}_{more}.html");
            more += 1;
        }
        name
    }
}

/// Lower-case ASCII letters, digits, dashes and inner points; anything else becomes `_`.
fn plain(part: &str) -> String {
    let name: String = part
        .to_lowercase()
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() || matches!(c, '-' | '.') { c } else { '_' })
        .take(MOST)
        .collect();
    if name.is_empty() { "_".to_owned() } else { name }
}
