//! A night race: on which day something failed, and what was done at a stop. Times are worked out by hand.

use super::{in_order, of_book};

/// 40 laps from 23:30 to 01:30 are 3 minutes each: lap 38 is at 01:24, lap 5 at 23:45.
const BOOK: &str = "shop \"S\"  zone Europe/Dublin
circuit pell \"Pell\"  length 1.20 km
event pell-1 2025-05-10..11 at pell \"Night\"  entered heron
car heron \"Heron\"
kind coupling \"coupling\"  fits LR RR
kind tyre-set \"set\"  fits all
part cp-1 coupling  opening new
part cp-2 coupling  opening new
part T1 tyre-set  opening new
part T2 tyre-set  opening new

2025-05-10 heron at pell-1
  fit cp-1 LR
  fit cp-2 RR
  fit T1
  23:30..01:30 run s1  40 laps
    failed cp-1 lap 38 mode split
    failed cp-2 lap 5 mode split
  hit LF \"kerb\" during s1
";

#[test]
fn what_failed_in_a_session_is_of_the_day_of_its_lap() {
    let page = of_book(BOOK, "event-pell-1.html");
    in_order(&page, &["11 May 2025, during pell-1 s1, lap 38"]);
    in_order(&page, &["10 May 2025, during pell-1 s1, lap 5"]);
    in_order(
        &of_book(BOOK, "lives-coupling.html"),
        &["10 May 2025 – 11 May 2025", "10 May 2025 – 10 May 2025"],
    );
    in_order(&of_book(BOOK, "part-cp-1.html"), &["failed: split", "11 May 2025"]);
    in_order(&of_book(BOOK, "part-cp-2.html"), &["failed: split", "10 May 2025"]);
}

#[test]
fn without_a_lap_it_is_of_the_day_of_its_line_and_never_after_the_session() {
    let plain = BOOK.replace(" lap 38", "").replace(" lap 5", "");
    let page = of_book(&plain, "event-pell-1.html");
    assert_eq!(page.matches("11 May 2025, during pell-1 s1").count(), 2, "{page}");
    let later = plain.replace("    failed cp-1 mode split\n", "")
        + "2025-05-14 heron at pell-1\n  failed cp-1 during s1 mode split\n";
    in_order(&of_book(&later, "event-pell-1.html"), &["11 May 2025, during pell-1 s1"]);
}

#[test]
fn what_was_done_at_a_stop_was_not_changed_before_the_next_session() {
    let book = BOOK.split("  23:30").next().unwrap().to_owned()
        + "  10:00..11:00 run s1  20 laps\n    10:00..10:30 stint 20 min\n    10:30..10:35 stop \"tyres\"\n      swap tyre-set all T1 -> T2\n  12:00..12:30 run s2  10 laps\n";
    let page = of_book(
        &book.replace("stint 20 min", "stint ned").replace("car heron", "person ned \"Ned\"\ncar heron"),
        "event-pell-1.html",
    );
    assert_eq!(page.matches("swap tyre-set").count(), 1, "{page}");
    in_order(&page, &["s1", "at its stop: swap tyre-set all T1 → T2", "s2"]);
}
