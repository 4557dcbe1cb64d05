//! What a better lap may be credited to: what was on the car in the session of that lap, and what was tried there and back.

use super::{page, pages, text};

const BOOK: &str = "circuit pell \"Pell Hill\"
event pell-1 2026-05-10 at pell \"spring\"
event pell-2 2026-06-14 at pell \"summer\"
kind coupling \"coupling\"  fits LR RR
part cp-1 coupling
part cp-2 coupling
part cp-3 coupling
car heron \"Heron\"

2026-05-10 heron at pell-1
  fit cp-1 LR
  fit cp-3 RR
  set bar-hole front 2
  09:00..09:20 run s1  9 laps  best 1:09.30
";

fn verdict(lines: &str) -> String {
    let compiled = text(&format!("{BOOK}{lines}"));
    let pages = pages(&compiled);
    page(&pages, "heron-pell-1-pell-2.html").html.clone()
}

#[test]
fn what_went_on_after_the_best_lap_is_not_credited_with_it() {
    let page = verdict(
        "
2026-06-14 heron at pell-2
  09:00..09:20 run s1  9 laps  best 1:08.10
  set bar-hole front 3
  10:00..10:20 run s2  9 laps  best 1:09.90
",
    );
    assert!(page.contains("Best lap 1:09.30 in s1 then, 1:08.10 in s1 now: -1.20 s."), "{page}");
    assert!(page.contains("Nothing on the car differs between those two sessions"), "{page}");
}

#[test]
fn what_was_on_for_the_best_lap_and_off_at_the_end_is() {
    let page = verdict(
        "
2026-06-14 heron at pell-2
  set bar-hole front 3
  09:00..09:20 run s1  9 laps  best 1:08.10
  set bar-hole front 2
  10:00..10:20 run s2  9 laps  best 1:09.90
",
    );
    assert!(page.contains("One thing differs between those two sessions (1 setting)"), "{page}");
    assert!(
        page.contains(
            "Tried there and back: bar hole front at pell-2, once: 3 in s1 1:08.10, 2 in s2 1:09.90."
        ),
        "{page}"
    );
}

#[test]
fn a_part_swapped_and_put_back_was_tried_so_often() {
    let page = verdict(
        "
2026-06-14 heron at pell-2
  swap coupling LR cp-1 -> cp-2
  09:00..09:20 run s1  9 laps  best 1:08.10
  swap coupling LR cp-2 -> cp-1
  10:00..10:20 run s2  9 laps  best 1:09.90
  swap coupling LR cp-1 -> cp-2
  11:00..11:20 run s3  9 laps  best 1:08.30
  swap coupling LR cp-2 -> cp-1
  12:00..12:20 run s4  9 laps  best 1:09.70
",
    );
    assert!(
        page.contains("One thing differs between those two sessions (1 place with another part)"),
        "{page}"
    );
    let tried = "Tried there and back: coupling LR at pell-2, twice: cp-2 in s1 1:08.10, cp-1 in s2 1:09.90, cp-2 in s3 1:08.30, \
                 cp-1 in s4 1:09.70.";
    assert!(page.contains(tried), "{page}");
}
