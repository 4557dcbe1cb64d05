//! What would tell: counted by hand for small cases.

use stringline::trials::effect::effects;
use stringline::trials::plan::{is_drift_free, plan, sharpness};
use stringline::trials::row::Row;

fn rows(order: &str) -> Vec<Row> {
    (1..)
        .zip(order.chars())
        .map(|(order, letter)| Row { block: 0, order, level: usize::from(letter == 'B') })
        .collect()
}

fn letters(order: &str, scatter: Option<f64>, wanted: f64) -> String {
    let found = plan(&rows(order), order.len() as u32, scatter, wanted).unwrap();
    found.settings.iter().map(|level| if *level == 0 { 'A' } else { 'B' }).collect()
}

/// NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.3: orders that eliminate a linear drift.
#[test]
fn the_orders_that_a_trend_cannot_fool() {
    for order in ["ABBA", "BAAB", "ABABA", "ABBABAAB", "ABBBA"] {
        assert!(is_drift_free(&rows(order)), "{order}");
    }
    for order in ["AB", "AABB", "ABAB", "ABABAB"] {
        assert!(!is_drift_free(&rows(order)), "{order}");
    }
}

/// Closed form: the sum of squares of the setting about the level and the trend is 0.8 for ABAB and 1 for ABBA.
#[test]
fn how_sharp_an_order_is() {
    assert!((sharpness(&rows("ABAB")).unwrap() - 1.0 / 0.8_f64.sqrt()).abs() < 1e-12);
    assert!((sharpness(&rows("ABBA")).unwrap() - 1.0).abs() < 1e-12);
    assert!(sharpness(&rows("AABB")).is_none());
}

/// What is promised is what least squares then give: the error of the change by the scatter.
#[test]
fn the_sharpness_is_that_of_the_fit() {
    for order in ["ABAB", "ABBA", "ABABA", "AABBABBA", "ABBABAAB"] {
        let laps: Vec<f64> = (0..order.len()).map(|run| 60.0 + (run * run * 13 % 7) as f64 / 10.0).collect();
        let found = effects(&rows(order), &laps, None, None).unwrap();
        let times = found.effects[0].error / found.scatter;
        assert!((times - sharpness(&rows(order)).unwrap()).abs() < 1e-9, "{order}");
    }
}

#[test]
fn four_runs_want_the_fifth() {
    assert_eq!(letters("ABAB", Some(0.05), 0.3), "A");
    // From nothing, the fewest that leave two degrees of freedom.
    assert_eq!(letters("", None, 0.3), "ABABA");
    assert_eq!(letters("AB", None, 0.3), "ABA");
}

#[test]
fn a_wider_scatter_wants_more_runs_and_too_wide_a_one_has_no_plan() {
    let count = |scatter: f64| plan(&rows("ABAB"), 4, Some(scatter), 0.3).map(|plan| plan.settings.len());
    assert!(count(0.05) < count(0.12), "{:?} {:?}", count(0.05), count(0.12));
    assert_eq!(count(5.0), None);
}

/// Every plan keeps what it promises, and no shorter one does: checked by going through all of them again.
#[test]
fn no_shorter_plan_tells() {
    for (order, scatter) in [("ABAB", 0.1), ("AB", 0.08), ("AABB", 0.1), ("ABBA", 0.2)] {
        let found = plan(&rows(order), order.len() as u32, Some(scatter), 0.3).unwrap();
        assert!(found.within.unwrap() <= 0.3);
        for fewer in 1..found.settings.len() {
            for code in 0..(1_u32 << fewer) {
                let more: String =
                    (0..fewer).map(|bit| if code >> bit & 1 == 0 { 'A' } else { 'B' }).collect();
                let Some(times) = sharpness(&rows(&format!("{order}{more}"))) else { continue };
                let freedom = order.len() + fewer - 3;
                let wide =
                    stringline::statistics::student::quantile(0.95, freedom as f64).unwrap_or(f64::INFINITY);
                assert!(freedom < 2 || wide * times * scatter > 0.3, "{order}{more}");
            }
        }
    }
}
