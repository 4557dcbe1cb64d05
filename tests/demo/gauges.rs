//! The season's compression gauge, which reads 7.4 where the borrowed reference has 7.00 bar.

use super::DEMO;
use crate::figures::{close, demo};
use stringline::report::{Options, render};

/// 13.0 and 11.3 bar were typed in October, 0.4 too high: 10.9 / 12.6 is 86.508 %, and not 11.3 / 13.0, 86.923 %. Each reading is good to 0.1 bar and the
/// comparison to 0.05 bar either way, rectangular: 0.05 / sqrt(3) each, and what both readings take from the comparison is the same, so that it
/// moves the share by (1 - 10.9 / 12.6) / 12.6 for each bar (GUM, 5.1.2; worked out by hand).
#[test]
fn compression_is_put_right_in_a_chain() {
    let traced = demo(&["curlew", "compression-lowest"]);
    close(&traced, "value", 100.0 * 10.9 / 12.6, 1e-9);
    let (bar, share) = (0.05 / libm::sqrt(3.0), 10.9 / 12.6);
    let (low, high, both) = (1.0 / 12.6, share / 12.6, (1.0 - share) / 12.6);
    close(&traced, "u", 100.0 * bar * libm::sqrt(low * low + high * high + both * both), 1e-9);
    let corrected = &traced["inputs"][0]["corrected"];
    close(corrected, "typed_si", 13.0e5, 1e-3);
    close(corrected, "high_si", 0.4e5, 1e-3);
    close(corrected, "half_si", 0.05e5, 1e-3);
    // In pounds the same 0.4 bar is 0.4 / 0.0689475729 = 5.8015 psi (NIST SP 811, appendix B.8): 170 and 173 psi are 164.20 and 167.20.
    let pounds = 0.4 / 0.068_947_572_9;
    close(
        &demo(&["plover", "compression-lowest"]),
        "value",
        100.0 * (170.0 - pounds) / (173.0 - pounds),
        1e-7,
    );
}

/// The season's page as at its last event: 13.0 and 12.4 bar were typed in September, and 12.0 / 12.6 is 95.24 %. What was typed stands beside what it
/// is taken for; the two gauges that the book warns about are not put right by this one.
#[test]
fn the_pages_say_what_the_gauge_is_off_by() {
    let pages = render(&DEMO, Options { car: Some(super::car("curlew")), ..Options::default() }).unwrap();
    let season = &pages.iter().find(|page| page.name == "curlew-2026.html").unwrap().html;
    for said in [
        "typed 13.0 bar; co-1 reads 0.40 ± 0.05 bar high against the reference, 2026-07-04",
        "12.00 bar",
        "95.24 %",
    ] {
        assert!(season.contains(said), "no {said:?}");
    }
    let mixed: Vec<_> = DEMO.diagnostics.iter().filter(|one| one.check == "gauge-mixed").collect();
    assert_eq!(mixed.len(), 1);
    assert!(mixed[0].message.contains("pg-1"), "{}", mixed[0].message);
}
