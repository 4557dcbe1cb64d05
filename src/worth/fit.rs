//! Slopes through no change, by least squares: what a reading moves for each bit that a setting is turned.
//!
//! Each chain of readings has its own level, taken off by its means, so that what was read twice is not counted as two changes
//! (Draper & Smith, Applied Regression Analysis: dummy variables for blocks). Must not know books.

use super::chain::{ChainLink, Tried};
use super::state::Differs;
use crate::book::entry::EntryId;
use crate::book::place::Place;
use crate::statistics::least_squares::{LeastSquares, least_squares};
use crate::trials::effect::{FREEDOM, wide};

/// So many moves of a place say something; fewer do not.
pub const LEAST: usize = 3;

/// What one place of a setting is worth.
#[derive(Debug, Clone, PartialEq)]
pub struct Slope {
    /// Where it was turned.
    pub place: Place,
    /// SI of the outcome for each SI of the setting.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// The interval.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// Degrees of freedom.
    pub freedom: usize,
    /// How often the place was turned.
    pub moves: usize,
    /// The furthest it was turned from one reading to another of a chain, SI.
    pub furthest: f64,
    /// The lines of the readings.
    pub lines: Vec<EntryId>,
    /// From each reading to the next of its chain.
    pub steps: Vec<SlopeStep>,
}

/// From one reading to the next, with nothing between but turns of the setting.
#[derive(Debug, Clone, PartialEq)]
pub struct SlopeStep {
    /// The line of the first.
    pub from: EntryId,
    /// That of the next.
    pub to: EntryId,
    /// By how much each place was turned, SI; empty where it was only read again.
    pub turned: Vec<(Place, f64)>,
    /// By how much what was read is more, SI.
    pub moved: f64,
}

/// What a setting is worth at each place.
#[derive(Debug, Clone, PartialEq)]
pub struct Slopes {
    /// By place.
    pub slopes: Vec<Slope>,
    /// What their errors share, in the order of the slopes: variances on the diagonal.
    pub covariance: Vec<Vec<f64>>,
    /// The scatter of one reading, SI.
    pub scatter: f64,
}

/// Why there is no slope.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refused {
    /// No place was turned often enough; how often the most was.
    Few(usize),
    /// Its places were turned together, each time alike: nothing tells them apart.
    Together,
    /// Often enough, but with the car otherwise than it is now.
    Otherwise(Differs),
}

/// The slopes of a setting.
///
/// # Errors
/// Why there is none.
pub fn slopes(all: &Tried) -> Result<Slopes, Refused> {
    let every: Vec<usize> = (0..all.places.len()).collect();
    let count = all.places.len();
    let alone = |place: &usize| moves(&apart(&all.chains, &[*place], count), *place);
    let most = every.iter().map(alone).max().unwrap_or(0);
    let mut kept: Vec<usize> = every;
    let mut chains = all.chains.clone();
    loop {
        let often: Vec<usize> =
            kept.iter().copied().filter(|place| moves(&chains, *place) >= LEAST).collect();
        if often.is_empty() {
            return Err(all.otherwise.map_or(Refused::Few(most), Refused::Otherwise));
        }
        if often == kept {
            break;
        }
        kept = often;
        chains = apart(&all.chains, &kept, count);
    }
    if let Some(together) = fitted(all, &chains, &kept) {
        return Ok(together);
    }
    // Where they cannot be told apart together, each that was turned alone often enough.
    let mut found = Slopes { slopes: Vec::new(), covariance: Vec::new(), scatter: 0.0 };
    for place in &kept {
        let alone = apart(&all.chains, &[*place], count);
        let Some(one) = fitted(all, &alone, &[*place]).filter(|_| moves(&alone, *place) >= LEAST) else {
            continue;
        };
        found.scatter = found.scatter.max(one.scatter);
        found.slopes.extend(one.slopes);
    }
    let slopes = found.slopes.len();
    found.covariance = (0..slopes)
        .map(|row| {
            let of = |column: usize| found.slopes.get(row).filter(|_| row == column);
            (0..slopes).map(|column| of(column).map_or(0.0, |slope| slope.error * slope.error)).collect()
        })
        .collect();
    if found.slopes.is_empty() { Err(Refused::Together) } else { Ok(found) }
}

/// Whether two numbers of a setting differ.
fn differ(a: f64, b: f64) -> bool {
    (a - b).abs() > 1e-9 * a.abs().max(b.abs()).max(1e-3)
}

fn stood(link: &ChainLink, place: usize) -> f64 {
    link.stood.get(place).copied().unwrap_or(f64::NAN)
}

/// How often a place was turned from one reading to the next.
fn moves(chains: &[Vec<ChainLink>], place: usize) -> usize {
    let turned = |pair: &&[ChainLink]| match pair {
        [from, to] => differ(stood(from, place), stood(to, place)),
        _ => false,
    };
    chains.iter().map(|chain| chain.windows(2).filter(turned).count()).sum()
}

/// The chains, ended where a place was turned that is not among these.
fn apart(chains: &[Vec<ChainLink>], kept: &[usize], count: usize) -> Vec<Vec<ChainLink>> {
    let mut out: Vec<Vec<ChainLink>> = Vec::new();
    for chain in chains {
        let mut part: Vec<ChainLink> = Vec::new();
        for link in chain {
            let other = |place: &usize| !kept.contains(place);
            let moved = part.last().is_some_and(|last| {
                (0..count).filter(other).any(|place| differ(stood(last, place), stood(link, place)))
            });
            if moved {
                out.push(std::mem::take(&mut part));
            }
            part.push(link.clone());
        }
        out.push(part);
    }
    out.retain(|chain| chain.len() > 1);
    out
}

/// The slopes at some places; `None` where the readings cannot tell them apart, or are too few.
fn fitted(all: &Tried, chains: &[Vec<ChainLink>], kept: &[usize]) -> Option<Slopes> {
    let mut rows: Vec<Vec<f64>> = Vec::new();
    let mut values: Vec<f64> = Vec::new();
    for chain in chains {
        let count = chain.len() as f64;
        let mean = |of: &dyn Fn(&ChainLink) -> f64| chain.iter().map(of).sum::<f64>() / count;
        let middles: Vec<f64> = kept.iter().map(|place| mean(&|link| stood(link, *place))).collect();
        let level = mean(&|link| link.value);
        for link in chain {
            rows.push(
                kept.iter().zip(&middles).map(|(place, middle)| stood(link, *place) - middle).collect(),
            );
            values.push(link.value - level);
        }
    }
    let links = || chains.iter().flatten();
    let freedom = values.len().checked_sub(chains.len() + kept.len()).filter(|left| *left >= FREEDOM)?;
    let fit: LeastSquares = least_squares(&rows, &values).ok()?;
    // No surer than the gauge, however well the numbers happen to agree.
    let grain = links().map(|link| link.grain * link.grain).sum::<f64>() / values.len() as f64;
    let variance = (fit.left_over / freedom as f64).max(grain);
    let wide = wide(freedom)?;
    let mut lines: Vec<EntryId> = links().map(|link| link.line).collect();
    lines.dedup();
    let steps: Vec<SlopeStep> =
        chains.iter().flat_map(|chain| chain.windows(2)).filter_map(|pair| step(all, pair, kept)).collect();
    let slope = |index: usize, place: usize| {
        let value = *fit.coefficients.get(index)?;
        let error = (fit.spread.get(index)?.get(index)? * variance).sqrt();
        Some(Slope {
            place: *all.places.get(place)?,
            value,
            error,
            low: value - wide * error,
            high: value + wide * error,
            freedom,
            moves: moves(chains, place),
            furthest: furthest(chains, place),
            lines: lines.clone(),
            steps: steps.clone(),
        })
    };
    let slopes = kept.iter().enumerate().map(|(index, place)| slope(index, *place)).collect::<Option<_>>()?;
    let shared = |row: &Vec<f64>| row.iter().map(|share| share * variance).collect();
    let covariance = fit.spread.iter().map(shared).collect();
    Some(Slopes { slopes, covariance, scatter: variance.sqrt() })
}

fn step(all: &Tried, pair: &[ChainLink], kept: &[usize]) -> Option<SlopeStep> {
    let [from, to] = pair else { return None };
    let turned = kept.iter().filter(|place| differ(stood(from, **place), stood(to, **place)));
    let by = |place: &usize| Some((*all.places.get(*place)?, stood(to, *place) - stood(from, *place)));
    Some(SlopeStep {
        from: from.line,
        to: to.line,
        turned: turned.filter_map(by).collect(),
        moved: to.value - from.value,
    })
}

/// The furthest that a place was turned between two readings of one chain.
fn furthest(chains: &[Vec<ChainLink>], place: usize) -> f64 {
    let width = |chain: &Vec<ChainLink>| {
        let all = || chain.iter().map(|link| stood(link, place));
        all().fold(f64::NEG_INFINITY, f64::max) - all().fold(f64::INFINITY, f64::min)
    };
    chains.iter().map(width).fold(0.0, f64::max)
}
