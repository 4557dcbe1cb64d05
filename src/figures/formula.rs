//! A formula as data: what it is called, how it reads, where it is published, which convention it follows.
//!
//! Must not know values.

use crate::units::{DimensionId, UnitId};

/// One formula.
#[derive(Debug, Clone, Copy)]
pub struct Formula<'a> {
    /// Stable kebab-case id, the figure's name on the command line where it is one.
    pub id: &'a str,
    /// In plain words: "front share of the weight".
    pub name: &'a str,
    /// As an expression over its inputs' names, in SI: `(rf + lr) / (lf + rf + lr + rr)`. `+ - * / ^`, parentheses, and
    /// `sqrt sin cos tan asin exp ln pow sum mean stdev count slope` may stand in it; a test evaluates it from the trace's own numbers.
    pub expression: &'a str,
    /// Where it is published, or "common practice".
    pub source: &'a str,
    /// The convention a reader must know: "one end held", "right front + left rear".
    pub convention: &'a str,
    /// The kind of dimension of its result.
    pub dimension: DimensionId,
    /// The unit it is shown in where that is not the usual one of its kind (`%` for a share); else empty.
    pub shown: &'a str,
    /// The same for a metric and an imperial car, where a declaration says it.
    pub show: [Option<UnitId>; 2],
}
