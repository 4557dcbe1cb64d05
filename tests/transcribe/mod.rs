//! Sheets as lines: each case is a folder of `tests/fixtures/transcribe` with a sheet, its mapping, the lines and what is said, all written
//! by hand.

mod agreed;
mod cells;
mod dialects;
mod refused;

use crate::command::{Said, said_on};
use std::fs;
use std::path::{Path, PathBuf};

fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/transcribe")
}

fn book() -> String {
    fixtures().join("book").to_str().unwrap().to_owned()
}

/// What `transcribe` says of a sheet with its mapping.
fn transcribed(sheet: &Path, book: &str, mapping: &Path) -> Said {
    let words = ["transcribe", sheet.to_str().unwrap(), book, "--by", mapping.to_str().unwrap()];
    said_on(&words, 96, "2026-11-01T12:00:00Z")
}

/// A folder with the fixture's book, and what is pasted into it.
fn pasted(into: &Path, lines: &str) -> String {
    let folder = into.join("book");
    fs::create_dir_all(&folder).unwrap();
    fs::copy(fixtures().join("book/shop.sline"), folder.join("shop.sline")).unwrap();
    fs::write(folder.join("pasted.sline"), lines).unwrap();
    folder.to_str().unwrap().to_owned()
}

#[test]
fn a_sheet_is_lines_to_paste_and_a_second_time_nothing() {
    for case in ["stand", "winter", "newest"] {
        let folder = fixtures().join(case);
        let read = |name: &str| fs::read_to_string(folder.join(name)).unwrap();
        let (sheet, mapping) = (folder.join("sheet.csv"), folder.join("mapping.toml"));
        let said = transcribed(&sheet, &book(), &mapping);
        assert_eq!(said.out, read("lines.sline"), "{case}");
        let (ours, of_the_book): (Vec<&str>, Vec<&str>) =
            said.err.lines().partition(|line| !line.starts_with("line "));
        let ours = ours.join("\n").replace(sheet.to_str().unwrap(), "SHEET") + "\n";
        assert_eq!(ours, read("said.txt"), "{case}");
        assert!(of_the_book.iter().all(|line| !line.contains("error")), "{case}: {of_the_book:?}");
        assert_eq!(said.code == "0", ours.lines().count() == 1, "{case}");
        // Pasted, the book has all of it.
        let home = tempfile::tempdir().unwrap();
        let again = transcribed(&sheet, &pasted(home.path(), &said.out), &mapping);
        assert_eq!(again.out, "", "{case}: {}", again.err);
        assert!(
            again.err.contains(" 0 lines to paste, ") && again.err.contains(" in the book already"),
            "{case}: {}",
            again.err
        );
    }
}

/// A draft of a mapping can be handed in as it is once the car and the day are told.
#[test]
fn a_draft_is_a_mapping() {
    let sheet = fixtures().join("winter/sheet.csv");
    let draft = said_on(&["transcribe", sheet.to_str().unwrap(), &book()], 96, "2026-11-01T12:00:00Z");
    assert_eq!((draft.code.as_str(), draft.err.as_str()), ("0", ""));
    for line in [
        "\"Date\" = \"date\"",
        "\"Car\" = \"car\"",
        "\"Session\" = \"session\"",
        "\"Best lap\" = \"best\"",
        "\"Notes\" = \"note\"",
    ] {
        assert!(draft.out.lines().any(|said| said.starts_with(line)), "{line}: {}", draft.out);
    }
    assert!(draft.out.contains("# \"LF cold\" = \"\"  # 26.5  27"), "{}", draft.out);
    let home = tempfile::tempdir().unwrap();
    let mapping = home.path().join("winter.toml");
    fs::write(&mapping, &draft.out).unwrap();
    let said = transcribed(&sheet, &book(), &mapping);
    assert!(said.out.contains("  run q1  best 1:09.1\n"), "{}\n{}", said.out, said.err);
}

/// What the book says otherwise is left out and said; what only the sheet has of a session goes below its line.
#[test]
fn what_the_book_says_otherwise_is_said() {
    let home = tempfile::tempdir().unwrap();
    let folder = fixtures().join("stand");
    let lines = "2026-05-10 wren at pell-1\n  09:30 run s1  3 laps  by ned\n    laps 1:12.40 out-lap 1:08.42 1:07.80\n\
                 2026-05-13 wren\n  14:05 run s2  by orla\n";
    let said =
        transcribed(&folder.join("sheet.csv"), &pasted(home.path(), lines), &folder.join("mapping.toml"));
    assert_eq!(said.out, "");
    for wanted in [
        "`laps 1:12.40 out-lap 1:08.42 1:07.90` is left out: pasted.sline:3 says `laps 1:12.40 out-lap 1:08.42 1:07.80`",
        "`14:05 run s2  3 laps  by orla` is left out: pasted.sline:5 says `14:05 run s2  by orla`",
        "the book has the session (pasted.sline:5) without this; below its line goes `laps 1:09.00 1:08.80 1:15.11 in-lap`",
    ] {
        assert!(said.err.contains(wanted), "{wanted}\n{}", said.err);
    }
}

/// The reference shows the first case, word for word.
#[test]
fn the_reference_shows_a_case() {
    let page = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/sheets.md")).unwrap();
    for (fence, file) in
        [("csv sheet", "sheet.csv"), ("toml mapping", "mapping.toml"), ("text lines", "lines.sline")]
    {
        let shown = page.split(&format!("```{fence}\n")).nth(1).unwrap().split("```").next().unwrap();
        let file = fs::read_to_string(fixtures().join("stand").join(file)).unwrap();
        assert_eq!(shown, file.trim_start_matches('\u{FEFF}').replace("\r\n", "\n"), "{fence}");
    }
    for (word, ..) in stringline::transcribe::meaning::Word::ALL {
        assert!(page.contains(&format!("`{word}`")), "{word}");
    }
}

/// A setting of a session that the book has stands before that session or nowhere: pasted, it would come behind it, and undo what was set since.
#[test]
fn a_setting_of_a_session_that_the_book_has_is_no_line_to_paste() {
    let home = tempfile::tempdir().unwrap();
    let (sheet, mapping) = (home.path().join("sheet.csv"), home.path().join("by.toml"));
    fs::write(
        &mapping,
        "[columns]\nDate = \"date\"\nCar = \"car\"\nSession = \"session\"\nCamber = \"set camber LF deg\"\nMin = \"minutes\"\n",
    )
    .unwrap();
    fs::write(
        &sheet,
        "Date,Car,Session,Camber,Min\n3 Apr 2026,Wren,q1,-3.0,12\n3 Apr 2026,Wren,q2,-2.5,12\n3 Apr 2026,Wren,q3,-2.0,12\n",
    )
    .unwrap();
    let told = "the book has the session (pasted.sline:2) without this; above its line goes `set camber LF -3.0 deg`";
    // Never pasted, and pasted behind its session, where the next has another.
    for (book, lines) in [
        (
            "2026-04-03 wren\n  run q1  12 min\n  set camber LF -2.5 deg\n  run q2  12 min\n",
            "2026-04-03 wren\n  set camber LF -2.0 deg\n  run q3  12 min\n",
        ),
        (
            "2026-04-03 wren\n  run q1  12 min\n  set camber LF -3.0 deg\n  set camber LF -2.5 deg\n  run q2  12 min\n\
             \x20 set camber LF -2.0 deg\n  run q3  12 min\n",
            "",
        ),
    ] {
        let said = transcribed(&sheet, &pasted(home.path(), book), &mapping);
        assert_eq!(said.out, lines, "{}", said.err);
        assert!(said.err.contains(told), "{}", said.err);
    }
}
