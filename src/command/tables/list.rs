//! The small list of tables that stands beside them, as text: whose they are, and how each was written.
//!
//! Names of readers, cars and shops stand in it as fingerprints only. Must not know the disk.

use crate::command::folder::whose::{Whose, print_of};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Its file name: hidden, and no table's.
pub(super) const NAME: &str = ".stringline-tables";

const HEADING: &str = "stringline tables 1";
const WORDS: &str =
    "# The tables that `stringline tables` wrote here, so that it replaces none that somebody has changed.";

/// The list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct List {
    /// Whose tables.
    pub whose: Whose,
    /// By file name the fingerprints of what was, or was going to be, written.
    pub files: BTreeMap<String, Vec<String>>,
}

impl List {
    /// Reads a list.
    ///
    /// # Errors
    /// The number of the first line that is none of ours.
    pub fn read(text: &str) -> Result<Self, usize> {
        let mut lines = text.lines().enumerate();
        if lines.next().map(|(_, line)| line) != Some(HEADING) {
            return Err(1);
        }
        let mut list = Self::default();
        for (index, line) in lines.filter(|(_, line)| *line != WORDS) {
            list.take(line).ok_or(index + 1)?;
        }
        if list.whose.reader.is_empty() { Err(1) } else { Ok(list) }
    }

    fn take(&mut self, line: &str) -> Option<()> {
        let (word, rest) = line.split_once(' ')?;
        if word != "table" {
            return self.whose.take(word, rest);
        }
        let (print, name) = rest.split_once(' ')?;
        // What no table of ours is called is nothing to follow.
        let stem = name.strip_suffix(".csv")?;
        let plain = !stem.is_empty() && stem.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_');
        self.files.entry(plain.then(|| name.to_owned())?).or_default().push(print_of(print)?);
        Some(())
    }

    /// The list as text.
    pub fn text(&self) -> String {
        let mut out = format!("{HEADING}\n{WORDS}\n{}", self.whose.text());
        for (name, prints) in &self.files {
            for print in prints {
                let _ = writeln!(out, "table {print} {name}");
            }
        }
        out
    }
}
