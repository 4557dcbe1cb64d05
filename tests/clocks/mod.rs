//! Clock faces as instants: through every clock change of eight zones against Python's zoneinfo, and what follows from a block's
//! own order. The golden file names its tzdata; `oracles/zoneinfo_clocks.py` writes it.

mod blocks;
mod nights;
mod typed;

use std::fmt::Write as _;
use stringline::history::sessions::Session;
use stringline::source::Memory;
use stringline::{Compiled, compile};

/// Zone, date, start, end, readings (offset of the start, of the end, minutes between).
type Case = (String, String, String, String, Vec<(i16, i16, i32)>);

#[derive(serde::Deserialize)]
struct Golden {
    tzdata: String,
    cases: Vec<Case>,
}

fn golden() -> Golden {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/clocks/zoneinfo.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// `+01:00`.
fn offset(minutes: i16) -> String {
    stringline::words::offset(minutes)
}

/// The clock's messages, and every session, of one session a car, each in a file of its own.
fn ran(zone: &str, lines: &[(&str, String)]) -> Compiled {
    let mut cars = format!("shop \"S\"  zone {zone}\n");
    let mut files: Vec<(String, String)> = Vec::new();
    for (at, (date, line)) in lines.iter().enumerate() {
        writeln!(cars, "car c-{at} \"C\"").unwrap();
        files.push((format!("f{at:05}.sline"), format!("{date} c-{at}\n  {line}\n")));
    }
    files.push(("a.sline".to_owned(), cars));
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    compile(&Memory::new(&files, "2028-06-01T12:00:00Z".parse().unwrap())).unwrap()
}

/// What is said about the times of the session, and the session.
fn of(book: &Compiled, at: usize) -> (Vec<&str>, &Session) {
    let (_, session) = book.history.sessions.of(book.book.cars.keys().nth(at).unwrap()).next().unwrap();
    let file = session.label.file;
    let said =
        book.diagnostics.iter().filter(|one| one.at.as_ref().is_some_and(|mark| mark.span.file == file));
    (said.map(|one| one.check).filter(|check| *check != "event-in-future").collect(), session)
}

#[test]
fn every_change_of_eight_zones_is_as_zoneinfo_has_it() {
    let golden = golden();
    assert!(!golden.tzdata.is_empty());
    let zones: std::collections::BTreeSet<&str> = golden.cases.iter().map(|case| case.0.as_str()).collect();
    assert_eq!(zones.len(), 8);
    for zone in zones {
        let own: Vec<&Case> = golden.cases.iter().filter(|case| case.0 == zone).collect();
        let lines: Vec<(&str, String)> = own
            .iter()
            .map(|(_, date, from, to, _)| (date.as_str(), format!("{from}..{to} run s1")))
            .collect();
        let book = ran(zone, &lines);
        for (at, (_, date, from, to, readings)) in own.iter().enumerate() {
            let (said, session) = of(&book, at);
            let what = format!("{zone} {date} {from}..{to}: {said:?} {:?}", session.minutes);
            match readings.as_slice() {
                [] => assert!(said == ["clock-skipped"] && session.minutes.is_none(), "{what}"),
                [(.., minutes)] => {
                    assert!(said.is_empty() && session.minutes == Some(f64::from(*minutes)), "{what}");
                }
                _ => assert!(said == ["clock-twice"] && session.minutes.is_none(), "{what}"),
            }
        }
    }
}

/// Where two readings have the same minutes and start an hour apart, the minutes are known and the start is asked about: what else was
/// done that night is before or after the session by its start, so it is not guessed.
#[test]
fn a_double_time_is_clear_with_its_offset_and_its_length_with_the_minutes() {
    let golden = golden();
    let mut asked = 0;
    for zone in golden.cases.iter().map(|case| case.0.as_str()).collect::<std::collections::BTreeSet<_>>() {
        let mut lines = Vec::new();
        let mut wanted = Vec::new();
        for (_, date, from, to, readings) in golden.cases.iter().filter(|case| case.0 == zone) {
            for (before, after, minutes) in readings {
                let typed = format!("{from} {}..{to} {} run s1", offset(*before), offset(*after));
                lines.push((date.as_str(), typed));
                lines.push((date.as_str(), format!("{from}..{to} run s1  {minutes} min")));
                let fits = readings.iter().filter(|one| (one.2 - minutes).abs() <= 1);
                let starts: std::collections::BTreeSet<i16> = fits.map(|one| one.0).collect();
                wanted.extend([(*minutes, false), (*minutes, starts.len() > 1)]);
            }
        }
        let book = ran(zone, &lines);
        for (at, (minutes, unsure)) in wanted.iter().enumerate() {
            let (said, session) = of(&book, at);
            asked += usize::from(*unsure);
            assert_eq!(said, Vec::from_iter(unsure.then_some("clock-twice")), "{zone} {:?}", lines[at]);
            assert_eq!(session.minutes, Some(f64::from(*minutes)), "{zone} {:?}", lines[at]);
            assert_eq!(session.end - session.start, *minutes, "{zone} {:?}", lines[at]);
            assert_eq!(book.history.order.decided[session.entry], !unsure, "{zone} {:?}", lines[at]);
        }
    }
    assert!(asked > 0);
}
