//! Jobs over time, and what becomes of promises. Days are counted on the calendar.

use crate::checks::compile_text;
use jiff::civil::{Date, date};
use stringline::Compiled;
use stringline::book::names::Thing;
use stringline::history::jobs::{JobHistory, Outcome, Status};
use stringline::history::order::Rank;

fn book(lines: &str) -> Compiled {
    compile_text(&format!(
        "client orr \"Orr\"\nclient varga \"Varga\"\ncircuit pell \"Pell\"\nevent pell-1 2025-05-10..11 at pell\n\
         car heron \"Heron\"  client orr\n{lines}"
    ))
}

fn job<'a>(compiled: &'a Compiled, name: &str) -> &'a JobHistory {
    match compiled.book.names.find(name) {
        Some(Thing::Job(id)) => compiled.history.jobs.get(id),
        other => panic!("{name}: {other:?}"),
    }
}

fn statuses(job: &JobHistory) -> Vec<Status> {
    job.steps.iter().map(|step| step.status).collect()
}

const DAYS: &str = "
2025-05-01 heron
  job j-1 \"seal weeps\"  planned

2025-05-05 heron
  defer j-1 to 2025-05-20 because no seal

2025-05-25 heron
  done j-1 \"lip worn\"
";

#[test]
fn how_it_stood_at_any_time() {
    let compiled = book(DAYS);
    let job = job(&compiled, "j-1");
    assert_eq!(statuses(job), [Status::Planned, Status::Deferred, Status::Done]);
    let ranks: Vec<Rank> = job.steps.iter().map(|step| step.rank).collect();
    assert_eq!(job.at(ranks[0]), None);
    assert_eq!(job.at(ranks[1]).map(|step| step.status), Some(Status::Planned));
    assert_eq!(job.at(ranks[2]).map(|step| step.status), Some(Status::Deferred));
    assert_eq!(job.at(Rank::END).map(|step| step.status), Some(Status::Done));
    // It presses from the day it was put off to, until it is done.
    let presses = |rank: Rank, day: Date| job.presses(&compiled.book, rank, day);
    assert!(!presses(ranks[1], date(2025, 5, 4)), "planned");
    assert!(!presses(ranks[2], date(2025, 5, 19)), "put off");
    assert!(presses(ranks[2], date(2025, 5, 20)), "put off to today");
    assert!(!presses(Rank::END, date(2025, 6, 1)), "done");
}

/// Promised for 9 May, then in time for 12 May, then, when that was past, for 20 May; done on the 25th: 3 + 5 days.
#[test]
fn a_later_promise_takes_the_place_and_both_are_kept() {
    let compiled = book(
        "
2025-05-01 heron
  job j-1 \"seal weeps\"  promised 2025-05-09

2025-05-09 heron
  promise j-1 until 2025-05-12

2025-05-15 heron
  promise j-1 until 2025-05-20 \"with a new shaft\"

2025-05-25 heron
  done j-1 \"lip worn\"
",
    );
    let job = job(&compiled, "j-1");
    let outcomes = |day: Date| (0..4).map(|at| job.outcome(at, day)).collect::<Vec<_>>();
    let late = [Some(Outcome::Moved), Some(Outcome::Broken(3)), Some(Outcome::Late(5)), None];
    assert_eq!(outcomes(date(2025, 6, 1)), late);
}

/// The last day counts; so does the day before an event, over the end of February in a leap year.
#[test]
fn the_day_itself_is_in_time() {
    let compiled = book(
        "event leap 2028-03-01..02 at pell

2025-05-01 heron
  job j-1 \"a\"  promised 2025-05-09
  job j-2 \"b\"  promised pell-1
  job j-3 \"c\"  promised leap

2025-05-09 heron
  done j-1 \"done\"
  done j-2 \"done\"
",
    );
    let outcome = |name: &str, day: Date| job(&compiled, name).outcome(0, day);
    assert_eq!(outcome("j-1", date(2026, 1, 1)), Some(Outcome::Kept));
    assert_eq!(outcome("j-2", date(2026, 1, 1)), Some(Outcome::Kept));
    assert_eq!(job(&compiled, "j-3").promises[0].due, date(2028, 2, 29));
    assert_eq!(outcome("j-3", date(2028, 2, 29)), Some(Outcome::Standing(0)));
    assert_eq!(outcome("j-3", date(2028, 3, 1)), Some(Outcome::Overdue(1)));
}

/// Two clients, two promises: the one does not take the place of the other.
#[test]
fn promises_to_two_clients_stand_side_by_side() {
    let compiled = book(
        "
2025-05-01
  job rig \"mend the spring rig\"
  promise rig to orr until 2025-05-09
  promise rig to varga until 2025-05-12

2025-05-10
  done rig \"a wire\"
",
    );
    let job = job(&compiled, "rig");
    assert_eq!(job.car, None);
    assert_eq!(job.outcome(0, date(2026, 1, 1)), Some(Outcome::Late(1)));
    assert_eq!(job.outcome(1, date(2026, 1, 1)), Some(Outcome::Kept));
}

/// A line about it with a mistake leaves it unknown until another says; one mistake, one message.
#[test]
fn a_mistake_leaves_it_unknown() {
    let compiled = book(
        "
2025-05-01 heron
  job j-1 \"seal weeps\"  promised 2025-05-09
  done j-1 lip worn
  09:00..09:10 run t1
",
    );
    let checks: Vec<&str> = compiled.diagnostics.iter().map(|one| one.check).collect();
    assert_eq!(checks, ["word-unexpected"]);
    let job = job(&compiled, "j-1");
    assert_eq!(statuses(job), [Status::Open, Status::Unknown]);
    assert_eq!(job.outcome(0, date(2026, 1, 1)), Some(Outcome::Unknown));
}

/// The line that opens it may stand in a file that is read after the one that closes it.
#[test]
fn a_name_is_known_in_the_whole_book() {
    let compiled = book(
        "
2025-05-02 heron
  fill gearbox-oil 75W-90 1.6 L  on J-1
  done j-1 \"lip worn\"
# === a-file-that-comes-later.sline
2025-05-01 heron
  job j-1 \"seal weeps\"
",
    );
    assert!(compiled.diagnostics.is_empty(), "{:#?}", compiled.diagnostics);
    let job = job(&compiled, "j-1");
    assert_eq!(statuses(job), [Status::Open, Status::Done]);
    assert_eq!(job.work.len(), 1);
}

/// The same day promised twice is one promise, on the later line; another day moves it.
#[test]
fn the_same_day_promised_again_is_one_promise() {
    let outcomes = |day: &str| {
        let compiled = book(&format!(
            "2025-05-01 heron\n  job j-1 \"piston\"  promised 2025-06-20\n  promise j-1 to orr until {day}\n"
        ));
        let job = job(&compiled, "j-1");
        (0..job.promises.len()).map(|at| job.outcome(at, date(2025, 5, 2))).collect::<Vec<_>>()
    };
    assert_eq!(outcomes("2025-06-20"), [Some(Outcome::Again), Some(Outcome::Standing(49))]);
    assert_eq!(outcomes("2025-06-21"), [Some(Outcome::Moved), Some(Outcome::Standing(50))]);
}
