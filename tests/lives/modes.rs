//! Modes of failure: kept as typed, and each looked at with the others out of the way.

use super::{near, view_of};
use crate::checks::compile_text;
use crate::demo::DEMO;
use stringline::answer::lives::{CountedFailures, Field, KindLives, StepView};

fn only(field: Field, word: &str) -> CountedFailures {
    CountedFailures { only: Some((field, word.to_owned())), without: None }
}

fn without(field: Field, word: &str) -> CountedFailures {
    CountedFailures { only: None, without: Some((field, word.to_owned())) }
}

fn std(counting: &CountedFailures) -> Vec<StepView> {
    let view = view_of(&DEMO, "coupling", None, counting);
    view.specs[0].curve.as_ref().unwrap().steps.clone()
}

fn share(steps: &[StepView], at: f64) -> f64 {
    steps.iter().filter(|step| step.at <= at).fold(1.0, |_, step| step.share)
}

#[test]
fn mode_mechanism_and_cause_are_kept() {
    let view = view_of(&DEMO, "coupling", None, &CountedFailures::default());
    let of = |name: &str| {
        let life = view.lives.iter().find(|life| life.part == name).unwrap();
        [&life.end_words, &life.mode, &life.mechanism, &life.cause, &life.found_by].map(String::clone)
    };
    assert_eq!(of("cp-04"), ["failed", "split", "tear", "misaligned", "inspection"]);
    assert_eq!(of("cp-06")[..4], ["failed", "sleeve-loose", "bond-peeled", "oil"]);
    assert_eq!(of("cp-02"), ["pulled good, on the shelf", "", "", "", ""]);
    assert_eq!(of("cp-08")[0], "sold while running");
    assert_eq!(of("ar-01")[0], "running");
}

/// By hand, from the demo's nine lives: cp-06 (91 min, its sleeve) counts as pulled for the splits, and the splits as pulled for it.
#[test]
fn one_modes_analysis_censors_the_others() {
    let split = std(&only(Field::Mode, "split"));
    let told: Vec<(f64, usize)> = split.iter().map(|step| (step.at, step.at_risk)).collect();
    assert_eq!(told, [(75.0, 9), (208.0, 5), (249.0, 2), (292.0, 1)]);
    near(split[1].share, 8.0 / 9.0 * 4.0 / 5.0, 1e-12);
    near(split[2].share, 8.0 / 9.0 * 4.0 / 5.0 / 2.0, 1e-12);
    let sleeve = std(&only(Field::Mode, "sleeve-loose"));
    assert_eq!(sleeve.iter().map(|step| (step.at, step.at_risk)).collect::<Vec<_>>(), [(91.0, 8)]);
    near(sleeve[0].share, 7.0 / 8.0, 1e-12);
}

/// Where no two fail at one age, the share that survives all modes is the product of those that survive each (Kaplan & Meier 1958).
#[test]
fn the_modes_multiply_to_the_whole() {
    let (all, split) = (std(&CountedFailures::default()), std(&only(Field::Mode, "split")));
    let rest = std(&without(Field::Mode, "split"));
    for step in &all {
        near(step.share, share(&split, step.at) * share(&rest, step.at), 1e-12);
    }
}

#[test]
fn by_mechanism_and_by_cause_too() {
    let failed = |counting: &CountedFailures| view_of(&DEMO, "coupling", None, counting).specs[0].failed;
    assert_eq!(failed(&only(Field::Mechanism, "tear")), 4);
    assert_eq!(failed(&without(Field::Mechanism, "tear")), 1);
    assert_eq!(failed(&only(Field::Cause, "wear")), 3);
    assert_eq!(failed(&only(Field::Cause, "WEAR")), 3, "in whatever case");
    assert_eq!(failed(&only(Field::Cause, "moonlight")), 0);
    let both = CountedFailures {
        only: Some((Field::Mode, "split".to_owned())),
        without: Some((Field::Cause, "misaligned".to_owned())),
    };
    assert_eq!(failed(&both), 3);
    let words = view_of(&DEMO, "coupling", None, &both).counting;
    assert!(words.contains("mode split") && words.contains("cause misaligned"), "{words}");
}

/// A failure that does not say its mode is one all the same, and is listed as that.
#[test]
fn a_failure_without_a_mode_is_counted() {
    let view: KindLives = view_of(
        &compile_text(
            "kind belt \"belt\"  fits nose\ncar heron \"H\"\ncar plover \"P\"\npart b-1 belt  opening new\npart b-2 belt  opening new\n\n\
             2025-05-10 heron\n  fit b-1 nose\n  09:00 run s1  40 min\n    failed b-1\n    remove b-1\n\n\
             2025-05-10 plover\n  fit b-2 nose\n  09:00 run s1  60 min\n    failed b-2 mode \"frayed edge\" cause heat\n    remove b-2\n",
        ),
        "belt",
        None,
        &CountedFailures::default(),
    );
    let modes: Vec<(&str, usize, &str)> =
        view.modes.iter().map(|mode| (mode.mode.as_str(), mode.failed, mode.median_text.as_str())).collect();
    assert_eq!(modes, [("", 1, "cannot tell: 1 failed"), ("frayed edge", 1, "cannot tell: 1 failed")]);
}
