//! `format` among people: edits while it runs, files it must not touch, and what it keeps of those it does.

#![cfg(unix)]

use super::{Folder, leavings, said, stringline};
use std::fs::{self, File};
use std::io::Write as _;
use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _, symlink};
use std::path::{Path, PathBuf};
use stringline::command::format::lay_out;
use stringline::command::output::{Format, Output};
use stringline::source::{Disk, Files, LoadTrouble, World};

const UNTIDY: &str = "car heron   \"Heron\"\n2025-05-10   heron\n";
const TIDY: &str = "car heron \"Heron\"\n2025-05-10 heron\n";
/// A ledger beside it, which declares nothing.
const OTHER: &str = "2025-05-11   heron\n";
const OTHER_TIDY: &str = "2025-05-11 heron\n";

fn format(folder: &Path) -> (Option<i32>, String, String) {
    said([Path::new("format"), folder])
}

/// A book that somebody edits once it has been read.
struct Edited<F: Fn()> {
    disk: Disk,
    edit: F,
}

impl<F: Fn()> World for Edited<F> {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        self.disk.load()
    }

    fn now(&self) -> jiff::Timestamp {
        (self.edit)();
        jiff::Timestamp::UNIX_EPOCH
    }
}

#[test]
fn an_edit_after_reading_is_left_and_said_and_the_others_go_on() {
    for way in ["append", "rename"] {
        let folder = Folder::new(&format!("edited-{way}"));
        let edited = folder.file("b.sline", UNTIDY);
        let others = ["a.sline", "c/c.sline"].map(|name| folder.file(name, OTHER));
        let edit = || {
            if way == "append" {
                File::options().append(true).open(&edited).unwrap().write_all(b"  | more\n").unwrap();
            } else {
                let new = folder.file("b.new", format!("{UNTIDY}  | more\n"));
                fs::rename(new, &edited).unwrap();
            }
        };
        let world = Edited { disk: Disk { root: folder.0.clone() }, edit };
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let output = &mut Output {
            out: &mut out,
            err: &mut err,
            color: false,
            terminal: false,
            quiet: false,
            width: 100,
            now: None,
        };
        let code = lay_out(&world, false, Format::Text, &mut |_, _| (), output).unwrap();
        assert_eq!(code, 2);
        assert_eq!(
            String::from_utf8(err).unwrap(),
            "stringline: `b.sline` was changed while format ran; it is left as it is.\n"
        );
        let out = String::from_utf8(out).unwrap();
        assert!(
            out.starts_with("a.sline\nc/c.sline\n2 of 3 files changed, 1 left that would change\n"),
            "{out}"
        );
        assert_eq!(fs::read_to_string(&edited).unwrap(), format!("{UNTIDY}  | more\n"));
        assert!(others.iter().all(|path| fs::read_to_string(path).unwrap() == OTHER_TIDY));
        assert_eq!(leavings(&folder.0), [] as [PathBuf; 0]);
    }
}

#[test]
fn nothing_an_editor_saves_is_lost_while_format_runs_again_and_again() {
    // Appended and renamed by turns, as fast as the disk takes it, while format runs over and over.
    let rounds =
        if super::asked("the long race of format with an editor; the short one runs") { 60 } else { 8 };
    let folder = Folder::new("race");
    let ledger = folder.file("a.sline", UNTIDY);
    let done = std::sync::atomic::AtomicBool::new(false);
    let (mut wrote, mut codes) = (0_u32, [0_u32; 3]);
    std::thread::scope(|scope| {
        let editor = scope.spawn(|| {
            let mut count = 0_u32;
            while !done.load(std::sync::atomic::Ordering::Relaxed) {
                let line = format!("  |   note {count};\n");
                if count % 3 == 2 {
                    let new = folder.0.join("a.saved");
                    fs::write(&new, fs::read_to_string(&ledger).unwrap() + &line).unwrap();
                    fs::rename(&new, &ledger).unwrap();
                } else {
                    let mut file = File::options().append(true).open(&ledger).unwrap();
                    file.write_all(line.as_bytes()).unwrap();
                }
                count += 1;
                // Untidy again, so that there is always something to do.
                std::thread::sleep(std::time::Duration::from_micros(u64::from(count % 7) * 900));
            }
            count
        });
        // Whatever goes wrong here, the other thread has to end: nothing panics before it is told to.
        let ran: Vec<_> = (0..rounds).map(|_| format(&folder.0)).collect();
        done.store(true, std::sync::atomic::Ordering::Relaxed);
        wrote = editor.join().unwrap();
        for (code, _, err) in ran {
            codes[usize::try_from(code.unwrap()).unwrap()] += 1;
            assert!(code != Some(1), "{err}");
        }
    });
    let mut text = fs::read_to_string(&ledger).unwrap();
    for kept in leavings(&folder.0) {
        text += &fs::read_to_string(kept).unwrap();
    }
    for count in 0..wrote {
        assert!(text.contains(&format!("note {count};")), "note {count} of {wrote} is lost; {codes:?}");
    }
}

#[test]
fn a_link_to_a_page_is_followed_and_one_to_nowhere_is_replaced() {
    let folder = Folder::new("linked");
    let page = folder.file("real.html", "old");
    symlink("real.html", folder.0.join("page.html")).unwrap();
    symlink("nowhere.html", folder.0.join("lost.html")).unwrap();
    for (name, link) in [("page.html", true), ("lost.html", false)] {
        let to = folder.0.join(name);
        let words = ["sheet", "tests/fixtures/command/book", "heron", "--out", to.to_str().unwrap()];
        assert_eq!(said(words).0, Some(0), "{name}");
        assert_eq!(fs::symlink_metadata(&to).unwrap().is_symlink(), link, "{name}");
        assert!(fs::read_to_string(&to).unwrap().contains("</html>"), "{name}");
    }
    assert!(fs::read_to_string(page).unwrap().contains("</html>"));
    assert!(!folder.0.join("nowhere.html").exists());
}

/// The ledger may be gone, and every other; what somebody typed is named until he has removed it.
#[test]
fn what_is_kept_is_named_by_every_later_run() {
    let folder = Folder::new("named");
    let print = "0123456789abcdef0123456789abcdef";
    let name = format!("season/.stringline-01234567-89abcdef-{print}-{print}.swap");
    let kept = folder.file(&name, "typed");
    for book in ["", "season"] {
        let book = folder.0.join(book);
        for _ in 0..2 {
            let (code, _, err) = format(&book);
            assert_eq!(code, Some(2), "{err}");
            assert!(err.contains(&name) && err.contains("holds a ledger as somebody typed it"), "{err}");
            assert_eq!(err.lines().count(), 1, "{err}");
            assert_eq!(fs::read_to_string(&kept).unwrap(), "typed");
        }
        let check = said([Path::new("format"), &book, Path::new("--check")]);
        assert_eq!((check.0, check.2.as_str()), (Some(0), ""));
    }
    fs::remove_file(kept).unwrap();
    assert_eq!(format(&folder.0).0, Some(0));
}

#[test]
fn a_read_only_file_and_one_of_two_names_are_left_and_said() {
    let folder = Folder::new("left");
    let locked = folder.file("a.sline", UNTIDY);
    fs::set_permissions(&locked, fs::Permissions::from_mode(0o444)).unwrap();
    let twin = folder.file("b.sline", OTHER);
    fs::hard_link(&twin, folder.0.join("b.txt")).unwrap();
    let other = folder.file("c.sline", OTHER);
    let (code, out, err) = format(&folder.0);
    assert_eq!(code, Some(2));
    assert_eq!(
        err,
        "stringline: `a.sline` is read-only; it is left as it is.\n\
         stringline: `b.sline` has 2 names (hard links), and a new file would have one; it is left as it is.\n"
    );
    assert_eq!(out, "c.sline\n1 of 3 files changed, 2 left that would change\n");
    assert_eq!(fs::read_to_string(&locked).unwrap(), UNTIDY);
    assert_eq!(fs::read_to_string(&twin).unwrap(), OTHER);
    assert_eq!(fs::read_to_string(&other).unwrap(), OTHER_TIDY);
    let json = said([Path::new("format"), &folder.0, Path::new("--format"), Path::new("json")]).1;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["files"][0]["left"], "is read-only");
    assert_eq!(
        (&json["files"][0]["changed"], &json["files"][2]["left"]),
        (&false.into(), &serde_json::Value::Null)
    );
}

#[test]
fn mode_owner_attributes_and_links_are_kept() {
    let folder = Folder::new("kept");
    let file = folder.file("real/a.sline", UNTIDY);
    symlink("real/a.sline", folder.0.join("b.sline")).unwrap();
    symlink("real", folder.0.join("season")).unwrap();
    fs::set_permissions(&file, fs::Permissions::from_mode(0o2670)).unwrap();
    let superuser = std::os::unix::fs::chown(&file, Some(12_345), Some(23_456)).is_ok();
    if superuser {
        fs::set_permissions(&file, fs::Permissions::from_mode(0o2670)).unwrap();
    } else {
        super::left_out("that format keeps another owner (only the superuser may give a file away)");
    }
    let attribute = |set: bool| {
        let name = "user.stringline.test";
        let handle = File::open(&file).unwrap();
        let mut value = [0; 8];
        if set {
            return rustix::fs::fsetxattr(&handle, name, b"kept", rustix::fs::XattrFlags::empty()).is_ok();
        }
        rustix::fs::fgetxattr(&handle, name, &mut value[..]).is_ok_and(|length| &value[..length] == b"kept")
    };
    let known = attribute(true);
    let before = fs::metadata(&file).unwrap();
    assert_eq!(format(&folder.0).0, Some(0));
    let after = fs::metadata(&file).unwrap();
    assert_eq!(fs::read_to_string(&file).unwrap(), TIDY);
    assert_ne!(after.ino(), before.ino(), "another file took its place");
    assert_eq!((after.mode(), after.uid(), after.gid()), (before.mode(), before.uid(), before.gid()));
    assert_eq!(attribute(false), known);
    assert!(fs::symlink_metadata(folder.0.join("b.sline")).unwrap().is_symlink());
    assert!(fs::symlink_metadata(folder.0.join("season")).unwrap().is_symlink());
}

#[test]
fn the_longest_name_there_is_still_formats() {
    let folder = Folder::new("long");
    // NAME_MAX of Linux, macOS and the BSDs: 255 bytes.
    let name = format!("{}.sline", "n".repeat(255 - ".sline".len()));
    let file = folder.file(&name, UNTIDY);
    assert_eq!(format(&folder.0).0, Some(0));
    assert_eq!(fs::read_to_string(&file).unwrap(), TIDY);
    // And as a page: the temporary file beside it is shorter.
    let page = folder.0.join(format!("{}.html", "p".repeat(255 - ".html".len())));
    let book = "tests/fixtures/command/book";
    let code = stringline(["sheet", book, "heron", "pell-1", "--out"]).arg(&page).status().unwrap().code();
    assert_eq!((code, page.exists()), (Some(0), true));
}

#[test]
fn a_file_that_cannot_be_read_stops_no_other() {
    let folder = Folder::new("unreadable");
    symlink("nowhere", folder.0.join("a.sline")).unwrap();
    let file = folder.file("b.sline", UNTIDY);
    let (code, _, err) = format(&folder.0);
    assert_eq!(code, Some(2));
    assert_eq!(err, "stringline: `a.sline` cannot be read and is left alone: the link leads nowhere\n");
    assert_eq!(fs::read_to_string(&file).unwrap(), TIDY);
}

#[test]
fn a_mark_before_the_text_is_no_change_by_hand() {
    let folder = Folder::new("mark");
    let file = folder.file("a.sline", format!("\u{FEFF}{UNTIDY}"));
    assert_eq!(format(&folder.0).0, Some(0));
    assert_eq!(fs::read_to_string(&file).unwrap(), TIDY);
}

#[test]
fn a_page_never_takes_the_place_of_a_ledger() {
    let folder = Folder::new("aimed");
    let ledger = folder.file("a.sline", UNTIDY);
    symlink("a.sline", folder.0.join("page.html")).unwrap();
    for name in ["a.sline", "page.html", "new.SLINE"] {
        for command in ["sheet", "handover"] {
            let book = "tests/fixtures/command/book";
            let (code, _, err) =
                said([command, book, "heron", "--out", folder.0.join(name).to_str().unwrap()]);
            assert_eq!(code, Some(2), "{name}");
            assert!(err.contains("is named like a ledger; this would take its place"), "{err}");
        }
    }
    assert_eq!(fs::read_to_string(&ledger).unwrap(), UNTIDY);
    assert!(!folder.0.join("new.SLINE").exists());
}

#[test]
fn a_pipe_or_device_is_written_into_and_stays_what_it_is() {
    use std::os::unix::fs::FileTypeExt as _;
    let run = |to: &str| {
        stringline(["sheet", "tests/fixtures/command/book", "heron", "pell-1", "--out", to]).output().unwrap()
    };
    let page = run("/dev/stdout");
    assert!(
        page.status.success() && page.stdout.ends_with(b"</html>\n") || page.stdout.ends_with(b"</html>")
    );
    assert!(run("/dev/null").status.success());
    assert!(fs::metadata("/dev/null").unwrap().file_type().is_char_device());
}
