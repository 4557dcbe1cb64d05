//! The same of dated lines: what a line with a mistake was about is not known, of whatever is worked out from several.

use super::errors;
use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::moment;

/// A figure of the first car at the end of the book.
fn figure(made: &Compiled, name: &str, place: Place) -> Result<f64, String> {
    let mut calc = Calc::new(made.facts(), CarId::new(0), &moment::end(&made.history));
    calc.named(name, place).map(|fig| fig.value).map_err(|missing| format!("{missing:?}"))
}

/// Under a head that names no car a line about one may be about any: none of its lines leaves a value as it was. Said once.
#[test]
fn a_head_that_lost_its_car_may_be_of_any() {
    let text = |head: &str| {
        format!(
            "car aa \"A\"\ncar bb \"B\"\n2026-05-01 bb\n  left camber LF -1.0 deg\n2026-05-01 aa\n  left ride-height LF 60 mm\n  left camber LF -2.0 deg\n2026-05-02 {head}\n  hours 1 h\n  left ride-height LF 66 mm\n  set camber LF -3.0 deg\n2026-05-03 aa\n  found ride-height LF 66 mm\n"
        )
    };
    let made = compile_text(&text("aa"));
    assert_eq!(figure(&made, "ride-height-drift", Place::LF), Ok(0.0));
    let made = compile_text(&text("\"the car is missing\""));
    assert_eq!(errors(&made), ["car-missing: `left` is about a car, and the date above names none."]);
    assert!(figure(&made, "ride-height-drift", Place::LF).is_err());
    let unknown = |car: u32| {
        let quantity = made.book.vocabulary.find("camber").unwrap();
        let slot =
            made.facts().on(CarId::new(car), stringline::history::order::Rank::END).slot(quantity, Place::LF);
        slot.is_some_and(|slot| slot.held.unknown.is_some())
    };
    assert!(unknown(0) && unknown(1));
    // A day of the shop on which nothing is about a car touches none.
    let made = compile_text(
        &text("aa").replace("2026-05-02 aa\n  hours 1 h\n", "2026-05-02\n  think \"rain\"\n2026-05-02 aa\n"),
    );
    assert!(errors(&made).is_empty(), "{:?}", errors(&made));
}

/// A cost shared by running is shared by what is known of all that share it, or nobody knows what any of them pays: of each line, whoever's.
#[test]
fn a_cost_shared_by_running_that_is_not_known_is_nobodys_sum() {
    let text = |run: &str, split: &str| {
        format!(
            "shop \"S\"  currency EUR\ncircuit ven \"Ven\"  length 2 km\nevent e-1 2026-05-02 at ven \"One\"\ncar aa \"A\"\ncar bb \"B\"\ncar cc \"C\"\n\
             2026-05-02 aa at e-1\n  run s1 20 min\n2026-05-02 bb at e-1\n  run s1 10 min\n  {run}\n2026-05-03 at e-1\n  cost 90.00 EUR other  {split}\n"
        )
    };
    let shares = |made: &Compiled| -> Vec<Option<String>> {
        made.costs.postings.iter().map(|one| one.amount.map(|sum| sum.value.to_string())).collect()
    };
    let some = |list: [&str; 2]| list.map(|one| Some(one.to_owned())).to_vec();
    for (run, split, wanted) in [
        ("run s2 30 min", "split minutes", some(["30.00", "60.00"])),
        ("run s2 3O min", "split minutes", vec![None, None]),
        ("run s2 8 laps", "split minutes", vec![None, None]),
        ("run s2 8 laps", "split events among aa, bb", some(["45.00", "45.00"])),
        ("run s2 8 laps", "split minutes among aa, cc", some(["90.00", "0.00"])),
        ("run s2 3O min", "split equal among aa, bb", some(["45.00", "45.00"])),
        ("run s2 3O min", "split 2:1 among aa, bb", some(["60.00", "30.00"])),
    ] {
        let made = compile_text(&text(run, split));
        assert_eq!(shares(&made), wanted, "{run} {split}");
        // One message: of the line that cannot be read, or of the session that does not say how long it was.
        let count = usize::from(run.contains("3O") || run.contains("laps") && wanted == [None, None]);
        assert_eq!(errors(&made).len(), count, "{run} {split}: {:?}", errors(&made));
    }
}

/// Where nobody can read by which gauge a value was read, or to what that reads, it is as unsure as by the coarsest that reads the like.
#[test]
fn a_reading_by_a_gauge_that_cannot_be_read_is_as_coarse_as_any() {
    let text = |gauge: &str, by: &str| {
        format!(
            "gauge cg-1 \"fine\"  reads camber  {gauge}\ngauge cg-2 \"coarse\"  reads camber  resolution 0.5 deg\ngauge tg-1 \"toe\"  reads toe  resolution 2 deg\ncar aa \"A\"\n2026-05-02 aa\n  read camber LF -2.00 deg  by {by}\n"
        )
    };
    for (gauge, by, wanted) in [
        ("resolution 0.1 deg", "cg-1", 0.05),
        ("resolution 0.1 dex", "cg-1", 0.25),
        ("resolution 0.1 deg", "cg-2", 0.25),
        ("resolution 0.1 deg", "cg-l", 0.25),
        ("resolution 0.1 deg", "", 0.25),
        ("resolution 1.0 deg", "cg-9", 0.5),
    ] {
        let made = compile_text(&text(gauge, by));
        let entry = made.book.entries.last().unwrap();
        let item = made.book.items_of(entry).first().unwrap();
        let half = stringline::history::grain::half(&made.book, &made.files, entry, item).to_degrees();
        assert!((half - wanted).abs() < 1e-6, "{gauge} {by}: {half}");
    }
}

/// What was set by a line that cannot be read ends what was read before it; a reading that cannot be read is missing, and the last one makes it
/// not known how it is.
#[test]
fn a_slope_does_not_reach_across_what_cannot_be_read() {
    let text = |lines: [&str; 3]| {
        let mut text = "car aa \"A\"  cylinders 1\n".to_owned();
        for (at, line) in lines.iter().enumerate() {
            text += &format!(
                "2026-05-0{} aa\n  read engine-hours {}.0 h\n  {line} with cold\n",
                at + 1,
                10 + 10 * at
            );
        }
        text
    };
    let slope = |lines: [&str; 3]| {
        let made = compile_text(&text(lines));
        assert!(errors(&made).len() <= 1, "{lines:?}: {:?}", errors(&made));
        // In mm an hour.
        figure(&made, "lash-exhaust-per-hour", Place::cylinder(1)).ok().map(|si| si * 3600.0 * 1000.0)
    };
    let near = |a: Option<f64>, b: f64| a.is_some_and(|a| (a - b).abs() < 1e-9);
    let [first, second, third] =
        ["left lash-exhaust c1 0.30 mm", "found lash-exhaust c1 0.28 mm", "found lash-exhaust c1 0.26 mm"];
    assert!(near(slope([first, second, third]), -0.002));
    assert!(near(slope([first, "found lash-exhaust c1 0.28 mmm", third]), -0.002));
    assert_eq!(slope([first, "left lash-exhaust c1 0.35 mmm", third]), None);
    assert_eq!(slope([first, second, "found lash-exhaust c1 0.26 mmm"]), None);
}

/// The nearest of everything on the bench is not known while one of the rates is not.
#[test]
fn the_nearest_of_all_is_of_all() {
    let text = |row: &str| {
        format!(
            "kind blade  fits front  gives bar-rate\npart b-1 blade\npart b-2 blade\ncar aa \"A\"\n2026-05-01\n  bench b-1 bar-rate  with one-end-held\n    points 0 mm 0 N, 10 mm 300 N\n  bench b-2 bar-rate  with one-end-held\n    {row}\n2026-05-02 aa\n  set bar-rate-wanted front 28/54 N/mm\n"
        )
    };
    let made = compile_text(&text("points 0 mm 0 N, 10 mm 540 N"));
    let nearest = |made: &Compiled| figure(made, "nearest-to-stiffest", Place::FRONT);
    assert!(nearest(&made).is_ok_and(|rate| (rate - 54_000.0).abs() < 1e-6), "{:?}", nearest(&made));
    let made = compile_text(&text("points 0 mm 0 N,x 10 mm 540 N"));
    assert!(nearest(&made).is_err());
}

/// What follows from a declaration that cannot be read has no message of its own.
#[test]
fn one_mistake_has_one_message() {
    for text in [
        "kind pack \"p\"   bellhousing on aa\npart p-1 pack\ncar aa \"A\"\n2026-05-01 aa\n  fit p-1 bellhousing\n2026-05-02 aa\n  fit p-1 bellhousing\n",
        "car aa \"A\"\n  20 in\n2026-05-01 aa\n  set toe-in front 1 mm total\n  set toe-in rear 2 mm total\n",
        "shop \"S\"  currency EUR\nclient orr \"Orr\"\ncar aa \"A\"  client orx\n2026-05-01 aa\n  paid 10.00 EUR\n",
        "shop \"S\"  currency EUR\nclient orr \"Orr\"\ncar aa \"A\"  orr\n2026-05-01 aa\n  paid 10.00 EUR\n",
        "shop \"S\"  zone Europ/Dublin\ncar aa \"A\"\n2026-10-25 aa\n  01:10 +01:00..01:30 +00:00 run s1\n",
    ] {
        let made = compile_text(text);
        assert_eq!(errors(&made).len(), 1, "{text}: {:?}", errors(&made));
    }
}

/// A part that a line with a mistake may have taken off gives nothing: what is there now may give something else.
#[test]
fn a_part_that_may_be_off_gives_nothing() {
    let text = |line: &str| {
        format!(
            "kind spring  fits LF  gives spring-rate\nspec s60 of spring  tag spring-rate 60 N/mm\npart sp-1 spring  spec s60\npart sp-2 spring  spec s60\ncar aa \"A\"  motion-ratio LF 1\n2026-05-01 aa\n  fit sp-1 LF\n2026-05-02 aa\n  {line}\n"
        )
    };
    let rate = |line: &str| figure(&compile_text(&text(line)), "wheel-rate", Place::LF);
    assert!(rate("think \"fine\"").is_ok_and(|rate| (rate - 60_000.0).abs() < 1e-6));
    for line in ["swap spring LF sp-1 -> sp-9", "remove sp-1 LFF", "swop spring LF sp-1 -> sp-2"] {
        assert!(rate(line).is_err(), "{line}: {:?}", rate(line));
    }
}

/// A session of which nobody knows whose it was, or when, may have burnt fuel, and is part of no mean.
#[test]
fn a_session_under_a_head_with_a_mistake_burns_fuel() {
    let text = |head: &str| {
        format!(
            "event e-1 2026-05-01..02 \"One\"\nevent e-2 2026-06-01 \"Two\"\ncar heron \"H\"\ncar wren \"W\"\n2026-05-01 heron at e-1\n  fill fuel 30 L\n  set fuel-rate 0.5 L/min\n  run s1 10 min\n{head}\n  run s2 20 min\n"
        )
    };
    let aboard = |head: &str| figure(&compile_text(&text(head)), "fuel-aboard", Place::CAR);
    assert!(aboard("2026-05-02 heron at e-1").is_ok_and(|litres| (litres - 0.015).abs() < 1e-9));
    for head in ["2026-05-02 heronn at e-1", "2026-05-O2 heron at e-1", "2026-05-02 at e-1"] {
        assert!(aboard(head).is_err(), "{head}: {:?}", aboard(head));
    }
    assert!(aboard("2026-05-02 wren at e-1").is_ok_and(|litres| (litres - 0.025).abs() < 1e-9));
}

/// By how much a gauge reads high of which a comparison cannot be read is not known: what it read is no figure, and passes no rule.
#[test]
fn a_comparison_that_cannot_be_read_leaves_its_gauge_unknown() {
    let text = |compare: &str, by: &str| {
        format!(
            "gauge pg-1 \"one\"  reads tyre-hot  resolution 0.01 bar\ngauge pg-2 \"two\"  reads tyre-hot  resolution 0.01 bar\nclass K-1\nrule r-1 class K-1  tyre-hot min 1.5 bar\ncar aa \"A\"  class K-1\n\
             2026-05-01\n  {compare}\n2026-05-02 aa\n  read tyre-hot 1.55 1.55 1.55 1.55 bar  by {by}\n"
        )
    };
    let verdict = |compare: &str, by: &str| {
        let made = compile_text(&text(compare, by));
        let end = moment::end(&made.history);
        stringline::answer::rules::build(&made, CarId::new(0), &end, None, None).rules[0].verdict
    };
    // 1.55 less the 0.10 that it reads high are 1.45.
    assert_eq!(verdict("compare pg-1 1.90 bar  reference 1.80 bar", "pg-1"), "fails");
    assert_eq!(verdict("compare pg-1 1.90 bar  referenc 1.80 bar", "pg-1"), "not-known");
    assert_eq!(verdict("compare pg-1 1,90 bar  reference 1.80 bar", "pg-1"), "not-known");
    assert_eq!(verdict("compare pg-1 1.90 bar  referenc 1.80 bar", "pg-2"), "passes");
}

/// What disturbs a quantity and cannot be read is what is offered in its place, else anything.
#[test]
fn what_disturbs_it_and_cannot_be_read_disturbs_it() {
    let stale = |by: &str, line: &str| {
        let made = compile_text(&format!(
            "quantity shift-travel length car  disturbed-by {by}\ncar aa \"A\"\n2026-05-01 aa\n  read shift-travel 12 mm\n2026-05-02 aa\n  {line}\n"
        ));
        let quantity = made.book.vocabulary.find("shift-travel").unwrap();
        let standing = made.facts().on(CarId::new(0), stringline::history::order::Rank::END);
        standing.slot(quantity, Place::CAR).is_some_and(|slot| slot.held.stale.is_some())
    };
    let turned = "adjust perch LF +1 turn";
    assert!(stale("perch", turned) && !stale("perch", "set brake-bias 58 %"));
    assert!(stale("prch", turned) && !stale("prch", "set brake-bias 58 %"));
    assert!(stale("xyzzy", turned) && stale("xyzzy", "set brake-bias 58 %"));
}

/// What a line under a head that names no car that there is cost may be any car's that it may mean: none of their totals is exact.
#[test]
fn a_cost_under_a_head_with_a_mistake_may_be_any_cars() {
    let text = |head: &str| {
        format!(
            "shop \"S\"  currency EUR  rate 50.00 EUR\ncar heron \"H\"\ncar wren \"W\"\n2026-05-01 heron\n  hours 1 h\n2026-05-01 wren\n  hours 1 h\n{head}\n  hours 2 h\n  cost 30.00 EUR parts\n"
        )
    };
    let exact = |head: &str| {
        let made = compile_text(&text(head));
        [0, 1].map(|car| {
            let own = made.costs.postings.iter().filter(|one| one.car == Some(CarId::new(car)));
            let mut total = stringline::money::Total::default();
            own.for_each(|posting| posting.add_to(&mut total));
            !total.at_least
        })
    };
    assert_eq!(exact("2026-05-02 heron"), [true, true]);
    assert_eq!(exact("2026-05-02 heronn"), [false, true]);
    assert_eq!(exact("2026-05-02 xyzzy"), [false, false]);
    assert_eq!(exact("2026-05-02"), [true, true]);
}

/// An impact whose line has a mistake is one, and cost at least what stands under it; so is a failure at an event whose sessions cannot be read.
#[test]
fn what_a_failure_cost_of_a_line_with_a_mistake_is_the_least() {
    let text = |sessions: &str, hit: &str| {
        format!(
            "shop \"S\"  currency EUR  rate 50.00 EUR\nevent e-1 2026-05-01 \"One\"  {sessions}\ncar heron \"H\"\n2026-05-01 heron at e-1\n  cost 100.00 EUR entry\n  run s1 10 min\n  {hit}\n    hours 3 h\n"
        )
    };
    let rows = |sessions: &str, hit: &str| -> Vec<bool> {
        let made = compile_text(&text(sessions, hit));
        made.costs.failures.iter().map(|one| one.total.at_least).collect()
    };
    assert_eq!(rows("sessions 2", "hit LF \"wall\""), [false]);
    assert_eq!(rows("sessions 2", "hit LX \"wall\""), [true]);
    assert_eq!(rows("sessions 2", "hit LF \"wall"), [true]);
    assert_eq!(rows("sessions two", "hit LF \"wall\""), [true]);
}

/// A weighing is of the springs that were on: one that is off since, or may be by a line that cannot be read, makes it out of date.
#[test]
fn a_spring_that_may_be_off_makes_the_weighing_old() {
    let stale = |line: &str| {
        let made = compile_text(&format!(
            "kind spring  fits LF RF  gives spring-rate\npart sp-1 spring\npart sp-2 spring\npart sp-3 spring\ncar aa \"A\"\n2026-05-01 aa\n  fit sp-1 LF\n  fit sp-2 RF\n  read weight 150 150 160 160 kg\n2026-05-02 aa\n  {line}\n"
        ));
        let quantity = made.book.vocabulary.find("weight").unwrap();
        let standing = made.facts().on(CarId::new(0), stringline::history::order::Rank::END);
        standing.slot(quantity, Place::LF).is_some_and(|slot| slot.held.stale.is_some())
    };
    assert!(!stale("think \"fine\""));
    for line in [
        "remove sp-1",
        "swap spring LF sp-1 -> sp-3",
        "swap spring LF sp-1 -> sp-9",
        "swop spring LF sp-1 -> sp-3",
    ] {
        assert!(stale(line), "{line}");
    }
}

/// Where no quantity is near what was typed, the line is about one that it names further on: what that stood at is not known from there.
#[test]
fn a_line_whose_quantity_cannot_be_read_is_about_the_one_it_names() {
    let unknown = |line: &str| {
        let made = compile_text(&format!(
            "car wren \"W\"\n2026-05-01 wren\n  set wing-angle 8 deg\n2026-05-02 wren\n{line}"
        ));
        let quantity = made.book.vocabulary.find("wing-angle").unwrap();
        let slot =
            made.facts().on(CarId::new(0), stringline::history::order::Rank::END).slot(quantity, Place::CAR);
        (slot.is_some_and(|slot| slot.held.unknown.is_some()), errors(&made).len())
    };
    assert_eq!(unknown(""), (false, 0));
    for line in [
        "  set set wing-angle 8 -> 7 deg\n",
        "  set the wing-angle 7 deg\n",
        "  adjust of wing-angle +1 deg\n",
        "  wing-angle 7 deg\n",
        "  08:45 wing-angle +1 deg\n",
    ] {
        assert_eq!(unknown(line), (true, 1), "{line}");
    }
    // Words of the reason name nothing.
    assert_eq!(unknown("  set zzz 7 deg  because wing-angle is next\n"), (false, 1));
}
