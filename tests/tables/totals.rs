//! What is added up from the tables is what the answers say.

use super::{book, column, rows, table, word};
use crate::demo::{DEMO, car};
use rust_decimal::Decimal;
use serde_json::Value;
use std::collections::BTreeMap;
use stringline::answer::costs::{CostsBy, statement};
use stringline::answer::{self, json};
use stringline::book::model::Clock;
use stringline::costs::Selection;
use stringline::history::moment;
use stringline::history::order::Rank;
use stringline::tables::Shown;

fn shown() -> Shown<'static> {
    Shown::new(&DEMO, None)
}

fn parsed(text: &str) -> Value {
    serde_json::from_str(text).unwrap()
}

/// Rows of a table as column by column.
fn named(name: &str) -> Vec<BTreeMap<&'static str, String>> {
    let table = table(name);
    let each = |row: &Vec<_>| table.columns.iter().map(|one| one.name).zip(row.iter().map(word)).collect();
    rows(table, &shown()).iter().map(each).collect()
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap_or_default()
}

#[test]
fn postings_come_to_the_totals_of_costs() {
    let all = named("postings");
    let sum = |wanted: &dyn Fn(&BTreeMap<&str, String>) -> bool| -> Decimal {
        all.iter().filter(|row| wanted(row)).map(|row| decimal(&row["amount"])).sum()
    };
    let told = parsed(&json(&statement(&DEMO, Selection::default(), CostsBy::Car)));
    let of = |row: &Value| decimal(row["total"]["sums"][0]["amount"].as_str().unwrap_or("0"));
    assert_eq!(sum(&|_| true), of(&told["all"]));
    assert!(sum(&|_| true) > Decimal::from(1000));
    for (by, of_column) in
        [(CostsBy::Car, "car"), (CostsBy::Event, "event"), (CostsBy::Client, "client"), (CostsBy::Job, "job")]
    {
        let told = parsed(&json(&statement(&DEMO, Selection::default(), by)));
        let mut seen = 0;
        for row in told["rows"].as_array().unwrap() {
            let name = row["name"].as_str().unwrap_or_default();
            assert_eq!(sum(&|one| one[of_column] == name), of(row), "{of_column} {name}");
            seen += 1;
        }
        assert!(seen > 1, "{of_column}");
    }
    // Minor units are the same sums, whole.
    for row in &all {
        let minor: Decimal = decimal(&row["amount_minor"]);
        assert_eq!(minor, decimal(&row["amount"]) * Decimal::from(100), "{row:?}");
    }
    let worked: Decimal = all.iter().map(|row| decimal(&row["minutes"])).sum();
    let minutes: Decimal = DEMO.costs.postings.iter().map(|posting| posting.minutes.0).sum();
    assert_eq!(worked, minutes);
}

#[test]
fn payments_are_those_of_the_accounts() {
    let told = parsed(&json(&statement(&DEMO, Selection::default(), CostsBy::Client)));
    for account in told["accounts"].as_array().unwrap() {
        let paid: Decimal = named("payments")
            .iter()
            .filter(|row| row["client"] == account["client"].as_str().unwrap())
            .map(|row| decimal(&row["amount"]))
            .sum();
        let sums = account["paid"]["sums"].as_array().unwrap();
        let told = sums.first().map_or(Decimal::ZERO, |sum| decimal(sum["amount"].as_str().unwrap()));
        assert_eq!(paid.abs(), told.abs(), "{account}");
    }
}

#[test]
fn lives_are_those_of_lives() {
    let all = stringline::lives::lives(&DEMO.book, &DEMO.history, Rank::END);
    let mut told = Vec::new();
    for kind in DEMO.book.kinds.keys() {
        let counting = answer::lives::CountedFailures::default();
        if let Some(view) = answer::lives::kind(&DEMO, &all, kind, Some(Clock::Time), &counting) {
            for row in parsed(&json(&view))["lives"].as_array().unwrap() {
                let text = |key: &str| row[key].as_str().unwrap_or_default().to_owned();
                told.push((
                    text("part"),
                    row["number"].to_string(),
                    text("end"),
                    text("from"),
                    text("to"),
                    text("mode"),
                ));
            }
        }
    }
    let mut ours: Vec<_> = named("lives")
        .into_iter()
        .map(|row| {
            let of = |key: &str| row[key].clone();
            (of("part"), of("number"), of("end"), of("from_date"), of("until_date"), of("mode"))
        })
        .collect();
    told.sort();
    ours.sort();
    assert!(told.len() > 50);
    assert_eq!(ours, told);
    // The lives of the invented season's couplings, by its own table (`demo::coupling_lives`): 292 and 208 minutes to failure.
    let minutes =
        |part: &str| named("lives").iter().find(|row| row["part"] == part).unwrap()["minutes"].clone();
    assert_eq!((minutes("cp-01"), minutes("cp-03")), ("292.0".to_owned(), "208.0".to_owned()));
}

#[test]
fn what_stands_is_the_state_of_each_car() {
    let settings = named("settings");
    let mut compared = 0;
    for name in ["bittern", "teal", "plover", "curlew"] {
        let id = car(name);
        let state = answer::state::build(&DEMO, id, &moment::end(&DEMO.history), None);
        for slot in parsed(&json(&state))["slots"].as_array().unwrap() {
            let place = slot["place"].as_str().unwrap_or_default();
            let sold = DEMO.history.parts.sold.contains_key(&id);
            if !slot["part"].is_null() || sold {
                continue;
            }
            for register in ["asked", "read"] {
                let ours = settings.iter().find(|row| {
                    row["car"] == name
                        && row["quantity"] == slot["quantity"].as_str().unwrap()
                        && row["place"] == place
                        && row["register"] == register
                        && row["stands"] == "1"
                });
                let told = &slot[register];
                let Some(value) = told["value_si"].as_f64() else { continue };
                let ours = ours.unwrap_or_else(|| panic!("{name} {slot}"));
                // The reader of JSON here may be wrong in the last bit.
                let is = ours["value_si"].parse::<f64>().unwrap();
                assert!((is - value).abs() <= value.abs() * 1e-15, "{name} {slot}");
                assert_eq!(ours["line"], told["line"]["line"].to_string(), "{name} {slot}");
                compared += 1;
            }
        }
    }
    assert!(compared > 100, "{compared}");
}

#[test]
fn what_is_on_a_car_is_where_its_parts_are() {
    let parts = named("parts");
    let mut compared = 0;
    for name in ["bittern", "teal", "curlew"] {
        let state = answer::state::build(&DEMO, car(name), &moment::end(&DEMO.history), None);
        for place in parsed(&json(&state))["parts"].as_array().unwrap() {
            let Some(part) = place["part"].as_str() else { continue };
            let ours = parts.iter().find(|row| row["part"] == part).unwrap();
            assert_eq!((ours["state"].as_str(), ours["car"].as_str()), ("car", name), "{place}");
            assert_eq!(ours["place"], place["place"].as_str().unwrap_or_default(), "{place}");
            compared += 1;
        }
    }
    assert!(compared > 10, "{compared}");
}

#[test]
fn sessions_stays_and_parts_add_up() {
    let sessions = named("sessions");
    let minutes =
        |rows: &[BTreeMap<&str, String>], part: &dyn Fn(&BTreeMap<&str, String>) -> bool, of: &str| -> f64 {
            rows.iter().filter(|row| part(row)).filter_map(|row| row[of].parse::<f64>().ok()).sum()
        };
    let all: f64 = DEMO.history.sessions.all.iter().filter_map(|session| session.minutes).sum();
    assert!((minutes(&sessions, &|_| true, "minutes_least") - all).abs() < 1e-9 && all > 1000.0);
    // What a part ran stay by stay is what it ran, part by part.
    let stays = named("stays");
    for id in DEMO.book.parts.keys() {
        let name = DEMO.book.parts[id].named.typed.to_string();
        let used = stringline::history::usage::of_part(&DEMO.book, &DEMO.history, id, Rank::START, Rank::END);
        let ours = minutes(&stays, &|row| row["part"] == name, "minutes_least");
        assert!((ours - used.on(Clock::Time).0 / 60.0).abs() < 1e-6, "{name}: {ours}");
    }
}

#[test]
fn verdicts_are_those_of_rules() {
    let mut told = Vec::new();
    for name in ["bittern", "teal", "plover", "curlew"] {
        let view = answer::rules::build(&DEMO, car(name), &moment::end(&DEMO.history), None, None);
        for reading in parsed(&json(&view))["readings"].as_array().unwrap() {
            let text = |key: &str| reading[key].as_str().unwrap_or_default().to_owned();
            told.push((name.to_owned(), text("rule"), text("verdict"), text("place"), text("date")));
        }
    }
    let mut ours: Vec<_> = named("verdicts")
        .iter()
        .map(|row| {
            let of = |key: &str| row[key].clone();
            (of("car"), of("rule"), of("verdict"), of("place"), of("date"))
        })
        .collect();
    told.sort();
    ours.sort();
    assert!(told.len() > 20);
    assert_eq!(ours, told);
}

#[test]
fn figures_are_those_of_trace() {
    let mut calc = stringline::figures::Calc::new(DEMO.facts(), car("bittern"), &moment::end(&DEMO.history));
    let mut compared = 0;
    for row in named("figures").iter().filter(|row| row["car"] == "bittern" && row["moment"] == "end") {
        let id = DEMO.book.figures.find(&row["figure"]).unwrap();
        let place = stringline::book::place::Place::parse(&row["place"])
            .unwrap_or(stringline::book::place::Place::CAR);
        let Ok(fig) = calc.figure(id, place) else { continue };
        let step = stringline::figures::trace::trace(&calc, &fig, false);
        assert_eq!(
            (row["shown"].as_str(), row["unit"].as_str()),
            (step.shown.as_str(), step.unit.as_str()),
            "{row:?}"
        );
        assert!(!row["lines"].is_empty(), "{row:?}");
        compared += 1;
    }
    assert!(compared > 20, "{compared}");
}

/// Numbers from a book of a few lines, worked out here by hand.
#[test]
fn a_small_book_in_numbers() {
    let small = book(
        "shop \"S\"  currency EUR  zone Europe/Dublin\nclient orr \"Orr\"\nperson ned \"Ned\"\ncircuit hill \"Hill\"  length 1.20 km\n\
         event h-1 2025-05-10 at hill \"Hill\"\ngauge pg \"gauge\"  reads tyre-cold  resolution 0.02 bar\n\
         car wren \"Wren\"  client orr\nkind pad \"pad\"  fits front on wren\npart p-1 pad  opening 10 min\n\n\
         2025-05-09 wren\n  fit p-1 front\n  compare pg 1.52 reference 1.50 bar\n\
         2025-05-10 wren at h-1\n  set tyre-cold 26 26 24 24 psi  by pg\n  read tyre-cold LF 1.80 bar  by pg\n\
         \x20 09:00..09:20 run s1  5 laps  by ned\n    laps 1:00.00 59.50 59.75\n  cost 120.10 EUR entry\n\
         2025-05-11 wren\n  adjust tyre-cold LF +1 psi\n",
    );
    let errors: Vec<_> = small
        .diagnostics
        .iter()
        .filter(|one| one.severity == stringline::diagnostics::Severity::Error)
        .collect();
    assert!(errors.is_empty(), "{errors:?}");
    let shown = Shown::new(&small, None);
    let one = |name: &str, of: &str| column(name, of, &shown);
    assert_eq!(one("sessions", "minutes"), ["20.0"]);
    assert_eq!(one("sessions", "km"), ["6.0"]);
    assert_eq!(one("laps", "seconds"), ["60.0", "59.5", "59.75"]);
    assert_eq!(one("postings", "amount"), ["120.10"]);
    assert_eq!(one("postings", "amount_minor"), ["12010"]);
    assert_eq!(one("lives", "minutes"), ["30.0"]);
    assert_eq!(one("stays", "minutes"), ["20.0"]);
    // 1.80 bar by a gauge that reads 0.02 bar high.
    let corrected = one("readings", "corrected_si").iter().find_map(|text| text.parse::<f64>().ok()).unwrap();
    assert!((corrected - 178_000.0).abs() < 1e-6, "{corrected}");
    // 26 psi is 179263.68 Pa (NIST SP 811: 6894.757 Pa), and a pound more after the adjustment.
    let values = one("settings", "value_si");
    let near = |wanted: f64| {
        values.iter().filter(|text| text.parse::<f64>().is_ok_and(|is| (is - wanted).abs() < 0.1)).count()
    };
    assert_eq!(near(26.0 * 6894.757), 2, "{values:?}");
}

/// Of a stay in which a line with a mistake may have taken the part off only what it had run until then is told, as the least.
#[test]
fn a_stay_in_doubt_has_the_least_it_ran() {
    let doubted = book(
        "car heron \"Heron\"\nkind coupling \"coupling\"  fits LR on heron\npart cp-1 coupling  opening new\n\
         2025-05-10 heron\n  fit cp-1 LR\n  run s1  20 min\n  remove cp-1 goood\n  run s2  20 min\n",
    );
    let shown = Shown::new(&doubted, None);
    let one = |of: &str| column("stays", of, &shown);
    assert_eq!(
        (one("car"), one("minutes"), one("minutes_least"), one("sessions")),
        (vec!["heron".to_owned()], vec![String::new()], vec!["20.0".to_owned()], vec![String::new()],)
    );
}
