//! Dimension vectors: what a number measures, as exponents over eight base quantities.
//!
//! Knows exponents only. It must not know units, kinds of quantity or cars. Torque and energy share one
//! vector, and so do clicks and holes: telling those apart is the work of [`super::kind`].

/// How many base quantities there are.
pub const BASES: usize = 8;

/// The letters of the base quantities, in the order of the vector: length, mass, time, temperature, current,
/// angle, count, money.
pub(super) const LETTERS: [&str; BASES] = ["L", "M", "T", "K", "I", "A", "N", "$"];

/// Their names.
pub(super) const NAMES: [&str; BASES] =
    ["length", "mass", "time", "temperature", "current", "angle", "count", "money"];

/// Exponents over length, mass, time, temperature, current, angle, count and money.
///
/// Angle is a base of its own, so that a torque per angle is not taken for a torque.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Dim(pub [i8; BASES]);

impl Dim {
    /// No dimension: a plain number.
    pub const ONE: Self = Self([0; BASES]);

    /// The product of two dimensions.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        let mut out = self;
        for (a, b) in out.0.iter_mut().zip(other.0) {
            *a = a.saturating_add(b);
        }
        out
    }

    /// This dimension over another.
    #[must_use]
    pub fn over(self, other: Self) -> Self {
        let mut out = self;
        for (a, b) in out.0.iter_mut().zip(other.0) {
            *a = a.saturating_sub(b);
        }
        out
    }
}

/// Shows as `L M T-2`, a plain number as `1`.
impl std::fmt::Display for Dim {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if *self == Self::ONE {
            return f.write_str("1");
        }
        let mut gap = "";
        for (letter, exponent) in LETTERS.iter().zip(self.0) {
            match exponent {
                0 => continue,
                1 => write!(f, "{gap}{letter}")?,
                n => write!(f, "{gap}{letter}{n}")?,
            }
            gap = " ";
        }
        Ok(())
    }
}
