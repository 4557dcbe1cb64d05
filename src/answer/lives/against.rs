//! One spec against another: the test, and a sentence a customer understands.

use super::fitted::{Fitted, name};
use super::value::{per, prices};
use crate::Compiled;
use crate::statistics::compare::{Approximate, How, Needed, NoTest, Short, Test, Verdict, verdict};
use crate::statistics::replacement::break_even_life;
use crate::statistics::weibull::Fit;
use crate::units::number;
use crate::words::scale::{Scale, how_often};
use serde::Serialize;

/// A difference is called one when it would be seen this rarely were there none.
pub const LEVEL: f64 = 0.10;

/// A pair of specs.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Against {
    /// One.
    pub first: String,
    /// The other.
    pub second: String,
    /// `second-longer`, `first-longer`, `no-difference-seen`, `cannot-tell-yet`.
    pub verdict: &'static str,
    /// The sentence.
    pub sentence: String,
    /// The level it is judged at.
    pub level: f64,
    /// Failures of the second seen and, were both alike, to be expected, with the variance of their difference; null where
    /// nothing failed.
    pub observed: Option<f64>,
    /// See `observed`.
    pub expected: Option<f64>,
    /// See `observed`.
    pub variance: Option<f64>,
    /// How often chance alone would do as much.
    pub p: Option<f64>,
    /// How that was found.
    pub how: String,
    /// From what life on the second pays, where prices are known; empty where they are not.
    pub pays: Vec<String>,
}

pub(super) fn pairs(compiled: &Compiled, all: &[Fitted], scale: Scale) -> Vec<Against> {
    let known: Vec<&Fitted> = all.iter().filter(|one| !one.study.observations.is_empty()).collect();
    let mut list = Vec::new();
    for (at, first) in known.iter().enumerate() {
        list.extend(known.iter().skip(at + 1).map(|second| pair(compiled, first, second, scale)));
    }
    list
}

fn spec(compiled: &Compiled, one: &Fitted) -> String {
    Some(name(compiled, &one.study)).filter(|name| !name.is_empty()).unwrap_or_else(|| "no spec".to_owned())
}

fn pair(compiled: &Compiled, first: &Fitted, second: &Fitted, scale: Scale) -> Against {
    let (a, b) = (spec(compiled, first), spec(compiled, second));
    let judged = verdict(&first.study.observations, &second.study.observations, LEVEL);
    let test = match judged {
        Verdict::FirstLonger(test) | Verdict::SecondLonger(test) | Verdict::NoDifferenceSeen(test) => {
            Ok(test)
        }
        Verdict::CannotTellYet(short) => short.test,
    };
    let chance = |test: &Test| format!("by chance alone {}", how_often(test.p));
    let (key, sentence) = match &judged {
        Verdict::SecondLonger(test) => {
            ("second-longer", format!("{b} lasts longer than {a}: as much would be seen {}.", chance(test)))
        }
        Verdict::FirstLonger(test) => {
            ("first-longer", format!("{a} lasts longer than {b}: as much would be seen {}.", chance(test)))
        }
        Verdict::NoDifferenceSeen(test) => (
            "no-difference-seen",
            format!("No difference seen between {a} and {b}: as much would be seen {}.", chance(test)),
        ),
        Verdict::CannotTellYet(short) => ("cannot-tell-yet", cannot_tell(short, &a, &b, scale)),
    };
    let numbers = test.as_ref().ok().map(|test| test.log_rank);
    Against {
        verdict: key,
        sentence,
        level: LEVEL,
        observed: numbers.map(|numbers| numbers.observed),
        expected: numbers.map(|numbers| numbers.expected),
        variance: numbers.map(|numbers| numbers.variance),
        p: test.as_ref().ok().map(|test| test.p),
        how: test.as_ref().map_or_else(|why| no_test(*why).to_owned(), how),
        pays: pays(compiled, (first, &a), (second, &b), scale),
        first: a,
        second: b,
    }
}

/// "Cannot tell yet": what the one that looks better needs.
fn cannot_tell(short: &Short, a: &str, b: &str, scale: Scale) -> String {
    // The one with fewer failures than expected looks better; where nothing failed, the second is asked about.
    let first_better = short.test.is_ok_and(|test| test.log_rank.observed > test.log_rank.expected);
    let (who, needs) = if first_better { (a, short.first) } else { (b, short.second) };
    match needs {
        Some(Needed::Amount(more)) => {
            format!("Cannot tell yet: each {who} needs {} more without failing.", more_words(scale, more))
        }
        Some(Needed::NotWithin(limit)) => format!(
            "Cannot tell yet: no amount of running within {} (three times the life seen) on those that run would show that {who} lasts \
             longer; it takes more of them.",
            scale.words(limit)
        ),
        Some(Needed::Already) | None => "Cannot tell yet: too few lives.".to_owned(),
    }
}

/// Rounded up, so that the amount said is enough: "132 min", "4.2 h".
fn more_words(scale: Scale, more: f64) -> String {
    let hours = scale.factor() > 60.0;
    let value = more / scale.factor();
    let (step, decimals) = if hours { (10.0, 1) } else { (1.0, 0) };
    let up = libm::ceil(value * step - 1e-9) / step;
    let digits = number::format(up, decimals);
    format!("{digits} {}", scale.unit(digits == "1"))
}

fn how(test: &Test) -> String {
    match test.how {
        How::Exact { uneven, splits } => format!(
            "log-rank, exact: {uneven} of the {splits} ways of dealing these lives to the two are as uneven"
        ),
        How::ByChiSquared(Approximate::ManySplits) => {
            "log-rank by chi-squared, for there are more than 100 000 ways of dealing these lives: good for many lives".to_owned()
        }
        How::ByChiSquared(Approximate::LateEntry) => {
            "log-rank by chi-squared, since some came used and cannot be dealt: rough for few lives".to_owned()
        }
    }
}

const fn no_test(why: NoTest) -> &'static str {
    match why {
        NoTest::First(_) | NoTest::Second(_) => "no test: a life cannot be counted",
        NoTest::NoFailures => "no test: nothing of either has failed",
        NoTest::NeverTogether => "no test: no two of them were under watch at the same age when one failed",
    }
}

/// From what life on the dearer one pays at what the other costs to run.
fn pays(
    compiled: &Compiled,
    (first, a): (&Fitted, &str),
    (second, b): (&Fitted, &str),
    scale: Scale,
) -> Vec<String> {
    let (Some(one), Some(other)) = (prices(compiled, first), prices(compiled, second)) else {
        return Vec::new();
    };
    if one.currency != other.currency {
        return Vec::new();
    }
    let ((cheap, low, name), (high, dear)) =
        if one.price <= other.price { ((first, one, a), (other, b)) } else { ((second, other, b), (one, a)) };
    let Ok(fit): &Result<Fit, _> = &cheap.fit else { return Vec::new() };
    let (unit, each) = per(scale);
    let mut words = Vec::new();
    for (extra, what) in
        [(0.0, "counting the price alone"), (low.extra, "counting what a failure costs beside it")]
    {
        let rate = (low.price + extra) / fit.life.mean();
        if (extra > 0.0 || what.ends_with("alone"))
            && let Some(life) = break_even_life(rate, high.price, 0.0)
        {
            words.push(format!(
                "At what {name} costs to run ({} {} {each}, {what}), {dear} pays from {} on if it is changed before it fails.",
                number::format(rate * unit, 2),
                low.currency,
                scale.words(life)
            ));
        }
    }
    words
}
