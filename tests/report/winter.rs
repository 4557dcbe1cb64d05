//! The winter plan of a season's page: jobs still to do, and parts that run out of life or of their date before the next season's end.

use super::figures::section;
use super::{page, pages, render, text};
use stringline::Compiled;
use stringline::audience::{Reader, cut, purchase};
use stringline::book::model::CarId;
use stringline::book::names::Thing;
use stringline::report::Options;

/// Two events of 40 and 20 min: 60 min in the season, 30 min the mean. Seals are good for 100 min.
const BOOK: &str = r#"shop "S"  currency EUR
client c "C"
client o "O"
car a "A"  client c
car b "B"  client o
circuit k "K"  length 2 km
event e1 2026-05-02..02 at k  entered a, b
event e2 2026-06-06..06 at k  entered a
event n1 2027-04-10..11 at k "the opening meeting"  entered a
kind seal "seal"  fits g1 g2 g3 g4 g5 g6  life 100 min
spec hard of seal "hard"  price 30.00 EUR
kind belt "belt"  fits cockpit seat boot  valid 5 years from made
kind hose "hose"  fits top  life 2 years
part s-1 seal  spec hard  opening 75 min
part s-2 seal  spec hard  opening 20 min
part s-3 seal  spec hard  opening new
part s-4 seal  spec hard  opening new
part s-5 seal  spec hard
part s-6 seal  opening new
part b-1 belt  made 2022-03
part b-2 belt  made 2022-12
part b-3 belt  made 2023-06
part h-1 hose  opening new
2026-03-01 a
  fit s-1 g1
  fit s-2 g2
  fit s-3 g3
  fit s-5 g5
  fit b-1 cockpit
  fit b-2 seat
  fit b-3 boot
  fit h-1 top
  job j-1 "seal weeps"
  quote 200.00 EUR on j-1
  job j-2 "paint"  planned
  job j-3 "done long ago"
  done j-3
2026-05-02 a at e1
  run s1 40 min 4 laps
2026-05-03 a
  fit s-4 g4
2026-06-06 a at e2
  run s1 20 min 2 laps
2026-10-01 a
  cost 50.00 EUR parts "lip" on j-1
  defer j-1 to winter because the maker is shut
  promise j-2 to c until 2026-09-01
2026-05-02 b at e1
  run s1 30 min 3 laps
"#;

fn plan(compiled: &Compiled) -> String {
    section(&page(&pages(compiled), "a-2026.html").html, "winter")
}

#[test]
fn the_plan_has_what_is_to_do_and_what_does_not_last() {
    let whole = plan(&text(BOOK));
    // Below the drawing, which has parts alone.
    let list = whole.find("jobs why").unwrap();
    let (drawn, _) = whole.split_at(whole.find("What has been run of each limit").unwrap());
    let plan = format!("{drawn}{}", &whole[list..]);
    let at = |what: &str| plan.find(what).unwrap_or_else(|| panic!("no {what:?} in {plan}"));
    at(
        "As the book stood on 1 October 2026. An event of this car's is 30 min, the mean of its 2 so far. This season it ran 60 min. Next comes the opening meeting, 10–11 April 2027.",
    );
    // 200.00 quoted, 50.00 booked.
    at("j-1 seal weeps put off to winter because the maker is shut book.sline:46 150.00 book.sline:34");
    at("j-2 paint planned book.sline:35 promised for 1 Sep book.sline:47 –");
    // 75 + 60 of 100; 20 + 60, 20 left of 30 an event; 60, 40 left of 60 a season.
    at("s-1 seal g1 none left (135 of 100 min)");
    at("s-2 seal g2 20 min left: less than an event, 30 min (80 of 100 min)");
    at("s-3 seal g3 40 min left: less than this season's 60 min (60 of 100 min)");
    at("s-5 seal g5 not known: what it had run before is not in the book (at least 60 of 100 min)");
    // Fitted after the first event: 80 of 100 min are left, more than a season.
    assert!(
        !plan.contains("s-4") && !plan.contains("s-6") && !plan.contains("b-3") && !plan.contains("j-3"),
        "{plan}"
    );
    at("b-1 belt cockpit good until 31 March 2027, which is before the next event is over book.sline:20 –");
    at("b-2 belt seat good until 31 December 2027, within the next season");
    // Two years from 1 March 2026 are over in March 2028, after the next season.
    assert!(!plan.contains("h-1"), "{plan}");
    // What comes before the next event stands first.
    assert!(at("s-5 seal") < at("s-3 seal") && at("b-1 belt") < at("s-3 seal"), "{plan}");
    // 150.00 and four seals at 30.00.
    at("Known prices together, with a new one of every part that is listed: at least 270.00 EUR");
}

#[test]
fn limits_in_months_count_to_the_next_event_and_the_next_season() {
    let hose = |life: &str| plan(&text(&BOOK.replace("life 2 years", life)));
    // From 1 March 2026: over on 1 March 2027 and on 1 September 2027; the event is over on 11 April 2027.
    assert!(
        hose("life 12 months")
            .contains("h-1 hose 5 months left: over before the next event is (7 of 12 months)")
    );
    assert!(
        hose("life 18 months")
            .contains("h-1 hose 11 months left: over within the next season (7 of 18 months)")
    );
}

#[test]
fn a_client_has_his_own_plan_and_it_rests_on_no_other_car() {
    let client = |book: &str| {
        let compiled = text(book);
        let Some(Thing::Client(client)) = compiled.book.names.find("c") else { panic!() };
        let own = cut(&compiled, &Reader::Client(client));
        let pages = render(&own, Options { client: Some(client), ..Options::default() }).unwrap();
        section(&page(&pages, "a-2026.html").html, "winter")
    };
    let plan = client(BOOK);
    assert!(plan.contains("s-2 seal g2 20 min left: less than an event, 30 min"), "{plan}");
    assert!(plan.contains("at least 270.00 EUR"), "{plan}");
    // Another client's car breaks the same sort of part early and runs twice as long.
    let other = "  fit s-6 g6\n  run s1 90 min 9 laps\n  failed s-6 after s1 mode split mechanism tear cause wear found-by driver\n";
    let changed = BOOK.replace("  run s1 30 min 3 laps\n", other);
    assert_ne!(changed, BOOK);
    assert_eq!(client(&changed), plan);
}

#[test]
fn a_reader_who_may_see_no_price_sees_none() {
    let compiled = text(BOOK);
    let own = cut(&compiled, &Reader::Buyer(purchase(&compiled, CarId::new(0), None)));
    let pages = render(&own, Options::default()).unwrap();
    let plan = section(&page(&pages, "a-2026.html").html, "winter");
    assert!(plan.contains("s-2 seal g2 20 min left"), "{plan}");
    for sum in ["30.00", "150.00", "270.00", "EUR", "a new one"] {
        assert!(!plan.contains(sum), "{sum} in {plan}");
    }
}

#[test]
fn where_nothing_is_to_be_planned_there_is_no_plan() {
    let plain = "car a \"A\"\n2026-05-01 a\n  run s1 20 min\n";
    let sold = BOOK.replace("2026-05-02 b at e1\n", "2026-11-01 a\n  sell a to o\n2026-05-02 b at e1\n");
    for book in [plain, sold.as_str()] {
        let pages = pages(&text(book));
        let html = &page(&pages, "a-2026.html").html;
        assert!(!html.contains("id=\"winter\"") && !html.contains("href=\"#winter\""), "{book}");
    }
}

#[test]
fn prices_in_two_currencies_are_exchanged_or_kept_apart() {
    let priced = |declared: &str| {
        plan(&text(
            &BOOK
                .replace("price 30.00 EUR", "price 24.00 GBP")
                .replace("client o", &format!("{declared}client o")),
        ))
    };
    assert!(priced("").contains("at least 150.00 EUR + 96.00 GBP;"));
    // 24.00 at 1.25 are 30.00.
    assert!(priced("exchange GBP 1.25 EUR from 2025-01-01 \"bank\"\n").contains("at least 270.00 EUR"));
}
