//! The pair-finder. Closed forms: 54 over 28 is a stiffness ratio of 1.9286, and an arm ratio of its square root, 1.3887 (torsion goes
//! with one over the arm squared: Shigley, *Mechanical Engineering Design*, torsion).

use super::{close, figure, trace};

const BOOK: &str = "\
car heron \"Heron\"
kind blade \"blade\"  fits front on heron
part bl-1 blade
part bl-2 blade

2025-05-03
  bench bl-1 bar-rate 24.1, 23.9 N/mm with bar-hole 1
  bench bl-1 bar-rate 40.0, 39.8 N/mm with bar-hole 3
  bench bl-2 bar-rate 57.0, 57.2 N/mm with bar-hole 1

2025-05-04 heron
  set bar-rate-wanted front 28/54 N/mm
";

#[test]
fn ratios_of_the_wanted_rates() {
    close(&figure(BOOK, &["heron", "wanted-stiffness-ratio", "front"]), "value", 54.0 / 28.0, 1e-9);
    close(&figure(BOOK, &["heron", "wanted-arm-ratio", "front"]), "value", (54.0f64 / 28.0).sqrt(), 1e-9);
}

#[test]
fn the_nearest_that_is_owned() {
    let (soft, _) = trace(BOOK, &["heron", "nearest-to-softest", "front"]);
    close(&soft, "value", 24.0, 1e-9);
    assert_eq!(soft["inputs"][0]["name"], "rate of bl-1 in hole 1");
    let (stiff, _) = trace(BOOK, &["heron", "nearest-to-stiffest", "front"]);
    close(&stiff, "value", 57.1, 1e-9);
}

#[test]
fn nothing_wanted_or_nothing_owned_is_said() {
    let (none, _) = trace(
        &BOOK.replace("  set bar-rate-wanted front 28/54 N/mm\n", "  set rake 6 mm\n"),
        &["heron", "nearest-to-softest", "front"],
    );
    assert!(none["missing"][0].as_str().unwrap().contains("bar-rate-wanted"), "{none}");
    let bare = "car heron \"Heron\"\n\n2025-05-04 heron\n  set bar-rate-wanted front 28/54 N/mm\n";
    let (none, _) = trace(bare, &["heron", "nearest-to-softest", "front"]);
    assert!(none["missing"][0].as_str().unwrap().contains("on the bench"), "{none}");
}
