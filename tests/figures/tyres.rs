//! Pressures, sizes and tread temperatures from ledger lines.

use super::{close, figure, trace};

/// A metric or imperial car with these lines under one date.
fn book(units: &str, lines: &str) -> String {
    format!("car wren \"Wren\"  units {units}\n\n2025-05-03 wren\n{lines}")
}

fn hot(units: &str, cold: &str, cold_gas: &str, hot_gas: &str, air: &str) -> String {
    book(
        units,
        &format!(
            "  set tyre-cold LF {cold}\n  read tyre-gas-cold LF {cold_gas}\n  read tyre-gas-hot LF {hot_gas}\n  \
             read air-pressure {air}\n"
        ),
    )
}

/// College Physics of the `OpenStax` series (2012), Example 13.6: 7.00e5 Pa absolute at 18.0 C is 7.41e5 Pa at 35.0 C. At half its pressures,
/// to which the law is proportional: a book refuses a car's tyre at 6 bar.
#[test]
fn the_textbook_tyre() {
    // Its absolute pressure on a gauge, at one standard atmosphere.
    let text = hot("metric", "248.675 kPa", "18.0 C", "35.0 C", "101.325 kPa");
    let value = figure(&text, &["wren", "tyre-hot-expected", "LF"]);
    close(&value, "value_si", 7.41e5 / 2.0 - 101_325.0, 250.0);
    assert_eq!(value["inputs"][0]["name"], "absolute pressure hot");
    close(&value["inputs"][0], "value_si", 7.41e5 / 2.0, 250.0);
}

/// Gas law at constant volume, closed form: (301.325 kPa) 353.15 / 293.15 - 101.325 kPa.
#[test]
fn metric_hot_from_cold() {
    let text = hot("metric", "200 kPa", "20 C", "80 C", "101.325 kPa");
    close(&figure(&text, &["wren", "tyre-hot-expected", "LF"]), "value_si", 261_673.2, 0.1);
}

/// The same in psi; the ratio put on the gauge pressure alone would give 36.1402.
#[test]
fn psi_hot_from_cold_is_absolute() {
    let text = hot("imperial", "30 psi", "20 C", "80 C", "14.6959 psi");
    let value = figure(&text, &["wren", "tyre-hot-expected", "LF"]);
    close(&value, "value", 39.1481, 1e-4);
    assert!((value["value"].as_f64().unwrap() - 36.1402).abs() > 3.0);
}

/// The trade's "1 psi for 10 F" at 32 psi and 70 F: the gas law gives (32 + 14.6959) 10 / 529.67 = 0.8816.
#[test]
fn gain_for_ten_fahrenheit() {
    let text = hot("imperial", "32 psi", "70 F", "80 F", "14.6959 psi");
    close(&figure(&text, &["wren", "tyre-gain-expected", "LF"]), "value", 0.8816, 5e-5);
}

/// Set to 32 psi at 1013.25 hPa, a gauge at 850 hPa shows 163.25 hPa more: 34.3677 psi.
#[test]
fn altitude_on_the_gauge() {
    let text = book(
        "imperial",
        "  read air-pressure 1013.25 hPa\n  set tyre-cold 32 32 32 32 psi\n\n2025-05-04 wren\n  read air-pressure 850 hPa\n",
    );
    close(&figure(&text, &["wren", "tyre-pressure-here", "RF"]), "value", 34.3677, 1e-4);
}

/// The hot pressure asked for comes back from the cold one worked out for it (closed form of the metric test above).
#[test]
fn cold_for_the_hot_asked_for() {
    let text = book(
        "metric",
        "  set tyre-hot LF 261.6732 kPa\n  read tyre-gas-cold LF 20 C\n  read tyre-gas-hot LF 80 C\n  read air-pressure 101.325 kPa\n",
    );
    close(&figure(&text, &["wren", "tyre-cold-for-hot", "LF"]), "value_si", 200_000.0, 0.1);
}

#[test]
fn temperatures_may_stand_on_the_lines() {
    let text = book(
        "metric",
        "  set tyre-cold LF 200 kPa  with gas 20 C\n  read tyre-hot LF 2.6 bar  with gas 80 C\n  read air-pressure 101.325 kPa\n",
    );
    close(&figure(&text, &["wren", "tyre-hot-expected", "LF"]), "value_si", 261_673.2, 0.1);
}

const SESSIONS: &str = "gauge pg-1 \"dial\"  reads tyre-cold, tyre-hot\ngauge pg-2 \"digital\"  reads tyre-cold, tyre-hot\ncar wren \"Wren\"\n
2025-05-03 wren
  set tyre-cold 1.50 1.50 1.45 1.45 bar  by pg-1
  09:30..09:45 run s1  5 laps
    read tyre-hot 1.71 1.74 1.66 1.68 bar  by pg-1
  set tyre-cold 1.48 1.48 1.45 1.45 bar  by pg-1
  10:30..10:45 run s2  5 laps
    read tyre-hot 1.75 1.74 1.66 1.68 bar  by pg-2
  11:30..11:45 run s3  5 laps
";

#[test]
fn gain_of_a_session() {
    let text = SESSIONS
        .replace("2025-05-03 wren", "circuit p \"P\"\nevent e 2025-05-03 at p \"E\"\n\n2025-05-03 wren at e");
    let one = figure(&text, &["wren", "tyre-gain", "LF", "e/s1"]);
    close(&one, "value_si", 21_000.0, 1e-6);
    assert_eq!(one["name"], "gain of pressure");
    // Without the cold pressure of 10:00 the one of the morning still stands, so it does not go missing with its line.
    let (two, _) = trace(&text, &["wren", "tyre-gain", "LF", "e/s2"]);
    close(&two, "value_si", 27_000.0, 1e-6);
    assert_eq!(two["name"], "gain of pressure by two gauges");
    let (none, _) = trace(&text, &["wren", "tyre-gain", "LF", "e/s3"]);
    assert_eq!(none["missing"][0], "a reading of tyre-hot LF during s3");
}

/// ISO 4000-1 arithmetic; whole millimetres as printed in its tables; ETRTO 3.05 for the rolling circumference.
#[test]
fn size_codes() {
    for (size, height, free, table, around, rolling) in [
        ("205/55R16", 112.75, 631.90, 632.0, 1985.2, 1927.6),
        ("225/45R17", 101.25, 634.30, 634.0, 1992.7, 1933.7),
        ("195/65R15", 126.75, 634.50, 635.0, 1993.3, 1936.8),
        ("185/60R13", 111.0, 552.20, 552.0, 1734.8, 1683.6),
    ] {
        let text = book("metric", &format!("  set tyre-size all {size}\n"));
        let of = |name: &str| figure(&text, &["wren", name, "LR"]);
        close(&of("tyre-section-height"), "value", height, 1e-9);
        close(&of("tyre-diameter"), "value", free, 1e-9);
        close(&of("tyre-diameter-table"), "value", table, 1e-9);
        close(&of("tyre-circumference"), "value", around, 0.05);
        close(&of("tyre-circumference-rolling"), "value", rolling, 0.05);
    }
    let text = book("imperial", "  set tyre-size all 225/45R17\n");
    close(&figure(&text, &["wren", "tyre-diameter", "LF"]), "value", 24.972, 5e-4);
}

/// 225/65R17: 28.516 in, 89.59 in around, 707.26 turns in a mile with no deflection; loaded, by 3.05 of the tables' 724 mm.
#[test]
fn turns_in_a_mile() {
    let text = book("imperial", "  set tyre-size 225/65R17 225/65R17 225/65R17 225/65R17\n");
    let of = |name: &str| figure(&text, &["wren", name, "RR"]);
    close(&of("tyre-section-height"), "value_si", 0.14625, 1e-12);
    close(&of("tyre-diameter"), "value", 28.516, 5e-4);
    close(&of("tyre-circumference"), "value", 89.59, 0.01);
    close(&of("tyre-revs-per-mile-free"), "value", 707.26, 5e-3);
    close(&of("tyre-revs-per-mile"), "value", 1_609_344.0 / (3.05 * 724.0), 1e-6);
    close(&of("tyre-revs-per-km-free"), "value", 707.26 / 1.609_344, 5e-3);
    close(&of("tyre-revs-per-km"), "value", 1e6 / (3.05 * 724.0), 1e-6);
}

#[test]
fn across_the_tread() {
    let text = book("metric", "  read tyre-temp LF 81/86/79 RF 80/85/80 LR 70/70/76 RR 70/71/72 C\n");
    close(&figure(&text, &["wren", "tread-inner-less-outer", "LF"]), "value", -2.0, 1e-9);
    close(&figure(&text, &["wren", "tread-inner-less-outer", "LR"]), "value", 6.0, 1e-9);
    close(&figure(&text, &["wren", "tread-middle-less-edges", "LF"]), "value", 6.0, 1e-9);
    close(&figure(&text, &["wren", "tread-mean", "LF"]), "value", 82.0, 1e-9);
    // A difference of Fahrenheit is no reading: 9 F is 5 K, not 9 F above its zero.
    let text = book("imperial", "  read tyre-temp LF 180/186/189 F\n");
    let value = figure(&text, &["wren", "tread-inner-less-outer", "LF"]);
    close(&value, "value", 9.0, 1e-9);
    close(&value, "value_si", 5.0, 1e-9);
}

#[test]
fn nothing_below_no_pressure() {
    for (cold, gas, air, needs) in [
        ("-1.5 bar", "20 C", "1.0 bar", "a value of tyre-cold LF"),
        ("1.5 bar", "20 C", "0 bar", "a value of air-pressure"),
        ("1.5 bar", "20 C", "-1 bar", "a value of air-pressure"),
        ("1.5 bar", "-300 C", "1 bar", "a value of tyre-gas-cold LF"),
    ] {
        let (value, _) = trace(&hot("metric", cold, gas, "80 C", air), &["wren", "tyre-hot-expected", "LF"]);
        assert_eq!(value["missing"], serde_json::json!([needs]), "{value}");
    }
}

#[test]
fn a_size_that_is_none() {
    for size in ["wide", "205/R16", "0/55R16", "205/55R"] {
        let (value, err) = trace(
            &book("metric", &format!("  set tyre-size all \"{size}\"\n")),
            &["wren", "tyre-diameter", "LF"],
        );
        assert!(
            value["missing"][0].as_str().unwrap().starts_with("tyre-size LF as width/aspect"),
            "{value} {err}"
        );
    }
    let (value, _) =
        trace(&book("metric", "  set tyre-size all 205/70D15\n"), &["wren", "tyre-revs-per-km", "LF"]);
    assert!(value["missing"][0].as_str().unwrap().contains("radial"), "{value}");
}
