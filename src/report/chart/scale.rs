//! A scale of a chart: numbers to places on the paper, with ticks at round numbers.
//!
//! Must not know what the numbers are.

use crate::units::number;
use serde::Serialize;

/// A tick.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Tick {
    /// Place on the paper, fixed decimals.
    pub at: String,
    /// What is written beside it.
    pub text: String,
}

/// From values to places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PaperScale {
    least: f64,
    most: f64,
    step: f64,
    /// The first tick.
    first: f64,
    from: f64,
    to: f64,
}

impl PaperScale {
    /// A scale that holds all finite values, opened to round numbers, from one place of the paper to another.
    #[must_use]
    pub fn over(values: impl IntoIterator<Item = f64>, from: f64, to: f64, wanted: u32) -> Self {
        let mut ends: Option<(f64, f64)> = None;
        for value in values.into_iter().filter(|value| value.is_finite()) {
            ends = Some(ends.map_or((value, value), |(least, most)| (least.min(value), most.max(value))));
        }
        let (mut least, mut most) = ends.unwrap_or((0.0, 1.0));
        if most - least <= 1e-9 * most.abs().max(least.abs()) {
            let room = if least == 0.0 { 1.0 } else { least.abs() * 0.1 };
            (least, most) = (least - room, most + room);
        }
        let step = nice((most - least) / f64::from(wanted.max(1)));
        let (low, high) = (libm::floor(least / step + 1e-9) * step, libm::ceil(most / step - 1e-9) * step);
        if low.is_finite() && high.is_finite() && step.is_finite() && high > low {
            Self { least: low, most: high, step, first: low, from, to }
        } else {
            Self { least: 0.0, most: 1.0, step: 0.5, first: 0.0, from, to }
        }
    }

    /// A scale from one value to another, not opened to round numbers.
    #[must_use]
    pub fn between(least: f64, most: f64, from: f64, to: f64) -> Self {
        if least.is_finite() && most.is_finite() && most > least {
            Self { least, most, step: most - least, first: least, from, to }
        } else {
            Self::over([least, most], from, to, 1)
        }
    }

    /// The same for values on either side of nothing: where the first step holds next to nothing, it begins at the least value and has
    /// no tick there.
    #[must_use]
    pub fn about_nothing(values: &[f64], from: f64, to: f64, wanted: u32) -> Self {
        let mut scale = Self::over(values.iter().copied().chain([0.0]), from, to, wanted);
        let least = values.iter().copied().filter(|value| value.is_finite()).fold(0.0, f64::min);
        if scale.least < 0.0 && least > scale.least + scale.step / 2.0 && scale.most > 0.0 {
            let first = libm::ceil(least / scale.step - 1e-9) * scale.step;
            (scale.first, scale.least) = (if first < 0.0 { first } else { 0.0 }, least);
        }
        scale
    }

    /// Where a value stands; never outside the two ends.
    #[must_use]
    pub fn at(&self, value: f64) -> f64 {
        let share = (value - self.least) / (self.most - self.least);
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
        self.from + (self.to - self.from) * share
    }

    /// The same as written in a chart.
    #[must_use]
    pub fn place(&self, value: f64) -> String {
        place(self.at(value))
    }

    /// Its ticks, least first.
    #[must_use]
    pub fn ticks(&self) -> Vec<Tick> {
        let decimals = (0..9u8).find(|d| self.step * libm::pow(10.0, f64::from(*d)) >= 0.999).unwrap_or(9);
        let count = libm::round((self.most - self.first) / self.step).min(40.0) as u32;
        (0..=count)
            .map(|n| self.first + f64::from(n) * self.step)
            .map(|value| Tick { at: self.place(value), text: number::format(value, decimals) })
            .collect()
    }

    /// The least and the most it holds.
    #[must_use]
    pub fn ends(&self) -> (f64, f64) {
        (self.least, self.most)
    }
}

/// A place on the paper with its fixed decimals.
#[must_use]
pub fn place(at: f64) -> String {
    number::format(if at.is_finite() { at } else { 0.0 }, 1)
}

/// The least of 1, 2, 5 by a power of ten that is no less.
fn nice(rough: f64) -> f64 {
    if !rough.is_finite() || rough <= 0.0 {
        return 1.0;
    }
    let ten = libm::pow(10.0, libm::floor(libm::log10(rough)));
    let share = rough / ten;
    let whole = if share <= 1.000_001 {
        1.0
    } else if share <= 2.000_001 {
        2.0
    } else if share <= 5.000_001 {
        5.0
    } else {
        10.0
    };
    whole * ten
}
