//! The rows of a file with columns: its letters, what stands between its columns, where its heads are.
//!
//! Quotes are those of RFC 4180. Must not know what a column says.

use super::agree::{Agreed, agree};
use super::mapping::{Mapping, Separator};
use crate::book::names::{nearest, same};
use crate::words;

/// Heads are looked for in so many rows from the top: exports begin with titles.
const TITLES: usize = 60;

/// A row with something in it.
#[derive(Debug, Clone)]
pub struct Row {
    /// Its line in the file.
    pub line: u32,
    /// Its cells, without blanks around them.
    pub cells: Vec<String>,
}

/// A file with columns.
#[derive(Debug, Clone, Default)]
pub struct Sheet {
    /// The heads; none where the mapping names columns by number alone.
    pub heads: Vec<String>,
    /// The rows below them.
    pub rows: Vec<Row>,
    /// What stands between columns.
    pub separator: Option<Separator>,
    /// The letters, where they are not UTF-8.
    pub letters: Option<&'static str>,
}

impl Sheet {
    /// How it was read, in words.
    #[must_use]
    pub fn read_as(&self) -> String {
        let apart = self.separator.map_or("", Separator::word);
        match self.letters {
            Some(letters) => format!("columns apart by {apart}, letters as {letters}"),
            None => format!("columns apart by {apart}"),
        }
    }

    /// What a column is called.
    #[must_use]
    pub fn name(&self, at: usize) -> String {
        match self.heads.get(at).filter(|head| !head.is_empty()) {
            Some(head) => head.clone(),
            None => format!("#{}", at + 1),
        }
    }

    /// What stands in a row beyond the last head, in words; nothing where the sheet has no heads.
    #[must_use]
    pub fn beyond(&self, row: &Row) -> Option<String> {
        let heads = self.heads.len();
        let last = row.cells.iter().rposition(|cell| !cell.is_empty())? + 1;
        (heads > 0 && last > heads).then(|| {
            format!(
                "it has {} under {}",
                words::count(last, "cell", "cells"),
                words::count(heads, "head", "heads")
            )
        })
    }

    /// Where a column is, by its head or its number.
    ///
    /// # Errors
    /// There is none of that name, or there are several.
    pub fn column(&self, name: &str) -> Result<usize, String> {
        if let Some(number) = numbered(name) {
            return Ok(number - 1);
        }
        let found: Vec<usize> = places(&self.heads, name).collect();
        match found.as_slice() {
            [at] => Ok(*at),
            [] => Err(missing(&[name], &self.heads)),
            several => {
                let numbers: Vec<String> = several.iter().map(|at| format!("\"#{}\"", at + 1)).collect();
                Err(format!("several columns are called `{name}`; name them {}", words::and(&numbers)))
            }
        }
    }
}

fn places<'a>(heads: &'a [String], name: &'a str) -> impl Iterator<Item = usize> + 'a {
    heads.iter().enumerate().filter(move |(_, head)| same(head, name.trim())).map(|(at, _)| at)
}

/// `#4`: the fourth column.
fn numbered(name: &str) -> Option<usize> {
    name.trim().strip_prefix('#')?.parse().ok().filter(|number| *number > 0)
}

fn missing(names: &[&str], heads: &[String]) -> String {
    let first = names.first().copied().unwrap_or_default();
    let near = nearest(first, heads.iter().map(String::as_str).filter(|head| !head.is_empty()));
    let all = || {
        let quoted = |head: &String| format!("`{head}`");
        let some: Vec<String> = heads.iter().filter(|head| !head.is_empty()).take(12).map(quoted).collect();
        if some.is_empty() {
            "it has no heads".to_owned()
        } else {
            format!("its columns are {}", words::and(&some))
        }
    };
    let cure = near.map_or_else(all, words::did_you_mean);
    format!("no column is called `{first}`; {cure}")
}

/// Reads a file as the mapping wants it.
///
/// # Errors
/// A sentence: no columns are found, or not those that the mapping names.
pub fn read(bytes: &[u8], mapping: &Mapping) -> Result<Sheet, String> {
    let (text, letters) = letters(bytes)?;
    let named: Vec<&str> =
        mapping.columns.keys().map(String::as_str).filter(|name| numbered(name).is_none()).collect();
    let widest = mapping.columns.keys().filter_map(|name| numbered(name)).max().unwrap_or_default();
    let separators = mapping.separator.map_or_else(|| Separator::ALL.to_vec(), |one| vec![one]);
    let mut fitting: Vec<Sheet> = Vec::new();
    let mut nearest_miss: Option<(usize, String)> = None;
    for separator in separators {
        let rows = split(&text, separator)?;
        // Of the rows above the data the first that has every head.
        let lacks = |row: &Row| -> Vec<&str> {
            named.iter().copied().filter(|name| places(&row.cells, name).next().is_none()).collect()
        };
        let head =
            rows.iter().take(TITLES).position(|row| lacks(row).is_empty()).filter(|_| !named.is_empty());
        let wide = rows.iter().any(|row| row.cells.len() >= widest);
        if (named.is_empty() || head.is_some()) && wide {
            let heads = head.and_then(|at| rows.get(at)).map(|row| row.cells.clone()).unwrap_or_default();
            let below = head.map_or(0, |at| at + 1);
            let rows = rows.into_iter().skip(below).collect();
            fitting.push(Sheet { heads, rows, separator: Some(separator), letters });
            continue;
        }
        for row in rows.iter().take(TITLES) {
            let lacks = lacks(row);
            if nearest_miss.as_ref().is_none_or(|(least, _)| lacks.len() < *least) && row.cells.len() > 1 {
                nearest_miss = Some((lacks.len(), missing(&lacks, &row.cells)));
            }
        }
    }
    let agreed = agree(fitting.len(), 1, |way, _| {
        fitting.get(way).map(|sheet| sheet.rows.iter().map(|row| &row.cells).collect::<Vec<_>>())
    });
    match agreed {
        Agreed::Open { readings: [(one, _), (other, _)], .. } => {
            let word =
                |at: usize| fitting.get(at).and_then(|sheet| sheet.separator).map_or("", Separator::word);
            let [one, other] = [one, other].map(word);
            Err(format!(
                "its columns may be apart by {one} or by {other}; write `separator = \"{}\"` or `separator = \"{}\"` into the mapping",
                one.trim_end_matches('s'),
                other.trim_end_matches('s')
            ))
        }
        Agreed::Way(way) if way < fitting.len() => Ok(fitting.swap_remove(way)),
        Agreed::Way(_) | Agreed::Torn { .. } => Err(nearest_miss.map_or_else(
            || "it has no columns apart by commas, semicolons or tabs".to_owned(),
            |(_, text)| text,
        )),
    }
}

/// Reads a file of which nothing is known: the separator that finds the widest row of heads, above the most rows as wide.
///
/// # Errors
/// A sentence: no columns are found.
pub fn guessed(bytes: &[u8]) -> Result<Sheet, String> {
    let (text, letters) = letters(bytes)?;
    let mut best: Option<(usize, Sheet)> = None;
    for separator in Separator::ALL {
        let rows = split(&text, separator)?;
        let filled = |row: &Row| row.cells.iter().filter(|cell| !cell.is_empty()).count();
        let Some(most) = rows.iter().take(TITLES).map(filled).max().filter(|most| *most > 1) else {
            continue;
        };
        // Heads are words: the first row nearly as wide as any.
        let Some(head) = rows.iter().take(TITLES).position(|row| filled(row) * 3 > most * 2) else {
            continue;
        };
        let heads = rows.get(head).map(|row| row.cells.clone()).unwrap_or_default();
        let weight = rows.iter().map(|row| row.cells.len().saturating_sub(1)).sum();
        let sheet = Sheet {
            heads,
            rows: rows.into_iter().skip(head + 1).collect(),
            separator: Some(separator),
            letters,
        };
        if best.as_ref().is_none_or(|(least, _)| weight > *least) {
            best = Some((weight, sheet));
        }
    }
    best.map(|(_, sheet)| sheet)
        .ok_or_else(|| "it has no columns apart by commas, semicolons or tabs".to_owned())
}

/// The text of a file: UTF-8, or UTF-16 by its mark, or else Latin-1 (ISO 8859-1), which old exports are in.
fn letters(bytes: &[u8]) -> Result<(String, Option<&'static str>), String> {
    let wide = |swap: bool| {
        let units = bytes.chunks_exact(2).skip(1).map(|pair| match pair {
            [one, two] if swap => u16::from_be_bytes([*one, *two]),
            [one, two] => u16::from_le_bytes([*one, *two]),
            _ => 0,
        });
        char::decode_utf16(units).map(|unit| unit.unwrap_or(char::REPLACEMENT_CHARACTER)).collect::<String>()
    };
    let (text, letters) = match bytes {
        [0xFF, 0xFE, ..] => (wide(false), Some("UTF-16")),
        [0xFE, 0xFF, ..] => (wide(true), Some("UTF-16")),
        _ => match std::str::from_utf8(bytes) {
            Ok(text) => (text.strip_prefix('\u{FEFF}').unwrap_or(text).to_owned(), None),
            Err(_) => (bytes.iter().map(|byte| char::from(*byte)).collect(), Some("Latin-1")),
        },
    };
    if text.contains('\0') {
        return Err("it is no text: a spreadsheet is saved as CSV first".to_owned());
    }
    if text.trim().is_empty() {
        return Err("there is nothing in it".to_owned());
    }
    Ok((text, letters))
}

fn split(text: &str, separator: Separator) -> Result<Vec<Row>, String> {
    // Line ends of three sorts are one, so that lines are counted as an editor does.
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator.byte())
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| format!("it cannot be read as columns: {error}"))?;
        let line = record.position().and_then(|at| u32::try_from(at.line()).ok()).unwrap_or_default();
        let cells: Vec<String> = record.iter().map(|cell| cell.trim().to_owned()).collect();
        if cells.iter().any(|cell| !cell.is_empty()) {
            rows.push(Row { line, cells });
        }
    }
    // A quotation mark that is opened and never closed takes every row below it into one cell.
    let swallowed = rows.last().filter(|row| row.cells.last().is_some_and(|cell| cell.contains('\n')));
    if let Some(row) = swallowed
        && !text.trim_end().ends_with('"')
    {
        return Err(format!("a quotation mark is opened in line {} and never closed", row.line));
    }
    Ok(rows)
}
