//! What one measure of a trial says, number by number.
//!
//! Must not know the terminal, nor pages.

use super::{TrialEffect, TrialFit, TrialMeasure, sentence};
use crate::units::number;

/// "best lap: B against A -0.58 s ...", or why it says nothing.
#[must_use]
pub fn measured(measure: &TrialMeasure) -> String {
    match (&measure.fit, &measure.refused) {
        (Some(fit), _) => {
            format!("{}: {}", measure.name, fitted(fit, measure.unit.as_deref(), measure.decimals))
        }
        (None, Some(why)) => format!("{}: nothing, for {why}", measure.name),
        (None, None) => measure.name.clone(),
    }
}

/// "B against A -0.58 s (-1.15 to -0.01), p 0.049; +0.11 a run; scatter 0.04; 1 degree of freedom". `read` are the decimals that a reading
/// was typed with; laps have as many as their intervals are worth.
#[must_use]
pub fn fitted(fit: &TrialFit, unit: Option<&str>, read: Option<u8>) -> String {
    let closely =
        |one: &TrialEffect| read.map_or_else(|| sentence::decimals(one.low, one.high), |read| read + 1);
    let all = fit.effects.iter().map(closely).max().unwrap_or(2);
    let unit = unit.map_or_else(String::new, |unit| format!(" {unit}"));
    let effects = fit.effects.iter().map(|one| {
        let decimals = closely(one);
        format!(
            "{} against {} {}{unit} ({} to {}), {}",
            one.to,
            one.from,
            number::signed(one.value, decimals),
            number::signed(one.low, decimals),
            number::signed(one.high, decimals),
            p(one.p)
        )
    });
    let effects: Vec<String> = effects.collect();
    let line = if fit.straight { "as a straight line " } else { "" };
    let trends: Vec<String> = fit.trends.iter().map(|trend| number::signed(*trend, all)).collect();
    format!(
        "{line}{}; {} a run; scatter {}; {}",
        effects.join(", "),
        trends.join(", "),
        number::format(fit.scatter, all),
        sentence::freedom(fit.freedom)
    )
}

/// "p 0.049", "p under 0.001".
fn p(p: f64) -> String {
    if p < 0.001 { "p under 0.001".to_owned() } else { format!("p {}", number::format(p, 3)) }
}
