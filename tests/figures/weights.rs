//! Shares of the weight. Closed forms of the trade's definitions (common practice).

use super::{close, figure, trace};

/// Right front 600, left rear 560 of 2400 lb: cross 1160/2400; front 1250/2400; left 1210/2400.
const FOUR: &str = "car wren \"Wren\"  units imperial\n  reference driver 172 lb, fuel 20 L\n\n2025-05-03 wren\n  left weight LF 650 RF 600 LR 560 RR 590 lb\n";

#[test]
fn shares_of_four_pads() {
    close(&figure(FOUR, &["wren", "total-weight"]), "value", 2400.0, 1e-9);
    close(&figure(FOUR, &["wren", "front-weight"]), "value", 52.083_333_333_333, 1e-9);
    close(&figure(FOUR, &["wren", "left-weight"]), "value", 50.416_666_666_667, 1e-9);
    close(&figure(FOUR, &["wren", "cross-weight"]), "value", 48.333_333_333_333, 1e-9);
}

#[test]
fn three_pads_give_no_share() {
    let three = FOUR.replace("RR 590", "RR -");
    let (value, _) = trace(&three, &["wren", "cross-weight"]);
    assert_eq!(value["figure"], "cross-weight");
    assert!(value["missing"][0].as_str().unwrap().contains("weight RR"), "{value}");
}

/// Cross shares its pads with the total above and below the line: taken as independent, its uncertainty would be too large.
/// Closed form: with four equal u, d cross / d pad = ((1 or 0) - cross) / total.
#[test]
fn shared_readings_correlate() {
    let book = FOUR
        .replace("car wren", "gauge pads \"pads\"  reads weight  resolution 1 lb\ncar wren")
        .replace("590 lb", "590 lb  by pads");
    let value = figure(&book, &["wren", "cross-weight"]);
    let u = 0.5 / 3f64.sqrt();
    let cross: f64 = 1160.0 / 2400.0;
    let expected = u / 2400.0 * (2.0 * (1.0 - cross) * (1.0 - cross) + 2.0 * cross * cross).sqrt();
    close(&value, "u_si", expected, 1e-12);
}
