//! Old values: how near they must be, and that a wrong one makes one message.

use super::{book, problems, speaks};
use stringline::history::problem::Problem;

#[track_caller]
fn fits(first: &str, second: &str) {
    let book = book(&format!("2025-05-03 heron\n  {first}\n  {second}\n"));
    assert_eq!(problems(&book), [], "{first} / {second}");
}

#[track_caller]
fn differs(first: &str, second: &str) {
    let book = book(&format!("2025-05-03 heron\n  {first}\n  {second}\n"));
    assert!(
        matches!(problems(&book), [Problem::OldValueDiffers { .. }]),
        "{first} / {second}: {:?}",
        problems(&book)
    );
}

#[test]
fn within_half_the_last_digit_of_the_coarser() {
    // 72 says 71.5 to 72.5.
    fits("set spring-rate LF 72.4 N/mm", "set spring-rate LF 72 -> 80 N/mm");
    fits("set spring-rate LF 72.5 N/mm", "set spring-rate LF 72 -> 80 N/mm");
    differs("set spring-rate LF 72.6 N/mm", "set spring-rate LF 72 -> 80 N/mm");
    differs("set spring-rate LF 72.4 N/mm", "set spring-rate LF 72.3 -> 80 N/mm");
}

#[test]
fn in_another_unit() {
    // 70 N/mm is 399.7 lb/in (1 lb/in is 0.17513 N/mm, NIST SP 811).
    fits("set spring-rate LF 70 N/mm", "set spring-rate LF 400 -> 450 lb/in");
    differs("set spring-rate LF 70.0 N/mm", "set spring-rate LF 402 -> 450 lb/in");
}

#[test]
fn within_the_gauge_that_read_it() {
    // The blocks tell 1 mm apart.
    fits("read ride-height LF 44 mm  by bg-1", "set ride-height LF 45 -> 50 mm");
    differs("read ride-height LF 44 mm  by bg-1", "set ride-height LF 46 -> 50 mm");
}

#[test]
fn either_register_will_do() {
    let both = "set camber LF -3.2 deg\n  left camber LF -2.9 deg";
    fits(both, "set camber LF -3.2 -> -3.5 deg");
    fits(both, "set camber LF -2.9 -> -3.5 deg");
    differs(both, "set camber LF -3.0 -> -3.5 deg");
}

#[test]
fn words_and_off() {
    fits("set pad-compound front \"Soft\"", "set pad-compound front \"soft\" -> \"hard\"");
    differs("set pad-compound front \"soft\"", "set pad-compound front \"hard\" -> \"harder\"");
    fits("set bar-hole rear off", "set bar-hole rear off -> 1");
    differs("set bar-hole rear off", "set bar-hole rear 2 -> 1");
    differs("set bar-hole rear 2", "set bar-hole rear off -> 1");
}

#[test]
fn nobody_knows() {
    fits("set bar-hole rear 2", "set bar-hole rear ? -> 1");
    // Nothing is in the book yet: the old value is news, not a contradiction.
    fits("set brake-bias 60 %", "set bar-hole rear 3 -> 1");
}

#[test]
fn a_wrong_old_value_makes_one_message_all_season() {
    let book = book(
        "2025-05-03 heron\n  set bar-hole front 2\n2025-05-10 heron\n  set bar-hole front 3 -> 4\n2025-05-17 heron\n  set bar-hole front 4 -> 5\n2025-05-24 heron\n  set bar-hole front 5 -> 2\n",
    );
    assert_eq!(speaks(&book), ["old-value-differs"]);
}

#[test]
fn after_a_change_the_message_names_the_sum() {
    let book = book(
        "2025-05-03 heron\n  set perch RF 1/4 turn\n  adjust perch RF +1/8 turn\n  set perch RF 1 -> 2 turn\n",
    );
    let said = &book.diagnostics.first().unwrap().message;
    assert!(said.contains("perch RF is 0.375 turn"), "{said}");
}

/// A length that stands for an angle leaves open what its gauge does: 1 mm over 400 mm, as the toe itself.
#[test]
fn within_a_toe_gauge_that_reads_a_length() {
    let of = |old: &str| {
        super::book(&format!(
            "gauge tg-1 \"toe bars\"  reads toe-in  resolution 1 mm\n\n2025-05-03 heron\n  read toe-in LF 2 mm  over 400 mm  by tg-1\n  set toe-in LF {old} -> 5 mm  over 400 mm\n"
        ))
    };
    assert_eq!(problems(&of("3")), []);
    assert!(matches!(problems(&of("4")), [Problem::OldValueDiffers { .. }]));
    // From nought too.
    let nought = |old: &str| {
        let gauge = "gauge tg-1 \"toe bars\"  reads toe-in  resolution 1 mm\n";
        super::book(&format!(
            "{gauge}\n2025-05-03 heron\n  read toe-in LF 0.0 mm  over 400 mm  by tg-1\n  set toe-in LF {old} -> 5 mm  over 400 mm\n"
        ))
    };
    assert_eq!(problems(&nought("1.0")), []);
    assert!(matches!(problems(&nought("1.2")), [Problem::OldValueDiffers { .. }]));
}

#[test]
fn words_with_quotes_or_without() {
    fits("set pad-compound front \"soft\"", "set pad-compound front soft -> \"hard\"");
}

#[test]
fn the_corners_of_one_line_are_one_mistake() {
    let told = |line: &str| {
        let book = book(&format!(
            "2025-05-03 heron\n  set camber front -3.0 deg\n  set camber rear -2.0 deg\n  {line}\n"
        ));
        let wrong = book.diagnostics.iter().filter(|one| one.check == "old-value-differs");
        wrong.map(|one| one.message.clone()).collect::<Vec<_>>()
    };
    let one = told("set camber front -2.8 -> -3.2 deg");
    assert_eq!(one.len(), 1, "{one:?}");
    assert!(
        one[0].contains("camber LF and RF are -3.0 deg") && one[0].contains("you wrote -2.8 deg"),
        "{one:?}"
    );
    let all = told("set camber all -2.8 -> -3.2 deg");
    assert_eq!(all.len(), 1, "{all:?}");
    assert!(
        all[0].contains("LF and RF are -3.0 deg") && all[0].contains("LR and RR are -2.0 deg"),
        "{all:?}"
    );
}
