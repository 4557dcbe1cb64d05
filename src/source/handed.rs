//! Lines handed in on standard input: a book of one file.
//!
//! Must not know the language.

use super::disk::decode;
use super::{FileId, Files, LoadTrouble, SourceFile, Span, World};
use std::io::{self, Read as _};

/// Standard input, as a book of the one file `-`.
#[derive(Debug)]
pub struct HandedIn;

impl World for HandedIn {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        read()
    }

    fn now(&self) -> jiff::Timestamp {
        jiff::Timestamp::now()
    }
}

/// Reads standard input to its end; else a sentence: it cannot be read, or is longer than a ledger may be.
fn read() -> Result<(Files, Vec<LoadTrouble>), String> {
    let mut bytes = Vec::new();
    let read = io::stdin().lock().take(1 << 32).read_to_end(&mut bytes);
    read.map_err(|error| format!("what is handed in cannot be read: {}", super::reason(&error)))?;
    let text = decode(bytes);
    if u32::try_from(text.text.len().saturating_add(1)).is_err() {
        return Err("what is handed in is too large: a ledger may hold 4 GiB at most".to_owned());
    }
    let trouble = text.bad.map(|(at, count)| {
        let end = at + char::REPLACEMENT_CHARACTER.len_utf8() as u32;
        LoadTrouble::NotUtf8 { span: Span::new(FileId(0), at, end), count }
    });
    let file = SourceFile { path: "-".to_owned(), text: text.text };
    Ok((Files::new(vec![file]), trouble.into_iter().collect()))
}
