//! A book's facts as the rows that a table of a database would hold: one row a value.
//!
//! Knows the library's public model.

use std::fmt::Write as _;
use stringline::Compiled;
use stringline::book::entry::{By, Entry, Item};

/// The columns.
pub const COLUMNS: &str = "file,line,date,car,verb,quantity,place,value,unit,by,because";

/// The rows as comma-separated values; a line without values is one row.
pub fn rows(compiled: &Compiled) -> String {
    let Compiled { files, book, .. } = compiled;
    let mut out = String::new();
    let mut line = 1;
    let mut before = (u32::MAX, 0_usize);
    for entry in &book.entries {
        if before.0 != entry.file.0 {
            before = (entry.file.0, 0);
            line = 1;
        }
        let text = &files.get(entry.file).expect("a file of the book").text;
        line += memchr::memchr_iter(b'\n', &text.as_bytes()[before.1..entry.start as usize]).count();
        before.1 = entry.start as usize;
        let items = book.items_of(entry);
        if items.is_empty() {
            row(&mut out, compiled, entry, line, None);
        }
        for item in items {
            row(&mut out, compiled, entry, line, Some(item));
        }
    }
    out
}

fn row(out: &mut String, compiled: &Compiled, entry: &Entry, line: usize, item: Option<&Item>) {
    let Compiled { files, book, .. } = compiled;
    let head = book.head(entry);
    let _ = write!(out, "{},{line},", files.path(entry.file));
    if let Some(head) = head {
        let _ = write!(out, "{}", head.date);
    }
    out.push(',');
    if let Some(car) = head.and_then(|head| head.car).and_then(|car| book.cars.get(car)) {
        out.push_str(&car.named.typed);
    }
    let _ = write!(out, ",{},", entry.verb.word());
    if let Some(quantity) = entry.quantity {
        out.push_str(&book.vocabulary.get(quantity).name);
    }
    out.push(',');
    match item {
        Some(item) => {
            let typed = files.text(item.span(entry.file));
            let unit = item.unit().get().shown();
            let _ = write!(out, "{},{},{unit}", book.place_word(item.place), quoted(typed));
        }
        None => out.push_str(",,"),
    }
    out.push(',');
    match entry.by {
        By::Gauge(gauge) => out.push_str(&book.gauges[gauge].named.typed),
        By::Person(person) => out.push_str(&book.people[person].named.typed),
        By::Nobody => {}
    }
    let because = book.extra(entry).and_then(|extra| extra.because).map_or("", |span| files.text(span));
    let _ = writeln!(out, ",{}", quoted(because));
}

fn quoted(text: &str) -> String {
    if text.contains([',', '"', '\n']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}
