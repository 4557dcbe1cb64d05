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

/// Found on Monday, broken in s1: the life ends with s1, though the car ran s2 with it.
#[test]
fn a_failure_ends_the_life_in_the_session_it_happened() {
    let lines = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n  10:00..10:25 run s2\n  failed cp-1 during s1 mode split\n  \
                 remove cp-1\n";
    assert_eq!(said(lines, "cp-1"), "failed 20, unmended 25");
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
