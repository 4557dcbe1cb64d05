//! Somebody types into a ledger while it is given a new text: at every step, in every way an editor saves. What was typed is
//! in the ledger or in a file that is named; never gone.

use super::{Folder, leavings};
use std::fs::{self, File};
use std::io::Write as _;
use std::path::{Path, PathBuf};
use stringline::source::{Left, Leftover, Means, Rewrite, Step, clear, rewrite};

const WAS: &[u8] = b"2025-05-10   heron\n";
const NOW: &[u8] = b"2025-05-10 heron\n";
const TYPED: &str = "  | typed meanwhile\n";
const LATER: &str = "  | typed later\n";

/// How an edit reaches the disk.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Save {
    /// At the end of the file, opened now.
    Append,
    /// At the end of the file as it was opened before the exchange.
    OpenedBefore,
    /// A new file takes the old one's name.
    Rename,
    /// The file is emptied and written anew.
    Overwrite,
}

const SAVES: [Save; 4] = [Save::Append, Save::OpenedBefore, Save::Rename, Save::Overwrite];
const MEANS: [Means; 3] = [Means::Exchange, Means::SecondName, Means::Rename];

fn save(path: &Path, how: Save, opened: &mut File, words: &str) {
    let text = fs::read_to_string(path).unwrap() + words;
    match how {
        Save::Append => File::options().append(true).open(path).unwrap().write_all(words.as_bytes()).unwrap(),
        Save::OpenedBefore => opened.write_all(words.as_bytes()).unwrap(),
        Save::Overwrite => fs::write(path, text).unwrap(),
        Save::Rename => {
            let new = path.with_extension("saved");
            fs::write(&new, text).unwrap();
            fs::rename(new, path).unwrap();
        }
    }
}

fn run(ledger: &Path, means: Means, hook: &mut dyn FnMut(Step, &Path)) -> Option<Left> {
    let one = Rewrite { path: ledger, was: WAS, now: NOW };
    rewrite(&[one], means, hook).remove(0)
}

/// The ledger, and every file of ours beside it.
fn all_text(ledger: &Path) -> String {
    let mut text = fs::read_to_string(ledger).unwrap();
    for path in leavings(ledger.parent().unwrap()) {
        text += &fs::read_to_string(path).unwrap();
    }
    text
}

#[test]
fn an_undisturbed_rewrite_leaves_the_new_text_alone() {
    let folder = Folder::new("calm");
    for means in MEANS {
        let ledger = folder.file("a.sline", WAS);
        assert_eq!(run(&ledger, means, &mut |_, _| ()), None);
        assert_eq!(fs::read(&ledger).unwrap(), NOW);
        assert_eq!(leavings(&folder.0), [] as [PathBuf; 0]);
    }
}

#[test]
fn what_is_typed_at_any_step_is_never_lost() {
    let folder = Folder::new("typed");
    let steps = [Step::Made, Step::Ready, Step::Exchanged, Step::Settling];
    let mut seen = 0;
    for means in [Means::Exchange, Means::SecondName] {
        for at in steps {
            for how in SAVES {
                let ledger = folder.file("a.sline", WAS);
                let mut opened = File::options().append(true).open(&ledger).unwrap();
                let left = run(&ledger, means, &mut |step, path| {
                    if step == at {
                        seen += 1;
                        save(path, how, &mut opened, TYPED);
                    }
                });
                let case = format!("{means:?} {at:?} {how:?}: {left:?}");
                let text = fs::read_to_string(&ledger).unwrap();
                if means == Means::SecondName && at == Step::Ready && how == Save::Rename {
                    // Seen, because the second name is looked at before it is used.
                    assert_eq!(left, Some(Left::Changed), "{case}");
                }
                assert!(text.ends_with(TYPED), "{case}: {text}");
                // Typed into the old file: that is the ledger again. Typed into the new one: it has its layout.
                let old = matches!(at, Step::Made | Step::Ready) || how == Save::OpenedBefore;
                assert_eq!(left, old.then_some(Left::Changed), "{case}");
                assert!(text.as_bytes().starts_with(if old { WAS } else { NOW }), "{case}: {text}");
                assert_eq!(leavings(&folder.0), [] as [PathBuf; 0], "{case}");
            }
        }
    }
    assert_eq!(seen, 32);
}

#[test]
fn two_edits_are_both_kept_and_the_later_one_stands() {
    let folder = Folder::new("twice");
    for means in [Means::Exchange, Means::SecondName] {
        for second in [Save::Append, Save::Rename, Save::Overwrite] {
            for at in [Step::Exchanged, Step::Settling] {
                let ledger = folder.file("a.sline", WAS);
                let mut opened = File::options().append(true).open(&ledger).unwrap();
                let left = run(&ledger, means, &mut |step, path| {
                    if step == at {
                        save(path, Save::OpenedBefore, &mut opened, TYPED);
                        save(path, second, &mut opened, LATER);
                    }
                });
                let case = format!("{means:?} {second:?} {at:?}");
                let Some(Left::Kept(kept)) = left else { panic!("{case}: {left:?}") };
                assert!(fs::read_to_string(&ledger).unwrap().ends_with(LATER), "{case}");
                assert!(fs::read_to_string(&kept).unwrap().ends_with(TYPED), "{case}");
                // The next run names it again, and goes on naming it.
                let again = [Leftover::Kept(fs::canonicalize(&kept).unwrap())];
                assert_eq!(clear([ledger.as_path()]), again, "{case}");
                assert_eq!(clear([ledger.as_path()]), again, "{case}");
                fs::remove_file(kept).unwrap();
            }
        }
    }
}

#[test]
fn an_edit_while_the_first_is_put_back_is_kept_too() {
    let folder = Folder::new("back");
    for second in [Save::Append, Save::Rename, Save::Overwrite] {
        let ledger = folder.file("a.sline", WAS);
        let mut opened = File::options().append(true).open(&ledger).unwrap();
        let left = run(&ledger, Means::Exchange, &mut |step, path| match step {
            Step::Ready => save(path, Save::Append, &mut opened, TYPED),
            Step::Back => save(path, second, &mut opened, LATER),
            _ => {}
        });
        assert_eq!(left, Some(Left::Changed), "{second:?}");
        let text = all_text(&ledger);
        assert!(text.contains(TYPED) && text.contains(LATER), "{second:?}: {text}");
    }
}

#[test]
fn a_ledger_that_is_removed_stays_removed() {
    let folder = Folder::new("removed");
    for means in MEANS {
        let ledger = folder.file("a.sline", WAS);
        let left = run(&ledger, means, &mut |step, path| {
            if step == Step::Ready && means != Means::Rename {
                fs::remove_file(path).unwrap();
            }
        });
        if means != Means::Rename {
            assert_eq!(left, Some(Left::Changed), "{means:?}");
            assert!(!ledger.exists());
        }
        assert_eq!(leavings(&folder.0), [] as [PathBuf; 0]);
    }
}

#[test]
fn what_changed_before_is_seen_whatever_the_means() {
    let folder = Folder::new("before");
    for means in MEANS {
        let ledger = folder.file("a.sline", [WAS, TYPED.as_bytes()].concat());
        assert_eq!(run(&ledger, means, &mut |_, _| panic!("nothing is begun")), Some(Left::Changed));
        assert_eq!(all_text(&ledger), format!("{}{TYPED}", String::from_utf8_lossy(WAS)));
    }
}

/// What the modes of the ledger and of all that lies beside it are, and how long each file beside it is.
#[cfg(unix)]
fn modes(ledger: &Path) -> (u32, Vec<(u32, u64)>) {
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _};
    let of = |path: &Path| {
        let there = fs::symlink_metadata(path).unwrap();
        (there.permissions().mode() & 0o7777, there.size())
    };
    (of(ledger).0, leavings(ledger.parent().unwrap()).iter().map(|path| of(path)).collect())
}

/// Nobody reads beside a ledger what he may not read in it, not for a moment, and not where a run is killed.
#[cfg(unix)]
#[test]
fn the_new_text_is_never_more_readable_than_the_ledger() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = Folder::new("modes");
    for means in [Means::Exchange, Means::SecondName] {
        for mode in [0o600, 0o640, 0o644, 0o660] {
            let ledger = folder.file("a.sline", WAS);
            fs::set_permissions(&ledger, fs::Permissions::from_mode(mode)).unwrap();
            let mut steps = 0;
            assert_eq!(
                run(&ledger, means, &mut |step, path| {
                    steps += 1;
                    let (of_ledger, beside) = modes(path);
                    let case = format!("{means:?} {mode:o} {step:?}");
                    assert_eq!(of_ledger, mode, "{case}");
                    assert!(!beside.is_empty(), "{case}");
                    // Whoever opens a file while it is empty reads what is written into it later.
                    let wanted = if step == Step::Made { (0o600, 0) } else { (mode, beside[0].1) };
                    assert!(beside.iter().all(|one| *one == wanted), "{case}: {beside:?}");
                }),
                None
            );
            assert_eq!(steps, 4);
        }
    }
    for at in ["Made", "Ready", "Exchanged", "Settling"] {
        let ledger = folder.file("a.sline", WAS);
        fs::set_permissions(&ledger, fs::Permissions::from_mode(0o600)).unwrap();
        assert_eq!(die(Means::Exchange, at, "calm", &ledger).code(), None, "{at}");
        let (of_ledger, beside) = modes(&ledger);
        assert!(of_ledger == 0o600 && !beside.is_empty(), "{at}");
        assert!(beside.iter().all(|(mode, _)| *mode == 0o600), "{at}: {beside:?}");
        assert_eq!(clear([ledger.as_path()]), [], "{at}");
        assert_eq!(leavings(&folder.0), [] as [PathBuf; 0], "{at}");
    }
}

/// The ledger has its new text by then: that is not undone, and not told as if it were.
#[cfg(unix)]
#[test]
fn what_came_out_and_cannot_be_removed_is_named_and_goes_later() {
    let folder = Folder::new("beside");
    let ledger = folder.file("a.sline", WAS);
    let mut held = None;
    let left = run(&ledger, Means::Exchange, &mut |step, path| {
        if step == Step::Settling {
            held = super::Held::hold(&leavings(path.parent().unwrap())[0]);
        }
    });
    assert_eq!(fs::read(&ledger).unwrap(), NOW);
    let Some(held) = held else { return };
    let Some(Left::Beside(at, _)) = left else { panic!("{left:?}") };
    assert_eq!(fs::read(&at).unwrap(), WAS);
    let again = clear([ledger.as_path()]);
    assert!(
        matches!(&again[..], [Leftover::Stuck(path, _)] if *path == fs::canonicalize(&at).unwrap()),
        "{again:?}"
    );
    drop(held);
    assert_eq!(clear([ledger.as_path()]), []);
    assert_eq!(leavings(&folder.0), [] as [PathBuf; 0]);
}

/// Ends a process in the middle of a rewrite.
fn die(means: Means, at: &str, typed: &str, ledger: &Path) -> std::process::ExitStatus {
    std::process::Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "disk::rewrite::dies_in_the_middle"])
        .env("STRINGLINE_DIES", format!("{means:?} {at} {typed} {}", ledger.display()))
        .stdout(std::process::Stdio::null())
        .stderr(std::process::Stdio::null())
        .status()
        .unwrap()
}

/// Not a test of its own: [`a_run_that_dies_at_any_step_loses_nothing`] starts it in a process that ends in the middle.
#[test]
fn dies_in_the_middle() {
    let Some(case) = std::env::var_os("STRINGLINE_DIES") else { return };
    let case = case.into_string().unwrap();
    let mut words = case.splitn(4, ' ');
    let (means, at, typed, ledger) =
        (words.next().unwrap(), words.next().unwrap(), words.next().unwrap(), words.next().unwrap());
    let means = MEANS.into_iter().find(|one| format!("{one:?}") == means).unwrap();
    run(Path::new(ledger), means, &mut |step, path| {
        if step == Step::Ready && typed == "typed" {
            File::options().append(true).open(path).unwrap().write_all(TYPED.as_bytes()).unwrap();
        }
        if format!("{step:?}") == at {
            std::process::abort();
        }
    });
}

#[test]
fn a_run_that_dies_at_any_step_loses_nothing() {
    let folder = Folder::new("dies");
    for means in [Means::Exchange, Means::SecondName] {
        for at in ["Made", "Ready", "Exchanged", "Back", "Settling"] {
            for typed in ["typed", "calm"] {
                let ledger = folder.file("a.sline", WAS);
                let case = format!("{means:?} {at} {typed} {}", ledger.display());
                let status = die(means, at, typed, &ledger);
                // Without an edit nothing is put back; with one, nothing settles, and a second name shows it at once.
                let undone = typed == "typed" && at != "Made";
                let reached = match (at, means) {
                    ("Made" | "Ready", _) => true,
                    ("Exchanged", Means::Exchange) => true,
                    ("Exchanged", _) => !undone,
                    ("Back", Means::Exchange) => undone,
                    ("Back", _) => false,
                    _ => !undone,
                };
                assert_eq!(status.code().is_none(), reached, "{case}: {status:?}");
                let found = clear([ledger.as_path()]);
                let text = fs::read(&ledger).unwrap();
                if undone {
                    assert_eq!(text, [WAS, TYPED.as_bytes()].concat(), "{case}");
                    let restored = reached && at == "Exchanged";
                    let again = [Leftover::Restored(fs::canonicalize(&ledger).unwrap())];
                    assert_eq!(found, if restored { again.to_vec() } else { vec![] }, "{case}");
                } else {
                    assert!(text == WAS || text == NOW, "{case}");
                    assert_eq!(found, [], "{case}");
                }
                assert_eq!(leavings(&folder.0), [] as [PathBuf; 0], "{case}");
            }
        }
    }
}

#[test]
fn names_that_only_look_like_ours_are_left() {
    let folder = Folder::new("others");
    let ledger = folder.file("a.sline", WAS);
    for name in [".stringline-notes", ".stringline-1-2-3.swap", "stringline-x.part", ".stringline-.swap"] {
        folder.file(name, "mine");
    }
    fs::create_dir(folder.0.join(".stringline-x.part")).unwrap();
    assert_eq!(clear([ledger.as_path()]), []);
    assert_eq!(super::names(&folder.0).len(), 6);
}
