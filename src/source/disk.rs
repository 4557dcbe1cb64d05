//! A book in a folder on disk: reads its files on all cores and makes clean text of them.
//!
//! Must not know the language.

use super::walk::{Found, Walk, is_ledger, reason, walk};
use super::{FileId, Files, LoadTrouble, Origin, SourceFile, Span, World, shown};
use rayon::prelude::*;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// A book in a folder, or a single `.sline` file.
///
/// Every `*.sline` file below the folder is read, in any nesting. Left out: names that start with a dot,
/// and folders called `target` or `out`. Links are followed, but nothing is read twice.
#[derive(Debug, Clone)]
pub struct Disk {
    /// The book's folder (or file).
    pub root: PathBuf,
}

impl World for Disk {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        let root = self.root.as_path();
        let name = shown(root);
        let kind = fs::metadata(root).map_err(|error| match error.kind() {
            io::ErrorKind::NotFound => format!("there is no folder `{name}`"),
            _ => cannot(root, &error),
        })?;
        if kind.is_dir() {
            let walk = walk(root).map_err(|error| cannot(root, &error))?;
            return Ok(read_all(walk, &|_| None));
        }
        if !kind.is_file() || !is_ledger(root) {
            return Err(format!("`{name}` is neither a folder nor a .sline file"));
        }
        let below = root.file_name().unwrap_or_default().to_owned();
        Ok(read_all(Walk::one(Found { open: root.to_owned(), below }), &|_| None))
    }

    fn now(&self) -> jiff::Timestamp {
        jiff::Timestamp::now()
    }

    fn commit(&self) -> Option<String> {
        super::commit::commit(&self.root)
    }
}

/// Why a folder is no book.
pub(super) fn cannot(root: &Path, error: &io::Error) -> String {
    format!("the folder `{}` cannot be opened: {}", shown(root), reason(error))
}

/// Reads the files found, in order; the troubles come back sorted by path. `held` has the text of those that are not to be read.
pub(super) fn read_all(
    walk: Walk,
    held: &(dyn Fn(&Found) -> Option<String> + Sync),
) -> (Files, Vec<LoadTrouble>) {
    let Walk { found, mut troubles, folders, .. } = walk;
    let text = |found: &Found| held(found).map_or_else(|| read(found), |text| Ok(decode(text.into_bytes())));
    let texts: Vec<Result<Decoded, String>> = found.par_iter().map(text).collect();
    let mut files = Vec::with_capacity(texts.len());
    for (found, text) in found.iter().zip(texts) {
        let path = found.shown();
        match text {
            Ok(Decoded { text, bad, mark }) => {
                if let Some((at, count)) = bad {
                    let end = at + char::REPLACEMENT_CHARACTER.len_utf8() as u32;
                    let span = Span::new(FileId(files.len() as u32), at, end);
                    troubles.push((found.below.clone(), LoadTrouble::NotUtf8 { span, count }));
                }
                let origin = Origin { open: found.open.clone(), below: found.below.clone(), mark };
                files.push((SourceFile { path, text }, origin));
            }
            Err(reason) => troubles.push((found.below.clone(), LoadTrouble::Unreadable { path, reason })),
        }
    }
    troubles.sort_by(|a, b| a.0.cmp(&b.0));
    (
        Files::read(files, folders.into_iter().collect()),
        troubles.into_iter().map(|(_, trouble)| trouble).collect(),
    )
}

/// A file's text; `bad` is the first place that was not UTF-8 and how many there are, `mark` whether a byte-order mark stood
/// before it.
pub(super) struct Decoded {
    pub text: String,
    pub bad: Option<(u32, u32)>,
    pub mark: bool,
}

fn read(found: &Found) -> Result<Decoded, String> {
    let length = fs::metadata(&found.open).map_err(|error| reason(&error))?.len();
    if length > u64::from(u32::MAX) {
        return Err(too_large());
    }
    let bytes = fs::read(&found.open).map_err(|error| reason(&error))?;
    let text = decode(bytes);
    // Each stray byte becomes three, and the file may have grown since it was measured.
    if u32::try_from(text.text.len()).is_err() { Err(too_large()) } else { Ok(text) }
}

fn too_large() -> String {
    "too large: a ledger file may hold 4 GiB at most".to_owned()
}

/// Decoded of bytes: the byte-order mark goes, each run of bytes that is no character becomes one U+FFFD.
pub(super) fn decode(bytes: Vec<u8>) -> Decoded {
    const MARK: &str = "\u{FEFF}";
    let bytes = match String::from_utf8(bytes) {
        Ok(mut text) => {
            let mark = text.starts_with(MARK);
            if mark {
                text.drain(..MARK.len());
            }
            return Decoded { text, bad: None, mark };
        }
        Err(error) => error.into_bytes(),
    };
    let (mark, bytes) = match bytes.strip_prefix(MARK.as_bytes()) {
        Some(rest) => (true, rest),
        None => (false, bytes.as_slice()),
    };
    let mut text = String::with_capacity(bytes.len() + 16);
    let mut bad: Option<(u32, u32)> = None;
    for chunk in bytes.utf8_chunks() {
        text.push_str(chunk.valid());
        if !chunk.invalid().is_empty() {
            let (first, count) = bad.unwrap_or((text.len() as u32, 0));
            bad = Some((first, count.saturating_add(1)));
            text.push(char::REPLACEMENT_CHARACTER);
        }
    }
    Decoded { text, bad, mark }
}
