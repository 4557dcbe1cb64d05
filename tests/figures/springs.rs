//! Springs at the wheel.

use super::{changes, close, demo, figure, missing};

fn car(lines: &str) -> String {
    format!("car wren \"Wren\"\n{lines}")
}

/// Milliken & Milliken, RCVD ch. 16, K x MR^2: 400 lbf/in at 0.75 is 225; 70 N/mm at 0.90 is 56.7.
#[test]
fn wheel_rates() {
    let book = car("  spring-rate LF 400 lb/in\n  motion-ratio LF 0.75\n");
    close(&figure(&book, &["wren", "wheel-rate", "LF"]), "value_si", 225.0 * super::bench::LBF_IN, 1e-6);
    let book = car("  spring-rate LF 70 N/mm\n  motion-ratio LF 0.90\n");
    close(&figure(&book, &["wren", "wheel-rate", "LF"]), "value", 56.7, 1e-9);
}

/// 225 and 1200 lbf/in in series: 189.4737 (RCVD ch. 16).
#[test]
fn ride_rate_with_the_tyre() {
    let book = "car wren \"Wren\"  units imperial\n  spring-rate LF 400 lb/in\n  motion-ratio LF 0.75\n  tyre-rate LF 1200 lb/in\n";
    let value = figure(book, &["wren", "ride-rate", "LF"]);
    close(&value, "value", 189.4737, 5e-5);
    assert_eq!(value["unit"], "lbf/in");
}

/// 225 lbf/in under 600 lb sprung: 1.915046 Hz, 114.9028 a minute, with 386.0886 in/s2 (Gillespie ch. 5). The corner weighs
/// 680 lb: taken whole it would be 1.80 Hz.
#[test]
fn frequency_on_sprung_weight() {
    let book = car(
        "  spring-rate LF 400 lb/in\n  motion-ratio LF 0.75\n  unsprung-mass LF 80 lb\n\n2025-03-01 wren\n  \
                    left weight LF 680 lb\n",
    );
    let value = figure(&book, &["wren", "ride-frequency", "LF"]);
    close(&value, "value", 1.915_046, 5e-7);
    assert!((value["value"].as_f64().unwrap() * 60.0 - 114.9028).abs() < 5e-5);
}

/// g / (2 pi f)^2: 1 Hz is 248.405 mm, and 10 in of deflection is 0.98893 Hz (Gillespie ch. 5).
#[test]
fn deflection_and_frequency() {
    let k = 100.0 * std::f64::consts::TAU * std::f64::consts::TAU / 1000.0;
    let book = car(&format!(
        "  spring-rate LF {k} N/mm\n  motion-ratio LF 1\n  unsprung-mass LF 20 kg\n\n2025-03-01 wren\n  left weight LF 120 kg\n"
    ));
    close(&figure(&book, &["wren", "ride-frequency", "LF"]), "value", 1.0, 1e-9);
    close(&figure(&book, &["wren", "static-deflection", "LF"]), "value", 248.405, 5e-4);
    let book = car(
        "  spring-rate LF 60 lb/in\n  motion-ratio LF 1\n  unsprung-mass LF 40 lb\n\n2025-03-01 wren\n  left weight LF 640 lb\n",
    );
    close(&figure(&book, &["wren", "static-deflection", "LF"]), "value_si", 0.254, 1e-9);
    close(&figure(&book, &["wren", "ride-frequency", "LF"]), "value", 0.988_93, 5e-6);
}

#[test]
fn the_fitted_spring_on_the_bench_goes_before_its_tag() {
    let kinds = "kind spring \"spring\"  fits LF RF LR RR on wren  gives spring-rate\npart sp-1 spring  tag spring-rate 80 N/mm\n";
    let fitted = "\n2025-03-01 wren\n  fit sp-1 LF\n";
    let book = format!("{}{kinds}{fitted}", car("  motion-ratio LF 0.5\n"));
    let tag = figure(&book, &["wren", "wheel-rate", "LF"]);
    close(&tag, "value", 20.0, 1e-9);
    assert_eq!(tag["inputs"][0]["status"], "tag");
    let book = format!("{book}\n2025-02-01\n  bench sp-1 spring-rate 76 N/mm\n");
    close(&changes(&book, &["wren", "wheel-rate", "LF"]), "value", 19.0, 1e-9);
    // Before it was measured, the tag is all there is.
    close(&demo(&["bittern", "wheel-rate", "LF", "2026-04-18"]), "value", 69.366_666_667 * 0.92 * 0.92, 1e-6);
    close(&demo(&["bittern", "wheel-rate", "LF", "2026-09-05"]), "value", 78.433_333_333 * 0.92 * 0.92, 1e-6);
}

#[test]
fn what_if_another_spring() {
    let book = car("  spring-rate LF 70 N/mm\n  motion-ratio LF 0.9\n");
    let value = super::trace(&book, &["wren", "wheel-rate", "LF", "--with", "spring-rate LF 80 N/mm"]).0;
    close(&value, "value", 64.8, 1e-9);
    assert_eq!(value["inputs"][0]["status"], "assumed");
}

#[test]
fn what_is_missing_is_named() {
    let none = missing(&car(""), &["wren", "ride-rate", "LF"]);
    for need in ["spring-rate LF", "motion-ratio LF", "tyre-rate LF"] {
        assert!(none.contains(need), "{none}");
    }
    // A motion ratio of nothing is refused when it is typed, and then missing.
    let zero =
        missing(&car("  spring-rate LF 70 N/mm\n  motion-ratio LF 0\n"), &["wren", "wheel-rate", "LF"]);
    assert!(zero.contains("motion-ratio LF"), "{zero}");
    let heavy = car(
        "  spring-rate LF 70 N/mm\n  motion-ratio LF 1\n  unsprung-mass LF 90 kg\n\n2025-03-01 wren\n  left weight LF 85 kg\n",
    );
    assert!(missing(&heavy, &["wren", "ride-frequency", "LF"]).contains("unsprung mass below"));
    assert!(missing(&car(""), &["wren", "wheel-rate"]).contains("a corner"));
}
