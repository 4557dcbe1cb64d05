//! When lash, pads, discs and bearings come to their end by their own readings, and when nobody can say.

use super::{SHOP, list as before, on};
use std::fmt::Write as _;
use stringline::answer::due::{DueView, EndView};

/// A car that runs two hours between readings, one a week from 1 March.
fn book(car: &str, readings: &[&[&str]]) -> String {
    let mut text = SHOP.replace("car heron \"Heron\"", &format!("car heron \"Heron\"\n{car}"));
    for (week, lines) in readings.iter().enumerate() {
        let day = |more: usize| {
            let date: jiff::civil::Date = "2025-03-01".parse().unwrap();
            date.checked_add(jiff::Span::new().days(i64::try_from(7 * week + more).unwrap()))
                .unwrap()
                .to_string()
        };
        text += &on(&day(0), "heron", lines);
        if week + 1 < readings.len() {
            let _ = write!(text, "\n{} heron\n  09:00 run s1  120 min\n", day(2));
        }
    }
    text
}

fn list(text: &str) -> DueView {
    before(&format!("{text}\n2025-05-03 heron at e-1\n  09:00 run s1  60 min\n"), "e-3", "2025-06-01")
}

/// All that has an end, sooner or later.
fn ends(view: &DueView) -> Vec<&EndView> {
    view.ends.iter().chain(&view.ends_later).collect()
}

fn open(view: &DueView) -> Vec<String> {
    view.no_end.iter().map(|one| format!("{} {}: {}", one.car, one.what, one.text)).collect()
}

/// Fieller's interval (1954) for where a line reaches a limit, from the last point: the roots of (b² - t² s² / Sxx) u² - 2 b d u + d² - t² s² / n, where u
/// is counted from the mean and d is the limit less the mean; t² of 2 degrees of freedom at 0.95 is 18.51282.
fn fieller(points: [(f64, f64); 4], limit: f64) -> [f64; 3] {
    let mx = points.iter().map(|one| one.0).sum::<f64>() / 4.0;
    let my = points.iter().map(|one| one.1).sum::<f64>() / 4.0;
    let sxx: f64 = points.iter().map(|one| (one.0 - mx).powi(2)).sum();
    let slope = points.iter().map(|one| (one.0 - mx) * (one.1 - my)).sum::<f64>() / sxx;
    let left = points.iter().map(|one| (one.1 - my - slope * (one.0 - mx)).powi(2)).sum::<f64>();
    let room = 18.512_82 * left / 2.0;
    let (away, less) = (limit - my, slope * slope - room / sxx);
    let root = ((slope * away).powi(2) - less * (away * away - room / 4.0)).sqrt();
    let last = points[3].0 - mx;
    [(slope * away - root) / less - last, away / slope - last, (slope * away + root) / less - last]
}

fn near(got: [f64; 3], wanted: [f64; 3]) {
    for (got, wanted) in got.iter().zip(wanted) {
        assert!((got - wanted).abs() < 1e-3, "{got} {wanted}");
    }
}

/// 0.30 left, 0.28, 0.25 and 0.22 mm found at 10, 14, 18 and 22 h: the slope is -0.54 / 80 = -0.00675 mm an hour (closed form), and 0.10 mm is the least
/// that is usual. One hour was run since.
#[test]
fn lash_that_closes_up() {
    let text = book(
        "  cylinders 1",
        &[
            &["read engine-hours 10.0 h", "left lash-exhaust 0.30 mm  with cold"],
            &["read engine-hours 14.0 h", "found lash-exhaust 0.28 mm  with cold"],
            &["read engine-hours 18.0 h", "found lash-exhaust 0.25 mm  with cold"],
            &["read engine-hours 22.0 h", "found lash-exhaust 0.22 mm  with cold"],
        ],
    );
    let view = list(&text);
    let all = ends(&view);
    let [one] = all.as_slice() else { panic!("{}", all.len()) };
    assert_eq!((one.what.as_str(), one.unit.as_str()), ("lash-exhaust c1", "mm"));
    assert!((one.per_hour + 0.006_75).abs() < 1e-9 && (one.limit - 0.10).abs() < 1e-12);
    let wanted = fieller([(10.0, 0.30), (14.0, 0.28), (18.0, 0.25), (22.0, 0.22)], 0.10);
    near(one.hours, wanted.map(|hours| hours - 1.0));
    assert!(
        one.text.contains("0.3, 0.28, 0.25, 0.22 mm, taken alike: a straight line through them reaches 0.1 mm, the end of what is usual, in 12 to 26 h of the engine from now"),
        "{}",
        one.text
    );
    // Adjusted after the last: the line begins anew.
    let adjusted = list(&text.replace(
        "found lash-exhaust 0.22 mm  with cold",
        "found lash-exhaust 0.22 mm  with cold\n  left lash-exhaust 0.30 mm  with cold",
    ));
    assert!(ends(&adjusted).is_empty());
    assert_eq!(
        open(&adjusted),
        [
            "heron lash-exhaust c1: 1 reading taken alike since it was renewed, adjusted or disturbed, and 3 are needed"
        ]
    );
    // What opens comes to the other end.
    let opens =
        text.replace("0.28 mm", "0.32 mm").replace("0.25 mm", "0.35 mm").replace("0.22 mm", "0.38 mm");
    let view = list(&opens);
    let all = ends(&view);
    assert!((all[0].limit - 0.50).abs() < 1e-12 && (all[0].per_hour - 0.006_75).abs() < 1e-9);
}

const PADS: [&[&str]; 4] = [
    &["read pad-thickness LF 12.0 RF 12.0 mm"],
    &["read pad-thickness LF 10.9 RF 12.1 mm"],
    &["read pad-thickness LF 9.9 RF 12.0 mm"],
    &["read pad-thickness LF 8.7 RF 11.9 mm"],
];
const WORN: [(f64, f64); 4] = [(0.0, 12.0), (2.0, 10.9), (4.0, 9.9), (6.0, 8.7)];

/// By the running between the readings, to the least that the book states, else to the end of what is usual (4 mm). What grew by a hair is another pad.
#[test]
fn pads_by_their_running() {
    let text = book("", &PADS);
    let view = list(&text);
    let all = ends(&view);
    let [one] = all.as_slice() else { panic!("{}", all.len()) };
    assert_eq!(one.what, "pad-thickness LF");
    near(one.hours, fieller(WORN, 4.0).map(|hours| hours - 1.0));
    assert!(
        one.text.contains("reaches 4 mm, the end of what is usual, in ")
            && one.text.contains(" h of running from now"),
        "{}",
        one.text
    );
    assert_eq!(open(&view), ["heron pad-thickness RF: no end foreseeable by its readings"]);
    let stated = list(
        &text.replace("\n2025-03-01 heron\n", "\n2025-03-01 heron\n  set pad-minimum LF 3.0 RF 3.0 mm\n"),
    );
    let all = ends(&stated);
    near(all[0].hours, fieller(WORN, 3.0).map(|hours| hours - 1.0));
    assert!(all[0].text.contains("reaches 3 mm, its pad-minimum"), "{}", all[0].text);
}

/// New pads, another part by name, a part that carries the reading: what was read before is of another.
#[test]
fn another_pad_begins_a_line() {
    let new = book("", &PADS).replace("LF 9.9 RF 12.0", "LF 13.0 RF 12.0");
    assert!(ends(&list(&new)).is_empty());
    assert!(
        open(&list(&new))[0]
            .starts_with("heron pad-thickness LF: 2 readings taken alike since it was renewed")
    );
    for kind in
        ["brake-pad \"front pair\"  fits front", "stopper \"stopper\"  fits front  carries pad-thickness"]
    {
        let name = kind.split(' ').next().unwrap();
        let parts = format!("kind {kind}\npart p-1 {name}\npart p-2 {name}\n");
        let text = book("", &PADS).replacen("car heron", &format!("{parts}car heron"), 1);
        let text = text.replace("\n2025-03-01 heron\n", "\n2025-03-01 heron\n  fit p-1 front\n").replace(
            "\n2025-03-15 heron\n",
            &format!("\n2025-03-15 heron\n  swap {name} front p-1 -> p-2\n"),
        );
        let view = list(&text);
        assert!(ends(&view).is_empty(), "{kind}: {:?}", ends(&view));
        assert!(open(&view)[0].contains("2 readings taken alike"), "{:?}", open(&view));
    }
}

/// A session of which nobody knows how long it was: what was read before it is on no line with what was read after.
#[test]
fn running_that_is_not_known_begins_a_line() {
    let text = book("", &PADS).replacen("run s1  120 min", "run s1  10 laps", 1);
    let view = list(&text);
    // Three readings are left, 10.9 9.9 8.7 over 2 and 4 h.
    assert_eq!(ends(&view)[0].readings.len(), 3);
}

/// No disc has a least that the vocabulary knows: the book states it, or nobody does.
#[test]
fn a_disc_ends_where_the_book_says() {
    let discs: [&[&str]; 3] = [
        &["read disc-thickness LF 24.0 mm"],
        &["read disc-thickness LF 23.5 mm"],
        &["read disc-thickness LF 23.0 mm"],
    ];
    let text = book("", &discs);
    assert_eq!(open(&list(&text)), ["heron disc-thickness LF: nothing in the book says where it ends"]);
    let stated = text.replace("\n2025-03-01 heron\n", "\n2025-03-01 heron\n  set disc-minimum LF 22.0 mm\n");
    let view = list(&stated);
    let one = ends(&view)[0];
    // 0.25 mm an hour: 1 mm is 4 h after the last reading, 3 h from now.
    assert!((one.per_hour + 0.25).abs() < 1e-9 && (one.hours[1] - 3.0).abs() < 1e-9, "{one:?}");
}

/// Bearing play is another after its nut was turned, and after an impact.
#[test]
fn a_bearing_after_its_nut_or_an_impact() {
    let play: [&[&str]; 4] = [
        &["read bearing-play LF 0.01 mm"],
        &["read bearing-play LF 0.02 mm"],
        &["read bearing-play LF 0.03 mm"],
        &["read bearing-play LF 0.04 mm"],
    ];
    let text = book("", &play);
    let view = list(&text);
    // 0.005 mm an hour: 0.05 mm 2 h after the last, 1 h from now.
    assert!((ends(&view)[0].hours[1] - 1.0).abs() < 1e-6, "{:?}", ends(&view)[0].hours);
    for line in ["torque hub-torque LF 350 N.m", "hit LF \"kerb\""] {
        let text = text.replace("\n2025-03-15 heron\n", &format!("\n2025-03-15 heron\n  {line}\n"));
        let view = list(&text);
        assert!(ends(&view).is_empty(), "{line}");
        assert!(open(&view)[0].contains("2 readings taken alike since it was renewed"), "{:?}", open(&view));
    }
}

/// What makes it another after the last reading leaves nothing to tell of it: of what is there now nothing was read.
#[test]
fn what_was_renewed_after_the_last_reading_has_no_end() {
    let lash: [&[&str]; 4] = [
        &["read engine-hours 10.0 h", "left lash-exhaust 0.30 mm  with cold"],
        &["read engine-hours 14.0 h", "found lash-exhaust 0.28 mm  with cold"],
        &["read engine-hours 18.0 h", "found lash-exhaust 0.25 mm  with cold"],
        &["read engine-hours 22.0 h", "found lash-exhaust 0.22 mm  with cold"],
    ];
    let kinds = "kind pad \"pad\"  fits LF\npart p-1 pad\npart p-2 pad\nkind engine \"engine\"  fits bay\npart en-1 engine\npart en-2 engine\n";
    let on = |text: &str| {
        let begun = "\n2025-02-01 heron\n  fit p-1 LF\n  fit en-1 bay\n";
        text.replacen("\n2025-03-01 heron", &format!("{begun}\n2025-03-01 heron"), 1).replacen(
            "car heron",
            &format!("position bay\n{kinds}car heron"),
            1,
        )
    };
    let pads = on(&book("", &PADS));
    let valves = on(&book("  cylinders 1", &lash));
    assert_eq!((ends(&list(&pads)).len(), ends(&list(&valves)).len()), (1, 1));
    for (text, line) in [
        (&pads, "swap pad LF p-1 -> p-2  because worn"),
        (&valves, "swap engine bay en-1 -> en-2  because it knocked"),
        (&valves, "rebuild en-1"),
        (&valves, "set lash-exhaust 0.30 mm"),
    ] {
        let view = list(&format!("{text}\n2025-04-01 heron\n  {line}\n"));
        assert_eq!(
            ends(&view).len(),
            0,
            "{line}: {:?}",
            ends(&view).iter().map(|one| &one.text).collect::<Vec<_>>()
        );
    }
}

/// The least that the part's own tag, or its spec's, states: of a kind that gives it and of one that carries it.
#[test]
fn the_least_may_stand_on_the_tag() {
    for (clause, tag) in [("gives", "part"), ("carries", "part"), ("gives", "spec"), ("carries", "spec")] {
        let stated = "tag pad-minimum 3.0 mm";
        let (of_spec, of_part) = if tag == "spec" { (stated, "spec thin") } else { ("", stated) };
        let kinds = format!(
            "kind pad \"pad\"  fits LF  {clause} pad-minimum\nspec thin of pad \"thin\" {of_spec}\npart p-1 pad {of_part}\n"
        );
        let text = book("", &PADS).replacen("car heron", &format!("{kinds}car heron"), 1).replacen(
            "\n2025-03-01 heron",
            "\n2025-02-01 heron\n  fit p-1 LF\n\n2025-03-01 heron",
            1,
        );
        let view = list(&text);
        let all = ends(&view);
        let [one] = all.as_slice() else { panic!("{clause} {tag}: {}", all.len()) };
        near(one.hours, fieller(WORN, 3.0).map(|hours| hours - 1.0));
        assert!(one.text.contains("reaches 3 mm, its pad-minimum, in "), "{}", one.text);
    }
}
