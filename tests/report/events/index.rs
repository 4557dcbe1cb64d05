//! The first page: where each car stands, what it ran last, what is open, what is next.

use super::{in_order, of_book, of_demo};

#[test]
fn one_look_says_where_each_car_is() {
    let said = of_demo("index.html");
    in_order(
        &said,
        &[
            // Every car in a line or two, before anything else.
            "Teal, hill-climb single-seater",
            "between events next quern-27, 17–18 April 2027",
            "extinguisher fx-1, ends before the event (31 March 2027)",
            "Bittern",
            "not looked at spring RF sp-02 since the impact at RF, 28 Jun",
            "Plover",
            "sold 14 November 2026: plover to brannoch",
            "nothing open",
            "Curlew",
            "jobs to do 2: j-04 (right front strut",
            "Due before quern-27",
            // Then each with its lines.
            "Teal",
            "ran last 9 August 2026, slatehead-2 s9 teal.sline:234",
            "best there 0:40.72 in s9 teal.sline:234",
            "open extinguisher fx-1, ends before the event (31 March 2027) safety.sline:13",
            "quern-27 Quern Park, April of next year · 17–18 April 2027",
            "Setup sheet quern-27",
            "Load list quern-27",
            "Bittern",
            "best there 1:07.18 in s6",
            "not looked at spring RF sp-02 since the impact at RF, 28 Jun bittern.sline:305",
        ],
    );
}

#[test]
fn a_car_is_at_an_event_until_it_is_over_or_a_line_is_written_elsewhere() {
    let book = "circuit c \"C\" length 2 km\nevent e 2026-05-02..03 at c \"E\"\nkind k \"K\" fits front must\npart p k\ncar a \"A\"\n2026-05-01 a\n  fit p front\n\
        2026-05-02 a at e\n  10:00..10:30 run s1 4 laps\n  11:00 remove p\n";
    let said = of_book(book, "index.html");
    assert!(said.contains("at e book.sline:9 nothing fitted k front"), "{said}");
    let home = of_book(&format!("{book}2026-05-03 a\n  set wing-angle 5 deg\n"), "index.html");
    assert!(home.contains("between events nothing fitted k front"), "{home}");
    let none = of_book("car a \"A\"\n", "index.html");
    assert!(none.contains("has not run in this book nothing next nothing open"), "{none}");
}

/// With nothing to come a rule is that of the book's last day, an item is good or over on it, and a limit is reached or not.
#[test]
fn after_the_last_event_what_fails_and_what_is_due_is_open() {
    let book = "circuit c \"C\" length 2 km\nevent e 2026-05-02..03 at c \"E\"\nkind k \"K\"  fits LR  life 30 min\nkind b \"B\"  fits cockpit\n\
        part p k  opening new  paid\npart h b  valid-until 2026-05-01\nrule low class S-1  ride-height min 48 mm\ncar a \"A\"  class S-1\n\
        2026-05-02 a at e\n  fit p LR\n  fit h cockpit\n  read ride-height LF 40 RF 50 LR 50 RR 50 mm\n  10:00..10:30 run s1 4 laps\n";
    let said = of_book(book, "index.html");
    in_order(&said, &["no event lies ahead in it"]);
    for wanted in [
        "b h, over (1 May 2026)",
        "rule ride height LF 40 mm, at least 48 mm",
        "due k LR p: at its limit of 30 min",
    ] {
        in_order(&said, &[wanted]);
    }
    assert!(!said.contains("nothing open"), "{said}");
    // One that fails nothing has nothing open.
    let good =
        book.replace("2026-05-01", "2027").replace("min 48", "min 38").replace("life 30 min", "life 90 min");
    in_order(&of_book(&good, "index.html"), &["nothing open"]);
}

#[test]
fn an_event_begun_the_year_before_is_in_the_chart() {
    let book = "circuit c \"C\" length 2 km\nevent e 2025-12-30..2026-01-02 at c \"E\"\ncar a \"A\"\n\
        2025-12-31 a at e\n  10:00..10:30 run s1 4 laps\n2026-01-05 a\n  set wing-angle 5 deg\n";
    in_order(&of_book(book, "index.html"), &["2026: where each car ran and goes", "a e 2025-12-30 ran"]);
}
