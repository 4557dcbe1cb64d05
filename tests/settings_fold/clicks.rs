//! Clicks from either end, and settings that travel with their damper.
//!
//! The dampers have 20 clicks counted from full hard, so n from full soft is 20 - n from full hard (common practice).

use super::{book, close, held_before, is, problems, speaks};
use stringline::book::place::Place;
use stringline::history::problem::Problem;

#[test]
fn a_count_from_the_other_end_is_turned_into_the_kinds() {
    let book = book("2025-05-03 heron\n  fit dm-1 LF\n  set rebound LF 9 click from full-soft\n");
    close(is(&book, "rebound", Place::LF), 11.0);
}

#[test]
fn a_change_from_the_other_end_has_the_other_sign() {
    // 9 from hard, then two fewer from soft: two more from hard.
    let text =
        "2025-05-03 heron\n  fit dm-1 LF\n  set rebound LF 9\n  adjust rebound LF -2 click from full-soft\n";
    let book = book(text);
    close(is(&book, "rebound", Place::LF), 11.0);
}

#[test]
fn old_values_count_from_the_lines_end() {
    let fits = book(
        "2025-05-03 heron\n  fit dm-1 LF\n  set rebound LF 9\n  set rebound LF 11 -> 12 click from full-soft\n",
    );
    assert_eq!(problems(&fits), []);
    close(is(&fits, "rebound", Place::LF), 8.0);
    let differs = book(
        "2025-05-03 heron\n  fit dm-1 LF\n  set rebound LF 9\n  set rebound LF 9 -> 8 click from full-soft\n",
    );
    assert!(matches!(problems(&differs), [Problem::OldValueDiffers { .. }]));
}

#[test]
fn the_same_from_the_other_end_changes_nothing() {
    let book = book(
        "2025-05-03 heron\n  fit dm-1 LF\n  set rebound LF 9\n  set rebound LF 11 click from full-soft\n",
    );
    assert_eq!(speaks(&book), ["change-is-nothing"]);
}

#[test]
fn an_untracked_damper_keeps_the_end_it_was_first_counted_from() {
    let book = book(
        "2025-05-03 heron\n  set rebound LF 9 click from full-soft\n  set rebound LF 9 -> 8 click from full-soft\n  adjust rebound LF +1 click from full-hard\n",
    );
    assert_eq!(problems(&book), []);
    // 8 from soft; one more from hard is one fewer from soft.
    close(is(&book, "rebound", Place::LF), 7.0);
}

#[test]
fn the_corners_of_a_line_share_one_message() {
    let book = book("2025-05-03 heron\n  set rebound all 9\n");
    assert_eq!(speaks(&book), ["clicks-without-datum"]);
}

#[test]
fn a_setting_travels_with_its_damper() {
    let text = "2025-05-03 heron\n  fit dm-1 LF\n  fit dm-2 RF\n  set rebound LF 9\n  set rebound RF 5\n2025-05-10 heron\n  remove dm-1\n  remove dm-2\n  fit dm-1 RF\n  fit dm-2 LF\n  set rebound RF 9 -> 7\n";
    let book = book(text);
    assert_eq!(problems(&book), []);
    close(is(&book, "rebound", Place::RF), 7.0);
    close(is(&book, "rebound", Place::LF), 5.0);
    // Before the second day the left one was dm-1's nine.
    let second = book.book.heads.last().unwrap().first;
    let before = held_before(&book, "rebound", Place::LF, book.history.order.rank[second]);
    close(before.is(&book.history).unwrap().value, 9.0);
}
