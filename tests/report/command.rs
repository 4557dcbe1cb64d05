//! `stringline report` on a real disk: what it writes, what it says, how it ends.

use crate::command::said_on;
use std::path::{Path, PathBuf};
use stringline::command::{output::Output, run};

/// Runs the command; exit code's debug form, results, messages.
pub fn report(arguments: &[&str]) -> (String, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let arguments = ["stringline", "report"].iter().chain(arguments).map(std::ffi::OsString::from);
    let now = Some("2026-12-01T12:00:00Z".parse().unwrap());
    let code = run(
        arguments,
        &mut Output {
            out: &mut out,
            err: &mut err,
            color: false,
            terminal: false,
            quiet: false,
            width: 100,
            now,
        },
    );
    (format!("{code:?}"), String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

pub fn ends(code: u8) -> String {
    format!("{:?}", std::process::ExitCode::from(code))
}

/// A fresh folder with a book in it.
pub fn folder(name: &str, book: &str) -> (PathBuf, String) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("report").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("a.sline"), book).unwrap();
    let typed = folder.display().to_string();
    (folder, typed)
}

#[test]
fn pages_are_written_whole_into_a_folder_that_is_made() {
    let (folder, book) = folder("clean", "car a \"A\"\n2026-05-01 a\n  set wing-angle 5 deg\n");
    let out = folder.join("deep/er");
    for _ in 0..2 {
        let (code, said, _) = report(&[&book, "--out", &out.display().to_string()]);
        assert_eq!(code, ends(0));
        assert!(said.starts_with("6 pages written, starting at "), "{said}");
    }
    let mut names: Vec<_> = std::fs::read_dir(&out)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(
        names,
        [
            ".stringline-pages",
            "a-2026.html",
            "a-alignment.html",
            "a-now.html",
            "a-spares.html",
            "index.html",
            "lacks.html"
        ]
    );
    let (_, json, _) = report(&[&book, "--out", &out.display().to_string(), "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["pages"].as_array().unwrap().len(), 6);
}

/// When a file was last written, in a form that tells two writes apart.
fn written(path: &Path) -> std::time::SystemTime {
    std::fs::metadata(path).unwrap().modified().unwrap()
}

#[test]
fn only_pages_whose_content_changed_are_written_again() {
    let book = "car a \"A\"\ncar b \"B\"\n2026-05-01 a\n  set wing-angle 5 deg\n2025-05-01 b\n  set wing-angle 5 deg\n";
    let (folder, typed) = folder("again", book);
    let out = folder.join("out");
    let old = std::time::SystemTime::UNIX_EPOCH + std::time::Duration::from_secs(1_000_000_000);
    let names = ["index.html", "a-2026.html", "b-2025.html"];
    let run = || report(&[&typed, "--out", &out.display().to_string()]);
    let age = || {
        for name in names {
            std::fs::File::options().write(true).open(out.join(name)).unwrap().set_modified(old).unwrap();
        }
    };
    run();
    age();
    run();
    assert!(names.iter().all(|name| written(&out.join(name)) == old));
    std::fs::write(
        folder.join("a.sline"),
        book.replace("2026-05-01 a\n  set wing-angle 5", "2026-05-01 a\n  set wing-angle 6"),
    )
    .unwrap();
    run();
    assert!(written(&out.join("a-2026.html")) > old);
    assert!(std::fs::read_to_string(out.join("a-2026.html")).unwrap().contains("wing angle"));
}

#[test]
fn a_book_with_errors_is_written_and_ends_with_one() {
    let (folder, book) = folder("broken", "car a \"A\"\n2026-05-01 a\n  set wing-angle 5\n");
    let (code, _, said) = report(&[&book, "--out", &folder.join("out").display().to_string()]);
    assert_eq!(code, ends(1));
    assert!(said.contains("a.sline:3"), "{said}");
    assert!(folder.join("out/a-2026.html").exists());
}

#[test]
fn what_cannot_be_done_is_said_and_ends_with_two() {
    let (folder, book) = folder("refused", "car bittern \"B\"\n2026-05-01 bittern\n  set wing-angle 5 deg\n");
    let file = folder.join("a.sline").display().to_string();
    let out = folder.join("out").display().to_string();
    for (arguments, said) in [
        (vec![book.as_str(), "--out", &file], "cannot make the folder"),
        (vec![&book, "--out", &out, "--car", "bitern"], "did you mean `bittern`?"),
        (vec![&book, "--out", &out, "--season", "1999"], "no line of the year 1999"),
        (vec!["/there/is/no/such", "--out", &out], "no folder"),
        (vec![&book], "--out"),
    ] {
        let (code, _, message) = report(&arguments);
        assert_eq!(code, ends(2), "{arguments:?}");
        assert!(message.contains(said), "{arguments:?}: {message}");
    }
    assert!(!Path::new(&out).exists());
}

#[test]
fn a_page_that_cannot_be_put_costs_only_itself() {
    let book = "car a \"A\"\ncar b \"B\"\n2026-05-01 a\n  set wing-angle 5 deg\n2026-05-01 b\n  set wing-angle 5 deg\n";
    let (folder, book) = folder("half", book);
    let out = folder.join("out");
    // Half full: a folder stands where a page should be, and an older page lies about.
    std::fs::create_dir_all(out.join("a-2026.html/x")).unwrap();
    std::fs::write(out.join("b-2026.html"), "old").unwrap();
    let (code, said, message) = report(&[&book, "--out", &out.display().to_string()]);
    assert_eq!(code, ends(2));
    assert!(said.starts_with("9 pages written"), "{said}");
    assert!(message.contains("missing or as before: a-2026.html"), "{message}");
    assert_eq!(message.lines().count(), 1, "{message}");
    assert!(std::fs::read_to_string(out.join("b-2026.html")).unwrap().ends_with("</html>"));
    assert!(out.join("index.html").exists());
    let names = std::fs::read_dir(&out).unwrap().count();
    assert_eq!(names, 11, "nothing but the list of pages is left behind");
}

/// A report for a client about somebody else's car is refused in the words that `state` has for it, and nothing is written.
#[test]
fn a_car_of_somebody_else_is_refused() {
    let book = "client orr \"Orr\"\nclient lisk \"Lisk\"\ncar heron \"Heron\"  client orr\ncar wren \"Wren\"  client lisk\n\
                2026-05-01 heron\n  set wing-angle 5 deg\n2026-05-01 wren\n  set wing-angle 6 deg\n";
    let (folder, book) = folder("not-his", book);
    let out = folder.join("out").display().to_string();
    let report = |car: &str| {
        let (code, said, message) = report(&[&book, "--out", &out, "--for", "orr", "--car", car]);
        (code == ends(2), said, message)
    };
    let state = |car: &str| {
        let said = said_on(&["state", &book, car, "--for", "orr"], 100, "2026-12-01T12:00:00Z");
        (said.code == "2", said.out, said.err)
    };
    let not_his = "stringline: `wren` is not a car of the client named after `--for`\n";
    let none = "stringline: no car is called `nobody`; the book has heron\n";
    for (car, message) in [("wren", not_his), ("nobody", none)] {
        assert_eq!(report(car), (true, String::new(), message.to_owned()));
        assert_eq!(state(car), report(car));
    }
    assert!(!Path::new(&out).exists());
    assert!(report("heron").1.contains(" pages written"));
}

#[test]
fn a_car_without_lines_or_without_events_has_its_say() {
    let (folder, book) = folder("empty", "car a \"A\"\ncar b \"B\"\n2026-05-01 b\n  set wing-angle 5 deg\n");
    let out = folder.join("out");
    let (code, _, message) = report(&[&book, "--out", &out.display().to_string()]);
    assert_eq!((code, message.as_str()), (ends(0), ""));
    let index = std::fs::read_to_string(out.join("index.html")).unwrap();
    assert_eq!(index.matches("No dated line of the book is about this car yet.").count(), 1);
    let page = std::fs::read_to_string(out.join("b-2026.html")).unwrap();
    assert!(page.contains("No session in the book this year."));
    let (code, _, message) =
        report(&[&book, "--out", &out.display().to_string(), "--car", "a", "--season", "2026"]);
    assert_eq!(code, ends(2));
    assert!(message.contains("the book has no line of the year 2026 about a"), "{message}");
}

#[test]
fn progress_is_told_after_a_second_and_not_too_often() {
    use std::time::Duration;
    let mut work = stringline::command::progress::Progress::begin();
    assert!(!work.drawn());
    let mut at = |milliseconds| work.step_at(Duration::from_millis(milliseconds), 900, "pages");
    assert_eq!((at(0), at(999)), (None, None));
    assert_eq!(at(1000).as_deref(), Some("3 of 900 pages"));
    assert_eq!(at(1199), None);
    assert_eq!(at(1200).as_deref(), Some("5 of 900 pages"));
    assert!(work.drawn());
}
