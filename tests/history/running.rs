//! What ran as it happened: a race of eight hours with three drivers and three stops, and two loops of stages. Every number is worked
//! out by hand from the lines.

// Whole minutes add up exactly.
#![allow(clippy::float_cmp)]

use super::part;
use crate::checks::compile_text;
use crate::figures::{close, missing, trace};
use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::history::usage::{Use, of_part};

pub const EIGHT: &str = include_str!("../fixtures/running/eight-hours.sline");
const LOOPS: &str = include_str!("../fixtures/running/loops.sline");

fn used(compiled: &Compiled, name: &str) -> Use {
    of_part(&compiled.book, &compiled.history, part(compiled, name), Rank::START, Rank::END)
}

fn messages(compiled: &Compiled) -> Vec<String> {
    compiled.diagnostics.iter().map(|one| format!("{}: {}", one.check, one.message)).collect()
}

/// Stints of 110, 114, 118 and 115 minutes; pads changed at the second stop.
#[test]
fn stints_and_stops_divide_a_session() {
    let book = compile_text(EIGHT);
    assert_eq!(messages(&book), Vec::<String>::new());
    let (id, race) = book.history.sessions.all.iter_enumerated().next().unwrap();
    assert_eq!((race.minutes, race.laps), (Some(457.0), Some(210)));
    let drives: Vec<f64> = book.history.sessions.drives(id).map(|(.., minutes)| minutes.unwrap()).collect();
    assert_eq!(drives, [110.0, 114.0, 118.0, 115.0]);
    let (first, second) = (used(&book, "pd-1"), used(&book, "pd-2"));
    assert_eq!(first.on(Clock::Time), (224.0 * 60.0, false));
    assert_eq!(second.on(Clock::Time), (233.0 * 60.0, false));
    assert_eq!((first.on(Clock::Laps), second.on(Clock::Laps)), ((106.0, false), (104.0, false)));
    // Either was in the race.
    assert_eq!((first.on(Clock::Sessions), second.on(Clock::Sessions)), ((1.0, false), (1.0, false)));
    assert!((first.on(Clock::Distance).0 - 106.0 * 3200.0).abs() < 1e-6);
}

/// 65 L and 40 + 45 + 40 added, 457 minutes at 24 L/h burn 182.8: 7.2 L are left, which is 18 minutes more.
#[test]
fn fuel_is_a_running_account() {
    close(&trace(EIGHT, &["curlew", "fuel-aboard"]).0, "value", 7.2, 1e-9);
    close(&trace(EIGHT, &["curlew", "fuel-left"]).0, "value", 7.2, 1e-9);
    close(&trace(EIGHT, &["curlew", "fuel-range"]).0, "value", 18.0, 1e-9);
    // What is said to be aboard begins the account anew: 60 L at the last stop, and 115 minutes burn 46.
    let stated = EIGHT.replacen(
        "16:00..16:05 stop \"driver, fuel\"\n      fill fuel +40 L",
        "16:00..16:05 stop\n      fill fuel 60 L",
        1,
    );
    assert_ne!(stated, EIGHT);
    close(&trace(&stated, &["curlew", "fuel-aboard"]).0, "value", 14.0, 1e-9);
    // Without a rate nobody knows, and it says what is missing.
    let without = EIGHT.replace("  set fuel-rate 24 L/h\n", "");
    assert!(missing(&without, &["curlew", "fuel-aboard"]).contains("fuel-rate"));
    // What was read of the race needs none: 65 + 125 - 180.
    let read = without.replace("  result race", "  read fuel-used 180 L  after race\n  result race");
    close(&trace(&read, &["curlew", "fuel-aboard"]).0, "value", 10.0, 1e-9);
}

/// Ada drove 110 + 115 minutes of the day, Cy 118 at a stretch.
#[test]
fn rules_on_driving_read_the_stints() {
    let tight = EIGHT
        .replace("stint-time max 120 min", "stint-time max 117 min")
        .replace("drive-time max 240 min", "drive-time max 220 min");
    let said = messages(&compile_text(&tight));
    assert_eq!(said.len(), 2, "{said:#?}");
    assert!(
        said.iter().any(|one| one.contains("118 min")) && said.iter().any(|one| one.contains("225 min")),
        "{said:#?}"
    );
    // Whoever goes on behind a stop without another at the wheel goes on driving: 110 + 114.
    let alone = EIGHT.replace("stint bo", "stint ada");
    let said = messages(&compile_text(&alone));
    assert!(said.iter().any(|one| one.contains("224 min")), "{said:#?}");
}

/// A correction is the right value, typed.
#[test]
fn a_correction_is_as_good_as_the_right_value() {
    close(&trace(EIGHT, &["curlew", "total-weight"]).0, "value", 963.0, 1e-9);
    let typed = EIGHT
        .replace("total-weight 961 kg", "total-weight 963 kg")
        .replace("  correct total-weight 961 -> 963 kg", "  # nothing");
    let (one, other) = (
        trace(EIGHT, &["curlew", "weight-after-session"]).0,
        trace(&typed, &["curlew", "weight-after-session"]).0,
    );
    assert_eq!(one["value_si"], other["value_si"]);
    // What was typed first stands beside it wherever it is used.
    let chain = trace(EIGHT, &["curlew", "weight-after-session"]).0.to_string();
    assert!(chain.contains("typed 961 kg, corrected on line 49 of book.sline"), "{chain}");
    let book = compile_text(EIGHT);
    let (item, _) = book.book.corrections.iter().next().expect("a correction");
    assert_eq!(book.context().typed_first(*item).as_deref(), Some("961 kg"));
}

/// 9.4 + 12.1 + 6.0 km timed and 62 on the road, then 9.4 + 12.1 and 20 + 22: 49 at speed, 153 in all.
#[test]
fn road_ages_the_gearbox_and_stages_are_counted_apart() {
    let book = compile_text(LOOPS);
    assert_eq!(messages(&book), Vec::<String>::new());
    let gearbox = used(&book, "gb-1");
    assert!((gearbox.on(Clock::Distance).0 - 153_000.0).abs() < 1e-6, "{:?}", gearbox.on(Clock::Distance));
    assert!((gearbox.on(Clock::StageDistance).0 - 49_000.0).abs() < 1e-6);
    // 5:31.2 + 7:40.5 + 3:58.8 and 5:28.0 + 7:37.0 in seconds; the road was not timed.
    assert!(gearbox.on(Clock::Time).1);
    assert!((gearbox.on(Clock::Time).0 - (331.2 + 460.5 + 238.8 + 328.0 + 457.0)).abs() < 1e-6);
    // The tyres of a loop are those that were on.
    assert!((used(&book, "g2a").on(Clock::StageDistance).0 - 21_500.0).abs() < 1e-6);
    // Over the limit, one message.
    let worn = LOOPS.replace("life 900 km, 300 stage-km", "life 900 km, 80 stage-km");
    let said = messages(&compile_text(&worn));
    assert!(said.len() == 1 && said[0].contains("89"), "{said:#?}");
    let road = LOOPS.replace("life 900 km, 300 stage-km", "life 250 km, 300 stage-km");
    let said = messages(&compile_text(&road));
    assert!(said.len() == 1 && said[0].contains("273"), "{said:#?}");
}

/// A note stands where its time is, between what was before and after it.
#[test]
fn a_note_has_a_time() {
    let book = compile_text(EIGHT);
    let note =
        book.book.entries.iter().position(|line| line.verb == stringline::book::entry::Verb::Note).unwrap();
    let at = |index: usize| book.history.order.at.as_slice()[index];
    let race = book.book.runs.as_slice()[0].entry.index();
    assert_eq!(at(note) - at(race), 330, "15:30 is five and a half hours after ten");
}

/// Three sessions of a quarter of an hour at 30 L/h burn 7.5 L each.
pub const ONE_FILL: &str = r#"car heron "Heron"
circuit pell "Pell Hill"  length 1.20 km
event pell-1 2025-05-10..11 at pell "Pell Hill, spring"
2025-05-10 heron at pell-1
  set fuel-rate 30 L/h
  left weight 149.5 151.0 170.5 171.0 kg  with driver 78 kg, fuel 20 L
  fill fuel 20 L
  10:00..10:15 run s1
  11:00..11:15 run s2
  12:00..12:15 run s3
"#;

/// Filled once and run twice more: whether it was filled between, the book does not say. Where it must have been, nothing is known.
#[test]
fn a_fill_between_sessions_may_not_have_been_written_down() {
    let caution = "run since it was filled: s1; whether it was filled between, the book does not say";
    for figure in ["fuel-left", "weight-after-session", "fuel-aboard"] {
        let (first, _) = trace(ONE_FILL, &["heron", figure, "pell-1/after-s1"]);
        assert!(!first.to_string().contains("run since it was filled"), "{figure}: {first}");
        let (second, _) = trace(ONE_FILL, &["heron", figure, "pell-1/after-s2"]);
        assert!(second.to_string().contains(caution), "{figure}: {second}");
        let lacks = missing(ONE_FILL, &["heron", figure, "pell-1/after-s3"]);
        assert!(lacks.contains("less than none is left"), "{figure}: {lacks}");
    }
    close(&trace(ONE_FILL, &["heron", "fuel-left", "pell-1/after-s2"]).0, "value", 5.0, 1e-9);
    // Each fill that is written down says how much there is, and nothing is doubtful.
    let filled = ONE_FILL
        .replace("  11:00..", "  fill fuel 20 L\n  11:00..")
        .replace("  12:00..", "  fill fuel +10 L\n  12:00..");
    let (third, _) = trace(&filled, &["heron", "fuel-left"]);
    close(&third, "value", 15.0, 1e-9);
    assert!(!third.to_string().contains("run since it was filled"), "{third}");
}

/// 22:50 to midnight are 70 minutes of the first day, midnight to 02:10 are 130 of the next.
#[test]
fn a_stint_past_midnight_is_of_both_days() {
    use stringline::rules::driven::DriverDay;
    let book = "shop \"Pell\"  zone Europe/London\nperson ada \"Ada\"\nperson bo \"Bo\"\ncar heron \"Heron\"\n\n\
                2025-08-16 heron\n  21:00..03:00 run race\n    21:00..22:50 stint bo\n    22:50..02:10 stint ada\n    \
                02:10..03:00 stint bo\n";
    let compiled = compile_text(book);
    assert_eq!(messages(&compiled), Vec::<String>::new());
    let ids: Vec<_> = compiled.history.sessions.all.iter_enumerated().map(|(id, _)| id).collect();
    let days: Vec<(String, f64, bool)> = DriverDay::of(&compiled.book, &compiled.history, &ids)
        .into_iter()
        .map(|day| {
            let who = &compiled.book.people[day.driver].named.typed;
            (format!("{} {who}", day.date), day.minutes, day.at_least)
        })
        .collect();
    let expected = [
        ("2025-08-16 ada", 70.0),
        ("2025-08-16 bo", 110.0),
        ("2025-08-17 ada", 130.0),
        ("2025-08-17 bo", 50.0),
    ];
    assert_eq!(days, expected.map(|(who, minutes)| (who.to_owned(), minutes, false)));
    // Minutes that are not the clock's cannot be cut: of neither day is it known.
    let typed = book.replace("stint ada", "stint ada  150 min");
    let compiled = compile_text(&typed);
    let days = DriverDay::of(&compiled.book, &compiled.history, &ids);
    assert_eq!(days.iter().filter(|day| day.at_least).count(), 2, "{days:?}");
}

/// Laps under a yellow are listed and timed by nobody's clock: the best is of the others, and the count is of all.
#[test]
fn yellow_laps_are_no_times_to_compare() {
    let book = compile_text(
        "car heron \"Heron\"\n\n2025-05-10 heron\n  10:00..10:06 run race\n    \
         laps 0:42.0 0:41.8 0:38.0 yellow 0:55.2 yellow 0:41.9\n",
    );
    let race = &book.history.sessions.all.as_slice()[0];
    assert_eq!((race.laps, race.best), (Some(5), Some(41.8)));
    assert!(!messages(&book).iter().any(|one| one.contains("lap-out-of-range")), "{:?}", messages(&book));
}

/// A stint that begins before the one above it was over is said with the time it was over at; a driver's stint without its verb, and words
/// of a race that are no verbs, are pointed on.
#[test]
fn slips_under_a_session_are_told_by_what_was_meant() {
    let told = |from: &str, to: &str| {
        let book = EIGHT.replacen(from, to, 1);
        assert_ne!(book, EIGHT);
        let found = compile_text(&book).diagnostics;
        found.iter().map(|one| format!("{}: {} {:?}", one.check, one.message, one.cure)).collect::<Vec<_>>()
    };
    let said = told("14:02..16:00 stint cy", "13:58..16:00 stint cy");
    assert!(
        said.iter()
            .any(|one| one.contains("13:58 is earlier than 14:02 of the line above it, when that was over")),
        "{said:#?}"
    );
    for (from, to, near) in [
        ("14:02..16:00 stint cy", "14:02..16:00 cy", "`stint cy`"),
        ("16:00..16:05 stop", "16:00..16:05 pit", "`stop`"),
        ("  result race grid 7 finish 4", "  finish 4", "`result finish`"),
    ] {
        let said = told(from, to);
        assert!(
            said.iter().any(|one| one.starts_with("verb-unknown") && one.contains(near)),
            "{near}: {said:#?}"
        );
    }
    let said = told("grid 7 finish", "grid 0 finish");
    assert!(said.iter().any(|one| one.contains("a place, from 1 on")), "{said:#?}");
}

/// Two drove it: either is named, neither has all of its laps.
#[test]
fn who_drove_a_divided_session() {
    let book = compile_text(EIGHT);
    let race = &book.history.sessions.all.as_slice()[0];
    let names: Vec<&str> =
        book.history.sessions.drivers(race).iter().map(|one| &*book.book.people[*one].named.typed).collect();
    assert_eq!(names, ["ada", "bo", "cy"]);
    assert_eq!(race.driver, None);
    let alone = compile_text(&EIGHT.replace("stint bo", "stint ada").replace("stint cy", "stint ada"));
    let race = &alone.history.sessions.all.as_slice()[0];
    assert_eq!(race.driver.map(|one| &*alone.book.people[one].named.typed), Some("ada"));
}

/// 40 L at 6 L a lap are for six laps and two thirds of one, which ends beside the track; 36 L are for just six.
#[test]
fn a_range_is_of_whole_laps() {
    for (fuel, laps) in [("40", 6.0), ("36", 6.0), ("35.9", 5.0)] {
        let book = format!(
            "car heron \"Heron\"\n\n2025-05-10 heron\n  run s1  20 min  5 laps\n    read fuel-used 30 L\n  fill fuel {fuel} L\n"
        );
        let (figure, _) = trace(&book, &["heron", "fuel-range-laps"]);
        close(&figure, "value", laps, 1e-9);
    }
}

/// `during` may name a stage, `after` a session alone; of no label that is there nothing is guessed.
#[test]
fn a_stage_is_named_for_its_session() {
    let of = |label: &str| {
        let book = compile_text(&format!(
            "car heron \"Heron\"\nkind coupling \"coupling\"  fits RF\npart cp coupling\n\n2025-05-10 heron\n  run loop-1\n    stage ss1 10 km 6:00.0\n  run loop-2\n    \
             stage ss2 10 km 6:00.0\n  run loop-3\n  fit cp RF  after {label}\n"
        ));
        let one = book.diagnostics.into_iter().find(|one| one.check == "session-unknown").expect("said");
        one.cure.map(|cure| format!("{cure:?}")).unwrap_or_default()
    };
    assert!(of("ss1").contains("`loop-1`"), "{}", of("ss1"));
    assert!(of("SS2").contains("`loop-2`"), "{}", of("SS2"));
    assert!(!of("shakedown").contains("loop-"), "{}", of("shakedown"));
}

/// Two laps of 1.2 km are driven, and no stage; 12 km of a run with stages are.
#[test]
fn laps_of_a_circuit_are_no_stage() {
    let text = |run: &str| {
        format!(
            "circuit ring \"Ring\"  length 1.20 km\nevent e 2025-05-10..11 at ring \"E\"\ncar wren \"Wren\"\nkind box \"box\"  fits gearbox\n\
             part b-1 box  opening new\n2025-05-10 wren at e\n  fit b-1 gearbox\n  {run}\n"
        )
    };
    for (run, all, stages) in [
        ("run s1 2 laps", 2.4, (0.0, false)),
        ("run s1 5 min 2 laps 2.6 km", 2.6, (0.0, false)),
        ("run s1\n    stage a 12 km 8:00", 12.0, (12.0, false)),
        ("run s1 2 laps\n  run s2\n    stage a 12 km 8:00", 14.4, (12.0, false)),
        // A stop cuts it: each leg is laps.
        (
            "10:00..10:10 run s1 2 laps\n    10:00..10:04 stint 1 lap\n    10:04..10:05 stop\n    10:05..10:10 stint 1 lap",
            2.4,
            (0.0, false),
        ),
    ] {
        let book = compile_text(&text(run));
        let used = used(&book, "b-1");
        assert!((used.on(Clock::Distance).0 - all * 1000.0).abs() < 1e-6, "{run}");
        let (value, least) = used.on(Clock::StageDistance);
        assert!((value - stages.0 * 1000.0).abs() < 1e-6 && least == stages.1, "{run}: {value} {least}");
    }
}

/// A session over midnight is of the year it began in, its days each of their own: 31 December, and 1 January once.
#[test]
fn a_day_is_of_its_own_year() {
    let text = "shop \"S\"  zone Europe/Dublin\nevent nye 2024-12-31..2025-01-01 \"Nye\"\ncar wren \"Wren\"\n\
                2024-12-31 wren at nye\n  23:00..01:00 run s1\n2025-01-01 wren at nye\n  10:00..10:30 run s2\n";
    for (lines, old, new, all) in [
        (text, (1, 1), (1, 1), (2, 2)),
        (&*text.replace("  10:00..10:30 run s2\n", ""), (1, 1), (0, 1), (1, 2)),
    ] {
        let book = compile_text(lines);
        let ran = |year| {
            let asked = stringline::costs::select::Selection { year, ..Default::default() };
            let ran = asked.running(&book.book, &book.history, book.reader);
            (ran.sessions, ran.days)
        };
        assert_eq!((ran(Some(2024)), ran(Some(2025)), ran(None)), (old, new, all), "{lines}");
    }
}
