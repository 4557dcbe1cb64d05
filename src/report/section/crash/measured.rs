//! What was found after an impact against how it was left before, and what is still to be measured.
//!
//! Must not know parts.

use crate::book::entry::Verb;
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::slots::Register;
use crate::report::section::figures::drift;
use crate::report::section::value::{self, ShownValue};
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// One thing that was found.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Measured {
    /// The quantity.
    pub name: String,
    /// Where.
    pub place: String,
    /// As left before.
    pub left: ShownValue,
    /// As found after.
    pub found: ShownValue,
    /// Found less left, in that unit: "+1.3"; for toe which way, "3.5 out".
    pub by: String,
    /// The same without its sign, in times of what both gauges leave open.
    pub widths: String,
    /// Whether that is more than one.
    pub moved: bool,
    /// When it was found.
    pub when: String,
    /// The line it was left on, and the one it was found on.
    pub src: String,
    #[serde(skip)]
    size: f64,
}

/// Something to measure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Target {
    /// The quantity.
    pub name: String,
    /// Where.
    pub place: String,
    /// What it read last before the impact.
    pub was: ShownValue,
    /// "left 26 Jun", "read 22 Mar".
    pub how: String,
    /// The line.
    pub src: String,
}

/// What was found between two ranks, once each, what moved most first.
pub(super) fn measured(tell: &Teller<'_>, car: CarId, from: Rank, until: Rank) -> Vec<Measured> {
    let Some(drifts) = drift::drifts(tell, car, from, until) else { return Vec::new() };
    let mut list: Vec<Measured> = Vec::new();
    for row in drifts.rows {
        for one in row.places {
            // Found twice, the first time says what the impact did.
            if list.iter().any(|known| known.name == row.name && known.place == one.place) {
                continue;
            }
            list.push(Measured {
                name: row.name.clone(),
                place: one.place,
                left: one.left,
                found: one.found,
                by: one.by,
                widths: one.widths.trim_start_matches(['+', '-']).to_owned(),
                moved: one.moved,
                when: row.when.clone(),
                src: row.src.clone(),
                size: libm::fabs(one.size),
            });
        }
    }
    list.sort_by(|a, b| b.size.total_cmp(&a.size));
    list
}

/// What an impact can move at that place and was read before it, but not found since.
pub(super) fn unread(
    tell: &Teller<'_>,
    car: CarId,
    rank: Rank,
    place: Place,
    measured: &[Measured],
) -> Vec<Target> {
    let cx = &tell.cx;
    let mut list = Vec::new();
    for slot in cx.on(car, rank).slots() {
        let what = cx.quantity(slot.quantity);
        let Some(read) = slot.held.read.filter(|read| read.register() == Register::Read) else { continue };
        if !what.disturbed_by_hit || !slot.place.touches(place) {
            continue;
        }
        let name = what.name.replace('-', " ");
        let at = cx.place(slot.place);
        if measured.iter().any(|one| one.name == name && one.place == at) {
            continue;
        }
        let verb = tell.entry(read.entry).map(|line| line.verb);
        let word = if verb == Some(Verb::Left) { "as left" } else { "read" };
        let date = cx.date(read.entry).map_or_else(String::new, words::short);
        list.push(Target {
            name,
            place: at,
            was: value::value(tell, slot.track, &read),
            how: format!("{word} {date}").trim_end().to_owned(),
            src: tell.src(value::span(tell, slot.track, &read)),
        });
    }
    list
}
