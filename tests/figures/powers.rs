//! Powers and their slopes, of bases above, at and below nothing: held to the product they stand for.

use super::{close, trace};
use proptest::prelude::*;
use stringline::figures::dual::Dual;

proptest! {
    /// `x^n` and how it moves with x are those of x times itself n times (product rule).
    #[test]
    fn a_whole_power_is_a_product(x in prop_oneof![-3.0..3.0_f64, Just(0.0)], n in 0_i32..6) {
        let base = Dual::input(x, 0, 1);
        let mut product = Dual::constant(1.0, 1);
        for _ in 0..n {
            product = &product * &base;
        }
        for power in [base.powi(n), base.powf(f64::from(n)), base.pow(&Dual::constant(f64::from(n), 1))] {
            prop_assert!((power.value - product.value).abs() <= 1e-9, "{x}^{n} is {}", power.value);
            prop_assert!((power.partials[0] - product.partials[0]).abs() <= 1e-9, "{x}^{n}: {:?}", power.partials);
        }
    }

    /// Above nothing a power moves by its exponent as b^y ln b (Abramowitz & Stegun, 4.2.54).
    #[test]
    fn a_power_moves_with_its_exponent(b in 0.1..5.0_f64, y in -3.0..3.0_f64) {
        let power = Dual::input(b, 0, 2).pow(&Dual::input(y, 1, 2));
        prop_assert!((power.partials[0] - y * libm::pow(b, y - 1.0)).abs() <= 1e-9 * power.partials[0].abs().max(1.0));
        prop_assert!((power.partials[1] - libm::pow(b, y) * libm::log(b)).abs() <= 1e-9 * power.partials[1].abs().max(1.0));
    }
}

/// A square of nothing is nothing, and a cube of -2 is -8, also where the exponent is a name.
#[test]
fn powers_of_a_book() {
    let of = |formula: &str| {
        let book = format!(
            "car wren \"Wren\"\n  cylinders 3\nfigure odd ratio car\n  is {formula}\n  a = left-weight\n  n = cylinders\n2025-05-03 wren\n  read left-weight 50 %\n"
        );
        trace(&book, &["wren", "odd"]).0
    };
    for (formula, value) in [
        ("(a - 50 %)^2", 0.0),
        ("(a - 50 %)^n", 0.0),
        ("(a - 250 %)^3", -8.0),
        ("(a - 250 %)^n", -8.0),
        ("(0 - 2)^(n + a - a)", -8.0),
        ("(a - 250 %)^(0 - n)", -0.125),
        ("(a - 50 %)^0", 1.0),
    ] {
        close(&of(formula), "value_si", value, 1e-12);
    }
    // A root of less than nothing, and nothing to a power below it, have no value.
    for formula in ["(a - 250 %)^0.5", "(a - 250 %)^(n / 2)", "(a - 50 %)^(0 - n)"] {
        assert!(of(formula)["missing"][0].as_str().unwrap().contains("no result with these"), "{formula}");
    }
}
