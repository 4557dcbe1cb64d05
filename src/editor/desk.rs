//! What the client has open: its texts, the folders it opened as roots, and the books these make.
//!
//! A file belongs to the nearest folder above it that was opened as a root, else to its own folder. Two roots are two books. Must not
//! know any request.

use super::address;
use super::text::Text;
use crate::Compiled;
use crate::source::{FileId, Overlay};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// What stands below the folder of a text that is typed into: a book is some hundreds of files, a disk or a home millions.
const MOST: usize = 100_000;

/// A text that the client has open.
#[derive(Debug, Clone)]
pub struct Buffer {
    /// The address as the client writes it.
    pub address: String,
    /// The version the client gave it.
    pub version: i32,
    /// The whole text as the client has it.
    pub text: String,
}

/// Everything that is open.
#[derive(Debug, Default)]
pub struct Desk {
    /// Whether the client opens a page that it is shown.
    pub shows: bool,
    roots: BTreeSet<PathBuf>,
    buffers: BTreeMap<PathBuf, Buffer>,
    books: BTreeMap<PathBuf, Compiled>,
    /// To be compiled again.
    stale: BTreeSet<PathBuf>,
    /// To be told of again.
    untold: BTreeSet<PathBuf>,
    now: Option<jiff::Timestamp>,
}

impl Desk {
    /// An empty one; `now` is the instant of the run, `None` for the clock.
    #[must_use]
    pub fn new(now: Option<jiff::Timestamp>) -> Self {
        Self { now, ..Self::default() }
    }

    /// Adds a root. What belongs to which book is looked up anew.
    pub fn open_root(&mut self, address: &str) {
        if address::is_file(address) {
            self.roots.insert(address::path(address));
            self.all_stale();
        }
    }

    /// Takes a root away.
    pub fn close_root(&mut self, address: &str) {
        self.roots.remove(&address::path(address));
        self.all_stale();
    }

    /// The folder of the book that a file belongs to; a text that is no file is a book by itself.
    #[must_use]
    pub fn root(&self, path: &Path) -> PathBuf {
        let above = path.ancestors().find(|folder| self.roots.contains(*folder));
        let own = || match path.parent() {
            Some(folder) if path.is_absolute() => folder,
            _ => path,
        };
        above.unwrap_or_else(own).to_owned()
    }

    /// Opens a text, or takes a new version of it.
    pub fn put(&mut self, buffer: Buffer) {
        let path = address::path(&buffer.address);
        self.touch(&path);
        self.buffers.insert(path, buffer);
    }

    /// Closes a text: what is on disk counts again.
    pub fn close(&mut self, address: &str) {
        let path = address::path(address);
        self.touch(&path);
        self.buffers.remove(&path);
    }

    /// A file changed: its book is to be read again, and every other book whose folder it is in too.
    fn touch(&mut self, path: &Path) {
        let open = self.buffers.keys().map(|other| self.root(other));
        let mut books: Vec<PathBuf> = self.books.keys().cloned().chain(open).collect();
        books.retain(|root| path.starts_with(root));
        books.push(self.root(path));
        self.untold.extend(books.iter().cloned());
        self.stale.extend(books);
    }

    /// An open text.
    #[must_use]
    pub fn buffer(&self, path: &Path) -> Option<&Buffer> {
        self.buffers.get(path)
    }

    /// Every book is to be read again: something changed on disk, or a root came or went.
    pub fn all_stale(&mut self) {
        let open = self.buffers.keys().map(|path| self.root(path));
        let books: Vec<PathBuf> = self.books.keys().cloned().chain(open).collect();
        self.untold.extend(books.iter().cloned());
        self.stale.extend(books);
    }

    /// The books of which the client is to be told what is wrong: their texts changed.
    #[must_use]
    pub fn untold(&self) -> Vec<PathBuf> {
        self.untold.iter().cloned().collect()
    }

    /// The client was told of a book as it stands.
    pub fn was_told(&mut self, root: &Path) {
        self.untold.remove(root);
    }

    /// A book as its texts stand now. A book without an open text is let go, so that memory follows what is open.
    ///
    /// # Errors
    /// When it cannot be opened at all: the reason in words.
    pub fn compiled(&mut self, root: &Path) -> Result<Option<&Compiled>, String> {
        if self.stale.remove(root) || !self.books.contains_key(root) {
            // The old one goes first: two at a time would be twice the memory.
            self.books.remove(root);
            let Some(world) = self.world(root) else { return Ok(None) };
            let compiled = crate::compile(&world)?;
            self.books.insert(root.to_owned(), compiled);
        }
        Ok(self.books.get(root))
    }

    /// The texts of a book over its folder; `None` where none of its texts is open.
    #[must_use]
    pub fn world(&self, root: &Path) -> Option<Overlay> {
        if !self.buffers.keys().any(|path| self.root(path) == *root) {
            return None;
        }
        let held = self.buffers.iter().filter(|(path, _)| path.starts_with(root));
        let texts = held.map(|(path, buffer)| (path.clone(), buffer.text.clone())).collect();
        Some(Overlay { root: root.to_owned(), texts, now: self.now, most: Some(MOST) })
    }

    /// A compiled book; only after [`Self::compiled`].
    #[must_use]
    pub fn book(&self, root: &Path) -> Option<&Compiled> {
        self.books.get(root)
    }

    /// The path of a file of a book.
    #[must_use]
    pub fn path_of(compiled: &Compiled, file: FileId) -> Option<PathBuf> {
        compiled.files.origin(file).map(|origin| origin.open.clone())
    }

    /// The address of a file of a book, as the client writes it where it is open.
    #[must_use]
    pub fn address_of(&self, path: &Path) -> String {
        self.buffers.get(path).map_or_else(|| address::of(path), |buffer| buffer.address.clone())
    }

    /// A file's text for positions: the client's where it is open.
    #[must_use]
    pub fn text<'a>(&'a self, compiled: &'a Compiled, file: FileId) -> Text<'a> {
        let open = Self::path_of(compiled, file).and_then(|path| self.buffers.get(&path));
        let on_disk = || compiled.files.get(file).map_or("", |file| file.text.as_str());
        Text::new(open.map_or_else(on_disk, |buffer| buffer.text.as_str()))
    }

    /// The file of a book that a path is.
    #[must_use]
    pub fn file(compiled: &Compiled, path: &Path) -> Option<FileId> {
        let mut all = compiled.files.iter();
        all.find_map(|(id, _)| {
            compiled.files.origin(id).is_some_and(|origin| origin.open == *path).then_some(id)
        })
    }
}
