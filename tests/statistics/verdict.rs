//! The four answers, and that one life moved is enough to pass from one to the next.

use super::couplings::{aramid_couplings, std_couplings};
use super::{lives, near};
use stringline::statistics::compare::{Needed, NoTest, Short, Verdict, test, verdict};
use stringline::statistics::{End, Observation};

fn running(ages: &[f64]) -> Vec<Observation> {
    ages.iter().map(|exit| Observation::new(0.0, *exit, End::Running)).collect()
}

fn short(answer: Verdict) -> Short {
    match answer {
        Verdict::CannotTellYet(short) => short,
        other => panic!("{other:?}"),
    }
}

fn word(answer: &Verdict) -> &'static str {
    match answer {
        Verdict::FirstLonger(_) => "first",
        Verdict::SecondLonger(_) => "second",
        Verdict::NoDifferenceSeen(_) => "none",
        Verdict::CannotTellYet(_) => "yet",
    }
}

/// The demo season's couplings: aramid has not failed, and that shows nothing yet. Each of the two that run needs 154 more minutes
/// (found by counting deals minute by minute, `tests/oracles/lifelines_scipy.py`).
#[test]
fn aramid_cannot_be_told_from_std_yet() {
    let answer = short(verdict(&std_couplings(), &aramid_couplings(), 0.05));
    near(answer.test.unwrap().p, 149.0 / 220.0, 1e-15);
    assert_eq!(answer.smallest, None, "nine and three could have shown it");
    assert_eq!(answer.second, Some(Needed::Amount(154.0)));
    assert_eq!(answer.first, Some(Needed::NotWithin(876.0)));
    // With that much more, it is the better; with a minute less, not yet.
    let further = |more: f64| -> Vec<Observation> {
        let mut lives = aramid_couplings();
        lives.iter_mut().filter(|life| life.end == End::Running).for_each(|life| life.exit += more);
        lives
    };
    assert_eq!(word(&verdict(&std_couplings(), &further(154.0), 0.05)), "second");
    assert_eq!(word(&verdict(&std_couplings(), &further(153.0), 0.05)), "yet");
}

/// Four against four, at a quarter. One life moves, and every answer appears.
#[test]
fn one_life_moves_through_the_answers() {
    let first = lives(&[10.0, 11.0, 12.0, 13.0], &[]);
    let with =
        |age: f64, end| [lives(&[5.0, 14.0, 15.0], &[]), vec![Observation::new(0.0, age, end)]].concat();
    // Against a second kind with one early failure: where the fourth fails decides.
    let answers: Vec<_> =
        [6.0, 16.0].iter().map(|age| word(&verdict(&first, &with(*age, End::Failed), 0.25))).collect();
    assert_eq!(answers, ["none", "second"]);
    // The fourth runs: as far as it has come it shows nothing, further on it would.
    assert_eq!(word(&verdict(&first, &with(9.0, End::Running), 0.25)), "yet");
    // And the other way about.
    assert_eq!(word(&verdict(&with(16.0, End::Failed), &first, 0.25)), "first");
    assert_eq!(word(&verdict(&with(9.0, End::Running), &first, 0.25)), "yet");
}

/// Two against two: the most uneven deal is one of six, its mirror another, so nothing could have shown a difference at a tenth.
#[test]
fn too_few_to_show_anything() {
    let (early, late) = (lives(&[1.0, 2.0], &[]), lives(&[8.0, 9.0], &[]));
    let answer = short(verdict(&early, &late, 0.1));
    near(answer.smallest.unwrap(), 2.0 / 6.0, 1e-15);
    assert_eq!((answer.first, answer.second), (Some(Needed::NotWithin(27.0)), Some(Needed::NotWithin(27.0))));
    assert_eq!(word(&verdict(&early, &late, 0.34)), "second");
}

/// Late entry goes by chi-squared, which is too bold with three a side: below .05 where no deal of three and three has less than 2 in 20.
#[test]
fn late_entry_does_not_make_few_lives_many() {
    let early = lives(&[1.0, 2.0, 3.0], &[]);
    let late: Vec<_> = [8.0, 9.0, 10.0].map(|exit| Observation::new(0.5, exit, End::Failed)).to_vec();
    let tested = test(&early, &late).unwrap();
    assert!(tested.p < 0.05, "{}", tested.p);
    let answer = short(verdict(&early, &late, 0.05));
    near(answer.smallest.unwrap(), 0.1, 1e-15);
}

/// Many lives that end alike, none running: they have had their say.
#[test]
fn no_difference_where_the_lives_have_had_their_say() {
    let first = lives(&[10.0, 20.0, 30.0, 40.0, 50.0], &[]);
    let second = lives(&[11.0, 19.0, 31.0, 39.0, 51.0], &[]);
    assert_eq!(word(&verdict(&first, &second, 0.05)), "none");
    // Four more of the second kind that run on might yet show it.
    let more = [second.clone(), running(&[1.0, 1.0, 1.0, 1.0])].concat();
    assert_eq!(word(&verdict(&first, &more, 0.2)), "yet");
}

#[test]
fn without_a_test_nothing_can_be_told() {
    let answer = short(verdict(&lives(&[], &[5.0]), &running(&[5.0]), 0.05));
    assert_eq!(answer.test, Err(NoTest::NoFailures));
    assert_eq!(answer.second, Some(Needed::NotWithin(15.0)));
    let answer = short(verdict(&lives(&[5.0, 6.0, 7.0, 8.0], &[]), &running(&[1.0, 1.0, 1.0, 1.0]), 0.05));
    assert_eq!(answer.test, Err(NoTest::NeverTogether));
    // As far as the last failure (counted by `tests/oracles/lifelines_scipy.py`, unit by unit).
    assert_eq!(answer.second, Some(Needed::Amount(7.0)));
    let answer = short(verdict(&[], &running(&[1.0]), 0.05));
    assert!(answer.test.is_err() && answer.first.is_none() && answer.second.is_none());
}

/// Both running: the first may be the one to come out ahead.
#[test]
fn either_kind_may_need_the_running() {
    let failed = lives(&[10.0, 11.0, 12.0, 13.0, 14.0], &[]);
    let answer = short(verdict(&running(&[2.0, 3.0, 4.0, 5.0]), &failed, 0.05));
    assert_eq!(answer.first, Some(Needed::Amount(9.0)), "counted by the same script");
    assert_eq!(answer.second, Some(Needed::NotWithin(42.0)), "none of it runs");
}
