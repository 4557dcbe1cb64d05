//! Running sums of a car's sessions: a difference of two of them is what a walk over the sessions between adds up to.

use super::{book, car};
use stringline::Compiled;
use stringline::history::order::Rank;
use stringline::history::sessions::SessionId;
use stringline::history::tally::Tally;

/// Eight days at two events and between them; one session without laps, one without anything, whole metres and minutes.
const DAYS: &str = "2025-05-02 heron
  09:00..09:20 run a1  10 laps  2 launches
  11:00 run a2

2025-05-03 heron
  09:00..09:20 run a1  10 laps

2025-05-10 heron at pell-1
  09:00..09:20 run s1  10 laps  1 launch
  10:00..10:25 run s2  12 laps  2 launches

2025-05-11 heron at pell-1
  09:00..09:30 run s3

2025-06-01 heron
  09:00..09:45 run t1  21 laps

2025-06-02 heron
  09:00..09:45 run t1  21 laps

2025-06-03 heron
  09:00..09:45 run t1  21 laps

2025-06-04 heron
  09:00..09:45 run t1  21 laps
";

fn walk(compiled: &Compiled, sum: &mut Tally, ids: &[SessionId]) {
    for id in ids {
        sum.add(compiled.history.sessions.get(*id));
    }
}

#[test]
fn any_sessions_that_follow_add_up_to_their_difference() {
    let compiled = book(DAYS);
    assert!(
        compiled.diagnostics.iter().all(|one| one.severity.word() != "error"),
        "{:?}",
        compiled.diagnostics
    );
    let heron = car(&compiled, "heron");
    let own = &compiled.history.sessions.of_car[heron];
    let odometer = compiled.history.odometer(heron).expect("a car of the book");
    assert_eq!(own.len(), 10);
    // From any session to any other, then on to any third: as after a part went off and on again.
    for first in 0..=own.len() {
        for second in first..=own.len() {
            for third in second..=own.len() {
                let (mut walked, mut driven) = (Tally::default(), Tally::default());
                for places in [first..second, third..own.len()] {
                    walk(&compiled, &mut walked, &own[places.clone()]);
                    match odometer.leg(places.clone()) {
                        Some(leg) => driven.add_leg(leg),
                        None => assert!(places.is_empty()),
                    }
                }
                assert_eq!(walked, driven, "{first}..{second}, {third}..");
            }
        }
    }
}

#[test]
fn what_was_run_at_each_event_is_a_leg() {
    let compiled = book(DAYS);
    let odometer = compiled.history.odometer(car(&compiled, "heron")).expect("a car of the book");
    let legs = odometer.by_event(Rank::END).expect("sums");
    let told: Vec<(u64, usize)> =
        legs.iter().map(|(_, leg)| (leg.sums[0] / 60_000_000, leg.dates.len())).collect();
    // 20 + 25 + 30 minutes on two days; what is outside events is no event's.
    assert_eq!(told, [(75, 2)]);
}

/// An event that is left for a day elsewhere and come to again has no sums of its own that follow.
#[test]
fn a_car_of_odd_sessions_is_walked() {
    let compiled = book(
        "2025-05-10 heron at pell-1
  09:00..09:20 run s1  10 laps

2025-05-10 heron
  12:00..12:20 run a1  10 laps

2025-05-11 heron at pell-1
  fit cp-1 LR
  09:00..09:30 run s3
",
    );
    let heron = car(&compiled, "heron");
    let odometer = compiled.history.odometer(heron).expect("a car of the book");
    assert!(odometer.leg(0..3).is_none() && odometer.by_event(Rank::END).is_none());
    let lives = stringline::lives::lives(&compiled.book, &compiled.history, Rank::END);
    let life = lives.now(super::part(&compiled, "cp-1")).expect("a life");
    assert_eq!(life.run.on(stringline::book::model::Clock::Time), (1800.0, false));
}

/// Sums that no count holds are no sums, and nothing breaks: 19 000 sessions of a million kilometres.
#[test]
fn a_car_that_ran_too_far_is_walked() {
    let mut text = String::from("2025-05-02 heron\n  fit cp-1 LR\n");
    for day in 0..95 {
        let date = jiff::civil::date(2025, 5, 3).checked_add(jiff::Span::new().days(day)).unwrap();
        text += &format!("\n{date} heron\n");
        for run in 0..200 {
            text += &format!("  run r{run}  20 min  1000000 km\n");
        }
    }
    let compiled = book(&text);
    let lives = stringline::lives::lives(&compiled.book, &compiled.history, Rank::END);
    let life = lives.now(super::part(&compiled, "cp-1")).expect("a life");
    let (metres, _) = life.run.on(stringline::book::model::Clock::Distance);
    let known: f64 = compiled.history.sessions.all.iter().filter_map(|session| session.distance).sum();
    assert!((metres - known).abs() <= 1e-6 * known, "{metres} of {known}");
}
