//! Every figure by name, field by field: what `stringline trace` and the reports can ask for.
//!
//! Must not know how any figure is worked out.

use super::calc::{Calc, Got};
use crate::book::place::Place;
use std::sync::LazyLock;

/// Where a figure has values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sites {
    /// The car as a whole.
    Car,
    /// Each axle.
    Axles,
    /// Each corner.
    Corners,
    /// Each front corner.
    FrontCorners,
    /// Each cylinder.
    Cylinders,
    /// Each gear.
    Gears,
    /// A part on the bench ([`Calc::part`]).
    Part,
}

/// One figure.
#[derive(Debug, Clone, Copy)]
pub struct Definition {
    /// Kebab-case name.
    pub name: &'static str,
    /// What it is, in a line.
    pub brief: &'static str,
    /// Which area of a report it belongs to.
    pub area: &'static str,
    /// Where it has values.
    pub sites: Sites,
    /// Works it out at a place.
    pub compute: fn(&mut Calc<'_>, Place) -> Got,
}

/// Every figure, in the order reports list them.
pub static FIGURES: LazyLock<Vec<&'static Definition>> = LazyLock::new(|| {
    let fields: &[&'static [Definition]] = &[
        super::weights::FIGURES,
        super::raced::FIGURES,
        super::perch::FIGURES,
        super::cg::FIGURES,
        super::bench::FIGURES,
        super::bench::finder::FIGURES,
        super::springs::FIGURES,
        super::roll::FIGURES,
        super::alignment::FIGURES,
        super::tyres::PRESSURE,
        super::tyres::SIZE,
        super::tyres::TREAD,
        super::gearing::FIGURES,
        super::brakes::HYDRAULICS,
        super::brakes::SHARING,
        super::brakes::WEAR,
        super::engine::LEAKDOWN,
        super::engine::COMPRESSION,
        super::engine::LASH,
        super::fuel::MIXTURE,
        super::fuel::INJECTORS,
        super::fuel::STINT,
        super::air::MOIST,
        super::air::CORRECTION,
        super::air::STANDARD,
    ];
    fields.iter().copied().flatten().collect()
});

/// The figure of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Definition> {
    FIGURES.iter().copied().find(|figure| figure.name.eq_ignore_ascii_case(name))
}
