//! The share of lives still good at each age: the Kaplan-Meier steps.

use crate::statistics::survival::{Curve, Trap};
use crate::words::scale::{Scale, too_few};
use serde::Serialize;

/// The level of the curve's bands.
const LEVEL: f64 = 0.95;

/// A curve.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CurveView {
    /// Its steps.
    pub steps: Vec<StepView>,
    /// Ages at which lives were left without having failed, in the clock's unit.
    pub unfailed: Vec<f64>,
    /// The age past which nothing was watched, in the clock's unit: the curve ends there.
    pub last: f64,
    /// The median life, in the clock's unit; null where the curve does not come down to a half, or too few failed to tell.
    pub median: Option<f64>,
    /// `249 min (91 to not reached)`, `not reached`, or `cannot tell: 1 failed`.
    pub median_text: String,
    /// Why the curve is not to be believed from some age on; empty where it is.
    pub trap: String,
}

/// One step down.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StepView {
    /// The age in the clock's unit.
    pub at: f64,
    /// The same in digits.
    pub at_text: String,
    /// How many were watched just before.
    pub at_risk: usize,
    /// How many failed.
    pub failed: usize,
    /// The share still good after it.
    pub share: f64,
    /// Greenwood's standard error; null once nothing is left.
    pub error: Option<f64>,
    /// The band at 95 %, through the log of the log.
    pub low: Option<f64>,
    /// See `low`.
    pub high: Option<f64>,
}

pub(super) fn view(curve: &Curve, scale: Scale) -> CurveView {
    let bands = curve.bands(LEVEL).unwrap_or_default();
    let unit = |value: f64| value / scale.factor();
    let steps = curve.steps.iter().enumerate().map(|(at, step)| StepView {
        at: unit(step.time),
        at_text: scale.digits(step.time),
        at_risk: step.at_risk,
        failed: step.failed,
        share: step.survival,
        error: step.error(),
        low: bands.get(at).and_then(|band| band.low),
        high: bands.get(at).and_then(|band| band.high),
    });
    let failures: usize = curve.steps.iter().map(|step| step.failed).sum();
    let few = too_few(failures).filter(|_| failures > 0);
    let median = curve.median().filter(|_| few.is_none());
    let band = curve.median_band(LEVEL);
    let end = |end: Option<f64>| end.map_or_else(|| "not reached".to_owned(), |end| scale.digits(end));
    CurveView {
        steps: steps.collect(),
        unfailed: curve.unfailed.iter().copied().map(unit).collect(),
        last: unit(curve.last),
        median: median.map(unit),
        median_text: match (median, band) {
            (Some(median), Some(band)) => {
                format!("{} (95 % band {} to {})", scale.words(median), end(band.low), end(band.high))
            }
            (Some(median), None) => scale.words(median),
            (None, _) => few.unwrap_or_else(|| "not reached".to_owned()),
        },
        trap: match curve.trap {
            None => String::new(),
            Some(Trap::Emptied { at }) => format!(
                "At {} everything under watch had failed though others were watched later: the curve is not to be believed from there.",
                scale.words(at)
            ),
            Some(Trap::Unwatched { from, to }) => {
                format!("Nothing was under watch from {} to {}.", scale.words(from), scale.words(to))
            }
        },
    }
}
