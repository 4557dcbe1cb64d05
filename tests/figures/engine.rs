//! Leak-down, compression, lash, and their drift over the engine's hours.

use super::{close, evaluate, figure, trace};
use serde_json::Value;

const CAR: &str = "car wren \"Wren\"  units imperial\n  cylinders 4\n\n2025-05-03 wren\n";

/// A figure of several readings: each of its lines counts. Without one the value is another, or gone.
fn of_many(book: &str, words: &[&str]) -> Value {
    let (value, err) = trace(book, words);
    assert!(value["value_si"].is_number(), "{words:?}: {value} {err}");
    evaluate::again(&value);
    for line in evaluate::lines(&value) {
        let less: Vec<&str> =
            book.lines().enumerate().filter(|(at, _)| *at as u64 + 1 != line).map(|(_, text)| text).collect();
        let (without, _) = trace(&(less.join("\n") + "\n"), words);
        assert_ne!(without["value_si"], value["value_si"], "line {line} counts for nothing");
    }
    value
}

/// FAA AC 43.13-1B, paragraph 8-14: a loss over 25 per cent of the input is cause to suspect the cylinder, at 80 psi.
#[test]
fn the_circulars_limit() {
    let text = format!("{CAR}  read leakdown 60/80 59/80 72/80 74/80 psi  with hot\n");
    let at = figure(&text, &["wren", "leakdown-lost", "c1"]);
    close(&at, "value", 25.0, 1e-12);
    assert!(at["caution"].is_null());
    assert_eq!(at["inputs"][0]["shown"], "60 psi");
    let over = figure(&text, &["wren", "leakdown-lost", "c2"]);
    close(&over, "value", 26.25, 1e-12);
    assert_eq!(over["caution"], "over 25 % of the supply lost: cause to suspect the cylinder");
}

/// FAA AC 43.13-1B, Change 1: orifice 0.040 in for bores under 5.00 in, 0.060 in from there.
#[test]
fn the_circulars_orifice() {
    for (bore, orifice) in [("3.5 in", 0.040), ("4.99 in", 0.040), ("5.00 in", 0.060), ("127 mm", 0.060)] {
        let text = format!("{CAR}  set cylinder-bore {bore}\n");
        close(&figure(&text, &["wren", "leakdown-orifice-size"]), "value", orifice, 1e-12);
    }
}

/// Definition: (supply - held) / supply.
#[test]
fn share_lost() {
    let text = format!("{CAR}  read leakdown 72/80 93/100 6.3/7.0 4/5 psi\n");
    close(&figure(&text, &["wren", "leakdown-lost", "c1"]), "value", 10.0, 1e-12);
    close(&figure(&text, &["wren", "leakdown-lost", "c2"]), "value", 7.0, 1e-12);
    let text = format!("{CAR}  read leakdown 9 8 9 8 %  at 7.0 bar\n");
    close(&figure(&text, &["wren", "leakdown-lost", "c3"]), "value", 9.0, 1e-12);
}

#[test]
fn against_the_others() {
    let text = format!("{CAR}  read leakdown 9 8 15 6 %  at 7.0 bar\n");
    close(&figure(&text, &["wren", "leakdown-above", "c3"]), "value", 7.0, 1e-9);
    close(&figure(&text, &["wren", "leakdown-above", "c4"]), "value", -3.0, 1e-9);
    // An even number of others: the mean of the middle two.
    let five = text.replace("cylinders 4", "cylinders 5").replace("15 6 %", "15 6 7 %");
    close(&figure(&five, &["wren", "leakdown-above", "c3"]), "value", 7.5, 1e-9);
    let (value, _) = trace(&text.replace("15 6", "15 -"), &["wren", "leakdown-above", "c3"]);
    assert_eq!(value["missing"][0], "leakdown c4 on the same line as the others");
}

/// 182, 178, 185, 165 psi: 20/185, 20/177.5 and 165/185.
#[test]
fn spread_by_each_definition() {
    let text = format!("{CAR}  read compression 182 178 185 165 psi\n");
    let spread = figure(&text, &["wren", "compression-spread"]);
    close(&spread, "value", 10.8108, 5e-5);
    assert_eq!(spread["formula"]["convention"], "(highest - lowest) / highest");
    close(&figure(&text, &["wren", "compression-spread-mean"]), "value", 11.2676, 5e-5);
    close(&figure(&text, &["wren", "compression-lowest"]), "value", 89.1892, 5e-5);
}

/// 6, 8, 9 % at 10, 20, 40 h: slope 13/140 points an hour (least squares by hand); the cold one and the one at 5 bar stay out.
#[test]
fn drift_over_like_readings() {
    let text = format!(
        "{CAR}  read engine-hours 10 h\n  read leakdown 6 6 6 6 %  at 7.0 bar  with hot\n
2025-06-03 wren\n  read engine-hours 20 h\n  read leakdown 8 8 8 8 %  at 7.0 bar  with hot\n  read leakdown 12 12 12 12 %  at 7.0 bar  with cold\n
2025-06-13 wren\n  read engine-hours 25 h\n  read leakdown 3 3 3 3 %  at 5.0 bar  with hot\n
2025-07-03 wren\n  read engine-hours 40 h\n  read leakdown 9 9 9 9 %  at 7.0 bar  with hot\n"
    );
    let value = of_many(&text, &["wren", "leakdown-per-hour", "c2"]);
    close(&value, "value", 13.0 / 140.0, 1e-9);
    assert_eq!(value["inputs"].as_array().unwrap().len(), 6);
    let two = "car wren \"Wren\"\n  cylinders 2\n\n2025-05-03 wren\n  read engine-hours 10 h\n  read compression 12.0 12.1 bar\n\n2025-06-03 wren\n  read engine-hours 20 h\n  read compression 11.5 12.0 bar\n";
    close(&figure(two, &["wren", "compression-per-hour", "c1"]), "value", -0.05, 1e-9);
    let (other, _) = trace(
        &two.replace("11.5 12.0 bar", "11.5 12.0 bar  with orifice 0.040 in"),
        &["wren", "compression-per-hour", "c1"],
    );
    assert!(other["missing"].is_array(), "another orifice is no like reading: {other}");
    // A pair has its supply in it.
    let pairs = "car wren \"Wren\"\n  cylinders 2\n\n2025-05-03 wren\n  read engine-hours 10 h\n  read leakdown 76/80 76/80 psi\n  read leakdown 5/7 5/7 bar\n\n2025-06-03 wren\n  read engine-hours 20 h\n  read leakdown 72/80 76/80 psi\n";
    close(&figure(pairs, &["wren", "leakdown-per-hour", "c1"]), "value", 0.5, 1e-9);
}

/// Left 0.30 at 10 h, found 0.26 at 30 h: 0.04 mm closed in 20 h. Adjusted then, so the next stretch is its own.
#[test]
fn lash_closes() {
    let text = "car wren \"Wren\"\n  cylinders 2\n
2025-05-03 wren\n  read engine-hours 10 h\n  left lash-exhaust 0.30 0.30 mm  with cold\n
2025-06-03 wren\n  read engine-hours 30 h\n  found lash-exhaust 0.26 0.28 mm  with cold\n";
    close(&figure(text, &["wren", "lash-exhaust-change", "c1"]), "value", -0.04, 1e-9);
    close(&figure(text, &["wren", "lash-exhaust-per-hour", "c1"]), "value", -0.002, 1e-9);
    let inlet = text.replace("lash-exhaust", "lash-inlet");
    close(&figure(&inlet, &["wren", "lash-inlet-change", "c2"]), "value", -0.02, 1e-9);
    close(&figure(&inlet, &["wren", "lash-inlet-per-hour", "c2"]), "value", -0.001, 1e-9);
    let again = format!(
        "{text}  left lash-exhaust 0.30 0.30 mm  with cold\n\n2025-07-03 wren\n  read engine-hours 40 h\n  found lash-exhaust 0.29 0.30 mm  with cold\n"
    );
    close(&of_many(&again, &["wren", "lash-exhaust-per-hour", "c1"]), "value", -0.001, 1e-9);
    let (hot, _) = trace(
        &text.replace("0.28 mm  with cold", "0.28 mm  with hot"),
        &["wren", "lash-exhaust-change", "c1"],
    );
    assert_eq!(hot["missing"][0], "lash-exhaust c1 left, then found again, both hot or both cold");
}

/// The meter was read, then the car ran: those hours are not the reading's.
#[test]
fn hours_with_running_between_do_not_count() {
    let text = "car wren \"Wren\"\n  cylinders 2\n
2025-05-03 wren\n  read engine-hours 10 h\n  read compression 12.0 12.1 bar\n
2025-06-03 wren\n  read engine-hours 20 h\n  09:00 run s1  30 min\n  read compression 11.5 12.0 bar\n";
    let (value, _) = trace(text, &["wren", "compression-per-hour", "c1"]);
    assert_eq!(value["missing"][0], "two readings of compression c1 taken alike, at different engine-hours");
}

#[test]
fn bad_engine_readings() {
    let (value, _) =
        trace(&format!("{CAR}  read leakdown 60/0 8 9 8 psi\n"), &["wren", "leakdown-lost", "c1"]);
    assert!(value["missing"].is_array(), "{value}");
    let (value, _) =
        trace(&format!("{CAR}  read compression 0 178 185 165 psi\n"), &["wren", "compression-lowest"]);
    assert_eq!(value["missing"][0], "compression c1 above zero");
    let (value, _) = trace(CAR, &["wren", "compression-spread"]);
    assert_eq!(value["missing"][0], "a reading of compression of each cylinder");
}
