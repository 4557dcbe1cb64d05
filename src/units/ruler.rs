//! Fractions as a ruler is divided: halves to sixty-fourths. Any other `a/b` is several numbers.
//!
//! Knows digits and slashes. It must not know which quantities take pairs.

use super::number::{Form, Number, decimal};
use super::trouble::NumberTrouble;

/// No quantity declares more numbers than this between slashes.
pub(super) const MOST_PARTS: usize = 8;

/// The finest division of a ruler.
const FINEST: u32 = 64;

/// Reads the unsigned `text` (with a slash in it) as one fraction; `typed` is the same with its sign.
pub(super) fn fraction(typed: &str, text: &str) -> Result<Number, NumberTrouble> {
    let several = || match Number::parse_parts(typed) {
        Ok(parts) => Err(NumberTrouble::NotOneNumber { parts }),
        Err(trouble) => Err(trouble),
    };
    let Some((head, denominator)) = text.split_once('/') else { return Err(NumberTrouble::NotANumber) };
    let (whole, numerator) = match head.split_once([' ', '-']) {
        Some((whole, numerator)) => (Some(whole), numerator),
        None => (None, head),
    };
    let (Some(n), Some(d)) = (digits(numerator), digits(denominator)) else { return several() };
    let units = match whole.map(|whole| (digits(whole), decimal(whole))) {
        None => 0,
        Some((Some(units), _)) => units,
        Some((None, Err(trouble))) => return Err(trouble),
        Some(_) => return Err(NumberTrouble::NotANumber),
    };
    let ruler = d.is_power_of_two() && (2..=FINEST).contains(&d);
    if !ruler {
        return if n < d && d <= FINEST && d > 1 {
            Err(NumberTrouble::FractionOffRuler { numerator: n, denominator: d })
        } else if whole.is_some() {
            Err(NumberTrouble::NotANumber)
        } else {
            several()
        };
    }
    if n >= d {
        let whole = units.saturating_add(n / d);
        return Err(NumberTrouble::FractionImproper { numerator: n, denominator: d, whole, rest: n % d });
    }
    let value = f64::from(units) + f64::from(n) / f64::from(d);
    // Its decimal expansion ends after as many decimals as the denominator has factors of two.
    Ok(Number::new(value, 0.5 / f64::from(d), Form::Fraction, d.trailing_zeros() as u8))
}

/// A run of at most nine digits.
fn digits(text: &str) -> Option<u32> {
    (text.len() <= 9 && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok())?
}
