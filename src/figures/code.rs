//! The figures that the program works out: what is no arithmetic of named values. Why not, their declarations say.
//!
//! Must not know how any figure is worked out.

pub(super) use crate::figures::compute::{Code, Compute};
use rustc_hash::FxHashMap;
use std::sync::LazyLock;

static CODE: LazyLock<FxHashMap<&'static str, Compute>> = LazyLock::new(|| {
    let fields: &[&'static [Code]] = &[
        super::weights::FIGURES,
        super::fuel::FIGURES,
        super::cg::FIGURES,
        super::bench::FIGURES,
        super::bench::finder::FIGURES,
        super::bench::geometry::FIGURES,
        super::springs::FIGURES,
        super::roll::FIGURES,
        super::alignment::FIGURES,
        super::tyres::pressure::FIGURES,
        super::tyres::size::FIGURES,
        super::gearing::FIGURES,
        super::wear::FIGURES,
        super::engine::leakdown::FIGURES,
        super::engine::cylinders::FIGURES,
        super::engine::lash::FIGURES,
        super::injectors::FIGURES,
    ];
    fields.iter().copied().flatten().copied().collect()
});

/// What works out the figure of that name.
pub(super) fn find(name: &str) -> Option<Compute> {
    CODE.get(name).copied()
}

/// The names of the figures that the program works out.
pub fn in_code() -> impl Iterator<Item = &'static str> {
    CODE.keys().copied()
}
