//! A bench reading holds for the part from its last rebuild to its next, before its day and after. By hand.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::names::Thing;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::moment;

const SHOP: &str = "shop \"Hollin\"  currency EUR
client orr \"Orr\"
client vole \"Vole\"
car wren \"Wren\"  client orr
car heron \"Heron\"  client orr
kind spring \"spring\"  fits LF RF on wren  gives spring-rate
part k1 spring  tag spring-rate 70 N/mm
2026-04-01 wren
  fit k1 LF
";

fn rate(book: &Compiled, at: &str) -> Result<(f64, String), String> {
    let Some(Thing::Car(car)) = book.book.names.find("wren") else { panic!() };
    let at = moment::parse(&book.book, &book.files, &book.history, car, at).unwrap();
    let mut calc = Calc::new(book.facts(), car, &at);
    let fig = calc.named("fitted-spring-rate", Place::LF).map_err(|missing| missing.needs.join(", "))?;
    let value = calc.value("spring-rate", Place::LF).map(|fig| fig.value);
    assert!(
        value.is_ok_and(|value| (value - fig.value).abs() < 1e-9),
        "the slot and the figure say two things"
    );
    Ok((fig.value / 1000.0, calc.nodes[fig.node].sure.clone()))
}

/// A part of which every bench row is void was never benched: its tag stands, and says so. One row that counts is a bench reading.
#[test]
fn a_tag_stands_in_for_what_was_benched_and_is_void() {
    let rows = |second: &str| {
        format!(
            "{SHOP}2026-03-01\n  bench k1 spring-rate\n    points 0 mm 60 N, 30 mm 2151 N\n      void because the pad slipped\n    points 0 mm 60 N, 30 mm 2190 N\n{second}"
        )
    };
    let (tag, words) =
        rate(&compile_text(&rows("      void because it slipped again\n")), "2026-04-02").unwrap();
    assert!((tag - 70.0).abs() < 1e-9, "{tag}");
    assert!(words.contains("what was benched on 2026-03-01 is void"), "{words}");
    // (2190 - 60) N over 30 mm.
    let (benched, words) = rate(&compile_text(&rows("")), "2026-04-02").unwrap();
    assert!((benched - 71.0).abs() < 1e-9 && words.is_empty(), "{benched} {words}");
    let void = format!("{SHOP}2026-03-01\n  bench k1 spring-rate 74 N/mm\n    void because it slipped\n");
    assert!(rate(&compile_text(&void), "2026-04-02").unwrap().1.contains("is void"));
}

/// Rows on the bench are a rate wherever a rate is taken: in a figure of one's own, in a rule, on what stands on the car. 2130 N over 30 mm is 71 N/mm,
/// 70 is the tag.
#[test]
fn rows_on_the_bench_stand_before_the_tag_wherever_the_rate_is_taken() {
    let book = format!(
        "{}figure twice stiffness corner  area springs  \"twice the spring\"\n  is 2 * k\n  k = spring-rate\n2026-03-01\n  bench k1 spring-rate\n    points 0 mm 60 N, 30 mm 2190 N\n2026-04-03 wren\n  read camber LF -2 deg\n",
        SHOP.replace("client orr\n", "client orr  class S\n")
            + "rule stiff class S  spring-rate LF min 70.5 N/mm\n"
    );
    let twice = crate::figures::trace(&book, &["wren", "twice", "LF"]).0;
    crate::figures::close(&twice, "value_si", 142_000.0, 1e-6);
    let compiled = compile_text(&book);
    assert!(
        compiled.diagnostics.iter().all(|one| one.check != "under-minimum"),
        "{:?}",
        compiled.diagnostics
    );
    let Some(Thing::Car(car)) = compiled.book.names.find("wren") else { panic!() };
    let state = stringline::answer::state::build(&compiled, car, &moment::end(&compiled.history), None);
    let rate = state.slots.iter().find(|slot| slot.quantity == "spring-rate").unwrap();
    let value = rate.value().unwrap();
    assert_eq!((value.text.as_str(), value.verb, rate.tag.is_none()), ("71.000 N/mm", "bench", true));
}

#[test]
fn what_was_benched_in_august_was_on_the_car_in_april() {
    let plain = compile_text(SHOP);
    assert!(
        (rate(&plain, "2026-04-02").unwrap().0 - 70.0).abs() < 1e-9,
        "the tag of one that was never benched"
    );
    let book = compile_text(&format!("{SHOP}2026-08-15\n  bench k1 spring-rate 66.4 N/mm\n"));
    let (value, sure) = rate(&book, "2026-04-02").unwrap();
    assert!((value - 66.4).abs() < 1e-9);
    assert!(sure.contains("benched later, 15 Aug 2026"), "{sure}");
    let (value, sure) = rate(&book, "2026-08-16").unwrap();
    assert!((value - 66.4).abs() < 1e-9 && !sure.contains("later"), "{sure}");
}

#[test]
fn a_rebuild_begins_another_part_both_ways() {
    let book = compile_text(&format!(
        "{SHOP}2026-05-01\n  bench k1 spring-rate 68.0 N/mm\n2026-06-01 wren\n  remove k1\n  rebuild k1\n  fit k1 LF\n2026-08-15\n  bench k1 spring-rate 66.4 N/mm\n"
    ));
    assert!((rate(&book, "2026-04-02").unwrap().0 - 68.0).abs() < 1e-9);
    assert!((rate(&book, "2026-06-02").unwrap().0 - 66.4).abs() < 1e-9);
    // Benched in another life only: neither that nor the tag is what it is now.
    let book = compile_text(&format!(
        "{SHOP}2026-05-01\n  bench k1 spring-rate 68.0 N/mm\n2026-06-01 wren\n  remove k1\n  rebuild k1\n  fit k1 LF\n"
    ));
    let missing = rate(&book, "2026-06-02").unwrap_err();
    assert!(missing.contains("since it was rebuilt on 2026-06-01"), "{missing}");
}

#[test]
fn never_for_the_seller_of_a_car_sold_before_it() {
    let book = compile_text(&format!(
        "{SHOP}2026-06-01 wren\n  sell wren 100.00 EUR to vole\n2026-08-15\n  bench k1 spring-rate 66.4 N/mm  for client\n"
    ));
    let Some(Thing::Client(orr)) = book.book.names.find("orr") else { panic!() };
    let his = stringline::audience::cut(&book, &stringline::audience::Reader::Client(orr));
    assert!((rate(&book, "2026-04-02").unwrap().0 - 66.4).abs() < 1e-9);
    assert!((rate(&his, "2026-04-02").unwrap().0 - 70.0).abs() < 1e-9);
}
