//! A book at a revision is the book as its folder lay then, byte for byte: a copy of the folder says the same.

use crate::command::said_on;
use std::fs;
use std::path::Path;
use std::process::Command;

const NOW: &str = "2025-06-20T12:00:00Z";

fn git(folder: &Path, words: &[&str]) {
    let who = ["-c", "user.name=A", "-c", "user.email=a@example.org", "-c", "core.autocrlf=false"];
    let done = Command::new("git").arg("-C").arg(folder).args(who).args(words).output().unwrap();
    assert!(done.status.success(), "{words:?}: {}", String::from_utf8_lossy(&done.stderr));
}

/// What everything says of a book, told from where.
fn told(book: &Path, more: &[&str]) -> Vec<String> {
    let book = book.to_str().unwrap();
    let all: [&[&str]; 6] = [
        &["check", book],
        &["check", book, "--format", "json"],
        &["state", book, "wren", "--format", "json"],
        &["diff", book, "wren", "2025-04-01", "2025-05-01"],
        &["trace", book, "wren", "total-weight"],
        &["costs", book],
    ];
    all.iter()
        .map(|words| {
            let said = said_on(&[words, more].concat(), 96, NOW);
            format!("{}\n{}\n{}", said.code, said.out, said.err)
        })
        .collect()
}

/// Ten evenings of edits: files with another line ending, a mark, bytes that are no text, a name of another alphabet; files that are no
/// ledger; one renamed, one removed.
#[test]
fn a_revision_is_the_folder_of_that_day() {
    let home = tempfile::tempdir().unwrap();
    let top = home.path().join("shop");
    let book = top.join("ledgers/2025");
    fs::create_dir_all(book.join("out")).unwrap();
    fs::create_dir_all(book.join("Züge")).unwrap();
    git(home.path(), &["init", "-q", "shop"]);
    let put = |name: &str, bytes: &[u8]| fs::write(book.join(name), bytes).unwrap();
    put("cars.sline", b"car wren \"Wren\"\n");
    put("out/left.sline", b"nonsense\n");
    put(".swap.sline", b"nonsense\n");
    put("notes.txt", b"nonsense\n");
    let evenings: [(&str, &[u8]); 8] = [
        ("wren.sline", b"2025-04-01 wren\n  left weight 250 251 240 242 kg  with driver 80 kg, fuel 10 L\n"),
        (
            "wren.sline",
            b"2025-04-01 wren\r\n  left weight 250 252 240 242 kg  with driver 80 kg, fuel 10 L\r\n",
        ),
        ("Züge/mai.sline", b"\xEF\xBB\xBF2025-05-01 wren\n  set camber -2 -2 -1 -1 deg\n"),
        ("bad.sline", b"2025-05-02 wren\n  | a note with \xFF in it\n"),
        ("UPPER.SLINE", b"2025-05-03 wren\n  set camber LF -3 -> -4 deg\n"),
        ("wren.sline", b"2025-04-01 wren\n  left weight 250 251 240 kg\n"),
        ("bad.sline", b""),
        ("wren.sline", b"2025-04-01 wren\n  read tyre-cold all 1.4 bar\n"),
    ];
    let mut days = Vec::new();
    for (day, (name, bytes)) in evenings.into_iter().enumerate() {
        put(name, bytes);
        if day == 6 {
            fs::remove_file(book.join("UPPER.SLINE")).unwrap();
            fs::rename(book.join("bad.sline"), book.join("good.sline")).unwrap();
        }
        git(&top, &["add", "-A"]);
        git(&top, &["commit", "-q", "-m", "evening"]);
        git(&top, &["tag", &format!("day-{day}")]);
        let said = told(&book, &[]);
        days.push((format!("day-{day}"), said));
    }
    for (day, said) in &days {
        assert_eq!(&told(&book, &["--rev", day]), said, "{day}");
    }
    assert!(days.windows(2).all(|two| two[0].1 != two[1].1), "every evening is told from the one before");
    // What lies in the folder and was not committed is of no revision.
    put("wren.sline", b"nonsense\n");
    assert_eq!(&told(&book, &["--rev", "HEAD"]), &days[7].1);
}

#[test]
fn what_git_does_not_have_is_said() {
    let home = tempfile::tempdir().unwrap();
    let book = home.path().join("shop");
    let of = |named: &str, book: &Path| {
        let said = said_on(&["check", book.to_str().unwrap(), "--rev", named], 96, NOW);
        assert_eq!((said.code.as_str(), said.out.as_str()), ("2", ""), "{named}");
        said.err
    };
    fs::create_dir_all(&book).unwrap();
    fs::write(book.join("a.sline"), "car wren \"Wren\"\n").unwrap();
    assert!(of("HEAD", &book).contains("is in no git repository"));
    git(home.path(), &["init", "-q", "shop"]);
    assert!(of("HEAD", &book).contains("has no revision `HEAD`"));
    fs::create_dir_all(book.join("empty")).unwrap();
    git(&book, &["add", "-A"]);
    git(&book, &["commit", "-q", "-m", "first"]);
    for named in ["none", "HEAD~1", "", "-h", "HEAD:a.sline", "--all"] {
        let words = format!("--rev={named}");
        let said = said_on(&["check", book.to_str().unwrap(), &words], 96, NOW);
        assert_eq!((said.code.as_str(), said.out.as_str()), ("2", ""), "{named}");
        assert!(said.err.contains("has no revision"), "{named}: {}", said.err);
    }
    assert!(of("HEAD", &book.join("empty")).contains("there is no ledger in"));
    assert!(of("HEAD", &book.join("nowhere")).contains("there is no folder"));
}
