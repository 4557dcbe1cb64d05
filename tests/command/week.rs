//! What a week of running is told as: clicks from one end, kilometres and hours of the road, a night, a meeting's card. Every number is worked
//! out by hand from the lines of the book.

use super::said;

const BOOK: &str = "tests/fixtures/command/week";

fn told(words: &[&str]) -> String {
    said(&[&[words[0], BOOK], &words[1..]].concat()).out
}

fn has(text: &str, all: &[&str]) {
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for one in all {
        assert!(flat.contains(one), "{one}\n{text}");
    }
}

/// Of 24 clicks 16 and 13 from full soft are 8 and 11 from full hard; two more from there are 13. Each is told from the kind's end, with it.
#[test]
fn clicks_are_told_from_the_end_of_their_kind() {
    has(&told(&["state", "heron", "loops/before-loop-2"]), &["8 8 13 13 click", "from full-hard"]);
    has(
        &told(&["diff", "heron", "loops/loop-1", "loops/loop-2"]),
        &["11 -> 13 click from full-hard +2 click"],
    );
}

/// 210 of the recce, 30 + 32 and 12 of the loops: 284 km; of the night nobody knows how far. The loops alone are 74 km for 274 EUR.
#[test]
fn what_was_run_has_the_road_in_it() {
    has(&told(&["costs", "--event", "loops"]), &["not known not known 1 274.00 74.00 3.70"]);
}

/// Nobody timed the recce, nor the road between the stages.
#[test]
fn hours_that_nobody_timed_are_the_least() {
    let due = told(&["due", "--before", "night"]);
    assert!(!due.contains("10 h are left"), "{due}");
    let state = told(&["state", "heron", "loops/start"]);
    has(&state, &["box box bx running time not known"]);
    has(&told(&["state", "heron", "loops/end"]), &["bx at least 26 min"]);
}

/// What was read and changed past midnight is of the 15th.
#[test]
fn a_line_past_midnight_is_of_the_day_that_it_was() {
    let state = told(&["state", "heron"]);
    has(&state, &["oil-temp", "2025-06-15"]);
    assert!(!state.lines().any(|line| line.contains("oil-temp") && line.contains("2025-06-14")), "{state}");
}

/// The card of a meeting has its last stint, and what was weighed after it.
#[test]
fn a_card_of_a_meeting_is_of_all_of_it() {
    for at in ["night", "night/race"] {
        has(&told(&["rules", "heron", at]), &["890 kg", "stint-time 70 min (stint)"]);
    }
}
