//! What the compiler may ask of the world outside, and a book held in memory for tests.
//!
//! Must not know the language.

use super::{Files, SourceFile, Span};

/// Something that went wrong while reading the folder; the rest of the book was read all the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LoadTrouble {
    /// A file or folder that could not be read, with the system's reason.
    Unreadable {
        /// Path relative to the book.
        path: String,
        /// The system's words.
        reason: String,
    },
    /// A symbolic link that leads back to a folder or file already read, or round in a ring; it was not followed.
    Loop {
        /// Path relative to the book.
        path: String,
    },
    /// Bytes that are not UTF-8: the first such place, and how many in the file.
    NotUtf8 {
        /// The replacement character that stands for the bytes.
        span: Span,
        /// How many such places the file has.
        count: u32,
    },
}

/// What the compiler may ask of the outside.
pub trait World {
    /// Reads every `.sline` file below the book's folder, sorted by path. `Err` only when there is no such folder.
    ///
    /// # Errors
    /// The reason in words, when there is no such folder or it cannot be opened.
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String>;

    /// This instant. The book turns it into today's date in the shop's zone.
    fn now(&self) -> jiff::Timestamp;

    /// The commit that the book's version control stands at, in hexadecimal; `None` without one. It says nothing about
    /// lines typed since.
    fn commit(&self) -> Option<String> {
        None
    }
}

/// A book in memory, for tests.
#[derive(Debug, Clone)]
pub struct Memory {
    files: Vec<SourceFile>,
    now: jiff::Timestamp,
}

impl Memory {
    /// A book of the given (path, text) pairs, read at `now`.
    #[must_use]
    pub fn new(files: &[(&str, &str)], now: jiff::Timestamp) -> Self {
        let mut files: Vec<SourceFile> = files
            .iter()
            .map(|(path, text)| SourceFile { path: (*path).to_owned(), text: (*text).to_owned() })
            .collect();
        files.sort_by(|a, b| a.path.cmp(&b.path));
        Self { files, now }
    }
}

impl World for Memory {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        Ok((Files::new(self.files.clone()), Vec::new()))
    }

    fn now(&self) -> jiff::Timestamp {
        self.now
    }
}
