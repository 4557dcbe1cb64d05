//! The balance on the car from above. Expected loads are those of a stiff body on four springs, solved for heave, pitch and roll outside
//! this program (three equations; springs 60 and 50 N/mm at 0.9 squared, tracks 1500 and 1200 mm, a turn of 1.5 mm over 0.9 at the wheel).

use super::text;
use serde_json::Value;
use stringline::Compiled;
use stringline::audience::{self, Reader};
use stringline::book::names::Thing;
use stringline::report::{Alone, Own, Report};

const CAR: &str = r#"shop "S"
client orr "O"
car heron "Heron"  client orr
  reference driver 80 kg, fuel 10 L, bars off
  wheelbase 2400 mm
  track 1500 1200 mm
  motion-ratio 0.9 0.9
  perch-pitch 1.5 1.5 mm/turn
2025-05-01 heron
  set bar-hole front off
  set bar-hole rear off
"#;
const SPRINGS: &str = "  set spring-rate front 60 N/mm\n  set spring-rate rear 50 N/mm\n";
const FOUND: &str = "2025-05-20 heron\n  found weight LF 147.2 RF 155.1 LR 151.0 RR 148.1 kg\n";
const TURNS: &str = "  adjust perch RF -1/2 turn\n  adjust perch LF -1/4 turn\n";
const LEFT: &str = "  left weight LF 148.4 RF 153.5 LR 149.6 RR 149.6 kg\n";

fn drawn(compiled: &Compiled) -> Value {
    let car = compiled.book.cars.keys().next().unwrap();
    let own = Own::new();
    let report = Report::alone(compiled, Alone::Alignment(car), &own).unwrap_or_else(|why| panic!("{why:?}"));
    let view: Value = serde_json::from_str(&report.json().unwrap()).unwrap();
    view["balance"].clone()
}

fn of(lines: &[&str]) -> Value {
    drawn(&text(&(CAR.to_owned() + &lines.concat())))
}

/// The table's rows, a text each.
fn rows(balance: &Value) -> Vec<String> {
    let cell = |cell: &Value| cell.as_str().unwrap().to_owned();
    let row = |row: &Value| row.as_array().unwrap().iter().map(cell).collect::<Vec<_>>().join(" | ");
    balance["table"]["rows"].as_array().unwrap().iter().map(row).collect()
}

fn told(balance: &Value) -> String {
    let told = balance["told"].as_array().unwrap().iter().map(|one| one.as_str().unwrap());
    told.collect::<Vec<_>>().join(". ")
}

/// The load that the diagonal lacks at 50 % of 601.1 kg is 2.55 kg, of which the front carries 1 / (1 + 1500 / 1200).
#[test]
fn found_left_expected_and_asked_for_stand_at_their_corners() {
    let balance = of(&[SPRINGS, "  set cross-weight 50.0 %\n", FOUND, TURNS, LEFT]);
    let of_corner = |row: &String| row.rsplit_once(" | ").unwrap().0.to_owned();
    let said: Vec<String> = rows(&balance).iter().map(of_corner).collect();
    assert_eq!(
        said,
        [
            "LF | 147.2 kg | -0.25 turn | 147.6 kg | 148.4 kg | 149.5 kg",
            "RF | 155.1 kg | -0.5 turn | 154.7 kg | 153.5 kg | 152.4 kg",
            "LR | 151.0 kg | – | 150.6 kg | 149.6 kg | 148.2 kg",
            "RR | 148.1 kg | – | 148.5 kg | 149.6 kg | 151.0 kg",
            "cross weight | 50.9% | – | 50.8% | 50.4% | 50.0%",
        ]
    );
    assert!(!told(&balance).contains("taken as equal"), "{}", told(&balance));
    let corners = balance["above"]["corners"].as_array().unwrap();
    assert_eq!(corners[0]["moved"], true);
    assert_eq!(corners[2]["moved"], false);
    let expected: Vec<bool> =
        corners[2]["values"].as_array().unwrap().iter().map(|one| one["expected"] == true).collect();
    assert_eq!(expected, [false, true, true]);
}

/// Turned and not weighed again: what was left is not known, and is hatched; nothing is asked for from a weighing that is no more.
#[test]
fn what_was_not_weighed_again_is_hatched() {
    let balance = of(&[SPRINGS, "  set cross-weight 50.0 %\n", FOUND, TURNS]);
    assert_eq!(rows(&balance)[0], "LF | 147.2 kg | -0.25 turn | 147.6 kg | – | – | –");
    assert!(balance["above"]["corners"].as_array().unwrap().iter().all(|corner| corner["unread"] == true));
    assert!(told(&balance).contains("it was not weighed again"), "{}", told(&balance));
}

#[test]
fn without_springs_nothing_is_expected() {
    let balance = of(&[FOUND, TURNS, LEFT]);
    assert_eq!(rows(&balance)[0], "LF | 147.2 kg | -0.25 turn | – | 148.4 kg | – | –");
    assert!(told(&balance).contains("Expected is not known: springs and tracks say it, and that needs"));
    assert_eq!(balance["above"]["corners"][0]["unread"], true);
}

/// Without tracks both are taken as equal, and that is said: half of 2.55 kg each.
#[test]
fn tracks_that_are_not_stated_are_taken_as_equal_aloud() {
    let all = CAR.replace("  track 1500 1200 mm\n", "")
        + SPRINGS
        + "  set cross-weight 50.0 %\n"
        + FOUND
        + TURNS
        + LEFT;
    let balance = drawn(&text(&all));
    assert!(rows(&balance)[0].contains("| 148.4 kg | 149.7 kg"), "{:?}", rows(&balance));
    assert!(told(&balance).contains("taken as equal"), "{}", told(&balance));
}

/// Whatever else may have moved the load between two weighings leaves nothing to hold them against, and a pad read alone makes another
/// weighing of it.
#[test]
fn what_else_moved_the_load_leaves_nothing_to_say() {
    for between in [
        "  set spring-rate LF 70 N/mm\n",
        "  09:00..09:20 run s1\n",
        "  hit RF\n",
        "  adjust preload LF +1 turn\n",
        "  adjust perch LF -1/4 trun\n",
        "  set fuel 20 L\n",
    ] {
        assert!(of(&[SPRINGS, FOUND, TURNS, between, LEFT])["above"].is_null(), "{between}");
        assert!(of(&[SPRINGS, FOUND, TURNS, between])["above"].is_null(), "{between}");
    }
    assert!(of(&[SPRINGS, FOUND, TURNS, LEFT, "  read weight LF 148.9 kg\n"])["above"].is_null());
    assert!(
        of(&[SPRINGS, FOUND, "  left weight LF 148.4 RF 153.5 LR 149.6 RR 149.6 kg\n"])["above"].is_null()
    );
}

/// A turn that its reader may not read is no turn he is told of, and no load he is told of rests on it.
#[test]
fn who_may_not_read_a_turn_is_told_of_none() {
    let turns = TURNS.replace("-1/4 turn", "-1/4 turn  for shop");
    let whole = text(&(CAR.to_owned() + SPRINGS + FOUND + &turns + LEFT));
    assert!(drawn(&whole)["above"].is_object());
    let Some(Thing::Client(client)) = whole.book.names.find("orr") else { panic!("no client") };
    assert!(drawn(&audience::cut(&whole, &Reader::Client(client)))["above"].is_null());
}
