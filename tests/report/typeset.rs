//! Amounts in print: ISO 80000-1, 7.3.1 sets groups of three apart by a small space.

use stringline::report::typeset::{digits, minus};

#[test]
fn amounts_are_set_as_amounts_and_nothing_else_is() {
    for (typed, shown) in [
        ("25515.50", "25\u{202f}515.50"),
        ("at least 1234567 km", "at least 1\u{202f}234\u{202f}567 km"),
        ("-12345", "\u{2212}12\u{202f}345"),
        ("1104.40", "1104.40"),
        ("0.12345678", "0.12345678"),
        ("cp-01", "cp-01"),
        ("12345a", "12345a"),
        ("1:07.18", "1:07.18"),
        ("-", "-"),
        ("", ""),
        ("-0.72 s (-3)", "\u{2212}0.72 s (\u{2212}3)"),
    ] {
        assert_eq!(digits(typed), shown);
    }
    assert_eq!(minus("2026-04-18 quern-2 -3.2"), "2026-04-18 quern-2 \u{2212}3.2");
}
