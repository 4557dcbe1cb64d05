//! Toe, caster, steering-axis inclination, drift.

use super::{changes, close, demo, figure, missing};

fn toe(over: &str, line: &str) -> String {
    format!("car wren \"Wren\"\n  toe-over {over}\n\n2025-03-01 wren\n  {line}\n")
}

/// s = D sin(angle) for one wheel (axes of ISO 8855:2011).
#[test]
fn toe_between_angle_and_length() {
    let book = toe("431.8 mm", "set toe-in LF 0.10 deg");
    close(&changes(&book, &["wren", "toe-length", "LF"]), "value", 0.753_633, 5e-7);
    let book = toe("431.8 mm", "set toe-in LF 1.0 mm");
    let value = figure(&book, &["wren", "toe-angle", "LF"]);
    close(&value, "value", 0.132_691, 5e-7);
    assert!((value["value"].as_f64().unwrap() * 60.0 - 7.961_44).abs() < 5e-6);
    // An eighth in all on 25 in, half to each wheel.
    let book = toe("25 in", "set toe-in front 1/8 in total");
    close(&figure(&book, &["wren", "total-toe-angle", "front"]), "value", 0.286_480, 1e-6);
    close(&figure(&book, &["wren", "total-toe-length", "front"]), "value", 3.175, 1e-9);
    close(&figure(&book, &["wren", "toe-length", "RF"]), "value", 1.5875, 1e-9);
    let book = toe("24 in", "set toe-out LF 1/16 in");
    let value = figure(&book, &["wren", "toe-angle", "LF"]);
    close(&value, "value", -0.149_208, 5e-7);
    assert!((value["value"].as_f64().unwrap() * 60.0 + 8.9525).abs() < 5e-5);
}

#[test]
fn two_wheels_make_an_axle() {
    let book = toe("400 mm", "set toe-in LF 0.10 RF 0.20 deg");
    close(&figure(&book, &["wren", "total-toe-angle", "front"]), "value", 0.30, 1e-12);
    let nowhere = "car wren \"Wren\"\n\n2025-03-01 wren\n  set toe-in LF 0.10 deg\n";
    assert!(missing(nowhere, &["wren", "toe-length", "LF"]).contains("where toe is measured"));
    close(
        &figure(&nowhere.replace("deg", "deg  over 431.8 mm"), &["wren", "toe-length", "LF"]),
        "value",
        0.753_633,
        5e-7,
    );
}

fn swept(quantity: &str, row: &str) -> String {
    format!("car wren \"Wren\"\n\n2025-03-01 wren\n  found {quantity}\n    sweep RF {row}\n")
}

/// Exact turning of the wheel about its steering axis in space, camber read at both ends: caster within 0.02 deg.
#[test]
fn caster_from_a_sweep() {
    let rows = [
        // Caster 5, inclination 12, camber -1, 20 deg each way.
        ("20 deg inner 1.4504 outer -1.9744", 5.0067, 5.0),
        // Caster 7, 10, -2.5, 10 deg each way: with the trade's factor of 1.5 it would come out as 3.64.
        ("10 deg inner -1.1321 outer -3.5577", 6.9843, 7.0),
        // No caster: both ends read the same.
        ("20 deg inner -0.2672 outer -0.2672", 0.0, 0.0),
    ];
    for (row, said, exact) in rows {
        let value = figure(&swept("caster", row), &["wren", "caster-by-sweep", "RF"]);
        close(&value, "value", said, 1.5e-4);
        close(&value, "value", exact, 0.02);
    }
}

/// The same, spindle pitch with the brake locked: inclination within 0.2 deg.
#[test]
fn inclination_from_a_sweep() {
    let value =
        figure(&swept("sai", "20 deg pitch-in 3.8624 pitch-out -4.4386"), &["wren", "sai-by-sweep", "RF"]);
    close(&value, "value", 12.135, 5e-4);
    close(&value, "value", 12.0, 0.2);
}

/// A wheel turned about its axis in space, by Rodrigues: its camber and its spindle's pitch (brake locked) at a steering
/// angle. x forward, y left, z up; a right-hand wheel. Written for this test alone.
fn turned(caster: f64, sai: f64, camber: f64, steer: f64) -> (f64, f64) {
    let rad = |deg: f64| deg.to_radians();
    // The top of the axis leans rearward by the caster and inboard (left) by the inclination.
    let axis = [-libm::tan(rad(caster)), libm::tan(rad(sai)), 1.0];
    let length = axis.iter().map(|c| c * c).sum::<f64>().sqrt();
    let k = axis.map(|c| c / length);
    let rotate = |v: [f64; 3], angle: f64| {
        let (s, c) = (libm::sin(angle), libm::cos(angle));
        let cross = [k[1] * v[2] - k[2] * v[1], k[2] * v[0] - k[0] * v[2], k[0] * v[1] - k[1] * v[0]];
        let dot = k[0] * v[0] + k[1] * v[1] + k[2] * v[2];
        [0, 1, 2].map(|i| v[i] * c + cross[i] * s + k[i] * dot * (1.0 - c))
    };
    // The spindle points outboard, up by a negative camber.
    let spindle = [0.0, -libm::cos(rad(camber)), -libm::sin(rad(camber))];
    let forward = [1.0, 0.0, 0.0];
    // Turn about the axis until the wheel points `steer` from straight ahead, seen from above.
    let (mut low, mut high) = (-1.2, 1.2);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        let s = rotate(spindle, middle);
        if libm::atan2(s[0], -s[1]) < rad(steer) { low = middle } else { high = middle }
    }
    let angle = f64::midpoint(low, high);
    let (s, f) = (rotate(spindle, angle), rotate(forward, angle));
    (-libm::asin(s[2]).to_degrees(), libm::asin(f[2]).to_degrees())
}

#[test]
fn sweeps_against_turning_in_space() {
    // The right wheel is the inner one turning right: steered by -20 from above, anticlockwise positive.
    for (caster, sai, camber, steer, room) in
        [(5.0, 12.0, -1.0, 20.0, 0.02), (7.0, 10.0, -2.5, 10.0, 0.02), (0.0, 12.0, -1.0, 20.0, 1e-6)]
    {
        let (inner, outer) = (turned(caster, sai, camber, -steer).0, turned(caster, sai, camber, steer).0);
        let row = format!("{steer} deg inner {inner:.9} outer {outer:.9}");
        close(&figure(&swept("caster", &row), &["wren", "caster-by-sweep", "RF"]), "value", caster, room);
    }
    for (caster, sai, camber, said) in
        [(5.0, 12.0, -1.0, 12.135), (7.0, 10.0, -2.5, 10.017), (0.0, 12.0, 0.0, 12.188)]
    {
        let (inner, outer) = (turned(caster, sai, camber, -20.0).1, turned(caster, sai, camber, 20.0).1);
        let row = format!("20 deg pitch-in {inner:.9} pitch-out {outer:.9}");
        let value = figure(&swept("sai", &row), &["wren", "sai-by-sweep", "RF"]);
        close(&value, "value", sai, 0.2);
        close(&value, "value", said, 5e-4);
    }
}

#[test]
fn sweeps_that_cannot_be() {
    let of = |row: &str| missing(&swept("caster", row), &["wren", "caster-by-sweep", "RF"]);
    assert!(of("0 deg inner 1.4 outer -1.9").contains("more than nothing"));
    assert!(of("20 deg pitch-in 1.4 pitch-out -1.9").contains("put right"));
    assert!(
        missing(&swept("caster", "20 deg inner 1.4 outer -1.9"), &["wren", "caster-by-sweep", "LF"])
            .contains("sweep LF")
    );
}

/// Crash of 28 June: RF camber 13 widths, toe 7, caster 5.5, ride 3; RR camber 1; LF camber none. A slow bend on the other car.
#[test]
fn demo_drift() {
    let rows = [
        ("camber-drift", "RF", 13.0),
        ("ride-height-drift", "RF", 3.0),
        ("camber-drift", "RR", 1.0),
        ("camber-drift", "LF", 0.0),
        ("caster-drift", "RF", -5.5),
        ("toe-drift", "RF", -7.0),
    ];
    for (name, place, widths) in rows {
        close(&demo(&["bittern", name, place, "2026-06-29"]), "value", widths, 0.01);
    }
    // Never set again since 4 June, each step at most two widths, the sum five.
    close(&demo(&["curlew", "camber-drift", "RF", "2026-10-23"]), "value", 5.0, 0.01);
    let value = demo(&["bittern", "camber-drift", "RF", "2026-06-29"]);
    let between = value["sure"].as_str().unwrap();
    assert!(between.contains("187 km") && between.contains("1 impact"), "{between}");
}

#[test]
fn drift_needs_both_ends() {
    let book = "car wren \"Wren\"\n\n2025-03-01 wren\n  left camber LF -2.0 deg\n\n2025-03-08 wren\n  found camber LF -1.8 deg\n";
    close(&figure(book, &["wren", "camber-drift", "LF"]), "value", 2.0, 1e-6);
    let set = book.replace("\n2025-03-08", "  set camber LF -1.9 deg\n\n2025-03-08");
    assert!(missing(&set, &["wren", "camber-drift", "LF"]).contains("left after it was last set"));
    assert!(
        missing("car wren \"Wren\"\n", &["wren", "camber-drift", "LF"]).contains("found, and left before")
    );
}
