//! Charts as plain data: every place on the paper is a text already, the templates in `report-templates/charts/` only loop.
//!
//! One file a chart. Must not know the book, nor SVG.

pub mod bars;
pub mod below;
pub mod corners;
pub mod drift;
mod hatch;
pub mod ladder;
pub mod life;
pub mod plot;
pub mod rates;
pub mod runs;
pub mod scale;
pub mod stack;
pub mod strip;
pub mod usage;
pub mod year;

use serde::Serialize;
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// What every chart says to those who cannot see it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Words {
    /// Names its parts on the page: letters, digits and dashes.
    pub id: String,
    /// What it shows, in a line.
    pub title: String,
    /// What can be seen in it, in a sentence or two.
    pub desc: String,
}

/// The table beside a chart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Table {
    /// Heads of the columns.
    pub head: Vec<String>,
    /// Rows, as many cells each.
    pub rows: Vec<Vec<String>>,
}

/// How broad a text is, in letters: one of Chinese or Japanese is as broad as two, a sign that stands over another has no breadth of its own
/// (Unicode Standard Annex 11).
fn columns(text: &str) -> usize {
    UnicodeWidthStr::width(text)
}

/// A name cut to so many letters, for a place in a drawing where no more fit; the table has it whole.
#[must_use]
pub fn short(name: &str, most: usize) -> String {
    if columns(name) <= most {
        return name.to_owned();
    }
    let mut room = most.saturating_sub(1);
    let fits = |each: &char| {
        let left = room.checked_sub(each.width().unwrap_or(0));
        room = left.unwrap_or(room);
        left.is_some()
    };
    name.chars().take_while(fits).chain(['…']).collect()
}

/// Breadth of a letter of a drawing, a little more than any of them.
const LETTER: f64 = 6.9;

/// The first of some texts that fits; nothing where none does.
fn fitting(texts: &[&str], room: f64) -> String {
    let fits = |text: &&&str| columns(text) as f64 * LETTER + 3.0 <= room;
    texts.iter().find(fits).map_or_else(String::new, |text| (*text).to_owned())
}

/// An id for a page: letters, digits and dashes of a name.
#[must_use]
pub fn id(parts: &[&str]) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    parts.iter().map(|part| part.chars().map(plain).collect::<String>()).collect::<Vec<_>>().join("-")
}
