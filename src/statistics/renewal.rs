//! How many failures to expect in a stretch of running when each failed part is replaced by a new one.
//!
//! The renewal equation M(t) = F1(t) + integral of M(t - u) dF(u), F1 the first life, which may have some age already (Cox,
//! *Renewal Theory*, 1962, chapters 2 and 4), on a grid whose last step is taken at its middle (Xie, Communications in
//! Statistics: Simulation and Computation 18 (1989) 281-293; from memory), at two widths, of which the limit is taken.

use super::gamma::upper;
use super::weibull::Weibull;

/// Steps of the coarse grid for each mean life, and at least.
const STEPS: (f64, f64) = (48.0, 192.0);
/// Steps of the coarse grid where a second failure is seldomer than this.
const FEW_STEPS: usize = 32;
/// See [`FEW_STEPS`].
const SELDOM: f64 = 1e-3;
/// Past so many mean lives the expected number is its straight line to the last digit that matters.
const FAR: f64 = 30.0;

/// The expected number of failures in `running` of one place whose first part has `age` already. `None` where a number is
/// below 0 or not finite.
#[must_use]
pub fn expected(life: &Weibull, age: f64, running: f64) -> Option<f64> {
    let mean = mean_of(life, age, running)?;
    if running > FAR * mean {
        return straight(life, age, running);
    }
    expected_of(running, mean, |time| life.conditional(age, time), |time| life.failed(time))
}

/// The expected number of renewals by `running` of any lives of that mean: `first` and `later` give the share of the first
/// life and of each later one that is over by a time. `None` for a mean not above 0, or for more than 30 of them.
#[must_use]
pub fn expected_of(
    running: f64,
    mean: f64,
    first: impl Fn(f64) -> f64,
    later: impl Fn(f64) -> f64,
) -> Option<f64> {
    let near = running >= 0.0 && mean > 0.0 && running <= FAR * mean && mean.is_finite();
    near.then(|| limit(steps(mean, running), |steps| expected_on(running, steps, &later, &first)))
}

/// The chances of 0, 1, ... `most` failures in `running` of one place whose first part has `age` already. `None` where a number
/// is below 0 or not finite, or the running is longer than 30 mean lives, where so few are no question.
#[must_use]
pub fn counts(life: &Weibull, age: f64, running: f64, most: usize) -> Option<Vec<f64>> {
    let mean = mean_of(life, age, running).filter(|mean| running <= FAR * mean)?;
    // What a second failure adds is at most this: where that is little, a coarser grid shows as many digits of the chances.
    let second = life.conditional(age, running) * life.failed(running);
    let coarse = if second < SELDOM { FEW_STEPS } else { steps(mean, running) };
    let [one, two] = [coarse, 2 * coarse].map(|steps| at_least(life, age, running, steps, most + 1));
    let mut before = 1.0;
    let reached = one.iter().zip(&two).map(|(one, two)| two + (two - one) / 3.0);
    Some(
        reached
            .map(|chance| {
                let chance: f64 = chance.clamp(0.0, before);
                std::mem::replace(&mut before, chance) - chance
            })
            .collect(),
    )
}

/// The chances of 0, 1, ... failures of several places together, each given by its own [`counts`], which must be independent.
/// As long as the shortest of them; empty for none.
#[must_use]
pub fn together(places: &[Vec<f64>]) -> Vec<f64> {
    let Some((first, others)) = places.split_first() else { return Vec::new() };
    others.iter().fold(first.clone(), |sum, place| {
        let most = sum.len().min(place.len());
        let ends = (1..=most).map(|count| (sum.split_at(count).0, place.split_at(count).0));
        ends.map(|(sum, place)| sum.iter().zip(place.iter().rev()).map(|(one, other)| one * other).sum())
            .collect()
    })
}

/// The smallest number of spares that is enough with that confidence, from the chances of 0, 1, ... failures; `None` where the
/// chances given do not reach it.
#[must_use]
pub fn spares(counts: &[f64], confidence: f64) -> Option<usize> {
    let mut sum = 0.0;
    counts.iter().position(|chance| {
        sum += chance;
        sum >= confidence
    })
}

/// The mean life, where all the numbers are usable.
fn mean_of(life: &Weibull, age: f64, running: f64) -> Option<f64> {
    let mean = life.mean();
    let usable = [age, running].iter().all(|number| *number >= 0.0 && number.is_finite());
    (usable && life.shape > 0.0 && mean > 0.0 && mean.is_finite()).then_some(mean)
}

fn steps(mean: f64, running: f64) -> usize {
    (STEPS.0 * running / mean).max(STEPS.1).ceil() as usize
}

/// The error falls with the square of the width: a third of the difference takes it out.
fn limit(coarse: usize, on: impl Fn(usize) -> f64) -> f64 {
    let (one, two) = (on(coarse), on(2 * coarse));
    two + (two - one) / 3.0
}

fn expected_on(running: f64, steps: usize, later: impl Fn(f64) -> f64, first: impl Fn(f64) -> f64) -> f64 {
    let width = running / steps as f64;
    // F at the middles, counted back from the end of each stretch.
    let middles: Vec<f64> = (0..steps).map(|step| later((step as f64 + 0.5) * width)).collect();
    let mut rises: Vec<f64> = Vec::with_capacity(steps);
    let mut sum = 0.0;
    let first_middle = middles.first().copied().unwrap_or(0.0);
    let left = 1.0 - first_middle;
    for step in 1..=steps {
        let past: f64 =
            rises.iter().zip(middles.split_at(step).0.iter().rev()).map(|(rise, middle)| rise * middle).sum();
        let at = (first(step as f64 * width) + past - sum * first_middle) / left;
        rises.push(at - sum);
        sum = at;
    }
    sum
}

/// A chance that no count of spares hangs on.
const NOTHING: f64 = 1e-12;

/// P(N >= 1), P(N >= 2), ... P(N >= most): each is the one before it folded with a life.
fn at_least(life: &Weibull, age: f64, running: f64, steps: usize, most: usize) -> Vec<f64> {
    let width = running / steps as f64;
    let middles: Vec<f64> = (0..steps).map(|step| life.failed((step as f64 + 0.5) * width)).collect();
    let mut by: Vec<f64> = (0..=steps).map(|step| life.conditional(age, step as f64 * width)).collect();
    let again = life.failed(running);
    let mut chances = Vec::with_capacity(most);
    while chances.len() < most
        && let Some(last) = by.last().copied()
    {
        chances.push(last);
        // One failure more is at most this, and those after it less.
        if chances.len() == most || last * again < NOTHING {
            break;
        }
        let rises: Vec<f64> = by.array_windows().map(|[before, after]| after - before).collect();
        by = (0..=steps).map(|step| folded(rises.split_at(step).0, middles.split_at(step).0)).collect();
    }
    chances.resize(most, 0.0);
    chances
}

/// The sum of each of the one by each of the other from its end, eight sums side by side: the order is the same on any machine.
fn folded(one: &[f64], other: &[f64]) -> f64 {
    let (chunks, rest) = one.as_chunks::<8>();
    let (others_rest, others) = other.as_rchunks::<8>();
    let rest: f64 = rest.iter().zip(others_rest.iter().rev()).map(|(one, other)| one * other).sum();
    let mut sums = [0.0; 8];
    for (chunk, other) in chunks.iter().zip(others.iter().rev()) {
        for ((sum, one), other) in sums.iter_mut().zip(chunk).zip(other.iter().rev()) {
            *sum += one * other;
        }
    }
    sums.iter().sum::<f64>() + rest
}

/// Far out: (running - mean of the first)/mean + (deviation^2 + mean^2)/(2 mean^2) (Cox 1962, 4.2).
fn straight(life: &Weibull, age: f64, running: f64) -> Option<f64> {
    let mean = life.mean();
    // The mean of what is left of the first; far past any life it is 1/hazard.
    let left = life.survival(age);
    let first = if left > 0.0 {
        mean * upper(1.0 / life.shape, life.cumulative_hazard(age))? / left
    } else {
        1.0 / life.hazard(age)
    };
    let spread = life.deviation() / mean;
    Some((running - first) / mean + f64::midpoint(spread * spread, 1.0)).filter(|count| count.is_finite())
}
