//! The survival curve: Kaplan-Meier with Greenwood's error, its bands, its median, and late entry's traps.

use super::data::{fan_belts, nist_8413, shock_absorbers, six_mp};
use super::{lives, near};
use stringline::statistics::survival::{Curve, Trap, curve, curve as curve_of};
use stringline::statistics::{End, Interval, Observation};

/// Each step's age and survival, to the digits published.
fn steps(curve: &Curve, wanted: &[(f64, f64)], tolerance: f64) {
    assert_eq!(curve.steps.len(), wanted.len());
    for (step, (time, survival)) in curve.steps.iter().zip(wanted) {
        near(step.time, *time, 0.0);
        near(step.survival, *survival, tolerance);
    }
}

fn errors(curve: &Curve, wanted: &[f64]) {
    for (step, wanted) in curve.steps.iter().zip(wanted) {
        near(step.error().unwrap(), *wanted, 0.00005);
    }
}

/// The documentation of `scipy.stats.ecdf` (Conover's fan belts).
#[test]
fn fan_belts_of_conover() {
    let curve = curve(&fan_belts()).unwrap();
    steps(&curve, &[(47.0, 0.875), (56.0, 0.75), (77.0, 0.5), (80.0, 0.25), (81.0, 0.0)], 1e-12);
    errors(&curve, &[0.1169, 0.1531, 0.2282, 0.2104]);
    assert_eq!(curve.steps[4].error(), None, "at 0 Greenwood has nothing to say");
    assert_eq!(curve.steps.iter().map(|step| step.at_risk).collect::<Vec<_>>(), [8, 7, 3, 2, 1]);
    assert_eq!(curve.unfailed, [37.0, 43.0, 60.0, 62.0, 71.0]);
    assert_eq!((curve.lives, curve.failures, curve.last, curve.watched), (10, 5, 81.0, 614.0));
}

/// Freireich's 6-MP arm; errors as in Kleinbaum & Klein, *Survival Analysis* (from memory), median 23 weeks.
#[test]
fn six_mp_of_freireich() {
    let curve = curve(&six_mp()).unwrap();
    let wanted = [
        (6.0, 0.8571),
        (7.0, 0.8067),
        (10.0, 0.7529),
        (13.0, 0.6902),
        (16.0, 0.6275),
        (22.0, 0.5378),
        (23.0, 0.4482),
    ];
    steps(&curve, &wanted, 0.00005);
    errors(&curve, &[0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346]);
    assert_eq!(curve.median(), Some(23.0));
}

/// `scipy.stats.ecdf(...).sf.confidence_interval(method="log-log")`, scipy 1.17.1, and the same from lifelines 0.30.3.
#[test]
fn six_mp_band_through_log_log() {
    let curve = curve(&six_mp()).unwrap();
    let bands = curve.bands(0.95).unwrap();
    for (place, low, high) in [(0, 0.6197, 0.9516), (2, 0.5032, 0.8894), (6, 0.1881, 0.6801)] {
        near(bands[place].low.unwrap(), low, 0.00005);
        near(bands[place].high.unwrap(), high, 0.00005);
    }
    // The lower edge comes below a half at 13 weeks; the upper edge never does.
    assert_eq!(curve.median_band(0.95), Some(Interval { low: Some(13.0), high: None }));
    assert_eq!((curve.bands(0.0), curve.bands(1.0), curve.median_band(f64::NAN)), (None, None, None));
}

/// NIST 8.4.1.3: nothing was removed before the last failure, so each step is a twentieth.
#[test]
fn nist_steps_of_a_twentieth() {
    let curve = curve(&nist_8413()).unwrap();
    let ages = [54.0, 187.0, 216.0, 240.0, 244.0, 335.0, 361.0, 373.0, 375.0, 386.0];
    let wanted: Vec<_> = ages.iter().zip(1..).map(|(age, n)| (*age, 1.0 - f64::from(n) / 20.0)).collect();
    steps(&curve, &wanted, 1e-12);
    assert_eq!(curve.median(), Some(386.0), "exactly a half is reached");
}

/// Meeker & Escobar's shock absorbers: at 20 100 km a failure and a removal, and the failure counts first (Kaplan & Meier 1958,
/// p. 461): 12 at risk, .7184; the other way round it would be .7125.
#[test]
fn shock_absorbers_with_a_tie() {
    let curve = curve(&shock_absorbers()).unwrap();
    let wanted = [
        (6700.0, 0.9737),
        (9120.0, 0.9450),
        (12200.0, 0.9087),
        (13150.0, 0.8708),
        (14300.0, 0.8273),
        (17520.0, 0.7838),
        (20100.0, 0.7184),
        (20900.0, 0.6286),
        (22700.0, 0.5388),
        (26510.0, 0.4311),
        (27490.0, 0.2874),
    ];
    steps(&curve, &wanted, 0.00005);
    assert_eq!(curve.steps[6].at_risk, 12);
    near(curve.last, 28100.0, 0.0);
}

/// Common practice: a wear part that lasts five or six track days on record.
#[test]
fn five_or_six_track_days() {
    let curve = curve(&lives(&[5.0, 6.0, 5.0, 6.0, 5.0, 6.0], &[])).unwrap();
    let median = curve.median().unwrap();
    assert!((5.0..=6.0).contains(&median), "{median}");
    let curve = curve_of(&lives(&[5.0, 6.0, 5.0, 6.0, 6.0], &[5.0, 5.0])).unwrap();
    assert_eq!(curve.median(), Some(6.0), "those pulled good at five days count for what they ran");
}

#[test]
fn nothing_failed_nothing_falls() {
    let curve = curve(&lives(&[], &[10.0, 20.0])).unwrap();
    assert!(curve.steps.is_empty() && curve.trap.is_none());
    assert_eq!((curve.survival(20.0), curve.survival(20.5), curve.median()), (Some(1.0), None, None));
    assert_eq!(curve.median_band(0.9), Some(Interval { low: None, high: None }));
}

#[test]
fn the_curve_is_read_between_its_steps() {
    let curve = curve(&fan_belts()).unwrap();
    for (age, survival) in [(0.0, 1.0), (46.9, 1.0), (47.0, 0.875), (79.0, 0.5), (81.0, 0.0)] {
        near(curve.survival(age).unwrap(), survival, 1e-12);
    }
    assert_eq!(curve.survival(81.1), None, "nobody was watched past the last");
}

fn late(entry: f64, exit: f64, end: End) -> Observation {
    Observation::new(entry, exit, end)
}

/// One life from new fails at 5 while all others are only watched from 10 on: the product would say that nothing reaches 6.
#[test]
fn one_early_failure_does_not_speak_for_late_entries() {
    let watched =
        [late(0.0, 5.0, End::Failed), late(10.0, 30.0, End::Failed), late(12.0, 40.0, End::Running)];
    let curve = curve(&watched).unwrap();
    near(curve.steps[0].survival, 0.0, 0.0);
    assert_eq!(curve.trap, Some(Trap::Emptied { at: 5.0 }));
    assert_eq!((curve.median(), curve.survival(4.0), curve.survival(5.0)), (None, Some(1.0), None));
    assert_eq!(curve.median_band(0.9), Some(Interval { low: None, high: None }));
}

/// The trap lies past the median: the median stands.
#[test]
fn what_comes_before_a_trap_stands() {
    let mut watched = lives(&[4.0, 5.0, 6.0, 7.0], &[]);
    watched.push(late(50.0, 60.0, End::Failed));
    let curve = curve(&watched).unwrap();
    assert_eq!(curve.trap, Some(Trap::Emptied { at: 7.0 }));
    assert_eq!(curve.median(), Some(5.0));
}

#[test]
fn a_stretch_that_nobody_watched_is_named() {
    let gap = [late(0.0, 10.0, End::Pulled), late(20.0, 30.0, End::Failed), late(20.0, 35.0, End::Failed)];
    let found = curve(&gap).unwrap();
    assert_eq!(found.trap, Some(Trap::Unwatched { from: 10.0, to: 20.0 }));
    assert_eq!((found.survival(9.0), found.survival(30.0), found.median()), (Some(1.0), None, None));
    // All enter late: what failed before the first entry is unknown.
    let found = curve(&gap[1..]).unwrap();
    assert_eq!(found.trap, Some(Trap::Unwatched { from: 0.0, to: 20.0 }));
    // One leaves as the next comes in, and another is there throughout: no hole.
    let touching =
        [late(0.0, 20.0, End::Pulled), late(20.0, 30.0, End::Failed), late(20.0, 35.0, End::Failed)];
    assert_eq!(curve(&touching).unwrap().trap, None);
}
