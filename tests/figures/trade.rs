//! Numbers that a short-track shop and a kart shop speak of, in the units they speak in.

use super::{close, figure};

/// Two scales' worth of pounds and four circumferences in inches: every expected number is arithmetic on what is typed.
const OVAL: &str = "car wren \"Wren\"  units imperial\n  reference driver 190 lb, fuel 12 US-gal\n\n2026-04-11 wren\n  \
    left weight 780 690 730 630 lb\n  read tyre-circumference 84 5/8 86 1/4 84 1/2 88 3/8 in\n";

#[test]
fn stagger_is_right_less_left_as_taped() {
    for (place, inches) in [("rear", 88.375 - 84.5), ("front", 86.25 - 84.625)] {
        let value = figure(OVAL, &["wren", "stagger", place]);
        close(&value, "value", inches, 1e-9);
        assert_eq!(value["unit"], "in");
    }
}

#[test]
fn wedge_as_a_share_as_a_weight_and_as_rear_bite() {
    let whole = 780.0 + 690.0 + 730.0 + 630.0;
    let cross = 100.0 * (690.0 + 730.0) / whole;
    for (name, value, unit) in [
        ("wedge", cross, "%"),
        ("wedge-load", 690.0 + 730.0 - 780.0 - 630.0, "lb"),
        ("rear-bite", 100.0, "lb"),
    ] {
        let shown = figure(OVAL, &["wren", name]);
        close(&shown, "value", value, 1e-6);
        assert_eq!(shown["unit"], unit, "{name}");
    }
}

#[test]
fn rollout_of_a_kart() {
    let book = "car lark \"Lark\"\n  drive rear\n\n2026-04-11 lark\n  read tyre-circumference LR 873 RR 875 mm\n  \
        set sprocket-front 11\n  set sprocket-rear 82\n";
    let value = figure(book, &["lark", "rollout"]);
    close(&value, "value", 874.0 * 11.0 / 82.0, 1e-9);
    assert_eq!(value["unit"], "mm");
}

#[test]
fn an_imperial_car_is_told_of_gallons_and_pounds() {
    // Density of the standard atmosphere at sea level, 1.225 kg/m3 (ISO 2533): 0.0764742 lb/ft3 with the pound and foot of NIST SP 811.
    let book = "car wren \"Wren\"  units imperial\n\n2026-04-11 wren\n  read air-temp 59 F\n  read air-pressure 1013.25 hPa\n  \
        read humidity 0 %\n";
    let value = figure(book, &["wren", "air-density"]);
    assert_eq!(value["unit"], "lb/ft3");
    close(&value, "value", 0.076_474_2, 1e-3);
    // Twelve gallons aboard, twelve an hour, half an hour.
    let book = "car wren \"Wren\"  units imperial\n  reference driver 190 lb, fuel 12 US-gal\n\n2026-04-11 wren\n  \
        left weight 780 690 730 630 lb\n  set fuel-rate 12 US-gal/h\n  10:00..10:30 run s1  30 laps\n";
    for (name, gallons) in [("fuel-burnt", 6.0), ("fuel-left", 6.0)] {
        let value = figure(book, &["wren", name]);
        assert_eq!(value["unit"], "US-gal", "{name}");
        close(&value, "value", gallons, 1e-6);
    }
    let book = "car wren \"Wren\"  units imperial\n\n2026-04-11 wren\n  10:00..10:30 run s1  30 laps\n    read fuel-used 6 US-gal\n";
    let value = figure(book, &["wren", "fuel-per-lap"]);
    assert_eq!(value["unit"], "US-gal/lap");
    close(&value, "value", 6.0 / 30.0, 1e-6);
}
