//! The tables as one SQLite database: made beside its place in one transaction, checked, and put there whole.
//!
//! The same rows make the same bytes: one page size, one order of statements, no time of day. Must not know any table.

use super::written::Written;
use crate::book::model::ClientId;
use crate::command::folder::whose::{Strange, Whose};
use crate::report::Options;
use crate::source::{Draft, reason, shown, sweep};
use crate::tables::{Cell, FactTable, Shown, TABLES, VERSION, sql};
use anyhow::{Context as _, anyhow, bail};
use rusqlite::{Connection, ErrorCode, OpenFlags, Statement};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// What a new file is made with, before anything is in it.
const SETTINGS: &str = "PRAGMA page_size = 4096; PRAGMA encoding = 'UTF-8'; PRAGMA auto_vacuum = NONE; PRAGMA journal_mode = OFF; \
                        PRAGMA synchronous = OFF; PRAGMA locking_mode = EXCLUSIVE; PRAGMA temp_store = MEMORY; \
                        PRAGMA foreign_keys = OFF; PRAGMA cache_size = -65536;";

const CURE: &str = "choose another name";

/// Writes every table into a database.
pub(super) fn write(
    place: &Path,
    tables: &Shown<'_>,
    client: Option<ClientId>,
) -> anyhow::Result<Vec<Written>> {
    let name = shown(place);
    let folder = place.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    sweep(folder);
    let whose = Whose::of(tables.compiled, Options { client, ..Options::default() });
    free(place, &whose)?;
    let draft = Draft::beside(place).with_context(|| format!("cannot write into the folder of {name}"))?;
    let failed =
        |error: anyhow::Error| anyhow!("cannot write {name}: {error:#}; what was there is as it was");
    let rows = fill(draft.path(), tables, &whose).map_err(failed)?;
    let print = |path: &Path| crate::source::print(path).ok();
    let same =
        fs::symlink_metadata(place).is_ok_and(|there| there.is_file()) && print(place) == print(draft.path());
    if !same {
        // Somebody may have opened it meanwhile.
        free(place, &whose)?;
        draft.keep(place).map_err(|error| failed(anyhow!("{}", reason(&error))))?;
    }
    let each = TABLES.iter().zip(rows);
    Ok(each.map(|(table, rows)| Written { table: table.name, file: None, rows, changed: !same }).collect())
}

/// What SQLite says, in words of ours where they are clearer.
fn why(error: &rusqlite::Error) -> anyhow::Error {
    match error.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => anyhow!("the disk is full"),
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => anyhow!("another program has it open"),
        Some(ErrorCode::SystemIoFailure) => anyhow!("the disk would not take it ({error})"),
        _ => anyhow!("{error}"),
    }
}

/// Fills a new file. How many rows each table has.
fn fill(path: &Path, tables: &Shown<'_>, whose: &Whose) -> anyhow::Result<Vec<u64>> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(path, flags).map_err(|error| why(&error))?;
    let done = filled(&connection, tables, whose).map_err(|error| why(&error))?;
    let checked = checked(&connection).map_err(|error| why(&error))?;
    if let Some(table) = checked {
        bail!("a row of `{table}` names what has no row, which is a mistake of this program");
    }
    connection.execute_batch("COMMIT").map_err(|error| why(&error))?;
    connection.close().map_err(|(_, error)| why(&error))?;
    Ok(done)
}

fn filled(connection: &Connection, tables: &Shown<'_>, whose: &Whose) -> rusqlite::Result<Vec<u64>> {
    connection.execute_batch(SETTINGS)?;
    connection.execute_batch("BEGIN EXCLUSIVE")?;
    connection.execute_batch(&format!(
        "PRAGMA application_id = {}; PRAGMA user_version = {VERSION};",
        sql::APPLICATION
    ))?;
    connection.execute_batch("CREATE TABLE whose (line TEXT NOT NULL) STRICT")?;
    for line in Whose::default().remember(whose, whose).text().lines() {
        connection.execute("INSERT INTO whose VALUES (?1)", [line])?;
    }
    let mut rows = Vec::new();
    for table in &TABLES {
        connection.execute_batch(&sql::create(table, &TABLES))?;
        rows.push(put(connection, table, tables)?);
    }
    for table in &TABLES {
        connection.execute_batch(&sql::indexes(table))?;
    }
    for view in &sql::VIEWS {
        connection.execute_batch(&sql::view(view))?;
    }
    Ok(rows)
}

/// The first table with a row that names what has none.
fn checked(connection: &Connection) -> rusqlite::Result<Option<String>> {
    let mut check = connection.prepare("PRAGMA foreign_key_check")?;
    let mut rows = check.query([])?;
    rows.next()?.map(|row| row.get(0)).transpose()
}

fn put(connection: &Connection, table: &FactTable, tables: &Shown<'_>) -> rusqlite::Result<u64> {
    let mut statement = connection.prepare(&sql::insert(table))?;
    let (mut rows, mut failed) = (0, None);
    (table.rows)(tables, &mut |cells| {
        if failed.is_none() {
            rows += 1;
            failed = row(&mut statement, cells).err();
        }
    });
    failed.map_or(Ok(rows), Err)
}

fn row(statement: &mut Statement<'_>, cells: &[Cell<'_>]) -> rusqlite::Result<()> {
    for (index, cell) in (1..).zip(cells) {
        match cell {
            Cell::Nothing => statement.raw_bind_parameter(index, rusqlite::types::Null)?,
            Cell::Text(text) => statement.raw_bind_parameter(index, &**text)?,
            Cell::Whole(number) => statement.raw_bind_parameter(index, number)?,
            Cell::Real(number) => statement.raw_bind_parameter(index, number)?,
        }
    }
    statement.raw_execute().map(drop)
}

/// Whether a database may take that place: nothing is there, or one of ours, of this reader and book, that nobody has open.
fn free(place: &Path, all: &Whose) -> anyhow::Result<()> {
    let name = shown(place);
    match fs::symlink_metadata(place) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(error).with_context(|| format!("cannot read {name}")),
        Ok(there) if !there.is_file() => bail!("{name} is no ordinary file; {CURE}"),
        Ok(_) => {}
    }
    for ending in ["-journal", "-wal"] {
        let mut beside = place.as_os_str().to_owned();
        beside.push(ending);
        let beside = PathBuf::from(beside);
        if fs::symlink_metadata(&beside).is_ok() {
            bail!(
                "{name} is in use by another program, which has {} beside it; close it there, or {CURE}",
                shown(&beside)
            );
        }
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let asked = Connection::open_with_flags(place, flags).and_then(|there| {
        there.busy_timeout(std::time::Duration::ZERO)?;
        let application: i32 = there.query_row("PRAGMA application_id", [], |row| row.get(0))?;
        if application != sql::APPLICATION {
            return Ok(None);
        }
        there.execute_batch("BEGIN EXCLUSIVE")?;
        let whose = remembered(&there)?;
        there.execute_batch("ROLLBACK")?;
        Ok(Some(whose))
    });
    let whose = match asked {
        Ok(Some(whose)) => whose,
        Ok(None) => bail!("{name} is a database that this program did not write; {CURE}"),
        Err(error) => match error.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
                bail!("{name} is in use by another program; close it there, or {CURE}")
            }
            Some(ErrorCode::NotADatabase) => bail!("{name} is no database of this program; {CURE}"),
            _ => bail!("{name} cannot be looked into ({error}); {CURE}"),
        },
    };
    match whose.same(all) {
        Ok(()) => Ok(()),
        Err(Strange::Reader) => bail!("{name} holds the tables of another reader; {CURE}"),
        Err(Strange::Book) => bail!("{name} holds the tables of another book; {CURE}"),
    }
}

/// Whose tables a database has.
fn remembered(there: &Connection) -> rusqlite::Result<Whose> {
    let mut lines = there.prepare("SELECT line FROM whose")?;
    let mut whose = Whose::default();
    for line in lines.query_map([], |row| row.get::<_, String>(0))? {
        // A line that is none of ours makes it no book of ours.
        let line = line?;
        let taken = line.split_once(' ').and_then(|(word, rest)| whose.take(word, rest));
        taken.ok_or(rusqlite::Error::QueryReturnedNoRows)?;
    }
    Ok(whose)
}
