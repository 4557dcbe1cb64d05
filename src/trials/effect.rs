//! What a change did, by least squares: its effect beside each day's own level and trend.
//!
//! y = a + b i + c x, i the running order of the day, x the setting (Box, Hunter & Hunter, Statistics for Experimenters; the drift-free
//! orders are NIST/SEMATECH e-Handbook 2.3.3 and double substitution, NISTIR 6969 SOP 4). Pure functions. Must not know books.

use super::refusal::Refusal;
use crate::statistics::least_squares::{LeastSquares, NoFit, least_squares};
use crate::statistics::student;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

/// One in so many verdicts about changes that do nothing is wrong.
pub const LEVEL: f64 = 0.05;
/// A verdict needs so many degrees of freedom; fewer have an interval only.
pub const FREEDOM: usize = 2;

/// A run as it counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Its day, or event, by number: each has a level and a trend of its own.
    pub block: usize,
    /// Its place in the running order of the day, from 1, runs that do not count included.
    pub order: u32,
    /// The number of its setting, 0 for the first.
    pub level: usize,
}

/// A difference between two settings, or by one step of a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// From this setting.
    pub from: usize,
    /// To this one; `None` where it is of one unit of a number.
    pub to: Option<usize>,
    /// How much more the value is.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// The interval that holds it with 1 - [`LEVEL`].
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// Two-sided p.
    pub p: f64,
}

/// What the runs say.
#[derive(Debug, Clone, PartialEq)]
pub struct Effects {
    /// Of each setting against the first; of a number turned in steps, by one unit.
    pub effects: Vec<Effect>,
    /// By how much the value rises from run to run, by block.
    pub trends: Vec<f64>,
    /// Degrees of freedom.
    pub freedom: usize,
    /// The scatter of one run.
    pub scatter: f64,
    /// How many of the degrees of freedom come from other runs of the car.
    pub pooled: usize,
}

impl Effects {
    /// Whether they may bear a verdict.
    #[must_use]
    pub const fn bears_verdict(&self) -> bool {
        self.freedom >= FREEDOM
    }
}

/// The scatter of other runs.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Pool {
    /// The sum of their squares.
    pub left_over: f64,
    /// Their degrees of freedom.
    pub freedom: usize,
}

/// How many standard errors the interval of one difference is wide either way. Kept for few degrees of freedom: a long book asks for the
/// same few again and again.
#[must_use]
pub fn wide(freedom: usize) -> Option<f64> {
    static KNOWN: [OnceLock<Option<f64>>; 64] = [const { OnceLock::new() }; 64];
    let found = || student::quantile(1.0 - LEVEL, freedom as f64);
    KNOWN.get(freedom).map_or_else(found, |known| *known.get_or_init(found))
}

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

/// What the values say of the settings. `numbers` are those of the settings, where they are numbers; of more than two they are taken as a
/// slope. `pool` is the scatter of other runs, where it is to count.
///
/// # Errors
/// Why they say nothing.
pub fn effects(
    rows: &[Row],
    values: &[f64],
    numbers: Option<&[f64]>,
    pool: Option<Pool>,
) -> Result<Effects, Refusal> {
    order(rows, numbers)?;
    let levels = rows.iter().map(|row| row.level).max().map_or(0, |most| most + 1);
    let slope = numbers.filter(|numbers| levels > 2 && numbers.len() >= levels);
    let columns = if slope.is_some() { 1 } else { levels.saturating_sub(1) };
    let blocks = blocks(rows);
    let design = design(rows, &blocks, slope, columns);
    let unknowns = 2 * blocks.len() + columns;
    let few = Refusal::TooFew { runs: rows.len(), unknowns };
    // The values about their mean: what all have in common says nothing, and takes digits.
    let mean = values.iter().sum::<f64>() / values.len().max(1) as f64;
    let about: Vec<f64> = values.iter().map(|value| value - mean).collect();
    let fit = least_squares(&design, &about).map_err(|trouble| match trouble {
        NoFit::TooFew => few.clone(),
        NoFit::Follows(_) | NoFit::NotFinite => Refusal::WentWithOrder,
    })?;
    let more = pool.unwrap_or_default();
    let freedom = fit.freedom + more.freedom;
    if fit.freedom == 0 && more.freedom == 0 {
        return Err(few);
    }
    let most = values.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
    let scatter = ((fit.left_over + more.left_over) / freedom as f64).sqrt();
    if !scatter.is_finite() || scatter <= 1e-9 * most {
        return Err(Refusal::NoScatter);
    }
    // Of several settings each is one look more.
    let wide = if columns == 1 {
        wide(freedom)
    } else {
        student::quantile(1.0 - LEVEL / columns.max(1) as f64, freedom as f64)
    };
    let wide = wide.ok_or(few)?;
    let first = 2 * blocks.len();
    let list = (0..columns).filter_map(|column| {
        let value = fit.coefficients.get(first + column)?;
        let error = scatter * fit.spread.get(first + column)?.sqrt();
        Some(Effect {
            from: 0,
            to: slope.is_none().then_some(column + 1),
            value: *value,
            error,
            low: value - wide * error,
            high: value + wide * error,
            p: student::outside(value / error, freedom as f64)?,
        })
    });
    Ok(Effects {
        effects: list.collect(),
        trends: trends(&fit, blocks.len()),
        freedom,
        scatter,
        pooled: more.freedom,
    })
}

/// The blocks in order of first use.
fn blocks(rows: &[Row]) -> Vec<usize> {
    let mut blocks: Vec<usize> = Vec::new();
    for row in rows {
        if !blocks.contains(&row.block) {
            blocks.push(row.block);
        }
    }
    blocks
}

fn trends(fit: &LeastSquares, blocks: usize) -> Vec<f64> {
    fit.coefficients.iter().take(2 * blocks).skip(1).step_by(2).copied().collect()
}

/// Each block's level and trend, then the settings.
fn design(rows: &[Row], blocks: &[usize], slope: Option<&[f64]>, columns: usize) -> Vec<Vec<f64>> {
    let middle = |block: usize| {
        let orders: Vec<f64> =
            rows.iter().filter(|row| row.block == block).map(|row| f64::from(row.order)).collect();
        orders.iter().sum::<f64>() / orders.len().max(1) as f64
    };
    let middles: Vec<f64> = blocks.iter().map(|block| middle(*block)).collect();
    rows.iter()
        .map(|row| {
            let mut line = Vec::with_capacity(2 * blocks.len() + columns);
            for (block, middle) in blocks.iter().zip(&middles) {
                let own = *block == row.block;
                line.push(if own { 1.0 } else { 0.0 });
                line.push(if own { f64::from(row.order) - middle } else { 0.0 });
            }
            match slope {
                Some(numbers) => line.push(numbers.get(row.level).copied().unwrap_or(0.0)),
                None => line.extend((1..=columns).map(|level| if row.level == level { 1.0 } else { 0.0 })),
            }
            line
        })
        .collect()
}

/// How much the error of the change is of the scatter of one run, and how many degrees of freedom the order would leave; `None` where the
/// order cannot tell. Of two settings.
#[must_use]
pub fn would_tell(rows: &[Row]) -> Option<(f64, usize)> {
    order(rows, None).ok()?;
    let blocks = blocks(rows);
    let design = design(rows, &blocks, None, 1);
    let fit = least_squares(&design, &vec![0.0; rows.len()]).ok()?;
    Some((fit.spread.last()?.sqrt(), fit.freedom))
}
