//! Two events in one weekend: what each car's card and each load list say of rules that begin or end within it, of what is good until a day
//! within it, and of one spare for two cars. Days and minutes are worked out by hand.

use super::super::html::{read, words};
use super::super::text;
use super::in_order;
use stringline::answer::rules::build;
use stringline::book::model::{CarId, EventId};
use stringline::history::moment::parse;
use stringline::report::{Alone, Own, Report};

/// Each coupling has run 280 + 60 of its 300 minutes; one new one lies on the shelf. The belts end on the Saturday, one rule on it, and another
/// begins on the Sunday.
const BOOK: &str = "shop \"S\"  zone Europe/Dublin
client orr \"Orr\"
client fen \"Fen\"
circuit pell \"Pell\"  length 1.20 km
circuit moss \"Moss\"  length 1.50 km
event pell-0 2025-03-01..02 at pell \"First\"  entered heron, wren
event pell-1 2025-05-10..11 at pell \"Spring\"  entered heron
event moss-1 2025-05-10..11 at moss \"Moss\"  entered wren
car heron \"Heron\"  client orr  class S-1
car wren \"Wren\"  client fen  class S-1
kind coupling \"coupling\"  fits LR RR  life 300 min  safety
kind belts \"harness\"  fits cockpit
part cp-1 coupling  opening 280 min
part cp-2 coupling  opening 280 min
part cp-3 coupling  opening new  paid
part hb-1 belts  valid-until 2025-05-10
rule new class S-1  ride-height min 48 mm  from 2025-05-11
rule old class S-1  track front min 1400 mm  until 2025-05-10

2025-03-01 heron at pell-0
  fit cp-1 LR
  fit hb-1 cockpit
  read ride-height LF 40 RF 50 LR 50 RR 50 mm
  09:00..10:00 run s1  5 laps
2025-03-01 wren at pell-0
  fit cp-2 LR
  11:00..12:00 run s1  5 laps
2025-03-05
  shelve cp-3
";

/// A page about a car or an event, by their places in the book.
fn alone(book: &str, which: Alone) -> String {
    let (compiled, own) = (text(book), Own::new());
    let report = Report::alone(&compiled, which, &own).unwrap();
    let mut page = None;
    report.stream(&mut |made| page = Some(made.unwrap()));
    words(&read(&page.unwrap().html)).replace(['\u{2007}', '\u{2008}'], "")
}

fn card(car: u32) -> String {
    alone(BOOK, Alone::Card(CarId::new(car), None))
}

fn load(event: u32) -> String {
    alone(BOOK, Alone::Load(Some(EventId::new(event))))
}

#[test]
fn each_event_to_come_has_its_own_work() {
    in_order(&card(0), &["card for pell-1", "Before it goes: replace coupling LR cp-1"]);
    in_order(&card(1), &["card for moss-1", "Before it goes: replace coupling LR cp-2"]);
}

#[test]
fn a_spare_is_promised_once() {
    let (pell, moss) = (load(1), load(2));
    in_order(&pell, &["replace heron coupling LR cp-1", "fit cp-3", "cp-3 is fitted before it is loaded"]);
    in_order(
        &moss,
        &[
            "replace wren coupling LR cp-2",
            "none left: what fits goes to heron LR for pell-1",
            "cp-3 is promised to heron LR for pell-1",
        ],
    );
    assert!(!moss.contains("fit cp-3"), "{moss}");
}

#[test]
fn a_rule_of_one_day_of_it_is_told_with_its_day() {
    for page in [card(0), load(1)] {
        in_order(&page, &["begins during the event, on 2025-05-11"]);
        in_order(&page, &["track", "ends during the event, on 2025-05-10"]);
    }
    let book = text(BOOK);
    let car = CarId::new(0);
    let moment = parse(&book.book, &book.files, &book.history, car, "pell-1");
    let view = build(&book, car, &moment.unwrap(), Some("pell-1"), None);
    let rules: Vec<(&str, &str)> =
        view.rules.iter().map(|rule| (rule.rule.as_str(), rule.within.as_str())).collect();
    assert_eq!(
        rules,
        [("new", "begins during the event, on 2025-05-11"), ("old", "ends during the event, on 2025-05-10")]
    );
    assert_eq!(
        (view.day.as_str(), view.last_day.as_str(), view.day_by),
        ("2025-05-10", "2025-05-11", "its days")
    );
}

#[test]
fn what_ends_within_it_is_told_alike_on_every_page() {
    let sheet = alone(BOOK, Alone::Setup(CarId::new(0), None));
    for page in [card(0), load(1), sheet] {
        in_order(&page, &["ends during the event"]);
    }
    assert!(!card(0).contains(" over "), "{}", card(0));
}

#[test]
fn the_day_on_which_the_book_stood_is_told() {
    in_order(&load(1), &["As the book stood on 5 March 2025, 66 days before"]);
    let first = format!("{BOOK}2025-05-10 heron\n  set camber LF -3.0 deg\n");
    let stood = alone(&first, Alone::Load(Some(EventId::new(1))));
    in_order(&stood, &["As the book stood on 10 May 2025, its first day"]);
    // Of one that is over, what stood before its first day had anything.
    in_order(&load(0), &["As the book stood on its eve, 28 February 2025"]);
}
