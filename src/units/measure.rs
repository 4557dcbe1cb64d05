//! What comes of dimensions when numbers are multiplied, divided, raised and rooted: exponents in twelfths.
//!
//! Knows exponents and the names of kinds. It must not know formulas.

use super::dim::{BASES, Dim};
use super::kind::DimensionId;

/// A dimension with exponents in twelfths, so that square, cube and fourth roots have one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Measure([i32; BASES]);

/// Parts of a whole exponent.
const PARTS: i32 = 12;

impl Measure {
    /// A plain number.
    pub const PLAIN: Self = Self([0; BASES]);

    /// The dimension of an angle.
    #[must_use]
    pub fn angle() -> Self {
        Self::of_dim(DimensionId::ANGLE.get().dim)
    }

    /// That of a vector of whole exponents.
    #[must_use]
    pub fn of_dim(dim: Dim) -> Self {
        Self(dim.0.map(|exponent| i32::from(exponent) * PARTS))
    }

    /// That of values of a kind. A kind whose number is complete without a unit (a ratio, a count, clicks) is a plain number.
    #[must_use]
    pub fn of(kind: DimensionId) -> Self {
        if kind.get().bare { Self::PLAIN } else { Self::of_dim(kind.get().dim) }
    }

    /// The product.
    #[must_use]
    pub fn times(self, other: Self) -> Self {
        self.with(other, i32::saturating_add)
    }

    /// The quotient.
    #[must_use]
    pub fn over(self, other: Self) -> Self {
        self.with(other, i32::saturating_sub)
    }

    fn with(mut self, other: Self, each: fn(i32, i32) -> i32) -> Self {
        for (exponent, other) in self.0.iter_mut().zip(other.0) {
            *exponent = each(*exponent, other);
        }
        self
    }

    /// Raised to a fixed power; `None` where that is no exponent of a dimension.
    #[must_use]
    pub fn raised(self, power: f64) -> Option<Self> {
        let mut out = Self::PLAIN;
        for (to, from) in out.0.iter_mut().zip(self.0) {
            let exact = f64::from(from) * power;
            let whole = exact.round();
            if (exact - whole).abs() > 1e-9 || whole.abs() > 1e6 {
                return None;
            }
            *to = whole as i32;
        }
        Some(out)
    }

    /// Whether it is a plain number.
    #[must_use]
    pub fn is_plain(self) -> bool {
        self == Self::PLAIN
    }

    /// The kinds of quantity that have it, in the order of the list.
    pub fn kinds(self) -> impl Iterator<Item = DimensionId> {
        DimensionId::all().filter(move |kind| !kind.get().is_text() && Self::of(*kind) == self)
    }

    /// In words, with an article: "a stiffness", "a plain number"; of what no kind is, "mass^2 per (length time^4)".
    #[must_use]
    pub fn words(self, kind: Option<DimensionId>) -> String {
        if self.is_plain() {
            return "a plain number".to_owned();
        }
        match kind.or_else(|| self.kinds().next()) {
            Some(kind) => {
                let name = kind.name().replace('-', " ");
                let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
                format!("{article} {name}")
            }
            None => self.product(),
        }
    }

    /// "length^6", "length^(1/2)", "1 per length", "mass^2 per (length time^4)".
    fn product(self) -> String {
        let bases = || super::dim::NAMES.iter().zip(self.0);
        let power = |(name, exponent): (&&str, i32)| {
            let common = (1..=PARTS).rev().find(|by| exponent % by == 0 && PARTS % by == 0).unwrap_or(1);
            match (exponent / common, PARTS / common) {
                (1, 1) => (*name).to_owned(),
                (whole, 1) => format!("{name}^{whole}"),
                (above, below) => format!("{name}^({above}/{below})"),
            }
        };
        let above: Vec<String> = bases().filter(|(_, exponent)| *exponent > 0).map(power).collect();
        let below = bases().filter(|(_, exponent)| *exponent < 0);
        let below: Vec<String> = below.map(|(name, exponent)| power((name, -exponent))).collect();
        let above = if above.is_empty() { "1".to_owned() } else { above.join(" ") };
        match below.as_slice() {
            [] => above,
            [one] => format!("{above} per {one}"),
            several => format!("{above} per ({})", several.join(" ")),
        }
    }
}
