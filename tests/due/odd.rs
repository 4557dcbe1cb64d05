//! Books with little to plan for, and the command's words about them.

use super::{SHOP, on, ran};
use crate::lives::printed;

const BELT: &str = "kind belt \"belt\"  fits nose  life 300 min  must\npart b-1 belt  opening new\n";

fn said(text: &str, words: &[&str]) -> String {
    printed(text, &[&["due"], words].concat())
}

/// The tests' today is 1 December 2025: all of the shop's events are past.
#[test]
fn no_event_ahead() {
    let text = format!("{SHOP}{BELT}");
    assert!(
        said(&text, &[]).contains("No event to come: from that day on the book has none"),
        "{}",
        said(&text, &[])
    );
    let ahead = text.clone() + "event e-9 2027-05-01 at pell \"far\"\n";
    assert!(said(&ahead, &[]).starts_with("Due before e-9, far (2027-05-01;"), "{}", said(&ahead, &[]));
    // Nobody goes there but a car that was sold: the next one counts.
    let sold = ahead.replace("\"far\"", "\"far\"  entered plover")
        + "event f-1 2028-05-01 at pell \"farther\"\n"
        + &on("2025-06-30", "plover", &["sell plover"]);
    assert!(said(&sold, &[]).starts_with("Due before f-1, farther"), "{}", said(&sold, &[]));
}

#[test]
fn no_car_goes_there() {
    let text = SHOP.replace("at pell \"four\"", "at pell \"four\"  entered plover")
        + BELT
        + &on("2025-06-10", "plover", &["sell plover"]);
    let told = said(&text, &["--before", "e-4"]);
    assert!(told.contains("No car of this book goes there.") && !told.contains("Nothing is due"), "{told}");
}

#[test]
fn an_event_that_is_none() {
    let text = format!("{SHOP}{BELT}");
    let told = said(&text, &["--before", "e-5"]);
    // Of several that are as near none is offered.
    assert!(told.contains("no event is called `e-5`; the book has e-"), "{told}");
    assert!(said(&text, &["--before", "heron"]).contains("`heron` is a car, not an event"));
    assert!(said(&text, &["--confidence", "0"]).contains("it is a number from 1 to 99.9"));
}

#[test]
fn nothing_is_due() {
    let text = format!(
        "{SHOP}{}{}{}",
        BELT.replace("fits nose", "fits nose on heron"),
        on("2025-05-01", "heron", &["fit b-1 nose"]),
        ran("heron", "e-1", "20 min")
    );
    let told = said(&text, &["--before", "e-2"]);
    assert!(
        told.contains("Nothing is due.") && told.contains("1 part needs nothing (--all lists them)."),
        "{told}"
    );
    let all = said(&text, &["--before", "e-2", "--all"]);
    assert!(all.contains("    leave    heron: belt b-1  20 min of 300 min, 40 min after"), "{all}");
}

/// What is not known is in words, never a dash or a nought.
#[test]
fn unknown_use_in_words() {
    let text =
        format!("{SHOP}{BELT}{}", on("2025-05-01", "heron", &["fit b-1 nose"])).replace("  opening new", "");
    let told = said(&text, &["--before", "e-2"]);
    assert!(told.contains("[ ] INSPECT  heron: belt b-1  use not known, limit 300 min"), "{told}");
    assert!(told.contains("heron   it has run no whole event in this book: not known"), "{told}");
}
