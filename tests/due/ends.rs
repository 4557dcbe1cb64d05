//! When a cylinder comes to the end of what is usual, before an event.

use super::{SHOP, list as before, on, ran};

const ENGINE: &str = "car heron \"Heron\"\n  cylinders 2\n  usual leakdown 0..25 %";

/// A car whose leak-down was read over its hours: c1 stays, c2 rises.
fn book(readings: &[(&str, u32, &str)]) -> String {
    let mut text = SHOP.replace("car heron \"Heron\"", ENGINE);
    for (day, hours, values) in readings {
        text += &on(
            day,
            "heron",
            &[
                &format!("read engine-hours {hours}.0 h"),
                &format!("read leakdown {values} %  at 7.0 bar  with hot"),
            ],
        );
    }
    text + &ran("heron", "e-1", "4 h") + &ran("heron", "e-2", "4 h")
}

const RISING: [(&str, u32, &str); 4] = [
    ("2025-04-01", 10, "5 6"),
    ("2025-04-10", 12, "6 9"),
    ("2025-04-20", 14, "5 13"),
    ("2025-04-30", 16, "6 16"),
];

/// Through 6 9 13 16 % at 10 12 14 16 h the line has 1.7 % an hour; it reaches 25 % at 21.24 h, 5.24 h after the last (closed form: mean 13 h and
/// 11 %, Sxx 20, Sxy 34). What is left over, 0.1 -0.3 0.3 -0.1, has s² = 0.1; t² at 2 degrees of freedom is 18.51282 (Fieller 1954).
#[test]
fn a_rising_cylinder_is_told_with_its_hours() {
    let list = before(&book(&RISING), "e-3", "2025-06-01");
    assert_eq!(list.ends.len(), 1, "{:?}", list.ends.iter().map(|one| &one.text).collect::<Vec<_>>());
    let one = &list.ends[0];
    assert_eq!(
        (one.car.as_str(), one.what.as_str(), one.readings.as_slice()),
        ("heron", "leakdown c2", &[6.0, 9.0, 13.0, 16.0][..])
    );
    let room = 18.512_82 * 0.1;
    let (a, b, c) = (1.7_f64 * 1.7 - room / 20.0, 1.7 * 14.0, 14.0_f64 * 14.0 - room / 4.0);
    let root = (b * b - a * c).sqrt();
    for (got, wanted) in one.hours.iter().zip([(b - root) / a - 3.0, 14.0 / 1.7 - 3.0, (b + root) / a - 3.0])
    {
        assert!((got - wanted).abs() < 1e-4, "{:?} {wanted}", one.hours);
    }
    assert!(one.text.contains("6, 9, 13, 16 %, taken alike"), "{}", one.text);
    assert!(one.text.contains("reaches 25 %, the end of what is usual on heron, in "), "{}", one.text);
}

/// One that goes nowhere, one with too few readings, one read otherwise: nothing is foretold.
#[test]
fn what_cannot_be_foretold_is_not() {
    let flat = RISING.map(|(day, hours, _)| (day, hours, "5 6"));
    assert!(before(&book(&flat), "e-3", "2025-06-01").ends.is_empty());
    assert!(before(&book(&RISING[..2]), "e-3", "2025-06-01").ends.is_empty());
    let cold = book(&RISING).replacen("with hot", "with cold", 2);
    assert!(before(&cold, "e-3", "2025-06-01").ends.is_empty());
}

/// What was read of the engine before its rebuild is of another.
#[test]
fn a_rebuild_begins_anew() {
    let text = book(&RISING).replacen("shop \"S\"", "kind engine  fits car\npart en-1 engine\nshop \"S\"", 1);
    let text = format!("{text}{}", on("2025-03-01", "heron", &["fit en-1"]));
    assert_eq!(before(&text, "e-3", "2025-06-01").ends.len(), 1);
    let text = format!("{text}{}", on("2025-05-20", "heron", &["rebuild en-1"]));
    assert!(before(&text, "e-3", "2025-06-01").ends.is_empty());
}

/// It is told only where it may come before the event is over.
#[test]
fn what_is_far_off_is_not_told() {
    let slow: Vec<(&str, u32, &str)> =
        RISING.iter().map(|(day, hours, values)| (*day, hours * 20, *values)).collect();
    assert!(before(&book(&slow), "e-3", "2025-06-01").ends.is_empty());
}
