//! How sure a reading is, as a standard uncertainty, and the small-sample statistics behind it.
//!
//! JCGM 100:2008 (GUM) and NIST Technical Note 1297. Must not know figures.

/// Mean, sample standard deviation (n - 1) and standard uncertainty of the mean of repeats (GUM 4.2, Type A).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Repeats {
    /// How many.
    pub n: usize,
    /// Arithmetic mean.
    pub mean: f64,
    /// Sample standard deviation; `None` for one reading.
    pub s: Option<f64>,
    /// s / sqrt(n); `None` for one reading.
    pub u: Option<f64>,
}

/// Statistics of repeats; `None` for no reading. Two passes, so that large equal digits do not cancel.
#[must_use]
pub fn repeats(values: &[f64]) -> Option<Repeats> {
    let n = values.len();
    // A first guess taken off keeps the sums small (NIST StRD NumAcc4).
    let guess = values.first()?;
    let mean = guess + values.iter().map(|value| value - guess).sum::<f64>() / n as f64;
    if n == 1 {
        return Some(Repeats { n, mean, s: None, u: None });
    }
    let sum: f64 = values.iter().map(|value| (value - mean) * (value - mean)).sum();
    let drift: f64 = values.iter().map(|value| value - mean).sum();
    let s = ((sum - drift * drift / n as f64) / (n as f64 - 1.0)).sqrt();
    Some(Repeats { n, mean, s: Some(s), u: Some(s / (n as f64).sqrt()) })
}

/// Standard uncertainty of a reading whose error lies evenly within ± `half` (GUM 4.3.7, rectangular).
#[must_use]
pub fn rectangular(half: f64) -> f64 {
    half / 3f64.sqrt()
}

/// Covariance of the means of two series read side by side (GUM 5.2.3, equation 17); 0 for fewer than two pairs.
#[must_use]
pub fn covariance_of_means(a: &[f64], b: &[f64]) -> f64 {
    let n = a.len().min(b.len());
    let (Some(first), Some(second)) = (repeats(a.split_at(n).0), repeats(b.split_at(n).0)) else {
        return 0.0;
    };
    if n < 2 {
        return 0.0;
    }
    let count = n as f64;
    let sum: f64 = a.iter().zip(b).map(|(a, b)| (a - first.mean) * (b - second.mean)).sum();
    sum / (count * (count - 1.0))
}

/// A straight line through points by least squares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Value at x = 0.
    pub intercept: f64,
    /// Slope.
    pub slope: f64,
    /// Standard uncertainty of the intercept; `None` for two points.
    pub u_intercept: Option<f64>,
    /// Standard uncertainty of the slope; `None` for two points.
    pub u_slope: Option<f64>,
    /// Correlation of the two.
    pub correlation: f64,
    /// Residual standard deviation (n - 2); `None` for two points.
    pub s: Option<f64>,
    /// Share of the spread in y that the line explains.
    pub r_squared: f64,
    /// How many points.
    pub n: usize,
}

impl Line {
    /// Value at `x` and its standard uncertainty (GUM H.3.3, with the covariance of intercept and slope).
    #[must_use]
    pub fn at(&self, x: f64) -> (f64, Option<f64>) {
        let u = self
            .u_intercept
            .zip(self.u_slope)
            .map(|(a, b)| (a * a + x * x * b * b + 2.0 * x * self.correlation * a * b).max(0.0).sqrt());
        (self.intercept + self.slope * x, u)
    }
}

/// Fits y = intercept + slope x (GUM H.3). `None` for fewer than two points or no spread in x.
#[must_use]
pub fn line(x: &[f64], y: &[f64]) -> Option<Line> {
    let n = x.len().min(y.len());
    if n < 2 {
        return None;
    }
    let (x, y) = (x.split_at(n).0, y.split_at(n).0);
    let count = n as f64;
    let (mean_x, mean_y) = (repeats(x)?.mean, repeats(y)?.mean);
    let sxx: f64 = x.iter().map(|x| (x - mean_x) * (x - mean_x)).sum();
    if sxx <= 0.0 {
        return None;
    }
    let sxy: f64 = x.iter().zip(y).map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    let slope = sxy / sxx;
    let intercept = mean_y - slope * mean_x;
    let squares: f64 = x
        .iter()
        .zip(y)
        .map(|(x, y)| {
            let residual = (y - mean_y) - slope * (x - mean_x);
            residual * residual
        })
        .sum();
    let s = (n > 2).then(|| (squares / (count - 2.0)).sqrt());
    let syy: f64 = y.iter().map(|y| (y - mean_y) * (y - mean_y)).sum();
    let sum_x2: f64 = x.iter().map(|x| x * x).sum();
    Some(Line {
        intercept,
        slope,
        u_intercept: s.map(|s| s * (sum_x2 / (count * sxx)).sqrt()),
        u_slope: s.map(|s| s / sxx.sqrt()),
        correlation: -mean_x / (sum_x2 / count).sqrt(),
        s,
        r_squared: if syy > 0.0 { 1.0 - squares / syy } else { 1.0 },
        n,
    })
}
