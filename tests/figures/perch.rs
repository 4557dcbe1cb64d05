//! Perch turns. Statics of a stiff body on four springs; the closed forms agree with a solved three-freedom model.

use super::{changes, close, figure, missing, trace};

/// 650 600 560 590 lb; 225 and 200 lbf/in at the wheel through ratios of 0.75 and 0.90; twelve threads to the inch.
fn book(lines: &str, with: &str) -> String {
    format!(
        "car wren \"Wren\"  units imperial\n  motion-ratio 0.75 0.90\n  spring-rate front 400 lb/in\n  spring-rate rear 246.91358024691357 lb/in\n  \
         perch-pitch 12 12 tpi\n{lines}\n2025-03-01 wren\n  set cross-weight 50 %\n  left weight LF 650 RF 600 LR 560 RR 590 lb{with}\n"
    )
}

#[test]
fn all_four_share() {
    let book = book("", "  with bars off");
    for (corner, turns) in [("LF", -0.85), ("RF", 0.85), ("LR", 1.02), ("RR", -1.02)] {
        close(&figure(&book, &["wren", "perch-turns", corner]), "value", turns, 1e-9);
    }
}

#[test]
fn one_corner_only() {
    close(&figure(&book("", "  with bars off"), &["wren", "perch-turns-alone", "RF"]), "value", 3.4, 1e-9);
}

/// A wheel-equivalent of 0.1 in: 5.294118 lb at every corner; with bars of 80 and 30 lbf/in at the wheel 4.534884 lb.
#[test]
fn what_a_turn_does() {
    let tenth = "  perch-pitch LF 0.075 in/turn\n";
    let off = book("", "  with bars off").replace("  perch-pitch 12 12 tpi\n", tenth);
    close(&figure(&off, &["wren", "perch-effect", "LF"]), "value", 5.294_118, 5e-7);
    let bars = format!("{tenth}  bar-rate 80 30 lb/in\n  bar-motion-ratio 1 1\n");
    let on = book("", "  with bars on").replace("  perch-pitch 12 12 tpi\n", &bars);
    close(&changes(&on, &["wren", "perch-effect", "LF"]), "value", 4.534_884, 5e-7);
}

/// With the bars on, the turns worked out give the gain they are for: turns alone x effect of one = what each corner needs (20 lb).
#[test]
fn turns_and_effect_agree_with_bars_on() {
    let on = book("  bar-rate 80 30 lb/in\n  bar-motion-ratio 1 1\n", "  with bars on");
    let of = |name: &str, corner: &str| trace(&on, &["wren", name, corner]).0["value"].as_f64().unwrap();
    for corner in ["LF", "RF", "LR", "RR"] {
        assert!((of("perch-turns-alone", corner).abs() * of("perch-effect", corner) - 20.0).abs() < 1e-9);
    }
    let shared: f64 =
        ["LF", "RF", "LR", "RR"].iter().map(|at| of("perch-turns", at).abs() * of("perch-effect", at)).sum();
    assert!((shared - 20.0).abs() < 1e-9, "{shared}");
    close(&changes(&on, &["wren", "perch-turns", "RF"]), "value", of("perch-turns", "RF"), 1e-12);
}

#[test]
fn what_is_missing_is_named() {
    let of = |book: &str| missing(book, &["wren", "perch-turns", "RF"]);
    let bars = book("  bar-rate 80 30 lb/in\n", "");
    assert!(of(&bars).contains("bars off"), "{}", of(&bars));
    let whole = book("", "  with bars off");
    assert!(of(&whole.replace("  set cross-weight 50 %\n", "")).contains("cross-weight set"));
    assert!(of(&whole.replace("  perch-pitch 12 12 tpi\n", "")).contains("perch-pitch RF"));
}
