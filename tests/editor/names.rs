//! When a name cannot be given, or keeps what it has: its word stands for something else too.

use super::{Client, FOLDER, file};
use serde_json::json;

const CARS: &str = "\
car heron \"Heron\"  class club-a
kind pad \"brake pad\"  fits LF RF
spec soft of pad \"Soft\"
part cp-07 pad  opening new
part s1 pad  opening new
part wet pad  opening new
person soft \"Marta Brook\"
";

const DAY: &str = "\
2025-05-03 heron
  fit cp-07 LF
  fit s1 RF
  run s1 20 min  with wet
  read tyre-hot LF 1.70 bar  with driver 78 kg
";

fn renamed(words: &str, new: &str) -> String {
    let mut client = Client::new(&[FOLDER]);
    client.open(&file("cars.sline"), CARS);
    let text = file("day.sline");
    client.open(&text, DAY);
    client.wrong(&text);
    let cars = file("cars.sline");
    let document = if CARS.contains(&words.replace('^', "")) { (&*cars, CARS) } else { (&*text, DAY) };
    let done = client.at("textDocument/rename", document, words, &json!({ "newName": new }));
    done.map_or_else(|(_, words)| words, |edits| edits.to_string())
}

#[test]
fn a_name_that_is_also_another_word_keeps_it() {
    for (words, sort) in
        [("fit s^1", "a session"), ("person so^ft", "a spec"), ("part we^t", "a word of a condition")]
    {
        let name = words.split(' ').next_back().unwrap().replace('^', "");
        let wanted = format!(
            "`{name}` is {sort} too: which of the two a line means is not told apart, so it keeps its name."
        );
        assert_eq!(renamed(words, "fresh"), wanted);
    }
}

#[test]
fn a_word_that_stands_for_something_else_is_no_new_name() {
    for (new, sort) in [
        ("S1", "a part already."),
        ("club-a", "a class already."),
        ("driver", "a word of a condition already."),
    ] {
        assert_eq!(renamed("fit cp-^07", new), format!("`{new}` is {sort}"));
    }
    assert!(renamed("fit cp-^07", "cp-70").contains("changes"));
}

#[test]
fn a_session_or_a_spec_is_no_new_name() {
    let mut client = Client::new(&[FOLDER]);
    let cars = "car heron \"Heron\"\nkind pad \"pad\"  fits LF RF\nspec soft of pad \"Soft\"\npart cp-07 pad  opening new\n";
    let day = "2025-05-03 heron\n  run s1 20 min\n";
    client.open(&file("cars.sline"), cars);
    client.open(&file("day.sline"), day);
    for (new, words) in [("s1", "`s1` is a session already."), ("soft", "`soft` is a spec already.")] {
        let done = client.at(
            "textDocument/rename",
            (&file("cars.sline"), cars),
            "part cp-^07",
            &json!({ "newName": new }),
        );
        assert_eq!(done.unwrap_err(), (-32803, words.to_owned()));
    }
}

/// What a byte that is no character stood for is not known: the file is left as it is.
#[test]
fn a_file_that_is_not_all_utf8_is_not_written_into() {
    let folder = tempfile::tempdir().unwrap();
    let address = stringline::editor::address::of(folder.path());
    let cars = "car heron \"Heron\"\n";
    std::fs::write(folder.path().join("day.sline"), b"2025-05-03 heron\n  say \"caf\xE9\"\n").unwrap();
    let mut client = Client::new(&[&address]);
    let open = format!("{address}/cars.sline");
    client.open(&open, cars);
    let done = client.at("textDocument/rename", (&open, cars), "car her^on", &json!({ "newName": "teal" }));
    let words = "`day.sline` is not all UTF-8, so nothing is written into it.";
    assert_eq!(done.unwrap_err(), (-32803, words.to_owned()));
}
