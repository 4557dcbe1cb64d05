//! The database: foreign keys hold, the same book makes the same bytes, another program reads what was put in.

use super::rows;
use crate::command::{Said, said_on};
use crate::demo::DEMO;
use crate::generated::book::{Knobs, seeded};
use crate::generated::hunt::books;
use rusqlite::Connection;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;
use stringline::tables::{Shown, TABLES, sql};

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tables").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

fn write(book: &Path, out: &Path, more: &[&str]) -> Said {
    let words = ["tables", book.to_str().unwrap(), "--out", out.to_str().unwrap()];
    said_on(&[&words[..], more].concat(), 96, "2026-12-01T12:00:00Z")
}

fn count(there: &Connection, sql: &str) -> i64 {
    there.query_row(sql, [], |row| row.get(0)).unwrap()
}

#[test]
fn the_demo_is_the_same_bytes_twice_and_over_threads() {
    let folder = folder("same");
    let (one, two) = (folder.join("one.db"), folder.join("two.db"));
    assert_eq!(write(Path::new("ledgers/2026"), &one, &[]).code, "0");
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    assert_eq!(pool.install(|| write(Path::new("ledgers/2026"), &two, &[])).code, "0");
    assert!(std::fs::read(&one).unwrap() == std::fs::read(&two).unwrap());
    let there = Connection::open(&one).unwrap();
    assert_eq!(count(&there, "PRAGMA application_id"), i64::from(sql::APPLICATION));
    let shown = Shown::new(&DEMO, None);
    for table in &TABLES {
        let rows = rows(table, &shown).len() as i64;
        assert_eq!(
            count(&there, &format!("SELECT count(*) FROM \"{}\"", table.name)),
            rows,
            "{}",
            table.name
        );
        let strict = format!("SELECT strict FROM pragma_table_list WHERE name = '{}'", table.name);
        assert_eq!(count(&there, &strict), 1);
    }
    for view in &sql::VIEWS {
        assert!(count(&there, &format!("SELECT count(*) FROM \"{}\"", view.name)) > 0, "{}", view.name);
    }
    // The sums of a view are those of the postings.
    let minor = count(&there, "SELECT sum(amount_minor) FROM postings");
    assert_eq!(count(&there, "SELECT sum(amount_minor) FROM costs_by_event"), minor);
    assert_eq!(count(&there, "SELECT sum(amount_minor) FROM costs_by_car"), minor);
    // Written again, nothing is touched.
    let again = write(Path::new("ledgers/2026"), &one, &[]);
    assert!(again.out.contains(", all as they were; "), "{}", again.out);
}

#[test]
fn foreign_keys_hold_over_any_book_and_reader() {
    let folder = folder("any");
    for seed in 0..books(4, 200) {
        let knobs =
            Knobs { slips: if seed % 2 == 1 { 8 } else { 0 }, resale: seed % 3 == 2, ..Knobs::default() };
        let written = seeded(seed, 900, knobs);
        let home = folder.join(format!("b{seed}"));
        for (path, text) in written.files() {
            let path = home.join(path);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, text).unwrap();
        }
        // A slip may stand in the line that declares one.
        let declared = |name: &str| {
            let files = written.files();
            files
                .iter()
                .flat_map(|(_, text)| text.lines())
                .any(|line| line.starts_with(&format!("client {name} ")))
        };
        let reader = written.clients.iter().skip(1).map(|client| client.name).find(|name| declared(name));
        for reader in [None, reader] {
            let out = folder.join(format!("{seed}-{}.db", reader.is_some()));
            let more = reader.map_or(vec![], |reader| vec!["--for", reader]);
            let said = write(&home, &out, &more);
            assert!(["0", "1"].contains(&said.code.as_str()), "seed {seed}: {}", said.err);
            let there = Connection::open(&out).unwrap();
            let broken = there.prepare("PRAGMA foreign_key_check").unwrap().exists([]).unwrap();
            assert!(!broken, "seed {seed}");
            let whole: String = there.query_row("PRAGMA integrity_check", [], |row| row.get(0)).unwrap();
            assert_eq!(whole, "ok", "seed {seed}");
        }
    }
}

#[test]
fn what_is_not_ours_or_in_use_is_left() {
    let folder = folder("refused");
    let book = Path::new("tests/fixtures/command/book");
    let refused = |file: &Path, more: &[&str], words: &str| {
        let before = std::fs::read(file).unwrap();
        let said = write(book, file, more);
        assert_eq!(said.code, "2", "{}", said.err);
        assert!(said.err.contains(words), "{}", said.err);
        assert!(std::fs::read(file).unwrap() == before);
    };
    let text = folder.join("text.db");
    std::fs::write(
        &text,
        "a letter to a friend, longer than a head of a database is, so that nobody takes it for one. "
            .repeat(9),
    )
    .unwrap();
    refused(&text, &[], "is no database of this program");
    let empty = folder.join("empty.db");
    std::fs::write(&empty, "").unwrap();
    refused(&empty, &[], "this program did not write");
    let other = folder.join("other.sqlite");
    Connection::open(&other).unwrap().execute_batch("CREATE TABLE mine (a)").unwrap();
    refused(&other, &[], "this program did not write");
    let ours = folder.join("ours.sqlite3");
    assert_eq!(write(book, &ours, &[]).code, "0");
    refused(&ours, &["--for", "orr"], "holds the tables of another reader");
    let held = Connection::open(&ours).unwrap();
    held.execute_batch("BEGIN IMMEDIATE").unwrap();
    refused(&ours, &[], "is in use by another program");
    held.execute_batch("ROLLBACK").unwrap();
    held.close().unwrap();
    std::fs::write(folder.join("ours.sqlite3-wal"), "x").unwrap();
    refused(&ours, &[], "is in use by another program");
    std::fs::remove_file(folder.join("ours.sqlite3-wal")).unwrap();
    let said = write(Path::new("ledgers/2026"), &ours, &[]);
    assert!(said.code == "2" && said.err.contains("of another book"), "{}", said.err);
    assert_eq!(write(book, &ours, &[]).code, "0");
    let nowhere = write(book, &folder.join("no/such.db"), &[]);
    assert!(
        nowhere.code == "2" && nowhere.err.contains("cannot write into the folder of"),
        "{}",
        nowhere.err
    );
    let dir = folder.join("dir.db");
    std::fs::create_dir(&dir).unwrap();
    let said = write(book, &dir, &[]);
    assert!(said.code == "2" && said.err.contains("is no ordinary file"), "{}", said.err);
    let left: Vec<_> = std::fs::read_dir(&folder).unwrap().map(|one| one.unwrap().file_name()).collect();
    assert!(!left.iter().any(|name| name.to_string_lossy().ends_with(".part")), "{left:?}");
}

/// Debian's `sqlite3`, where it is installed: it finds the database whole, and in it what the CSV files say.
#[test]
fn another_program_reads_it() {
    if std::env::var_os("STRINGLINE_DISK").is_none() || !Path::new("/usr/bin/sqlite3").exists() {
        let _ = writeln!(
            std::io::stderr(),
            "left out: reading the database with sqlite3 (set STRINGLINE_DISK=1, or run ./tests/run)"
        );
        return;
    }
    let folder = folder("sqlite3");
    let (database, files) = (folder.join("book.db"), folder.join("files"));
    assert_eq!(write(Path::new("ledgers/2026"), &database, &[]).code, "0");
    assert_eq!(write(Path::new("ledgers/2026"), &files, &[]).code, "0");
    let ask = |sql: &str| {
        let done = Command::new("/usr/bin/sqlite3").arg("-csv").arg(&database).arg(sql).output().unwrap();
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        String::from_utf8(done.stdout).unwrap().replace("\r\n", "\n")
    };
    assert_eq!(ask("PRAGMA integrity_check; PRAGMA foreign_key_check;"), "ok\n");
    for name in ["sessions", "jobs", "parts", "events"] {
        let text = std::fs::read_to_string(files.join(format!("{name}.csv"))).unwrap().replace("\r\n", "\n");
        let count = text.lines().count() - 1;
        assert_eq!(ask(&format!("SELECT count(*) FROM {name}")), format!("{count}\n"), "{name}");
    }
    assert_eq!(
        ask("SELECT typeof(amount), typeof(amount_minor) FROM postings WHERE amount IS NOT NULL LIMIT 1"),
        "text,integer\n"
    );
    assert_eq!(ask("SELECT minutes FROM lives WHERE part = 'cp-01'"), "292.0\n");
}
