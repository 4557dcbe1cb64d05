//! Numbers that carry their derivatives, so that a formula written once gives its value and its sensitivities.
//!
//! Forward-mode differentiation: exact to rounding, no step sizes. Must not know readings or units.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// A value and its partial derivatives by each input of a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Dual {
    /// The value.
    pub value: f64,
    /// d value / d input, by index of input.
    pub partials: Vec<f64>,
}

/// The sum of a list.
#[must_use]
pub fn sum(list: &[Dual]) -> Dual {
    let Some((first, others)) = list.split_first() else { return Dual::constant(0.0, 0) };
    others.iter().fold(first.clone(), |sum, one| sum + one)
}

impl Dual {
    /// A constant among `inputs` inputs.
    #[must_use]
    pub fn constant(value: f64, inputs: usize) -> Self {
        Self { value, partials: vec![0.0; inputs] }
    }

    /// Input number `index` of `inputs`.
    #[must_use]
    pub fn input(value: f64, index: usize, inputs: usize) -> Self {
        let mut one = Self::constant(value, inputs);
        if let Some(partial) = one.partials.get_mut(index) {
            *partial = 1.0;
        }
        one
    }

    /// A function of one value: its value and its derivative there.
    fn chain(&self, value: f64, slope: f64) -> Self {
        Self { value, partials: self.partials.iter().map(|partial| partial * slope).collect() }
    }

    fn join(&self, other: &Self, value: f64, by_self: f64, by_other: f64) -> Self {
        let partials =
            self.partials.iter().zip(&other.partials).map(|(a, b)| a * by_self + b * by_other).collect();
        Self { value, partials }
    }

    /// Square root.
    #[must_use]
    pub fn sqrt(&self) -> Self {
        let root = self.value.sqrt();
        self.chain(root, 0.5 / root)
    }

    /// A fixed power.
    #[must_use]
    pub fn powf(&self, power: f64) -> Self {
        self.chain(libm::pow(self.value, power), slope(self.value, power))
    }

    /// A power that is itself of inputs. Of a base below zero only whole powers have a value; between two of them there is none, so
    /// by the power it does not move, as a step does not.
    #[must_use]
    pub fn pow(&self, power: &Self) -> Self {
        let (base, by) = (self.value, power.value);
        if power.partials.iter().all(|partial| *partial == 0.0) {
            return self.powf(by);
        }
        if base > 0.0 {
            return (self.ln() * power).exp();
        }
        let value = libm::pow(base, by);
        let whole = by.fract() == 0.0;
        let by_power = if (base == 0.0 && by > 0.0) || (base < 0.0 && whole) { 0.0 } else { f64::NAN };
        self.join(power, value, slope(base, by), by_power)
    }

    /// A whole power.
    #[must_use]
    pub fn powi(&self, power: i32) -> Self {
        self.powf(f64::from(power))
    }

    /// Sine of radians.
    #[must_use]
    pub fn sin(&self) -> Self {
        self.chain(libm::sin(self.value), libm::cos(self.value))
    }

    /// Cosine of radians.
    #[must_use]
    pub fn cos(&self) -> Self {
        self.chain(libm::cos(self.value), -libm::sin(self.value))
    }

    /// Tangent of radians.
    #[must_use]
    pub fn tan(&self) -> Self {
        let tan = libm::tan(self.value);
        self.chain(tan, 1.0 + tan * tan)
    }

    /// Arc sine, radians.
    #[must_use]
    pub fn asin(&self) -> Self {
        self.chain(libm::asin(self.value), 1.0 / (1.0 - self.value * self.value).sqrt())
    }

    /// Arc cosine, radians.
    #[must_use]
    pub fn acos(&self) -> Self {
        self.chain(libm::acos(self.value), -1.0 / (1.0 - self.value * self.value).sqrt())
    }

    /// Arc tangent, radians.
    #[must_use]
    pub fn atan(&self) -> Self {
        self.chain(libm::atan(self.value), 1.0 / (1.0 + self.value * self.value))
    }

    /// Without its sign.
    #[must_use]
    pub fn abs(&self) -> Self {
        self.chain(self.value.abs(), if self.value < 0.0 { -1.0 } else { 1.0 })
    }

    /// A value that stays the same between steps.
    #[must_use]
    pub fn stepped(&self, value: f64) -> Self {
        self.chain(value, 0.0)
    }

    /// With a number added.
    #[must_use]
    pub fn shifted(mut self, by: f64) -> Self {
        self.value += by;
        self
    }

    /// Times a number.
    #[must_use]
    pub fn scaled(mut self, by: f64) -> Self {
        self.value *= by;
        self.partials.iter_mut().for_each(|partial| *partial *= by);
        self
    }

    /// Over a number.
    #[must_use]
    pub fn divided(mut self, by: f64) -> Self {
        self.value /= by;
        self.partials.iter_mut().for_each(|partial| *partial /= by);
        self
    }

    /// Natural exponential.
    #[must_use]
    pub fn exp(&self) -> Self {
        let exp = libm::exp(self.value);
        self.chain(exp, exp)
    }

    /// Natural logarithm.
    #[must_use]
    pub fn ln(&self) -> Self {
        self.chain(libm::log(self.value), 1.0 / self.value)
    }
}

/// By how much a power moves with its base; the power nought is 1 whatever the base.
fn slope(base: f64, power: f64) -> f64 {
    if power == 0.0 { 0.0 } else { power * libm::pow(base, power - 1.0) }
}

macro_rules! operator {
    ($trait:ident $method:ident, |$a:ident, $b:ident| $value:expr, $by_a:expr, $by_b:expr) => {
        impl $trait<&Dual> for &Dual {
            type Output = Dual;
            fn $method(self, other: &Dual) -> Dual {
                let ($a, $b) = (self.value, other.value);
                self.join(other, $value, $by_a, $by_b)
            }
        }
        impl $trait<Dual> for Dual {
            type Output = Dual;
            fn $method(self, other: Dual) -> Dual {
                (&self).$method(&other)
            }
        }
        impl $trait<&Dual> for Dual {
            type Output = Dual;
            fn $method(self, other: &Dual) -> Dual {
                (&self).$method(other)
            }
        }
        impl $trait<Dual> for &Dual {
            type Output = Dual;
            fn $method(self, other: Dual) -> Dual {
                self.$method(&other)
            }
        }
        impl $trait<f64> for &Dual {
            type Output = Dual;
            fn $method(self, other: f64) -> Dual {
                let other = Dual::constant(other, self.partials.len());
                self.$method(&other)
            }
        }
        impl $trait<f64> for Dual {
            type Output = Dual;
            fn $method(self, other: f64) -> Dual {
                (&self).$method(other)
            }
        }
        impl $trait<&Dual> for f64 {
            type Output = Dual;
            fn $method(self, other: &Dual) -> Dual {
                Dual::constant(self, other.partials.len()).$method(other)
            }
        }
        impl $trait<Dual> for f64 {
            type Output = Dual;
            fn $method(self, other: Dual) -> Dual {
                self.$method(&other)
            }
        }
    };
}
operator!(Add add, |a, b| a + b, 1.0, 1.0);
operator!(Sub sub, |a, b| a - b, 1.0, -1.0);
operator!(Mul mul, |a, b| a * b, b, a);
operator!(Div div, |a, b| a / b, 1.0 / b, -a / (b * b));

impl Neg for Dual {
    type Output = Self;
    fn neg(self) -> Self {
        self.chain(-self.value, -1.0)
    }
}
