//! What could keep a reader waiting for ever: pipes, devices and templates that go round. Each ends in a message.

use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use stringline::command::{output::Output, run};

const BOOK: &str = "car a \"A\"\n2026-05-01 a\n  set wing-angle 5 deg\n";

fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("stringline-pipes-{}-{name}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(folder.join("book")).unwrap();
    std::fs::create_dir_all(folder.join("own")).unwrap();
    std::fs::write(folder.join("book/a.sline"), BOOK).unwrap();
    folder
}

/// A named pipe that nobody writes to.
fn pipe(path: &Path) {
    assert!(std::process::Command::new("mkfifo").arg(path).status().unwrap().success());
}

/// Exit code, results, messages.
fn said(words: &[&str]) -> (String, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run(
        std::iter::once("stringline").chain(words.iter().copied()).map(std::ffi::OsString::from),
        &mut Output {
            out: &mut out,
            err: &mut err,
            color: false,
            terminal: false,
            quiet: false,
            width: 200,
            now: Some(super::now()),
        },
    );
    (format!("{code:?}"), String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

fn ends(code: u8) -> String {
    format!("{:?}", ExitCode::from(code))
}

#[test]
fn a_pipe_among_the_ledgers_is_named_and_the_others_are_read() {
    let folder = folder("ledger");
    pipe(&folder.join("book/x.sline"));
    symlink("/dev/zero", folder.join("book/z.sline")).unwrap();
    let (_, out, err) = said(&["check", folder.join("book").to_str().unwrap(), "--format", "short"]);
    for name in ["x.sline", "z.sline"] {
        assert!((out.clone() + &err).contains(name), "{out}{err}");
    }
    let (_, out, _) = said(&["state", folder.join("book").to_str().unwrap(), "a"]);
    assert!(out.contains("wing-angle   asked  5 deg"), "{out}");
}

#[test]
fn a_pipe_or_a_device_is_no_book() {
    let folder = folder("book");
    pipe(&folder.join("p.sline"));
    symlink("/dev/zero", folder.join("z.sline")).unwrap();
    for path in [folder.join("p.sline"), folder.join("z.sline"), PathBuf::from("/dev/zero")] {
        let (code, _, err) = said(&["check", path.to_str().unwrap()]);
        assert!(code == ends(2) && err.contains("is neither a folder nor a .sline file"), "{err}");
    }
}

/// Runs the report with the folder's own templates.
fn report(folder: &Path) -> (String, String, String) {
    let path = |name: &str| folder.join(name).to_str().unwrap().to_owned();
    said(&["report", &path("book"), "--out", &path("out"), "--templates", &path("own")])
}

#[test]
fn only_ordinary_files_are_templates() {
    type Make = fn(&Path);
    let make: [(&str, Make, &str); 6] = [
        ("pipe", |path| pipe(path), "it is no ordinary file"),
        ("device", |path| symlink("/dev/zero", path).unwrap(), "it is no ordinary file"),
        (
            "to-pipe",
            |path| {
                pipe(&path.with_file_name(".hidden"));
                symlink(".hidden", path).unwrap();
            },
            "it is no ordinary file",
        ),
        // Sparse: takes no room on disk.
        (
            "large",
            |path| std::fs::File::create(path).unwrap().set_len(5 << 20).unwrap(),
            "it is larger than 4 MiB",
        ),
        // The last byte that is read is the first of three.
        (
            "cut",
            |path| std::fs::write(path, "x".repeat(4 << 20) + "\u{2013}").unwrap(),
            "it is larger than 4 MiB",
        ),
        ("bytes", |path| std::fs::write(path, b"caf\xE9").unwrap(), "it is not all UTF-8"),
    ];
    for (name, make, words) in make {
        let folder = folder(name);
        make(&folder.join("own/season.html"));
        let (code, _, err) = report(&folder);
        assert!(code == ends(2) && err.contains("season.html") && err.contains(words), "{name}: {err}");
    }
    let folder = folder("link");
    std::fs::write(folder.join("mine.txt"), "<p>ours</p>").unwrap();
    symlink(folder.join("mine.txt"), folder.join("own/season.html")).unwrap();
    let (code, _, err) = report(&folder);
    assert_eq!((code, err), (ends(0), String::new()));
    assert_eq!(std::fs::read_to_string(folder.join("out/a-2026.html")).unwrap(), "<p>ours</p>");
}

/// Our own templates as a shop's: no honest page comes near the limit, and no page is another for being watched.
#[test]
fn an_honest_template_is_not_stopped() {
    let folder = folder("honest");
    let own = folder.join("own");
    std::fs::remove_dir_all(&own).unwrap();
    copy(Path::new("report-templates"), &own);
    let path = |name: &str| folder.join(name).to_str().unwrap().to_owned();
    let book = ["report", "ledgers/2026", "--car", "curlew", "--out"];
    let (_, _, err) = said(&[&book[..], &[&path("out"), "--templates", &path("own")]].concat());
    assert!(!err.contains("goes on"), "{err}");
    said(&[&book[..], &[path("ours").as_str()]].concat());
    let pages = |name: &str| -> Vec<(std::ffi::OsString, Vec<u8>)> {
        let entries = std::fs::read_dir(folder.join(name)).unwrap().map(Result::unwrap);
        let mut pages: Vec<_> = entries
            .filter(|one| one.path().is_file())
            .map(|one| (one.file_name(), std::fs::read(one.path()).unwrap()))
            .filter(|(name, _)| !name.to_str().unwrap().starts_with('.'))
            .collect();
        pages.sort();
        pages
    };
    assert!(pages("out").len() > 3 && pages("out") == pages("ours"));
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let to = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy(&path, &to);
        } else {
            std::fs::copy(&path, &to).unwrap();
        }
    }
}

#[test]
fn a_template_that_goes_round_is_stopped_with_its_line() {
    let nested = "\n{% for a in range(9999) %}{% for b in range(9999) %}{% for c in range(9999) %}\n{{ c }}\n{% endfor %}{% endfor %}{% endfor %}";
    for (name, season) in [("nested", nested), ("itself", "\n{% include \"season.html\" %}")] {
        let folder = folder(name);
        std::fs::write(folder.join("own/season.html"), season).unwrap();
        let (code, _, err) = report(&folder);
        assert_eq!(code, ends(2), "{name}: {err}");
        let place = folder.join("own/season.html").display().to_string();
        let line = err.lines().find(|line| line.contains(&place)).unwrap_or_else(|| panic!("{name}: {err}"));
        assert!(line.contains("season.html:2") || line.contains("season.html:3"), "{line}");
        assert!(folder.join("out/index.html").exists());
    }
}
