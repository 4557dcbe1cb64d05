//! How lives end, and where one begins anew.

use super::said;

#[test]
fn on_the_car_it_runs() {
    let lines = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n";
    assert_eq!(said(lines, "cp-1"), "running 20");
    assert_eq!(said(lines, "cp-2"), "unused 0");
}

#[test]
fn off_and_good_it_may_go_on_later() {
    let lines = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n    remove cp-1\n  10:00..10:25 run s2\n";
    assert_eq!(said(lines, "cp-1"), "good 20");
    let back = format!("{lines}    fit cp-1 LR\n  11:00..11:30 run s3\n");
    assert_eq!(said(&back, "cp-1"), "running 50");
}

/// Pulled in May and thrown away in June, it ended in May.
#[test]
fn a_life_ends_when_the_part_comes_off_wherever_it_goes_from_there() {
    let lines = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n\n2025-05-12 heron\n  remove cp-1\n\n2025-06-20\n  \
                 scrap cp-1\n";
    let compiled = super::book(lines);
    let life = &super::of(&compiled, "cp-1")[0];
    assert_eq!(life.ended.map(|date| date.to_string()).as_deref(), Some("2025-05-12"));
}

/// Found on Monday, broken in s1: the life ends with s1, though the car ran s2 with it; what ran on is as old as it is.
#[test]
fn a_failure_ends_the_life_in_the_session_it_happened() {
    let lines = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n  10:00..10:25 run s2\n  failed cp-1 during s1 mode split\n  \
                 remove cp-1\n";
    assert_eq!(said(lines, "cp-1"), "failed 20, unmended 45");
}

#[test]
fn a_failure_found_after_it_came_off_ends_what_it_had_run() {
    let lines = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n\n2025-05-12 heron\n  remove cp-1\n  failed cp-1 mode \
                 split found-by inspection\n";
    assert_eq!(said(lines, "cp-1"), "failed 20");
    let pulled = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n\n2025-05-12 heron\n  remove cp-1 failed\n";
    assert_eq!(said(pulled, "cp-1"), "failed 20");
}

#[test]
fn a_rebuild_begins_a_life_on_the_bench_and_on_the_car() {
    let bench = "2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  09:00..09:20 run s1\n  09:30 remove cp-1\n  09:40 rebuild cp-1 with seals\n  \
                 09:50 fit cp-1 LR\n  10:00..10:25 run s2\n";
    assert_eq!(said(bench, "cp-1"), "rebuilt 20, running 25");
    let place = "2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  09:00..09:20 run s1\n  09:40 rebuild cp-1 with seals\n  10:00..10:25 run s2\n";
    assert_eq!(said(place, "cp-1"), "rebuilt 20, running 25");
    let failed = "2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  09:00..09:20 run s1\n  09:30 failed cp-1 mode split\n  09:35 remove cp-1\n  \
                  09:40 rebuild cp-1 with rubber\n  09:50 fit cp-1 LR\n  10:00..10:25 run s2\n";
    assert_eq!(said(failed, "cp-1"), "failed 20, running 25");
}

/// The other car ran before the part arrived: those sessions are not its own.
#[test]
fn a_part_moved_to_a_car_that_had_run() {
    let lines = "2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  09:00..09:20 run s1\n\n2025-05-10 plover at pell-1\n  09:05..09:50 run s1\n\n\
                 2025-05-10 heron at pell-1\n  10:00 move cp-1 -> plover prop\n\n2025-05-10 plover at pell-1\n  10:30..10:40 run s2\n";
    assert_eq!(said(lines, "cp-1"), "running 30");
}

#[test]
fn sold_with_its_car_it_ran_to_the_end() {
    let lines = "2025-05-10 plover at pell-1\n  08:00 fit cp-1 prop\n  09:00..09:20 run s1\n\n2025-06-01 plover\n  sell plover with cp-2\n";
    assert_eq!(said(lines, "cp-1"), "sold running 20");
    assert_eq!(said(lines, "cp-2"), "unused 0");
}

#[test]
fn in_a_nest_it_runs_and_is_sold_with_the_car() {
    let lines = "2025-05-01\n  build wb-1 into hub-1\n  build hub-1 into up-1\n\n2025-05-10 plover at pell-1\n  08:00 fit up-1 LF\n  09:00..09:20 \
                 run s1\n\n2025-06-01 plover\n  sell plover\n";
    assert_eq!(said(lines, "wb-1"), "sold running 20");
}

/// It broke at the first start: a life of nothing, and no division by it.
#[test]
fn a_life_of_zero() {
    let lines = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  failed cp-1 mode split\n  remove cp-1\n";
    assert_eq!(said(lines, "cp-1"), "failed 0");
}

/// `after s1`, typed when the day was over: it came off broken before s2, and was rebuilt in between.
#[test]
fn a_failure_said_late_counts_from_when_it_was() {
    let lines = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n  10:00..10:25 run s2\n  remove cp-1 failed after s1\n";
    assert_eq!(said(lines, "cp-1"), "failed 20");
    let back = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n  10:00..10:25 run s2\n  remove cp-1 failed after s1\n  \
                rebuild cp-1 with rubber after s1\n  fit cp-1 LR after s1\n";
    assert_eq!(said(back, "cp-1"), "failed 20, running 25");
}

/// Out of its assembly as failed is as failed as off the car.
#[test]
fn a_part_that_comes_out_failed_has_failed() {
    let lines = |how: &str| {
        format!(
            "2025-05-01\n  build wb-1 into hub-1\n  build hub-1 into up-1\n\n2025-05-10 plover at pell-1\n  08:00 fit up-1 LF\n  \
             09:00..09:20 run s1\n  10:00 strip wb-1 from hub-1{how}\n"
        )
    };
    assert_eq!(said(&lines(" failed"), "wb-1"), "failed 20");
    assert_eq!(said(&lines(""), "wb-1"), "good 20");
    let broken = lines("").replace("  10:00", "  09:30 failed wb-1 mode rumble\n  10:00");
    assert_eq!(said(&broken, "wb-1"), "failed 20");
}

/// The hub failed by its bearing: with another in it, it goes on as old as it was; nothing was made new but the bearing.
#[test]
fn an_assembly_put_right_by_another_part_goes_on_at_its_age() {
    let lines = "2025-05-01\n  build wb-1 into hub-1\n  build hub-1 into up-1\n\n2025-05-10 plover at pell-1\n  08:00 fit up-1 LF\n  \
                 09:00..09:20 run s1\n    failed hub-1 mode rumble\n  10:00 strip wb-1 from hub-1 failed\n  10:05 build wb-2 into hub-1\n  \
                 11:00..11:30 run s2\n";
    assert_eq!(said(lines, "hub-1"), "failed 20, running 50");
    assert_eq!(said(lines, "wb-1"), "failed 20");
    assert_eq!(said(lines, "wb-2"), "running 30");
    // Another bearing that went in before anything broke puts nothing right.
    let before = lines
        .replace("    failed hub-1 mode rumble\n", "")
        .replace("10:05 build", "10:05 build wb-2 into hub-1\n  10:10 failed hub-1 mode rumble\n  # build");
    assert_eq!(said(&before, "hub-1"), "failed 20, unmended 50");
}

#[test]
fn released_after_a_failure_it_goes_on_at_its_age() {
    let lines = "2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  09:00..09:20 run s1\n    failed cp-1 mode split\n  09:30 quarantine cp-1 because \
                 it looked split\n  09:40 release cp-1 because only the skin\n  09:50 fit cp-1 LR\n  10:00..10:25 run s2\n";
    assert_eq!(said(lines, "cp-1"), "failed 20, running 45");
    // Quarantined whole and released, it is one life.
    let whole = lines.replace("    failed cp-1 mode split\n", "");
    assert_eq!(said(&whole, "cp-1"), "running 45");
}

/// Used before the book and never fitted in it: it has lived so long without failing.
#[test]
fn on_the_shelf_with_minutes_on_it() {
    let shop = |opening: &str| {
        let text =
            format!("kind belt \"belt\"  fits nose\npart b-1 belt{opening}\n\n2025-05-01\n  shelve b-1\n");
        super::said_of(&crate::checks::compile_text(&text), "b-1")
    };
    assert_eq!(shop("  opening 55 min"), "good 55");
    assert_eq!(shop("  opening new"), "unused 0");
    assert_eq!(shop(""), "unused 0");
}

/// Pulled good in its assembly, which was sold afterwards: it did not run on from there.
#[test]
fn sold_from_the_shelf_it_had_been_pulled_good() {
    let lines = |sale: &str| {
        format!(
            "2025-05-01\n  build wb-1 into hub-1\n  build hub-1 into up-1\n\n2025-05-10 plover at pell-1\n  08:00 fit up-1 LF\n  \
             09:00..09:20 run s1\n\n2025-06-01 plover\n{sale}"
        )
    };
    assert_eq!(said(&lines("  remove up-1\n  sell up-1\n"), "wb-1"), "good 20");
    assert_eq!(said(&lines("  remove up-1\n  sell plover with up-1\n"), "wb-1"), "good 20");
    assert_eq!(said(&lines("  sell plover\n"), "wb-1"), "sold running 20");
}

/// As the book knew it on the Sunday: what was found and typed on Monday is not in it.
#[test]
fn a_moment_knows_only_what_had_been_said() {
    let compiled = crate::history::book(
        "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:28 run s1  14 laps\n\n2025-05-12 heron\n  remove cp-1\n  failed cp-1 mode split\n",
    );
    let id = crate::history::part(&compiled, "cp-1");
    let cut = crate::history::rank(&compiled, "heron", "pell-1/end");
    let lives = stringline::lives::lives(&compiled.book, &compiled.history, cut);
    assert!(matches!(lives.of_part(id), [life] if life.end == stringline::lives::End::Running));
}
