//! A smooth function over a span, kept as its Chebyshev series, so that it need not be worked out again.

/// The coefficients.
#[derive(Debug, Clone)]
pub(super) struct Series(Vec<f64>);

impl Series {
    /// The series of a smooth function from `low` to `high`: 8 pieces, doubled until the last are nothing.
    pub fn of(low: f64, high: f64, function: impl Fn(f64) -> f64) -> Self {
        let node =
            |place: usize, pieces: usize| libm::cos(std::f64::consts::PI * place as f64 / pieces as f64);
        let value = |across: f64| function(f64::midpoint(low, high) + (high - low) / 2.0 * across);
        let mut pieces = 8;
        let mut values: Vec<f64> = (0..=pieces).map(|place| value(node(place, pieces))).collect();
        loop {
            let series = coefficients(&values);
            let size = series.iter().fold(1.0, |most: f64, one| most.max(one.abs()));
            let rest = series.iter().rev().take(3).fold(0.0, |most: f64, one| most.max(one.abs()));
            if rest < 1e-13 * size || pieces >= 128 {
                return Self(series);
            }
            pieces *= 2;
            // Each second node is one of those before.
            let known = values.into_iter().enumerate();
            values = known
                .flat_map(|(index, known)| {
                    let between = (index > 0).then(|| value(node(2 * index - 1, pieces)));
                    between.into_iter().chain([known])
                })
                .collect();
        }
    }

    /// Its value at a place from -1 (`low`) to 1 (`high`), by Clenshaw's way.
    pub fn at(&self, across: f64) -> f64 {
        let Self(series) = self;
        let (mut one, mut two) = (0.0, 0.0);
        for coefficient in series.iter().skip(1).rev() {
            (one, two) = (2.0 * across * one - two + coefficient, one);
        }
        across * one - two + series.first().copied().unwrap_or(0.0)
    }
}

/// The series through values at cos(pi j/n), by its sums.
#[expect(clippy::indexing_slicing, reason = "there are twice as many cosines as pieces")]
fn coefficients(values: &[f64]) -> Vec<f64> {
    let pieces = values.len() - 1;
    let cosines: Vec<f64> =
        (0..2 * pieces).map(|place| libm::cos(std::f64::consts::PI * place as f64 / pieces as f64)).collect();
    let half = |place: usize| if place == 0 || place == pieces { 0.5 } else { 1.0 };
    (0..=pieces)
        .map(|order| {
            let sum: f64 = values
                .iter()
                .enumerate()
                .map(|(place, value)| half(place) * value * cosines[(order * place) % (2 * pieces)])
                .sum();
            2.0 / pieces as f64 * half(order) * sum
        })
        .collect()
}
