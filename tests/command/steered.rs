//! Nothing typed steers a terminal: a book with escape sequences and marks of direction in every free text, in the names of
//! its files and in arguments goes through every command, every format and every refusal.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use stringline::command::{output::Output, run, tree};
use stringline::visible::hides;

/// A colour that is none of ours, a title of a window, C1, delete, back, return, direction, no width, other line ends.
const STEER: &str = "\u{1b}[38;5;201m\u{1b}]0;t\u{7}\u{9b}2J\u{8}\u{7f}\r\u{85}\u{202e}\u{2066}\u{200b}\u{feff}\u{2028}\u{2029}\u{ad}";

/// A ledger with the sequence in every quoted text, reason, comment, note and unreadable line.
fn steered(ledger: &str) -> String {
    let mut text = String::new();
    for line in ledger.lines() {
        let pieces: Vec<&str> = line.split('"').collect();
        for (at, piece) in pieces.iter().enumerate() {
            text += piece;
            if at + 1 < pieces.len() {
                // Odd pieces stand between quotes.
                text += if at % 2 == 1 { STEER } else { "" };
                text.push('"');
            }
        }
        let free =
            line.contains("because ") || line.contains(" # ") || line.trim_start().starts_with(['#', '|']);
        text += if free { STEER } else { "" };
        text.push('\n');
    }
    text
}

/// A folder of this test's own.
fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("stringline-steered-{}-{name}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// The ledgers of a folder, steered, under steered names; `more` is a line at the end of the last.
fn book(from: &str, to: &Path, more: &str) -> String {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let text = steered(&std::fs::read_to_string(&path).unwrap());
        let file = format!("{}{}.sline", path.file_stem().unwrap().to_str().unwrap(), STEER);
        std::fs::write(to.join(file), text).unwrap();
    }
    std::fs::write(to.join(format!("zz{STEER}.sline")), more).unwrap();
    to.to_str().unwrap().to_owned()
}

/// What a run wrote: results and messages.
fn streams(words: &[&str], color: bool) -> [String; 2] {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let now = Some("2026-12-01T12:00:00Z".parse().unwrap());
    run(
        std::iter::once("stringline").chain(words.iter().copied()).map(std::ffi::OsString::from),
        &mut Output { out: &mut out, err: &mut err, color, terminal: false, quiet: false, width: 100, now },
    );
    [out, err].map(|bytes| String::from_utf8(bytes).unwrap())
}

/// Runs a command line without and with colour; nothing it writes steers. What it wrote without.
fn harmless(words: &[&str]) -> [String; 2] {
    // Only the messages of `check` and of the command line know colours.
    let colors: &[bool] = if words.first() == Some(&"check") { &[true, false] } else { &[false] };
    for color in colors.iter().copied() {
        let said = streams(words, color);
        for text in &said {
            let seen = if color { anstream::adapter::strip_str(text).to_string() } else { text.clone() };
            assert!(!text.contains("\u{1b}[38;5;201m"), "{words:?}: a colour that was typed");
            if let Some(c) = seen.chars().find(|c| *c != '\n' && hides(*c)) {
                let line = seen.lines().find(|line| line.contains(c)).unwrap_or_default();
                panic!("{words:?}, colour {color}: {c:?} in {line:?}");
            }
        }
        if !color {
            return said;
        }
    }
    unreachable!()
}

/// What each command is run with on the demo book (`BOOK`), so that most of what it can print is printed.
fn runs() -> BTreeMap<&'static str, Vec<Vec<&'static str>>> {
    BTreeMap::from([
        ("check", vec![vec!["BOOK"]]),
        ("state", vec![vec!["BOOK", "bittern"]]),
        ("diff", vec![vec!["BOOK", "bittern", "2026-04-20", "2026-10-01"]]),
        ("worth", vec![vec!["BOOK", "bittern"], vec!["BOOK", "plover"]]),
        ("back-to-back", vec![vec!["BOOK", "bittern", "--all"], vec!["BOOK", "plover", "quern-1"]]),
        ("rules", vec![vec!["BOOK", "bittern", "quern-2"]]),
        ("costs", vec![vec!["BOOK", "--lines"]]),
        ("trace", vec![vec!["BOOK", "bittern", "cross-weight"]]),
        ("due", vec![vec!["BOOK", "--all"]]),
        ("lives", vec![vec!["BOOK", "coupling"]]),
        ("sheet", vec![vec!["BOOK", "bittern", "quern-2"]]),
        ("load", vec![vec!["BOOK", "quern-2"]]),
        ("report", vec![vec!["BOOK", "--out", "OUT"]]),
        ("handover", vec![vec!["BOOK", "plover"], vec!["BOOK", "plover", "--out", "OUT.html"]]),
        ("tables", vec![vec!["BOOK", "--out", "OUT-tables"], vec!["BOOK", "--out", "OUT-tables.db"]]),
        ("altered", vec![vec!["BOOK", "--since", "COPY"], vec!["BOOK", "--since", STEER]]),
        ("why", vec![vec!["unit-missing"], vec![STEER]]),
        ("blank", vec![vec!["BOOK", "bittern", "quern-2"]]),
        (
            "transcribe",
            vec![
                vec!["tests/fixtures/transcribe/stand/sheet.csv", "BOOK"],
                vec![STEER, "BOOK"],
                vec!["tests/fixtures/transcribe/stand/sheet.csv", "BOOK", "--by", STEER],
            ],
        ),
        ("format", vec![vec!["BOOK", "--check"], vec!["COPY"]]),
    ])
}

#[test]
fn no_command_lets_what_is_typed_steer() {
    let home = folder("demo");
    let typed = format!("car x{STEER} \"A\"\n2026-05-01 bittern\n  set  camber {STEER}\n  {STEER}\n");
    let text = book("ledgers/2026", &home.join(format!("b{STEER}")), &typed);
    let copy = book("tests/fixtures/command/untidy", &home.join(format!("c{STEER}")), "# a   \n");
    let out = home.join(format!("out{STEER}")).to_str().unwrap().to_owned();
    let (runs, tree) = (runs(), tree());
    for command in tree.get_subcommands() {
        let name = command.get_name();
        // It talks with a program, over streams of its own: `editor::conversation` holds that nothing goes over them raw. The other two read
        // no book: `command::begun`.
        // `board` goes on until it is ended: `board::live`; what it says goes through the same door.
        if ["editor", "begin", "manual", "board"].contains(&name) {
            continue;
        }
        let lines = runs.get(name).unwrap_or_else(|| panic!("`{name}` has no run here: add one"));
        let format = command.get_arguments().find(|one| one.get_id() == "format");
        let values = format.map(clap::Arg::get_possible_values).unwrap_or_default();
        let mut shown = false;
        for line in lines {
            let place = |word: &&str| word.replace("BOOK", &text).replace("COPY", &copy).replace("OUT", &out);
            let mut words: Vec<String> = vec![name.to_owned()];
            words.extend(line.iter().map(place));
            if values.is_empty() {
                let said = harmless(&words.iter().map(String::as_str).collect::<Vec<_>>());
                shown |= said.iter().any(|text| text.contains('\u{241b}') || text.contains("\\u{1b}"));
            }
            for value in &values {
                let mut words = words.clone();
                words.extend(["--format".to_owned(), value.get_name().to_owned()]);
                let [out, err] = harmless(&words.iter().map(String::as_str).collect::<Vec<_>>());
                shown |=
                    [&out, &err].iter().any(|text| text.contains('\u{241b}') || text.contains("\\u{1b}"));
                if matches!(value.get_name(), "json" | "sarif")
                    && !line.iter().any(|word| [STEER, "OUT.html"].contains(word))
                {
                    let json = serde_json::from_str::<serde_json::Value>(&out);
                    let json = json.unwrap_or_else(|error| panic!("{words:?}: {error}: {err}"));
                    // A program has what was typed, as it was typed; the name of a file is told with escapes everywhere.
                    let whole = json.to_string().contains('\u{202e}') && !out.contains('\u{202e}');
                    let without =
                        matches!(name, "why" | "trace" | "format" | "tables") || value.get_name() == "sarif";
                    assert!(whole || without, "{words:?}");
                }
            }
        }
        assert!(shown, "`{name}` printed no text of the book: this run proves nothing");
    }
    let _ = std::fs::remove_dir_all(home);
}

/// Every verb, declaration and clause, with the sequence in each of its texts and behind each of its words.
#[test]
fn no_slot_lets_what_is_typed_steer() {
    let home = folder("slots");
    let verbs = std::fs::read_to_string("tests/fixtures/verbs.sline").unwrap();
    std::fs::write(home.join("texts.sline"), steered(&verbs)).unwrap();
    let root = home.to_str().unwrap();
    for format in ["text", "short", "json", "sarif"] {
        harmless(&["check", root, "--format", format]);
    }
    // Behind every word of every line in turn, a line a run would take hours: the n-th word of all lines at once.
    for at in 0..8 {
        let line = |line: &str| {
            let end =
                line.split_inclusive(char::is_whitespace).filter(|word| !word.trim().is_empty()).nth(at);
            let end = end.map_or(line.len(), |word| {
                word.trim_end().as_ptr() as usize - line.as_ptr() as usize + word.trim_end().len()
            });
            format!("{}{STEER}{}\n", &line[..end], &line[end..])
        };
        std::fs::write(home.join("texts.sline"), verbs.lines().map(line).collect::<String>()).unwrap();
        for words in [
            vec!["check", root],
            vec!["state", root, "heron"],
            vec!["costs", root],
            vec!["format", root, "--check"],
        ] {
            harmless(&words);
        }
    }
    let _ = std::fs::remove_dir_all(home);
}

/// What cannot be read, opened or understood is said as harmlessly.
#[test]
fn no_refusal_lets_what_is_typed_steer() {
    let home = folder("refused");
    let nowhere = home.join(format!("no{STEER}/b")).to_str().unwrap().to_owned();
    let file = home.join(format!("f{STEER}")).to_str().unwrap().to_owned();
    std::fs::write(&file, "").unwrap();
    let below = format!("{file}/x");
    let own = home.join(format!("own{STEER}"));
    std::fs::create_dir_all(&own).unwrap();
    std::fs::write(own.join(format!("season{STEER}.html")), format!("{{{{ {STEER} }}}}")).unwrap();
    std::fs::write(own.join("season.html"), format!("{{{{ \"{STEER}\"|none }}}}{{% include \"{STEER}\" %}}"))
        .unwrap();
    let own = own.to_str().unwrap();
    let small = home.join("small.sline");
    std::fs::write(&small, "car heron \"Heron\"\n2026-05-01 heron\n  set wing-angle 5 deg\n").unwrap();
    let small = small.to_str().unwrap();
    let flag = format!("--{STEER}");
    harmless(&[STEER]);
    for command in tree().get_subcommands() {
        let name = command.get_name();
        let (out, bad) = (["--out", &below], [name, &nowhere, STEER, "--format", STEER]);
        harmless(&[name, &flag]);
        harmless(&bad[..2]);
        harmless(&bad[..3]);
        harmless(&bad);
        harmless(&[name, small, STEER]);
        harmless(&[name, small, STEER, STEER]);
        harmless(&[name, small, "heron", STEER]);
        harmless(&[name, small, "heron", STEER, STEER]);
        harmless(&[name, small, "heron", out[0], out[1]]);
        harmless(&[name, small, out[0], out[1]]);
        for option in command.get_arguments().filter_map(clap::Arg::get_long) {
            // What may be written is written into this test's own folder.
            let typed = if option == "out" {
                home.join(STEER).to_str().unwrap().to_owned()
            } else {
                STEER.to_owned()
            };
            harmless(&[name, small, &format!("--{option}={typed}")]);
            harmless(&[name, small, "heron", &format!("--{option}={typed}")]);
        }
    }
    let out = home.join("out").to_str().unwrap().to_owned();
    let said = harmless(&["report", small, "--out", &out, "--templates", own]);
    assert!(said[1].contains("season\u{241b}"), "{}", said[1]);
    let _ = std::fs::remove_dir_all(home);
}
