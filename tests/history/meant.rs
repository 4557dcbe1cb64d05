//! A head that names no car that there is: the cars whose name it may mean ran "at least" what they ran, and no others; any where none is near.

use crate::checks::compile_text;
use stringline::book::model::{Clock, PartId};
use stringline::history::order::Rank;
use stringline::history::usage::of_part;

fn at_least(head: &str) -> Vec<&'static str> {
    let book = compile_text(&format!(
        "car heron \"H\"\ncar herons \"S\"\ncar wren \"W\"\nkind k \"K\"  fits LR\npart p-1 k  opening new\npart p-2 k  opening new\npart p-3 k  opening new\n\
         2025-03-01 heron\n  fit p-1 LR\n2025-03-01 herons\n  fit p-2 LR\n2025-03-01 wren\n  fit p-3 LR\n  run s1  10 min\n\
         2025-03-02 {head}\n  run s1  60 min\n"
    ));
    let cars = ["heron", "herons", "wren"].into_iter().zip((0..).map(PartId::new));
    let unsure =
        |part: PartId| of_part(&book.book, &book.history, part, Rank::START, Rank::END).on(Clock::Time).1;
    cars.filter(|(_, part)| unsure(*part)).map(|(car, _)| car).collect()
}

#[test]
fn only_the_cars_that_a_head_may_mean_are_in_doubt() {
    // One slip in a word of up to five letters, two in a longer one.
    for (head, meant) in [
        ("heorn", &["heron"][..]),
        ("heronss", &["heron", "herons"]),
        ("wrem", &["wren"]),
        ("xyzzy", &["heron", "herons", "wren"]),
        ("xyzzy \"heron's day\"", &["heron", "herons", "wren"]),
        ("xyzzy wren", &["wren"]),
    ] {
        assert_eq!(at_least(head), meant, "{head}");
    }
}

#[test]
fn the_message_says_which() {
    let book = compile_text("car heron \"H\"\ncar wren \"W\"\n2025-03-02 heorn\n  run s1  60 min\n");
    let said: Vec<_> = book.diagnostics.iter().filter(|one| one.check == "name-unknown").collect();
    assert_eq!(said[0].at.as_ref().unwrap().words, "until this is mended, what heron ran is \"at least\"");
}
