//! Work that comes round again, on every clock, in assemblies and out of them. Minutes are those typed.

// Whole minutes add up exactly.
#![allow(clippy::float_cmp)]

use super::part;
use crate::checks::compile_text;
use jiff::civil::{Date, date};
use stringline::Compiled;
use stringline::book::model::{CarId, Clock};
use stringline::history::intervals::{Interval, intervals};
use stringline::history::moment;
use stringline::history::order::Rank;
use stringline::history::slots::Owner;

const SHOP: &str = "circuit pell \"Pell\"  length 1.20 km
event pell-1 2025-05-10..11 at pell
event pell-2 2025-06-14..15 at pell
car heron \"Heron\"
  cylinders 4
  every 2 events torque wheel-torque
  every 6 months fill brake-fluid
kind coupling \"coupling\"  fits LR RR on heron  every 2 h, 60 laps inspect
kind hub \"hub\"  fits LF RF on heron  every 5 days rebuild
kind bearing \"bearing\"  inside hub  every 100 min inspect
kind disc \"disc\"  fits LF RF on heron  every 50 min read disc-thickness
part cp-1 coupling  opening 15 min
part hub-1 hub  opening new
part wb-1 bearing  opening new
part bd-1 disc  opening new
part bd-2 disc  opening new

2025-05-01
  build wb-1 into hub-1

2025-05-10 heron at pell-1
  fit cp-1 LR
  fit hub-1 LF
  fit bd-1 LF
  fit bd-2 RF
  torque wheel-torque 85 85 85 85 N.m
  fill brake-fluid DOT4 0.5 L
  09:00..09:20 run s1  20 laps
  10:00..10:30 run s2  25 laps
    inspect wb-1 good \"quiet\"
";

fn at(lines: &str, day: Date) -> (Compiled, Rank, Date) {
    let compiled = compile_text(&format!("{SHOP}{lines}"));
    let end = moment::end(&compiled.history).rank;
    (compiled, end, day)
}

/// Use since, what is left, and whether it is only "at least", in minutes or counts.
fn of((compiled, rank, day): &(Compiled, Rank, Date), owner: Owner, clock: Clock) -> (f64, f64, bool) {
    let list = intervals(&compiled.book, &compiled.history, *rank, *day);
    let is = |one: &&Interval<'_>| one.owner == owner && one.every.amount.clock == clock;
    let one = list.iter().find(is).unwrap();
    let unit = if clock == Clock::Time { 60.0 } else { 1.0 };
    (one.since.value / unit, one.left / unit, one.since.at_least)
}

fn owner(book: &(Compiled, Rank, Date), name: &str) -> Owner {
    Owner::Part(part(&book.0, name))
}

const HERON: Owner = Owner::Car(CarId::new(0));

/// 15 before the book and 20 + 30 in it; its laps before the book are not known.
#[test]
fn never_done_counts_from_new() {
    let book = at("", date(2025, 5, 31));
    assert_eq!(of(&book, owner(&book, "cp-1"), Clock::Time), (65.0, 55.0, false));
    assert_eq!(of(&book, owner(&book, "cp-1"), Clock::Laps), (45.0, 15.0, true));
    // The car's wheels were tightened before the first session of one event.
    assert_eq!(of(&book, HERON, Clock::Events), (1.0, 1.0, false));
}

/// Looked at after s2, in the hub; then 40 minutes more. The hub's rebuild is its own: the bearing's count goes on.
#[test]
fn an_inner_part_counts_by_itself() {
    let more = "
2025-05-11 heron at pell-1
  rebuild hub-1 with paint
  09:00..09:40 run s3
";
    let book = at(more, date(2025, 5, 31));
    assert_eq!(of(&book, owner(&book, "wb-1"), Clock::Time), (40.0, 60.0, false));
    assert_eq!(of(&book, owner(&book, "hub-1"), Clock::Days), (1.0, 4.0, false));
    let all = more.replace("paint", "all");
    let book = at(&all.replace("09:00..09:40 run s3", "09:00..09:25 run s3"), date(2025, 5, 31));
    assert_eq!(of(&book, owner(&book, "wb-1"), Clock::Time), (25.0, 75.0, false));
}

/// One corner read: the other disc's count goes on. A reading that is void was none.
#[test]
fn a_reading_counts_for_the_part_in_its_place() {
    let book = at(
        "
2025-05-11 heron at pell-1
  read disc-thickness LF 21.0 mm
  read disc-thickness RF 21.0 mm
    void because the jaw slipped
  09:00..09:10 run s3
",
        date(2025, 5, 31),
    );
    assert_eq!(of(&book, owner(&book, "bd-1"), Clock::Time), (10.0, 40.0, false));
    assert_eq!(of(&book, owner(&book, "bd-2"), Clock::Time), (60.0, -10.0, false));
}

/// One wheel tightened is not all of them.
#[test]
fn part_of_the_work_is_not_the_work() {
    let book = at(
        "
2025-06-14 heron at pell-2
  torque wheel-torque LF 85 N.m
  09:00..09:10 run s1
",
        date(2025, 6, 30),
    );
    assert_eq!(of(&book, HERON, Clock::Events), (2.0, 0.0, false));
}

/// Six months from 10 May are up on 10 November; in between three months and 5 of 31 days.
#[test]
fn months_are_the_calendars() {
    let book = at("", date(2025, 8, 15));
    let (since, left, at_least) = of(&book, HERON, Clock::Months);
    assert!((since - (3.0 + 5.0 / 31.0)).abs() < 1e-12 && (since + left - 6.0).abs() < 1e-12 && !at_least);
    let list = intervals(&book.0.book, &book.0.history, book.1, book.2);
    let due: Vec<Date> = list.iter().filter_map(|one| one.due_on).collect();
    assert_eq!(due, [date(2025, 11, 10)]);
}

/// A line of the work with a mistake may have been it: this much or more.
#[test]
fn a_line_with_a_mistake_leaves_it_open() {
    let book = at(
        "
2025-05-11 heron at pell-1
  inspect cp-1 god \"no cracks\"
  09:00..09:10 run s3  10 laps
",
        date(2025, 5, 31),
    );
    let about = |one: &&stringline::diagnostics::Diagnostic| one.message.contains("cp-1");
    assert_eq!(book.0.diagnostics.iter().filter(about).count(), 0, "one mistake, one message");
    assert_eq!(of(&book, owner(&book, "cp-1"), Clock::Time), (10.0, 110.0, true));
}

/// A top-up is no change: 20 hours after the oil was filled, 12 are passed.
#[test]
fn what_is_added_is_no_change() {
    let of = |plus: &str| {
        let book = compile_text(&format!(
            "car aa \"A\"\nkind engine \"engine\"  fits bay  every 12 h fill engine-oil\npart e1 engine  opening new\n\
             2026-09-01 aa\n  fit e1 bay\n  fill engine-oil 10W-50 5 L\n  run s1 600 min\n  fill engine-oil 10W-50 {plus} L\n\
             2026-09-02 aa\n  run s2 600 min\n"
        ));
        let end = moment::end(&book.history).rank;
        let list = intervals(&book.book, &book.history, end, date(2026, 9, 3));
        (list[0].since.value / 3600.0, book.diagnostics.iter().any(|one| one.check == "interval-overdue"))
    };
    assert_eq!(of("+0.3"), (20.0, true));
    assert_eq!(of("5"), (10.0, false));
}

/// Work on some of the places does not do the work of all, whether it was ever done on the others or not; lines that together are about all of
/// them do, from the one that is longest ago.
#[test]
fn work_on_one_wheel_is_not_the_work_of_four() {
    let since = |every: &str, first: &str, then: &str| {
        let made = compile_text(&format!(
            "car wren \"W\"  cylinders 4\n  every 100 min {every}\nkind pads \"pads\"  fits front  every 100 min read pad-thickness\n\
             part p-1 pads  opening new\n2026-03-01 wren\n  fit p-1 front\n{first}  10:00..11:00 run s1\n{then}  12:00..13:00 run s2\n"
        ));
        let end = moment::end(&made.history).rank;
        let list = intervals(&made.book, &made.history, end, date(2026, 3, 1));
        let of = |owner| list.iter().find(|one| one.owner == owner).unwrap().since.value / 60.0;
        (of(Owner::Car(CarId::new(0))), of(Owner::Part(part(&made, "p-1"))))
    };
    // Two hours since the beginning or the first line, one since the second.
    for (every, all, one, two) in [
        ("torque wheel-torque", "torque wheel-torque all 85 N.m", "torque wheel-torque LF 85 N.m", None),
        (
            "torque wheel-torque",
            "torque wheel-torque all 85 N.m",
            "torque wheel-torque LF 85 RF 85 N.m",
            Some("torque wheel-torque LR 85 RR 85 N.m"),
        ),
        ("recheck wheel-torque", "recheck wheel-torque ok", "recheck wheel-torque LF ok", None),
        (
            "recheck wheel-torque",
            "recheck wheel-torque ok",
            "recheck wheel-torque front ok",
            Some("recheck wheel-torque rear ok"),
        ),
        ("read tyre-cold", "read tyre-cold 1.5 1.5 1.5 1.5 bar", "read tyre-cold LF 1.5 bar", None),
        ("read lash-inlet", "found lash-inlet 0.2 0.2 0.2 0.2 mm", "found lash-inlet c1 0.2 mm", None),
        (
            "read pad-thickness",
            "read pad-thickness LF 8 RF 8 mm",
            "read pad-thickness LF 8 mm",
            Some("read pad-thickness RF 8 mm"),
        ),
    ] {
        let lines = |lines: &[&str]| format!("  {}\n", lines.join("\n  "));
        let on_car = |first: &str, then: &str| since(every, first, then).0;
        for first in [String::new(), lines(&[all])] {
            assert_eq!(on_car(&first, &lines(&[one])), 120.0, "{one}, after {first:?}");
            assert_eq!(on_car(&first, &lines(&[all])), 60.0, "{all}, after {first:?}");
            if let Some(two) = two {
                assert_eq!(on_car(&first, &lines(&[one, two])), 60.0, "{one}; {two}, after {first:?}");
            }
        }
    }
    let pads = |then: &str| since("read tyre-cold", "", then).1;
    assert_eq!(pads("  read pad-thickness LF 8 mm\n"), 120.0);
    assert_eq!(pads("  read pad-thickness LF 8 RF 8 mm\n"), 60.0);
    assert_eq!(pads("  read pad-thickness LF 8 mm\n  read pad-thickness RF 8 mm\n"), 60.0);
}
