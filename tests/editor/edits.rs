//! Whatever is typed, and however fast: what is told after the last change is what `check` says of the same texts.

use super::{Client, FOLDER, file};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use stringline::diagnostics::json::render;
use stringline::source::Memory;

/// The files: two of one book, and one of a book inside its folder, which both of them read and only the inner one tells of.
const NAMES: [&str; 3] = ["a.sline", "b.sline", "inner/c.sline"];

const FIRST: [&str; 3] = [
    "car heron \"Heron \u{1F600}\"\nkind pad \"pad\"  fits LF RF\npart cp-07 pad  opening new\n",
    "2025-05-03 heron\n  set camber LF -3.2 deg\r\n  fit cp-07 LF\n  run s1 20 min\n  say \"\u{1F600}\" because so\n",
    "car teal \"Teal\"\r2025-05-04 heron\n  say \"fine\"\n",
];

/// Pieces that a hand may type.
const PIECES: [&str; 17] = [
    "",
    " ",
    "\n",
    "\r\n",
    "\r",
    "  set camber LF -3.2 -> -3.0 deg\n",
    "fit cp-07 RF",
    "part",
    "cp-o7",
    "\u{1F600}",
    "é",
    "\"",
    "car heron \"x\"\n",
    "2025-05-04 heron\n",
    "  remove cp-07\n",
    "-3,2",
    "\u{FEFF}",
];

/// A change: which file, from which unit to which, and what is typed there. `None` for the whole text anew. `waits`: what is wrong is looked
/// at before more is typed.
#[derive(Debug, Clone)]
struct Change {
    file: usize,
    range: Option<([u32; 2], [u32; 2])>,
    text: &'static str,
    waits: bool,
}

fn change() -> impl Strategy<Value = Change> {
    let place = || [0_u32..6, 0..40];
    let range = prop_oneof![9 => (place(), place()).prop_map(Some), 1 => Just(None)];
    let piece = proptest::sample::select(&PIECES[..]);
    (0..NAMES.len(), range, piece, proptest::bool::weighted(0.3))
        .prop_map(|(file, range, text, waits)| Change { file, range, text, waits })
}

/// The text with a change in it, worked out over UTF-16 units line by line, by no function of the server.
fn changed(text: &str, change: &Change) -> String {
    let Some((from, to)) = change.range else { return change.text.to_owned() };
    let units: Vec<u16> = text.encode_utf16().collect();
    let at = |[line, column]: [u32; 2]| {
        let (mut start, mut left) = (0, line);
        while left > 0 {
            let ends = |unit: &u16| matches!(*unit, 10 | 13);
            let Some(end) = units[start..].iter().position(ends) else { return units.len() };
            let both = units[start + end..].starts_with(&[13, 10]);
            (start, left) = (start + end + 1 + usize::from(both), left - 1);
        }
        let held = units[start..].iter().take_while(|unit| **unit != 10 && **unit != 13).count();
        let mut place = start + held.min(column as usize);
        if units.get(place).is_some_and(|unit| (0xDC00..0xE000).contains(unit)) {
            place -= 1;
        }
        place
    };
    let (from, to) = (at(from).min(at(to)), at(from).max(at(to)));
    let all = [&units[..from], &change.text.encode_utf16().collect::<Vec<u16>>(), &units[to..]].concat();
    String::from_utf16(&all).unwrap()
}

/// What `check --format json` says of the texts of both books, file by file: line and column (in UTF-16 units, from 0), check, severity.
fn checked(texts: &[String; 3]) -> BTreeMap<String, Vec<Row>> {
    let mut all = of_book(texts, 0);
    all.remove(&file(NAMES[2]));
    all.extend(of_book(texts, 2));
    all
}

/// Of one book: the files from `first` on.
fn of_book(texts: &[String; 3], first: usize) -> BTreeMap<String, Vec<Row>> {
    let plain = texts.each_ref().map(|text| text.strip_prefix('\u{FEFF}').unwrap_or(text));
    let files: Vec<(&str, &str)> = NAMES.into_iter().zip(plain).skip(first).collect();
    let compiled = stringline::compile(&Memory::new(&files, super::NOW.parse().unwrap())).unwrap();
    let said: Value = serde_json::from_str(&render(&compiled.diagnostics, &compiled.files)).unwrap();
    let mut all: BTreeMap<String, Vec<_>> =
        NAMES.iter().skip(first).map(|name| (file(name), Vec::new())).collect();
    for one in said["diagnostics"].as_array().unwrap() {
        let severity = ["error", "warning", "note"].iter().position(|word| one["severity"] == **word).unwrap()
            as u64
            + 1;
        let check = one["check"].as_str().unwrap().to_owned();
        let at = &one["at"];
        let path = at["path"].as_str().unwrap_or(NAMES[first]);
        let index = NAMES.iter().position(|name| *name == path).unwrap();
        let spot = |line: &str, column: &str| {
            let (Some(line), Some(column)) = (at[line].as_u64(), at[column].as_u64()) else { return (0, 0) };
            // A line of the book ends at a line feed, one of the client's at a lone carriage return too.
            let above: usize = plain[index].split_inclusive('\n').take(line as usize - 1).map(str::len).sum();
            let on =
                plain[index][above..].chars().take(column as usize - 1).map(char::len_utf8).sum::<usize>();
            let mark = texts[index].len() - plain[index].len();
            let before = texts[index][..mark + above + on].replace("\r\n", "\n").replace('\r', "\n");
            let last = before.rsplit('\n').next().unwrap();
            let ended = before.matches('\n').count() as u64;
            (ended, last.encode_utf16().count() as u64)
        };
        let (from, to) = (spot("line", "column"), spot("end_line", "end_column"));
        all.get_mut(&file(path)).unwrap().push((from.0, from.1, to.0, to.1, format!("{check} {severity}")));
    }
    all
}

/// From which line and column to which, and what is said.
type Row = (u64, u64, u64, u64, String);

fn told(list: &[Value]) -> Vec<Row> {
    let number = |one: &Value, path: &str| one.pointer(path).unwrap().as_u64().unwrap();
    let row = |one: &Value| {
        let place =
            ["/range/start/line", "/range/start/character", "/range/end/line", "/range/end/character"];
        let [a, b, c, d] = place.map(|path| number(one, path));
        (a, b, c, d, format!("{} {}", one["code"].as_str().unwrap(), one["severity"]))
    };
    list.iter().map(row).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn what_is_told_last_is_what_check_says(changes in proptest::collection::vec(change(), 1..12)) {
        let inner = file("inner");
        let mut client = Client::new(&[FOLDER, &inner]);
        let mut texts = FIRST.map(str::to_owned);
        for (name, text) in NAMES.into_iter().zip(FIRST) {
            client.open(&file(name), text);
        }
        for change in &changes {
            let place = |[line, character]: [u32; 2]| json!({ "line": line, "character": character });
            let range = change.range.map(|(from, to)| json!({ "start": place(from), "end": place(to) }));
            client.change(&file(NAMES[change.file]), range, change.text);
            texts[change.file] = changed(&texts[change.file], change);
            if change.waits {
                client.wrong(&file(NAMES[change.file]));
            }
        }
        client.wrong(&file(NAMES[changes.last().unwrap().file]));
        // All books are told of before a request that comes meanwhile is answered.
        client.of("textDocument/documentSymbol", &file(NAMES[0]));
        let wanted = checked(&texts);
        for name in NAMES {
            let list = client.told.get(&file(name)).map(|(_, list)| list.as_array().unwrap().clone());
            prop_assert_eq!(&told(&list.unwrap_or_default()), &wanted[&file(name)], "{}", name);
        }
    }
}
