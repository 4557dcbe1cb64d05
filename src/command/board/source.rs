//! Where the book of the board comes from: read once, and again when its texts are otherwise.
//!
//! Must not know who is shown it, nor how it is known that something was saved.

use crate::board::Stand;
use crate::command::home::folder;
use crate::command::output::At;
use crate::command::{ask, templates};
use crate::report::{Options, Own, Report};
use crate::source::{Disk, Files, LoadTrouble, World, fingerprint};
use crate::words::summary;
use std::cell::RefCell;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// Which book, and how it is read.
#[derive(Debug, Clone, clap::Args)]
pub struct OfBook {
    /// The book's folder [default: the current one]
    book: Option<PathBuf>,
    /// Only what this client may read: the pages of his own cars
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    /// As of the end of that day, and not of the book's last line
    #[arg(long, value_name = "DATE")]
    at: Option<String>,
    /// A page for every part too: its whole travel
    #[arg(long)]
    parts: bool,
    /// A folder of templates that take the place of those of the same name
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
}

/// The book, and what was read of it last.
#[derive(Debug)]
pub(super) struct Source {
    world: At<Disk>,
    /// The book's folder, or its one file, by its whole path.
    whole: PathBuf,
    asked: OfBook,
    /// What was read last: a save that changes none of it is none.
    last: RefCell<Last>,
}

/// The book, read again.
#[derive(Debug)]
pub(super) struct Read {
    /// It, or why there is none.
    pub stand: Result<Stand, String>,
    /// When a ledger was saved last.
    pub saved: Option<SystemTime>,
}

#[derive(Debug, Default, PartialEq, Eq)]
struct Last {
    /// The fingerprint of the texts.
    texts: String,
    trouble: Option<String>,
    own: Own,
}

impl Source {
    pub fn new(asked: OfBook, now: Option<jiff::Timestamp>) -> Self {
        let root = folder(asked.book.as_deref());
        let whole = std::path::absolute(&root).unwrap_or_else(|_| root.clone());
        Self { world: At { world: Disk { root }, now }, whole, asked, last: RefCell::default() }
    }

    /// The folder of templates, with all below it.
    pub fn templates(&self) -> Option<&Path> {
        self.asked.templates.as_deref()
    }

    /// The book's folder, or its one file.
    pub fn root(&self) -> PathBuf {
        self.world.world.root.clone()
    }

    /// The book as it is saved.
    ///
    /// # Errors
    /// When it cannot be opened, or there is no such client, day or template.
    pub fn read(&self) -> anyhow::Result<Stand> {
        let (files, troubles) = self.world.load().map_err(anyhow::Error::msg)?;
        let own = self.own()?;
        *self.last.borrow_mut() = last(&files, &troubles, own.clone());
        self.stand(files, troubles, own)
    }

    /// The same, where it is otherwise than what was read last; or why it cannot be read, said once.
    pub fn again(&self) -> Option<Read> {
        let read = self.world.load().map_err(anyhow::Error::msg).and_then(|read| Ok((read, self.own()?)));
        let ((files, troubles), own) = match read {
            Ok(read) => read,
            Err(error) => {
                let trouble = Some(format!("{error:#}"));
                let same = self.last.borrow().trouble == trouble;
                self.last.borrow_mut().trouble.clone_from(&trouble);
                return trouble.filter(|_| !same).map(|trouble| Read { stand: Err(trouble), saved: None });
            }
        };
        let now = last(&files, &troubles, own.clone());
        if *self.last.borrow() == now {
            return None;
        }
        *self.last.borrow_mut() = now;
        let saved =
            files.iter().filter_map(|(id, _)| files.origin(id)?.open.metadata().ok()?.modified().ok()).max();
        let stand = self.stand(files, troubles, own).map_err(|error| format!("{error:#}"));
        Some(Read { stand, saved })
    }

    fn own(&self) -> anyhow::Result<Own> {
        self.asked.templates.as_deref().map_or_else(|| Ok(Own::new()), templates::read)
    }

    fn stand(&self, files: Files, troubles: Vec<LoadTrouble>, own: Own) -> anyhow::Result<Stand> {
        let compiled =
            crate::of_texts(files, troubles, |book| crate::today(book, &self.world), self.world.commit());
        let compiled =
            ask::read_by(ask::at(compiled, self.asked.at.as_deref())?, self.asked.reader.as_deref())?;
        let client = self.asked.reader.as_deref().and_then(|name| ask::client(&compiled, name).ok());
        Ok(Stand {
            compiled,
            options: Options { client, parts: self.asked.parts, ..Options::default() },
            own,
        })
    }

    /// The nearest folder above the book, where the book has gone.
    pub fn above_lost(&self) -> Option<PathBuf> {
        if self.whole.exists() {
            return None;
        }
        self.whole.ancestors().skip(1).find(|above| above.is_dir()).map(Path::to_owned)
    }

    /// The folders in which something may be saved that the book or its pages are made of.
    pub fn folders(&self, files: &Files) -> Vec<PathBuf> {
        let root = self.root();
        let mut folders = vec![if root.is_dir() { root } else { home(&root) }];
        folders.extend(files.folders().iter().cloned());
        // Links lead to files that are saved elsewhere.
        let opened = files.iter().filter_map(|(id, _)| std::fs::canonicalize(&files.origin(id)?.open).ok());
        folders.extend(opened.map(|file| home(&file)));
        folders
    }
}

/// The folder that a file is in.
fn home(file: &Path) -> PathBuf {
    match file.parent() {
        Some(home) if !home.as_os_str().is_empty() => home.to_owned(),
        _ => PathBuf::from("."),
    }
}

fn last(files: &Files, troubles: &[LoadTrouble], own: Own) -> Last {
    let texts = fingerprint(files.iter().flat_map(|(_, file)| [file.path.as_bytes(), file.text.as_bytes()]));
    let trouble = (!troubles.is_empty()).then(|| format!("{troubles:?}"));
    Last { texts, trouble, own }
}

/// Whether the book has a page of that name.
pub(super) fn has_page(stand: &Stand, page: &str) -> bool {
    let report = Report::new(&stand.compiled, stand.options, &stand.own);
    report.pages().any(|(file, _, _)| file == page)
}

/// What is wrong in it, counted.
pub(super) fn counts(stand: &Stand) -> String {
    summary(|severity| stand.compiled.count(severity))
}
