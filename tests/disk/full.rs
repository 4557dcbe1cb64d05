//! Full disks: a limit of file size, which needs no rights, and a small disk in memory, where it may be mounted.

#![cfg(target_os = "linux")]

use super::{Folder, STRINGLINE, asked, ended, leavings, left_out, names, said};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Runs the program with files of at most so many KiB. With the signal ignored, a write beyond that is an error; without, the
/// system ends the run there.
fn limited(ignored: bool, kib: usize, words: &str) -> (Option<i32>, String, String) {
    let trap = if ignored { "trap '' XFSZ; " } else { "" };
    let script = format!("{trap}ulimit -c 0; ulimit -f {kib}; exec '{STRINGLINE}' {words}");
    ended(&Command::new("bash").args(["-c", &script]).output().unwrap())
}

#[test]
fn a_ledger_too_large_for_the_disk_is_left_and_the_others_go_on() {
    let folder = Folder::new("limit-format");
    let big = format!("car wren   \"Wren\"\n2025-05-10   wren\n{}", "  |  a note\n".repeat(4000));
    let large = folder.file("a.sline", &big);
    let small = folder.file("b.sline", "car heron   \"Heron\"\n");
    let (code, _, err) = limited(true, 16, &format!("format '{}'", folder.0.display()));
    assert_eq!(code, Some(2));
    assert_eq!(err, "stringline: `a.sline` could not be written: file too large; it is left as it is.\n");
    assert_eq!(fs::read_to_string(&large).unwrap(), big);
    assert_eq!(fs::read_to_string(&small).unwrap(), "car heron \"Heron\"\n");
    assert_eq!(leavings(&folder.0), [] as [PathBuf; 0]);
    // Ended in the middle of the write: the next run clears up behind it.
    let (code, _, _) = limited(false, 16, &format!("format '{}'", folder.0.display()));
    assert_eq!(code, None);
    assert_eq!(fs::read_to_string(&large).unwrap(), big);
    assert_eq!(leavings(&folder.0).len(), 1);
    assert_eq!(said([Path::new("format"), &folder.0]).0, Some(0));
    assert_eq!(names(&folder.0), ["a.sline", "b.sline"]);
}

#[test]
fn pages_too_large_for_the_disk_are_named_and_the_rest_is_whole() {
    let folder = Folder::new("limit-report");
    let (out, clean) = (folder.0.join("out"), folder.0.join("clean"));
    let report = |out: &Path| said(["report", "tests/fixtures/command/book", "--out", out.to_str().unwrap()]);
    assert_eq!(report(&clean).0, Some(0));
    let size = |name: &std::ffi::OsString| fs::metadata(clean.join(name)).unwrap().len();
    let mut sizes: Vec<u64> = names(&clean).iter().map(size).collect();
    sizes.sort_unstable();
    let middle = usize::try_from(sizes[sizes.len() / 2] / 1024).unwrap();
    for ignored in [true, false] {
        let _ = fs::remove_dir_all(&out);
        let words = format!("report tests/fixtures/command/book --out '{}'", out.display());
        let (code, _, err) = limited(ignored, middle, &words);
        if ignored {
            assert_eq!(code, Some(2), "{err}");
            assert!(err.contains("file too large; missing or as before: "), "{err}");
            assert_eq!(leavings(&out), [] as [PathBuf; 0]);
        } else {
            assert_eq!(code, None);
        }
        for name in names(&out) {
            if name.to_string_lossy().ends_with(".html") {
                assert_eq!(
                    fs::read(out.join(&name)).unwrap(),
                    fs::read(clean.join(&name)).unwrap(),
                    "{name:?}"
                );
            }
        }
        assert!(names(&out).len() < names(&clean).len());
        assert_eq!(report(&out).0, Some(0));
        assert_eq!(names(&out), names(&clean));
    }
}

/// A small disk in memory, unmounted at the end.
struct Small(PathBuf);

impl Small {
    /// `None`, said aloud, where none may be mounted.
    fn mount(at: &Path, kib: usize) -> Option<Self> {
        fs::create_dir_all(at).unwrap();
        let small = Self(at.to_owned());
        if small.size("", kib) {
            return Some(small);
        }
        std::mem::forget(small);
        left_out("full disks (a tmpfs may not be mounted here)");
        None
    }

    fn size(&self, remount: &str, kib: usize) -> bool {
        let options = format!("{remount}size={kib}k");
        let mount = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &options, "stringline-test"])
            .arg(&self.0)
            .output();
        mount.is_ok_and(|done| done.status.success())
    }
}

impl Drop for Small {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.0).output();
    }
}

#[test]
fn format_on_a_full_disk_loses_nothing() {
    if !asked("format on a full disk") {
        return;
    }
    let folder = Folder::new("full-format");
    let Some(disk) = Small::mount(&folder.0.join("disk"), 256) else { return };
    let text = |index: usize| {
        format!("car car-{index}   \"C\"\n2025-05-10   car-{index}\n{}", "  |  a note\n".repeat(1000))
    };
    for index in 0..8 {
        fs::write(disk.0.join(format!("c{index}.sline")), text(index)).unwrap();
    }
    // Full to the last page.
    let mut filler = fs::File::create(disk.0.join("filler")).unwrap();
    while std::io::Write::write(&mut filler, &[0; 4096]).is_ok_and(|written| written > 0) {}
    drop(filler);
    let (code, out, err) = said([Path::new("format"), &disk.0]);
    assert_eq!(code, Some(2));
    assert!(
        err.starts_with("stringline: `c0.sline` could not be written: no space left on device;"),
        "{err}"
    );
    assert_eq!((err.lines().count(), out.as_str()), (8, "0 of 8 files changed, 8 left that would change\n"));
    for index in 0..8 {
        assert_eq!(fs::read_to_string(disk.0.join(format!("c{index}.sline"))).unwrap(), text(index));
    }
    assert_eq!(leavings(&disk.0), [] as [PathBuf; 0]);
    fs::remove_file(disk.0.join("filler")).unwrap();
    assert_eq!(said([Path::new("format"), &disk.0]).0, Some(0));
}

#[test]
fn a_report_on_a_full_disk_says_so_and_the_next_run_is_right() {
    if !asked("a report on a full disk") {
        return;
    }
    let folder = Folder::new("full-report");
    let clean = folder.0.join("clean");
    let report = |out: &Path| said(["report", "tests/fixtures/command/book", "--out", out.to_str().unwrap()]);
    assert_eq!(report(&clean).0, Some(0));
    // Too small for the list, for the first page, for half of them, for the last.
    for kib in [4, 8, 40, 150, 200, 280] {
        let Some(disk) = Small::mount(&folder.0.join("disk"), kib) else { return };
        let out = disk.0.join("out");
        let (code, _, err) = report(&out);
        assert!(
            code == Some(2) && err.contains("no space left on device") || code == Some(0),
            "{kib}: {code:?} {err}"
        );
        if out.exists() {
            for name in names(&out) {
                let name = name.to_string_lossy().into_owned();
                let same = || fs::read(out.join(&name)).unwrap() == fs::read(clean.join(&name)).unwrap();
                assert!(!name.as_bytes().ends_with(b".html") || same(), "{kib}: {name} is torn");
            }
            assert_eq!(leavings(&out), [] as [PathBuf; 0], "{kib}");
        }
        assert!(disk.size("remount,", 4096));
        let (code, _, err) = report(&out);
        assert_eq!((code, err.as_str()), (Some(0), ""), "{kib}");
        for name in names(&clean) {
            assert!(
                fs::read(out.join(&name)).unwrap() == fs::read(clean.join(&name)).unwrap(),
                "{kib}: {name:?}"
            );
        }
    }
}
