//! `grammar/json.md` names every key that a command prints, and no key that none does.

use super::{BOOK, BROKEN, DISPUTED, JOBS, said_on};
use std::collections::BTreeSet;

fn keys(json: &serde_json::Value, all: &mut BTreeSet<String>) {
    match json {
        serde_json::Value::Object(map) => {
            for (key, value) in map {
                all.insert(key.clone());
                keys(value, all);
            }
        }
        serde_json::Value::Array(list) => list.iter().for_each(|value| keys(value, all)),
        _ => {}
    }
}

/// The section of the page about a command.
fn section<'a>(page: &'a str, command: &str) -> &'a str {
    let (_, rest) =
        page.split_once(&format!("\n## {command}\n")).unwrap_or_else(|| panic!("no section {command}"));
    rest.split("\n## ").next().unwrap_or_default()
}

const SHARED: &str = concat!(env!("CARGO_TARGET_TMPDIR"), "/json-shared");
const HANDED: &str = concat!(env!("CARGO_TARGET_TMPDIR"), "/json-handed");

#[test]
fn every_key_is_on_the_page() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/json.md");
    let page = std::fs::read_to_string(path).unwrap().replace("\r\n", "\n");
    let out = concat!(env!("CARGO_TARGET_TMPDIR"), "/json-page");
    let _ = std::fs::remove_dir_all(out);
    let tables = concat!(env!("CARGO_TARGET_TMPDIR"), "/json-tables");
    let _ = std::fs::remove_dir_all(tables);
    // Figures that take the one before them twice: past some thousands of steps each is told once.
    std::fs::create_dir_all(SHARED).unwrap();
    let twice =
        (1..=12).map(|n| format!("figure f-{n} ratio car\n  is x + y\n  x = f-{0}\n  y = f-{0}\n", n - 1));
    let book: String = twice.collect();
    let first = "car heron \"H\"\nfigure f-0 ratio car\n  is x + 0\n  x = 1\n";
    std::fs::write(format!("{SHARED}/book.sline"), format!("{first}{book}\n2026-03-01 heron\n  | quiet\n"))
        .unwrap();
    std::fs::create_dir_all(HANDED).unwrap();
    let car = "client orr \"Orr\"\ncar heron \"H\"  client orr\n";
    let handed = "  handed now to orr 4f3a-91c2-07b1\n";
    std::fs::write(format!("{HANDED}/book.sline"), format!("{car}\n2026-03-01 heron\n  | quiet\n{handed}"))
        .unwrap();
    let runs: [(&str, Vec<Vec<&str>>); 16] = [
        ("report", vec![vec!["report", BOOK, "--out", out]]),
        ("tables", vec![vec!["tables", BOOK, "--out", tables]]),
        ("check", vec![vec!["check", BOOK], vec!["check", BROKEN], vec!["check", "ledgers/2026"]]),
        ("why", vec![vec!["why"], vec!["why", "unit-missing"]]),
        (
            "state",
            vec![
                vec!["state", BOOK, "heron"],
                vec!["state", DISPUTED, "heron"],
                vec!["state", "ledgers/2026", "bittern"],
                vec!["state", JOBS, "heron", "2025-05-03"],
            ],
        ),
        ("altered", vec![vec!["altered", BOOK, "--since", BROKEN], vec!["altered", HANDED]]),
        (
            "costs",
            vec![vec!["costs", "tests/fixtures/command/money"], vec!["costs", "tests/fixtures/command/paid"]],
        ),
        (
            "back-to-back",
            vec![
                vec!["back-to-back", "ledgers/2026", "bittern"],
                vec!["back-to-back", "tests/fixtures/trials/twice", "heron"],
            ],
        ),
        ("worth", vec![vec!["worth", "tests/fixtures/worth", "heron"]]),
        ("diff", vec![vec!["diff", BOOK, "heron", "pell-1/s1", "pell-2"]]),
        (
            "lives",
            vec![
                vec!["lives", "ledgers/2026"],
                vec!["lives", "ledgers/2026", "coupling", "--without", "cause=oil"],
            ],
        ),
        (
            "due",
            vec![vec!["due", "ledgers/2026"], vec!["due", "ledgers/2026", "--before", "barrows-1", "--all"]],
        ),
        ("blank", vec![vec!["blank", BOOK, "heron", "pell-3"]]),
        ("format", vec![vec!["format", BOOK, "--check"]]),
        (
            "rules",
            vec![
                vec!["rules", "tests/fixtures/command/ruled", "heron", "pell-1"],
                vec!["rules", "ledgers/2026", "bittern", "quern-2"],
            ],
        ),
        (
            "trace",
            vec![
                vec!["trace", "ledgers/2026", "bittern", "cross-weight"],
                vec!["trace", "ledgers/2026", "bittern", "cg-height"],
                vec!["trace", "tests/fixtures/command/suspect", "heron", "leakdown-lost", "c1"],
                vec!["trace", "tests/fixtures/command/compared", "heron", "tyre-cold", "LF"],
                vec!["trace", SHARED, "heron", "f-12"],
                vec!["trace", "ledgers/2026", "bittern", "worth"],
                vec!["trace", "ledgers/2026", "bittern", "back-to-back"],
                vec!["trace", "ledgers/2026", "teal", "back-to-back"],
            ],
        ),
    ];
    for (command, lines) in runs {
        let mut all = BTreeSet::new();
        for mut line in lines {
            line.extend(["--format", "json"]);
            // After the demo season, so that it is all in the past.
            let said = said_on(&line, 96, "2026-12-01T12:00:00Z");
            let json = serde_json::from_str(&said.out)
                .unwrap_or_else(|error| panic!("{line:?}: {error}\n{}", said.err));
            keys(&json, &mut all);
        }
        let shared = section(&page, "In every command");
        let own = section(&page, command);
        let words = |text: &str| -> BTreeSet<String> {
            text.split('`').skip(1).step_by(2).map(str::to_owned).collect()
        };
        let named: BTreeSet<String> = words(own).union(&words(shared)).cloned().collect();
        let missing: Vec<&String> = all.difference(&named).collect();
        assert!(missing.is_empty(), "{command}: not on grammar/json.md: {missing:?}");
        // A row of a table whose key no run printed is a key that does not exist.
        let rows: Vec<&str> =
            own.lines().filter_map(|line| line.strip_prefix("| `")?.split('`').next()).collect();
        let dead: Vec<&&str> = rows.iter().filter(|row| !all.contains(**row)).collect();
        assert!(dead.is_empty(), "{command}: on grammar/json.md but never printed: {dead:?}");
    }
}

/// The hand-over book is described by the schema of its page; its own keys and those of `status` are on this page, and no other.
#[test]
fn the_hand_over_book_has_the_keys_of_its_table() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/json.md");
    let page = std::fs::read_to_string(path).unwrap().replace("\r\n", "\n");
    let said =
        said_on(&["handover", "ledgers/2026", "plover", "--format", "json"], 96, "2026-12-01T12:00:00Z");
    let json: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let mut all: BTreeSet<&str> = json.as_object().unwrap().keys().map(String::as_str).collect();
    all.extend(json["status"].as_object().unwrap().keys().map(String::as_str));
    let rows = section(&page, "handover").lines().filter(|line| line.starts_with("| `"));
    let named: BTreeSet<&str> = rows
        .flat_map(|row| row.split('`').skip(1).step_by(2))
        .filter(|word| !word.starts_with("--"))
        .collect();
    assert_eq!(named, all);
}
