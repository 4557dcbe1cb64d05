//! The shapes and scales that the likelihood leaves believable, and the range of anything over them.
//!
//! For each shape in the region the scales in it are an interval in closed form up to one small equation, so the region's
//! edge is one closed curve. The profile-likelihood range of a quantity is its least and greatest value over the region; one
//! that only rises or only falls with the scale has both on the edge. ln S(b) is read from the data once, as a Chebyshev
//! polynomial over the region's shapes; after that no quantity needs the data again.

use super::Weibull;
use super::chebyshev::Series;
use super::fit::{Fit, SHAPES};
use super::sums::Sums;
use crate::statistics::Interval;
use crate::statistics::normal::two_sided;

/// Places on the edge at which a quantity is looked at before its extremes are refined.
const PLACES: u32 = 64;

/// A likelihood region of one fit.
#[derive(Debug, Clone)]
pub struct Region {
    /// The level asked for.
    pub level: f64,
    failures: f64,
    sums: Sums,
    /// The least log-likelihood still in the region.
    floor: f64,
    /// Ends of its shapes, and whether each is a real end and not only that of our search.
    shapes: [(f64, bool); 2],
    /// ln S(b) over them.
    log_sum: Series,
    /// The edge: an angle, and the distribution there.
    edge: Vec<(f64, Weibull)>,
}

impl Fit {
    /// The shapes and scales that the data leave believable at that level (0.9 for 90 %): those whose log-likelihood is less
    /// than half of chi-squared's quantile at one degree of freedom below the greatest (profile likelihood: Meeker & Escobar,
    /// *Statistical Methods for Reliability Data*, 1998, 8.3). `None` outside 0 < level < 1.
    #[must_use]
    pub fn region(&self, level: f64) -> Option<Region> {
        Region::of(self, level)
    }
}

impl Region {
    pub(super) fn of(fit: &Fit, level: f64) -> Option<Self> {
        let z = two_sided(level)?;
        let floor = fit.log_likelihood - z * z / 2.0;
        let sums = fit.sums.clone();
        let shapes = [SHAPES.0, SHAPES.1].map(|limit| end(&sums, fit.shape, limit, floor));
        let log_sum = Series::of(shapes[0].0, shapes[1].0, |shape| libm::log(sums.powers(shape).sum));
        let mut region =
            Self { level, failures: sums.failures, sums, floor, shapes, log_sum, edge: Vec::new() };
        let step = std::f64::consts::TAU / f64::from(PLACES);
        region.edge =
            (0..PLACES).map(|place| f64::from(place) * step).map(|at| (at, region.at(at))).collect();
        Some(region)
    }

    /// The range of the shape.
    #[must_use]
    pub fn shape(&self) -> Interval {
        let [low, high] = self.shapes.map(|(shape, real)| real.then_some(shape));
        Interval { low, high }
    }

    /// The range of the scale.
    #[must_use]
    pub fn scale(&self) -> Interval {
        self.range(|life| life.scale)
    }

    /// The range of the mean.
    #[must_use]
    pub fn mean(&self) -> Interval {
        self.range(Weibull::mean)
    }

    /// The range of the age by which that share has failed; empty for a share outside 0 to 1.
    #[must_use]
    pub fn quantile(&self, share: f64) -> Interval {
        self.range(|life| life.quantile(share).unwrap_or(f64::NAN))
    }

    /// The range of the chance that one still good at `age` fails within `more`.
    #[must_use]
    pub fn conditional(&self, age: f64, more: f64) -> Interval {
        self.range(|life| life.conditional(age, more))
    }

    /// The range of any quantity that, at each shape, only rises or only falls with the scale. An end at which the quantity
    /// is not finite, or which lies where our search of shapes ended and not the region, is `None`.
    #[must_use]
    pub fn range(&self, quantity: impl Fn(&Weibull) -> f64) -> Interval {
        Interval { low: self.least(&quantity), high: self.least(|life| -quantity(life)).map(|value| -value) }
    }

    /// The least value on the edge: the best of the places, then golden sections about it.
    fn least(&self, quantity: impl Fn(&Weibull) -> f64) -> Option<f64> {
        let values: Vec<f64> = self.edge.iter().map(|(_, life)| quantity(life)).collect();
        if values.iter().any(|value| !value.is_finite()) {
            return None;
        }
        let places = self.edge.iter().map(|(place, _)| *place).zip(values);
        let (best_place, best) = places.min_by(|(_, one), (_, other)| one.total_cmp(other))?;
        let step = std::f64::consts::TAU / f64::from(PLACES);
        let (mut low, mut high) = (best_place - step, best_place + step);
        let part = 0.618_033_988_749_894_9;
        let value = |at: f64| quantity(&self.at(at));
        let (mut left, mut right) = (high - part * (high - low), low + part * (high - low));
        let (mut at_left, mut at_right) = (value(left), value(right));
        // The value is flat at its least: 25 sections leave the angle to a millionth and the value to its last digits.
        for _ in 0..25 {
            if at_left <= at_right {
                (high, right, at_right) = (right, left, at_left);
                left = high - part * (high - low);
                at_left = value(left);
            } else {
                (low, left, at_left) = (left, right, at_right);
                right = low + part * (high - low);
                at_right = value(right);
            }
        }
        let (at, found) = if at_left <= at_right { (left, at_left) } else { (right, at_right) };
        let found = found.min(best);
        (found.is_finite() && self.held(at)).then_some(found)
    }

    /// Whether the edge there is an end of the region, and not of our search.
    fn held(&self, angle: f64) -> bool {
        let across = libm::cos(angle);
        let [low, high] = self.shapes;
        (low.1 || across > -1.0 + 1e-6) && (high.1 || across < 1.0 - 1e-6)
    }

    /// The distribution at that angle of the edge: shapes from end to end and back, the greater scales on the way out and the
    /// lesser on the way back.
    fn at(&self, angle: f64) -> Weibull {
        let [(low, _), (high, _)] = self.shapes;
        let across = libm::cos(angle);
        let shape = f64::midpoint(low, high) + (high - low) / 2.0 * across;
        let log_sum = self.log_sum.at(across);
        let spare = (self.sums.best(shape, log_sum) - self.floor).max(0.0) / self.failures;
        let log_scale =
            self.sums.log_scale(shape, log_sum) + off_best(spare, libm::sin(angle) >= 0.0) / shape;
        Weibull { shape, scale: libm::exp(log_scale) }
    }
}

/// How far shape x ln scale may lie from its best for the log-likelihood of each failure to fall by `spare`: the root y, above
/// or below 0, of e^-y - 1 + y = spare.
fn off_best(spare: f64, above: bool) -> f64 {
    let near = (2.0 * spare).sqrt();
    let mut y = if above { near + spare } else { -near };
    for _ in 0..60 {
        let less = libm::expm1(-y);
        if less == 0.0 {
            break;
        }
        let next = y + (less + y - spare) / less;
        let moved = (next - y).abs();
        y = next;
        if moved <= 1e-15 * y.abs() {
            break;
        }
    }
    y
}

/// Where the profile likelihood, going from the best shape towards `limit`, comes down to `floor`; `limit` itself and `false`
/// where it does not before it.
fn end(sums: &Sums, best: f64, limit: f64, floor: f64) -> (f64, bool) {
    if sums.profile(limit).0 >= floor {
        return (limit, false);
    }
    // Inside the region, outside it; in ln shape.
    let (mut inside, mut outside) = (libm::log(best), libm::log(limit));
    let (top, _, curvature) = sums.profile(best);
    let mut at = inside + (2.0 * (top - floor) / -curvature).sqrt().copysign(outside - inside);
    for _ in 0..100 {
        if (at - inside) * (at - outside) >= 0.0 {
            at = f64::midpoint(inside, outside);
        }
        let (value, slope, _) = sums.profile(libm::exp(at));
        if value >= floor {
            inside = at;
        } else {
            outside = at;
        }
        let newton = at - (value - floor) / slope;
        if (newton - at).abs() < 1e-10 {
            return (libm::exp(newton), true);
        }
        at = newton;
    }
    (libm::exp(at), true)
}
