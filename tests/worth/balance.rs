//! The turns that bring the cross to what was asked.

use stringline::answer::worth::{WorthAnswer, build};
use stringline::book::place::Place;
use stringline::history::order::Rank;
use stringline::worth::solve::turns;
use stringline::worth::{Slope, Slopes};

fn slope(place: Place, value: f64) -> Slope {
    Slope {
        place,
        value,
        error: 0.1,
        low: 0.0,
        high: 0.0,
        freedom: 4,
        moves: 3,
        furthest: 1.0,
        lines: Vec::new(),
        steps: Vec::new(),
    }
}

fn slopes(values: [(Place, f64); 4]) -> Slopes {
    let mut covariance = vec![vec![0.0; 4]; 4];
    for (index, row) in covariance.iter_mut().enumerate() {
        row[index] = 0.01;
    }
    Slopes { slopes: values.map(|(place, value)| slope(place, value)).to_vec(), covariance, scatter: 0.02 }
}

/// Worth -2 +2 at the front and +1 -1 at the rear: the least turns for +1 with both axles' middles kept are along (4, 2) / 20 (closed form), so
/// 0.2 turn at the front and 0.1 at the rear; the variance is 0.01 (2 · 0.2² + 2 · 0.1²) = 0.001.
#[test]
fn the_least_turns_that_keep_both_middles() {
    let found =
        turns(&slopes([(Place::LF, -2.0), (Place::RF, 2.0), (Place::LR, 1.0), (Place::RR, -1.0)]), 1.0)
            .unwrap();
    let wanted = [(Place::LF, -0.2), (Place::RF, 0.2), (Place::LR, 0.1), (Place::RR, -0.1)];
    for ((place, turn), (at, by)) in found.turns.iter().zip(wanted) {
        assert_eq!(*place, at);
        assert!((turn - by).abs() < 1e-12, "{place:?} {turn} for {by}");
    }
    assert!((found.error - 0.001_f64.sqrt()).abs() < 1e-12);
    // Student's t at 4 degrees of freedom is 2.776445105 (Abramowitz & Stegun, table 26.10: 2.776).
    // Both weighings scatter by 0.02.
    assert!((found.half - 2.776_445_105 * (0.001_f64 + 2.0 * 0.02 * 0.02).sqrt()).abs() < 1e-8);
    assert!(found.beyond.is_empty());
}

#[test]
fn further_than_was_tried_is_named() {
    let found =
        turns(&slopes([(Place::LF, -2.0), (Place::RF, 2.0), (Place::LR, 1.0), (Place::RR, -1.0)]), 6.0)
            .unwrap();
    assert_eq!(found.beyond, [Place::LF, Place::RF]);
}

#[test]
fn one_end_of_an_axle_is_no_pair() {
    let mut all = slopes([(Place::LF, -2.0), (Place::RF, 2.0), (Place::LR, 1.0), (Place::RR, -1.0)]);
    all.slopes.truncate(1);
    all.covariance.truncate(1);
    assert_eq!(turns(&all, 1.0), None);
}

fn fixture(change: impl Fn(String) -> String) -> WorthAnswer {
    let text = change(std::fs::read_to_string("tests/fixtures/worth/heron.sline").unwrap());
    let compiled = crate::checks::compile_text(&text);
    build(&compiled, crate::history::car(&compiled, "heron"), Rank::END)
}

/// The fixture's pads, weighed as the car's `reference` says and not run between its two days, so that they are one chain, by the normal
/// equations in exact fractions (Python's `fractions`): a turn of LF is worth -2.0287976 % of cross, one of RF 2.0123866 %, with 5 degrees of
/// freedom; from 50.4242223 to 50 % takes 0.4242223 / 4.0411842 = 0.104975 turn of each.
#[test]
fn a_car_weighed_between_its_turns() {
    let all = fixture(|text| text);
    let cross: Vec<_> = all.turns.iter().filter(|one| one.moved == "cross-weight by the pads").collect();
    let [lf, rf] = cross.as_slice() else {
        panic!("{:?}", all.turns.iter().map(|one| &one.sentence).collect::<Vec<_>>())
    };
    for (turn, value) in [(lf, -2.028_797_6), (rf, 2.012_386_6)] {
        assert!((turn.value - value).abs() < 1e-6, "{} {}", turn.value, turn.sentence);
        assert_eq!(turn.freedom, 5);
        assert!(turn.statics.as_ref().is_some_and(|statics| statics.differs));
    }
    assert!(all.look_for.contains("look for bind"));
    let balance = all.balance.unwrap();
    assert!((balance.now - 50.424_222_3).abs() < 1e-6);
    let own = balance.own.unwrap();
    for ((place, turn), (at, by)) in own.turns.iter().zip([("LF", 0.104_975), ("RF", -0.104_975)]) {
        assert_eq!(place, at);
        assert!((turn - by).abs() < 1e-5, "{own:?}");
    }
    assert!(
        balance.sentences.iter().any(|one| one.ends_with("which is not what this car's own moves bear out"))
    );
}

/// On other springs those moves say nothing of a turn; so too with the bars otherwise.
#[test]
fn moves_on_other_springs_say_nothing() {
    let later = "\n2025-06-01 heron\n  set spring-rate front 60 -> 240 N/mm\n  found weight LF 148.4 RF 153.5 LR 149.6 RR 149.6 kg\n";
    let all = fixture(|text| text + later);
    assert!(
        all.turns.iter().all(|one| !one.turned.starts_with("perch")),
        "{:?}",
        all.turns.iter().map(|one| &one.sentence).collect::<Vec<_>>()
    );
    assert!(
        all.few.iter().any(|one| one.sentence
            == "cross-weight by the pads by perch: often enough, but with another spring-rate than now"),
        "{:?}",
        all.few
    );
    assert!(all.balance.unwrap().own.is_none());
    let bars = "\n2025-06-01 heron\n  found weight LF 148.4 RF 153.5 LR 149.6 RR 149.6 kg  with bars on\n";
    let all = fixture(|text| text + bars);
    assert!(all.few.iter().any(|one| one.sentence.contains("with the bars otherwise")), "{:?}", all.few);
}

/// What lies beyond the furthest that was tried is not turned; that is said, whether or not springs and tracks say more.
#[test]
fn far_off_it_says_go_part_of_the_way() {
    let all = fixture(|text| {
        text.replace("set cross-weight 50.0 %", "set cross-weight 56.0 %")
            .replace("  perch-pitch 1.5 1.5 mm/turn\n", "")
    });
    let balance = all.balance.unwrap();
    assert!(balance.own.is_none() && balance.statics.is_none());
    assert!(
        balance.sentences.iter().any(|one| one.ends_with("go part of the way and weigh again")),
        "{:?}",
        balance.sentences
    );
}
