//! The engine check: which cylinder stands out, whether it always did, and where its readings lead.
//!
//! Slopes are by hand: losses that rise by 2 % in 10 h rise by 0.2 % an hour; read to 1 %, evenly, one is unsure by 0.5 / √3 = 0.2887 %, so that
//! with t = 4.3027 (95 %, two degrees of freedom) and squares of 500 h² about the mean the half of the interval is 0.0556 %.

use super::{in_order, of_book, of_demo};
use crate::report::{pages, text};

/// A car of four cylinders whose leak-down was read every ten hours; `between` stands before the third reading.
fn read(lines: [&str; 4], between: &str) -> String {
    let mut book = "gauge ld-1 \"tester\"  reads leakdown  resolution 1 %\n\
                    car heron \"Heron\"\n  cylinders 4\n\
                    kind engine  fits bay on heron  every 90 h rebuild\npart en-1 engine  opening new\npart en-2 engine  opening new\n\
                    2026-01-01 heron\n  fit en-1 bay\n"
        .to_owned();
    for (number, line) in lines.iter().enumerate() {
        let between = if number == 2 { between } else { "" };
        book += &format!(
            "2026-0{}-01 heron\n{between}  read engine-hours {} h\n  read leakdown {line}  by ld-1\n",
            number + 2,
            number * 10
        );
    }
    book
}

fn page(book: &str) -> String {
    of_book(book, "heron-engine.html")
}

#[test]
fn the_demo_says_which_cylinder_and_that_it_was_not_always_so() {
    in_order(
        &of_demo("curlew-engine.html"),
        &[
            "Cylinder 2 gets worse, and was not always so. It leaks 22 %, the middle of the others 7 %.",
            "by now.",
            "Its exhaust lash changes by",
            "Its compression is 11.3 bar, the others 12.9 to 13.0 bar.",
            "Until quern-27 is over the car is expected to run",
        ],
    );
    let said = of_demo("teal-engine.html");
    assert!(said.contains("As they stand no cylinder leaks far more than the others."), "{said}");
}

#[test]
fn one_that_gets_worse() {
    let said = page(&read(
        ["5 5 5 5 % with hot", "5 7 5 5 % with hot", "5 9 5 5 % with hot", "5 11 5 5 % with hot"],
        "",
    ));
    in_order(
        &said,
        &[
            "Cylinder 2 gets worse, and does not leak far more than the others.",
            "Its leak-down changes by +0.20 ± 0.06 % an hour of the engine: a straight line reaches 10 %, the end of what is usual, by now",
            "change an hour",
            "Cylinders 1, 3 and 4: no end foreseeable by its readings.",
            "read leakdown … … … … % by ld-1 with hot",
        ],
    );
}

#[test]
fn one_that_was_always_so() {
    let line = "5 16 5 5 % with hot";
    let said = page(&read([line; 4], ""));
    in_order(
        &said,
        &[
            "Cylinder 2 stands out, and did from the first reading. It leaks 16 %, the middle of the others 5 %.",
            "No change of its leak-down can be told from 4 readings taken alike: +0.00 ± 0.06 % an hour of the engine.",
        ],
    );
}

/// What was read hot at one pressure is no line with what was read cold, or at another.
#[test]
fn what_was_not_taken_alike_is_kept_apart() {
    let said = page(&read(
        [
            "5 5 5 5 % with cold",
            "5 7 5 5 % at 7 bar with hot",
            "5 9 5 5 % at 5 bar with hot",
            "5 11 5 5 % at 5 bar with hot",
        ],
        "",
    ));
    in_order(
        &said,
        &[
            "Whether one gets worse cannot be told yet: 2 readings taken alike",
            "cold",
            "hot, at 7 bar",
            "hot, at 5 bar",
        ],
    );
    assert!(
        said.contains("the last of them differs from the first by more than the gauge leaves open"),
        "{said}"
    );
}

const OTHER: [&str; 4] =
    ["5 5 5 5 % with hot", "5 14 5 5 % with hot", "5 - 5 5 % with hot", "5 6 5 5 % with hot"];
const SWAP: &str = "  swap engine bay en-1 -> en-2\n";

/// Another engine begins anew; what was read of the one before stands above what says so. What was not read stays a dash.
#[test]
fn another_engine_begins_anew() {
    let said = page(&read(OTHER, SWAP));
    in_order(
        &said,
        &[
            "cannot be told yet: 2 readings",
            "1 Mar 2026",
            "en-2 fitted or rebuilt before this",
            "1 Apr 2026",
            "5 – 5 5",
            "Cylinders 1, 3 and 4: 2 readings taken alike since it was renewed",
            "Cylinder 2: 1 reading",
        ],
    );
}

/// What a kind carries is not on the page of the engine that took its place.
#[test]
fn what_was_read_of_a_part_stays_with_it() {
    let book = read(OTHER, &SWAP.replace("bay", "all"))
        .replace("fits bay on heron", "fits all on heron  carries leakdown")
        .replace("fit en-1 bay", "fit en-1 all");
    let said = page(&book);
    assert!(said.contains("2 lines about what was in before"), "{said}");
    assert!(!said.contains(" 14 "), "{said}");
}

/// What may be the engine or not is said, and its readings go on.
#[test]
fn what_may_be_another_engine_is_said() {
    let line = ["5 5 5 5 % with hot", "5 7 5 5 % with hot", "5 9 5 5 % with hot", "5 11 5 5 % with hot"];
    let said = page(
        &read(line, "  rebuild en-1\n")
            .replace("engine  fits", "mill  fits")
            .replace("en-1 engine", "en-1 mill")
            .replace("en-2 engine", "en-2 mill"),
    );
    in_order(
        &said,
        &[
            "en-1 was fitted or rebuilt: of another engine they say nothing",
            "en-1 fitted or rebuilt before this",
        ],
    );
}

#[test]
fn a_car_without_such_readings_has_no_page() {
    let all = pages(&text(
        "car heron \"Heron\"\n  cylinders 4\n2026-01-01 heron\n  set plug-gap 0.7 0.7 0.7 0.7 mm\n",
    ));
    assert!(!all.iter().any(|page| page.name.contains("engine")));
}
