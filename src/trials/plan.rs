//! What would tell: the fewest further runs, and their order.
//!
//! Must not know books.

use super::effect::{FREEDOM, wide};
use super::order::order;
use super::refusal::Refusal;
use super::row::Row;

/// More further runs than these are no plan for a day.
pub const MOST: u32 = 8;

/// Further runs.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The setting of each, 0 or 1, in order.
    pub settings: Vec<usize>,
    /// How far the difference would be known either way; `None` where nobody can say how far a lap scatters.
    pub within: Option<f64>,
    /// Whether the whole order, with what was run, is one that a steady trend cannot fool.
    pub drift_free: bool,
    /// Whether it begins anew on another day, so that what was run does not count in it.
    pub anew: bool,
}

/// The fewest further runs on the same day that would tell a difference of `wanted`, by the scatter of a run; where that is not known, that
/// leave two degrees of freedom. `ran` are the runs of that day with two settings, `last` the place of the day's last run in its order,
/// whether it counts or not. `None` where [`MOST`] are not enough.
#[must_use]
pub fn plan(ran: &[Row], last: u32, scatter: Option<f64>, wanted: f64) -> Option<Plan> {
    (1..=MOST).find_map(|more| best(ran, last, more, scatter, wanted))
}

/// The fewest runs of so many settings that tell them from a steady trend with two degrees of freedom to judge by; of more than two there
/// and back, so that each has the same mean place.
#[must_use]
pub fn telling(levels: usize) -> Vec<usize> {
    match levels {
        0..=2 => plan(&[], 0, None, 0.0).map_or_else(Vec::new, |plan| plan.settings),
        _ => (0..levels).chain((0..levels).rev()).collect(),
    }
}

/// Whether an order of runs on one day lets its settings be told from a trend; `numbers` are those of the settings.
///
/// # Errors
/// Why not.
pub fn tells(settings: &[usize], numbers: Option<&[f64]>) -> Result<(), Refusal> {
    let rows: Vec<Row> =
        (1..).zip(settings).map(|(order, level)| Row { block: 0, order, level: *level }).collect();
    order(&rows, numbers)
}

fn best(ran: &[Row], last: u32, more: u32, scatter: Option<f64>, wanted: f64) -> Option<Plan> {
    let mut found: Option<((bool, f64, usize), Plan)> = None;
    // The day's level, its trend, and the change.
    let freedom = (ran.len() + more as usize).checked_sub(3).filter(|freedom| *freedom >= FREEDOM)?;
    let wide = wide(freedom)?;
    for code in 0..(1_u32 << more) {
        let settings: Vec<usize> = (0..more).map(|run| ((code >> (more - 1 - run)) & 1) as usize).collect();
        let rows: Vec<Row> = ran
            .iter()
            .copied()
            .chain((1..).zip(&settings).map(|(run, level)| Row {
                block: ran.first().map_or(0, |row| row.block),
                order: last + run,
                level: *level,
            }))
            .collect();
        let Some(times) = sharpness(&rows) else { continue };
        let within = scatter.map(|scatter| wide * times * scatter);
        if within.is_some_and(|within| within > wanted) {
            continue;
        }
        let free = is_drift_free(&rows);
        let plan = Plan { settings, within, drift_free: free, anew: ran.is_empty() };
        // Of orders as sharp as each other the one that goes to and fro most is fooled least by a trend that bends.
        let better = found.as_ref().is_none_or(|((was, least, turns), _)| {
            (free && !was)
                || (free == *was
                    && (times < least - 1e-9 || (times < least + 1e-9 && turned(&rows) > *turns)))
        });
        if better {
            found = Some(((free, times, turned(&rows)), plan));
        }
    }
    found.map(|(_, plan)| plan)
}

/// How much the error of the change is of the scatter of one run, of two settings on one day: the setting about the day's level and
/// trend. `None` where the order cannot tell.
#[must_use]
pub fn sharpness(rows: &[Row]) -> Option<f64> {
    order(rows, None).ok()?;
    let count = rows.len() as f64;
    let place = rows.iter().map(|row| f64::from(row.order)).sum::<f64>() / count;
    let share = rows.iter().map(|row| row.level as f64).sum::<f64>() / count;
    let (mut steps, mut both, mut own) = (0.0, 0.0, 0.0);
    for row in rows {
        let (step, level) = (f64::from(row.order) - place, row.level as f64 - share);
        steps += step * step;
        both += step * level;
        own += level * level;
    }
    let left = own - both * both / steps;
    (left > 1e-9 * own).then(|| 1.0 / left.sqrt())
}

/// How often the setting changes.
fn turned(rows: &[Row]) -> usize {
    rows.windows(2)
        .filter(|pair| pair.first().map(|row| row.level) != pair.last().map(|row| row.level))
        .count()
}

/// Whether a steady trend leaves the difference of the plain means alone: both settings have the same mean place in the order.
#[must_use]
pub fn is_drift_free(rows: &[Row]) -> bool {
    let mean = |level: usize| {
        let orders: Vec<f64> =
            rows.iter().filter(|row| row.level == level).map(|row| f64::from(row.order)).collect();
        (!orders.is_empty()).then(|| orders.iter().sum::<f64>() / orders.len() as f64)
    };
    mean(0).zip(mean(1)).is_some_and(|(a, b)| (a - b).abs() < 1e-9)
}
