//! What an edit that is offered may do: put one word right, and never lose or bring in a number or words.

use super::{Client, FOLDER, file};
use serde_json::{Value, json};
use stringline::editor::text::Text;

const CARS: &str = "\
shop \"Hollin Lane\"  currency EUR  rate 58.00 EUR
person ned \"Ned\"
circuit pell \"Pell\"
event pell-1 2025-05-03 at pell \"Pell\"
client orr \"Orr\"
car heron \"Heron\"  client orr
kind tyre \"tyre\"  fits LF RF LR RR on heron
part t1 tyre
";

const HEAD: &str = "2025-05-03 heron at pell-1\n  set camber LF -3.0 deg\n";

/// The texts that the quick fixes of a line make of it.
fn fixed(line: &str) -> Vec<String> {
    let mut client = Client::new(&[FOLDER]);
    let day = file("day.sline");
    client.open(&file("cars.sline"), CARS);
    let text = format!("{HEAD}{line}\n");
    client.open(&day, &text);
    assert!(!client.checks(&day).is_empty(), "{line}");
    let range = Text::new(&text).whole();
    let asked = json!({ "textDocument": { "uri": day }, "range": range, "context": { "diagnostics": [] } });
    let fixes = client.ask("textDocument/codeAction", asked).unwrap();
    let made = |fix: &Value| {
        let edit = &fix["edit"]["changes"][&day][0];
        let place = serde_json::from_value(edit["range"].clone()).unwrap();
        let new = Text::new(&text).replaced(place, edit["newText"].as_str().unwrap());
        new.strip_prefix(HEAD).unwrap_or(&new).trim_end().to_owned()
    };
    fixes.as_array().unwrap().iter().map(made).collect()
}

/// `2.25 h` stands in the message so that one sees how a time is written; nobody worked it.
#[test]
fn an_example_is_no_edit() {
    for line in [
        "  hours 3  by ned",
        "  hours  by ned",
        "  cost EUR parts",
        "  set tyre-cold 1.5 bar",
        "  read camber -3.1 deg",
        "  set camber LF -2.5 -> -2.0 deg",
    ] {
        assert_eq!(fixed(line), Vec::<String>::new(), "{line}");
    }
}

#[test]
fn no_number_and_no_word_is_lost() {
    for line in [
        "  buy t1 3t8.00 EUR",
        "  say mid push \"open",
        " heron at pell-1",
        "  read camber LF -33 deg",
        "  set camber LF 3t8.0 deg",
    ] {
        assert_eq!(fixed(line), Vec::<String>::new(), "{line}");
    }
}

#[test]
fn the_wrong_word_is_put_right_and_the_same_digits_stay() {
    for (line, right) in [
        ("  set camber RF -3,0 deg", "  set camber RF -3.0 deg"),
        ("  set cambr RF -3.0 deg", "  set camber RF -3.0 deg"),
        ("  reed camber RF -3.0 deg", "  read camber RF -3.0 deg"),
    ] {
        assert!(fixed(line).contains(&right.to_owned()), "{line}: {:?}", fixed(line));
    }
}
