//! What a chain of figures is made of: values with how they are known, what they came from, and what is missing.
//!
//! Plain data. Must not know how anything is read off a book or worked out.

use super::formula::Formula;
use crate::book::entry::EntryId;
use crate::book::model::GaugeId;
use crate::book::place::Place;
use crate::history::Facts;
use crate::history::gauges::{Cause, Correction};
use crate::history::likeness::Apart;
use crate::ids::ids;
use crate::source::Span;
use crate::units::{DimensionId, UnitId};
use std::sync::Arc;

ids! {
    /// A step of a chain.
    NodeId: u32,
}

/// How a value came to be known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Status {
    /// Read off a gauge, or worked out from such readings alone.
    Measured,
    /// Set or declared by the shop.
    Stated,
    /// What a maker's tag says.
    Tag,
    /// Worked out.
    Derived,
    /// Worked out in place of a reading that was not taken.
    Inferred,
    /// A named default.
    Assumed,
}

impl Status {
    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Stated => "stated",
            Self::Tag => "tag",
            Self::Derived => "derived",
            Self::Inferred => "inferred",
            Self::Assumed => "assumed",
        }
    }
}

/// What a sensitivity is by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Root {
    /// A value typed at this span.
    Typed(Span),
    /// A named default, or a constant, by its step.
    Default(NodeId),
    /// The scatter of repeats behind the step of that number.
    Scatter(NodeId),
    /// A value put in place of the book's, by number.
    WhatIf(usize),
    /// A comparison of gauges that a reading was put right by.
    Comparison(Cause),
}

/// A figure, or a reading on its way to one. SI throughout.
#[derive(Debug, Clone)]
pub struct Fig {
    /// The value, SI.
    pub value: f64,
    /// How it is known.
    pub status: Status,
    /// d value / d root, sorted by root.
    pub by: Vec<(Root, f64)>,
    /// A change since makes a reading under it stale: the line that changed something.
    pub stale: Option<EntryId>,
    /// Its node in [`Calc::nodes`].
    pub node: NodeId,
    /// Why it, or a figure under it, is of an older state of the car than the one that stands.
    pub back: Option<Arc<Apart>>,
}

impl Fig {
    /// Where in the ledgers the numbers stand that it rests on.
    pub fn typed(&self) -> impl Iterator<Item = Span> + '_ {
        self.by.iter().filter_map(|(root, _)| if let Root::Typed(span) = root { Some(*span) } else { None })
    }
}

/// Of what a figure rests on, that which went back furthest: why it did.
pub(super) fn furthest(facts: Facts<'_>, inputs: &[(&str, &Fig)]) -> Option<Arc<Apart>> {
    inputs.iter().filter_map(|(_, fig)| fig.back.clone()).min_by_key(|apart| apart.before(facts))
}

/// Why a figure cannot be had.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Missing {
    /// What would have to be in the book, each in words: "a reading of weight RR".
    pub needs: Vec<String>,
}

impl Missing {
    /// One thing that is needed.
    #[must_use]
    pub fn one(needs: impl Into<String>) -> Self {
        Self { needs: vec![needs.into()] }
    }
}

/// A figure, or what is missing for it.
pub type Got<T = Fig> = Result<T, Missing>;

/// One step of a chain, kept for the trace.
#[derive(Debug, Clone)]
pub struct Node<'a> {
    /// What it is: "weight RF", "front share of the weight".
    pub name: String,
    /// Where.
    pub place: Place,
    /// SI value.
    pub value: f64,
    /// Standard uncertainty, SI, where its roots have one.
    pub u: Option<f64>,
    /// Kind of dimension.
    pub dimension: DimensionId,
    /// How it is known.
    pub status: Status,
    /// The formula; `None` for a reading or a default.
    pub formula: Option<Formula<'a>>,
    /// Inputs by the names the expression uses.
    pub inputs: Vec<(String, NodeId)>,
    /// Where it was typed.
    pub span: Option<Span>,
    /// The line (entry) it was typed on, if on a dated line.
    pub entry: Option<EntryId>,
    /// Unit typed.
    pub unit: Option<UnitId>,
    /// Decimals typed.
    pub decimals: u8,
    /// What its uncertainty is from: "gauge resolution 0.1 deg, rectangular".
    pub sure: String,
    /// Source of a default.
    pub source: &'a str,
    /// The line that made it stale.
    pub stale: Option<EntryId>,
}

/// A reading that was put right.
#[derive(Debug, Clone)]
pub struct Corrected {
    /// The value as typed, SI.
    pub typed: f64,
    /// By how much that is too high, SI.
    pub high: f64,
    /// By how much this may be off, either way, SI.
    pub half: f64,
    /// The gauge.
    pub gauge: GaugeId,
    /// What it rests on.
    pub by: Correction,
}

/// A reading on its way into a chain.
pub(super) struct Entered {
    /// Its value as it counts, SI.
    pub value: f64,
    /// Its standard uncertainty, SI.
    pub u: Option<f64>,
    /// What it is unsure by.
    pub roots: Vec<(Root, f64)>,
    /// How it was put right.
    pub corrected: Option<Corrected>,
}
