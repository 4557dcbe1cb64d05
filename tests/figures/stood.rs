//! What is worked out takes values as they stood: of a session in that session, of two forms of toe the newer, of wear from now on.

use super::{close, missing, trace};

fn book(car: &str, lines: &str) -> String {
    format!(
        "circuit mire \"Mire\"  length 2 mile\nevent mire-1 2026-04-18..19 at mire \"M\"\ncar plumb \"Plumb\"  units metric\n  usual weight 50..400 kg\n{car}\n2026-04-18 plumb at mire-1\n{lines}"
    )
}

/// 30 L/h for 20 minutes are 10 L of 40, and 650 kg less 0.745 * 10 are 642.55 kg; what is set two days later burnt nothing of it.
#[test]
fn what_was_set_since_rewrites_no_session() {
    let lines = "  left weight 150 155 170 175 kg  with driver 78 kg, fuel 40 L\n  set fuel-rate 30 L/h\n  fill fuel 40 L\n  10:00..10:20 run s1\n\n2026-04-20 plumb\n";
    for since in [
        "",
        "  set fuel-rate 60 L/h\n",
        "  set fuel-rate 60 L/h\n  set fuel-density 0.72 kg/L\n",
        "  set fuel-rate nothing\n",
    ] {
        let text = book("", &format!("{lines}{since}"));
        for (figure, expected, tolerance) in [
            ("fuel-burnt", 0.010, 1e-12),
            ("fuel-left", 0.030, 1e-12),
            ("weight-after-session", 642.55 * 9.80665, 1e-6),
        ] {
            let (value, err) = trace(&text, &["plumb", figure]);
            assert!(value["value_si"].is_number(), "{since:?} {figure}: {value} {err}");
            close(&value, "value_si", expected, tolerance);
        }
    }
    // What was set before it counts, and so does what the next session ran with.
    let next = format!("{lines}  set fuel-rate 60 L/h\n  fill fuel 40 L\n  11:00..11:20 run s2\n");
    let (value, _) = trace(&book("", &next), &["plumb", "fuel-burnt"]);
    close(&value, "value_si", 0.020, 1e-12);
}

/// 2 mm total, then half a millimetre out at each wheel: -1 mm. The newer form stands for both; one wheel alone says nothing of the axle.
#[test]
fn the_newer_form_of_toe_stands_for_both() {
    let car = "  toe-over 400 mm\n";
    let axle = "  found toe-in front 2 mm total\n";
    let wheels = "  left toe-out LF 0.5 mm\n  left toe-out RF 0.5 mm\n";
    let total = |lines: &str| trace(&book(car, lines), &["plumb", "total-toe-length", "front"]).0;
    close(&total(axle), "value_si", 0.002, 1e-12);
    close(&total(&format!("{axle}{wheels}")), "value_si", -0.001, 1e-12);
    close(&total(&format!("{wheels}{axle}")), "value_si", 0.002, 1e-12);
    let (wheel, _) = trace(&book(car, &format!("{wheels}{axle}")), &["plumb", "toe-length", "LF"]);
    close(&wheel, "value_si", 0.001, 1e-12);
    let one = format!("{axle}  left toe-out LF 0.5 mm\n");
    let lacks = missing(&book(car, &one), &["plumb", "total-toe-length", "front"]);
    assert!(
        lacks.contains("toe front that is no older than that of toe LF") || lacks.contains("toe RF"),
        "{lacks}"
    );
}

/// 12 mm to 10 mm in an hour leave 3 h to 4 mm at the reading, and 2 h once another hour has run; after four, none: 1 h past it.
#[test]
fn what_is_left_of_pads_is_from_now_on() {
    let lines = |more: &str| {
        format!(
            "  set pad-minimum LF 4 mm\n  read pad-thickness LF 12.0 mm\n  09:00..10:00 run s1\n  read pad-thickness LF 10.0 mm\n{more}"
        )
    };
    for (more, hours) in [("", 3.0), ("  12:00..13:00 run s2\n", 2.0), ("  12:00..16:00 run s2\n", -1.0)] {
        let (value, _) = trace(&book("", &lines(more)), &["plumb", "pad-hours-left", "LF"]);
        close(&value, "value_si", hours * 3600.0, 1e-6);
    }
    // How long it ran is not known, and so not what is left.
    missing(&book("", &lines("  12:00 run s2\n")), &["plumb", "pad-hours-left", "LF"]);
}

/// 60/30, 2.0 and 3.5 are 14 turns of the engine for one of the wheel; without a primary drive 7. Beside sprockets the final drive says the
/// whole of them.
#[test]
fn a_primary_drive_is_in_the_overall_ratio() {
    let car = "  gears 1\n  drive rear\n";
    for (lines, ratio) in [
        ("  set primary-drive 60/30\n  set final-drive 3.5\n", 14.0),
        ("  set final-drive 3.5\n", 7.0),
        ("  set primary-drive 60/30\n  set sprocket-front 15\n  set sprocket-rear 45\n", 12.0),
        (
            "  set primary-drive 60/30\n  set final-drive 6.0\n  set sprocket-front 15\n  set sprocket-rear 45\n",
            12.0,
        ),
    ] {
        let (value, _) = trace(
            &book(car, &format!("  set gear-ratio g1 2.0\n{lines}")),
            &["plumb", "overall-ratio", "g1"],
        );
        close(&value, "value_si", ratio, 1e-9);
    }
}
