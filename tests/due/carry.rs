//! Spares to take along by kind, counted by renewal from each part's own age.

use super::chance::lines as fan_belts;
use super::{SHOP, near, on, ran, sure};
use stringline::answer::due::CarryView;
use stringline::statistics::poisson::spares;

/// New belts on some cars that run 76 (thousand miles, typed as minutes) an event; the lives are Conover's ten fan belts.
fn book(cars: &[&str], spares: usize) -> String {
    let mut text = fan_belts("fits nose", &[]);
    for (number, car) in cars.iter().enumerate() {
        let fit = format!("fit n-{number} nose");
        text += &format!(
            "part n-{number} belt  opening new\n{}{}",
            ran(car, "e-1", "76 min"),
            on("2025-05-10", car, &[&fit])
        );
    }
    for number in 0..spares {
        text += &format!("\npart s-{number} belt  opening new\n");
    }
    text
}

fn carry(text: &str, confidence: f64) -> CarryView {
    let due = sure(text, "e-3", "2025-06-01", confidence);
    due.carry.into_iter().find(|carry| carry.kind == "belt").expect("the kind")
}

/// 1 - exp(-(76/76.63049)^7.481413) = 0.609 fail once, and a new one hardly fails in what is left: one spare is enough at 90 %. A Poisson
/// count on the mean, 76/71.93 = 1.057, would ask for two.
#[test]
fn renewal_and_not_poisson_on_the_mean() {
    let one = book(&["heron"], 0);
    let fails = 1.0 - libm::exp(-libm::pow(76.0 / 76.630_49, 7.481_413));
    near(fails, 0.6094, 0.00005);
    assert_eq!(carry(&one, 0.9).wanted, Some(1));
    // None is enough as often as none fails.
    assert_eq!((carry(&one, 0.39).wanted, carry(&one, 0.40).wanted), (Some(0), Some(1)));
    assert_eq!(spares(76.0 / 71.927, 0.9), Some(2));
    assert_eq!(carry(&one, 0.9).text, "take 1 for 1 place; none lies ready");
}

/// Of two places both fail with 0.609 squared, 0.371: two spares at 90 %, one at 62 %.
#[test]
fn places_are_added_up() {
    let two = book(&["heron", "plover"], 3);
    assert_eq!((carry(&two, 0.9).wanted, carry(&two, 0.62).wanted), (Some(2), Some(1)));
    assert_eq!(carry(&two, 0.9).text, "take 2 for 2 places; 3 ready: s-0, s-1, s-2");
}

/// At 37 with 76 to come it will fail, and the next may: that is counted from its own age.
#[test]
fn age_counts() {
    let text = book(&["heron"], 0) + &on("2025-05-11", "heron", &["09:00 run t1  37 min"]);
    assert_eq!((carry(&text, 0.4).wanted, carry(&text, 0.9).wanted), (Some(1), Some(1)));
    assert_eq!(carry(&text, 0.01).wanted, Some(1), "hardly ever does it last");
}

/// One failure and nothing ran longer: no distribution fits, and it is counted at a constant rate, one in 50 min. With 10 planned none fails
/// with exp(-0.2) = 0.819, and at most one with 0.982.
#[test]
fn at_a_constant_rate_for_want_of_better() {
    let text = format!(
        "{SHOP}kind belt \"belt\"  fits nose\npart b-1 belt  opening new\npart b-2 belt  opening new\n{}{}{}",
        on(
            "2025-04-01",
            "plover",
            &["fit b-1 nose", "09:00 run t1  50 min", "  failed b-1 mode worn", "  remove b-1"]
        ),
        ran("heron", "e-1", "10 min"),
        on("2025-05-10", "heron", &["fit b-2 nose"]),
    );
    assert_eq!(
        (carry(&text, 0.81).wanted, carry(&text, 0.9).wanted, carry(&text, 0.98).wanted),
        (Some(0), Some(1), Some(1))
    );
    assert!(
        carry(&text, 0.9).text.ends_with("counted at a constant rate, for want of lives to fit"),
        "{}",
        carry(&text, 0.9).text
    );
}

/// They last a minute and a hundred are planned: said as that, not as nothing known.
#[test]
fn more_than_can_be_counted() {
    let mut text = format!("{SHOP}kind belt \"belt\"  fits nose\npart b-9 belt  opening new\n");
    for (number, minutes) in ["0.9", "1", "1.1", "1.2"].iter().enumerate() {
        text += &format!(
            "car c-{number} \"c\"\npart b-{number} belt  opening new\n\n2025-04-01 c-{number}\n  fit b-{number} nose\n"
        );
        text += &format!(
            "  09:00 run s1  {minutes} min\n    failed b-{number} mode worn\n    remove b-{number}\n    sell c-{number}\n\n"
        );
    }
    text = text + &ran("heron", "e-1", "100 min") + &on("2025-05-10", "heron", &["fit b-9 nose"]);
    let carry = carry(&text, 0.9);
    assert_eq!(
        (carry.wanted, carry.text.as_str()),
        (None, "more than can be counted for 1 place; none lies ready")
    );
}

/// Nothing of the kind has ever failed: no count is made up.
#[test]
fn what_never_failed_is_not_counted() {
    let text =
        book(&["heron"], 0).lines().filter(|line| !line.contains("failed")).collect::<Vec<_>>().join("\n")
            + "\n";
    assert!(sure(&text, "e-3", "2025-06-01", 0.9).carry.is_empty());
}

/// Two belts on the list, each with a chance over one in ten: both are carried, though fewer would be enough; with one on the shelf one
/// is short.
#[test]
fn what_the_list_asks_for_is_taken_along_and_a_shortage_is_counted() {
    let two = carry(&book(&["heron", "plover"], 3), 0.62);
    assert_eq!((two.wanted, two.take, two.ready, two.short), (Some(1), Some(2), 3, 0));
    assert_eq!(
        two.text,
        "take 2, as listed, for 2 places; 3 ready: s-0, s-1, s-2; 1 would be enough at 62 %"
    );
    let one = carry(&book(&["heron", "plover"], 1), 0.9);
    assert_eq!((one.take, one.ready, one.short, one.lack.as_str()), (Some(2), 1, 1, "short 1"));
}

/// The one spare is fitted before the event: it is no spare to load, and none is left. A second one is.
#[test]
fn what_is_fitted_before_the_event_is_no_spare() {
    let belt = |more: &str| {
        let text = format!(
            "{SHOP}kind belt \"belt\"  fits nose  life 60 min\npart b-1 belt  opening new\npart s-1 belt  opening new\n{more}{}{}",
            on("2025-05-01", "heron", &["fit b-1 nose"]),
            ran("heron", "e-1", "50 min"),
        );
        carry(&text, 0.9)
    };
    let none = belt("");
    assert_eq!((none.wanted, none.take, none.ready, none.lack.as_str()), (None, None, 0, "no spare left"));
    assert!(none.text.starts_with("none lies ready, once s-1 is fitted, for 1 place"), "{}", none.text);
    let one = belt("part s-2 belt  opening new\n");
    assert_eq!((one.ready, one.lack.as_str()), (1, ""));
    // Twenty minutes are no spare for fifty.
    assert_eq!(belt("part s-2 belt  opening 40 min\n").lack, "no spare left");
}
