//! What cannot be read, or may be read in two ways: a sentence, and nothing printed. Nothing in a cell becomes a line of its own.

use super::{book, fixtures, transcribed};
use proptest::prelude::*;
use std::fs;
use stringline::book::entry::Verb;
use stringline::source::Memory;

fn of(sheet: impl AsRef<[u8]>, mapping: &str) -> crate::command::Said {
    let home = tempfile::tempdir().unwrap();
    let (at, by) = (home.path().join("sheet.csv"), home.path().join("by.toml"));
    fs::write(&at, sheet).unwrap();
    fs::write(&by, mapping).unwrap();
    transcribed(&at, &book(), &by)
}

const FIXED: &str = "car = \"wren\"\ndate = \"2026-05-10\"\n";

#[test]
fn a_question_prints_nothing() {
    for (sheet, mapping, wanted) in [
        (
            "d;x\n03/04/2026;1\n",
            "car = \"wren\"\n[columns]\nd = \"date\"\nx = \"note\"",
            "`03/04/2026` in line 2 may be 2026-04-03 or 2026-03-04, and nothing on the sheet says which; write `dates = \"day-month-year\"` or `dates = \"month-day-year\"`",
        ),
        ("d;x\n01/02/03;1\n", "car = \"wren\"\n[columns]\nd = \"date\"\nx = \"note\"", "write `dates = "),
        (
            "d;x\n31/04/2026;1\n05/31/2026;1\n31/05/2026;1\n",
            "car = \"wren\"\n[columns]\nd = \"date\"\nx = \"note\"",
            "the days `05/31/2026` in line 3 and `31/05/2026` in line 4 are not written in one order",
        ),
        (
            "p;x\n1,500;1\n",
            &format!("{FIXED}[columns]\np = \"read oil-temp F\"\nx = \"note\""),
            "`1,500` in line 2 may be 1500 or 1.500, and nothing on the sheet says which; write `decimal = \"point\"` or `decimal = \"comma\"`",
        ),
        (
            "p;x\n1,5;1\n1.5;1\n",
            &format!("{FIXED}[columns]\np = \"read oil-temp F\"\nx = \"note\""),
            "`1,5` in line 2 and `1.5` in line 3 cannot be written the same way",
        ),
        (
            "s;t\nq;1:08:42\n",
            &format!("{FIXED}[columns]\ns = \"session\"\nt = \"lap-time\""),
            "`1:08:42` in line 2 may be 68:42 or 1:08.42, and nothing on the sheet says which; write `lap-times = \"hours-minutes-seconds\"` or",
        ),
        (
            "a,b\n1,2\n",
            &format!("{FIXED}[columns]\nnot = \"note\"\nb = \"note\""),
            "no column is called `not`; its columns are `a` and `b`",
        ),
        (
            "a,Time\n1,2\n",
            &format!("{FIXED}[columns]\nTme = \"note\""),
            "no column is called `Tme`; did you mean `Time`?",
        ),
        (
            "a,a\n1,2\n",
            &format!("{FIXED}[columns]\na = \"note\""),
            "several columns are called `a`; name them \"#1\" and \"#2\"",
        ),
        (
            "a,b\n1,2\n",
            &format!("{FIXED}[columns]\na = \"read tyre-cold LF\""),
            "`tyre-cold` needs its unit, as in `read tyre-cold ",
        ),
        (
            "a,b\n1,2\n",
            &format!("{FIXED}[columns]\na = \"read tyre-clod LF psi\""),
            "`tyre-clod` is no quantity; did you mean `tyre-cold`?",
        ),
        (
            "a,b\n1,2\n",
            &format!("{FIXED}[columns]\na = \"read tyre-cold LF mm\""),
            "`mm` is no place, and no unit of `tyre-cold`",
        ),
        (
            "a,b\n1,2\n",
            &format!("{FIXED}[columns]\na = \"fit cp-1 LF\""),
            "`fit cp-1 LF` says nothing of a column",
        ),
        (
            "a,b\n1,2\n",
            "car = \"crow\"\ndate = \"2026-05-10\"\n[columns]\na = \"note\"",
            "`car` in the mapping: `crow` is no car of the book",
        ),
        ("a,b\n1,2\n", "date = \"2026-05-10\"\n[columns]\na = \"note\"", "nothing says the car of a row"),
        (
            "a,b\n1,2\n",
            &format!("{FIXED}[columns]\na = \"date\""),
            "the mapping says the date of every row, and that a column does",
        ),
        (
            "a,b\n1,2\n",
            &format!("{FIXED}[columns]\na = \"driver\"\nb = \"driver\""),
            "the mapping says of `a` and of `b` that they are the same",
        ),
        ("a,b\n1,2\n", "colums = 1", "line 1: unknown field `colums`"),
        ("a,b\n1,2\n", FIXED, "it says of no column what it is"),
        (
            "a;b\n1;\"never closed\n2;3\n4;5\n",
            &format!("{FIXED}[columns]\na = \"note\""),
            "a quotation mark is opened in line 2 and never closed",
        ),
        (
            "7;1,5\n8;2,5\n",
            &format!("{FIXED}[columns]\n\"#2\" = \"read oil-temp C\""),
            "its columns may be apart by commas or by semicolons; write `separator = \"comma\"` or `separator = \"semicolon\"`",
        ),
        ("", &format!("{FIXED}[columns]\na = \"note\""), "there is nothing in it"),
        (
            "a\0b",
            &format!("{FIXED}[columns]\na = \"note\""),
            "it is no text: a spreadsheet is saved as CSV first",
        ),
        (
            "no columns at all\n",
            &format!("{FIXED}[columns]\na = \"note\""),
            "it has no columns apart by commas, semicolons or tabs",
        ),
    ] {
        let said = of(sheet, mapping);
        assert_eq!((said.code.as_str(), said.out.as_str()), ("2", ""), "{sheet}: {}", said.err);
        assert!(said.err.contains(wanted), "wanted {wanted}\n{}", said.err);
    }
}

/// A row that nobody knows the subject of is left out whole and said once, and one whose cells stand under other heads.
#[test]
fn a_row_of_unknown_subject_is_left_out() {
    let mapping = "[columns]\nday = \"date\"\ncar = \"car\"\noil = \"read oil-temp C\"\nwords = \"note\"";
    let rows = "day,car,oil,words\n,wren,x,a\n2026-05-20,,96,b\nsoon,wren,97,c\n2026-05-20,wren,26,5,d\n2026-05-20,wren,99,e,,\n";
    let said = of(rows, mapping);
    assert_eq!(said.out, "2026-05-20 wren\n  read oil-temp 99 C\n  | e\n", "{}", said.err);
    let lines: Vec<&str> = said.err.lines().filter_map(|line| line.split("sheet.csv:").nth(1)).collect();
    assert_eq!(
        lines,
        [
            "2: the row has no day; the row is left out",
            "3: the row has no car; the row is left out",
            "4: day: `soon` is no day; the row is left out",
            "5: it has 5 cells under 4 heads; the row is left out",
        ]
    );
}

/// Letters of other sorts: Latin-1 as old exports have it, UTF-16 as spreadsheets write "Unicode text".
#[test]
fn letters() {
    let mapping = format!("{FIXED}[columns]\n\"T \u{B0}C\" = \"read oil-temp C\"\n\"b\" = \"note\"");
    let text = "T \u{B0}C;b\n90;\u{FC}\n";
    let latin: Vec<u8> = text.chars().map(|c| c as u8).collect();
    let wide: Vec<u8> =
        std::iter::once(0xFEFF).chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect();
    let big: Vec<u8> =
        std::iter::once(0xFEFF).chain(text.encode_utf16()).flat_map(u16::to_be_bytes).collect();
    for bytes in [text.as_bytes().to_vec(), latin, wide, big] {
        let said = of(bytes, &mapping);
        assert_eq!(said.out, "2026-05-10 wren at pell-1\n  read oil-temp 90 C\n  | \u{FC}\n", "{}", said.err);
    }
}

/// A table wider than any is read where the mapping knows its columns, and refused where one is to be drafted.
#[test]
fn a_million_columns() {
    let wide = format!("a,{}\n1,{}\n", "b,".repeat(1_000_000), "2,".repeat(1_000_000));
    let said = of(&wide, &format!("{FIXED}[columns]\na = \"note\""));
    assert_eq!(said.out, "2026-05-10 wren at pell-1\n  | 1\n");
    assert!(said.err.len() < 2_000, "{}", said.err.len());
    let home = tempfile::tempdir().unwrap();
    let at = home.path().join("wide.csv");
    fs::write(&at, &wide).unwrap();
    let words = ["transcribe", at.to_str().unwrap(), &book()];
    let said = crate::command::said_on(&words, 96, "2026-11-01T12:00:00Z");
    assert_eq!((said.code.as_str(), said.out.as_str()), ("2", ""));
    assert!(said.err.contains("it has 1000002 columns; is it a table?"), "{}", said.err);
}

#[test]
fn what_is_not_there_is_said() {
    let mapping = fixtures().join("stand/mapping.toml");
    for path in ["/nowhere/sheet.csv", "/"] {
        let said = transcribed(std::path::Path::new(path), &book(), &mapping);
        assert_eq!((said.code.as_str(), said.out.as_str()), ("2", ""));
        assert!(said.err.contains("cannot be read"), "{}", said.err);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]
    /// Whatever stands in the cells, every line printed is one line of the language with the verb it was printed for.
    #[test]
    fn no_cell_becomes_a_line(
        cells in prop::collection::vec(prop::collection::vec("[\\PC\n\r\t\"|#;]{0,20}|ned|s1|1:08.42|26\\.5|wren|2026-05-10", 7), 1..6),
    ) {
        let mut sheet = "car,session,driver,best,cold,note,text\n".to_owned();
        for row in &cells {
            let row: Vec<String> = row.iter().map(|cell| format!("\"{}\"", cell.replace('"', "\"\""))).collect();
            sheet += &format!("{}\n", row.join(","));
        }
        let mapping = "date = \"2026-05-10\"\n[columns]\ncar = \"car\"\nsession = \"session\"\ndriver = \"driver\"\nbest = \"best\"\n\
                       cold = \"set tyre-cold LF psi\"\nnote = \"note\"\ntext = \"set pad-compound front\"\n";
        let said = of(&sheet, mapping);
        let shop = fs::read_to_string(fixtures().join("book/shop.sline")).unwrap();
        let made = stringline::compile(&Memory::new(&[("a.sline", &shop), ("b.sline", &said.out)], crate::checks::now())).unwrap();
        let lines = said.out.lines().filter(|line| line.starts_with("  ")).count();
        prop_assert_eq!(made.book.entries.len(), lines, "{}", said.out);
        for entry in &made.book.entries {
            let line = made.files.typed(entry.span());
            prop_assert!(matches!(entry.verb, Verb::Run | Verb::Set | Verb::Note), "{}", line);
            prop_assert!(!entry.broken, "{}", line);
        }
    }

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..200), text in "\\PC{0,80}") {
        let stand = fs::read_to_string(fixtures().join("stand/mapping.toml")).unwrap();
        for mapping in [stand.as_str(), text.as_str()] {
            let said = of(&bytes, mapping);
            prop_assert!(["0", "1", "2"].contains(&said.code.as_str()));
        }
    }
}

/// Degrees and minutes are an angle whatever the sheet's way, and a toe is spelt by the way it goes.
#[test]
fn angles_and_toe_are_lines() {
    let said = of(
        "c;i;o\n-2d45';1.5;0d15'\n",
        &format!(
            "{FIXED}[columns]\nc = \"read camber LF deg\"\ni = \"set toe-in front deg total\"\no = \"found toe-out LR deg\"\n"
        ),
    );
    for line in ["read camber LF -2d45' deg", "set toe-in front 1.5 deg total", "found toe-out LR 0d15' deg"]
    {
        assert!(said.out.contains(line), "{line}: {}{}", said.out, said.err);
    }
    assert!(!said.err.contains("error"), "{}", said.err);
    let unit = of("p\n-2d45'\n", &format!("{FIXED}[columns]\np = \"read ride-height LF mm\"\n"));
    assert!(unit.err.contains("`-2d45'` has `deg` behind it, and the mapping says `mm`"), "{}", unit.err);
}
