//! Exact unit factors: a fraction of whole numbers times a power of pi, read from products like
//! `0.45359237*gn/in^2` and turned into a float once.
//!
//! Knows arithmetic only. It must not know which units there are.

/// `num / den * pi^pi`, in lowest terms, `den > 0`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Exact {
    num: i128,
    den: i128,
    pi: i32,
}

impl Exact {
    /// The number one.
    pub(super) const ONE: Self = Self { num: 1, den: 1, pi: 0 };

    /// Reads a product of plain decimals, `pi` and names that `constant` knows, each with an optional
    /// `^POWER`, joined by `*` and `/` from left to right. `None` if it is not one, or too large to hold.
    pub(super) fn parse(text: &str, constant: &dyn Fn(&str) -> Option<Self>) -> Option<Self> {
        let mut value = Self::ONE;
        let mut divide = false;
        let mut rest = text.trim();
        loop {
            let end = rest.find(['*', '/']).unwrap_or(rest.len());
            let (atom, tail) = rest.split_at(end);
            let atom = Self::atom(atom.trim(), constant)?;
            value = value.times(if divide { atom.inverse()? } else { atom })?;
            let Some(operator) = tail.chars().next() else { return Some(value) };
            divide = operator == '/';
            rest = tail.get(1..)?;
        }
    }

    /// The nearest float (within two units in the last place where pi is part of it).
    pub(super) fn to_f64(self) -> f64 {
        let mut value = self.num as f64 / self.den as f64;
        for _ in 0..self.pi.abs() {
            if self.pi > 0 {
                value *= std::f64::consts::PI;
            } else {
                value /= std::f64::consts::PI;
            }
        }
        value
    }

    /// The product, `None` if it does not fit.
    pub(super) fn times(self, other: Self) -> Option<Self> {
        // Crosswise reduction first keeps the numbers small.
        let a = gcd(self.num, other.den);
        let b = gcd(other.num, self.den);
        Some(Self {
            num: (self.num / a).checked_mul(other.num / b)?,
            den: (self.den / b).checked_mul(other.den / a)?,
            pi: self.pi + other.pi,
        })
    }

    fn inverse(self) -> Option<Self> {
        (self.num > 0).then_some(Self { num: self.den, den: self.num, pi: -self.pi })
    }

    fn atom(text: &str, constant: &dyn Fn(&str) -> Option<Self>) -> Option<Self> {
        let (name, power) = match text.split_once('^') {
            Some((name, power)) => (name, power.parse::<u8>().ok()?),
            None => (text, 1),
        };
        let base = if name == "pi" {
            Self { pi: 1, ..Self::ONE }
        } else if name.starts_with(|c: char| c.is_ascii_digit()) {
            Self::decimal(name)?
        } else {
            constant(name)?
        };
        (0..power).try_fold(Self::ONE, |product, _| product.times(base))
    }

    fn decimal(text: &str) -> Option<Self> {
        let (whole, part) = text.split_once('.').unwrap_or((text, ""));
        let num: i128 = format!("{whole}{part}").parse().ok()?;
        let den = 10_i128.checked_pow(u32::try_from(part.len()).ok()?)?;
        Self { num, den: 1, pi: 0 }.times(Self { num: 1, den, pi: 0 })
    }
}

fn gcd(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}
