//! The same book gives the same bytes: any number of threads, any zone and locale, any order of files handed in.

use super::now;
use crate::agreement::ledger_files;
use stringline::compile;
use stringline::diagnostics::{json, terminal};
use stringline::source::Memory;

/// What is said of a book, for machines and for people; small mistakes are added so that there is much to say.
fn said(files: &[(&str, &str)]) -> String {
    let compiled = compile(&Memory::new(files, now())).unwrap();
    let (all, files) = (&compiled.diagnostics, &compiled.files);
    let tracks = format!("{:?}", compiled.history.slots.tracks);
    let parts = format!("{:?}", compiled.history.parts.places);
    format!(
        "{}\n{}\n{tracks}\n{parts}\n{:?}",
        json::render(all, files),
        terminal::render(all, files, false, 100),
        compiled.history.problems
    )
}

fn on_threads<R: Send>(threads: usize, work: impl FnOnce() -> R + Send) -> R {
    rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap().install(work)
}

/// The demo book with a letter changed here and there.
fn spoilt() -> Vec<(String, String)> {
    let mut files = ledger_files("ledgers");
    for (_, text) in &mut files {
        *text = text.replace("1.45 1.45", "1.54 1.45").replace("cg-1 ", "cg-l ").replace(" mm ", " mn ");
    }
    files
}

#[test]
fn whatever_the_threads_and_the_order_of_files() {
    let book = spoilt();
    let files: Vec<(&str, &str)> = book.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    let first = on_threads(1, || said(&files));
    assert!(first.len() > 10_000);
    assert_eq!(on_threads(2, || said(&files)), first);
    assert_eq!(on_threads(7, || said(&files)), first);
    let mut shuffled = files.clone();
    shuffled.reverse();
    assert_eq!(said(&shuffled), first);
    shuffled.rotate_left(files.len() / 3);
    assert_eq!(said(&shuffled), first);
}

/// A process's environment may not be changed while threads run, so the binary is asked.
#[test]
fn whatever_the_zone_and_the_language() {
    let folder = std::env::temp_dir().join(format!("stringline-same-{}", std::process::id()));
    for (path, text) in spoilt() {
        let path = folder.join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    let check = |zone: &str, language: &str, threads: &str| {
        let output = std::process::Command::new(env!("CARGO_BIN_EXE_stringline"))
            .args(["check", folder.to_str().unwrap(), "--format", "json"])
            .env("TZ", zone)
            .env("LC_ALL", language)
            .env("LANG", language)
            .env("RAYON_NUM_THREADS", threads)
            .output()
            .unwrap();
        (output.stdout, output.status.code())
    };
    let first = check("UTC", "C", "1");
    assert!(!first.0.is_empty());
    assert_eq!(check("Pacific/Kiritimati", "tr_TR.UTF-8", "2"), first);
    assert_eq!(check("America/St_Johns", "de_DE.UTF-8", "4"), first);
}
