//! A study with what statistics make of it.
//!
//! Must not know how it is said.

use crate::Compiled;
use crate::lives::study::Study;
use crate::statistics::survival::{self, Curve};
use crate::statistics::weibull::{Fit, NoFit, Region, fit};

/// The level of intervals and bounds.
pub(super) const LEVEL: f64 = 0.90;

/// A study with what statistics make of it.
pub(super) struct Fitted {
    pub(super) study: Study,
    pub(super) curve: Option<Curve>,
    pub(super) fit: Result<Fit, NoFit>,
    pub(super) region: Option<Region>,
}

pub(super) fn fitted(study: Study) -> Fitted {
    let curve = survival::curve(&study.observations).ok();
    let fit = fit(&study.observations);
    let region = fit.as_ref().ok().and_then(|fit| fit.region(LEVEL));
    Fitted { study, curve, fit, region }
}

pub(super) fn name(compiled: &Compiled, study: &Study) -> String {
    let spec = study.group.spec.and_then(|spec| compiled.book.specs.get(spec));
    spec.map_or_else(String::new, |spec| spec.named.typed.to_string())
}
