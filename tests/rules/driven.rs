//! Rules on what drivers drove: what is not told is never a pass, a plan is no drive, and midnight cuts a stint whose length the others
//! leave. Every number is worked out by hand from the lines.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::rules::{RuleView, build};
use stringline::audience::{Reader, cut};
use stringline::book::model::CarId;
use stringline::book::names::Thing;
use stringline::history::moment;

const HEAD: &str = "shop \"S\"  zone Europe/London
person ada \"Ada\"
person bo \"Bo\"
client orr \"Orr\"
car heron \"Heron\"  client orr class E
car plover \"Plover\"  class E
rule st class E  stint-time max 100 min
rule dt class E  drive-time max 200 min
2025-05-10 heron
";

fn rule(book: &Compiled, name: &str) -> RuleView {
    let card = build(book, CarId::new(0), &moment::end(&book.history), None, None);
    card.rules.into_iter().find(|one| one.rule == name).expect("a rule in force")
}

/// The verdict of a rule, and the value it is of.
fn held(lines: &str, name: &str) -> (&'static str, String) {
    let one = rule(&compile_text(&format!("{HEAD}{lines}")), name);
    (one.verdict, one.value.map_or_else(String::new, |value| value.text))
}

fn is(lines: &str, name: &str, verdict: &str, value: &str) {
    assert_eq!(held(lines, name), (verdict, value.to_owned()), "{name}\n{lines}");
}

/// Three hours, of which 140 minutes are of nobody: 40 and 140 may be one stint.
#[test]
fn what_nobody_drove_is_no_pass() {
    let whole = "  10:00..13:00 run race\n    10:00..12:20 stint ada\n    12:20..13:00 stint bo\n";
    is(whole, "st", "fails", "140 min");
    for unknown in ["    10:00..12:20 stint adda\n", ""] {
        let lines = whole.replace("    10:00..12:20 stint ada\n", unknown);
        let book = compile_text(&format!("{HEAD}{lines}"));
        let one = rule(&book, "st");
        assert_eq!((one.verdict, one.margin.is_none()), ("not-known", true), "{lines}");
        assert_eq!(one.missed.map(|missed| missed.session).as_deref(), Some("race"), "{lines}");
        // All of it is no more than 180 minutes of a day.
        is(&lines, "dt", "passes", "at most 180 min");
    }
    // Who may not read a stint has not read of less.
    let hidden = whole.replace("stint ada", "stint ada  for shop");
    let book = compile_text(&format!("{HEAD}{hidden}"));
    let Some(Thing::Client(orr)) = book.book.names.find("orr") else { panic!("no client") };
    let one = rule(&cut(&book, &Reader::Client(orr)), "st");
    assert_eq!(
        (one.verdict, one.value.map(|value| value.text).as_deref()),
        ("not-known", Some("at least 40 min"))
    );
}

/// 110 minutes are over 100 whatever the two open stints were; 140 of 240 minutes are Ada's, and the rest is hers or Bo's.
#[test]
fn what_is_at_least_over_the_limit_fails() {
    let open = "  10:00..14:00 run race\n    10:00..11:50 stint ada\n    stint ada\n    stint bo\n    13:30..14:00 stint ada\n";
    is(open, "st", "fails", "at least 110 min");
    is(open, "dt", "not-known", "at least 140 min");
    // 210 minutes, and an hour of which nobody knows whose it is.
    let over = "  10:00..13:30 run r1 by ada\n  14:00..15:00 run r2\n    stint ada\n    stint bo\n";
    is(over, "dt", "fails", "at least 210 min");
    // A session of which nobody is named: no more than its minutes.
    is("  10:00..11:00 run s1\n", "st", "passes", "at most 60 min");
    is("  10:00..13:30 run s1\n", "st", "not-known", "at least 0 min");
}

/// What the next race is planned with was driven by nobody.
#[test]
fn a_plan_hides_no_failure() {
    let lines = "  10:00..12:30 run race by ada\n  set stint-time 60 min  because the next race is shorter\n";
    is(lines, "st", "fails", "150 min");
    let planned = "  set stint-time 60 min\n";
    is(planned, "st", "no-reading", "");
    // What was read is held to it.
    is("  read drive-time 210 min\n", "dt", "fails", "210 min");
}

/// The rule is of one car: what a driver drove of another is not in it, and the vocabulary says so.
#[test]
fn a_drive_time_is_of_one_car() {
    let lines = "  10:00..12:30 run race by ada\n2025-05-10 plover\n  13:00..15:30 run race by ada\n";
    is(lines, "dt", "passes", "150 min");
    let book = compile_text(HEAD);
    let id = book.book.vocabulary.find("drive-time").expect("a quantity");
    assert!(book.book.vocabulary.get(id).sentence.contains("of this car"));
}

/// Each driver's days: "2025-05-10 ada 60".
fn days(lines: &str) -> Vec<String> {
    use stringline::rules::driven::DriverDay;
    let book = compile_text(&format!("{HEAD}{lines}"));
    let ids: Vec<_> = book.history.sessions.all.iter_enumerated().map(|(id, _)| id).collect();
    let days = DriverDay::of(&book.book, &book.history, &ids);
    let day = |day: &DriverDay| {
        let who = book.book.people[day.driver].named.typed.to_string();
        let least = if day.at_least { "at least " } else { "" };
        format!("{} {who} {least}{}", day.date, day.minutes)
    };
    days.iter().map(day).collect()
}

/// Ada has what Bo's 90 of 300 minutes leave: 60 up to midnight, 150 behind it.
#[test]
fn an_open_stint_past_midnight_is_of_both_days() {
    let lines = "  23:00..04:00 run race\n    stint ada\n    02:30..04:00 stint bo\n";
    let expected = ["2025-05-10 ada 60", "2025-05-11 ada 150", "2025-05-11 bo 90"];
    assert_eq!(days(lines), expected);
    is(lines, "dt", "passes", "150 min");
    // Bo's own minutes in place of his times say the same.
    assert_eq!(days(&lines.replace("02:30..04:00 stint bo", "stint bo  90 min")), expected);
    // So does a stop of which nobody knows how long it was, behind Ada's typed minutes.
    let stopped = "  23:00..04:00 run race\n    stint ada  120 min\n    stop\n    stint bo  170 min\n";
    assert_eq!(days(stopped), ["2025-05-10 ada 60", "2025-05-11 ada 60", "2025-05-11 bo 170"]);
    // Between two stops of no length nobody knows which day it was; but of the time from 23:00 to 03:00, 60 minutes are of the 10th, so that
    // 110 of 170 are of the 11th for certain.
    let lost = "  22:00..04:00 run race\n    stint ada  60 min\n    stop\n    stint bo  170 min\n    stop\n    stint ada  60 min\n";
    assert_eq!(
        days(lost),
        ["2025-05-10 ada 60", "2025-05-10 bo at least 0", "2025-05-11 ada 60", "2025-05-11 bo at least 110"]
    );
    is(lost, "dt", "passes", "at most 170 min");
}

/// Ada drives 60 + 150 = 210 minutes of one race and 100 of the next day's: 210 of a session, 310 of the event, 250 of the 11th.
#[test]
fn a_session_and_an_event_are_not_cut_at_midnight() {
    let lines = "event ev 2025-05-10..11 \"Night\"\nrule sd class E  session-drive-time max 200 min\nrule ed class E  event-drive-time max 300 min\n\
                 2025-05-10 heron at ev\n  23:00..04:00 run race\n    23:00..02:30 stint ada\n    02:30..04:00 stint bo\n\
                 2025-05-11 heron at ev\n  12:00..13:40 run next  by ada\n";
    let head = HEAD.replace("2025-05-10 heron\n", "");
    let book = compile_text(&format!("{head}{lines}"));
    let held = |name: &str| {
        let one = rule(&book, name);
        (one.verdict, one.value.map_or_else(String::new, |value| value.text))
    };
    assert_eq!(held("sd"), ("fails", "210 min".to_owned()));
    assert_eq!(held("ed"), ("fails", "310 min".to_owned()));
    assert_eq!(held("dt"), ("fails", "250 min".to_owned()));
    // Of a stint that nobody may read, or that nobody drove, any of them may have driven.
    let untold = compile_text(&format!("{head}{}", lines.replace("stint ada", "stint adda")));
    assert_eq!(rule(&untold, "ed").verdict, "not-known");
}

/// The run has no times of its own, its stints have: it is of both days all the same. 90 minutes of Ada's, then two stints of nobody knows how
/// long from 23:30 to 02:00, then two hours of Bo's: of the 150 minutes any may be Bo's, so that 120 of 200 is no pass of the 11th.
#[test]
fn a_run_has_the_days_of_its_stints() {
    let lines =
        "  run race\n    22:00..23:30 stint ada\n    stint bo\n    stint ada\n    02:00..04:00 stint bo\n";
    assert_eq!(
        days(lines),
        [
            "2025-05-10 ada at least 90",
            "2025-05-10 bo at least 0",
            "2025-05-11 ada at least 0",
            "2025-05-11 bo at least 120"
        ]
    );
    is(lines, "dt", "not-known", "at least 120 min");
    // Bo drove 90 minutes more in the morning: 210 are too many, whoever had the 150.
    let morning = lines.to_owned() + "  10:00..11:30 run r2 by bo\n";
    is(&morning, "dt", "fails", "at least 210 min");
}

/// Ada drives from 21:00 to 23:30, Bo the next hour, Ada the hour behind it: 00:30 is the next day's. On the 10th she has 150 minutes, and not 210.
#[test]
fn a_stint_behind_a_timed_one_is_of_the_day_that_it_comes_to() {
    let lines = "  run race\n    21:00..23:30 stint ada\n    stint bo  60 min\n    stint ada  60 min\n";
    let expected = ["2025-05-10 ada 150", "2025-05-10 bo 30", "2025-05-11 ada 60", "2025-05-11 bo 30"];
    for head in ["  run race\n", "  21:00 run race\n", "  21:00..01:30 run race\n"] {
        let lines = lines.replace("  run race\n", head);
        assert_eq!(days(&lines), expected, "{head}");
        is(&lines, "dt", "passes", "150 min");
        let book = compile_text(&format!("{HEAD}{lines}"));
        let hole = book.diagnostics.iter().find(|one| one.check == "stints-leave-hole");
        assert!(hole.is_none(), "{hole:?}");
    }
    // Ada's first stint stands above the first time: 22:30 to 23:30 is Bo's hour, and before it nobody knows how long she drove.
    let above = "  20:00..21:00 run r1 by bo\n  run race\n    stint ada\n    stint bo  60 min\n    23:30..23:50 stint ada\n";
    assert_eq!(days(above), ["2025-05-10 ada at least 20", "2025-05-10 bo 120"]);
    let book = compile_text(&format!("{HEAD}{above}"));
    assert!(!book.diagnostics.iter().any(|one| one.check == "outside-session"), "{:?}", book.diagnostics);
    // Of 150 minutes behind one that does not say how long it was, from 23:50 on, ten are of the 10th at the most.
    let behind = "  run race\n    23:30..23:50 stint bo\n    stint ada\n    stint bo  150 min\n";
    assert_eq!(
        days(behind),
        [
            "2025-05-10 ada at least 0",
            "2025-05-10 bo at least 20",
            "2025-05-11 ada at least 0",
            "2025-05-11 bo at least 140"
        ]
    );
}

/// By its times nobody else can have driven between two stints of Ada's, and 60 and 60 minutes are over 100 whatever the rest was.
#[test]
fn what_is_certainly_too_much_fails() {
    let lines = "  10:00..14:00 run race\n    10:00..11:00 stint ada\n    11:00..12:00 stint ada\n    stint\n    stint bo\n";
    is(lines, "st", "fails", "at least 120 min");
    let stopped = lines.replace("    11:00..12:00", "    11:00..11:10 stop\n    11:10..12:10");
    is(&stopped, "st", "fails", "at least 120 min");
    // With ten minutes of nobody between them somebody else may have been in.
    let hole = lines.replace("    11:00..12:00", "    11:10..12:10");
    is(&hole, "st", "not-known", "at least 60 min");
    // Behind a stop of nobody knows how long, 240 minutes between 22:00 and 02:30: 120 of the 10th and 150 of the 11th have room, so that at
    // least 90 and 120 were driven on each; with 90 more in the morning 210 are too many.
    let split =
        "  22:00..02:30 run race\n    stop\n    stint ada  240 min\n    stop\n  10:00..11:30 run r2 by ada\n";
    assert_eq!(days(split), ["2025-05-10 ada at least 90", "2025-05-11 ada at least 210"]);
    is(split, "dt", "fails", "at least 210 min");
}

/// A meeting past midnight is one meeting: 150 minutes before it fail the card of the day after.
#[test]
fn past_midnight_it_is_the_same_meeting() {
    let lines =
        "  21:00..01:30 run race\n    21:00..23:30 stint ada\n    stint bo  60 min\n    stint ada  60 min\n";
    is(lines, "st", "fails", "150 min");
}

/// Two stints of an hour in a session of eight: with six hours of nobody, no line says on which side of midnight they were.
#[test]
fn in_a_session_with_a_hole_nobody_knows_the_day() {
    let lines = "  20:00..04:00 run race\n    stint ada  60 min\n    stint bo  60 min\n";
    let ada = ["2025-05-10 ada at least 0", "2025-05-11 ada at least 0"];
    assert!(ada.iter().all(|day| days(lines).contains(&(*day).to_owned())), "{:?}", days(lines));
    // Timed, they are of the 10th.
    let timed = lines
        .replace("    stint ada  60", "    20:00 stint ada  60")
        .replace("    stint bo", "    21:00 stint bo");
    assert_eq!(days(&timed), ["2025-05-10 ada 60", "2025-05-10 bo 60"]);
}

/// A rule that begins within a meeting judges what was driven from that day on: three hours the day before are another rule's.
#[test]
fn a_rule_that_begins_at_a_meeting_judges_its_own_days() {
    let event =
        "event ev 2025-05-10..11 \"Night\"\nrule late class E  drive-time max 100 min  from 2025-05-11\n";
    let lines = |second: &str| {
        let head = HEAD.replace("2025-05-10 heron\n", &format!("{event}2025-05-10 heron at ev\n"));
        let book =
            compile_text(&format!("{head}  10:00..13:00 run r1 by ada\n2025-05-11 heron at ev\n{second}"));
        let one = rule(&book, "late");
        (one.verdict, one.value.map_or_else(String::new, |value| value.text))
    };
    assert_eq!(lines("  10:00..11:20 run r2 by ada\n"), ("passes", "80 min".to_owned()));
    assert_eq!(lines("  10:00..11:50 run r2 by ada\n"), ("fails", "110 min".to_owned()));
}
