//! Runs killed at any moment (SIGKILL): every file is whole, and the next run makes everything right.

#![cfg(unix)]

use super::{Folder, asked, leavings, names, said, stringline};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

const BOOK: &str = "tests/fixtures/command/book";

/// Moments between nought and a second, the same in every run (a linear congruential generator; Knuth, TAOCP 2, 3.3.4).
fn moments() -> impl Iterator<Item = f64> {
    std::iter::successors(Some(2_026_u64), |seed| {
        Some(seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407))
    })
    .skip(1)
    .map(|seed| f64::from(u32::try_from(seed >> 32).unwrap()) / f64::from(u32::MAX))
}

/// Starts the program and kills it after so long; whether it had ended by itself.
fn kill_after(arguments: &[&str], after: Duration) -> bool {
    let mut child = stringline(arguments)
        .stdout(std::process::Stdio::null())
        .stderr(std::process::Stdio::null())
        .spawn()
        .unwrap();
    std::thread::sleep(after);
    let ended = child.try_wait().unwrap().is_some();
    let _ = child.kill();
    child.wait().unwrap();
    ended
}

fn rounds(what: &str) -> usize {
    if asked(&format!("{what}, killed at 60 moments; at 6 it is")) { 60 } else { 6 }
}

#[test]
fn format_leaves_every_ledger_old_or_new() {
    let rounds = rounds("format");
    let folder = Folder::new("kill-format");
    let was = |index: usize| {
        format!("car car-{index}   \"C\"\n2025-05-10   car-{index}\n{}", "  |  a note\n".repeat(400))
    };
    let now = |index: usize| was(index).replace("   ", " ");
    let book = folder.0.to_str().unwrap().to_owned();
    let fill = || {
        for index in 0..40 {
            folder.file(format!("{}/c{index}.sline", index % 4), was(index));
        }
    };
    fill();
    let started = Instant::now();
    assert_eq!(said(["format", &book]).0, Some(0));
    let mut takes = started.elapsed();
    let (mut cut, mut both) = (0, 0);
    for share in moments().take(rounds) {
        fill();
        let after = takes.mul_f64(share);
        // A run that had ended takes no longer than that: a machine that was busy at first is not any more.
        if kill_after(&["format", &book], after) {
            takes = after;
        } else {
            cut += 1;
        }
        let mut new = 0;
        for index in 0..40 {
            let text = fs::read_to_string(folder.0.join(format!("{}/c{index}.sline", index % 4))).unwrap();
            assert!(text == was(index) || text == now(index), "c{index} after {share}");
            new += usize::from(text == now(index));
        }
        both += usize::from((1..40).contains(&new));
        let (code, _, err) = said(["format", &book]);
        assert_eq!((code, err.as_str()), (Some(0), ""), "after {share}");
        for part in 0..4 {
            assert_eq!(leavings(&folder.0.join(part.to_string())), [] as [PathBuf; 0], "after {share}");
        }
    }
    assert!(cut > rounds / 3, "only {cut} of {rounds} runs were cut short, {both} half-way");
}

/// Everything in a folder, name by name.
fn all(folder: &Path) -> BTreeMap<std::ffi::OsString, Vec<u8>> {
    names(folder).into_iter().map(|name| (name.clone(), fs::read(folder.join(name)).unwrap())).collect()
}

#[test]
fn a_report_leaves_whole_pages_and_the_next_run_the_right_ones() {
    let rounds = rounds("report");
    let folder = Folder::new("kill-report");
    // The book, and what it was before: with a car more, which the killed run has to take away.
    let book = folder.0.join("book");
    let more = folder.0.join("more");
    for to in [&book, &more] {
        fs::create_dir(to).unwrap();
        for name in ["heron.sline", "shop.sline"] {
            fs::copy(Path::new(BOOK).join(name), to.join(name)).unwrap();
        }
    }
    let extra = "car plover \"Plover\"  client orr\n2025-05-10 plover\n  set wing-angle 5 deg\n";
    fs::write(more.join("plover.sline"), extra).unwrap();
    let [book, more] = [&book, &more].map(|path| path.to_str().unwrap());
    let report = |book: &str, out: &Path| said(["report", book, "--out", out.to_str().unwrap()]);
    let (clean, out) = (folder.0.join("clean"), folder.0.join("pages"));
    let started = Instant::now();
    assert_eq!(report(book, &clean).0, Some(0));
    let mut takes = started.elapsed();
    let right = all(&clean);
    let mut cut = 0;
    for (index, share) in moments().take(rounds).enumerate() {
        // By turns into an empty folder and into one with the older pages.
        let _ = fs::remove_dir_all(&out);
        let mut older = BTreeMap::new();
        if index % 2 == 0 {
            assert_eq!(report(more, &out).0, Some(0));
            assert!(out.join("plover-now.html").exists());
            older = all(&out);
        }
        let after = takes.mul_f64(share);
        if kill_after(&["report", book, "--out", out.to_str().unwrap()], after) {
            takes = after;
        } else {
            cut += 1;
        }
        if out.exists() {
            for (name, bytes) in all(&out) {
                if name.to_string_lossy().ends_with(".html") {
                    let whole = right.get(&name) == Some(&bytes) || older.get(&name) == Some(&bytes);
                    assert!(whole, "{name:?} after {share} is neither the page nor the one before it");
                }
            }
        }
        let (code, _, err) = report(book, &out);
        assert_eq!((code, err.as_str()), (Some(0), ""), "after {share}");
        let found = all(&out);
        let list = |of: &BTreeMap<_, _>| of.keys().cloned().collect::<Vec<std::ffi::OsString>>();
        assert_eq!(list(&found), list(&right), "after {share}");
        assert!(found == right, "after {share}");
        // A killed run's folder is as little for somebody else's pages.
        let theirs = ["report", book, "--out", out.to_str().unwrap(), "--for", "orr"];
        assert_eq!(said(theirs).0, Some(2), "after {share}");
    }
    assert!(cut > rounds / 3, "only {cut} of {rounds} runs were cut short");
}
