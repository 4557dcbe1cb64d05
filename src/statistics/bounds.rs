//! What few failures, or none, still say: lower bounds of life with a stated one-sided confidence.

use super::observation::{Observation, Why, sorted};
use super::poisson::mean_at_most;
use super::weibull::Weibull;

/// The least believable mean life if the hazard is constant: 2T/chi-squared(2r + 2), T the time watched and r the failures
/// (NIST/SEMATECH e-Handbook 8.4.5.1); with no failures T/-ln(1 - confidence), the rule of three at 95 % (Hanley &
/// Lippman-Hand, JAMA 249 (1983) 1743). Late entry counts only the time watched, which a constant hazard allows. `None`
/// outside 0 < confidence < 1.
///
/// # Errors
/// The first unusable life.
pub fn mean_at_least(lives: &[Observation], confidence: f64) -> Result<Option<f64>, Why> {
    let lives = sorted(lives)?;
    let watched: f64 = lives.iter().map(|life| life.exit - life.entry).sum();
    Ok(mean_at_most(failures(&lives), confidence).map(|most| watched / most))
}

/// The least believable scale if the shape is known to be that one (Abernethy, *The New Weibull Handbook*, "Weibayes"):
/// ([sum exit^shape - sum entry^shape]/m)^(1/shape), m the greatest believable number of failures with that confidence:
/// -ln(1 - confidence) after none. A confidence of 1 - 1/e gives the customary one assumed failure. `None` for a shape outside
/// 0.05 to 100 or a confidence outside 0 to 1.
///
/// # Errors
/// The first unusable life.
pub fn scale_at_least(lives: &[Observation], shape: f64, confidence: f64) -> Result<Option<f64>, Why> {
    let lives = sorted(lives)?;
    let Some(most) = mean_at_most(failures(&lives), confidence).filter(|_| (0.05..=100.0).contains(&shape))
    else {
        return Ok(None);
    };
    // In units of the longest life, so that no power overflows.
    let longest = lives.last().map_or(1.0, |life| life.exit);
    let unit = Weibull { shape, scale: longest };
    let sum: f64 =
        lives.iter().map(|life| unit.cumulative_hazard(life.exit) - unit.cumulative_hazard(life.entry)).sum();
    let scale = longest * libm::exp(libm::log(sum / most) / shape);
    Ok(Some(scale).filter(|scale| scale.is_finite() && *scale > 0.0))
}

/// The chance that none of those lives would have failed, had each been of that kind: what there is against "it has not broken,
/// so it is better".
///
/// # Errors
/// The first unusable life.
pub fn none_would_fail(kind: &Weibull, lives: &[Observation]) -> Result<f64, Why> {
    let lives = sorted(lives)?;
    let hazard: f64 =
        lives.iter().map(|life| kind.cumulative_hazard(life.exit) - kind.cumulative_hazard(life.entry)).sum();
    Ok(libm::exp(-hazard))
}

fn failures(lives: &[Observation]) -> u32 {
    lives.iter().filter(|life| life.failed()).count() as u32
}
