//! Output that cannot be written ends with 2 and a message, in every command and format; a closed pipe stays quiet.
//!
//! The commands and their formats are asked of the program, so that a new one without a line here fails.

use super::{Folder, STRINGLINE, ended, stringline};
use std::collections::BTreeMap;
use std::fs::File;
use std::process::Stdio;

const BOOK: &str = "tests/fixtures/command/book";

/// How each command is run so that it prints something.
fn runs(folder: &Folder) -> BTreeMap<&'static str, Vec<String>> {
    let out = folder.0.join("pages").display().to_string();
    let tables = folder.0.join("tables").display().to_string();
    [
        ("check", vec!["tests/fixtures/command/broken"]),
        ("state", vec![BOOK, "heron"]),
        ("diff", vec![BOOK, "heron", "pell-1/start", "pell-1/end"]),
        ("rules", vec![BOOK, "heron"]),
        ("altered", vec![BOOK, "--since", "tests/fixtures/command/broken"]),
        ("back-to-back", vec![BOOK, "heron"]),
        ("worth", vec!["tests/fixtures/worth", "heron"]),
        ("costs", vec![BOOK]),
        ("trace", vec![BOOK, "heron", "cross-weight"]),
        ("due", vec![BOOK, "--before", "pell-2"]),
        ("lives", vec![BOOK, "coupling"]),
        ("sheet", vec![BOOK, "heron", "pell-1"]),
        ("load", vec![BOOK, "pell-1"]),
        ("report", vec![BOOK, "--out", &out]),
        ("tables", vec![BOOK, "--out", &tables]),
        ("handover", vec![BOOK, "heron"]),
        ("why", vec!["unit-missing"]),
        ("blank", vec![BOOK, "heron"]),
        ("transcribe", vec!["tests/fixtures/transcribe/stand/sheet.csv", BOOK]),
        ("format", vec![BOOK, "--check"]),
    ]
    .map(|(name, words)| (name, words.into_iter().map(str::to_owned).collect()))
    .into()
}

/// Every way to run every command: each format that it names.
fn every(folder: &Folder) -> Vec<Vec<String>> {
    let help = |words: &[&str]| ended(&stringline(words).output().unwrap()).1;
    let mut runs = runs(folder);
    let mut all = vec![vec!["--help".to_owned()], vec!["--version".to_owned()]];
    let commands = help(&["--help"]);
    let list = commands.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    for command in list.lines().filter_map(|line| line.split_whitespace().next()) {
        // It says nothing until a client speaks: `editor::conversation`. The other two have no formats: `command::begun`.
        // `board` goes on until it is ended: `board::live`.
        if ["editor", "begin", "manual", "board"].contains(&command) {
            continue;
        }
        let words = runs.remove(command).unwrap_or_else(|| panic!("no case for the command {command}"));
        let help = help(&[command, "--help"]);
        let help = without_color(&help);
        if !help.contains("--format <") {
            all.push([&[command.to_owned()], words.as_slice()].concat());
            continue;
        }
        let values = help.split("--format <").nth(1).map_or("", |rest| rest.split("--quiet").next().unwrap());
        // `- json:  For programs`, or `[possible values: text, json]` where the values say nothing of themselves.
        let listed = values.lines().filter_map(|line| line.trim().strip_prefix("- "));
        let mut formats: Vec<String> =
            listed.filter_map(|line| Some(line.split_once(':')?.0.to_owned())).collect();
        if let Some(short) = values.split("[possible values: ").nth(1) {
            formats.extend(short.split(']').next().unwrap().split(", ").map(str::to_owned));
        }
        assert!(formats.len() >= 2, "{command}: {formats:?} of {values}");
        for format in formats {
            let run = [&[command.to_owned()], words.as_slice(), &["--format".to_owned(), format]].concat();
            all.push(run);
        }
    }
    assert!(runs.is_empty(), "no such command: {runs:?}");
    all
}

/// A command's help without when to colour, which is no format.
fn without_color(help: &str) -> String {
    let (before, rest) = help.split_once("--color <WHEN>").unwrap();
    let (_, after) = rest.split_once("[default: auto]").unwrap();
    before.to_owned() + after
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_said_in_every_command_and_format() {
    let folder = Folder::new("full-out");
    let all = every(&folder);
    assert!(all.len() > 30, "{all:?}");
    for words in all {
        let full = || Stdio::from(File::options().write(true).open("/dev/full").unwrap());
        let (code, _, said) = ended(&stringline(&words).stdout(full()).output().unwrap());
        assert_eq!(code, Some(2), "{words:?}: {said}");
        let reason = "stringline: the result could not be written whole: no space left on device\n";
        assert!(said.ends_with(reason), "{words:?}: {said}");
        // With no reader for messages either, the code still says it.
        let lost = stringline(&words).stdout(full()).stderr(full()).output().unwrap();
        assert_eq!(lost.status.code(), Some(2), "{words:?}");
    }
    // What `check` has to say for people are messages.
    let full = File::options().write(true).open("/dev/full").unwrap();
    let lost = stringline(["check", "tests/fixtures/command/broken"]).stderr(full).output().unwrap();
    assert_eq!(lost.status.code(), Some(2));
}

#[cfg(unix)]
#[test]
fn a_closed_pipe_stays_quiet_and_changes_no_code() {
    let folder = Folder::new("closed-pipe");
    for words in every(&folder) {
        let (open, _, messages) = ended(&stringline(&words).output().unwrap());
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let (closed, _, said) = ended(&stringline(&words).stdout(writer).output().unwrap());
        assert_eq!(closed, open, "{words:?}");
        assert_eq!(said, messages, "{words:?}");
    }
}

#[cfg(unix)]
#[test]
fn a_result_cut_short_by_a_limit_is_said() {
    // 64 blocks of 1024 bytes at most (POSIX `ulimit -f` counts 512, bash 1024); the demo's JSON is larger.
    let folder = Folder::new("cut-short");
    let out = folder.0.join("out.json");
    let run = |words: &str| {
        let script = format!("trap '' XFSZ; ulimit -f 64; exec '{STRINGLINE}' {words} > '{}'", out.display());
        ended(&std::process::Command::new("bash").args(["-c", &script]).output().unwrap())
    };
    let (code, _, said) = run("lives ledgers/2026 --format json");
    let written = std::fs::metadata(&out).unwrap().len();
    assert!(written > 0 && written <= 64 * 1024, "{written}");
    assert_eq!(
        (code, said.as_str()),
        (Some(2), "stringline: the result could not be written whole: file too large\n")
    );
    // Shorter than the limit, it arrives.
    let (code, _, said) = run("why unit-missing --format json");
    assert_eq!((code, said.as_str()), (Some(0), ""));
}

/// Lines on standard input are a book; with `--strict` a warning fails.
#[test]
fn what_is_handed_in_is_checked() {
    use std::io::Write as _;
    let said = |words: &[&str], text: &[u8]| {
        let mut child = std::process::Command::new(super::STRINGLINE)
            .args(words)
            .stdin(std::process::Stdio::piped())
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::piped())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(text).unwrap();
        let done = child.wait_with_output().unwrap();
        (done.status.code(), String::from_utf8(done.stdout).unwrap())
    };
    let book = b"car wren \"Wren\"\n\n2025-05-01 wren\n  set camber LF -2 RF -2 LR -1 RR -1 deg\n";
    assert_eq!(said(&["check", "-", "--format", "short"], book), (Some(0), String::new()));
    let (code, text) = said(&["check", "-", "--format", "short"], b"car wren \"Wren\"\n\n2025-05-01 wrenn\n");
    assert!(code == Some(1) && text.starts_with("-:3:12: error[name-unknown]"), "{text}");
    let odd = [book.as_slice(), b"  | \xFF\n"].concat();
    let (code, text) = said(&["check", "-", "--format", "short"], &odd);
    assert!(code.is_some() && text.contains("-:5:"), "{text}");
    let warned = [book.as_slice(), b"  left weight 250 250 250 250 kg\n"].concat();
    let (code, text) = said(&["check", "-", "--format", "short"], &warned);
    assert!(code == Some(0) && text.contains("condition-missing"), "{text}");
    assert_eq!(said(&["check", "-", "--strict", "--format", "short"], &warned).0, Some(1));
}
