//! What stands beside a reading: what its gauge's comparisons make of it, and when nothing does.

use super::{Client, FOLDER, file};
use serde_json::json;
use stringline::editor::text::Text;

const CARS: &str = "\
car heron \"Heron\"  toe-over 400 mm
gauge pg-1 \"Dial gauge\"  reads tyre-hot
gauge pg-2 \"Pencil gauge\"  reads tyre-hot
gauge pg-3 \"Old gauge\"  reads tyre-hot
gauge cg-1 \"Camber gauge\"  reads camber
gauge st-1 \"String and steel rule\"  reads toe-in
2025-05-01
  compare pg-1 1.84 reference 1.80 bar
  compare pg-2 1.62 pg-3 1.57 bar
  compare cg-1 0.2 reference 0.0 deg
  compare st-1 3.5 reference 3.0 mm
";

/// The hints beside some lines under a head of the car.
fn hints(lines: &str) -> Vec<String> {
    let mut client = Client::new(&[FOLDER]);
    let (cars, day) = (file("cars.sline"), file("day.sline"));
    client.open(&cars, CARS);
    assert_eq!(client.checks(&cars), Vec::<String>::new());
    let text = format!("2025-05-03 heron\n{lines}");
    client.open(&day, &text);
    client.wrong(&day);
    let asked = json!({ "textDocument": { "uri": day }, "range": Text::new(&text).whole() });
    let hints = client.ask("textDocument/inlayHint", asked).unwrap();
    hints.as_array().unwrap().iter().map(|one| one["label"].as_str().unwrap().to_owned()).collect()
}

/// The gauge reads 1.84 - 1.80 = 0.04 bar high.
#[test]
fn a_reading_is_shown_as_its_gauge_would_have_it_against_the_reference() {
    assert_eq!(
        hints("  read tyre-hot LF 1.90 RF 1.86 bar  by pg-1\n"),
        ["corrected LF 1.860 bar, RF 1.820 bar"]
    );
}

#[test]
fn a_reading_without_a_value_has_none() {
    assert_eq!(hints("  read tyre-hot LF - RF 1.86 bar  by pg-1\n"), ["corrected RF 1.820 bar"]);
}

/// -3.0 as it reads 0.2 too high is -3.2; what it was before the arrow was another line's reading.
#[test]
fn an_old_value_is_not_corrected() {
    assert_eq!(hints("  set camber LF -3.2 -> -3.0 deg  by cg-1\n"), ["corrected LF -3.20 deg"]);
}

#[test]
fn a_change_is_the_same_by_any_gauge() {
    let lines = "  set camber LF -3.0 deg\n  adjust camber LF +0.5 deg  by cg-1\n";
    assert_eq!(hints(lines), Vec::<String>::new());
}

#[test]
fn what_does_not_count_is_not_corrected() {
    assert_eq!(hints("  read tyre-hot LF 1.90 bar  by pg-1\n    void\n"), Vec::<String>::new());
    assert_eq!(hints("  read tyre-hot LF 1.90 barr  by pg-1\n"), Vec::<String>::new());
}

/// Of two gauges that were held against one another alone nobody knows which is right.
#[test]
fn without_a_reference_nothing_is_put_right() {
    assert_eq!(hints("  read tyre-hot LF 1.90 bar  by pg-2\n"), Vec::<String>::new());
    assert_eq!(hints("  read tyre-hot LF 1.90 bar  by pg-3\n"), Vec::<String>::new());
}

/// Toe typed as a length is kept as an angle: 2.0 mm read 0.5 mm high is 1.5 mm in. Toe is kept in positive, so that 1.5 mm out is
/// -1.5, less 0.5: 2.0 mm out.
#[test]
fn toe_is_put_right_in_the_length_and_the_sense_of_its_line() {
    assert_eq!(hints("  found toe-in LF 2.0 mm  by st-1\n"), ["corrected LF 1.50 mm"]);
    assert_eq!(hints("  found toe-out LF 1.5 mm  by st-1\n"), ["corrected LF 2.00 mm"]);
    assert_eq!(hints("  found toe-in front 2.0 mm total  by st-1\n"), ["corrected front 1.50 mm"]);
}
