//! The crash sheet. The demo's plan: RF camber 13 gauge widths, toe 7, caster 5.5, ride height 3; RR camber one, the same.

use super::{in_order, of_book, of_demo};

#[test]
fn what_moved_most_stands_first_in_gauge_widths() {
    let said = of_demo("bittern-barrows-1-crash.html");
    in_order(
        &said,
        &[
            "RF hit at barrows-1",
            "RF, tyre wall 28 June 2026, barrows-1 s6",
            "somebody's oil, then somebody's wall",
            "As found against as left: 4 moved",
            "what as left as found moved times",
            "camber RF deg -3.2 -1.9 +1.3 13",
            "toe RF mm out 1.0 4.5 3.5 out 7",
            "caster RF deg 6.2 5.1 -1.1 5.5",
            "ride height RF mm 44 47 +3 3",
            "The same, within what both gauges leave open",
            "camber RR deg -2.1 -2.0",
        ],
    );
    // August's weights are of another car: everything at that corner is new.
    assert!(!said.contains("weight RF kg 151.0 144.5"), "{said}");
    assert!(said.contains("Not measured before it was put together again"), "{said}");
}

#[test]
fn every_part_at_that_corner_is_told_with_who_looked_at_it() {
    let said = of_demo("bittern-barrows-1-crash.html");
    in_order(
        &said,
        &[
            "At that corner (6)",
            "spring RF sp-02",
            "☐ not looked at",
            "bearing RF wb-02",
            "failed, scrapped",
            "11 Jul: inspect failed, notchy once a turn",
            "damper seals RF ds-02",
            "looked at, good",
            "11 Jul: inspect good, rod true on the blocks",
            "Safety parts elsewhere on the car",
            "coupling RR cp-08",
            "ran before it was looked at; good since",
            "How it was before the impact: the target",
            "-3.2",
        ],
    );
    assert!(said.contains("☐ spring RF sp-02, not looked at, off the car since 22 Aug: do not refit it before it is looked at"), "{said}");
}

const HIT: &str = "kind hub \"hub\" fits LF RF\nkind bearing \"bearing\" inside hub\nkind coupling \"c\" fits LR RR safety\npart h hub\npart w bearing\n\
    part k coupling\ngauge g \"G\" reads camber resolution 0.1 deg\ncar a \"A\"\n2026-05-01 a\n  fit h RF\n  fit k LR\n  left camber LF -3.0 RF -3.0 deg by g\n\
    2026-05-01\n  build w into h\n2026-05-02 a\n  10:00..10:30 run s1 4 laps\n  hit RF \"a post\" during s1\n";

#[test]
fn at_nine_in_the_evening_it_is_a_list_of_what_to_measure() {
    let said = of_book(HIT, "a-2026-05-02-crash.html");
    in_order(
        &said,
        &[
            "RF, a post 2 May 2026, s1",
            "The car has not run since.",
            "☐ hub RF h, not looked at, still fitted: look at it before it runs",
            "☐ bearing RF w, not looked at, still fitted",
            "☐ coupling LR k, not looked at, still fitted",
            "Nothing was found yet that was left before.",
            "Still to be measured",
            "camber RF deg as left 1 May",
            "-3.0",
            "hub RF h",
            "☐ not looked at",
            "bearing RF w in h",
            "☐ not looked at",
            "Safety parts elsewhere on the car",
            "coupling LR k",
        ],
    );
    assert!(!said.contains("camber LF deg left"), "the other corner is not asked for: {said}");
}

#[test]
fn quarantine_waits_and_a_look_or_a_rebuild_clears() {
    let said = of_book(
        &format!(
            "{HIT}2026-05-03 a\n  quarantine h because the post\n  inspect w failed \"flat\"\n  inspect k good\n"
        ),
        "a-2026-05-02-crash.html",
    );
    in_order(
        &said,
        &[
            "☐ hub RF h, in quarantine, off the car since 3 May: do not refit it before it is looked at",
            "hub RF h",
            "☐ in quarantine",
            "bearing RF w",
            "failed",
            "coupling LR k",
            "looked at, good",
        ],
    );
    let two = of_book(&format!("{HIT}  hit LF \"another\" during s1\n"), "a-2026-05-02-crash_2.html");
    assert!(two.contains("LF, another"), "{two}");
}

/// Who looks and does not say what he saw has not said that it is good.
#[test]
fn a_look_without_a_word_on_it_is_no_pass() {
    let said =
        of_book(&format!("{HIT}2026-05-03 a\n  inspect k \"cut to the cord\"\n"), "a-2026-05-02-crash.html");
    in_order(
        &said,
        &["coupling LR k", "looked at; whether it is good the book does not say", "inspect, cut to the cord"],
    );
}

/// A perch counts from where it stood when the book began: where nothing moved it, that is nought and not unknown.
#[test]
fn a_perch_that_nobody_moved_stands_at_nought() {
    let moved = of_book(
        &HIT.replace("  left camber", "  adjust perch RF +1/2 turn\n  left camber"),
        "a-2026-05-02-crash.html",
    );
    in_order(&moved, &["How it was", "perch turn 0", "0.5 perch turn", "perch turn 0", "0 perch turn"]);
    // A book that says nothing of perches has none.
    assert!(!of_book(HIT, "a-2026-05-02-crash.html").contains("perch"));
}

/// The total of an axle is what was found there: 6.5 out less 2.0 out.
#[test]
fn the_total_of_an_axle_is_found_after_an_impact() {
    let said = of_book(
        "car a \"A\"  toe-over 300 mm\n2026-05-01 a\n  left toe-out front 2.0 mm total\n2026-05-02 a\n  10:00..10:30 run s1 4 laps\n  \
         hit RF \"a kerb\" during s1\n  found toe-out front 6.5 mm total\n",
        "a-2026-05-02-crash.html",
    );
    in_order(&said, &["As found against as left: 1 moved", "toe front mm", "4.5 out"]);
}
