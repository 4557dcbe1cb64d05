//! The hand-over book: how a car stands, line by line, and its page.

use super::html::{assert_nested, attribute, read};
use super::text;
use stringline::Compiled;
use stringline::audience::{Reader, cut, purchase};
use stringline::book::model::CarId;
use stringline::report::section::handover::Handover;
use stringline::report::{self, Own};

fn handover(book: &Compiled) -> Handover {
    let purchase = purchase(book, CarId::new(0), None);
    report::handover(&cut(book, &Reader::Buyer(purchase)), &purchase)
}

/// One of everything that is open, and one of everything that is not.
const OPEN: &str = "\
client ada \"Ada\"
gauge bg-1 \"blocks\"  reads ride-height  resolution 1 mm
rule low class S-1  ride-height min 48 mm
car heron \"Heron\"  client ada  class S-1
kind hub fits LF RF on heron  life 60 min
kind shaft fits rear on heron  life 5 years
kind pump fits belly on heron
kind bottle fits bulkhead on heron  valid 2 years from serviced
kind belts fits cockpit on heron  valid 5 years from made
kind mount fits nose on heron
part hub-1 hub  opening new
part hub-2 hub
part sh-1 shaft  opening 12 months
part pu-1 pump  opening new
part bo-1 bottle  serviced 2024-06-15
part be-1 belts  made 2020-04
part be-2 belts
part mo-1 mount  opening new
2025-05-02 heron
  fit hub-1 LF
  fit hub-2 RF
  fit sh-1 rear
  fit pu-1
  fit bo-1
  fit be-1
  fit mo-1
  set brake-bias 58 %
  set rake 5 mm
  left ride-height 50 48 55 55 mm by bg-1
  job j-1 \"weeps at the seal\"
  job j-2 \"new tyres\"
  done j-2 \"fitted\"
2025-05-03 heron
  09:00..09:50 run s1  9 laps
    failed pu-1 during s1 mode leak mechanism wear cause age found-by driver
2025-05-04 heron
  rebuild hub-1 with bearing, seal
2025-05-05 heron
  09:00..09:20 run s1  5 laps
  hit RF \"gate post\"
  set rake 6 mm  for shop
2025-06-02 heron
  inspect be-1 good
  sell heron to ada
";

#[test]
fn how_it_stands() {
    let view = handover(&text(OPEN));
    let lives: Vec<(&str, &str, &str, bool)> = view
        .status
        .lives
        .iter()
        .map(|row| (row.part.as_str(), row.used.as_str(), row.left.as_str(), row.spent))
        .collect();
    // 50 and 20 minutes; the rebuild between them began a new life. 12 months and the one since it was fitted.
    assert_eq!(
        lives,
        [
            ("hub-1", "20 min", "40 min", false),
            ("hub-2", "at least 70 min", "nothing", true),
            ("sh-1", "13 months", "47 months", false),
        ]
    );
    let overhauls: Vec<(&str, &str, &str)> = view
        .status
        .overhauls
        .iter()
        .map(|row| (row.part.as_str(), row.date.as_str(), row.since.as_str()))
        .collect();
    assert_eq!(overhauls, [("hub-1", "4 May 2025", "20 min, 1 day")]);
    let dated: Vec<(&str, &str, &str)> = view
        .status
        .dated
        .iter()
        .map(|row| (row.part.as_str(), row.last.as_str(), row.verdict.as_str()))
        .collect();
    assert_eq!(
        dated,
        [("bo-1", "15 June 2026", "look at it: an impact since"), ("be-1", "30 April 2025", "over"),]
    );
    let open: Vec<(&str, &str)> =
        view.status.open.iter().map(|fact| (fact.word.as_str(), fact.text.as_str())).collect();
    assert_eq!(
        open,
        [
            ("job not closed", "j-1, opened 2 May 2025"),
            ("look at it", "hub hub-2: not looked at since the impact of 5 May 2025"),
            ("look at it", "bottle bo-1: not looked at since the impact of 5 May 2025"),
            ("date over", "be-1 was good until 30 April 2025"),
            ("life used up", "hub-2: at least 70 min of 60 min"),
            ("failed, and still on", "pu-1"),
            ("not known", "rake: its last line is not in this book, or could not be read"),
        ]
    );
    let rules: Vec<(&str, &str)> =
        view.status.rules.iter().map(|row| (row.margin.as_str(), row.verdict.as_str())).collect();
    assert_eq!(rules, [("+0 mm", "inside the gauge's error: no pass")]);
}

/// Its own page: whole, without a way to pages that are not there, its sections in the order they are to be read.
#[test]
fn the_page_stands_alone() {
    let view = handover(&text(OPEN));
    let page = report::handover_page(&view, "heron.html", &Own::new()).unwrap();
    let pieces = read(&page.html);
    assert_nested(&page.name, &pieces);
    for (_, href) in attribute(&pieces, "href") {
        let id = href.strip_prefix('#').unwrap_or_else(|| panic!("leads away: {href}"));
        assert!(attribute(&pieces, "id").iter().any(|(_, known)| *known == id), "no {href}");
    }
    let at = |words: &str| page.html.find(&format!("<h2>{words}")).unwrap_or_else(|| panic!("{words}"));
    let order =
        ["1 How", "2 Work", "3 Setup", "4 Parts that go", "5 Parts that do not", "6 To go on", "7 Handed"];
    let places: Vec<usize> = order.iter().map(|words| at(words)).collect();
    assert!(places.is_sorted(), "{places:?}");
    // What a buyer asks first stands first; how far the book is to be believed after how it stands, but for harness and bottle.
    let first = [
        "run in this book",
        "goes with it",
        "<h3>Open items",
        "<h3>Dated items",
        "After an impact",
        "certifies nothing",
    ];
    let first = first.map(|words| page.html.find(words).unwrap_or_else(|| panic!("{words}")));
    assert!(first.is_sorted(), "{first:?}");
    for words in ["local rulebooks", "certifies nothing"] {
        assert!(page.html.contains(words), "{words}");
    }
}

/// Another part's hours, another fingerprint; the same book, the same.
#[test]
fn its_fingerprint_is_of_what_it_says() {
    let print = |text_of: &str| handover(&text(text_of)).frame.print;
    assert_eq!(print(OPEN), print(OPEN));
    assert_ne!(print(OPEN), print(&OPEN.replace("09:00..09:20", "09:00..09:21")));
    // What was hidden from the buyer leaves no trace.
    assert_eq!(print(OPEN), print(&OPEN.replace("rake 6 mm  for shop", "rake 7 mm  for shop")));
}

/// 51.5 in are 1308.1 mm (an inch is 25.4 mm by definition): a reading in another unit than the rule's is told in that too, its place first.
#[test]
fn a_reading_is_told_in_the_rules_unit_too() {
    let view = handover(&text(
        "client ada \"Ada\"\nrule wide class S-1  track max 1310.0 mm\ncar heron \"Heron\"  client ada  class S-1\n\
         gauge tm-1 \"tape\"  reads track  resolution 0.05 in\n2025-05-02 heron\n  read track front 51.5 in by tm-1\n",
    ));
    assert_eq!(view.status.rules[0].value, "front 51.5 in (1308.1 mm)");
}
