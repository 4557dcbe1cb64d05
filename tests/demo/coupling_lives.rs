//! Every coupling's life: how long and how it ended.

// Whole minutes add up exactly.
#![allow(clippy::float_cmp)]

use super::{DEMO, part};
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::lives::{End, lives};

#[test]
fn twelve_lives_of_couplings() {
    let table = [
        ("cp-01", 5.0, 292.0, "failed"),
        ("cp-02", 4.0, 225.0, "good"),
        ("cp-03", 4.0, 208.0, "failed"),
        ("cp-04", 2.0, 75.0, "failed"),
        ("cp-05", 3.0, 249.0, "failed"),
        ("cp-06", 2.0, 91.0, "failed"),
        ("cp-07", 3.0, 161.0, "good"),
        ("cp-08", 6.0, 226.0, "running"),
        ("cp-09", 4.0, 154.0, "good"),
        ("ar-01", 2.0, 177.0, "running"),
        ("ar-02", 1.0, 82.0, "good"),
        ("ar-03", 1.0, 95.0, "running"),
    ];
    let all = lives(&DEMO.book, &DEMO.history, Rank::END);
    for (name, days, minutes, end) in table {
        let own = all.of_part(part(name));
        assert_eq!(own.len(), 1, "{name}");
        let word = match own[0].end {
            End::Running | End::RunningSold => "running",
            End::Good(_) => "good",
            End::Failed(_) => "failed",
            _ => "?",
        };
        let on = |clock| own[0].on(&DEMO.book, clock);
        assert_eq!(
            (on(Clock::Days).value, on(Clock::Time).value / 60.0, word),
            (days, minutes, end),
            "{name}"
        );
        assert!(!on(Clock::Time).at_least && !on(Clock::Days).at_least, "{name}");
    }
}
