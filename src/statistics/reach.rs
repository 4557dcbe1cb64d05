//! Where a straight line through readings reaches a limit, with an interval: inverse prediction by Fieller's theorem.
//!
//! E. C. Fieller, Some problems in interval estimation, J. R. Stat. Soc. B 16 (1954) 175-185; Draper & Smith, Applied Regression Analysis,
//! inverse regression. Pure functions.

use super::student;

/// Where the line reaches the limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reach {
    /// The slope cannot be told from nothing, or leads away: no end can be foreseen.
    NoEnd,
    /// Between these.
    Between {
        /// The earliest, in the unit of the first numbers.
        low: f64,
        /// Where the line itself does.
        likely: f64,
        /// The latest.
        high: f64,
        /// By how much the line rises for one of the first numbers.
        slope: f64,
    },
}

/// The slope of a line, and how sure that is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// By how much the line rises for one of the first numbers.
    pub per: f64,
    /// Half of its interval (Student's t).
    pub half: f64,
}

impl Slope {
    /// Whether it can be told from nothing.
    #[must_use]
    pub fn is_told(&self) -> bool {
        self.per.abs() > self.half
    }
}

/// A straight line by least squares.
struct Fit {
    count: f64,
    mean_x: f64,
    mean_y: f64,
    /// Sum of the squares of the first numbers about their mean.
    squares: f64,
    slope: f64,
    /// The variance of a reading times the square of Student's t.
    room: f64,
}

fn fit(points: &[(f64, f64)], grain: f64, confidence: f64) -> Option<Fit> {
    let finite = |(x, y): &(f64, f64)| x.is_finite() && y.is_finite();
    if points.len() < 3 || !points.iter().all(finite) {
        return None;
    }
    let count = points.len() as f64;
    let mean_x = points.iter().map(|(x, _)| x).sum::<f64>() / count;
    let mean_y = points.iter().map(|(_, y)| y).sum::<f64>() / count;
    let squares: f64 = points.iter().map(|(x, _)| (x - mean_x) * (x - mean_x)).sum();
    if squares <= 0.0 {
        return None;
    }
    let slope = points.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum::<f64>() / squares;
    let left = |(x, y): &(f64, f64)| y - mean_y - slope * (x - mean_x);
    let freedom = count - 2.0;
    let variance =
        (points.iter().map(|point| left(point) * left(point)).sum::<f64>() / freedom).max(grain * grain);
    let wide = student::quantile(confidence, freedom)?;
    Some(Fit { count, mean_x, mean_y, squares, slope, room: wide * wide * variance })
}

/// The slope of the line through `points`, held with `confidence`; `grain` and `None` as of [`reach`].
#[must_use]
pub fn slope(points: &[(f64, f64)], grain: f64, confidence: f64) -> Option<Slope> {
    let fit = fit(points, grain, confidence)?;
    Some(Slope { per: fit.slope, half: (fit.room / fit.squares).sqrt() })
}

/// Where the line through `points` reaches `limit`, held with `confidence`. `grain` is the least that one reading scatters by, however well
/// they happen to agree. `None` for fewer than three points, points all at one place, or numbers that are none.
#[must_use]
pub fn reach(points: &[(f64, f64)], limit: f64, grain: f64, confidence: f64) -> Option<Reach> {
    if !limit.is_finite() {
        return None;
    }
    let Fit { count, mean_x, mean_y, squares, slope, room } = fit(points, grain, confidence)?;
    // (slope u - away)² <= room (1/n + u²/squares) holds for u between the roots of a u² - 2 b u + c.
    let away = limit - mean_y;
    let (a, b, c) = (slope * slope - room / squares, slope * away, away * away - room / count);
    let under = b * b - a * c;
    if a <= 0.0 || under < 0.0 {
        return Some(Reach::NoEnd);
    }
    let half = under.sqrt();
    Some(Reach::Between {
        low: mean_x + (b - half) / a,
        likely: mean_x + away / slope,
        high: mean_x + (b + half) / a,
        slope,
    })
}
