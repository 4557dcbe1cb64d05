//! blank: the head is right, and every line is right when its `#` goes.

use super::{BOOK, holds, said};
use stringline::diagnostics::Severity;
use stringline::source::{Disk, Memory, World};
use stringline::{Compiled, compile};

#[test]
fn blank_of_a_car() {
    holds("blank", &["blank", BOOK, "heron"]);
    holds("blank-event", &["blank", BOOK, "heron", "pell-3"]);
    holds("blank-nothing-usual", &["blank", BOOK, "wren"]);
    holds("blank-no-event", &["blank", BOOK, "heron", "pell-4"]);
    holds("blank-json", &["blank", BOOK, "heron", "pell-3", "--format", "json"]);
}

fn with(folder: &str, added: &str) -> Compiled {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let (files, _) = Disk { root }.load().unwrap();
    let mut all: Vec<(&str, &str)> =
        files.iter().map(|(_, file)| (file.path.as_str(), file.text.as_str())).collect();
    all.push(("zz.sline", added));
    compile(&Memory::new(&all, crate::checks::now())).unwrap()
}

fn messages(compiled: &Compiled) -> usize {
    compiled.diagnostics.len()
}

/// Pasted as it is, it changes nothing; with every `#` taken off, no line is an error.
#[test]
fn it_may_be_pasted_and_every_line_used() {
    for (folder, car, event) in [
        (BOOK, "heron", "pell-3"),
        ("ledgers/2026", "bittern", "ardwell-2"),
        ("ledgers/2026", "plover", "quern-2"),
        ("ledgers/2026", "teal", "slatehead-2"),
        ("ledgers/2026", "curlew", "quern-2"),
    ] {
        let blank = said(&["blank", folder, car, event]).out;
        let plain = with(folder, "");
        let pasted = with(folder, &blank);
        assert_eq!(messages(&pasted), messages(&plain), "{car}: {blank}");
        let used: String = blank
            .lines()
            .filter(|line| !line.contains("# Take"))
            .map(|line| line.replacen("# ", "", 1) + "\n")
            .collect();
        let all = with(folder, &used);
        let errors: Vec<_> = all
            .diagnostics
            .iter()
            .filter(|one| one.severity == Severity::Error)
            .filter(|one| one.at.as_ref().is_some_and(|mark| all.files.path(mark.span.file) == "zz.sline"))
            .map(|one| format!("{}: {}", one.check, one.message))
            .collect();
        assert!(errors.is_empty(), "{car}: {errors:#?}\n{used}");
        assert_eq!(all.book.troubles.len(), plain.book.troubles.len(), "{car}:\n{used}");
    }
}
