//! Lives of parts: the coupling story and the others, since new, with what they carried in.

use super::{DEMO, car, event, part};
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::history::parts::Where;
use stringline::history::usage::{self, Use};

fn in_book(name: &str) -> Use {
    usage::of_part(&DEMO.book, &DEMO.history, part(name), Rank::START, Rank::END)
}

fn opening(name: &str, clock: Clock) -> f64 {
    let one = &DEMO.book.parts[part(name)];
    one.opening.iter().find(|amount| amount.clock == clock).map_or(0.0, |amount| amount.value)
}

/// (part, days, minutes) since new.
#[test]
fn the_coupling_story() {
    let table = [
        ("cp-01", 5.0, 292.0),
        ("cp-02", 4.0, 225.0),
        ("cp-03", 4.0, 208.0),
        ("cp-04", 2.0, 75.0),
        ("cp-05", 3.0, 249.0),
        ("cp-06", 2.0, 91.0),
        ("cp-07", 3.0, 161.0),
        ("cp-08", 6.0, 226.0),
        ("cp-09", 4.0, 154.0),
        ("ar-01", 2.0, 177.0),
        ("ar-02", 1.0, 82.0),
        ("ar-03", 1.0, 95.0),
    ];
    for (name, days, minutes) in table {
        let run = in_book(name);
        let total = run.minutes + opening(name, Clock::Time) / 60.0;
        let all_days = run.days.len() as f64 + opening(name, Clock::Days);
        assert!((total - minutes).abs() < 1e-9, "{name}: {total} min");
        assert!((all_days - days).abs() < 1e-9, "{name}: {all_days} days");
    }
    let std: f64 = table[..9].iter().map(|(.., minutes)| minutes).sum();
    assert!((std - 1681.0).abs() < 1e-9);
}

/// It changed cars within a day; that day counts once.
#[test]
fn cp_08_by_car() {
    let run = in_book("cp-08");
    assert_eq!((run.sessions, run.laps, run.days.len()), (17, 122, 6));
    assert!((run.distance / 1000.0 - 297.80).abs() < 0.005);
    let lines = DEMO.history.parts.get(part("cp-08"));
    let on = |name: &str| {
        let sessions = lines.stays.iter().filter(|stay| stay.car == Some(car(name))).flat_map(|stay| {
            DEMO.history
                .sessions
                .between(car(name), stay.from, stay.until)
                .iter()
                .map(|id| DEMO.history.sessions.get(*id))
        });
        usage::total(sessions)
    };
    let bittern = on("bittern");
    assert_eq!((bittern.laps, bittern.days.len()), (32, 2));
    assert!((bittern.minutes - 54.0).abs() < 1e-9 && (bittern.distance / 1000.0 - 88.0).abs() < 0.005);
    let plover = on("plover");
    assert_eq!(plover.days.len(), 5);
    let barrows: f64 = lines
        .stays
        .iter()
        .filter(|stay| stay.car == Some(car("plover")))
        .flat_map(|stay| DEMO.history.sessions.between(car("plover"), stay.from, stay.until))
        .map(|id| DEMO.history.sessions.get(*id))
        .filter(|session| session.event == Some(event("barrows-1")))
        .filter_map(|session| session.minutes)
        .sum();
    assert!((barrows - 35.0).abs() < 1e-9);
    assert_eq!(lines.now(), Where::Sold);
}

#[test]
fn who_failed() {
    let failed = |name: &str| !DEMO.history.parts.get(part(name)).failures.is_empty();
    for name in ["cp-01", "cp-03", "cp-04", "cp-05", "cp-06", "wb-05"] {
        assert!(failed(name), "{name}");
    }
    for name in ["cp-02", "cp-07", "cp-08", "cp-09", "ar-01", "ar-02", "ar-03", "wb-06", "ch-01"] {
        assert!(!failed(name), "{name}");
    }
}

#[test]
fn other_lives() {
    for (name, minutes) in [("wb-05", 420.0), ("wb-06", 665.0), ("wb-07", 582.0), ("wb-08", 337.0)] {
        let run = in_book(name).minutes + opening(name, Clock::Time) / 60.0;
        assert!((run - minutes).abs() < 1e-9, "{name}: {run}");
    }
    let chain = |name: &str| f64::from(in_book(name).launches) + opening(name, Clock::Launches);
    assert!((chain("ch-01") - 45.0).abs() < 1e-9);
    assert!((chain("ch-02") - 16.0).abs() < 1e-9);
}

/// Use summed along the path part-in-place is the use of the cars' sessions, place by place, to the minute.
#[test]
fn places_add_up_to_the_car() {
    for (name, place) in [("bittern", "LR"), ("bittern", "RR")] {
        let mut sum = 0.0;
        for id in DEMO.book.parts.keys() {
            if &*DEMO.book.kind_of(id).unwrap().named.name != "coupling" {
                continue;
            }
            for stay in &DEMO.history.parts.get(id).stays {
                let here = matches!(stay.at, Where::Car(on, at) if on == car(name) && DEMO.book.place_word(at) == place);
                if here {
                    sum += DEMO
                        .history
                        .sessions
                        .between(car(name), stay.from, stay.until)
                        .iter()
                        .filter_map(|id| DEMO.history.sessions.get(*id).minutes)
                        .sum::<f64>();
                }
            }
        }
        assert!((sum - 650.0).abs() < 1e-9, "{name} {place}: {sum}");
    }
}
