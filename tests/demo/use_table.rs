//! Days, sessions, laps, minutes and kilometres of every car at every event.

use super::{DEMO, car, event};
use stringline::history::usage::{Use, total};

const EVENTS: [&str; 7] =
    ["quern-1", "slatehead-1", "ardwell-1", "barrows-1", "slatehead-2", "quern-2", "ardwell-2"];

/// days, sessions, laps, minutes, km; `None` where the car was not there.
type Row = Option<(usize, u32, u32, f64, f64)>;

const CARS: [(&str, [Row; 7], Row); 4] = [
    (
        "teal",
        [
            Some((1, 4, 41, 56.0, 94.71)),
            Some((2, 8, 8, 32.0, 11.04)),
            None,
            Some((2, 7, 14, 35.0, 38.50)),
            Some((2, 9, 9, 36.0, 12.42)),
            None,
            None,
        ],
        Some((7, 28, 72, 159.0, 156.67)),
    ),
    (
        "bittern",
        [
            Some((2, 8, 118, 170.0, 272.58)),
            None,
            Some((2, 8, 75, 189.0, 363.00)),
            Some((2, 6, 68, 114.0, 187.00)),
            None,
            Some((2, 8, 122, 177.0, 281.82)),
            None,
        ],
        Some((8, 30, 383, 650.0, 1104.40)),
    ),
    (
        "plover",
        [
            Some((2, 7, 72, 120.0, 166.32)),
            Some((2, 6, 6, 24.0, 8.28)),
            Some((2, 6, 40, 130.0, 193.60)),
            Some((2, 8, 60, 126.0, 165.00)),
            Some((2, 6, 6, 24.0, 8.28)),
            Some((2, 6, 67, 113.0, 154.77)),
            None,
        ],
        Some((12, 39, 251, 537.0, 696.25)),
    ),
    (
        "curlew",
        [
            Some((2, 5, 86, 135.0, 198.66)),
            None,
            Some((2, 5, 73, 210.0, 353.32)),
            Some((2, 5, 91, 170.0, 250.25)),
            None,
            Some((2, 5, 96, 150.0, 221.76)),
            Some((2, 4, 119, 337.0, 575.96)),
        ],
        Some((10, 24, 465, 1002.0, 1599.95)),
    ),
];

fn assert_row(what: &str, got: &Use, row: Row) {
    let Some((days, sessions, laps, minutes, km)) = row else {
        assert_eq!(got.sessions, 0, "{what} was not there");
        return;
    };
    assert_eq!((got.days.len(), got.sessions, got.laps), (days, sessions, laps), "{what}");
    assert!((got.minutes - minutes).abs() < 1e-9, "{what}: {} min", got.minutes);
    assert!((got.distance / 1000.0 - km).abs() < 0.005, "{what}: {} km", got.distance / 1000.0);
    assert!(!got.minutes_at_least && !got.laps_at_least && !got.distance_at_least, "{what}");
}

#[test]
fn every_cell_of_the_use_table() {
    for (name, row, season) in CARS {
        for (at, want) in EVENTS.iter().zip(row) {
            let sessions = DEMO.history.sessions.at(car(name), event(at)).map(|(_, session)| session);
            assert_row(&format!("{name} at {at}"), &total(sessions), want);
        }
        let sessions = DEMO.history.sessions.of(car(name)).map(|(_, session)| session);
        assert_row(&format!("{name}, the season"), &total(sessions), season);
    }
}

/// Car-days, sessions, laps, minutes and km of all cars, event by event.
#[test]
fn the_row_of_all_cars() {
    let all: [(usize, u32, u32, f64, f64); 7] = [
        (7, 24, 317, 481.0, 732.27),
        (4, 14, 14, 56.0, 19.32),
        (6, 19, 188, 529.0, 909.92),
        (8, 26, 233, 445.0, 640.75),
        (4, 15, 15, 60.0, 20.70),
        (6, 19, 285, 440.0, 658.35),
        (2, 4, 119, 337.0, 575.96),
    ];
    for (at, (days, sessions, laps, minutes, km)) in EVENTS.iter().zip(all) {
        let mut sum = (0, 0, 0, 0.0, 0.0);
        for (name, ..) in CARS {
            let one = total(DEMO.history.sessions.at(car(name), event(at)).map(|(_, session)| session));
            sum = (
                sum.0 + one.days.len(),
                sum.1 + one.sessions,
                sum.2 + one.laps,
                sum.3 + one.minutes,
                sum.4 + one.distance / 1000.0,
            );
        }
        assert_eq!((sum.0, sum.1, sum.2), (days, sessions, laps), "{at}");
        assert!((sum.3 - minutes).abs() < 1e-9 && (sum.4 - km).abs() < 0.005, "{at}: {sum:?}");
    }
}

/// The night race: 22:00 IST to 03:00 GMT is six hours, for the clock goes back at 02:00 IST on 25 October 2026
/// (IANA time zone database, Europe/Dublin).
#[test]
fn the_night_the_clock_goes_back() {
    let stints: Vec<_> =
        DEMO.history.sessions.at(car("curlew"), event("ardwell-2")).map(|(_, one)| one).collect();
    let minutes: Vec<f64> = stints.iter().filter_map(|one| one.minutes).collect();
    assert_eq!(minutes, [95.0, 96.0, 58.0, 88.0]);
    assert_eq!(stints[3].end - stints[0].start, 360);
    let pits: Vec<i32> = stints.windows(2).map(|two| two[1].start - two[0].end).collect();
    assert_eq!(pits, [7, 8, 8]);
    let lap_counts: Vec<Option<u32>> = stints.iter().map(|one| one.laps).collect();
    assert_eq!(lap_counts, [Some(34), Some(34), Some(20), Some(31)]);
    let first = stints[0].driver;
    let own: f64 = stints.iter().filter(|one| one.driver == first).filter_map(|one| one.minutes).sum();
    assert!((own - 183.0).abs() < 1e-9);
}

/// Meters at the end of the season: the opening reading and the running hours.
#[test]
fn meters_at_the_end_of_the_season() {
    let quantity = DEMO.book.vocabulary.find("engine-hours").unwrap();
    let end = stringline::history::moment::end(&DEMO.history).rank;
    for (name, hours) in [("teal", 20.95), ("bittern", 45.03), ("plover", 31.35), ("curlew", 88.20)] {
        let slot =
            DEMO.facts().on(car(name), end).slot(quantity, stringline::book::place::Place::CAR).unwrap();
        let read = slot.held.read.unwrap().value / 3600.0;
        assert!((read - hours).abs() < 0.005, "{name}: {read}");
    }
}
