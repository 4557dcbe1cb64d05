//! CSV as RFC 4180 has it, read back by another reader; no text in it is a formula.

use super::{book, table};
use crate::demo::DEMO;
use stringline::Compiled;
use stringline::tables::{Shown, TABLES, csv};

fn written(name: &str, compiled: &Compiled) -> String {
    let mut bytes = Vec::new();
    csv::write(table(name), &Shown::new(compiled, None), &mut bytes).unwrap();
    String::from_utf8(bytes).unwrap()
}

fn read(text: &str) -> Vec<Vec<String>> {
    let mut reader = ::csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
    reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

#[test]
fn a_table_read_back_is_the_table() {
    for table in &TABLES {
        let text = written(table.name, &DEMO);
        assert!(text.ends_with("\r\n") && text.matches('\n').count() == text.matches("\r\n").count());
        let read = read(&text);
        let heads: Vec<&str> = table.columns.iter().map(|column| column.name).collect();
        assert_eq!(read[0], heads);
        let rows = super::rows(table, &Shown::new(&DEMO, None));
        assert_eq!(read.len() - 1, rows.len(), "{}", table.name);
        for (cells, row) in read[1..].iter().zip(&rows) {
            let plain = |cell: &String| cell.strip_prefix('\'').unwrap_or(cell).to_owned();
            let cells: Vec<String> = cells.iter().map(plain).collect();
            assert_eq!(cells, row.iter().map(super::word).collect::<Vec<_>>(), "{}", table.name);
        }
    }
}

/// Names, titles, notes and reasons that begin as a formula does; `DDE` and `HYPERLINK` are what such attacks are made of (OWASP, "CSV
/// Injection").
const FORMULAS: [&str; 8] = [
    "=1+1",
    "+1+cmd|' /C calc'!A0",
    "-2+3",
    "@SUM(1+1)*cmd",
    "  =HYPERLINK(A1)",
    "\t=1",
    "\u{FF1D}1+1",
    "'=1",
];

#[test]
fn no_text_is_a_formula() {
    for formula in FORMULAS {
        let held = csv::text(formula);
        assert_eq!(held, format!("'{formula}"), "{formula:?}");
        let book = book(&format!(
            "car wren \"{formula}\"\nclient orr \"{formula}\"\n2025-05-03 wren\n  hit RF \"{formula}\"\n"
        ));
        let title = |name| read(&written(name, &book))[1][1].clone();
        for title in [title("cars"), title("clients")] {
            assert!(title.starts_with('\''), "{formula:?}: {title:?}");
        }
        let hit = &read(&written("failures", &book))[1];
        assert!(hit[12].starts_with('\''), "{hit:?}");
    }
    for plain in ["-3.2", "+1", "-12", "1:09.61", "5 3/16", "a=b", "x", "\"quoted\"", "3-4"] {
        assert_eq!(csv::text(plain), plain);
    }
    for near in ["-", "+", "-1e5", "-.5", "-1.", "+1+1", "--1", "-3.2 deg"] {
        assert_eq!(csv::text(near), format!("'{near}"));
    }
}

#[test]
fn numbers_are_the_shortest_that_are_those_numbers() {
    for number in [0.0, 1.0, -0.033_161_255_787_892_26, 2.5e-9, 1e300, -1e15, f64::MIN_POSITIVE, 0.1 + 0.2] {
        assert_eq!(csv::real(number).parse::<f64>().unwrap().to_bits(), number.to_bits());
        assert!(csv::real(number).len() < 25);
    }
    assert_eq!(
        (csv::real(120.0), csv::real(0.5), csv::real(1e300)),
        ("120.0".into(), "0.5".into(), "1e300".into())
    );
}

/// Commas, quotes, marks of direction, no width, a NUL: each in its place in one cell of one row.
#[test]
fn hostile_texts_stay_in_their_cells() {
    let title = "a, b; 'c' \u{202e}d\u{7}e\u{7f}";
    let book = book(&format!("car wren \"{title}\"\n2025-05-03 wren\n  10:00..10:20 run \u{202e}s1\n"));
    let rows = read(&written("cars", &book));
    assert_eq!((rows.len(), rows[1].len()), (2, table("cars").columns.len()));
    for table in &TABLES {
        let text = written(table.name, &book);
        let hides = |c: char| stringline::visible::hides(c) && !"\r\n".contains(c);
        assert!(!text.contains(hides), "{}", table.name);
    }
}

/// Whatever bytes a ledger has, the tables are written, and read back with as many cells in each row.
#[test]
fn any_bytes_make_tables() {
    let demo: Vec<String> = DEMO.files.iter().map(|(_, file)| file.text.as_str().to_owned()).collect();
    for step in [3_usize, 7, 31] {
        let mangled: String = demo
            .iter()
            .flat_map(|text| text.chars().enumerate())
            .map(|(at, c)| match at % (step * 97) {
                0 => '=',
                1 => '\u{7}',
                2 => '"',
                3 => ',',
                _ => c,
            })
            .take(20_000)
            .collect();
        let book = book(&mangled);
        super::schema::keeps_its_promises(&book, None);
        for table in &TABLES {
            let rows = read(&written(table.name, &book));
            assert!(rows.iter().all(|row| row.len() == table.columns.len()), "{}", table.name);
        }
    }
}
