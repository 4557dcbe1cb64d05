//! Log-rank and its exact form.

use super::data::{placebo, six_mp};
use super::{lives, near};
use stringline::statistics::compare::{Approximate, How, NoTest, log_rank, test};
use stringline::statistics::observation::{Reason, Why};
use stringline::statistics::{End, Observation};

/// Freireich's trial: 16.79 in every textbook; more digits by `scipy.stats.logrank`, scipy 1.17.1.
#[test]
fn freireich() {
    let numbers = log_rank(&placebo(), &six_mp()).unwrap();
    near(numbers.chi_squared, 16.7929, 0.00005);
    near(numbers.p, 4.1688e-5, 0.5e-9);
    near(numbers.observed, 9.0, 0.0);
    let back = log_rank(&six_mp(), &placebo()).unwrap();
    near(back.chi_squared, numbers.chi_squared, 1e-12);
    near(back.observed - back.expected, numbers.expected - numbers.observed, 1e-12);
    let tested = test(&placebo(), &six_mp()).unwrap();
    assert_eq!(tested.how, How::ByChiSquared(Approximate::ManySplits), "21 of 42 is 5.4e11 splits");
    near(tested.p, numbers.p, 0.0);
}

/// Three that fail before any of three others, none cut short: only that deal and its mirror, of 20, are as uneven.
#[test]
fn three_before_three() {
    let exact = test(&lives(&[1.0, 2.0, 3.0], &[]), &lives(&[4.0, 5.0, 6.0], &[])).unwrap();
    assert_eq!(exact.how, How::Exact { uneven: 2, splits: 20 });
    near(exact.p, 0.1, 1e-15);
    // The same sets in each other's place.
    let back = test(&lives(&[4.0, 5.0, 6.0], &[]), &lives(&[1.0, 2.0, 3.0], &[])).unwrap();
    assert_eq!(back.how, exact.how);
}

/// Two alike: every deal is at least as uneven.
#[test]
fn alike() {
    let same = lives(&[5.0, 7.0], &[6.0]);
    let exact = test(&same, &same).unwrap();
    near(exact.p, 1.0, 0.0);
    near(exact.log_rank.chi_squared, 0.0, 1e-20);
}

/// A life entered late cannot change places with one from new: the p is by chi-squared and says why.
#[test]
fn late_entry_is_not_dealt() {
    let late = [Observation::new(2.0, 8.0, End::Failed), Observation::new(0.0, 9.0, End::Running)];
    let tested = test(&lives(&[3.0, 5.0], &[]), &late).unwrap();
    assert_eq!(tested.how, How::ByChiSquared(Approximate::LateEntry));
    near(tested.p, tested.log_rank.p, 0.0);
    // By hand: at 3 two of four at risk are of the second kind, at 5 two of three, at 8 all that are left.
    near(tested.log_rank.expected, 0.5 + 2.0 / 3.0 + 1.0, 1e-12);
    near(tested.log_rank.variance, 0.25 + 2.0 / 9.0, 1e-12);
}

#[test]
fn no_test() {
    let some = lives(&[5.0], &[6.0]);
    let no_lives = Why { index: 0, reason: Reason::NoLives };
    assert_eq!(test(&[], &some), Err(NoTest::First(no_lives)));
    assert_eq!(test(&some, &[]), Err(NoTest::Second(no_lives)));
    let zero = Why { index: 1, reason: Reason::ZeroLife };
    assert_eq!(test(&some, &lives(&[5.0, 0.0], &[])), Err(NoTest::Second(zero)));
    assert_eq!(test(&lives(&[], &[5.0]), &lives(&[], &[6.0])), Err(NoTest::NoFailures));
    // The second kind has not run as far as the first failure of the other.
    assert_eq!(test(&lives(&[5.0, 8.0], &[]), &lives(&[], &[3.0])), Err(NoTest::NeverTogether));
}
