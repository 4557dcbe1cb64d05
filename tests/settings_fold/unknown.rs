//! What an error or a dispute makes unknown, and that it silences what would only follow from it.

use super::{book, close, held, held_before, heron, is, problems, speaks};
use crate::checks::compile_text;
use stringline::book::place::Place;
use stringline::history::problem::Problem;

#[test]
fn a_broken_line_makes_its_quantity_unknown_and_silences_comparisons() {
    let text = "2025-05-03 heron\n  set brake-bias 60 %\n2025-05-04 heron\n  set brake-bias 58 bar\n2025-05-05 heron\n  set brake-bias 57 -> 56 %\n";
    let book = book(text);
    // One message, about the unit; none about the old value that follows from it.
    assert_eq!(speaks(&book), ["unit-wrong-kind"]);
    assert_eq!(problems(&book), []);
    close(is(&book, "brake-bias", Place::CAR), 0.56);
    let last = book.book.entries.last_key().unwrap();
    let before = held_before(&book, "brake-bias", Place::CAR, book.history.order.rank[last]);
    assert!(before.unknown.is_some());
    assert!(before.is(&book.history).is_none());
}

#[test]
fn a_broken_line_reaches_places_that_had_no_value_yet() {
    let book = book("2025-05-03 heron\n  set wing-angle 60 bar\n  adjust wing-angle +1 deg\n");
    assert_eq!(speaks(&book), ["unit-wrong-kind"]);
}

#[test]
fn a_change_of_the_unknown_is_said_once() {
    let book = book(
        "2025-05-03 heron\n  adjust wing-angle +1 deg\n  adjust wing-angle +1 deg\n  set wing-angle 3 -> 4 deg\n",
    );
    assert_eq!(speaks(&book), ["delta-from-unknown"]);
    // Known again from here.
    close(is(&book, "wing-angle", Place::CAR), 4.0_f64.to_radians());
}

#[test]
fn two_blocks_of_a_day_dispute_a_slot_until_it_is_said_again() {
    let head = "car heron \"Heron\"\n";
    let two = "# === a.sline\n2025-05-03 heron\n  set camber LF -3.2 deg\n# === b.sline\n2025-05-03 heron\n  set camber LF -2.8 deg\n  set camber LF -2.7 deg\n";
    let book = compile_text(&format!("{head}{two}"));
    assert_eq!(speaks(&book), ["day-order-unclear"]);
    let id = book.book.vocabulary.find("camber").unwrap();
    let slot = |rank| book.facts().on(heron(&book), rank).slot(id, Place::LF);
    // After the second file's first line nobody knows; its own next line is in order again.
    let last = book.book.entries.last_key().unwrap();
    assert!(slot(book.history.order.rank[last]).unwrap().held.unknown.is_some());
    let later =
        compile_text(&format!("{head}{two}# === c.sline\n2025-05-04 heron\n  set camber LF -3.0 deg\n"));
    close(is(&later, "camber", Place::LF), (-3.0_f64).to_radians());
}

#[test]
fn times_decide_between_two_files() {
    let book = compile_text(
        "car heron \"Heron\"\n# === a.sline\n2025-05-03 14:00 heron\n  set camber LF -3.2 deg\n# === b.sline\n2025-05-03 09:00 heron\n  set camber LF -2.8 deg\n",
    );
    assert_eq!(speaks(&book), [""; 0]);
    close(is(&book, "camber", Place::LF), (-3.2_f64).to_radians());
}

#[test]
fn clicks_from_nowhere_leave_the_slot_unknown() {
    let book = book("2025-05-03 heron\n  set rebound LF 9 click from full-hard\n  set rebound LF 8\n");
    assert!(matches!(problems(&book), [Problem::ClicksWithoutDatum { part: None, .. }]));
    assert!(held(&book, "rebound", Place::LF).unknown.is_some());
}

#[test]
fn a_broken_line_reaches_what_the_parts_on_the_car_hold() {
    let fitted = "2025-05-03 heron\n  fit dm-1 LF\n  fit dm-2 RF\n  set bump LF 8 RF 9\n";
    let book = book(&format!(
        "{fitted}2025-05-04 heron\n  remove dm-2\n  set bump LF 12 bar\n2025-05-05 heron\n  fit dm-2 RF\n"
    ));
    assert_eq!(speaks(&book), ["unit-wrong-kind"]);
    assert!(held(&book, "bump", Place::LF).unknown.is_some());
    assert!(held(&book, "bump", Place::LF).is(&book.history).is_none());
    // The other was on the shelf.
    close(is(&book, "bump", Place::RF), 9.0);
    // The place has no value yet, and an old one says nothing against it.
    let first = super::book(
        "2025-05-03 heron\n  fit dm-1 LF\n  set bump LF 12 bar\n2025-05-04 heron\n  adjust bump LF +2\n",
    );
    assert_eq!(speaks(&first), ["unit-wrong-kind"]);
}

#[test]
fn what_an_error_made_unknown_of_a_part_goes_with_it() {
    let lines = "2025-05-03 heron\n  fit dm-1 LF\n  set bump LF 8\n2025-05-04 heron\n  set bump LF 12 bar\n  remove dm-1\n  fit dm-1 RF\n";
    let moved = book(lines);
    assert_eq!(speaks(&moved), ["unit-wrong-kind"]);
    assert!(held(&moved, "bump", Place::RF).is(&moved.history).is_none());
    // A line of the bench that cannot be read is one of the part.
    let bench = "2025-05-03\n  bench dm-1 bump 8\n  bench dm-1 bump 8 bar\n2025-05-04 heron\n  fit dm-1 LF\n";
    let benched = book(bench);
    assert!(speaks(&benched).contains(&"unit-wrong-kind"));
    assert!(held(&benched, "bump", Place::LF).is(&benched.history).is_none());
}

/// A line that cannot even be taken apart into words was about something all the same: a comma for a point, a quote that nobody closes, a
/// comma with nothing behind it. So was every line under a head whose date cannot be read, and under one whose car cannot be.
#[test]
fn a_line_that_cannot_be_taken_apart_leaves_nothing_known() {
    let first = "2025-05-03 heron\n  set brake-bias 60 %\n";
    for (slip, check) in [
        ("2025-05-04 heron\n  set brake-bias 58,5 %\n", "decimal-comma"),
        ("2025-05-04 heron\n  set brake-bias 58 %  \"it locks\n", "quote-open"),
        ("2025-05-04 heron\n  set brake-bias 58 %,by ned\n", "comma-glued"),
        ("2025-05-04 heron\n  09:30,5 set brake-bias 58 %\n", "decimal-comma"),
        ("4.5.2025 heron\n  set brake-bias 58 %\n", "date-ambiguous"),
        ("2025-13-04 heron\n  set brake-bias 58 %\n", "date-impossible"),
        ("2025-05-04 heronn\n  set brake-bias 58 %\n", "name-unknown"),
    ] {
        let book = book(&format!("{first}{slip}"));
        assert!(held(&book, "brake-bias", Place::CAR).is(&book.history).is_none(), "{slip}");
        let said = speaks(&book);
        assert!(said.len() == 1, "{slip}: {said:?}");
        if !matches!(check, "comma-glued" | "quote-open") {
            assert_eq!(said, [check], "{slip}");
        }
    }
}

/// An outfit whose name is misspelt may be any of the car's: what they set is not known, and where their parts are is in doubt. One that is
/// fitted with a broken line in it leaves what that line is about.
#[test]
fn an_outfit_with_a_mistake_leaves_in_doubt_what_it_would_have_changed() {
    let head = "car heron \"Heron\"\nkind spring \"s\"  fits LF RF on heron\npart sp-1 spring\npart sp-2 spring\noutfit wet heron \"wet\"\n  fit sp-2 LF\n  set bar-hole rear 3\n  set brake-bias 5,5 %\n\
                2025-05-03 heron\n  fit sp-1 LF\n  set bar-hole rear 1\n  set brake-bias 60 %\n";
    let stands = |lines: &str| {
        let book = compile_text(&format!("{head}2025-05-04 heron\n{lines}"));
        let is = |name: &str, place| held(&book, name, place).is(&book.history).is_some();
        let Some(stringline::book::names::Thing::Part(part)) = book.book.names.find("sp-1") else { panic!() };
        let part = book.history.parts.get(part);
        let doubted = part
            .at(stringline::history::order::Rank::END)
            .is_some_and(|stay| part.doubted(stay.from, stringline::history::order::Rank::END));
        (is("bar-hole", Place::REAR), is("brake-bias", Place::CAR), doubted)
    };
    assert_eq!(stands("  | nothing\n"), (true, true, false));
    assert_eq!(stands("  fit wet\n"), (true, false, false));
    assert_eq!(stands("  fit wwt\n"), (false, false, true));
    assert_eq!(stands("  fit wet LF\n"), (false, false, true));
    // A place is none of an outfit's: the spring there may have made way.
    assert_eq!(stands("  fit sp-2 LF blah\n"), (true, true, true));
}

/// A head whose date cannot be read, the first of its file: it stands on the day of the next one there, or on the book's last, and never in a
/// year of its own.
#[test]
fn a_lost_head_at_the_top_of_a_file_stands_by_its_neighbours() {
    let first = "car heron \"Heron\"\n# === a.sline\n2025-05-03 heron\n  set camber LF -3.2 deg\n";
    for rest in ["", "2025-06-01 heron\n  set camber RF -3.0 deg\n"] {
        let lost = format!("{first}# === b.sline\n18.05.2025 heron\n  set camber LF -2.9 deg\n{rest}");
        let book = compile_text(&lost);
        assert_eq!(speaks(&book), ["date-ambiguous"]);
        let id = book.book.vocabulary.find("camber").unwrap();
        let end = book.history.order.entries.next_key();
        let slot = book.facts().on(heron(&book), end).slot(id, Place::LF).unwrap();
        assert!(slot.held.unknown.is_some() && slot.held.is(&book.history).is_none(), "{rest:?}");
        assert!(book.book.heads.iter().all(stringline::book::entry::Head::is_dated));
    }
    // A book without any other date has no year either.
    let book = compile_text("car heron \"Heron\"\n18.05.2025 heron\n  set camber LF -2.9 deg\n");
    let pages = stringline::report::render(&book, stringline::report::Options::default()).unwrap();
    assert!(pages.iter().all(|page| !page.name.contains("1900")));
}
