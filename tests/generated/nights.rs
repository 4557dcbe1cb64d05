//! Races past midnight of which every minute is known, written with less and less of it: what is said of a driver's day holds what he drove, a
//! session begins and ends when it did or nobody knows, and no rule on driving passes or fails that did not.

use super::book::{Chooser, stretch};
use super::holds::compiled;
use super::hunt::books;
use super::stints::files;
use std::collections::BTreeMap;
use stringline::answer::rules::build;
use stringline::book::model::CarId;
use stringline::history::moment;
use stringline::rules::driven::DriverDay;

const HEAD: &str = "person ned \"Ned\"
person ann \"Ann\"
car wren \"Wren\"  class E
rule dt class E  drive-time max 150 min
rule st class E  stint-time max 100 min

2026-04-02 wren
";

/// Minutes of the first day to its end.
const MIDNIGHT: i32 = 1440;

struct Race {
    lines: Vec<String>,
    from: i32,
    until: i32,
    /// By day (0 or 1) and driver.
    drove: BTreeMap<(i32, &'static str), i32>,
    /// The longest that somebody drove without another at the wheel.
    longest: i32,
}

fn clock(minutes: i32) -> String {
    format!("{:02}:{:02}", minutes / 60 % 24, minutes % 60)
}

fn race(pick: &mut Chooser<'_>) -> Race {
    let from = 1140 + 15 * pick.below(19) as i32;
    let (mut now, mut lines, mut drove) = (from, Vec::new(), BTreeMap::new());
    let (mut longest, mut going) = (0, ("", 0));
    let stints = 2 + pick.below(4);
    for stint in 0..stints {
        let minutes = 15 + pick.below(100) as i32;
        let driver = pick.of(&["ned", "ann"]);
        let over = now + minutes;
        lines.push(match pick.below(5) {
            0 => format!("    {}..{} stint {driver}", clock(now), clock(over)),
            1 => format!("    {} stint {driver}  {minutes} min", clock(now)),
            2 | 3 => format!("    stint {driver}  {minutes} min"),
            _ => format!("    stint {driver}"),
        });
        going = if going.0 == driver { (driver, going.1 + minutes) } else { (driver, minutes) };
        longest = longest.max(going.1);
        for (day, room) in [(0, MIDNIGHT.min(over) - now), (1, over - MIDNIGHT.max(now))] {
            if room > 0 {
                *drove.entry((day, driver)).or_default() += room;
            }
        }
        now = over;
        if stint + 1 < stints && pick.below(2) == 0 {
            let stood = 1 + pick.below(6) as i32;
            lines.push(match pick.below(3) {
                0 => format!("    {}..{} stop", clock(now), clock(now + stood)),
                1 => format!("    stop {stood} min"),
                _ => "    stop".to_owned(),
            });
            now += stood;
        }
    }
    // Without a time before midnight nothing tells that the night of the block is meant.
    let first =
        lines.iter().find_map(|line: &String| line.trim().split_once(':').map(|(hour, _)| hour.to_owned()));
    let told = first.and_then(|hour| hour.parse::<i32>().ok()).is_some_and(|hour| hour >= 12);
    let run = match pick.below(if told { 3 } else { 2 }) {
        0 => format!("  {}..{} run race", clock(from), clock(now)),
        1 => format!("  {} run race", clock(from)),
        _ => "  run race".to_owned(),
    };
    lines.insert(0, run);
    Race { lines, from, until: now, drove, longest }
}

#[test]
fn a_night_is_what_it_was_or_not_known() {
    let (mut exact, mut open, mut fails, mut passes, mut ends) = (0, 0, 0, 0, 0);
    for seed in 0..books(400, 20_000) {
        let bytes = stretch(seed ^ 0x21_97, 200);
        let Race { lines, from, until, drove, longest } = race(&mut Chooser::new(&bytes));
        let text = HEAD.to_owned() + &lines.join("\n") + "\n";
        let book = compiled(&files(&text));
        for check in ["outside-session", "times-backward", "stints-leave-hole", "ends-first"] {
            assert!(!book.diagnostics.iter().any(|one| one.check == check), "{check}\n{text}");
        }
        let (id, session) = book.history.sessions.all.iter_enumerated().next().unwrap();
        let day = jiff::civil::date(2026, 4, 2);
        // 20,545 days behind 1 January 1970, and no zone: the day begins at midnight UTC.
        let start = 20_545 * 1440;
        if book.history.order.begun.contains(&session.run) {
            assert_eq!(session.start - start, from, "{text}");
            if session.end > session.start {
                assert_eq!(session.end - start, until, "{text}");
                ends += usize::from(!lines[0].contains(".."));
            }
        }
        let days = DriverDay::of(&book.book, &book.history, &[id]);
        for ((date, driver), minutes) in &drove {
            let date = if *date == 0 { day } else { day.tomorrow().unwrap() };
            let of = |one: &&DriverDay| {
                one.date == date && book.book.people[one.driver].named.typed.to_string() == *driver
            };
            let Some(one) = days.iter().find(of) else { panic!("{date} {driver} {minutes}\n{text}") };
            let minutes = f64::from(*minutes);
            assert!(one.minutes <= minutes + 1e-6, "{date} {driver} {minutes}: {one:?}\n{text}");
            assert!(one.at_least || (one.minutes - minutes).abs() < 1e-6, "{minutes}: {one:?}\n{text}");
            exact += usize::from(!one.at_least);
            open += usize::from(one.at_least);
        }
        let card = build(&book, CarId::new(0), &moment::end(&book.history), None, None);
        for one in card.rules {
            let broken =
                if one.rule == "dt" { drove.values().any(|minutes| *minutes > 150) } else { longest > 100 };
            let wrong = if broken { "passes" } else { "fails" };
            assert_ne!(one.verdict, wrong, "{}\n{text}", one.rule);
            fails += usize::from(one.verdict == "fails");
            passes += usize::from(one.verdict == "passes");
        }
    }
    assert!(
        exact > 100 && open > 100 && fails > 50 && passes > 50 && ends > 20,
        "{exact} {open} {fails} {passes} {ends}"
    );
}
