//! Brakes: torque, bias, ideal share, the published efficiency example, wear.

use super::{close, figure, trace};

/// Closed form of T = 2 mu p A r: 2 x 36 mm a side, mu 0.45, r 125 mm front; 1 x 36, 0.40, 120 rear; line pressure 60 bar.
const PAIR: &str = "car wren \"Wren\"\n
2025-05-03 wren
  set caliper-pistons front 2 rear 1
  set caliper-bore front 36 mm rear 36.0 mm
  set pad-mu front .45 rear .40
  set brake-radius front 125 mm rear 120 mm
";
const LINES: &str = "  read line-pressure front 60 bar\n  read line-pressure rear 60 bar\n  set loaded-radius front 310 mm\n  set loaded-radius rear 310 mm\n";

#[test]
fn torque_and_force() {
    let text = format!("{PAIR}{LINES}");
    let of = |name: &str, axle: &str| figure(&text, &["wren", name, axle]);
    close(&of("brake-torque", "front"), "value_si", 1374.1327, 1e-4);
    close(&of("brake-torque", "rear"), "value_si", 586.2966, 1e-4);
    close(&of("brake-force", "front"), "value_si", 8865.372, 5e-4);
    close(&of("brake-force", "rear"), "value_si", 3782.559, 5e-4);
    close(&figure(&text, &["wren", "brake-bias-torque"]), "value", 70.09346, 5e-6);
}

/// Twin master cylinders 15.875 mm front, 19.05 mm rear: bias is not the bar's share.
#[test]
fn bias_of_twin_cylinders() {
    for (share, bias) in [("50 %", 77.142_86), ("55 %", 80.487_80)] {
        let text =
            format!("{PAIR}  set master-bore front 15.875 mm rear 19.05 mm\n  set bar-share {share}\n");
        close(&figure(&text, &["wren", "brake-bias-cylinders"]), "value", bias, 5e-6);
    }
}

/// The pedal's way and the cylinders' way agree; 400 N x 5 x 0.55 on a bore of 15.875 mm.
#[test]
fn pressure_from_the_pedal() {
    let text = format!(
        "{PAIR}  set master-bore front 15.875 mm rear 19.05 mm\n  set bar-share 55 %\n  set pedal-force 400 N\n  set pedal-ratio 5\n"
    );
    let area = std::f64::consts::FRAC_PI_4 * 0.015_875f64 * 0.015_875;
    close(
        &figure(&text, &["wren", "line-pressure-expected", "front"]),
        "value_si",
        400.0 * 5.0 * 0.55 / area,
        1e-3,
    );
    let area = std::f64::consts::FRAC_PI_4 * 0.019_05f64 * 0.019_05;
    close(
        &figure(&text, &["wren", "line-pressure-expected", "rear"]),
        "value_si",
        400.0 * 5.0 * 0.45 / area,
        1e-3,
    );
    close(&figure(&text, &["wren", "brake-bias-torque"]), "value", 80.487_80, 5e-6);
}

/// b/l 0.54, h/l 0.18 at 1 g: 72 % (Gillespie, Fundamentals of Vehicle Dynamics, ch. 3; Limpert).
#[test]
fn ideal_share() {
    let text = "car wren \"Wren\"\n\n2025-05-03 wren\n  read front-weight 54 %\n  read cg-height 450 mm\n  set wheelbase 2500 mm\n  set deceleration 1 g\n";
    close(&figure(text, &["wren", "ideal-brake-share"]), "value", 72.0, 1e-9);
    let half = text.replace("1 g", "0.5 g");
    close(&figure(&half, &["wren", "ideal-brake-share"]), "value", 63.0, 1e-9);
}

/// Gillespie, Fundamentals of Vehicle Dynamics (1992), ch. 3, braking efficiency example, the 100 psi row: base 108.5 in,
/// h 20.25 in, r 12.11 in, 2210/1864 lb, brake gains 20 and 14 in-lb/psi a wheel (here from pistons of 4 and 2.8 square inches).
#[test]
fn the_textbook_row() {
    let text = "car wren \"Wren\"  units imperial\n
2025-05-03 wren
  read weight LF 1105 RF 1105 LR 932 RR 932 lb
  set wheelbase 108.5 in
  read cg-height 20.25 in
  set caliper-pistons front 1 rear 1
  set caliper-bore front 2.2567583 in rear 1.8881401 in
  set pad-mu front 0.5 rear 0.50
  set brake-radius front 5 in rear 5.0 in
  set loaded-radius front 12.11 in
  set loaded-radius rear 12.11 in
  read line-pressure front 100 psi
  read line-pressure rear 100 psi
";
    let of = |words: &[&str]| figure(text, words);
    close(&of(&["wren", "brake-force", "front"]), "value", 330.31, 5e-3);
    close(&of(&["wren", "brake-force", "rear"]), "value", 231.21, 5e-3);
    close(&of(&["wren", "braking-deceleration"]), "value_si", 0.137_83 * 9.806_65, 5e-5);
    close(&of(&["wren", "braking-weight", "front"]), "value", 2314.8, 0.05);
    close(&of(&["wren", "braking-weight", "rear"]), "value", 1759.2, 0.05);
    close(&of(&["wren", "friction-used", "front"]), "value", 0.142_69, 5e-6);
    close(&of(&["wren", "friction-used", "rear"]), "value", 0.131_43, 5e-6);
    close(&of(&["wren", "brake-efficiency"]), "value", 96.592, 5e-3);
}

const WORN: &str = "car wren \"Wren\"\n
2025-05-03 wren
  set pad-minimum all 4 mm
  set disc-minimum all 22 mm
  read pad-thickness LF 3 mm
  read pad-thickness LF 12.0 mm
  read disc-thickness LF 24.0 mm
  09:00 run s1  30 min  10 laps
  11:00..11:45 run s2  10 laps
  13:00 run s3  15 min
  read pad-thickness LF 9.0 mm
  read disc-thickness LF 23.7 mm
";

/// 3 mm in 30 + 45 + 15 min is 2 mm an hour; 5 mm left is 2.5 h. New pads in between: only theirs count.
#[test]
fn wear_by_the_hour() {
    for (name, value) in
        [("pad-wear", 2.0), ("pad-hours-left", 2.5), ("disc-wear", 0.2), ("disc-hours-left", 8.5)]
    {
        let (got, err) = trace(WORN, &["wren", name, "LF"]);
        assert!(err.is_empty() || got["value"].is_number(), "{name}: {err}");
        super::evaluate::again(&got);
        close(&got, "value", value, 1e-9);
        assert!(got["caution"].is_null());
    }
    let (gone, _) = trace(
        &WORN.replace("set pad-minimum all 4", "set pad-minimum all 9"),
        &["wren", "pad-hours-left", "LF"],
    );
    assert_eq!(gone["caution"], "at or below its minimum: not to be run");
}

#[test]
fn wear_needs_running_and_two_readings() {
    for (from, to, needs) in [
        ("  13:00 run s3  15 min\n", "  13:00 run s3\n", "minutes of the session s3"),
        ("  read pad-thickness LF 9.0 mm\n", "", "two readings of pad-thickness LF with running between"),
        ("  read pad-thickness LF 9.0 mm\n", "  read pad-thickness LF 12.0 mm\n", "readings that show wear"),
        ("  set pad-minimum all 4 mm\n", "", "a value of pad-minimum LF"),
    ] {
        let (value, _) = trace(&WORN.replace(from, to), &["wren", "pad-hours-left", "LF"]);
        assert_eq!(value["missing"], serde_json::json!([needs]), "{value}");
    }
}

#[test]
fn what_is_missing_is_named() {
    let text = format!("{PAIR}{LINES}")
        .replace("  set pad-mu front .45 rear .40\n", "")
        .replace("  read line-pressure front 60 bar\n", "");
    let (value, _) = trace(&text, &["wren", "brake-torque", "front"]);
    let needs = value["missing"].as_array().unwrap();
    assert!(
        needs[0].as_str().unwrap().starts_with("a value of line-pressure front (or pedal-force"),
        "{value}"
    );
    assert_eq!(needs[1], "a value of pad-mu front");
    let (value, _) = trace(PAIR, &["wren", "brake-torque", "LF"]);
    assert!(value["missing"][0].as_str().unwrap().contains("line-pressure front"), "{value}");
    let (value, _) = trace(PAIR, &["wren", "brake-torque"]);
    assert_eq!(value["missing"][0], "an axle: front or rear");
}
