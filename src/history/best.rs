//! The best lap of a session: as typed, or the quickest of its list that counts.
//!
//! Must not know books, nor words.

/// The quickest lap that counts: of a list, in which `true` marks one that does not, and of what stints state as their best; infinite where
/// there is none.
#[must_use]
pub fn least(times: &[(f64, bool)], stints: impl Iterator<Item = f64>) -> f64 {
    let counted = times.iter().filter(|(_, slow)| !slow).map(|(time, _)| *time);
    counted.chain(stints).fold(f64::INFINITY, f64::min)
}

/// The best lap typed, where it is a lap of the list that was marked as no time to compare (in, out, box, yellow): `Some`, and the quickest that
/// counts in its place, s; `None` inside where no other has a time.
#[must_use]
pub fn marked(typed: Option<f64>, times: &[(f64, bool)], least: f64) -> Option<Option<f64>> {
    let best = typed?;
    let is_best = |time: f64| (time - best).abs() <= half(best, time) * 1.000_001;
    let marked = times.iter().any(|(time, slow)| *slow && is_best(*time));
    (marked && !is_best(least)).then(|| Some(least).filter(|least| least.is_finite()))
}

/// Half of the last digit of the coarser of two lap times: a tenth or a hundredth.
#[must_use]
pub fn half(a: f64, b: f64) -> f64 {
    let tenths = |time: f64| (time * 10.0 - libm::round(time * 10.0)).abs() < 1e-6;
    if tenths(a) || tenths(b) { 0.05 } else { 0.005 }
}
