//! What a change did, by least squares: its effect beside each day's own level and trend.
//!
//! Of more than two settings every pair is compared, each at an equal share of the level (Bonferroni). A number turned to more than two is
//! looked at as a straight line too, so that pairs and line have half of the level each; the line counts only where the settings taken one
//! by one fit no better (F test of lack of fit).
//!
//! y = a + b i + c x, i the running order of the day, x the setting (Box, Hunter & Hunter, Statistics for Experimenters; the drift-free
//! orders are NIST/SEMATECH e-Handbook 2.3.3 and double substitution, NISTIR 6969 SOP 4). Pure functions. Must not know books.

use super::order::order;
use super::refusal::Refusal;
use super::row::Row;
use crate::statistics::least_squares::{LeastSquares, NoFit, least_squares};
use crate::statistics::{student, variance_ratio};
use std::collections::BTreeSet;
use std::sync::OnceLock;

/// One in so many verdicts about changes that do nothing is wrong.
pub const LEVEL: f64 = 0.05;
/// A verdict needs so many degrees of freedom; fewer have an interval only.
pub const FREEDOM: usize = 2;

/// A difference between two settings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// From this setting.
    pub from: usize,
    /// To this one.
    pub to: usize,
    /// How much more the value is.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// The interval that holds it, and all the others beside it, with 1 - [`LEVEL`].
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// Two-sided p, times the number of looks: under [`LEVEL`] where the interval leaves nought out.
    pub p: f64,
}

/// What the runs say.
#[derive(Debug, Clone, PartialEq)]
pub struct Effects {
    /// Of each pair of settings, the first against each other before the rest; of a straight line through numbers its whole range alone,
    /// from the least setting to the most.
    pub effects: Vec<Effect>,
    /// Whether it is of a straight line through the numbers of the settings.
    pub straight: bool,
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

/// What the values say of the settings. `numbers` are those of the settings, where they are numbers: of more than two they are tried as a
/// straight line too. `pool` is the scatter of other runs, where it is to count.
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
    let met: BTreeSet<usize> = rows.iter().map(|row| row.level).collect();
    if met.len() < levels {
        return Err(Refusal::NotMeasured);
    }
    let numbers = numbers.filter(|numbers| levels > 2 && numbers.len() == levels);
    let pool = pool.unwrap_or_default();
    let one_by_one =
        |row: &Row| (1..levels).map(|level| if row.level == level { 1.0 } else { 0.0 }).collect();
    let settings = Fitted::new(rows, values, pool, &one_by_one)?;
    let pairs: Vec<(usize, usize)> =
        (0..levels).flat_map(|from| (from + 1..levels).map(move |to| (from, to))).collect();
    let share = if numbers.is_some() { 2 } else { 1 };
    let found = pairs.iter().filter_map(|(from, to)| {
        let of = |level: usize| level.checked_sub(1);
        settings.effect((*from, *to), of(*to)?, of(*from), pairs.len() * share)
    });
    let found: Vec<Effect> = found.collect();
    if found.len() < pairs.len() {
        return Err(settings.few);
    }
    let line = numbers.and_then(|numbers| straight(rows, values, pool, numbers, &settings));
    let (settings, found, straight) = match line {
        Some((line, effect)) => (line, vec![effect], true),
        None => (settings, found, false),
    };
    let trends = settings.fit.coefficients.iter().take(settings.first).skip(1).step_by(2).copied().collect();
    let (freedom, scatter) = (settings.freedom, settings.scatter);
    Ok(Effects { effects: found, straight, trends, freedom, scatter, pooled: pool.freedom })
}

/// The straight line through the numbers of more than two settings, where it leaves nought out and the settings one by one fit no better.
fn straight(
    rows: &[Row],
    values: &[f64],
    pool: Pool,
    numbers: &[f64],
    settings: &Fitted,
) -> Option<(Fitted, Effect)> {
    if settings.freedom < FREEDOM {
        return None;
    }
    let by = |a: &(usize, &f64), b: &(usize, &f64)| a.1.total_cmp(b.1);
    let (least, low) = numbers.iter().enumerate().min_by(by)?;
    let (most, high) = numbers.iter().enumerate().max_by(by)?;
    let range = high - low;
    // About the least and by the range, so that the coefficient is what the whole range does.
    let share = |row: &Row| vec![numbers.get(row.level).map_or(0.0, |number| (number - low) / range)];
    let line = Fitted::new(rows, values, pool, &share).ok()?;
    let more = line.freedom.checked_sub(settings.freedom).filter(|more| *more > 0)? as f64;
    let lack = (line.squares() - settings.squares()).max(0.0) / more;
    let ratio = lack / (settings.scatter * settings.scatter);
    if variance_ratio::above(ratio, more, settings.freedom as f64)? < LEVEL {
        return None;
    }
    let effect = line.effect((least, most), 0, None, 2)?;
    (effect.low > 0.0 || effect.high < 0.0).then_some((line, effect))
}

/// A fit beside each block's level and trend, with the scatter that it is judged by.
struct Fitted {
    fit: LeastSquares,
    /// The first column after the levels and trends.
    first: usize,
    freedom: usize,
    scatter: f64,
    /// What is said where nobody can judge.
    few: Refusal,
}

impl Fitted {
    fn new(
        rows: &[Row],
        values: &[f64],
        pool: Pool,
        columns: &dyn Fn(&Row) -> Vec<f64>,
    ) -> Result<Self, Refusal> {
        let blocks = blocks(rows);
        let design = design(rows, &blocks, columns);
        let few = Refusal::TooFew { runs: rows.len(), unknowns: design.first().map_or(0, Vec::len) };
        // The values about their mean: what all have in common says nothing, and takes digits.
        let mean = values.iter().sum::<f64>() / values.len().max(1) as f64;
        let about: Vec<f64> = values.iter().map(|value| value - mean).collect();
        let fit = least_squares(&design, &about).map_err(|trouble| match trouble {
            NoFit::TooFew => few.clone(),
            NoFit::Follows(_) | NoFit::NotFinite => Refusal::WentWithOrder,
        })?;
        let freedom = fit.freedom + pool.freedom;
        if freedom == 0 {
            return Err(few);
        }
        let most = values.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
        let scatter = ((fit.left_over + pool.left_over) / freedom as f64).sqrt();
        if !scatter.is_finite() || scatter <= 1e-9 * most {
            return Err(Refusal::NoScatter);
        }
        Ok(Self { fit, first: 2 * blocks.len(), freedom, scatter, few })
    }

    /// The squares left over, those of other runs with them.
    fn squares(&self) -> f64 {
        self.scatter * self.scatter * self.freedom as f64
    }

    /// One column less another, judged as one of so many looks.
    fn effect(
        &self,
        (from, to): (usize, usize),
        column: usize,
        less: Option<usize>,
        looks: usize,
    ) -> Option<Effect> {
        let at = |column: usize| self.fit.coefficients.get(self.first + column).copied();
        let value = at(column)? - less.map_or(Some(0.0), at)?;
        let error = self.scatter * self.fit.error(self.first + column, less.map(|less| self.first + less))?;
        let freedom = self.freedom as f64;
        let wide = match looks {
            1 => wide(self.freedom)?,
            looks => student::quantile(1.0 - LEVEL / looks as f64, freedom)?,
        };
        let p = (student::outside(value / error, freedom)? * looks as f64).min(1.0);
        Some(Effect { from, to, value, error, low: value - wide * error, high: value + wide * error, p })
    }
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

/// Each block's level and trend, then what else there is.
fn design(rows: &[Row], blocks: &[usize], columns: &dyn Fn(&Row) -> Vec<f64>) -> Vec<Vec<f64>> {
    let middle = |block: usize| {
        let orders: Vec<f64> =
            rows.iter().filter(|row| row.block == block).map(|row| f64::from(row.order)).collect();
        orders.iter().sum::<f64>() / orders.len().max(1) as f64
    };
    let middles: Vec<f64> = blocks.iter().map(|block| middle(*block)).collect();
    let line = |row: &Row| {
        let own = blocks.iter().zip(&middles).flat_map(|(block, middle)| {
            let own = *block == row.block;
            if own { [1.0, f64::from(row.order) - middle] } else { [0.0, 0.0] }
        });
        own.chain(columns(row)).collect()
    };
    rows.iter().map(line).collect()
}
