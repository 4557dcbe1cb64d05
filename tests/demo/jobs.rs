//! The six jobs of the season: when each was opened and closed, what was promised, and by how much a promise was missed.

// Whole minutes and days add up exactly.
#![allow(clippy::float_cmp)]

use super::{DEMO, car, event, part};
use jiff::civil::date;
use stringline::book::model::{JobId, Work};
use stringline::book::names::Thing;
use stringline::history::intervals::{Interval, intervals};
use stringline::history::jobs::{JobHistory, Outcome};
use stringline::history::moment;
use stringline::history::slots::Owner;

fn job(name: &str) -> (JobId, &'static JobHistory) {
    match DEMO.book.names.find(name) {
        Some(Thing::Job(id)) => (id, DEMO.history.jobs.get(id)),
        other => panic!("{name}: {other:?}"),
    }
}

type Row = (&'static str, &'static str, &'static str, Option<&'static str>, Option<&'static str>);

/// Name, car, opened, closed, promised for.
const JOBS: [Row; 6] = [
    ("j-01", "bittern", "2026-06-08", Some("2026-06-24"), None),
    ("j-02", "plover", "2026-06-20", Some("2026-07-06"), Some("2026-06-26")),
    ("j-03", "bittern", "2026-06-29", Some("2026-08-22"), Some("2026-08-20")),
    ("j-04", "curlew", "2026-10-24", None, None),
    ("j-05", "curlew", "2026-10-26", None, Some("2027-04-16")),
    ("j-06", "teal", "2026-06-29", Some("2026-08-03"), None),
];

#[test]
fn the_table_of_jobs() {
    assert_eq!(DEMO.book.jobs.len(), JOBS.len());
    for (name, whose, opened, closed, promised) in JOBS {
        let (_, job) = job(name);
        assert_eq!(job.car, Some(car(whose)), "{name}");
        assert_eq!(job.opened().unwrap().date.to_string(), opened, "{name}");
        assert_eq!(job.closed().map(|step| step.date.to_string()).as_deref(), closed, "{name}");
        let due = job.promises.last().map(|promise| promise.due.to_string());
        assert_eq!(due.as_deref(), promised, "{name}");
    }
}

/// j-02 ten days late, j-03 two; j-05 was promised before the first event of 2027, which has not come.
#[test]
fn two_promises_were_kept_late_and_one_stands() {
    let outcome = |name: &str| job(name).1.outcome(0, date(2026, 12, 1));
    assert_eq!(outcome("j-02"), Some(Outcome::Late(10)));
    assert_eq!(outcome("j-03"), Some(Outcome::Late(2)));
    // 1 December to 16 April: 30 + 31 + 28 + 31 + 16 days.
    assert_eq!(outcome("j-05"), Some(Outcome::Standing(136)));
    assert_eq!(job("j-05").1.promises[0].before, Some(event("quern-27")));
    assert_eq!(outcome("j-04"), None);
}

/// cp-06 died of the leaking seal on 28 June, with the job open.
#[test]
fn the_coupling_died_with_the_job_open() {
    let (_, seal) = job("j-02");
    assert_eq!(seal.part, Some(part("cp-06")));
    let failed = DEMO.history.parts.get(part("cp-06")).failures[0];
    let rank = DEMO.history.order.rank[failed];
    assert!(seal.presses(&DEMO.book, rank, date(2026, 6, 28)));
    let said: Vec<&str> = DEMO
        .diagnostics
        .iter()
        .filter(|one| one.check == "open-job-ran")
        .map(|one| one.message.as_str())
        .collect();
    assert!(matches!(said[..], [one] if one.contains("plover") && one.contains("j-02")), "{said:#?}");
}

/// Work that says so belongs to its job, from the shop's own blocks too: discs, bearing, damper, the torque of the hub.
#[test]
fn the_rebuild_has_its_lines() {
    let (_, job) = job("j-03");
    let words: Vec<&str> = job.work.iter().map(|(_, entry)| DEMO.book.entries[*entry].verb.word()).collect();
    let count = |verb: &str| words.iter().filter(|word| **word == verb).count();
    assert_eq!(
        (count("inspect"), count("rebuild"), count("buy"), count("fit"), count("torque")),
        (3, 1, 2, 4, 1)
    );
}

fn interval(list: &[Interval<'static>], owner: Owner, work: &str) -> Interval<'static> {
    let is = |one: &&Interval<'static>| {
        let words = match one.every.work {
            Work::Part(verb) => verb.word().to_owned(),
            Work::Quantity(verb, quantity) => {
                format!("{} {}", verb.word(), DEMO.book.vocabulary.get(quantity).name)
            }
        };
        one.owner == owner && words == work
    };
    *list.iter().find(is).unwrap()
}

/// Damper seals every 14 hours: three corners ran all of bittern's 650 minutes; the fourth was rebuilt in July and ran
/// Quern's 177. Curlew's gearbox oil every 12 hours or 12 months: filled on 17 October, then the 337 minutes of the night.
#[test]
fn what_is_left_of_the_intervals_at_the_end_of_the_season() {
    let end = moment::end(&DEMO.history).rank;
    let list = intervals(&DEMO.book, &DEMO.history, end, date(2026, 12, 1));
    let minutes = |one: &Interval<'_>| (one.since.value / 60.0, one.left / 60.0, one.since.at_least);
    for name in ["ds-01", "ds-03", "ds-04"] {
        let one = interval(&list, Owner::Part(part(name)), "rebuild");
        assert_eq!(minutes(&one), (650.0, 190.0, false), "{name}");
        assert_eq!((one.last, one.car), (None, Some(car("bittern"))));
    }
    assert_eq!(minutes(&interval(&list, Owner::Part(part("ds-02")), "rebuild")), (177.0, 663.0, false));
    let oil = interval(&list, Owner::Car(car("curlew")), "fill gearbox-oil");
    assert_eq!(minutes(&oil), (337.0, 383.0, false));
    let months: Vec<_> = list.iter().filter_map(|one| Some((one.owner, one.due_on?))).collect();
    assert!(months.contains(&(Owner::Car(car("curlew")), date(2027, 10, 17))), "{months:?}");
    // The car that was sold and the parts that are gone have nothing due.
    assert!(!list.iter().any(|one| one.owner == Owner::Car(car("plover"))));
    assert!(!list.iter().any(|one| one.owner == Owner::Part(part("cp-06"))));
}
