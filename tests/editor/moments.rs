//! Which moment a line stands for: its own; about a part that says `after s1`, the end of that session.

use super::{Client, FOLDER, file};
use serde_json::{Value, json};

const CARS: &str = "\
car heron \"Heron\"
kind pad \"brake pad\"  fits LF RF
kind damper \"damper\"  fits LF RF  carries bump
part cp-07 pad  opening new
part da-1 damper  opening new
";

const DAY: &str = "\
2025-05-03 heron
  fit cp-07 LF
  run s1 20 min
  run s2 15 min
";

fn open(lines: &str) -> (Client, String, String) {
    let mut client = Client::new(&[FOLDER]);
    let day = file("day.sline");
    client.open(&file("cars.sline"), CARS);
    let text = format!("{DAY}{lines}");
    client.open(&day, &text);
    assert_eq!(client.checks(&day), Vec::<String>::new());
    (client, day, text)
}

fn hover(lines: &str, words: &str) -> String {
    let (mut client, day, text) = open(lines);
    let said = client.at("textDocument/hover", (&day, &text), words, &json!({})).unwrap();
    said["contents"]["value"].as_str().unwrap_or_default().to_owned()
}

/// 20 and 15 min: what was read after s1 and typed later does not take the clock back for the lines under it.
#[test]
fn a_line_after_a_session_does_not_move_the_lines_under_it() {
    let said = hover("  read tyre-hot LF 1.70 bar  after s1\n  remove cp-07\n", "remove cp-^07");
    assert!(said.contains("has run 35 min before this line"), "{said}");
}

/// A part that was taken off after s1 has run 20 min, wherever the line stands.
#[test]
fn a_line_about_a_part_after_a_session_stands_at_its_end() {
    let said = hover("  remove cp-07  after s1\n", "remove cp-^07");
    assert!(said.contains("has run 20 min before this line"), "{said}");
}

/// Values go by the order of the lines: the one above is the one before, as `old-value-differs` has it.
#[test]
fn a_value_after_a_session_is_changed_from_the_line_above() {
    let lines = "  set camber LF -2.6 deg\n  set camber LF -2.6 -> -2.7 deg  after s1\n";
    let said = hover(lines, "-2.6 -> -2^.7");
    assert!(said.starts_with("last LF -2.6 deg, set on 2025-05-03"), "{said}");
}

/// A new line, which is no entry yet, comes after everything above it.
#[test]
fn a_line_that_is_being_typed_comes_after_those_above_it() {
    let (mut client, day, text) = open(
        "  set camber LF -3.0 deg\n  set camber LF -3.0 -> -2.5 deg  after s2\n  read tyre-hot LF 1.70 bar  after s1\n",
    );
    let more = format!("{text}  set camber LF ");
    client.change(&day, None, &more);
    let at = stringline::editor::text::Text::new(&more).position(more.len());
    let asked = json!({ "textDocument": { "uri": day }, "position": at });
    let offers = client.ask("textDocument/completion", asked).unwrap();
    assert_eq!(offers["items"][0]["label"], "-2.5 deg -> ", "{offers:#}");
}

#[test]
fn jobs_above_a_head_are_those_at_its_end_whatever_line_stands_last() {
    let (mut client, day, _) =
        open("  job squeak \"front squeaks\"  after s1\n  read tyre-hot LF 1.70 bar  after s1\n");
    let lenses = client.of("textDocument/codeLens", &day);
    assert_eq!(lenses[0]["command"]["title"], "1 job open");
    assert_eq!(lenses.as_array().map(Vec::len), Some(1));
}

/// Under the car's head stand readings of parts too; they are no slot of the car.
#[test]
fn a_bench_line_is_not_answered_with_the_cars_slot() {
    let lines = "  set bump LF 4 clicks from soft\n  bench da-1 bump 7, 7 clicks from soft\n";
    for words in ["da-1 bu^mp", "bump ^7"] {
        let said = hover(lines, words);
        assert!(!said.contains("last"), "{words}: {said}");
    }
    let (mut client, day, text) = open("  set camber LF -3.0 deg\n");
    let more = format!("{text}  bench da-1 camber LF ");
    client.change(&day, None, &more);
    let at = stringline::editor::text::Text::new(&more).position(more.len());
    let asked = json!({ "textDocument": { "uri": day }, "position": at });
    let offers = client.ask("textDocument/completion", asked).unwrap();
    let value = |one: &&Value| one["label"].as_str().unwrap().contains("-3.0");
    assert_eq!(offers["items"].as_array().unwrap().iter().find(value), None);
}

/// The first line under a run stands at the moment during it; what it says itself was not there last time.
#[test]
fn a_line_under_a_run_is_not_its_own_last_time() {
    let lines = "  read tyre-hot LF 1.50 bar\n  run s3 10 min\n    read tyre-hot LF 1.70 bar\n    read tyre-hot LF 1.80 bar\n";
    let said = hover(lines, "LF 1.7^0");
    assert!(said.starts_with("last LF 1.50 bar, read on 2025-05-03"), "{said}");
    let said = hover(lines, "LF 1.8^0");
    assert!(said.starts_with("last LF 1.70 bar, read on 2025-05-03"), "{said}");
}
