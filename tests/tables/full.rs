//! A disk that is too small, and a folder that may not be written: said in a sentence, and nothing lost.

#![cfg(target_os = "linux")]

use std::path::Path;
use std::process::Command;

fn limited(kib: usize, out: &Path) -> (Option<i32>, String) {
    let program = env!("CARGO_BIN_EXE_stringline");
    let script = format!(
        "trap '' XFSZ; ulimit -c 0; ulimit -f {kib}; exec '{program}' tables tests/fixtures/command/money --out '{}'",
        out.display()
    );
    let done = Command::new("bash").args(["-c", &script]).output().unwrap();
    (done.status.code(), String::from_utf8_lossy(&done.stderr).into_owned())
}

#[test]
fn a_disk_too_small_keeps_what_was_there() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tables-limit");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    for name in ["book.db", "files"] {
        let out = folder.join(name);
        let (code, err) = limited(100_000, &out);
        assert_eq!(code, Some(0), "{err}");
        let read = |path: &Path| std::fs::read(path).unwrap();
        let file = if name == "files" { out.join("postings.csv") } else { out.clone() };
        let before = read(&file);
        // Another program's bytes stand there: what is too large is not put in its place.
        let (code, err) = limited(1, &out);
        assert_eq!(code, Some(2), "{err}");
        assert!(err.starts_with("stringline: cannot write ") && err.contains("as "), "{err}");
        assert!(read(&file) == before);
        let there = std::fs::read_dir(&folder)
            .unwrap()
            .chain(std::fs::read_dir(if name == "files" { &out } else { &folder }).unwrap());
        assert!(
            there.map(|one| one.unwrap().file_name()).all(|one| !one.to_string_lossy().ends_with(".part"))
        );
    }
}
