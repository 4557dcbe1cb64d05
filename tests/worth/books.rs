//! The demo season: one perch turned there and back on the scales.

use crate::demo::DEMO;
use stringline::answer::worth::{TurnWorth, build};
use stringline::history::order::Rank;

#[track_caller]
fn near(got: f64, wanted: f64) {
    assert!((got - wanted).abs() < 1e-8, "{got} for {wanted}");
}

fn turn(moved: &str) -> TurnWorth {
    let mut all = build(&DEMO, crate::history::car(&DEMO, "bittern"), Rank::END).turns;
    all.retain(|one| one.moved == moved);
    assert_eq!(all.len(), 1, "{moved}");
    all.remove(0)
}

/// Perch LF at 0 0 +1 -1 0 turns, what it was left at in August first; RF and LR together 321.5 320.5 317.5 325.5 321.5 of 642 kg each time. The
/// turns are even about nought, their squares sum to 2: the slope is (317.5 - 325.5) / 2 = -4 kg, of 642 -0.62305 %. About it 0.2 -0.8 0.2 0.2 0.2 kg
/// are left over, 0.8 kg² on 5 - 1 - 1 = 3 degrees of freedom; its error is the root of 0.8 / 3 / 2. The same from statsmodels 0.15.0's OLS
/// (-0.6230529595, 0.0568766934, -0.80405998 to -0.44204594); Student's t at 3 degrees of freedom is 3.182 (Abramowitz & Stegun, table 26.10).
#[test]
fn cross_weight_by_a_perch_of_the_demo() {
    let one = turn("cross-weight by the pads");
    assert_eq!((one.turned.as_str(), one.moves, one.freedom), ("perch LF", 3, 3));
    near(one.value, -4.0 / 642.0 * 100.0);
    near(one.error, libm::sqrt(0.8 / 3.0 / 2.0) / 642.0 * 100.0);
    near(one.low, -0.804_059_98);
    near(one.high, -0.442_045_94);
    near(one.furthest, 2.0);
    assert_eq!(
        one.sentence,
        "Perch LF: 1 turn more moves cross-weight by the pads by -0.62 % (-0.80 to -0.44), by 3 moves over 2 turn"
    );
    // The springs say as much.
    assert!(!one.statics.unwrap().differs);
}

/// The pad itself read 149.5 150.0 151.5 147.5 149.5 kg: (151.5 - 147.5) / 2 = 2 kg for a turn. Least squares leave 0.2 kg² on 3 degrees of freedom, less
/// than pads allow that repeat within 0.5 kg: 0.5² / 3, rectangular. So the error is the root of 0.25 / 3 / 2, and not of 0.2 / 3 / 2.
#[test]
fn the_pad_is_no_surer_than_it_repeats() {
    let one = turn("weight LF");
    near(one.value, 2.0);
    near(one.error, libm::sqrt(0.25 / 3.0 / 2.0));
    near(one.high - one.low, 2.0 * 3.182_446_305_3 * one.error);
}
