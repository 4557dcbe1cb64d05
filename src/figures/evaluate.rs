//! Evaluates formulas over numbers that carry their derivatives.
//!
//! A literal carries none, so it costs none. Must not know where a value is from.

use super::dual::Dual;
use crate::book::figure::{Function, Term, Test};
use crate::syntax::formula::Compare;

/// A value of a formula: a plain number, or one that carries derivatives.
#[derive(Debug, Clone)]
pub(super) enum Number {
    /// Of literals alone.
    Plain(f64),
    /// Of inputs.
    Dual(Dual),
}

impl Number {
    /// The value.
    pub(super) const fn value(&self) -> f64 {
        match self {
            Self::Plain(value) => *value,
            Self::Dual(dual) => dual.value,
        }
    }

    /// As a number among so many inputs.
    pub(super) fn dual(self, inputs: usize) -> Dual {
        match self {
            Self::Plain(value) => Dual::constant(value, inputs),
            Self::Dual(dual) => dual,
        }
    }

    fn of_one(self, plain: fn(f64) -> f64, dual: impl Fn(&Dual) -> Dual) -> Self {
        match self {
            Self::Plain(value) => Self::Plain(plain(value)),
            Self::Dual(one) => Self::Dual(dual(&one)),
        }
    }

    fn add(self, other: &Self) -> Self {
        match (self, other) {
            (Self::Plain(a), Self::Plain(b)) => Self::Plain(a + b),
            (Self::Dual(a), Self::Plain(b)) => Self::Dual(a.shifted(*b)),
            (Self::Plain(a), Self::Dual(b)) => Self::Dual(b.clone().shifted(a)),
            (Self::Dual(a), Self::Dual(b)) => Self::Dual(a + b),
        }
    }

    fn less(self, other: &Self) -> Self {
        match (self, other) {
            (Self::Plain(a), Self::Plain(b)) => Self::Plain(a - b),
            (Self::Dual(a), Self::Plain(b)) => Self::Dual(a.shifted(-*b)),
            (Self::Plain(a), Self::Dual(b)) => Self::Dual((-b.clone()).shifted(a)),
            (Self::Dual(a), Self::Dual(b)) => Self::Dual(a - b),
        }
    }

    fn times(self, other: &Self) -> Self {
        match (self, other) {
            (Self::Plain(a), Self::Plain(b)) => Self::Plain(a * b),
            (Self::Dual(a), Self::Plain(b)) => Self::Dual(a.scaled(*b)),
            (Self::Plain(a), Self::Dual(b)) => Self::Dual(b.clone().scaled(a)),
            (Self::Dual(a), Self::Dual(b)) => Self::Dual(a * b),
        }
    }

    fn over(self, other: &Self) -> Self {
        match (self, other) {
            (Self::Plain(a), Self::Plain(b)) => Self::Plain(a / b),
            (Self::Dual(a), Self::Plain(b)) => Self::Dual(a.divided(*b)),
            (Self::Plain(a), Self::Dual(b)) => Self::Dual(a / b),
            (Self::Dual(a), Self::Dual(b)) => Self::Dual(a / b),
        }
    }

    fn raised(self, power: &Self) -> Self {
        match (self, power) {
            (Self::Plain(a), Self::Plain(b)) => Self::Plain(libm::pow(a, *b)),
            (Self::Dual(a), Self::Plain(b)) => Self::Dual(a.powf(*b)),
            // The base is a literal, such as 10: its logarithm is one too.
            (Self::Plain(a), Self::Dual(b)) if a > 0.0 => Self::Dual(b.clone().scaled(libm::log(a)).exp()),
            (Self::Plain(a), Self::Dual(b)) => Self::Dual(Dual::constant(a, b.partials.len()).pow(b)),
            (Self::Dual(a), Self::Dual(b)) => Self::Dual(a.pow(b)),
        }
    }
}

/// What a formula is evaluated over.
pub(super) struct Over<'a> {
    /// The values of a name by its number: one, or several.
    pub values: &'a dyn Fn(u16) -> &'a [Number],
    /// The figure's own value, in what is said of it.
    pub result: f64,
}

impl Over<'_> {
    /// Evaluates a formula. What has no result comes out as no finite number.
    pub(super) fn term(&self, term: &Term) -> Number {
        match term {
            Term::Number(value) => Number::Plain(*value),
            Term::Result => Number::Plain(self.result),
            Term::Name(at) => (self.values)(*at).first().cloned().unwrap_or(Number::Plain(f64::NAN)),
            Term::Sum(list) => {
                let mut all: Option<Number> = None;
                for (takes, one) in list {
                    let one = self.term(one);
                    all = Some(match (all, takes) {
                        (None, false) => one,
                        (None, true) => Number::Plain(0.0).less(&one),
                        (Some(before), false) => before.add(&one),
                        (Some(before), true) => before.less(&one),
                    });
                }
                all.unwrap_or(Number::Plain(0.0))
            }
            Term::Product(list) => {
                let mut all: Option<Number> = None;
                for (divides, one) in list {
                    let one = self.term(one);
                    all = Some(match (all, divides) {
                        (None, false) => one,
                        (None, true) => Number::Plain(1.0).over(&one),
                        (Some(before), false) => before.times(&one),
                        (Some(before), true) => before.over(&one),
                    });
                }
                all.unwrap_or(Number::Plain(1.0))
            }
            Term::Power(base, exponent) => self.term(base).raised(&self.term(exponent)),
            Term::Call(function, list) => self.call(*function, list),
        }
    }

    fn call(&self, function: Function, list: &[Term]) -> Number {
        if function.takes_many() {
            return many(function, self.all(list));
        }
        let Some(one) = list.first().map(|one| self.term(one)) else { return Number::Plain(f64::NAN) };
        match function {
            Function::Sqrt => one.of_one(f64::sqrt, Dual::sqrt),
            Function::Abs => one.of_one(f64::abs, Dual::abs),
            Function::Exp => one.of_one(libm::exp, Dual::exp),
            Function::Ln => one.of_one(libm::log, Dual::ln),
            Function::Floor => one.of_one(f64::floor, |one| one.stepped(one.value.floor())),
            Function::Ceil => one.of_one(f64::ceil, |one| one.stepped(one.value.ceil())),
            Function::Sin => one.of_one(libm::sin, Dual::sin),
            Function::Cos => one.of_one(libm::cos, Dual::cos),
            Function::Tan => one.of_one(libm::tan, Dual::tan),
            Function::Asin => one.of_one(libm::asin, Dual::asin),
            Function::Acos => one.of_one(libm::acos, Dual::acos),
            Function::Atan => one.of_one(libm::atan, Dual::atan),
            _ => Number::Plain(f64::NAN),
        }
    }

    /// The values of a list; a name of several places stands for all of them.
    fn all(&self, list: &[Term]) -> Vec<Number> {
        let mut all = Vec::new();
        for one in list {
            match one {
                Term::Name(at) => all.extend((self.values)(*at).iter().cloned()),
                other => all.push(self.term(other)),
            }
        }
        all
    }

    /// Whether a condition holds; a comparison with no number never does.
    pub(super) fn holds(&self, test: &Test) -> bool {
        let mut before = self.term(&test.first).value();
        test.rest.iter().all(|(compare, term)| {
            let value = self.term(term).value();
            // Room for the last bit of a sum: a quarter of a thing is not beyond a quarter.
            let room = 1e-12 * before.abs().max(value.abs());
            let holds = match compare {
                Compare::Less => before < value - room,
                Compare::AtMost => before <= value + room,
                Compare::More => before > value + room,
                Compare::AtLeast => before >= value - room,
                Compare::Same => (before - value).abs() <= room,
            };
            before = value;
            holds
        })
    }
}

fn many(function: Function, all: Vec<Number>) -> Number {
    let count = all.len() as f64;
    if function == Function::Count {
        return Number::Plain(count);
    }
    let better = |a: f64, b: f64| if function == Function::Min { b < a } else { b > a };
    let mut list = all.into_iter();
    let Some(first) = list.next() else { return Number::Plain(f64::NAN) };
    let picks = matches!(function, Function::Min | Function::Max);
    let whole = list.fold(first, |so_far, one| {
        if !picks {
            so_far.add(&one)
        } else if better(so_far.value(), one.value()) {
            one
        } else {
            so_far
        }
    });
    if function == Function::Mean { whole.over(&Number::Plain(count)) } else { whole }
}
