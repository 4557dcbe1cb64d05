//! The best known setup at a circuit, by the quickest of the runs that can be compared, and how the car differs from it.
//!
//! Must not know which runs can be compared, nor which page it stands on.

use super::altered::{self, Altered};
use crate::answer::trials::best::{self, NO_VERDICT};
use crate::book::model::{CarId, EventId};
use crate::history::order::Rank;
use crate::report::teller::Teller;
use serde::Serialize;

/// The best known setups at a circuit.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BestSetups {
    /// The circuit's name.
    pub circuit: String,
    /// By driver and weather, those of the last run first.
    pub known: Vec<BestSetup>,
    /// How many more of those there are.
    pub more: usize,
    /// Why there is none; else empty.
    pub refused: String,
    /// "quern-1 s1 (no lap time that counts)".
    pub left_out: Vec<String>,
    /// What a quickest lap is not; empty where none is told.
    pub caution: String,
}

/// What the runs of one driver in one weather say.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BestSetup {
    /// Which run was the quickest, of how many; or why none is told.
    pub sentence: String,
    /// Whether a run is told.
    pub told: bool,
    /// What is otherwise now than in it, settings and parts.
    pub lines: Vec<Altered>,
    /// How many more.
    pub more: usize,
    /// Settings of which nobody can say whether they are otherwise.
    pub unclear: Vec<String>,
    /// How many settings stand as they did.
    pub same: usize,
    /// The run's line.
    pub src: String,
}

/// How much of it a page shows.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    /// Drivers and weathers.
    pub known: usize,
    /// Lines of each.
    pub lines: usize,
}

/// The best known setups at an event's circuit before a rank.
pub(super) fn at(
    tell: &Teller<'_>,
    car: CarId,
    event: Option<EventId>,
    rank: Rank,
    room: Room,
) -> Option<BestSetups> {
    let cx = &tell.cx;
    let circuit = event.and_then(|event| cx.book.events.get(event))?.circuit?;
    let all = tell.comparable(car)?;
    let (said, quickest) = best::at(tell.compiled, car, all, circuit, rank);
    let mut known: Vec<BestSetup> = said
        .known
        .into_iter()
        .zip(quickest)
        .map(|(said, (quickest, differs))| {
            // What is set stands before what is fitted: it is what can be set back.
            let mut lines = altered::altered(tell, car, differs.moved.iter(), &[], rank);
            lines.extend(altered::altered(tell, car, [].iter(), &differs.parts, rank));
            let more = lines.len().saturating_sub(room.lines);
            lines.truncate(room.lines);
            let name = |one: &best::BestDiffers| {
                let place = one.place.as_deref().unwrap_or_default();
                format!("{} {place}", one.what.replace('-', " ")).trim_end().to_owned()
            };
            BestSetup {
                told: quickest.is_some(),
                sentence: said.sentence,
                lines,
                more,
                unclear: said.differs.iter().filter(|one| one.cannot_tell).map(name).collect(),
                same: said.same,
                src: quickest.map_or_else(String::new, |run| tell.src_of(cx.history.sessions.get(run).entry)),
            }
        })
        .collect();
    // Those that say something first, and among them those of the last run.
    known.sort_by_key(|one| !one.told);
    let more = known.len().saturating_sub(room.known);
    Some(BestSetups {
        circuit: said.circuit,
        caution: if known.iter().any(|one| one.told) { NO_VERDICT.to_owned() } else { String::new() },
        known: known.into_iter().take(room.known).collect(),
        more,
        refused: said.refused.unwrap_or_default(),
        left_out: said.left_out.iter().map(|run| format!("{} ({})", run.session, run.why)).collect(),
    })
}
