//! Nights and days: which block comes first, what a night of sessions is judged by, what a lost time does to use and lives.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::history::sessions::Session;

const HEAD: &str = "shop \"S\"  zone Europe/Dublin\ncar heron \"Heron\"\ncar plover \"Plover\"\ncircuit pell \"Pell\"\n\
    event night-1 2026-10-24..25 at pell \"Night\"\n";

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{HEAD}{lines}"))
}

fn sessions(book: &Compiled) -> Vec<&Session> {
    book.history.sessions.all.iter().collect()
}

fn said(book: &Compiled) -> Vec<&str> {
    book.diagnostics.iter().map(|one| one.check).collect()
}

/// The lines of each block, by their last word, in the order of the book.
fn order(book: &Compiled) -> Vec<&str> {
    let text = |entry: stringline::book::entry::EntryId| {
        book.files.text(book.book.entries[entry].span()).rsplit(' ').next().unwrap()
    };
    book.history.order.entries.iter().map(|entry| text(*entry)).collect()
}

#[test]
fn between_two_blocks_of_a_day_in_one_file_the_order_of_lines_decides() {
    let lines = "2026-06-10 heron\n  14:00 think \"a\"\n  think \"b\"\n2026-06-10 heron\n  think \"c\"\n  15:00 think \"d\"\n";
    assert_eq!(order(&book(lines)), ["\"a\"", "\"b\"", "\"c\"", "\"d\""]);
    // Times decide where both have some.
    let lines =
        "2026-06-10 heron\n  14:00 think \"a\"\n2026-06-10 plover\n  think \"b\"\n  09:00 think \"c\"\n";
    assert_eq!(order(&book(lines)), ["\"b\"", "\"c\"", "\"a\""]);
    // After a night that ended on its day.
    let lines = "2026-06-10 heron\n  22:00..02:00 run s1\n  think \"a\"\n2026-06-11 heron\n  think \"b\"\n";
    assert_eq!(order(&book(lines)), ["s1", "\"a\"", "\"b\""]);
    // In two files nothing is decided by where they stand.
    let lines = "2026-06-10 heron\n  14:00 set camber LF -3 deg\n# === other.sline\n2026-06-10 heron\n  set camber LF -2 deg\n";
    assert_eq!(said(&book(lines)), ["day-order-unclear"]);
}

/// A swap at 11:30 and a session typed 02:00 for 14:00: the new part ran in it.
#[test]
fn a_time_that_runs_back_takes_the_order_of_the_lines() {
    let book = book(
        "kind coupling \"c\"  fits LR on heron\npart cp-1 coupling  opening new\npart cp-2 coupling  opening new\n\
         2026-06-09 heron\n  fit cp-1 LR\n2026-06-10 heron\n  11:30 swap coupling LR cp-1 -> cp-2\n  02:00..02:20 run s1\n",
    );
    assert_eq!(said(&book), ["times-backward"]);
    let lives = stringline::lives::lives(&book.book, &book.history, stringline::history::order::Rank::END);
    let ran: Vec<f64> =
        lives.all.iter().map(|life| life.run.on(stringline::book::model::Clock::Time).0 / 60.0).collect();
    assert_eq!(ran, [0.0, 20.0]);
}

#[test]
fn a_long_night_has_its_minutes_or_a_message() {
    for (times, minutes, check) in [
        ("22:00..05:30", Some(450.0), None),
        ("20:00..08:00", Some(720.0), None),
        ("20:00..08:01", None, Some("ends-before-start")),
        ("16:00..16:00", None, Some("ends-before-start")),
        ("16:00..16:00 run s1  1440 min #", Some(1440.0), None),
    ] {
        let book = book(&format!("2026-06-10 heron\n  {times} run s1\n"));
        assert_eq!(sessions(&book)[0].minutes, minutes, "{times}");
        assert_eq!(said(&book), Vec::from_iter(check), "{times}");
    }
}

/// Belts good until the day a night begins are out of date in it; so is a gauge used after midnight.
#[test]
fn a_night_is_judged_on_each_of_its_days() {
    let belts = |until: &str, times: &str| {
        book(&format!(
            "kind belts \"b\"  fits cockpit on heron\npart hb-1 belts  valid-until {until}\n\
             2026-06-01 heron\n  fit hb-1\n2026-06-10 heron\n  {times} run s1\n"
        ))
    };
    assert_eq!(said(&belts("2026-06-10", "22:00..01:00")), ["safety-date-passed"]);
    assert!(said(&belts("2026-06-11", "22:00..01:00")).is_empty());
    assert!(said(&belts("2026-06-10", "22:00..24:00")).is_empty());
    assert!(said(&belts("2026-06-10", "22:00..00:00")).is_empty());
    let gauge = "gauge cg-1 \"c\"  reads camber  valid-until 2026-06-10\n2026-06-10 heron\n";
    let after = book(&format!("{gauge}  22:00..01:00 run s1\n  01:30 read camber LF -3.0 deg by cg-1\n"));
    assert_eq!(said(&after), ["gauge-out-of-date"]);
    let before = book(&format!("{gauge}  23:30 read camber LF -3.0 deg by cg-1\n"));
    assert!(said(&before).is_empty());
}

/// 22:00 IST to 03:00 GMT is six hours; the stops are 7, 8 and 8 minutes.
#[test]
fn a_nights_elapsed_and_pit_time_are_on_the_seasons_page() {
    let book = book(
        "2026-10-24 heron at night-1\n  22:00..23:35 run s1\n  23:42..01:18 +01:00 run s2\n\
         2026-10-25 heron at night-1\n  01:26..01:24 run s3  58 min\n  01:32..03:00 run s4\n",
    );
    let minutes: Vec<Option<f64>> = sessions(&book).iter().map(|one| one.minutes).collect();
    assert_eq!(minutes, [Some(95.0), Some(96.0), Some(58.0), Some(88.0)]);
    let pages = stringline::report::render(&book, stringline::report::Options::default()).unwrap();
    let season = pages.iter().find(|page| page.name == "heron-2026.html").unwrap();
    let words =
        "s1 to s4 past midnight: 6 h 00 min from first start to last end, pit time 23 min (7, 8 and 8)";
    assert!(season.html.contains(words));
}

/// The season's page, of the shop or of a client, in which a night is told.
fn told(book: &Compiled, page: &str) -> String {
    let pages = stringline::report::render(book, stringline::report::Options::default()).unwrap();
    let page = pages.iter().find(|one| one.name == page).unwrap_or_else(|| panic!("no page {page}"));
    let at = page.html.find("past midnight").map(|at| &page.html[at..]);
    at.map_or_else(String::new, |rest| rest.split('<').next().unwrap_or_default().to_owned())
}

/// Sessions that overlap have no stop between them, least of all one below nothing.
#[test]
fn overlapping_sessions_have_no_pit_time() {
    let book = book("2026-06-10 heron at night-1\n  22:00..00:40 run s1\n  00:30..01:00 run s2\n");
    let words = told(&book, "heron-2026.html");
    assert_eq!(words, "past midnight: how long in all is not known, for s1 and s2 overlap.");
}

/// What a client may not read of is no stop of his night, and what ran before the car was his is not his night at all.
#[test]
fn a_night_is_told_of_what_its_reader_may_read() {
    let book = compile_text(
        "shop \"S\"  zone Europe/Dublin\nclient ada \"Ada\"\nclient ben \"Ben\"\ncar heron \"Heron\"  client ada\n\
         circuit pell \"Pell\"  length 1 km\nevent night-1 2026-06-10..11 at pell \"Night\"\nkind coupling  fits LR on heron\n\
         part cp-1 coupling  opening new  paid\n\n\
         2026-06-10 heron at night-1\n  fit cp-1 LR\n  22:00..23:00 run s1\n  23:05..00:05 run s2  for shop\n  00:10..01:00 run s3\n\n\
         2026-06-20 heron\n  sell heron 100.00 EUR to ben\n\n2026-07-01 heron for ben\n  10:00..10:20 run t1\n",
    );
    let whole = told(&book, "heron-2026.html");
    // 23:00 to 23:05 and 00:05 to 00:10.
    assert!(whole.contains("3 h 00 min") && whole.contains("pit time 10 min (5 and 5)"), "{whole}");
    let client = |name: &str| match book.book.names.find(name) {
        Some(stringline::book::names::Thing::Client(id)) => id,
        other => panic!("{other:?}"),
    };
    let cut =
        |name: &str| stringline::audience::cut(&book, &stringline::audience::Reader::Client(client(name)));
    let ada = told(&cut("ada"), "heron-2026.html");
    assert!(!ada.contains("pit time"), "{ada}");
    let ben = cut("ben");
    for page in stringline::report::render(&ben, stringline::report::Options::default()).unwrap() {
        assert!(!page.html.contains("past midnight"), "{}", page.name);
    }
}

/// A time that no day has: the session is known to have been, and how long is not.
#[test]
fn a_lost_time_leaves_at_least() {
    let book = book(
        "kind coupling \"c\"  fits LR on heron  life 300 min\npart cp-1 coupling  opening new\n\
         2026-03-28 heron\n  fit cp-1 LR\n  09:00..09:20 run s1\n  10:00..10:75 run s2\n  23:30..01:15 run s3\n",
    );
    assert_eq!(said(&book), ["clock-impossible", "clock-skipped"]);
    let lives = stringline::lives::lives(&book.book, &book.history, stringline::history::order::Rank::END);
    let lived =
        lives.all[stringline::lives::LifeId::new(0)].on(&book.book, stringline::book::model::Clock::Time);
    assert!(lived.at_least && (lived.value - 1200.0).abs() < 1e-9);
}

/// A kind is told in days since its only life ran a session that does not tell its minutes: that is said.
#[test]
fn lives_are_never_told_in_days_without_a_word() {
    let view = |times: &str| {
        let book = book(&format!(
            "kind coupling \"c\"  fits LR on heron\npart cp-1 coupling  opening new\n2026-10-25 heron\n  fit cp-1 LR\n  {times} run s1\n"
        ));
        let lives =
            stringline::lives::lives(&book.book, &book.history, stringline::history::order::Rank::END);
        let kind = book.book.kinds.keys().next().unwrap();
        stringline::answer::lives::kind(
            &book,
            &lives,
            kind,
            None,
            &stringline::answer::lives::CountedFailures::default(),
        )
        .unwrap()
    };
    let lost = view("00:40..01:30");
    assert_eq!(lost.unit, "days");
    assert_eq!(
        lost.passed_over,
        "Told in days, for of no life is the running time known: 1 of 1 ran sessions that do not tell it."
    );
    let known = view("00:40..01:30 +01:00");
    assert_eq!((known.unit, known.passed_over.as_str()), ("min", ""));
}

/// Outside events a label is known by the day of its block, past midnight too.
#[test]
fn a_session_past_midnight_is_found_by_its_label() {
    let found = book(
        "2026-06-10 heron\n  23:00..00:20 run t1\n  00:40..01:00 run t2\n  read tyre-hot LF 1.7 bar  during t2\n\
         2026-06-11 heron\n  read tyre-hot RF 1.7 bar  during t2\n",
    );
    assert!(!said(&found).contains(&"session-unknown"), "{:?}", said(&found));
    let again = book(
        "2026-06-10 heron\n  23:00..00:20 run t1\n  00:40..01:00 run t2\n2026-06-11 heron\n  09:00..09:10 run t2\n",
    );
    assert!(said(&again).is_empty(), "{:?}", said(&again));
    let twice = book("2026-06-10 heron\n  23:00..00:20 run t1\n  00:40..01:00 run t1\n");
    assert_eq!(said(&twice), ["session-twice"]);
}

/// A better offset leaves the one of the line's other time as it is typed. Zone changes as the reference has them: at 01:00 UTC
/// the clock of London goes back from 02:00 to 01:00.
#[test]
fn a_cure_keeps_the_other_offset_of_its_line() {
    let cures = |line: &str| -> Vec<String> {
        let text =
            format!("shop \"Night\"  zone Europe/London\ncar heron \"Heron\"\n2026-10-25 heron\n  {line}\n");
        compile_text(&text).diagnostics.iter().filter_map(|one| one.cure.clone()).collect()
    };
    for (line, wanted) in [
        ("01:10 +01:00..01:30 run s1", "`01:10 +01:00..01:30 +01:00` for the first"),
        ("01:10..01:30 +00:00 run s1", "`01:10 +00:00..01:30 +00:00` for the second"),
        ("01:10 +01:00..01:30 +05:00 run s1", "`01:10 +01:00..01:30 +00:00` for the second"),
    ] {
        let cures = cures(line);
        assert!(cures.iter().any(|cure| cure.contains(wanted)), "{line}: {cures:?}");
    }
}
