//! The regularised incomplete gamma function: what a Weibull's integral, Poisson and chi-squared all come down to.

/// Terms at most; reached by no shape below a million.
const TERMS: u32 = 100_000;

/// P(a, x), the lower part: series for x < a + 1, else from the upper part (Abramowitz & Stegun 6.5.29 and 6.5.31). `None`
/// for a not above 0, x below 0, or either not finite.
#[must_use]
pub fn lower(a: f64, x: f64) -> Option<f64> {
    usable(a, x).then(|| if x < a + 1.0 { series(a, x) } else { 1.0 - fraction(a, x) })
}

/// Q(a, x) = 1 - P(a, x), the upper part.
#[must_use]
pub fn upper(a: f64, x: f64) -> Option<f64> {
    usable(a, x).then(|| if x < a + 1.0 { 1.0 - series(a, x) } else { fraction(a, x) })
}

fn usable(a: f64, x: f64) -> bool {
    a > 0.0 && x >= 0.0 && a.is_finite() && x.is_finite()
}

/// x^a e^-x / Gamma(a).
fn front(a: f64, x: f64) -> f64 {
    libm::exp(a * libm::log(x) - x - libm::lgamma(a))
}

fn series(a: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    let mut term = 1.0 / a;
    let mut sum = term;
    for step in 1..TERMS {
        term *= x / (a + f64::from(step));
        sum += term;
        if term < sum * 1e-17 {
            break;
        }
    }
    (front(a, x) * sum).min(1.0)
}

/// The continued fraction of the upper part, run forward in Lentz's way.
fn fraction(a: f64, x: f64) -> f64 {
    let safe = |value: f64| if value.abs() < 1e-300 { 1e-300 } else { value };
    let mut bottom = x + 1.0 - a;
    let mut above = 1e300;
    let mut below = 1.0 / safe(bottom);
    let mut value = below;
    for step in 1..TERMS {
        let n = f64::from(step);
        let top = -n * (n - a);
        bottom += 2.0;
        below = 1.0 / safe(top * below + bottom);
        above = safe(bottom + top / above);
        let change = below * above;
        value *= change;
        if (change - 1.0).abs() < 1e-16 {
            break;
        }
    }
    (front(a, x) * value).clamp(0.0, 1.0)
}
