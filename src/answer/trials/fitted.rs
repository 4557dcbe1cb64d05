//! What one measure of a trial says, number by number.
//!
//! Must not know the terminal, nor pages.

use super::{TrialFit, TrialMeasure, sentence};
use crate::units::number;

/// "best lap: B against A -0.58 s ...", or why it says nothing.
#[must_use]
pub fn measured(measure: &TrialMeasure) -> String {
    let unit = measure.unit.as_deref();
    match (&measure.fit, &measure.refused) {
        (Some(fit), _) => format!("{}: {}", measure.name, fitted(fit, unit, 2)),
        (None, Some(why)) => format!("{}: nothing, for {why}", measure.name),
        (None, None) => measure.name.clone(),
    }
}

/// "B against A -0.58 s (-1.15 to -0.01), p 0.049; +0.11 a run; scatter 0.04; 1 degree of freedom".
#[must_use]
pub fn fitted(fit: &TrialFit, unit: Option<&str>, decimals: u8) -> String {
    let sign = |value: f64| {
        let text = number::format(value, decimals);
        if text.starts_with('-') { text } else { format!("+{text}") }
    };
    let unit = unit.map_or_else(String::new, |unit| format!(" {unit}"));
    let effects: Vec<String> = fit
        .effects
        .iter()
        .map(|one| {
            let to = one
                .to
                .as_ref()
                .map_or_else(|| "a step of 1".to_owned(), |to| format!("{to} against {}", one.from));
            format!(
                "{to} {}{unit} ({} to {}), p {}",
                sign(one.value),
                sign(one.low),
                sign(one.high),
                number::format(one.p, 3)
            )
        })
        .collect();
    let trends: Vec<String> = fit.trends.iter().map(|trend| sign(*trend)).collect();
    format!(
        "{}; {} a run; scatter {}; {}",
        effects.join(", "),
        trends.join(", "),
        number::format(fit.scatter, decimals),
        sentence::freedom(fit.freedom)
    )
}
