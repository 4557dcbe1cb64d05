//! A car seen from above with what stands on its four pads. A pad that was not read has an en dash, and then no share.
//!
//! Must not know how a share is worked out.

use super::{Table, Words, short};
use serde::Serialize;

/// The chart.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Corners {
    /// What it says.
    pub words: Words,
    /// LF, RF, LR, RR: "149.5 kg", or an en dash.
    pub pads: Vec<String>,
    /// "cross 50.08 %"; empty when a pad is missing.
    pub cross: String,
    /// "front 48.31 %".
    pub front: String,
    /// "left 51.50 %".
    pub left: String,
    /// "stale, something came after it (heron.sline:26)"; empty where nothing did.
    pub stale: String,
    /// The numbers.
    pub table: Table,
}

/// Draws it. Shares are cross, front and left as shown.
#[must_use]
pub fn corners(words: Words, pads: &[Option<String>; 4], shares: [Option<String>; 3]) -> Corners {
    let whole = pads.iter().all(Option::is_some);
    let pad = |pad: &Option<String>| pad.clone().unwrap_or_else(|| "–".to_owned());
    let [cross, front, left] = shares.map(|share| share.filter(|_| whole));
    let named = |name: &str, share: &Option<String>| {
        share.as_ref().map_or_else(String::new, |share| format!("{name} {}", short(share, 14)))
    };
    let mut rows: Vec<Vec<String>> = ["LF", "RF", "LR", "RR"]
        .iter()
        .zip(pads)
        .map(|(place, weight)| vec![(*place).to_owned(), pad(weight)])
        .collect();
    for (name, share) in [("cross", &cross), ("front", &front), ("left", &left)] {
        rows.push(vec![name.to_owned(), pad(share)]);
    }
    Corners {
        pads: pads.iter().map(|one| short(&pad(one), 14)).collect(),
        cross: named("cross", &cross),
        front: named("front", &front),
        left: named("left", &left),
        words,
        stale: String::new(),
        table: Table { head: vec!["place".to_owned(), "on it".to_owned()], rows },
    }
}
