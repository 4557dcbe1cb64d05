//! What a line about a part, an impact or a session leaves unknown when it cannot be read: no word of it is passed over, and nothing that it
//! may have touched is told as if it had not stood there.

use super::{at, book, car, part};
use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::diagnostics::Severity;
use stringline::history::impact::unseen;
use stringline::history::order::Rank;
use stringline::history::unread::{is_placed, unread};
use stringline::history::usage::of_part;

fn errors(compiled: &Compiled) -> Vec<&str> {
    let all = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
    all.map(|one| one.check).collect()
}

/// Minutes that a part ran, and whether they are the least that it did: by the count of its sessions and by its lives alike.
fn minutes(compiled: &Compiled, name: &str) -> (f64, bool) {
    let part = part(compiled, name);
    let (seconds, least) =
        of_part(&compiled.book, &compiled.history, part, Rank::START, Rank::END).on(Clock::Time);
    let lives = stringline::lives::life::of(&compiled.book, &compiled.history, part, Rank::END);
    let life = lives.last().unwrap().on(&compiled.book, Clock::Time);
    assert_eq!((life.value, life.at_least), (seconds, least), "{name}");
    (seconds / 60.0, least)
}

fn fit_unknown(compiled: &Compiled, name: &str) -> bool {
    unread(&compiled.book, &compiled.history, part(compiled, name), Rank::END).is_some()
}

const ON: &str =
    "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  fit up-1 LF\n  build hub-1 into up-1\n  run s1  20 min\n";

fn after(line: &str) -> Compiled {
    book(&format!("{ON}  {line}\n  run s2  20 min\n"))
}

/// Each line has one part where its verb takes no list; a second leaves both in doubt: where they are, what they ran, how they are.
#[test]
fn a_second_part_is_told_and_leaves_both_in_doubt() {
    for (line, moves, judges) in [
        ("remove cp-1, cp-2", true, false),
        ("remove cp-1 cp-2 failed", true, false),
        ("shelve cp-1, cp-2", true, false),
        ("move cp-1, cp-2 -> plover prop", true, false),
        ("swap coupling LR cp-1 -> cp-2, up-2", true, false),
        ("fit cp-2, cp-1 RR", true, false),
        ("buy cp-1, cp-2 20.00 EUR", true, false),
        ("build cp-1, cp-2 into up-1", true, false),
        ("scrap cp-1, cp-2 because torn", true, true),
        ("quarantine cp-1, cp-2 because torn", true, true),
        ("rebuild cp-1, cp-2", false, true),
        ("inspect cp-1, cp-2 good", false, true),
        ("service cp-1, cp-2", false, true),
        ("failed cp-1, cp-2", false, true),
    ] {
        let made = after(line);
        assert_eq!(errors(&made), ["clause-twice"], "{line}");
        for name in ["cp-1", "cp-2"] {
            let placed = is_placed(&made.history, part(&made, name), Rank::END);
            assert_eq!((!placed, fit_unknown(&made, name)), (moves, judges), "{line} {name}");
        }
        assert_eq!(minutes(&made, "cp-1"), if moves { (20.0, true) } else { (40.0, false) }, "{line}");
    }
}

/// A second word of what a line says once, and one that its verb has no use for: neither the first nor the last is taken.
#[test]
fn no_word_of_a_line_is_passed_over() {
    for line in [
        "fit cp-2 RR LR",
        "fit cp-2 RR failed",
        "fit cp-2 RR plover heron",
        "remove cp-1 good failed",
        "remove cp-1 failed good",
        "remove cp-1 LR RR",
        "swap coupling LR cp-1 -> cp-2 RR",
        "swap coupling cp-1 -> cp-2 -> cp-1",
        "move cp-1 LR -> plover prop",
        "move cp-1 -> plover prop cp-2",
        "build cp-2 LF into up-1",
        "build cp-2 into up-1 into up-2",
        "strip hub-1 LF from up-1",
        "shelve cp-2 RR",
        "shelve cp-2 failed",
        "release cp-2 failed because looked at",
        "failed cp-1 good",
        "failed cp-1 failed",
        "quarantine cp-1 good because torn",
        "service cp-1 failed",
        "rebuild cp-1 LR",
    ] {
        let made = after(line);
        assert_eq!(errors(&made).len(), 1, "{line}: {:?}", errors(&made));
        let broken = made.book.entries.iter().filter(|entry| entry.broken).count();
        assert_eq!(broken, 1, "{line}");
    }
    // The place of a swap may stand behind what goes on: of a part that is elsewhere it is asked about.
    let behind = after("swap coupling cp-1 -> cp-2 LR");
    assert!(errors(&behind).is_empty(), "{:?}", errors(&behind));
    assert_eq!(at(&behind, "cp-2", Rank::END), "heron LR");
    assert_eq!(errors(&after("swap coupling cp-1 -> cp-2 RR")), ["pull-not-there"]);
}

/// How it failed only adds; of what a look found with a mistake nobody knows whether the part is fit.
#[test]
fn a_line_that_says_how_a_part_is_is_not_lost() {
    for line in [
        "failed cp-1 during s1 mode split mechansm tear",
        "failed cp-1 mode",
        "failed cp-1 durng s1",
        "failed cp-1 \"split",
    ] {
        let made = after(line);
        let told = made.history.parts.get(part(&made, "cp-1"));
        assert_eq!((told.failures.len(), errors(&made).len()), (1, 1), "{line}");
    }
    for line in [
        "inspect cp-1 faild",
        "inspect cp-1 failed \"crack",
        "quarantine cp-1 becuse bent",
        "scrap cp-1 becuse bent",
        "service cp-1 until 2025-13",
        "rebuild cp-1 wth all",
        "release cp-1 gooood",
        // Which of those on the car.
        "failed cp-1x",
        "inspect cp-1x failed",
    ] {
        let made = after(line);
        assert_eq!(errors(&made).len(), 1, "{line}: {:?}", errors(&made));
        assert!(fit_unknown(&made, "cp-1"), "{line}");
    }
    // Until a line says how it is.
    for line in ["inspect cp-1 good", "inspect cp-1 failed", "rebuild cp-1", "failed cp-1"] {
        let made = after(&format!("inspect cp-1 faild\n  {line}"));
        assert!(!fit_unknown(&made, "cp-1"), "{line}");
    }
    // That somebody looked is no more than was known.
    assert!(fit_unknown(&after("inspect cp-1 faild\n  inspect cp-1 \"seen\""), "cp-1"));
}

/// That the car was hit is known, and not where: whatever was on it waits to be looked at, at whatever place.
#[test]
fn an_impact_that_cannot_be_read_was_anywhere_on_the_car() {
    for line in ["hit RFF \"wall\" during s1", "hit RF \"wall", "hit"] {
        let made = after(line);
        for name in ["cp-1", "up-1", "hub-1"] {
            let waits = unseen(&made.book, &made.history, part(&made, name), Rank::END);
            assert!(waits.is_some_and(|hit| hit.car == car(&made, "heron")), "{line} {name}");
        }
        for name in ["cp-2", "up-2"] {
            assert_eq!(
                unseen(&made.book, &made.history, part(&made, name), Rank::END),
                None,
                "{line} {name}"
            );
        }
    }
    // A place that is read is that place alone.
    let read = after("hit RF \"wall\"");
    assert_eq!(unseen(&read.book, &read.history, part(&read, "cp-1"), Rank::END), None);
}

/// Of a session on a line that cannot be read, or under such a head, nobody knows how long it was: at least what the others come to.
#[test]
fn a_session_that_cannot_be_read_makes_counts_at_least() {
    let head = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  10:00..10:40 run s1\n";
    for (lines, wanted) in [
        ("  11:00..11:40 run s2\n", (80.0, false)),
        ("  11:00..11:4O run s2\n", (40.0, true)),
        ("  11:OO..11:40 run s2\n", (40.0, true)),
        ("  11:00..11:40 run \"s2\n", (40.0, true)),
        ("  11:00..11:40 run s2\n  run s3 10 min by nobdy 5\n", (80.0, true)),
        // It may be 10, 40 or both, and less than the 40 between its times.
        ("  11:00..11:40 run s2 10 min 40 min\n", (40.0, true)),
        ("2025-05-32 heron\n  11:00..11:40 run s2\n", (40.0, true)),
        ("2025-05-11 heronn\n  11:00..11:40 run s2\n", (40.0, true)),
        ("2025-05-32 plover\n  11:00..11:40 run s2\n", (40.0, false)),
    ] {
        let made = book(&format!("{head}{lines}"));
        assert_eq!(minutes(&made, "cp-1"), wanted, "{lines}");
        let run = of_part(&made.book, &made.history, part(&made, "cp-1"), Rank::START, Rank::END);
        for clock in [Clock::Laps, Clock::Sessions, Clock::Days, Clock::Launches, Clock::HeatCycles] {
            // Laps are said of none of them.
            assert_eq!(run.on(clock).1, wanted.1 || clock == Clock::Laps, "{lines} {clock:?}");
        }
        assert_eq!(minutes(&made, "cp-2"), (0.0, false), "{lines}");
    }
    // What goes on afterwards has run none of it.
    let later = book(&format!("{head}  11:00..11:4O run s2\n  fit cp-2 RR\n  12:00..12:10 run s3\n"));
    assert_eq!((minutes(&later, "cp-1"), minutes(&later, "cp-2")), ((50.0, true), (10.0, false)));
}

/// Two cars claim a part: from the line that contradicts the book what it ran is known on neither. Where no car ran meanwhile, nothing is open.
#[test]
fn a_part_that_two_cars_claim_ran_at_least_what_it_had_run() {
    let head = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n";
    let plover = "2025-05-11 plover at pell-1\n  10:00..10:40 run s1\n";
    let swap = "2025-05-12 heron\n  swap coupling LR cp-1 -> cp-2\n";
    for (claim, error) in [
        ("2025-05-11 plover\n  fit cp-1 prop\n", "part-in-two-places"),
        ("2025-05-11 heron\n  move cp-1 -> plovr prop\n", "name-unknown"),
        ("2025-05-11 heron\n  fit cp-1 RRR\n", "line-incomplete"),
    ] {
        let made = book(&format!("{head}{claim}{plover}{swap}"));
        assert_eq!(errors(&made), [error], "{claim}");
        assert_eq!(minutes(&made, "cp-1"), (20.0, true), "{claim}");
        assert_eq!(minutes(&made, "cp-2"), (0.0, false), "{claim}");
        let still = book(&format!("{head}{claim}{swap}"));
        assert_eq!(minutes(&still, "cp-1"), (20.0, false), "{claim}");
    }
    // It came off a car that the book never had it on: it must have been there, nobody knows since when.
    let off = book(&format!(
        "{head}{plover}2025-05-12 plover\n  remove cp-1\n2025-05-13 heron\n  swap coupling LR cp-1 -> cp-2\n"
    ));
    assert_eq!(errors(&off), ["pull-not-there"]);
    assert_eq!(minutes(&off, "cp-1"), (20.0, true));
    let between = "2025-05-11 heron\n  10:00..10:30 run s2\n";
    let lost = book(&format!("{head}2025-05-11 heron\n  swap LR cp-1 -> cp-2x\n{between}2025-05-12 heron\n  swap LR cp-2 -> cp-3\n")
        .replace("2025-05-10 heron", "part cp-3 coupling  opening new\n2025-05-10 heron"));
    assert_eq!(errors(&lost), ["serial-unknown"]);
    assert_eq!((minutes(&lost, "cp-2"), minutes(&lost, "cp-1")), ((0.0, true), (20.0, true)));
    assert_eq!(at(&lost, "cp-3", Rank::END), "heron LR");
}

/// A line that looks at a part under the head of a car that it is not on, or in another place: one of the two is a slip.
#[test]
fn a_part_is_looked_at_where_it_is() {
    let head = "2025-05-10 heron at pell-1\n  fit cp-1 LR\n  09:00..09:20 run s1\n2025-05-11 plover at pell-1\n  run s1  30 min\n";
    for line in ["failed cp-1 during s1", "failed cp-1", "inspect cp-1 good", "scrap cp-1 because torn"] {
        let made = book(&format!("{head}  {line}\n"));
        assert_eq!(errors(&made), ["pull-not-there"], "{line}");
        assert_eq!(at(&made, "cp-1", Rank::END), "heron LR", "{line}");
        let told = made.history.parts.get(part(&made, "cp-1"));
        assert_eq!((told.failures.len(), fit_unknown(&made, "cp-1")), (0, true), "{line}");
        assert_eq!(minutes(&made, "cp-1"), (20.0, true), "{line}");
    }
    assert_eq!(errors(&after("failed cp-1 RR during s1")), ["pull-not-there"]);
    assert!(errors(&after("failed cp-1 LR during s1")).is_empty());
    // Found later of a session that it was in.
    let later = "2025-05-12 heron\n  move cp-1 -> plover prop\n  failed cp-1 after s1\n";
    assert!(
        errors(&book(&format!(
            "{head}{}",
            later
                .replace("05-12 heron", "05-12 heron at pell-1")
                .replace("after", "during")
                .replace("2025-05-12", "2025-05-11")
        )))
        .is_empty()
    );
    // In the shop a part is looked at wherever it came from.
    assert!(errors(&book(&format!("{head}2025-05-12\n  inspect cp-1 good\n"))).is_empty());
}
