//! Whatever is typed, and however fast: what is told after the last change is what `check` says of the same texts.

use super::{Client, FOLDER, file};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use stringline::diagnostics::json::render;
use stringline::source::Memory;

const NAMES: [&str; 2] = ["a.sline", "b.sline"];

const FIRST: [&str; 2] = [
    "car heron \"Heron \u{1F600}\"\nkind pad \"pad\"  fits LF RF\npart cp-07 pad  opening new\n",
    "2025-05-03 heron\n  set camber LF -3.2 deg\r\n  fit cp-07 LF\n  run s1 20 min\n  say \"\u{1F600}\" because so\n",
];

/// Pieces that a hand may type.
const PIECES: [&str; 16] = [
    "",
    " ",
    "\n",
    "\r\n",
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

/// A change: which file, from which unit to which, and what is typed there. `None` for the whole text anew.
#[derive(Debug, Clone)]
struct Change {
    file: usize,
    range: Option<([u32; 2], [u32; 2])>,
    text: &'static str,
}

fn change() -> impl Strategy<Value = Change> {
    let place = || [0_u32..6, 0..40];
    let range = prop_oneof![9 => (place(), place()).prop_map(Some), 1 => Just(None)];
    (0..2_usize, range, proptest::sample::select(&PIECES[..])).prop_map(|(file, range, text)| Change {
        file,
        range,
        text,
    })
}

/// The text with a change in it, worked out over UTF-16 units line by line, by no function of the server.
fn changed(text: &str, change: &Change) -> String {
    let Some((from, to)) = change.range else { return change.text.to_owned() };
    let units: Vec<u16> = text.encode_utf16().collect();
    let at = |[line, column]: [u32; 2]| {
        let (mut start, mut left) = (0, line);
        while left > 0 {
            let Some(end) = units[start..].iter().position(|unit| *unit == 10) else { return units.len() };
            (start, left) = (start + end + 1, left - 1);
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

/// What `check --format json` says of the texts, file by file: line and column (in UTF-16 units, from 0), check, severity.
fn checked(texts: &[String; 2]) -> BTreeMap<String, Vec<(u64, u64, u64, u64, String)>> {
    let plain = texts.each_ref().map(|text| text.strip_prefix('\u{FEFF}').unwrap_or(text));
    let files: Vec<(&str, &str)> = NAMES.into_iter().zip(plain).collect();
    let compiled = stringline::compile(&Memory::new(&files, super::NOW.parse().unwrap())).unwrap();
    let said: Value = serde_json::from_str(&render(&compiled.diagnostics, &compiled.files)).unwrap();
    let mut all: BTreeMap<String, Vec<_>> = NAMES.iter().map(|name| (file(name), Vec::new())).collect();
    for one in said["diagnostics"].as_array().unwrap() {
        let severity = ["error", "warning", "note"].iter().position(|word| one["severity"] == **word).unwrap()
            as u64
            + 1;
        let check = one["check"].as_str().unwrap().to_owned();
        let at = &one["at"];
        let path = at["path"].as_str().unwrap_or(NAMES[0]);
        let index = NAMES.iter().position(|name| *name == path).unwrap();
        let spot = |line: &str, column: &str| {
            let (Some(line), Some(column)) = (at[line].as_u64(), at[column].as_u64()) else { return (0, 0) };
            let held = plain[index].split('\n').nth(line as usize - 1).unwrap();
            let units: usize = held.chars().take(column as usize - 1).map(char::len_utf16).sum();
            let mark = usize::from(line == 1 && texts[index].starts_with('\u{FEFF}'));
            (line - 1, (units + mark) as u64)
        };
        let (from, to) = (spot("line", "column"), spot("end_line", "end_column"));
        all.get_mut(&file(path)).unwrap().push((from.0, from.1, to.0, to.1, format!("{check} {severity}")));
    }
    all
}

fn told(list: &[Value]) -> Vec<(u64, u64, u64, u64, String)> {
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
        let mut client = Client::new(&[FOLDER]);
        let mut texts = FIRST.map(str::to_owned);
        for (name, text) in NAMES.into_iter().zip(FIRST) {
            client.open(&file(name), text);
        }
        for change in &changes {
            let place = |[line, character]: [u32; 2]| json!({ "line": line, "character": character });
            let range = change.range.map(|(from, to)| json!({ "start": place(from), "end": place(to) }));
            client.change(&file(NAMES[change.file]), range, change.text);
            texts[change.file] = changed(&texts[change.file], change);
        }
        // The file that was not changed last has its newest telling by then, if it has a new one.
        let last = changes.last().unwrap().file;
        client.wrong(&file(NAMES[last]));
        let wanted = checked(&texts);
        prop_assert_eq!(&told(&client.wrong(&file(NAMES[last]))), &wanted[&file(NAMES[last])]);
        // A request answered after is answered on the newest texts, so that everything told is told.
        client.of("textDocument/documentSymbol", &file(NAMES[1 - last]));
        let other = client.told.get(&file(NAMES[1 - last])).map(|(_, list)| list.as_array().unwrap().clone());
        prop_assert_eq!(&told(&other.unwrap_or_default()), &wanted[&file(NAMES[1 - last])]);
    }
}
