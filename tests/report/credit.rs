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
    assert!(page.contains("Best lap 1:09.30 in s1 then, 1:08.10 in s1 now: \u{2212}1.20 s."), "{page}");
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
    assert!(!page.contains("Tried there and back"), "{page}");
}

#[test]
fn a_part_swapped_and_put_back_does_not_differ() {
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
    assert!(!page.contains("Tried there and back"), "{page}");
}

/// The front bar tried there and back: 2 against 3, each lap of 3 four tenths quicker.
fn tried(last: &str) -> String {
    let mut lines = "\n2026-06-14 heron at pell-2\n".to_owned();
    for (number, (hole, lap)) in
        [(2, "1:08.50"), (3, "1:08.10"), (2, "1:08.52"), (3, "1:08.13"), (2, "1:08.51"), (3, "1:08.11")]
            .iter()
            .enumerate()
    {
        if number > 0 {
            lines += &format!("  set bar-hole front {} -> {hole}\n", 5 - hole);
        }
        lines += &format!("  {:02}:00..{:02}:20 run s{number}  9 laps  best {lap}\n", 9 + number, 9 + number);
    }
    lines + last
}

const CREDITED: &str = "Tried there and back: Bar-hole front 3 is quicker than bar-hole front 2 by";

#[test]
fn a_trial_of_what_differs_is_credited() {
    let page = verdict(&tried(""));
    assert!(page.contains(CREDITED), "{page}");
}

/// Put back, it does not differ; set to something that was not tried, the trial says nothing of it; nor of the rear bar.
#[test]
fn a_trial_of_something_else_is_not_credited() {
    for last in [
        "  set bar-hole front 3 -> 2\n  16:00..16:20 run s7  9 laps  best 1:08.90\n",
        "  set bar-hole front 3 -> 5\n  16:00..16:20 run s7  9 laps  best 1:18.90  with wet\n",
        "  set bar-hole front 3 -> 2\n  set bar-hole rear 4\n  16:00..16:20 run s7  9 laps  best 1:08.90\n",
    ] {
        let page = verdict(&tried(last));
        assert!(page.contains("heron") && !page.contains(CREDITED), "{last}{page}");
    }
    // The rear bar differs, the front one was tried.
    let rear = format!(
        "\n2026-05-11 heron\n  set bar-hole rear 1\n{}",
        tried(
            "  set bar-hole front 3 -> 2\n  set bar-hole rear 1 -> 4\n  16:00..16:20 run s7  9 laps  best 1:08.90\n"
        )
    );
    let page = verdict(&rear);
    assert!(!page.contains(CREDITED), "{page}");
}

/// Of three settings that were tried those two are told that differ.
#[test]
fn of_three_settings_the_two_that_differ_are_told() {
    let page = verdict(&tried("  set bar-hole front 3 -> 5\n  16:00..16:20 run s7  9 laps  best 1:08.50\n"));
    assert!(page.contains("Tried there and back: Cannot tell: bar-hole front 5 against 2: "), "{page}");
    assert!(!page.contains(CREDITED), "{page}");
}

/// A driver, what nobody can say and what was told for the first time are not "nothing" and no single thing.
#[test]
fn what_else_may_have_been_is_said() {
    let day = |before: &str, by: &str| {
        format!("\n2026-06-14 heron at pell-2\n{before}  09:00..09:20 run s1  9 laps  best 1:08.10{by}\n")
    };
    let people = "\nperson ned \"Ned\"\nperson ann \"Ann\"\n";
    let first = BOOK.replace("best 1:09.30", "best 1:09.30  by ned");
    let of = |lines: &str| {
        let compiled = text(&format!("{people}{first}{lines}"));
        page(&pages(&compiled), "heron-pell-1-pell-2.html").html.clone()
    };
    let same = of(&day("", "  by ned"));
    assert!(same.contains("Nothing on the car differs between those two sessions"), "{same}");
    let one = of(&day("  set bar-hole front 3\n", "  by ned"));
    assert!(one.contains("One thing differs between those two sessions (1 setting)"), "{one}");
    let driver = of(&day("  set bar-hole front 3\n", "  by ann"));
    assert!(
        driver.contains(
            "Several things differ at once between those two sessions (1 setting, and another driver)"
        ),
        "{driver}"
    );
    let told = of(&day("  set camber LF -3 deg\n", "  by ned"));
    assert!(told.contains("Nothing on the car is known to differ between those two sessions, but of 1 setting nobody can say"), "{told}");
    let lost = of(&day("  set bar-hole front 3,2\n", "  by ned"));
    assert!(
        lost.contains("is known to differ between those two sessions, but of 1 setting nobody can say"),
        "{lost}"
    );
}

/// Tried there and back at the first of the two events, it was tried.
#[test]
fn a_trial_at_the_first_event_is_told() {
    let runs = ["2", "3", "2", "3", "2"].iter().enumerate().map(|(at, hole)| {
        let lap = if *hole == "3" { "1:08.70" } else { "1:09.20" };
        let set = if at == 0 {
            String::new()
        } else {
            format!("  {:02}:30 set bar-hole front {hole}  because asked\n", 9 + at)
        };
        format!("{set}  {:02}:00..{:02}:20 run r{at}  9 laps  best {lap}  with dry\n", 10 + at, 10 + at)
    });
    let lines = format!(
        "{}\n2026-06-14 heron at pell-2\n  set bar-hole front 3\n  09:00..09:20 run s1  9 laps  best 1:08.10\n",
        runs.collect::<String>()
    );
    let page = verdict(&lines);
    assert!(
        page.contains("Tried there and back: Bar-hole front 3 is quicker than bar-hole front 2 by"),
        "{page}"
    );
    assert!(page.contains("(at spring)") || page.contains("(at pell-1"), "{page}");
    assert!(!page.contains("None of what differs at the end was tried"), "{page}");
}
