//! The folder of CSV files: one run at a time, one reader's and one book's tables, nothing of anybody else's replaced.
//!
//! All tables are written beside their places first; only when each is whole are they put there, one rename after the other. The list then
//! knows both what was there and what comes, so that a run that is killed in between is gone on with by the next.

use super::list::{List, NAME};
use super::written::Written;
use crate::book::model::ClientId;
use crate::command::folder::whose::{Strange, Whose};
use crate::report::Options;
use crate::source::{Draft, Lock, print, put, reason, shown, sweep};
use crate::tables::{FactTable, Shown, TABLES, csv};
use anyhow::{Context as _, bail};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::Path;

const CURE: &str = "choose an empty folder, or one that is not there";

/// A table written beside its place.
struct Made {
    table: &'static FactTable,
    file: String,
    rows: u64,
    draft: Draft,
}

/// Writes every table into the folder.
pub(super) fn write(
    folder: &Path,
    tables: &Shown<'_>,
    client: Option<ClientId>,
) -> anyhow::Result<Vec<Written>> {
    let name = shown(folder);
    let options = Options { client, ..Options::default() };
    fs::create_dir_all(folder).with_context(|| format!("cannot make the folder {name}"))?;
    let lock = Lock::take(folder).with_context(|| format!("cannot open the folder {name}"))?;
    let Some(_lock) = lock else { bail!("another run is writing into {name}; run again when it is done") };
    sweep(folder);
    let all = Whose::of(tables.compiled, options);
    let mut list = known(folder, &all)?;
    list.whose = list.whose.remember(&all, &all);
    let made = TABLES.par_iter().map(|table| made(folder, table, tables)).collect::<Result<Vec<_>, _>>();
    let made = made.map_err(|(table, error)| {
        anyhow::anyhow!(
            "cannot write {table} into {name}: {}; the tables there are as they were",
            reason(&error)
        )
    })?;
    place(folder, list, made)
}

fn made(folder: &Path, table: &'static FactTable, tables: &Shown<'_>) -> Result<Made, (String, io::Error)> {
    let file = format!("{}.csv", table.name);
    let write = || {
        let mut draft = Draft::beside(&folder.join(&file))?;
        let rows = csv::write(table, tables, &mut draft)?;
        Ok((draft, rows))
    };
    match write() {
        Ok((draft, rows)) => Ok(Made { table, file, rows, draft }),
        Err(error) => Err((file, error)),
    }
}

/// Puts the tables into their places, and takes those away that there are no more.
fn place(folder: &Path, mut list: List, made: Vec<Made>) -> anyhow::Result<Vec<Written>> {
    let name = shown(folder);
    let cannot = |what: &str, error: &io::Error| {
        anyhow::anyhow!(
            "cannot put {what} into {name}: {}; run again, for some of the tables may be of before",
            reason(error)
        )
    };
    let gone: Vec<String> =
        list.files.keys().filter(|file| !made.iter().any(|one| one.file == **file)).cloned().collect();
    let mut now: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for one in &made {
        let print = one.draft.print();
        let prints = list.files.entry(one.file.clone()).or_default();
        if !prints.contains(&print) {
            prints.push(print.clone());
        }
        now.insert(one.file.clone(), vec![print]);
    }
    let place = folder.join(NAME);
    put(&place, &list.text()).map_err(|error| cannot("the list of tables", &error))?;
    let mut written = Vec::new();
    for one in made {
        let at = folder.join(&one.file);
        let same = print(&at).is_ok_and(|print| print == one.draft.print());
        if !same {
            one.draft.keep(&at).map_err(|error| cannot(&one.file, &error))?;
        }
        written.push(Written { table: one.table.name, file: Some(one.file), rows: one.rows, changed: !same });
    }
    for file in gone {
        match fs::remove_file(folder.join(&file)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(cannot(&file, &error)),
            _ => {}
        }
    }
    list.files = now;
    put(&place, &list.text()).map_err(|error| cannot("the list of tables", &error))?;
    Ok(written)
}

/// The list of a folder that may be written into: an empty one, or one with tables of this reader and book that nobody has changed.
fn known(folder: &Path, all: &Whose) -> anyhow::Result<List> {
    let name = shown(folder);
    let mut there: Vec<String> = Vec::new();
    for entry in fs::read_dir(folder).with_context(|| format!("cannot read the folder {name}"))? {
        let entry = entry.with_context(|| format!("cannot read the folder {name}"))?;
        there.push(entry.file_name().to_string_lossy().into_owned());
    }
    there.sort();
    let list = if there.iter().any(|file| file == NAME) {
        let at = folder.join(NAME);
        let text = fs::read_to_string(&at).with_context(|| format!("cannot read {}", shown(&at)))?;
        match List::read(&text) {
            Ok(list) => list,
            Err(line) => bail!("the list of tables {}:{line} is damaged; {CURE}", shown(&at)),
        }
    } else {
        List::default()
    };
    // What a run that is at work, or has died, has there is ours.
    let other = |file: &&String| !file.starts_with(".stringline-") && !list.files.contains_key(*file);
    if let Some(file) = there.iter().find(other) {
        bail!("{name} holds other things than tables, such as {}; {CURE}", shown(Path::new(file)));
    }
    if !there.iter().any(|file| list.files.contains_key(file)) {
        return Ok(List::default());
    }
    match list.whose.same(all) {
        Ok(()) => {}
        Err(Strange::Reader) => bail!("{name} holds the tables of another reader; {CURE}"),
        Err(Strange::Book) => bail!("{name} holds the tables of another book; {CURE}"),
    }
    for (file, prints) in list.files.iter().filter(|(file, _)| there.contains(file)) {
        let at = folder.join(file);
        let ordinary = fs::symlink_metadata(&at).is_ok_and(|there| there.is_file());
        if !ordinary || !print(&at).is_ok_and(|print| prints.contains(&print)) {
            bail!(
                "{} is not as it was written: somebody has changed it; move it away, or {CURE}",
                shown(&at)
            );
        }
    }
    Ok(list)
}
