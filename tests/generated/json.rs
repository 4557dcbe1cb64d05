//! What every command says for programs is JSON, and the same bytes over one thread and four.

use super::book::{Knobs, seeded};
use super::holds::{Files, compiled};
use super::hunt::books;
use crate::command::{Said, said_on};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn say(words: &[&str]) -> Said {
    said_on(words, 96, "2026-11-01T12:00:00Z")
}

/// The commands that the program has and that take `--format json`, by its own help.
fn commands() -> BTreeSet<String> {
    let help = say(&["--help"]).out;
    let list =
        help.split("Commands:").nth(1).unwrap().lines().skip(1).take_while(|line| !line.trim().is_empty());
    let names = list.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names: Vec<String> =
        names.filter_map(|line| line.split_whitespace().next()).map(str::to_owned).collect();
    assert!(names.len() > 10, "{names:?}");
    let takes = |name: &String| say(&[name, "--help"]).out.contains("json");
    names.into_iter().filter(|name| name != "why").filter(takes).collect()
}

/// What is asked of a command, in words after it.
fn asked<'a>(
    command: &str,
    book: &'a str,
    [out, tables]: [&'a str; 2],
    [car, client]: [&'a str; 2],
) -> Vec<Vec<&'a str>> {
    let reader = ["--for", client];
    let both = |words: &[&'a str]| vec![words.to_vec(), [words, &reader].concat()];
    match command {
        "check" => vec![vec![book], vec![book, "--format", "sarif"]],
        "state" | "rules" => [both(&[book, car]), both(&[book, car, "2025-05-01"])].concat(),
        "diff" => both(&[book, car, "2025-03-20", "2025-12-01"]),
        "costs" => {
            let by = ["car", "client", "event", "job"];
            by.into_iter().flat_map(|by| both(&[book, "--lines", "--by", by])).collect()
        }
        "trace" => both(&[book, car, "tyre-cold", "LF"]),
        "sheet" => [
            both(&[book, car]),
            both(&[book, car, "--now"]),
            both(&[book, car, "--now", "--said", "entry push"]),
            both(&[book, car, "--crash"]),
            both(&[book, car, "--align"]),
            both(&[book, car, "--card"]),
            both(&[book, car, "--spare"]),
            both(&[book, car, "--power"]),
            both(&[book, car, "--engine"]),
        ]
        .concat(),
        "load" => {
            vec![vec![book], vec![book, "meet-0"], vec![book, "--ran"], vec![book, "meet-0", "--lacks"]]
        }
        // By now no event may be left to come.
        "due" => vec![vec![book, "--all"], vec![book, "--all", "--before", "meet-0"]],
        "lives" => vec![vec![book], vec![book, "coupling"]],
        "report" => both(&[book, "--out", out]),
        "tables" => vec![vec![book, "--out", tables]],
        "handover" => vec![vec![book, car], vec![book, car, "--include", "bench", "--include", "prices"]],
        "altered" => both(&[book, "--since", book]),
        "worth" => both(&[book, car]),
        "back-to-back" => both(&[book, car, "--all"]),
        "blank" => vec![vec![book, car]],
        "format" => vec![vec![book, "--check"]],
        other => panic!("no book is asked `stringline {other}`"),
    }
}

fn put(folder: &Path, files: &Files) {
    let _ = std::fs::remove_dir_all(folder);
    for (path, text) in files {
        let path = folder.join("book").join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
}

/// Everything said for programs about a book, command by command, over so many threads. A command may refuse what one book is asked;
/// those that did not are noted in `spoke`.
fn said(
    threads: usize,
    folder: &Path,
    [car, client]: [&str; 2],
    spoke: &mut BTreeSet<String>,
) -> Vec<(String, String)> {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
    let (book, out, tables) = (folder.join("book"), folder.join("out"), folder.join("tables"));
    let tables = tables.to_str().unwrap();
    let (book, out) = (book.to_str().unwrap(), out.to_str().unwrap());
    let mut all = Vec::new();
    for command in commands() {
        for words in asked(&command, book, [out, tables], [car, client]) {
            let mut words = [&[command.as_str()], &words[..]].concat();
            if !words.contains(&"--format") {
                words.extend(["--format", "json"]);
            }
            let said = pool.install(|| say(&words));
            let json = serde_json::from_str::<serde_json::Value>(&said.out);
            assert!(json.is_ok() || said.code == "2" && said.out.is_empty(), "{words:?}: {}", said.out);
            if json.is_ok() {
                spoke.insert(command.clone());
            }
            all.push((words.join(" "), said.code + &said.out));
        }
    }
    let mut pages: Vec<PathBuf> = std::fs::read_dir(out).unwrap().map(|page| page.unwrap().path()).collect();
    pages.sort();
    for page in pages {
        all.push((page.display().to_string(), std::fs::read_to_string(page).unwrap()));
    }
    all
}

#[test]
fn every_command_says_json_and_the_same_over_threads() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("generated-json");
    let mut spoke = BTreeSet::new();
    for seed in 0..books(2, 100) {
        let knobs = Knobs { slips: if seed % 2 == 1 { 8 } else { 0 }, ..Knobs::default() };
        let written = seeded(seed, 900, knobs);
        put(&folder, &written.files());
        let book = compiled(&written.files());
        let Some(car) = book.book.cars.first() else { continue };
        let asked = [&car.named.typed, written.clients[1].name];
        let one = said(1, &folder, asked, &mut spoke);
        let four = said(4, &folder, asked, &mut spoke);
        assert_eq!(one.len(), four.len(), "seed {seed}");
        for (one, four) in one.iter().zip(&four) {
            assert!(one == four, "seed {seed}: {} says otherwise over four threads", one.0);
        }
    }
    assert_eq!(spoke, commands(), "a command that refused every book was not looked at");
}
