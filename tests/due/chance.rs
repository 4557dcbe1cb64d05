//! The chance of failing in what is planned, given the life so far.

use super::{SHOP, list, near, on, ran, row};
use stringline::answer::due::DueRow;
use stringline::due::row::Action;

/// Conover's ten fan belts (*Practical Nonparametric Statistics*, as in the documentation of `scipy.stats.ecdf`): those that failed, those
/// that were taken off good and the one that still runs, thousands of miles typed as minutes, each on a car of its own and scrapped after
/// it, but for the last. `kind` is the rest of the kind's line; `without` leaves some out.
pub fn lines(kind: &str, without: &[u32]) -> String {
    let (failed, good) = ([77, 47, 81, 56, 80], [62, 60, 43, 71]);
    let mut text = SHOP.to_owned();
    for event in ["one", "two", "three", "four"] {
        text = text.replace(&format!("\"{event}\""), &format!("\"{event}\"  entered heron, plover"));
    }
    text += &format!("kind belt \"fan belt\"  {kind}\n");
    for miles in failed.iter().chain(&good).chain(&[37]).filter(|miles| !without.contains(miles)) {
        text += &format!("car c-{miles} \"c\"\npart b-{miles} belt  opening new\n");
        let failed =
            if failed.contains(miles) { format!("    failed b-{miles} mode worn\n") } else { String::new() };
        let off = if *miles == 37 {
            String::new()
        } else {
            format!("{failed}    remove b-{miles}\n    scrap b-{miles} because done with\n")
        };
        text +=
            &format!("\n2025-04-01 c-{miles}\n  fit b-{miles} nose\n  09:00 run s1  {miles} min\n{off}\n");
    }
    text
}

/// The same with the tenth, 37, on heron, whose one event it was.
fn fan_belts(kind: &str) -> String {
    let kind = format!("fits nose  {kind}");
    let tenth = "part b-37 belt  opening new\n".to_owned() + &on("2025-05-01", "heron", &["fit b-37 nose"]);
    lines(&kind, &[37]) + &tenth + &ran("heron", "e-1", "37 min")
}

/// `SciPy` 1.17.1's fit of them.
const SHAPE: f64 = 7.481_413;
const SCALE: f64 = 76.630_49;

/// 1 - exp(-(((T + t)/n)^b - (T/n)^b)).
fn closed_form(age: f64, more: f64) -> f64 {
    1.0 - libm::exp(-(libm::pow((age + more) / SCALE, SHAPE) - libm::pow(age / SCALE, SHAPE)))
}

fn belt(text: &str, before: &str) -> DueRow {
    row(&list(text, before, "2025-06-01"), "b-37").clone()
}

/// 37 of life and 37 to come. The band at 90 % was found apart from this program: every shape and scale whose log-likelihood is within 1.3527
/// (half of chi-squared's .9 quantile, one degree of freedom) of the greatest, in plain Python.
#[test]
fn the_closed_form_of_a_fan_belt() {
    let row = belt(&fan_belts("life 300 min"), "e-3");
    assert_eq!((row.now.as_str(), row.after.as_str()), ("37 min", "74 min"));
    near(row.chance.likely.unwrap(), closed_form(37.0, 37.0), 2e-6);
    near(row.chance.low.unwrap(), 0.27987, 0.0002);
    near(row.chance.high.unwrap(), 0.77344, 0.0002);
    assert_eq!(row.chance.failures, Some(5));
    assert_eq!(row.chance.text, "54 % (28 % to 77 %)");
    // Half of them lasted 77 min or more; a limit of 300 would never take one off in time.
    let long = "the limit of 300 min is more than half of them last (77 min): shorten it";
    assert_eq!((row.action, row.why[0].as_str()), (Action::Carry, long));
    assert_eq!(row.why[1], "may well fail there");
}

/// Two events ahead are 74 to come.
#[test]
fn over_two_events() {
    let row = belt(&fan_belts("life 300 min"), "e-4");
    near(row.chance.likely.unwrap(), closed_form(37.0, 74.0), 2e-6);
}

/// With fewer than five failures the range stands before the number.
#[test]
fn few_failures_are_said_as_a_range_first() {
    let text = fan_belts("life 300 min").replace("    failed b-47 mode worn\n", "");
    let row = belt(&text, "e-3");
    assert_eq!(row.chance.failures, Some(4));
    let (range, rest) = row.chance.text.split_once(", likely ").expect("the range first");
    assert!(range.contains(" % to ") && rest.ends_with(" (4 failed)"), "{}", row.chance.text);
}

/// From fewer than three failures no chance is told, and the row says what is known.
#[test]
fn two_failures_tell_no_chance() {
    let mut text = fan_belts("life 300 min");
    for miles in [47, 81, 56] {
        text = text.replace(&format!("    failed b-{miles} mode worn\n"), "");
    }
    let row = belt(&text, "e-4");
    assert_eq!(row.chance.text, "cannot tell: 2 failed");
    assert_eq!(
        (row.chance.likely, row.chance.low, row.chance.high, row.chance.failures),
        (None, None, None, Some(2))
    );
    assert!(row.why.iter().all(|why| !why.contains("fail there")), "{:?}", row.why);
}

/// None failed in 614 min: at a constant rate the mean is at least 614/2.302585 at 90 % (NIST/SEMATECH e-Handbook 8.4.5.1), so that 37 more
/// are survived with a chance of at least exp(-37 x 2.302585/614).
#[test]
fn none_has_failed() {
    let mut text = fan_belts("life 300 min");
    for miles in [77, 47, 81, 56, 80] {
        text = text.replace(&format!("    failed b-{miles} mode worn\n"), "");
    }
    let chance = belt(&text, "e-3").chance;
    near(chance.high.unwrap(), 1.0 - libm::exp(-37.0 * std::f64::consts::LN_10 / 614.0), 1e-6);
    assert_eq!((chance.likely, chance.low, chance.failures), (None, None, Some(0)));
    assert_eq!(chance.text, "none has failed: at most 13 %");
}

#[test]
fn cannot_tell() {
    let say = |text: &str| belt(text, "e-3").chance.text;
    // The life of this one is not known.
    let unknown = fan_belts("life 300 min").replace("part b-37 belt  opening new", "part b-37 belt");
    assert_eq!(say(&unknown), "cannot tell: how long it has run is not known");
    // What the car will run is not known.
    let still = fan_belts("life 300 min").replace("09:00 run s1  37 min", "09:00 run s1  9 laps");
    let row = belt(&still, "e-3");
    assert_eq!(
        (row.chance.text.as_str(), row.chance.likely),
        ("cannot tell: what the car will run is not known", None)
    );
    // One failure, and nothing ran longer.
    let one = format!(
        "{SHOP}kind belt \"belt\"  fits nose\npart b-1 belt  opening new\npart b-37 belt  opening new\n{}{}{}",
        on(
            "2025-05-01",
            "plover",
            &["fit b-1 nose", "09:00 run s1  50 min", "  failed b-1 mode worn", "  remove b-1"]
        ),
        on("2025-05-01", "heron", &["fit b-37 nose"]),
        ran("heron", "e-1", "37 min"),
    );
    assert_eq!(
        say(&one),
        "cannot tell: one failure, and nothing ran longer: it says when one failed, not how they spread"
    );
    // One failed of which nobody knows how long it had run: there is no bound from none having failed.
    assert_eq!(
        say(&one.replace("part b-1 belt  opening new", "part b-1 belt")),
        "cannot tell: one has failed, and how long it had run is not known"
    );
}

/// However long they last by the book, a part that can hurt is due at its stated limit.
#[test]
fn statistics_never_lengthen_a_limit_where_failure_hurts() {
    let mut text = format!(
        "{SHOP}kind belt \"belt\"  fits nose  life 60 min  safety  failure-costs 900.00 EUR\nspec s of belt \"s\"  price 10.00 EUR\n\
         part b-37 belt  spec s  opening new\n"
    );
    for (number, minutes) in [900, 950, 1000, 1050, 1100, 1150].iter().enumerate() {
        text += &format!(
            "car c-{number} \"c\"\npart b-{number} belt  spec s  opening new\n\n2025-04-01 c-{number}\n  fit b-{number} nose\n  "
        );
        text += &format!(
            "09:00 run s1  {minutes} min\n    failed b-{number} mode worn\n    remove b-{number}\n\n"
        );
    }
    text = text + &on("2025-05-01", "heron", &["fit b-37 nose"]) + &ran("heron", "e-1", "37 min");
    let row = belt(&text, "e-3");
    assert!(row.chance.likely.unwrap() < 1e-6, "{:?}", row.chance);
    assert_eq!((row.action, row.why[0].as_str()), (Action::Replace, "its 60 min run out during this event"));
    // And the lives of the kind say no later age either, though cost alone would.
    let view = crate::lives::belts(&text);
    let money = view.specs[0].money.as_ref().unwrap();
    near(money.change_at.unwrap(), 60.0, 1e-9);
    let words = money.words.join(" ");
    assert!(
        words.contains("the limit of 60 min comes first") && words.contains("the stated limit rules"),
        "{words}"
    );
    assert!(view.specs[0].notes.iter().any(|note| note.contains("would fail before the limit of 60 min")));
}
