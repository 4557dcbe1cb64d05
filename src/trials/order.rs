//! Whether the order of the runs lets a change be told from a trend, before any arithmetic.
//!
//! Must not know values.

use super::refusal::Refusal;
use super::row::Row;
use std::collections::{BTreeMap, BTreeSet};

/// Whether the order lets a change be told from a trend, with the setting's number where it has one.
///
/// # Errors
/// Why not.
pub fn order(rows: &[Row], numbers: Option<&[f64]>) -> Result<(), Refusal> {
    let mut blocks: BTreeMap<usize, Vec<&Row>> = BTreeMap::new();
    for row in rows {
        blocks.entry(row.block).or_default().push(row);
    }
    let levels = |rows: &[&Row]| rows.iter().map(|row| row.level).collect::<BTreeSet<_>>().len();
    if blocks.len() > 1 && blocks.values().all(|rows| levels(rows) == 1) {
        return Err(Refusal::WentWithDay);
    }
    let turns = |rows: &[&Row]| {
        rows.windows(2).filter(|pair| pair.first().map(|r| r.level) != pair.last().map(|r| r.level)).count()
    };
    // In each day every setting came once: nobody went back.
    let once = blocks.values().all(|rows| turns(rows) + 1 == levels(rows));
    let Some(numbers) = numbers.filter(|_| levels(&rows.iter().collect::<Vec<_>>()) > 2) else {
        let ways: BTreeSet<[usize; 2]> = blocks
            .values()
            .filter(|rows| levels(rows) > 1)
            .filter_map(|rows| Some([rows.first()?.level, rows.last()?.level]))
            .collect();
        // Two days in opposite order stand for the way back.
        let back = ways.iter().any(|[first, last]| ways.contains(&[*last, *first]));
        return if once && !back { Err(Refusal::WentWithOrder) } else { Ok(()) };
    };
    let number = |row: &Row| numbers.get(row.level).copied().unwrap_or(0.0);
    let ways: BTreeSet<bool> = blocks
        .values()
        .flat_map(|rows| {
            rows.windows(2).filter_map(|pair| Some(number(pair.last()?) - number(pair.first()?)))
        })
        .filter(|step| *step != 0.0)
        .map(|step| step > 0.0)
        .collect();
    if ways.len() < 2 { Err(Refusal::OnlyOneWay) } else { Ok(()) }
}
