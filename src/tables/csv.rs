//! A table as CSV (RFC 4180), so that a spreadsheet never takes a text for a formula.
//!
//! Spreadsheets run a cell that begins with `=`, `+`, `-` or `@`, also behind blanks. Such a text, and one that begins with an apostrophe,
//! has an apostrophe before it: whoever takes one off has the text. A number stays one. Must not know any table.

use super::cell::Cell;
use super::schema::FactTable;
use super::shown::Shown;
use csv::{Terminator, Writer, WriterBuilder};
use std::borrow::Cow;
use std::io::{self, Write};

/// What a formula may begin with; the wide forms are those of East Asian keyboards, which some spreadsheets take for the others.
const FORMULA: [char; 8] = ['=', '+', '-', '@', '\u{FF1D}', '\u{FF0B}', '\u{FF0D}', '\u{FF20}'];

/// Whether a text is a plain decimal number, which every program reads as one.
fn is_number(text: &str) -> bool {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    let (whole, part) = digits.split_once('.').map_or((digits, None), |(whole, part)| (whole, Some(part)));
    let all = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    all(whole) && part.is_none_or(all)
}

/// A text as it stands in a file.
#[must_use]
pub fn text(text: &str) -> Cow<'_, str> {
    let begins = text.trim_start().starts_with(FORMULA) || text.starts_with(['\'', '\t', '\r']);
    if begins && !is_number(text) { Cow::Owned(format!("'{text}")) } else { Cow::Borrowed(text) }
}

/// A number: the shortest digits that are that number and no other, always with a point or an exponent, so that whoever guesses the types
/// of columns takes none of these for whole numbers.
#[must_use]
pub fn real(number: f64) -> String {
    format!("{number:?}")
}

/// Writes a table with its head. Returns how many rows it has.
///
/// # Errors
/// What the system says.
pub fn write(table: &FactTable, shown: &Shown<'_>, to: impl Write) -> io::Result<u64> {
    let mut out = WriterBuilder::new().terminator(Terminator::CRLF).buffer_capacity(1 << 16).from_writer(to);
    out.write_record(table.columns.iter().map(|column| column.name))?;
    let (mut rows, mut failed) = (0_u64, None);
    (table.rows)(shown, &mut |cells| {
        if failed.is_none() {
            rows += 1;
            failed = row(&mut out, cells).err();
        }
    });
    match failed {
        Some(error) => Err(error),
        None => out.flush().map(|()| rows),
    }
}

fn row(out: &mut Writer<impl Write>, cells: &[Cell<'_>]) -> io::Result<()> {
    for cell in cells {
        match cell {
            Cell::Nothing => out.write_field("")?,
            Cell::Text(words) => out.write_field(&*text(words))?,
            Cell::Whole(number) => out.write_field(number.to_string())?,
            Cell::Real(number) => out.write_field(real(*number))?,
        }
    }
    out.write_record(None::<&[u8]>)?;
    Ok(())
}
