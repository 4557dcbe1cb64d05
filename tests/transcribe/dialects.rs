//! One season written in every dialect that a program writes: the lines are the same in all of them, or a question is asked.
//!
//! What the lines must say is the season made here, read back from the book they are pasted into.

use super::{fixtures, pasted, transcribed};
use jiff::civil::Date;
use proptest::prelude::*;
use std::fs;
use stringline::source::Memory;

#[derive(Debug, Clone)]
struct Lap {
    hundredths: u32,
    mark: Option<&'static str>,
}

#[derive(Debug, Clone)]
struct Session {
    day: i32,
    laps: Vec<Lap>,
    /// Tenths of a psi.
    cold: u32,
}

fn session() -> impl Strategy<Value = Session> {
    let mark = prop::option::weighted(0.2, prop::sample::select(vec!["in-lap", "out-lap", "yellow"]));
    let lap = (1_000_u32..12_000, mark).prop_map(|(hundredths, mark)| Lap { hundredths, mark });
    (0..300, prop::collection::vec(lap, 1..6), 150_u32..400).prop_map(|(day, laps, cold)| Session {
        day,
        laps,
        cold,
    })
}

#[derive(Debug, Clone, Copy)]
#[expect(clippy::struct_excessive_bools, reason = "each is a habit of its own")]
struct Dialect {
    separator: char,
    decimal: char,
    date: &'static str,
    bom: bool,
    crlf: bool,
    title: bool,
    /// Whether laps are `1:08.42` (else seconds).
    minutes: bool,
}

fn dialect() -> impl Strategy<Value = Dialect> {
    (
        prop::sample::select(vec![',', ';', '\t']),
        prop::sample::select(vec!['.', ',']),
        prop::sample::select(vec!["%Y-%m-%d", "%d/%m/%Y", "%m/%d/%Y", "%d.%m.%y", "%d %b %Y"]),
        any::<[bool; 4]>(),
    )
        .prop_map(|(separator, decimal, date, [bom, crlf, title, minutes])| Dialect {
            separator,
            decimal,
            date,
            bom,
            crlf,
            title,
            minutes,
        })
}

fn date(day: i32) -> Date {
    Date::constant(2026, 1, 3).saturating_add(jiff::Span::new().days(day))
}

fn sheet(sessions: &[Session], dialect: Dialect) -> String {
    let end = if dialect.crlf { "\r\n" } else { "\n" };
    let cell = |text: String| {
        if text.contains([dialect.separator, '"']) {
            format!("\"{}\"", text.replace('"', "\"\""))
        } else {
            text
        }
    };
    let row = |cells: &[String]| {
        let cells: Vec<String> = cells.iter().map(|text| cell(text.clone())).collect();
        cells.join(&dialect.separator.to_string()) + end
    };
    let heads = ["Day", "Session, run", "Lap", "Time", "Mark", "Cold \"LF\""].map(str::to_owned);
    let mut out = if dialect.bom { "\u{FEFF}".to_owned() } else { String::new() };
    if dialect.title {
        out += &row(&["A title".to_owned()]);
        out += end;
    }
    out += &row(&heads);
    for (at, session) in sessions.iter().enumerate() {
        for (number, lap) in session.laps.iter().enumerate() {
            let (whole, part) = (lap.hundredths / 100, lap.hundredths % 100);
            let time = if dialect.minutes {
                format!("{}:{:02}{}{part:02}", whole / 60, whole % 60, dialect.decimal)
            } else {
                format!("{whole}{}{part:02}", dialect.decimal)
            };
            out += &row(&[
                date(session.day).strftime(dialect.date).to_string(),
                format!("{}", at + 1),
                format!("{}", number + 1),
                time,
                lap.mark.unwrap_or_default().to_owned(),
                format!("{}{}{}", session.cold / 10, dialect.decimal, session.cold % 10),
            ]);
        }
    }
    out
}

const MAPPING: &str = "car = \"wren\"\n[columns]\nDay = \"date\"\n\"Session, run\" = \"session\"\nLap = \"lap\"\nTime = \"lap-time\"\n\
                       Mark = \"mark\"\n'Cold \"LF\"' = \"set tyre-cold LF psi\"\n";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    #[test]
    fn the_lines_are_the_season_in_every_dialect(
        sessions in prop::collection::vec(session(), 1..5),
        dialect in dialect(),
    ) {
        let home = tempfile::tempdir().unwrap();
        let (at, by) = (home.path().join("sheet.csv"), home.path().join("by.toml"));
        fs::write(&at, sheet(&sessions, dialect)).unwrap();
        fs::write(&by, MAPPING).unwrap();
        let said = transcribed(&at, fixtures().join("book").to_str().unwrap(), &by);
        // What this sheet leaves open is the order of its days alone: where each may be a day and a month; and two digits of a year may be
        // a day of the month where they are not the day.
        let days = || sessions.iter().map(|session| date(session.day));
        let open = match dialect.date {
            "%d/%m/%Y" | "%m/%d/%Y" => {
                days().all(|day| day.day() <= 12) && days().any(|day| day.day() != day.month())
            }
            "%d.%m.%y" => days().any(|day| day.day() != 26),
            _ => false,
        };
        if open {
            prop_assert_eq!((said.code.as_str(), said.out.as_str()), ("2", ""));
            prop_assert!(said.err.contains("write `dates = "), "{}", said.err);
            return Ok(());
        }
        prop_assert_eq!(said.code, "0", "{}", said.err);
        let shop = fs::read_to_string(fixtures().join("book/shop.sline")).unwrap();
        let made = stringline::compile(&Memory::new(&[("a.sline", &shop), ("b.sline", &said.out)], crate::checks::now())).unwrap();
        let wrong: Vec<_> = made.diagnostics.iter().filter(|one| one.severity == stringline::diagnostics::Severity::Error).collect();
        prop_assert!(wrong.is_empty(), "{}\n{wrong:?}", said.out);
        let mut found: Vec<(Date, String, Vec<(u32, bool)>)> = made
            .book
            .runs
            .iter()
            .map(|run| {
                let entry = &made.book.entries[run.entry];
                let times = run.times.iter().map(|(time, slow)| ((time * 100.0).round() as u32, *slow)).collect();
                (made.book.heads[entry.head].date, made.files.typed(run.label).to_owned(), times)
            })
            .collect();
        found.sort();
        let mut wanted: Vec<_> = sessions
            .iter()
            .enumerate()
            .map(|(at, session)| {
                let laps = session.laps.iter().map(|lap| (lap.hundredths, lap.mark.is_some())).collect();
                (date(session.day), format!("s{}", at + 1), laps)
            })
            .collect();
        wanted.sort();
        prop_assert_eq!(found, wanted, "{}", said.out);
        for session in &sessions {
            let line = format!("  set tyre-cold LF {}.{} psi", session.cold / 10, session.cold % 10);
            prop_assert!(said.out.contains(&line), "{}\n{}", line, said.out);
        }
        // And handed in again there is nothing left.
        let again = transcribed(&at, &pasted(home.path(), &said.out), &by);
        prop_assert_eq!((again.out.as_str(), again.code.as_str()), ("", "0"), "{}", again.err);
    }
}
