//! One kind against another, in one of four answers.

use super::NoTest;
use super::log_rank::pair;
use super::needed::{Needed, needed};
use super::permutation::{How, Scores, Test, test};
use crate::statistics::observation::Observation;

/// What can be said of two kinds at a significance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// The first kind lasts longer: fewer of it failed than were to be expected, and p is at most the significance.
    FirstLonger(Test),
    /// The second kind lasts longer.
    SecondLonger(Test),
    /// p is above the significance though some split of these very lives would have had it at most that, and no amount of
    /// failure-free running of either kind's running lives would bring it there: the lives had their say.
    NoDifferenceSeen(Test),
    /// p is above the significance, or there is none, and either the lives are too few to show any difference or more running
    /// without a failure could yet show one.
    CannotTellYet(Short),
}

/// What is short.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Short {
    /// The test as it stands, or why there is none.
    pub test: Result<Test, NoTest>,
    /// The smallest p that any split of these lives has, where it is above the significance: whatever the parts had done, so few
    /// lives could not have shown a difference. `None`: they could have.
    pub smallest: Option<f64>,
    /// What the first kind's running lives need for it to be called the better; `None` where a list is unusable.
    pub first: Option<Needed>,
    /// What the second kind's need.
    pub second: Option<Needed>,
}

/// Judges two kinds at that significance (0.05 for one chance in twenty). Where the p is by chi-squared, a difference is
/// only called where the lives are not too few to show one by any split.
#[must_use]
pub fn verdict(first: &[Observation], second: &[Observation], significance: f64) -> Verdict {
    let tested = test(first, second);
    let smallest =
        pair(first, second).ok().and_then(|(first, second)| Scores::of(&first, &second).smallest());
    let smallest = smallest.filter(|least| tested.is_err() || *least > significance);
    if let Ok(tested) = tested
        && tested.p <= significance
        && (smallest.is_none() || matches!(tested.how, How::Exact { .. }))
    {
        let fewer = tested.log_rank.observed < tested.log_rank.expected;
        return if fewer { Verdict::SecondLonger(tested) } else { Verdict::FirstLonger(tested) };
    }
    let first_needs = needed(second, first, significance).ok();
    let second_needs = needed(first, second, significance).ok();
    let more = |needs: &Option<Needed>| matches!(needs, Some(Needed::Amount(_)));
    match tested {
        Ok(tested) if smallest.is_none() && !more(&first_needs) && !more(&second_needs) => {
            Verdict::NoDifferenceSeen(tested)
        }
        _ => {
            Verdict::CannotTellYet(Short { test: tested, smallest, first: first_needs, second: second_needs })
        }
    }
}
