//! The folder that a report writes into: one run at a time, one reader's and one book's pages, none that the book no longer has.
//!
//! A list in the folder says which pages are ours. No file that is not on it, or is not as it was written, is ever removed.
//! Must not know what is on a page.

mod list;
pub(super) mod whose;

use crate::Compiled;
use crate::book::model::CarId;
use crate::report::Options;
use crate::report::Page;
use crate::source::{Journal, Lock, fingerprint, put, reason, shown, sweep};
use anyhow::{Context as _, bail};
use list::{List, NAME, Scope};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use whose::{Strange, Whose};

/// A report's first page, the only one at whose foot it says how the book stands as a whole. A hand-over page says so too, under another
/// name.
const FIRST: &str = "index.html";
/// What stands at its foot, in every version there was.
const FOOT_FIRST: &str = "Compiled by stringline from the shop's book: ";
/// The same of every other page of a report; one made alone leads to no first page.
const FOOT: &str = "Compiled by stringline from the shop's book; how the book stands as a whole";

/// A folder that this run holds.
#[derive(Debug)]
pub(super) struct Folder {
    path: PathBuf,
    /// What this run is narrowed to.
    scope: Scope,
    /// What each page of this run is about, by file name.
    about: BTreeMap<String, Scope>,
    /// Pages of this run that are a wider run's, and stay as that wrote them.
    others: BTreeSet<String>,
    list: List,
    /// What the list is going to remember of the book.
    whose: Whose,
    /// The list's file, for lines at its end.
    journal: Journal,
    /// The pages put, with the fingerprint of each.
    placed: BTreeMap<String, String>,
    _lock: Lock,
}

/// What became of pages that the book no longer has.
#[derive(Debug, Default)]
pub(super) struct Cleared {
    /// Removed.
    pub removed: Vec<String>,
    /// Left because somebody has changed them, with what he did.
    pub left: Vec<(String, &'static str)>,
    /// Those the disk would not remove, by its reason.
    pub stuck: BTreeMap<String, Vec<String>>,
    /// Why the list could not be written, if it could not.
    pub unlisted: Option<String>,
}

/// Why a page stays that the book no longer has.
enum Stays {
    /// It is not as it was written.
    Changed(&'static str),
    /// The disk's reason.
    Disk(String),
}

impl Folder {
    /// Takes hold of a folder, which is made if there is none. `pages` are the run's own: file name, car, year.
    ///
    /// # Errors
    /// In a sentence, when another run is at work in it, or its pages are another reader's, another book's or nobody knows
    /// whose.
    pub fn open<'a>(
        path: &Path,
        compiled: &Compiled,
        options: Options,
        pages: impl Iterator<Item = (&'a str, Option<CarId>, Option<i16>)>,
    ) -> anyhow::Result<Self> {
        let name = shown(path);
        fs::create_dir_all(path).with_context(|| format!("cannot make the folder {name}"))?;
        let lock = Lock::take(path).with_context(|| format!("cannot open the folder {name}"))?;
        let Some(lock) = lock else { bail!("another run is writing into {name}; run again when it is done") };
        sweep(path);
        let all = Whose::of(compiled, Options { car: None, season: None, ..options });
        let before = known(path, &all)?;
        let whose = before.whose.remember(&Whose::of(compiled, options), &all);
        let car = |id: CarId| compiled.book.cars.get(id).map(|car| whose::car(&car.named.name));
        let scope = Scope { car: options.car.and_then(car), year: options.season };
        let mut list = before;
        let (mut about, mut others) = (BTreeMap::new(), BTreeSet::new());
        for (file, of, year) in pages {
            let one = match of {
                Some(id) => Scope { car: car(id), year },
                None => Scope { car: scope.car.clone(), year: year.or(scope.year) },
            };
            if of.is_none() && list.pages.get(file).is_some_and(|listed| !scope.owns(&listed.about)) {
                others.insert(file.to_owned());
            }
            about.insert(file.to_owned(), one);
        }
        if list.whose.reader.is_empty() {
            list.whose = whose.clone();
        }
        let at = path.join(NAME);
        let cannot = || format!("cannot write {}", shown(&at));
        // Whole lines only: what a killed run had begun to add goes.
        put(&at, &list.text()).with_context(cannot)?;
        let journal = Journal::open(&at).with_context(cannot)?;
        let path = path.to_owned();
        let placed = BTreeMap::new();
        Ok(Self { path, scope, about, others, list, whose, journal, placed, _lock: lock })
    }

    /// Whether a page is a wider run's: a narrowed one leaves it.
    pub fn leaves(&self, name: &str) -> bool {
        self.others.contains(name)
    }

    /// Puts a page into the folder; first it is listed. Returns whether the file was written.
    ///
    /// # Errors
    /// What the system says; the page is then missing or as before.
    pub fn put(&mut self, page: &Page) -> io::Result<bool> {
        let print = fingerprint([page.html.as_bytes()]);
        let about = self.about.get(&page.name).cloned().unwrap_or_default();
        let known = self.list.pages.get(&page.name);
        if !known.is_some_and(|listed| listed.prints.contains(&print) && listed.about == about) {
            let line = list::line(&page.name, &print, &about);
            self.journal.add(&line)?;
            self.list.add(page.name.clone(), print.clone(), about);
        }
        let new = put(&self.path.join(&page.name), &page.html)?;
        self.placed.insert(page.name.clone(), print);
        Ok(new)
    }

    /// Removes the pages that the book no longer has, and brings the list up to date.
    pub fn finish(mut self) -> Cleared {
        let mut cleared = Cleared::default();
        let gone: Vec<String> = self
            .list
            .pages
            .iter()
            .filter(|(name, listed)| !self.about.contains_key(*name) && self.scope.owns(&listed.about))
            .map(|(name, _)| name.clone())
            .collect();
        for name in gone {
            match self.remove(&name) {
                Ok(there) => {
                    self.list.pages.remove(&name);
                    cleared.removed.extend(there.then_some(name));
                }
                Err(Stays::Changed(how)) => cleared.left.push((name, how)),
                Err(Stays::Disk(reason)) => cleared.stuck.entry(reason).or_default().push(name),
            }
        }
        for (name, print) in std::mem::take(&mut self.placed) {
            if let Some(listed) = self.list.pages.get_mut(&name) {
                listed.prints = vec![print];
            }
        }
        self.list.whose = self.whose.clone();
        let done = put(&self.path.join(NAME), &self.list.text());
        cleared.unlisted = done.err().map(|error| reason(&error));
        cleared
    }

    /// Removes one page if it is as it was written. Whether it was there.
    fn remove(&self, name: &str) -> Result<bool, Stays> {
        let disk = |error: io::Error| Stays::Disk(reason(&error));
        let at = self.path.join(name);
        let there = match fs::symlink_metadata(&at) {
            Ok(there) => there,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
            Err(error) => return Err(disk(error)),
        };
        if !there.is_file() {
            return Err(Stays::Changed("it is no ordinary file any more"));
        }
        let print = fs::read(&at).map(|bytes| fingerprint([bytes.as_slice()])).map_err(disk)?;
        if !self.list.pages.get(name).is_some_and(|listed| listed.prints.contains(&print)) {
            return Err(Stays::Changed("somebody has changed it"));
        }
        fs::remove_file(&at).map(|()| true).map_err(disk)
    }
}

/// The list of a folder; an empty one where the folder has no page of ours.
fn known(path: &Path, all: &Whose) -> anyhow::Result<List> {
    const CURE: &str = "choose another folder, or remove its pages";
    let (name, at) = (shown(path), path.join(NAME));
    match fs::symlink_metadata(&at) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            if let Some(page) = report_page(path) {
                bail!(
                    "{name} holds pages of a report, such as {page}, and no list of them, so that nobody can tell whose they \
                     are; {CURE}"
                );
            }
            return Ok(List::default());
        }
        Err(error) => return Err(error).with_context(|| format!("cannot read {}", shown(&at))),
        Ok(there) if !there.is_file() => {
            bail!("the list of pages {} is no ordinary file; remove it, or {CURE}", shown(&at))
        }
        Ok(_) => {}
    }
    let bytes = fs::read(&at).with_context(|| format!("cannot read {}", shown(&at)))?;
    let list = match std::str::from_utf8(&bytes).map_err(|_| 1).and_then(List::read) {
        Ok(list) => list,
        Err(line) => bail!("the list of pages {}:{line} is damaged; {CURE} and the list", shown(&at)),
    };
    // A list whose pages are all gone holds nobody up.
    if !list.pages.keys().any(|page| fs::symlink_metadata(path.join(page)).is_ok()) {
        return Ok(List::default());
    }
    match list.whose.same(all) {
        Ok(()) => Ok(list),
        Err(Strange::Reader) => bail!("{name} holds the pages of another reader; {CURE}"),
        Err(Strange::Book) => bail!("{name} holds the pages of another book; {CURE}"),
    }
}

/// A page of a report in a folder, by the words at its foot.
fn report_page(path: &Path) -> Option<String> {
    let mut files: Vec<PathBuf> = fs::read_dir(path).ok()?.flatten().map(|entry| entry.path()).collect();
    files.sort();
    let ours = |file: &PathBuf| {
        let page = file.extension().is_some_and(|ending| ending == "html");
        let text = if page && file.is_file() { fs::read(file).ok() } else { None };
        let first = file.file_name().is_some_and(|name| name == FIRST).then_some(FOOT_FIRST);
        let has = |text: &[u8], foot: &str| memchr::memmem::find(text, foot.as_bytes()).is_some();
        text.is_some_and(|text| first.into_iter().chain([FOOT]).any(|foot| has(&text, foot)))
    };
    files.into_iter().find(ours).and_then(|file| Some(shown(Path::new(file.file_name()?))))
}
