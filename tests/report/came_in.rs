//! The tyres as they came in, on the car from above, and what is drawn below the laps. Expected numbers are those typed here.

use super::text;
use serde_json::Value;
use stringline::Compiled;
use stringline::audience::{self, Reader};
use stringline::book::names::Thing;
use stringline::report::{Alone, Own, Report};

const BOOK: &str = r#"shop "S"
client orr "O"
circuit k "K"  length 2 km
event e1 2026-05-02..02 at k  entered heron
gauge pg "pressures"  reads tyre-cold, tyre-hot  resolution 0.01 bar
gauge pg-2 "pressures"  reads tyre-cold, tyre-hot  resolution 0.01 bar
car heron "Heron"  client orr  drive rear
kind tyre-set "set of four"  fits all  life 30 heat-cycles
part T1 tyre-set  opening 20 min
part T2 tyre-set  opening new
2026-05-02 heron at e1
  fit T1
  set tyre-cold 1.40 1.41 1.30 1.31 bar  by pg
  run s1 20 min 5 laps  best 1:10.0
    read tyre-hot LF 1.71 RF 1.74 LR 1.66 bar  by pg
    read tyre-temp LF 86/81/73 RF 90/83/75 LR 80/78/74 C
  read tread 4.1 3.8 4.6 4.6 mm
  run s2 20 min 5 laps  best 1:09.0
    read oil-temp 104 C
  run s3 20 min 5 laps  best 1:09.5
"#;

fn there(compiled: &Compiled) -> Value {
    let event = compiled.book.events.keys().next();
    let own = Own::new();
    let report = Report::alone(compiled, Alone::Event(event), &own).unwrap_or_else(|why| panic!("{why:?}"));
    let view: Value = serde_json::from_str(&report.json().unwrap()).unwrap();
    view["cars"][0].clone()
}

/// "pressure 1.40 → 1.71" of each value at a corner.
fn corner(tyres: &Value, index: usize) -> Vec<String> {
    let text = |value: &Value| value["text"].as_str().unwrap_or_default().to_owned();
    let one = |value: &Value| {
        let then =
            if value["then"].is_null() { String::new() } else { format!("{} → ", text(&value["then"])) };
        format!(
            "{} {then}{} {}",
            value["name"].as_str().unwrap(),
            text(&value["now"]),
            value["far"].as_str().unwrap()
        )
    };
    tyres["above"]["corners"][index]["values"].as_array().unwrap().iter().map(one).collect()
}

/// "out 86" of each temperature of a corner, from left to right, and how high they stand.
fn treads(tyres: &Value, index: usize) -> (Vec<String>, Vec<u64>) {
    let all = tyres["above"]["corners"][index]["treads"].as_array().unwrap();
    let one = |one: &Value| {
        format!("{} {}", one["label"].as_str().unwrap(), one["value"]["text"].as_str().unwrap())
    };
    (all.iter().map(one).collect(), all.iter().map(|one| one["high"].as_u64().unwrap()).collect())
}

#[test]
fn three_temperatures_lie_as_the_tread_does() {
    let tyres = &there(&text(BOOK))["tyres"];
    assert_eq!(tyres["session"], "s1");
    // 73 to 90 is 4 to 24: 86 is 13/17 of the way, 81 is 8/17.
    assert_eq!(treads(tyres, 0), (vec!["out 86".into(), "mid 81".into(), "in 73".into()], vec![19, 13, 4]));
    assert_eq!(treads(tyres, 1).0, ["in 75", "mid 83", "out 90"]);
    assert_eq!(treads(tyres, 1).1[2], 24);
    assert_eq!(corner(tyres, 0), ["pressure 1.40 → 1.71 ", "tread left 4.1 2 May"]);
    // Nobody read the right rear: hatched, and said.
    assert_eq!(treads(tyres, 3).0, [""; 0]);
    assert_eq!(
        corner(tyres, 3),
        ["tread temperature not read ", "pressure 1.31 → – ", "tread left 4.6 2 May"]
    );
    let unread = |index: usize| tyres["above"]["corners"][index]["unread"].as_bool().unwrap();
    assert_eq!([unread(0), unread(1), unread(2), unread(3)], [false, false, false, true]);
    assert_eq!(
        tyres["told"],
        serde_json::json!(["Tread temperatures were not read at RR", "Hot pressures were not read at RR"])
    );
    // 20 min before the book, 20 in s1; what it ran later is not of that session.
    assert_eq!(tyres["above"]["whole"][0]["name"], "T1 has run");
    assert_eq!(tyres["above"]["whole"][0]["now"]["text"], "40 min");
    let row: Vec<&str> =
        tyres["table"]["rows"][1].as_array().unwrap().iter().map(|cell| cell.as_str().unwrap()).collect();
    assert_eq!(row, ["RF", "90 C", "83 C", "75 C", "1.41 bar", "1.74 bar", "3.8 mm", "40 min"]);
}

/// What was read of other tyres is not told of these: a pressure set before they went on, a tread read after they came off.
#[test]
fn other_tyres_have_their_own() {
    let late = BOOK.replace("  fit T1\n", "").replace("  run s1", "  fit T1\n  run s1");
    let tyres = &there(&text(&late))["tyres"];
    assert_eq!(corner(tyres, 0), ["hot pressure 1.71 ", "tread left 4.1 2 May"]);
    let off = BOOK.replace("  read tread", "  swap tyre-set all T1 -> T2\n  read tread");
    let tyres = &there(&text(&off))["tyres"];
    assert_eq!(corner(tyres, 0), ["pressure 1.40 → 1.71 "]);
    assert_eq!(tyres["above"]["whole"][0]["now"]["text"], "40 min");
    // A set that carries its tread keeps it, wherever it lies.
    let carried = off
        .replace("fits all  life", "fits all  carries tread  life")
        .replace("  swap tyre-set", "  read tread 4.3 4.0 4.8 4.8 mm\n  swap tyre-set");
    let tyres = &there(&text(&carried))["tyres"];
    assert_eq!(corner(tyres, 0)[1], "tread left 4.3 2 May");
}

#[test]
fn two_gauges_and_unknown_use_are_said() {
    let two = BOOK.replace("1.66 bar  by pg", "1.66 bar  by pg-2").replace("  opening 20 min", "");
    let tyres = &there(&text(&two))["tyres"];
    assert!(tyres["told"].to_string().contains("by two gauges"), "{}", tyres["told"]);
    assert_eq!(tyres["above"]["whole"][0]["now"]["text"], "at least 20 min");
}

/// Without any temperature the last hot pressures stand alone; without those nothing.
#[test]
fn what_nobody_read_is_not_drawn() {
    let temps = BOOK.lines().find(|line| line.contains("tyre-temp")).unwrap();
    let hot = BOOK.lines().find(|line| line.contains("read tyre-hot")).unwrap();
    let cold = BOOK.replace(temps, "");
    let tyres = &there(&text(&cold))["tyres"];
    assert_eq!(treads(tyres, 0).0, [""; 0]);
    assert_eq!(corner(tyres, 0)[0], "pressure 1.40 → 1.71 ");
    assert!(there(&text(&cold.replace(hot, "")))["tyres"].is_null());
}

/// A reading that is the shop's own is none to the client, here and below the laps.
#[test]
fn who_may_not_read_it_sees_none() {
    let book = BOOK
        .replace("LR 80/78/74 C", "LR 80/78/74 C  for shop")
        .replace("1.66 bar  by pg", "1.66 bar  by pg  for shop");
    let whole = text(&book);
    assert!(there(&whole)["tyres"].is_object());
    let Some(Thing::Client(client)) = whole.book.names.find("orr") else { panic!("no client") };
    let his = there(&audience::cut(&whole, &Reader::Client(client)));
    assert!(his["tyres"].is_null(), "{his}");
    assert_eq!(his["laps"]["below"].as_array().unwrap().len(), 1);
}

/// 86 less 73 is 13, 90 less 75 is 15, 80 less 74 is 6; a session that read nothing has no mark.
#[test]
fn what_was_read_stands_below_the_laps() {
    let laps = &there(&text(BOOK))["laps"];
    let names: Vec<&str> =
        laps["below"].as_array().unwrap().iter().map(|row| row["name"].as_str().unwrap()).collect();
    assert_eq!(names, ["hot pressure, bar", "hottest less coolest of each tread, C", "oil, C"]);
    let marks = |row: usize| laps["below"][row]["marks"].as_array().unwrap().len();
    assert_eq!([marks(0), marks(1), marks(2)], [3, 3, 1]);
    // The oil stands under s2's lap.
    assert_eq!(laps["below"][2]["marks"][0]["x"], laps["marks"][1]["x"]);
    let cells = |row: usize| -> Vec<&str> {
        let cells = laps["table"]["rows"][row].as_array().unwrap();
        cells[5..].iter().map(|cell| cell.as_str().unwrap()).collect()
    };
    assert_eq!(cells(0), ["1.71 / 1.74 / 1.66 / –", "13 / 15 / 6 / –", "–"]);
    assert_eq!(cells(1), ["–", "–", "104"]);
    assert_eq!(cells(2), ["–", "–", "–"]);
}

/// An imperial car has its own units: 104 C is 219.2 F, a difference of 13 C 23.4 F, 1.71 bar 24.8 psi.
#[test]
fn rows_are_in_the_car_s_own_units() {
    let laps = there(&text(&BOOK.replace("drive rear", "drive rear  units imperial")))["laps"].clone();
    let head = laps["table"]["head"].as_array().unwrap();
    assert_eq!(head[5], "hot pressure, psi: LF / RF / LR / RR");
    assert_eq!(laps["table"]["rows"][0][5], "24.8 / 25.2 / 24.1 / –");
    assert_eq!(laps["table"]["rows"][0][6], "23 / 27 / 11 / –");
    assert_eq!(laps["table"]["rows"][1][7], "219");
}
