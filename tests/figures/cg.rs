//! Height of the centre of gravity by lifting one end (ISO 10392:2011; RCVD ch. 18).

use super::{changes, close, demo, figure, missing};

fn lifted(row: &str, gauge: &str) -> String {
    format!(
        "gauge pads \"pads\"  reads weight  resolution 1 lb\ncar wren \"Wren\"  units imperial\n  wheelbase 95 in\n\n2025-03-01 wren\n  left weight LF \
         650 RF 600 LR 560 RR 590 lb\n  read cg-height{gauge}\n    {row}\n"
    )
}

/// Base 95 in, 2400 lb, 1250 on the front, rear lifted 10 in, radius 12 in: 1267.38189 lb on the front is 18.5 in.
#[test]
fn height_by_lift() {
    let book = lifted("lift rear 10 in front 1267.38189 lb radius 12 in", "");
    close(&changes(&book, &["wren", "cg-height"]), "value", 18.5, 5e-6);
    // The same car the other way up: the front lifted, the rear gains as much.
    let book = lifted("lift front 10 in rear 1167.38189 lb radius 12 in", "");
    close(&changes(&book, &["wren", "cg-height"]), "value", 18.5, 5e-6);
}

/// 15 lb gained: 17.60929 in, and 0.373953 in for each pound: one pound of the scale is 9.5 mm.
#[test]
fn what_a_pound_is_worth() {
    let book = lifted("lift rear 10 in front 1265 lb radius 12 in", "  by pads");
    let value = changes(&book, &["wren", "cg-height"]);
    close(&value, "value", 17.609_29, 5e-6);
    close(&value, "u", 0.373_953 * 0.5 / 3f64.sqrt(), 5e-7);
    let each = changes(&book, &["wren", "cg-height-per-kilogram"]);
    close(&each, "value", 0.373_953, 5e-6);
    assert_eq!(each["unit"], "in/lb");
}

/// 110 in lifted 18 in stands on 108.517 in (Pythagoras).
#[test]
fn base_on_the_ground() {
    let book = lifted("lift rear 18 in front 1265 lb radius 12 in", "").replace("95 in", "110 in");
    close(&figure(&book, &["wren", "lifted-wheelbase"]), "value", 108.517, 5e-4);
}

/// Lifted in April, raised in June, weighed level in August: the weights of August do not belong with the lift, so the height is that
/// of April (18.5 in, closed form), and says so. Raised before the level weights of the same day it is missing, and says which.
#[test]
fn a_lift_and_weights_of_another_state() {
    let april = lifted("lift rear 10 in front 1267.38189 lb radius 12 in", "");
    let raised = "\n2025-06-01 wren\n  set ride-height all 5 in\n";
    let august = "\n2025-08-01 wren\n  left weight LF 655 RF 612 LR 561 RR 572 lb\n";
    let (value, _) = super::trace(&format!("{april}{raised}{august}"), &["wren", "cg-height"]);
    close(&value, "value", 18.5, 5e-6);
    let careful = value["caution"].as_str().unwrap();
    assert!(careful.starts_with("as of 2025-03-01"), "{careful}");
    assert!(careful.contains("2025-06-01") && careful.contains("2025-08-01"), "{careful}");
    assert_eq!(value["stale"]["line"], 11);
    // Without the change they are one state: 15 in 2400 lb more would be another height.
    let (together, _) = super::trace(&format!("{april}{august}"), &["wren", "cg-height"]);
    assert!(together["caution"].is_null(), "{together}");
    let first = april.replace("  left weight LF 650 RF 600 LR 560 RR 590 lb\n", "");
    let missing = missing(&format!("{first}{raised}{august}"), &["wren", "cg-height"]);
    assert!(missing.contains("in one state of the car") && missing.contains("ride-height"), "{missing}");
}

/// The same with other conditions: with 200 lb of driver aboard the weights are another car's.
#[test]
fn a_lift_and_weights_under_other_conditions() {
    let april = lifted("lift rear 10 in front 1267.38189 lb radius 12 in", "  with driver 0 lb")
        .replace("590 lb", "590 lb  with driver 0 lb");
    let august = "\n2025-08-01 wren\n  left weight LF 655 RF 712 LR 561 RR 672 lb  with driver 200 lb\n";
    let (value, _) = super::trace(&format!("{april}{august}"), &["wren", "cg-height"]);
    close(&value, "value", 18.5, 5e-6);
    let careful = value["caution"].as_str().unwrap();
    assert!(careful.contains("another driver"), "{careful}");
}

#[test]
fn the_demo_hatchback() {
    let value = demo(&["curlew", "cg-height"])["value"].as_f64().unwrap();
    assert!((300.0..700.0).contains(&value), "{value}");
}

#[test]
fn lifts_that_cannot_be() {
    let of = |row: &str| missing(&lifted(row, ""), &["wren", "cg-height"]);
    assert!(of("lift rear 95 in front 1265 lb radius 12 in").contains("below the wheelbase"));
    assert!(of("lift rear 10 in front 1265 lb").contains("radius"));
    assert!(of("lift rear 10 in rear 1265 lb radius 12 in").contains("other end"));
    assert!(of("lift rear 0 in front 1265 lb radius 12 in").contains("other end"));
    let none = missing("car wren \"Wren\"\n", &["wren", "cg-height"]);
    assert!(none.contains("a lift under one"), "{none}");
}

/// Raised at 01:10 in the night of 1 June: that was on the 2nd.
#[test]
fn a_change_past_midnight_is_of_its_own_day() {
    let april = lifted("lift rear 10 in front 1267.38189 lb radius 12 in", "");
    let raised = "\n2025-06-01 wren\n  23:00..01:00 run s1\n  01:10 set ride-height all 5 in\n";
    let august = "\n2025-08-01 wren\n  left weight LF 655 RF 612 LR 561 RR 572 lb\n";
    let (value, _) = super::trace(&format!("{april}{raised}{august}"), &["wren", "cg-height"]);
    let careful = value["caution"].as_str().unwrap();
    assert!(careful.contains("2025-06-02") && !careful.contains("2025-06-01"), "{careful}");
}
