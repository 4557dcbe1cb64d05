//! Density, density altitude, power correction, the standard atmosphere.

use super::{close, figure, trace};

fn book(units: &str, lines: &str) -> String {
    format!("car wren \"Wren\"  units {units}\n\n2025-05-03 wren\n{lines}")
}

fn day(pressure: &str, air: &str, water: &str) -> String {
    book("metric", &format!("  read air-pressure {pressure} hPa\n  read air-temp {air} C\n  read {water}\n"))
}

/// SAE J1349 (Jun 90) and ISO 1585 at the reference and off it; both are 1 at 990 hPa dry and 25 C by definition. (A form
/// for inHg and F in circulation has 505 for 537 and gives 1.037 there.)
#[test]
fn power_corrections() {
    for (pressure, air, water, sae, iso, outside) in [
        ("990", "25", "humidity 0 %", 1.000_00, 1.000_00, false),
        ("1013.25", "25", "humidity 0 %", 0.972_92, 0.972_53, false),
        ("1013.25", "15", "humidity 0 %", 0.953_41, 0.952_81, false),
        ("950", "35", "humidity 0 %", 1.070_15, 1.071_75, true),
        ("850", "30", "humidity 30 %", 1.226_90, 1.234_97, true),
    ] {
        let text = day(pressure, air, water);
        for (name, expected) in [("power-correction-sae", sae), ("power-correction-iso", iso)] {
            let value = figure(&text, &["wren", name]);
            close(&value, "value", expected, 6e-6);
            let caution = value["caution"].as_str();
            assert_eq!(caution, outside.then_some("outside ±7 %, not comparable"), "{pressure} {air}");
        }
    }
}

/// The dry pressure at which SAE J1349 gives 1.07 at 25 C: 934.560 hPa.
#[test]
fn the_limit_of_the_correction() {
    close(
        &figure(&day("934.560", "25", "humidity 0 %"), &["wren", "power-correction-sae"]),
        "value",
        1.07,
        1e-6,
    );
}

/// Tetens: 30 % at 30 C is 12.728 hPa.
#[test]
fn water_by_humidity() {
    close(&figure(&day("850", "30", "humidity 30 %"), &["wren", "vapour-pressure"]), "value", 12.728, 5e-4);
}

/// US Standard Atmosphere 1976 (ICAO Doc 7488) by geopotential height.
#[test]
fn standard_atmosphere() {
    for (height, kelvin, pascal, density) in [
        ("0", 288.15, 101_325.0, 1.225_00),
        ("1000", 281.65, 89_874.6, 1.111_64),
        ("2000", 275.15, 79_495.2, 1.006_49),
        ("3000", 268.65, 70_108.5, 0.909_122),
        ("5000", 255.65, 54_019.9, 0.736_116),
        ("11000", 216.65, 22_632.0, 0.363_918),
    ] {
        let text = book("metric", &format!("  read altitude {height} m\n"));
        close(&figure(&text, &["wren", "standard-temperature"]), "value_si", kelvin, 1e-9);
        close(&figure(&text, &["wren", "standard-pressure"]), "value_si", pascal, 0.06);
        close(&figure(&text, &["wren", "standard-density"]), "value_si", density, 5.1e-6);
    }
}

/// Exact density altitude (US Standard Atmosphere inverted) and the US National Weather Service's rounded form.
#[test]
fn density_altitude() {
    for (pressure, air, water, density, metres, feet, rounded) in [
        ("1013.25", "15", "humidity 0 %", 1.225_000, 0.00, 0.0, 18.1),
        ("1013.25", "30", "humidity 0 %", 1.164_386, 525.455, 1723.93, 1741.05),
        ("1013.25", "30", "dew-point 20 C", 1.154_248, 615.378, 2018.96, 2035.92),
        ("850", "25", "dew-point 10 C", 0.987_748, 2186.549, 7173.72, 7188.02),
    ] {
        let text = day(pressure, air, water);
        close(&figure(&text, &["wren", "air-density"]), "value_si", density, 6e-7);
        let exact = figure(&text, &["wren", "density-altitude"]);
        close(&exact, "value", metres, 6e-3);
        assert_eq!(exact["unit"], "m");
        let imperial = figure(&text.replace("units metric", "units imperial"), &["wren", "density-altitude"]);
        close(&imperial, "value", feet, 0.02);
        assert_eq!(imperial["unit"], "ft");
        let nws = figure(&text, &["wren", "density-altitude-nws"]);
        close(&nws, "value", rounded, 0.06);
        assert!((nws["value"].as_f64().unwrap() - feet).abs() < 25.0);
    }
}

#[test]
fn a_sessions_own_air() {
    let text = book(
        "metric",
        "  read air-pressure 1013.25 hPa\n  read humidity 0 %\n  09:00..09:20 run s1  5 laps  with air 30 C, dry\n",
    );
    close(&figure(&text, &["wren", "air-density"]), "value_si", 1.164_386, 6e-7);
}

#[test]
fn bad_air() {
    for (lines, needs) in [
        (
            "  read air-pressure -3 hPa\n  read air-temp 20 C\n  read humidity 0 %\n",
            "a value of air-pressure",
        ),
        (
            "  read air-pressure 990 hPa\n  read air-temp 20 C\n  read humidity 130 %\n",
            "a value of humidity (0 % for dry air) or dew-point",
        ),
        (
            "  read air-pressure 990 hPa\n  read humidity 0 %\n",
            "a value of air-temp (or `with air ...` on the session)",
        ),
    ] {
        for name in [
            "air-density",
            "density-altitude",
            "density-altitude-nws",
            "power-correction-sae",
            "power-correction-iso",
        ] {
            let (value, _) = trace(&book("metric", lines), &["wren", name]);
            assert!(value["missing"].as_array().unwrap().iter().any(|need| need == needs), "{name} {value}");
        }
    }
    let (value, _) = trace(&book("metric", "  read altitude 20000 m\n"), &["wren", "standard-pressure"]);
    assert_eq!(value["missing"][0], "a value of altitude");
}
