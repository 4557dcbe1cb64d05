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

const SHOP: &str = "\
client orr \"Orr\"\nclient moor \"Moor\"\ncar wren \"Wren\"  client orr\ncar lark \"Lark\"  client orr\n\
gauge old \"old gauge\"  reads camber  valid-until 2025-05-31\ngauge new \"new gauge\"  reads caster\n\
job-lines";

/// A closed job and a gauge that is out of date stand on no line to come; the gauge that is good and the job that is open do.
#[test]
fn what_is_over_stands_on_no_line_to_come() {
    let day = |date: &str| {
        format!(
            "2025-05-{date} wren\n  set camber LF -3 deg  by old  on j-1\n  set caster LF 5 deg  by new  on j-2\n"
        )
    };
    let book = format!(
        "{}{}{}\n2025-05-08 wren\n  done j-1 \"done\"\n",
        SHOP.replace("job-lines", "\n2025-05-01 wren\n  job j-1 \"one\"\n  job j-2 \"two\"\n\n"),
        day("02"),
        day("04") + &day("06"),
    );
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("book.sline"), &book).unwrap();
    let out =
        super::said_on(&["blank", home.path().to_str().unwrap(), "wren"], 96, "2025-07-01T12:00:00Z").out;
    assert!(out.contains("set camber LF -3 -> -3 deg\n"), "{out}");
    assert!(out.contains("set caster LF 5 -> 5 deg  by new on j-2\n"), "{out}");
}

/// Nothing is typed of a car that is gone; of one that is looked after for its new owner the head says whose it is.
#[test]
fn a_car_that_was_sold() {
    let sets = |car: &str, head: &str, month: u8| {
        ["02", "03", "04"]
            .map(|day| format!("2025-0{month}-{day} {car}{head}\n  set camber LF -3 deg\n"))
            .concat()
    };
    let book = format!(
        "{}{}{}2025-05-20 wren\n  sell wren 10.00 EUR to moor\n2025-05-21 lark\n  sell lark 10.00 EUR to moor\n{}",
        SHOP.replace("job-lines", "\n"),
        sets("wren", "", 5),
        sets("lark", "", 5),
        sets("lark", " for moor", 6),
    );
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("book.sline"), &book).unwrap();
    let folder = home.path().to_str().unwrap();
    let gone = super::said_on(&["blank", folder, "wren"], 96, "2025-07-01T12:00:00Z");
    assert_eq!((gone.code.as_str(), gone.out.as_str()), ("2", ""));
    assert!(gone.err.contains("wren was sold on 2025-05-20"), "{}", gone.err);
    let kept = super::said_on(&["blank", folder, "lark"], 96, "2025-07-01T12:00:00Z").out;
    assert!(
        kept.starts_with("2025-07-01 lark for moor\n") && kept.contains("set camber LF -3 -> -3 deg"),
        "{kept}"
    );
}
