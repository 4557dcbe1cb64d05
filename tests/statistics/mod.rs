//! The mathematics of part lives, against published data, closed forms, lifelines and scipy.
//!
//! Published sets are in `data.rs` with their sources; the couplings are the demo season's own (invented).

mod bounds;
mod couplings;
mod data;
mod golden;
mod least_squares;
mod log_rank;
mod observation;
mod properties;
mod reach;
mod renewal;
mod replacement;
mod survival;
mod variance_ratio;
mod verdict;
mod weibull;

use stringline::statistics::{End, Observation};

/// Lives from new: those that failed, and those pulled before they did.
fn lives(failed: &[f64], pulled: &[f64]) -> Vec<Observation> {
    let of =
        |list: &[f64], end| -> Vec<_> { list.iter().map(|exit| Observation::new(0.0, *exit, end)).collect() };
    [of(failed, End::Failed), of(pulled, End::Pulled)].concat()
}

fn near(got: f64, wanted: f64, tolerance: f64) {
    assert!((got - wanted).abs() <= tolerance, "{got}, expected {wanted} ± {tolerance}");
}

/// To that share of the wanted value.
fn close(got: f64, wanted: f64, share: f64) {
    near(got, wanted, share * wanted.abs());
}
