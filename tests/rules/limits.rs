//! Readings held to rules. Margins are differences worked out by hand on each line (common practice); a pad's error is one step
//! of its gauge, and four of them add up.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::model::CarId;
use stringline::rules::judge::{Judged, Side, Verdict};

/// Rule, day, verdict, margin in the limit's unit.
type Row<'a> = (&'a str, &'a str, Verdict, f64);

fn judged(book: &Compiled, class: &str) -> Vec<Judged> {
    book.context().scrutiny().judged(CarId::new(0), class)
}

fn holds(book: &Compiled, class: &str, rows: &[Row<'_>]) {
    let all = judged(book, class);
    assert_eq!(all.len(), rows.len(), "{all:#?}");
    for (got, (rule, day, verdict, margin)) in all.iter().zip(rows) {
        let name = &*book.book.rules[got.rule].named.typed;
        let date = got.reading.as_ref().unwrap().date.map_or_else(String::new, |date| date.to_string());
        assert_eq!((name, date.as_str(), &got.verdict), (*rule, *day, verdict), "{got:#?}");
        let near = got.margin.unwrap();
        let size = near.margin / near.unit.get().factor;
        assert!((size - margin).abs() < 1e-6, "{rule} {day}: {size}, not {margin}");
    }
}

const CLEARANCE: &str = "\
circuit pell
event pell-1 2026-09-05..06 at pell
gauge bg-1 \"blocks\"  reads ride-height  resolution 1 mm
car heron \"Heron\"  class SR-2
rule low class sr-2  ride-height min 40 mm  until 2026-07-31
rule high class SR-2  ride-height min 48 mm  from 2026-08-01
";

#[test]
fn each_reading_by_the_rule_of_its_own_day() {
    let book = compile_text(&format!(
        "{CLEARANCE}
2026-07-31 heron
  read ride-height 44 44 50 50 mm  by bg-1
2026-08-01 heron
  read ride-height 44 44 50 50 mm  by bg-1
2026-08-22 heron
  found ride-height 44 44 50 50 mm  by bg-1
  left ride-height 51 51 57 57 mm  by bg-1
2026-08-30 heron
  read ride-height 57 57 48 57 mm  by bg-1
2026-08-31 heron
  read ride-height 57 57 49 57 mm  by bg-1
"
    ));
    holds(
        &book,
        "SR-2",
        &[
            ("low", "2026-07-31", Verdict::Passes, 4.0),
            ("high", "2026-08-01", Verdict::Fails, -4.0),
            ("high", "2026-08-22", Verdict::Fails, -4.0),
            ("high", "2026-08-22", Verdict::Passes, 3.0),
            // On the limit, and a step above it: the gauge cannot tell the first from a millimetre less.
            ("high", "2026-08-30", Verdict::InsideError, 0.0),
            ("high", "2026-08-31", Verdict::Passes, 1.0),
        ],
    );
    let all = judged(&book, "SR-2");
    assert!(all[2].mended && !all[1].mended && !all[3].mended);
    assert_eq!(book.book.place_word(all[4].margin.unwrap().value.place), "LR", "the worst corner");
    assert!(judged(&book, "H-65").is_empty());
}

/// One step of the gauge; the stated ± stands in place of the gauge's step; what is set has none.
#[test]
fn how_far_off_a_reading_may_be() {
    let book = compile_text(
        "\
gauge pads \"pads\"  reads weight  resolution 0.5 kg
car heron \"Heron\"  class SR-2
rule heavy class SR-2  total-weight min 615 kg
rule lead class SR-2  ballast min 5 kg max 20 kg

2026-08-01 heron
  read weight 154.0 154.0 154.0 154.0 kg  by pads
2026-08-02 heron
  read weight 154.5 154.5 154.0 154.0 kg  by pads
2026-08-03 heron
  read total-weight 616.0 ± 0.5 kg
2026-08-04 heron
  read total-weight 616 kg
2026-08-05 heron
  set ballast 5 kg
2026-08-06 heron
  set ballast 5 -> 20.5 kg  because of the rule
",
    );
    holds(
        &book,
        "SR-2",
        &[
            // 616 kg on four pads of half a kilogram: one over, good to two.
            ("heavy", "2026-08-01", Verdict::InsideError, 1.0),
            ("heavy", "2026-08-02", Verdict::Passes, 2.0),
            ("heavy", "2026-08-03", Verdict::Passes, 1.0),
            // No gauge: the last digit.
            ("heavy", "2026-08-04", Verdict::Passes, 1.0),
            ("lead", "2026-08-05", Verdict::Passes, 0.0),
            ("lead", "2026-08-06", Verdict::Fails, -0.5),
        ],
    );
    let all = judged(&book, "SR-2");
    let error = |at: usize| all[at].margin.map(|near| near.value.error / 9.80665);
    assert!((error(0).unwrap() - 2.0).abs() < 1e-6 && (error(2).unwrap() - 0.5).abs() < 1e-6);
    assert_eq!(all[5].margin.unwrap().side, Side::Max);
}

/// A reading in inches, an opening value, a limit in millimetres: 4 7/8 in is 123.825 mm, 51.5 in is 1308.1 mm.
#[test]
fn inches_against_millimetres() {
    let book = compile_text(
        "\
car plover \"Plover\"  class H-65  units imperial  track 51.5 50.5 in
rule tracks class H-65  track max 1310 mm
rule high class H-65  ride-height front min 120 mm

2026-08-01 plover
  read ride-height LF 4 7/8 RF 4 15/16 LR 4 1/2 RR 4 1/2 in
",
    );
    let all = judged(&book, "H-65");
    let margin = |at: usize| all[at].margin.map(|near| near.margin * 1000.0).unwrap();
    assert!((margin(0) - 1.9).abs() < 1e-9, "{}", margin(0));
    assert!((margin(1) - 3.825).abs() < 1e-9, "{}: the rears are not the rule's business", margin(1));
}

/// The local rulebook stands in the place of the class's rule at its event, for every car.
#[test]
fn a_local_rulebook_outranks_the_class() {
    let book = compile_text(&format!(
        "{CLEARANCE}
rule gate at pell  ride-height min 55 mm
rule paddock at pell-1  rake max 10 mm
2026-09-04 heron
  read ride-height 51 51 57 57 mm  by bg-1
2026-09-05 heron at pell-1
  read ride-height 51 51 57 57 mm  by bg-1
"
    ));
    let all = judged(&book, "SR-2");
    let shown: Vec<(&str, bool, Verdict)> = all
        .iter()
        .map(|one| {
            let name = &*book.book.rules[one.rule].named.typed;
            (name, one.outranked.is_some(), one.verdict.clone())
        })
        .collect();
    assert_eq!(
        shown,
        [("high", false, Verdict::Passes), ("high", true, Verdict::Passes), ("gate", false, Verdict::Fails)]
    );
    let day = "2026-09-05".parse().unwrap();
    let scrutiny = book.context().scrutiny();
    assert_eq!(scrutiny.in_force("SR-2", [day; 2], None).len(), 1);
    let event = book.book.heads.as_slice()[1].event;
    assert_eq!(scrutiny.in_force("SR-2", [day; 2], event).len(), 3);
    assert_eq!(
        scrutiny.in_force("", [day; 2], event).len(),
        2,
        "a car without a class has the local ones alone"
    );
}

/// 606 kg with 20 L aboard; filled to 25 L, 20 minutes at 30 L/h burn 10 L and 15 are left: 5 L of 0.745 kg/L less, 602.275 kg.
#[test]
fn after_the_session_with_the_fuel_that_is_left() {
    let book = compile_text(
        "\
car heron \"Heron\"  class SR-2
rule heavy class SR-2  weight-after-session min 600 kg  with driver

2026-08-01 heron
  set fuel-rate 30 L/h
  read weight 152 152 151 151 kg  with driver 78 kg, fuel 20 L
2026-08-02 heron
  fill fuel 25 L
  10:00..10:20 run s1
  11:00..11:50 run s2
  12:00..12:10 run s3
  read weight 150 150 150 149.5 kg  after s3 with driver out, fuel 5 L
",
    );
    let all = judged(&book, "SR-2");
    let margins: Vec<f64> = all.iter().map(|one| one.margin.unwrap().margin / 9.80665).collect();
    assert!((margins[0] - 2.275).abs() < 1e-6, "{margins:?}");
    // The second burns 25 L of 15: a fill is not written down, and nothing is judged.
    // Weighed as it came in: as it is read, and not in the rule's state.
    assert_eq!(margins.len(), 2, "{margins:?}");
    assert!((margins[1] + 0.5).abs() < 1e-6, "{margins:?}");
    assert_eq!(all[1].verdict, Verdict::OtherState("driver".to_owned()));
}

/// A rule that cannot be read is not left out without a word: of its class, or where its class is what cannot be read.
#[test]
fn a_rule_that_cannot_be_read_is_told() {
    let head = "car wren \"Wren\"  class S\nevent e 2025-05-10..11 \"E\"\n";
    for (rule, wanted) in [
        ("rule r1 class S ride-height min 48 mm", 0),
        ("rule r1 class S ride-height min 4B mm", 1),
        ("rule r1 class S ride-hieght mni 48 mm", 1),
        ("rule r1 clas S ride-height min 48 mm", 1),
        ("rule r1 class S ride-height min 48 mm from 2025-13-01", 1),
        ("rule r1 class T ride-height min 4B mm", 0),
    ] {
        let book =
            crate::checks::compile_text(&format!("{head}{rule}\n2025-05-10 wren at e\n  run s1 5 min\n"));
        let car = stringline::book::model::CarId::new(0);
        let at = stringline::history::moment::end(&book.history);
        let card = stringline::answer::rules::build(&book, car, &at, None, None);
        assert_eq!(card.unread.len(), wanted, "{rule}");
        assert_eq!(
            card.rules.len(),
            usize::from(rule.ends_with("S ride-height min 48 mm") && rule.contains("class")),
            "{rule}"
        );
    }
}

/// A local rule stands in a class's place where it does on each of the days; it may take two of them. Of a rule that has ended by then a reading
/// after its last day says nothing.
#[test]
fn the_rules_of_an_event_are_those_of_any_of_its_days() {
    let book = compile_text(
        "circuit pell
event pell-1 2026-09-05..07 at pell
car heron \"Heron\"  class SR-2
rule low class SR-2  ride-height min 40 mm  until 2026-09-05
rule high class SR-2  ride-height min 48 mm  from 2026-09-06
rule one at pell  ride-height min 45 mm  until 2026-09-06
rule two at pell  ride-height min 46 mm  from 2026-09-07

2026-09-05 heron at pell-1
  read ride-height 44 50 50 50 mm
2026-09-07 heron at pell-1
  read ride-height 39 50 50 50 mm
",
    );
    let scrutiny = book.context().scrutiny();
    let days = ["2026-09-05", "2026-09-07"].map(|day| day.parse().unwrap());
    let event = Some(stringline::book::model::EventId::new(0));
    let name = |id| &*book.book.rules[id].named.typed;
    let force = scrutiny.in_force("SR-2", days, event);
    let force: Vec<_> = force.iter().map(|one| (name(one.rule), one.outranked.map(name))).collect();
    assert_eq!(force, [("low", Some("one")), ("high", Some("one")), ("one", None), ("two", None)]);
    // Without the second local rule nothing stands in the place of the class's on the last day.
    let short = ["2026-09-06", "2026-09-08"].map(|day| day.parse().unwrap());
    let force = scrutiny.in_force("SR-2", short, event);
    assert_eq!(force.iter().map(|one| name(one.rule)).collect::<Vec<_>>(), ["high", "one", "two"]);
    let end = stringline::history::order::Rank::END;
    let card = scrutiny.card(CarId::new(0), "SR-2", days, event, end);
    let low = card.iter().find(|one| name(one.rule) == "low").unwrap();
    assert_eq!((&low.verdict, low.reading.as_ref().unwrap().date), (&Verdict::Passes, Some(days[0])));
}
