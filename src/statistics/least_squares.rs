//! Least squares with several regressors: coefficients, how sure each is, what is left over.
//!
//! Householder's triangles (Golub & Van Loan, Matrix Computations, 5.2), the columns brought to one length first. Pure functions.

/// A fit.
#[derive(Debug, Clone, PartialEq)]
pub struct LeastSquares {
    /// One for each column, in its unit.
    pub coefficients: Vec<f64>,
    /// What the variance of the scatter is multiplied by for the variances of the coefficients and what they share: (X'X)^-1.
    pub spread: Vec<Vec<f64>>,
    /// Sum of the squares of what is left over.
    pub left_over: f64,
    /// Rows less columns.
    pub freedom: usize,
}

impl LeastSquares {
    /// What the scatter is multiplied by for the standard error of a coefficient less another; of the coefficient alone where there is
    /// no other. `None` without such a column.
    #[must_use]
    pub fn error(&self, column: usize, less: Option<usize>) -> Option<f64> {
        let of = |a: usize, b: usize| self.spread.get(a)?.get(b).copied();
        let square = match less {
            None => of(column, column)?,
            Some(less) => of(column, column)? + of(less, less)? - 2.0 * of(column, less)?,
        };
        Some(square.max(0.0).sqrt())
    }
}

/// Why there is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoFit {
    /// Fewer rows than columns, or no column.
    TooFew,
    /// This column is made of those before it: nothing tells them apart.
    Follows(usize),
    /// A number that is none, or rows of another length.
    NotFinite,
}

/// So much of a column's length must be its own, or it follows from those before it.
const OWN: f64 = 1e-9;

/// Fits `y` by the columns of `rows` (no intercept is added).
///
/// # Errors
/// Why there is no such fit.
pub fn least_squares(rows: &[Vec<f64>], y: &[f64]) -> Result<LeastSquares, NoFit> {
    let count = rows.first().map_or(0, Vec::len);
    if rows.iter().any(|row| row.len() != count || row.iter().any(|value| !value.is_finite()))
        || rows.len() != y.len()
        || y.iter().any(|value| !value.is_finite())
    {
        return Err(NoFit::NotFinite);
    }
    if count == 0 || rows.len() < count {
        return Err(NoFit::TooFew);
    }
    let mut columns: Vec<Vec<f64>> =
        (0..count).map(|column| rows.iter().filter_map(|row| row.get(column)).copied().collect()).collect();
    let mut lengths = Vec::with_capacity(count);
    for (index, column) in columns.iter_mut().enumerate() {
        let length = norm(column);
        if length <= 0.0 {
            return Err(NoFit::Follows(index));
        }
        for value in column.iter_mut() {
            *value /= length;
        }
        lengths.push(length);
    }
    let mut rest = y.to_vec();
    // The triangle, column by column: entry [column][row], row <= column.
    let mut triangle: Vec<Vec<f64>> = Vec::with_capacity(count);
    for step in 0..count {
        let (done, todo) = columns.split_at_mut(step);
        let Some((first, later)) = todo.split_first_mut() else { break };
        debug_assert_eq!(done.len(), step);
        let mut mirror: Vec<f64> = first.iter().skip(step).copied().collect();
        let length = norm(&mirror);
        if length <= OWN {
            return Err(NoFit::Follows(step));
        }
        if let Some(head) = mirror.first_mut() {
            let end = if *head > 0.0 { -length } else { length };
            *head -= end;
            let mut column: Vec<f64> = first.iter().take(step).copied().collect();
            column.push(end);
            triangle.push(column);
        }
        let square: f64 = mirror.iter().map(|value| value * value).sum();
        for column in later.iter_mut().chain([&mut rest]) {
            reflect(&mirror, square, column, step);
        }
    }
    let left_over: f64 = rest.iter().skip(count).map(|value| value * value).sum();
    let scaled = back(&triangle, rest.split_at(count).0);
    let mut spread = vec![vec![0.0; count]; count];
    for column in 0..count {
        let unit: Vec<f64> = (0..count).map(|row| if row == column { 1.0 } else { 0.0 }).collect();
        let solved = back(&triangle, &unit);
        for (line, (value, length)) in spread.iter_mut().zip(solved.iter().zip(&lengths)) {
            for (sum, (other, by)) in line.iter_mut().zip(solved.iter().zip(&lengths)) {
                *sum += (value / length) * (other / by);
            }
        }
    }
    Ok(LeastSquares {
        coefficients: scaled.iter().zip(&lengths).map(|(value, length)| value / length).collect(),
        spread,
        left_over,
        freedom: rows.len() - count,
    })
}

fn norm(values: &[f64]) -> f64 {
    // By the largest, so that no square is too large or too small.
    let most = values.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
    if most <= 0.0 {
        return 0.0;
    }
    most * values.iter().map(|value| (value / most) * (value / most)).sum::<f64>().sqrt()
}

/// Mirrors a column, from a row on, at the plane that stands on `mirror`.
fn reflect(mirror: &[f64], square: f64, column: &mut [f64], from: usize) {
    let along: f64 = mirror.iter().zip(column.iter().skip(from)).map(|(a, b)| a * b).sum();
    let twice = 2.0 * along / square;
    for (value, by) in column.iter_mut().skip(from).zip(mirror) {
        *value -= twice * by;
    }
}

/// Solves the triangle for a right side, the last row first.
fn back(triangle: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let mut rest = right.to_vec();
    let mut solved = vec![0.0; triangle.len()];
    for (index, column) in triangle.iter().enumerate().rev() {
        let Some((own, above)) = column.split_last() else { continue };
        let value = rest.get(index).copied().unwrap_or(0.0) / own;
        for (sum, by) in rest.iter_mut().zip(above) {
            *sum -= value * by;
        }
        if let Some(place) = solved.get_mut(index) {
            *place = value;
        }
    }
    solved
}
