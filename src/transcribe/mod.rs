//! A spreadsheet or a timing stand's file as lines of a ledger, to paste or append.
//!
//! ```text
//! bytes -> sheet -> (mapping) -> rows -> days -> lines -> (known) -> what is printed
//! ```
//!
//! A mapping, written once, says which column is what (`mapping`, `meaning`). What a cell says is what every way of reading it
//! that fits the whole sheet says alike (`agree`): where two ways fit and differ, that is asked and nothing is printed. Must not know
//! the disk or the terminal, and never writes a ledger.

pub mod agree;
pub mod cell;
pub mod days;
pub mod draft;
pub mod known;
pub mod lines;
pub mod mapping;
pub mod meaning;
pub mod remark;
pub mod rows;
pub mod sheet;
pub mod transcript;
pub mod ways;

use crate::book::Book;
use mapping::Mapping;
pub use remark::Remark;
use sheet::Sheet;
use std::collections::BTreeMap;
pub use transcript::Transcript;

/// Reads a sheet by its mapping.
///
/// # Errors
/// A sentence: the mapping does not fit the sheet or the book, or the sheet can be read in two ways.
pub fn transcribe(bytes: &[u8], mapping: &Mapping, book: &Book) -> Result<Transcript, String> {
    let meanings = meaning::all(mapping, book)?;
    let sheet = sheet::read(bytes, mapping)?;
    let columns = columns(&sheet, &meanings)?;
    let mut made = Transcript { rows: sheet.rows.len(), ..Transcript::default() };
    made.read_as.push(sheet.read_as());
    let unused =
        sheet.heads.iter().enumerate().filter(|(at, head)| !columns.contains_key(at) && !head.is_empty());
    made.unused = unused.map(|(_, head)| head.clone()).collect();
    let facts = rows::read(&sheet, &columns, mapping, book, &mut made.read_as, &mut made.remarks)?;
    made.days = days::gather(facts, &mut made.remarks);
    made.remarks.sort();
    made.remarks.dedup();
    Ok(made)
}

/// Which column is what, by its place in the sheet.
fn columns(
    sheet: &Sheet,
    meanings: &[(String, meaning::Meaning)],
) -> Result<BTreeMap<usize, meaning::Meaning>, String> {
    let mut columns = BTreeMap::new();
    for (name, meaning) in meanings {
        let at = sheet.column(name)?;
        if columns.insert(at, meaning.clone()).is_some() {
            return Err(format!("the mapping says twice what the column `{name}` is"));
        }
    }
    // Several columns may be notes; of anything else there is one.
    let mut seen: Vec<(&meaning::Meaning, usize)> = Vec::new();
    for (at, meaning) in
        columns.iter().filter(|(_, meaning)| **meaning != meaning::Meaning::Word(meaning::Word::Note))
    {
        if let Some((_, other)) = seen.iter().find(|(one, _)| one.same(meaning)) {
            let [first, second] = [*other, *at].map(|at| sheet.name(at));
            return Err(format!(
                "the mapping says of `{first}` and of `{second}` that they are the same; leave one of them out"
            ));
        }
        seen.push((meaning, *at));
    }
    Ok(columns)
}
