//! The car from above and the pages that are looked at rather than read: an event, the flat, the scrutineers, what breaks, power, and what
//! is not written. Expected numbers are those of the book typed here, or worked out by hand beside it.

use super::{demo, page, pages, text};
use serde_json::Value;
use stringline::Compiled;
use stringline::book::model::CarId;
use stringline::report::{Alone, Own, Report};

/// Two cars that share a kind, three sessions, a hit.
const BOOK: &str = r#"shop "S"  currency EUR
person dee "D."
circuit k "K"  length 2 km
event e1 2026-05-02..02 at k  entered heron, teal
event e2 2026-06-06..06 at k  entered heron
gauge cg "camber gauge"  reads camber  resolution 0.1 deg
gauge pg "pressures"  reads tyre-cold, tyre-hot  resolution 0.01 bar
car heron "Heron"  cylinders 4  drive rear  body single-seater  reference driver 80 kg, bars off
car teal "Teal"  drive front  body kart
kind coupling "coupling"  fits LR RR on heron, teal  life 300 min  safety
part cp-1 coupling  opening new
part cp-2 coupling  opening 100 min
part cp-3 coupling  opening 290 min
part cp-4 coupling  opening new
part cp-5 coupling  opening 50 min
2026-05-01 heron
  fit cp-1 LR
  fit cp-4 RR
  left camber LF -2.9 RF -3.0 LR -2.0 RR -2.0 deg  by cg
  read tyre-cold LF 1.40 RF 1.40 LR 1.30 RR 1.30 bar  by pg
2026-05-01 teal
  fit cp-5 LR
2026-05-02 heron at e1
  run s1 20 min 4 laps  best 1:10.0  by dee
    say entry push
    read tyre-hot LF 1.70 RF 1.70 LR 1.60 RR 1.60 bar  by pg
  set bar-hole front 2  because push
  run s2 20 min 4 laps  best 1:09.0  by dee
    say entry neutral
  result s2 finish 3 class 1
2026-05-02 teal at e1
  run s1 10 min 4 laps  best 1:20.0
2026-06-05 heron
  left camber LF -3.2 deg  by cg
2026-06-06 heron at e2
  run s1 4 laps  best 1:08.5  by dee
    say mid push
  set bar-hole front 2 -> 3
  run s2 20 min 4 laps  by dee
  hit RF "a kerb"  during s2
  found camber RF -1.9 deg  by cg
"#;

fn view(compiled: &Compiled, which: Alone) -> Value {
    let own = Own::new();
    let report = Report::alone(compiled, which, &own).unwrap_or_else(|why| panic!("{why:?}"));
    serde_json::from_str(&report.json().unwrap()).unwrap()
}

fn heron(compiled: &Compiled) -> CarId {
    compiled.book.cars.keys().next().unwrap()
}

/// "camber -2.9 → -3.2" of each value at a corner.
fn corner(above: &Value, place: &str) -> Vec<String> {
    let corners = above["corners"].as_array().unwrap();
    let corner = corners.iter().find(|corner| corner["place"] == place).unwrap();
    let text = |value: &Value| value["text"].as_str().unwrap_or_default().to_owned();
    let one = |value: &Value| {
        let then =
            if value["then"].is_null() { String::new() } else { format!("{} → ", text(&value["then"])) };
        format!("{} {then}{}", value["name"].as_str().unwrap(), text(&value["now"]))
    };
    corner["values"].as_array().unwrap().iter().map(one).collect()
}

#[test]
fn what_moved_stands_where_it_moved() {
    let compiled = text(BOOK);
    assert!(
        compiled.diagnostics.iter().all(|one| one.check != "property-value"),
        "{:?}",
        compiled.diagnostics
    );
    let car = heron(&compiled);
    let event = compiled.book.events.keys().nth(1);
    let above = &view(&compiled, Alone::Setup(car, event))["above"];
    assert_eq!(above["body"], "single-seater");
    assert_eq!(above["driven"], serde_json::json!([false, true]));
    assert!(corner(above, "LF").contains(&"camber -3.2".to_owned()), "{above}");
    // Before the second event's first session the bar stands as it was left: nothing was set between.
    assert_eq!(above["front"], serde_json::json!([]));
    let now = &view(&compiled, Alone::Now(car))["above"];
    assert_eq!(now["front"][0]["name"], "bar hole");
    assert_eq!(
        (&now["front"][0]["then"]["text"], &now["front"][0]["now"]["text"]),
        (&"2".into(), &"3".into())
    );
    let crash = &view(&compiled, Alone::Crash(car, None))["above"];
    assert_eq!(corner(crash, "RF"), ["camber -3.0 → -1.9"]);
    assert_eq!(corner(crash, "LF"), [""; 0]);
}

#[test]
fn an_event_tells_of_every_car() {
    let compiled = text(BOOK);
    let event = compiled.book.events.keys().next();
    let json = view(&compiled, Alone::Event(event));
    let cars = json["cars"].as_array().unwrap();
    assert_eq!(cars.len(), 2);
    assert_eq!(cars[0]["best"], "1:09.0 in s2");
    assert_eq!(cars[0]["results"][0]["words"], "finish 3, class 1");
    assert_eq!(cars[0]["totals"]["minutes"], "40");
    assert_eq!(cars[0]["sessions"][1]["changes"][0]["because"], "push");
    assert_eq!(cars[1]["best"], "1:20.0 in s1");
    // The hit belongs to the other event.
    assert_eq!(cars[0]["hits"], serde_json::json!([]));
    let second = view(&compiled, Alone::Event(None));
    assert_eq!(second["cars"][0]["hits"][0][0], "RF");
    assert_eq!(second["cars"].as_array().unwrap().len(), 1);
}

/// What is not written is what the others have: no minutes of s1, no best of s2, no reason, no words after s2, no cold pressures
/// asked for where nobody read hot ones, a result.
#[test]
fn what_the_book_lacks_is_what_its_others_have() {
    let compiled = text(BOOK);
    let json = view(&compiled, Alone::Monday(None));
    let events = json["events"].as_array().unwrap();
    let last = events.iter().find(|one| one["event"] == "e2").unwrap();
    let holes: Vec<String> = last["holes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|hole| format!("{}: {}", hole["place"].as_str().unwrap(), hole["what"].as_str().unwrap()))
        .collect();
    assert_eq!(
        holes,
        [
            "s1: how long it ran",
            "s2: its best lap",
            "set bar-hole front 2 → 3: why",
            "s2: what the driver said",
            ": what came of it"
        ]
    );
    // Of teal, whose one session nobody drove by name, no driver is asked: none of its sessions has one.
    assert!(events.iter().all(|one| one["car"] != "Teal"), "{json}");
}

#[test]
fn the_flat_has_last_left_and_found() {
    let compiled = text(BOOK);
    let json = view(&compiled, Alone::Alignment(heron(&compiled)));
    assert_eq!(json["conditions"], serde_json::json!(["driver 80 kg", "bars off"]));
    let camber = json["blocks"].as_array().unwrap().iter().find(|block| block["name"] == "camber").unwrap();
    let last: Vec<&str> = camber["cells"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cell| cell["last"]["text"].as_str().unwrap())
        .collect();
    assert_eq!(last, ["-3.2", "-3.0", "-2.0", "-2.0"]);
    assert_eq!(camber["cells"][1]["found"]["text"], "-1.9");
    assert!(camber["cells"][0]["found"].is_null());
    assert_eq!(camber["line"], "left camber LF … RF … LR … RR … deg by cg");
}

/// Toe read of the front axle as a whole and of each rear wheel stands so: none hides the other.
#[test]
fn an_axle_read_as_a_whole_stands_beside_corners() {
    let compiled = text(
        "car heron \"H\"  toe-over 400 mm\n2026-03-01 heron\n  left toe-out front 2.0 mm total\n  left toe-in LR 0.5 RR 0.6 mm\n",
    );
    let json = view(&compiled, Alone::Alignment(heron(&compiled)));
    let toe = json["blocks"].as_array().unwrap().iter().find(|block| block["name"] == "toe").unwrap();
    let cells: Vec<(&str, u64, &str)> = toe["cells"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cell| {
            (
                cell["place"].as_str().unwrap(),
                cell["span"].as_u64().unwrap(),
                cell["last"]["text"].as_str().unwrap(),
            )
        })
        .collect();
    assert_eq!(cells, [("front", 2, "2.0"), ("LR", 1, "0.5"), ("RR", 1, "0.6")]);
}

/// cp-2 has 200 of 300 min left, cp-3 10; on the other car cp-5, whose place nothing but those two could fill.
#[test]
fn what_would_go_in_its_place() {
    let compiled = text(BOOK);
    let json = view(&compiled, Alone::Spare(heron(&compiled)));
    let places = json["places"].as_array().unwrap();
    assert_eq!(places[0]["what"], "coupling LR");
    let shelf: Vec<&str> =
        places[0]["shelf"].as_array().unwrap().iter().map(|one| one["line"].as_str().unwrap()).collect();
    assert_eq!(shelf, ["swap coupling LR cp-1 -> cp-2", "swap coupling LR cp-1 -> cp-3"]);
    assert_eq!(places[0]["shelf"][0]["left"], "200 min left (100 of 300 min)");
    assert_eq!(places[0]["donors"][0]["line"], "move cp-5 -> heron LR");
    assert_eq!(places[0]["donors"][0]["then"], "teal LR is then empty; 2 on the shelf go there");
}

/// Every line that the page of spares offers can be pasted: the book has no error more than before.
#[test]
fn a_line_that_is_offered_can_be_pasted() {
    let files = ["plain", "demo"];
    for which in files {
        let compiled = if which == "demo" { demo() } else { text(BOOK) };
        let all: String = compiled.files.iter().map(|(_, file)| file.text.clone() + "\n").collect();
        let errors = |text: &str| super::text(text).count(stringline::diagnostics::Severity::Error);
        let before = errors(&all);
        let mut tried = 0;
        for car in compiled.book.cars.keys() {
            let Ok(report) =
                Report::alone(&compiled, Alone::Spare(car), &Own::new()).map(|report| report.json())
            else {
                continue;
            };
            let json: Value = serde_json::from_str(&report.unwrap()).unwrap();
            let name = &compiled.book.cars[car].named.typed;
            for place in json["places"].as_array().unwrap() {
                for one in place["shelf"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .chain(place["donors"].as_array().unwrap())
                    .take(2)
                {
                    let line = one["line"].as_str().unwrap();
                    let pasted = match one["under"].as_str().unwrap() {
                        "" => format!("{all}\n2026-12-01 {name}\n  {line}\n"),
                        under => {
                            let off = one["off"].as_str().unwrap();
                            format!("{all}\n2026-12-01 {name}\n  {off}\n2026-12-01 {under}\n  {line}\n")
                        }
                    };
                    assert_eq!(errors(&pasted), before, "{which}: {line}");
                    tried += 1;
                }
            }
            if tried > 8 {
                break;
            }
        }
        assert!(tried > 1, "{which}");
    }
}

/// 155 kW at 310 g/kWh is 48.05 kg/h; four injectors at 80 % of the time must give 15.02 kg/h each, at 0.752 kg/L 332.8 cc/min: 360 cc/min
/// is 8 % more. At 34 % less there is nothing in hand.
#[test]
fn the_injectors_cover_it_or_not() {
    let book = |flow: u32| {
        text(&format!(
            "car heron \"H\"  cylinders 4\n2026-03-01 heron\n  set peak-power 155 kW\n  set specific-consumption 310 g/kWh\n  set injectors 4\n  \
             set duty-limit 80 %\n  set fuel-density 0.752 kg/L\n  set fuel-pressure 3.0 bar\n  \
             read injector-flow {flow} {flow} {flow} {flow} cc/min  at 3.0 bar\n  read injector-duty 72 %\n"
        ))
    };
    let margins = |compiled: &Compiled| {
        let json = view(compiled, Alone::Power(heron(compiled)));
        json["margins"]
            .as_array()
            .unwrap()
            .iter()
            .map(|one| (one["answer"].as_str().unwrap().to_owned(), one["short"].as_bool().unwrap()))
            .collect::<Vec<_>>()
    };
    let enough = margins(&book(360));
    assert_eq!(
        enough[0],
        (
            "The smallest gives 360 cc/min at the fuel pressure, 333 are needed at peak power: 8 % in hand."
                .to_owned(),
            false
        )
    );
    assert_eq!(
        enough[1],
        ("They are open 72 % of the time, the limit is 80 %: 8 points in hand.".to_owned(), false)
    );
    let few = margins(&book(320));
    assert_eq!(
        few[0],
        (
            "The smallest gives 320 cc/min at the fuel pressure, 333 are needed at peak power: 4 % short."
                .to_owned(),
            true
        )
    );
    let none =
        margins(&text("car heron \"H\"  cylinders 4\n2026-03-01 heron\n  set fuel-pressure 3.0 bar\n"));
    assert!(none[0].0.starts_with("The book cannot say: it needs"), "{none:?}");
}

/// 20 L less 10 min at 30 L/h are 15 L, 15 / 3.785411784 = 3.963 gallons (US gallon, NIST SP 811); the unit is the one that figures are
/// shown in, and what was typed stays as it was typed.
#[test]
fn fuel_aboard_is_told_in_the_car_s_own_unit() {
    let aboard = |units: &str, run: &str| {
        let compiled = text(&format!(
            "car heron \"H\"  units {units}\n2026-03-01 heron\n  set fuel 20 L\n  set fuel-rate 30 L/h\n  set duty-limit 80 %\n{run}"
        ));
        let json = view(&compiled, Alone::Power(heron(&compiled)));
        json["margins"][2]["answer"].as_str().unwrap().to_owned()
    };
    let ran = "  run s1 10 min\n";
    for (units, run, told) in
        [("metric", ran, "15.0 L"), ("imperial", ran, "3.96 US-gal"), ("imperial", "", "20.0 L")]
    {
        let said = aboard(units, run);
        assert!(said.starts_with(&format!("{told} are aboard")), "{units}: {said}");
    }
}

/// The pages agree: what `due` replaces before the event stands on the card for it, and a spare that does not last the event is not offered
/// as if it did. Bittern runs 162.5 min an event (650 min at four), cp-07 has 139 left and cp-02 75, ar-02 has 218.
#[test]
fn the_pages_of_one_car_agree() {
    let demo = demo();
    let car = demo.book.cars.keys().find(|car| *demo.book.cars[*car].named.typed == *"bittern").unwrap();
    let card = view(&demo, Alone::Card(car, None));
    assert_eq!(card["before"], serde_json::json!(["replace coupling LR ar-01"]));
    let spares = view(&demo, Alone::Spare(car));
    let shelf: Vec<(&str, bool)> = spares["places"][0]["shelf"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one["part"].as_str().unwrap(), one["left"].as_str().unwrap().contains("too little")))
        .collect();
    assert_eq!(shelf, [("ar-02", false), ("cp-07", true), ("cp-02", true)]);
}

/// The first page says how far the book is written by the book, and draws each car's season.
#[test]
fn the_first_page_has_the_season() {
    let compiled = text(BOOK);
    let all = pages(&compiled);
    let index = &page(&all, "index.html").html;
    assert!(index.contains("The book is written up to 6 June 2026; no event lies ahead in it."), "{index}");
    assert!(index.contains("where each car ran and goes"));
    let demo = demo();
    let all = pages(&demo);
    let index = &page(&all, "index.html").html;
    // 14 November 2026 to 17 April 2027: 16 days of November, 31, 31, 28, 31 and 17.
    assert!(index.contains("14 November 2026; quern-27 is 154 days later."), "{}", &index[..4000]);
}

/// The text of a page's drawing, whose class is given.
fn figure(compiled: &Compiled, name: &str, class: &str) -> String {
    let all = pages(compiled);
    let html = &page(&all, name).html;
    let start = format!("<figure class=\"chart {class}\">");
    let drawn = html.split(&start).nth(1).unwrap_or_else(|| panic!("{name} has no {class}"));
    super::html::words(&super::html::read(drawn.split("</figure>").next().unwrap()))
}

/// ar-01 has run quern-2's 177 min of its 300 and an event of bittern's is 162.5 (650 min at four): 339.5 after the next, past its limit; ar-03
/// has 95 and passes nothing. Due, winter plan and first page draw the same.
#[test]
fn life_bars_are_what_is_told() {
    let demo = demo();
    for name in ["due.html", "index.html"] {
        let said = figure(&demo, name, "bars-of");
        assert!(said.contains("ar-01 bittern LR 177 300 min 339.5 passes it"), "{name}: {said}");
        assert!(said.contains("ar-03 bittern RR 95 300 min 257.5"), "{name}: {said}");
        // What has no limit has no bar.
        assert!(!said.contains("dr-01"), "{name}: {said}");
    }
    let said = figure(&demo, "bittern-2026.html", "bars-of");
    assert!(said.contains("ar-01 coupling LR 177 300 min 339.5 passes it"), "{said}");
    assert!(said.contains("bt-3 tyre set 8 30 heat-cycles"), "{said}");
}

/// Laps as typed, the quickest and the slowest of each event's.
#[test]
fn a_season_s_laps_are_drawn_as_they_were_typed() {
    let said = figure(&text(BOOK), "heron-2026.html", "ladder-of");
    // e1: 1:10.0 and 1:09.0; e2: 1:08.5 and none.
    assert!(said.contains("e1 1:09.0 1:10.0"), "{said}");
    assert!(said.contains("e1 s2 bar hole 1:09.0") && said.contains("e2 s2 bar hole –"), "{said}");
}

/// Bittern asks for 28 to 54 N/mm: of the blades on the bench bl-02 at 3 (40), bl-03 at 1 (34) and bl-04 at both of its holes lie within.
#[test]
fn the_bench_is_drawn_against_what_is_asked() {
    let said = figure(&demo(), "bench.html", "rates-of");
    assert!(said.contains("sp-01 – 69.37 0.38 70"), "{said}");
    let all = pages(&demo());
    let html = &page(&all, "bench.html").html;
    let asked = html.split("<figure class=\"chart rates-of\">").nth(2).unwrap();
    let said = super::html::words(&super::html::read(asked.split("</figure>").next().unwrap()));
    let table = said.split("against what is asked").nth(1).unwrap();
    for row in ["bl-02 3 39.8 ", "bl-03 1 33.71 ", "bl-04 2 30.58 ", "bl-04 3 38.83 "] {
        assert!(table.contains(row), "{row}: {table}");
    }
    assert_eq!(table.matches(" within").count(), 4, "{table}");
    // 54.58 by 0.65 may be 54 or less.
    assert_eq!(table.matches(" cannot tell").count(), 1, "{table}");
}
