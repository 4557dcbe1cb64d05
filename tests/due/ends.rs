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

/// Through 6 9 13 16 % at 10 12 14 16 h the line has 1.7 % an hour; it reaches 25 % at 21.24 h, 5.24 h after the last, and 8 h were run since
/// (closed form: mean 13 h and 11 %, Sxx 20, Sxy 34). What is left over, 0.1 -0.3 0.3 -0.1, has s² = 0.1; t² at 2 degrees of freedom is 18.51282 (Fieller 1954).
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
    for (got, wanted) in
        one.hours.iter().zip([(b - root) / a - 11.0, 14.0 / 1.7 - 11.0, (b + root) / a - 11.0])
    {
        assert!((got - wanted).abs() < 1e-4, "{:?} {wanted}", one.hours);
    }
    assert!(one.text.contains("6, 9, 13, 16 %, taken alike"), "{}", one.text);
    assert!(
        one.text.contains(
            "reaches 25 %, the end of what is usual on heron, by now; 4.0 h of running are expected"
        ),
        "{}",
        one.text
    );
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

/// Where a kind carries what is read, a rebuild begins anew; of another part that is rebuilt nobody knows whether it is what is read, and that is
/// said. What is never rebuilt (a lamp pod) is no engine.
#[test]
fn a_rebuild_begins_anew_where_the_part_carries_it() {
    let with = |kind: &str, day: &str, line: &str| {
        let text = book(&RISING).replacen(
            "shop \"S\"",
            &format!("kind {kind}\npart m-1 motor\npart m-2 motor\nshop \"S\""),
            1,
        );
        let fitted =
            format!("{text}{}{}", on("2025-03-01", "heron", &["fit m-1"]), on(day, "heron", &[line]));
        before(&fitted, "e-3", "2025-06-01").ends
    };
    assert!(with("motor  fits car  carries leakdown", "2025-05-20", "rebuild m-1").is_empty());
    let told = with("motor  fits car  every 40 h rebuild", "2025-04-15", "swap motor m-1 -> m-2");
    assert_eq!(told.len(), 1);
    assert!(
        told[0].text.ends_with(
            "since the first of them m-2 was fitted or rebuilt: of another engine they say nothing"
        ),
        "{}",
        told[0].text
    );
    let lamp = with("motor  fits car", "2025-04-15", "swap motor m-1 -> m-2");
    assert!(!lamp[0].text.contains("fitted or rebuilt"), "{}", lamp[0].text);
    let before_all = with("motor  fits car", "2025-03-20", "rebuild m-1");
    assert!(!before_all[0].text.contains("fitted or rebuilt"), "{}", before_all[0].text);
}

/// One past its limit is told, one that gets better is not; a meter that begins anew begins a line.
#[test]
fn past_its_limit_getting_better_and_a_new_meter() {
    let of = |values: [(u32, &str); 4]| {
        let days = ["2025-04-01", "2025-04-10", "2025-04-20", "2025-04-30"];
        let readings: Vec<(&str, u32, &str)> =
            days.into_iter().zip(values).map(|(day, (hours, values))| (day, hours, values)).collect();
        before(&book(&readings), "e-3", "2025-06-01").ends
    };
    let past = of([(10, "5 5"), (12, "5 14"), (14, "5 22"), (16, "5 31")]);
    assert!(past.len() == 1 && past[0].text.contains(", by now; "), "{past:?}");
    assert!(of([(10, "5 9"), (12, "5 7"), (14, "5 5"), (16, "5 3")]).is_empty());
    // 7, 13, 19 % at 2, 4, 6 h of the new meter: 3 % an hour, whatever stood on the old one.
    let meter = on("2025-04-05", "heron", &["set engine-hours 0 h  because a new meter"]);
    let readings = [
        ("2025-04-01", 100, "5 6"),
        ("2025-04-10", 2, "5 7"),
        ("2025-04-20", 4, "5 13"),
        ("2025-04-30", 6, "5 19"),
    ];
    let anew = before(&format!("{}{meter}", book(&readings)), "e-3", "2025-06-01").ends;
    assert_eq!(anew.len(), 1);
    assert_eq!(anew[0].readings.len(), 3);
    for (got, wanted) in anew[0].readings.iter().zip([7.0, 13.0, 19.0]) {
        assert!((got - wanted).abs() < 1e-9, "{:?}", anew[0].readings);
    }
    // (25 - 19) / 3 = 2 h after the last reading, less the 8 h run since.
    assert!((anew[0].hours[1] + 6.0).abs() < 1e-9, "{:?}", anew[0].hours);
}

/// A loss typed as pressures is told in per cent: 75, 73, 70, 67 psi of 80 are 6.25, 8.75, 12.5, 16.25 %.
#[test]
fn a_pair_is_told_in_per_cent() {
    let pairs = [
        ("2025-04-01", 10, "76/80 75/80"),
        ("2025-04-10", 12, "76/80 73/80"),
        ("2025-04-20", 14, "76/80 70/80"),
        ("2025-04-30", 16, "76/80 67/80"),
    ];
    let text = book(&pairs).replace(" %  at 7.0 bar", " psi");
    let ends = before(&text, "e-3", "2025-06-01").ends;
    assert_eq!(ends.len(), 1);
    for (got, wanted) in ends[0].readings.iter().zip([6.25, 8.75, 12.5, 16.25]) {
        assert!((got - wanted).abs() < 1e-9, "{:?}", ends[0].readings);
    }
    assert!(ends[0].text.contains("reaches 25 %"), "{}", ends[0].text);
}

/// It is told only where it may come before the event is over.
#[test]
fn what_is_far_off_is_not_told() {
    let slow: Vec<(&str, u32, &str)> =
        RISING.iter().map(|(day, hours, values)| (*day, hours * 20, *values)).collect();
    assert!(before(&book(&slow), "e-3", "2025-06-01").ends.is_empty());
}
