//! What came of a sheet: its days, what was left out and why, how it was read.
//!
//! Must not know how.

use super::days::CarDay;
use super::remark::Remark;

/// What a sheet says in the language of a book.
#[derive(Debug, Default)]
pub struct Transcript {
    /// Cars and their days, in the order of the days.
    pub days: Vec<CarDay>,
    /// What was left out and why, in the order of the sheet.
    pub remarks: Vec<Remark>,
    /// How the sheet was read, in words: "columns apart by `;`", "a decimal comma".
    pub read_as: Vec<String>,
    /// Columns of which the mapping says nothing, by their heads.
    pub unused: Vec<String>,
    /// How many rows have something in them.
    pub rows: usize,
}
