//! Ratios, speeds and revs after a shift. Closed forms: mph = rpm D(in) / (336.135 ratio), 336.135240 = 63360 / (60 pi).

use super::{close, figure, trace};

const BOX: &str = "car wren \"Wren\"  units imperial\n  gears 5\n  drive rear\n
2025-05-03 wren
  set tyre-diameter rear 25.0 in
  set gear-ratio g4 1.000
  set final-drive 3.90
  set rev-limit 7000 rpm
  set road-speed 133.4934 mph
";

#[test]
fn speed_at_the_limit() {
    let value = figure(BOX, &["wren", "speed-at-limit", "g4"]);
    // 133.4934 mph, 214.8366 km/h by the constant rounded to 336.135, which is 7e-7 off.
    close(&value, "value", 133.4934, 1.5e-4);
    close(&value, "value_si", 214.8366 / 3.6, 6e-5);
    close(&value, "value", 7000.0 * 25.0 * 60.0 * std::f64::consts::PI / (63360.0 * 3.9), 1e-9);
    close(&figure(BOX, &["wren", "speed-per-1000", "g4"]), "value", 133.4934 / 7.0, 3e-5);
}

#[test]
fn revs_at_the_speed_come_back() {
    close(&figure(BOX, &["wren", "rpm-at-speed", "g4"]), "value", 7000.0, 0.01);
}

/// 7200 x 1.69 / 2.32.
#[test]
fn revs_after_the_shift() {
    let text = "car wren \"Wren\"\n  gears 5\n\n2025-05-03 wren\n  set gear-ratio g2 2.32\n  set gear-ratio g3 1.69\n  set shift-speed 7200 rpm\n";
    close(&figure(text, &["wren", "rpm-after-shift", "g2"]), "value", 5244.828, 5e-4);
    let (value, _) = trace(text, &["wren", "rpm-after-shift", "g3"]);
    assert_eq!(value["missing"][0], "a value of gear-ratio g4");
}

#[test]
fn ratios_from_teeth() {
    let text = "car wren \"Wren\"\n  gears 5\n  drive rear\n\n2025-05-03 wren\n  set final-drive 41/11\n  set gear-ratio g1 38/14 g2 32/18\n  set rolling-circumference rear 1900 mm\n";
    let value = figure(text, &["wren", "final-drive-ratio"]);
    close(&value, "value", 41.0 / 11.0, 1e-12);
    assert_eq!(value["inputs"][0]["shown"], "41 teeth");
    close(&figure(text, &["wren", "gear-teeth-ratio", "g2"]), "value", 32.0 / 18.0, 1e-12);
    close(&figure(text, &["wren", "overall-ratio", "g1"]), "value", 38.0 / 14.0 * 41.0 / 11.0, 1e-12);
    let speed = 1000.0 / 60.0 * 1.9 / (38.0 / 14.0 * 41.0 / 11.0);
    close(&figure(text, &["wren", "speed-per-1000", "g1"]), "value_si", speed, 1e-12);
    let (value, _) = trace(&text.replace("41/11", "41/0"), &["wren", "final-drive-ratio"]);
    // No teeth: the line is refused, and what it would have set is not known.
    assert_eq!(value["missing"][0], "a value of final-drive", "{value}");
}

/// A chain car: primary 1.7, 52 teeth over 16; its own declaration may hold the ratio that never changes.
#[test]
fn a_chain() {
    let text = "car teal \"Teal\"\n  gears 6\n  drive rear\n\n2025-05-03 teal\n  set primary-drive 1.7\n  set sprocket-front 16\n  set sprocket-rear 52\n  set gear-ratio g1 2.5\n";
    close(&figure(text, &["teal", "overall-ratio", "g1"]), "value", 1.7 * 52.0 / 16.0 * 2.5, 1e-12);
    let opened = text
        .replace("  drive rear\n", "  drive rear\n  primary-drive 34/20\n")
        .replace("  set primary-drive 1.7\n", "");
    close(&figure(&opened, &["teal", "final-drive-ratio"]), "value", 1.7 * 52.0 / 16.0, 1e-12);
}

#[test]
fn no_revs_and_no_tyre_have_no_speed() {
    for (from, to, needs) in [
        ("7000 rpm", "0 rpm", "a value of rev-limit"),
        ("25.0 in", "0 in", "tyre-size LR (or rolling-circumference, or tyre-diameter)"),
        ("set gear-ratio g4 1.000", "set gear-ratio g4 0", "a value of gear-ratio g4"),
        ("  drive rear\n", "", "`drive front`, `drive rear` or `drive all` on the car's declaration"),
    ] {
        let (value, _) = trace(&BOX.replace(from, to), &["wren", "speed-at-limit", "g4"]);
        assert_eq!(value["missing"][0], needs, "{value}");
    }
}
