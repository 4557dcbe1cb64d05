//! Published lives, and the demo season's couplings, typed as ledger lines and read off the `lives` view.

use super::Fate::{Failed, Pulled, Running};
use super::{belts, kind_of, ledger, minutes_of, near, view_of};
use crate::checks::compile_text;
use crate::demo::DEMO;
use stringline::answer::lives::{CountedFailures, CurveView, Field, KindLives, SpecView, WeibullView};
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::lives::lives;
use stringline::lives::study::{Carried, Group, specs, study};
use stringline::statistics::survival::curve;
use stringline::statistics::weibull::{Weibull, fit};

fn couplings(counting: &CountedFailures) -> KindLives {
    view_of(&DEMO, "coupling", None, counting)
}

fn spec<'a>(view: &'a KindLives, name: &str) -> &'a SpecView {
    view.specs.iter().find(|spec| spec.spec == name).expect("the spec")
}

fn steps(curve: &CurveView, wanted: &[(f64, f64)], tolerance: f64) {
    let got: Vec<f64> = curve.steps.iter().map(|step| step.at).collect();
    assert_eq!(got.len(), wanted.len(), "{got:?}");
    for (step, (at, share)) in curve.steps.iter().zip(wanted) {
        near(step.at, *at, 1e-9);
        near(step.share, *share, tolerance);
    }
}

fn row(view: &WeibullView, name: &str, low: f64, high: f64, tolerance: f64) {
    let row = view.rows.iter().find(|row| row.name == name).expect("the row");
    near(row.low.expect("a lower end"), low, tolerance);
    near(row.high.expect("an upper end"), high, tolerance);
}

/// The demo season's table (invented, worked out apart from this program with lifelines 0.30.3 and `SciPy` 1.17.1).
#[test]
fn the_demo_couplings_of_rubber() {
    let view = couplings(&CountedFailures::default());
    let std = spec(&view, "std");
    assert_eq!((view.unit, std.lives, std.failed, std.pulled, std.running), ("min", 9, 5, 3, 1));
    assert_eq!(std.total, "1681 min");
    let curve = std.curve.as_ref().unwrap();
    steps(curve, &[(75.0, 0.8889), (91.0, 0.7778), (208.0, 0.6222), (249.0, 0.3111), (292.0, 0.0)], 0.00005);
    for (step, error) in curve.steps.iter().zip([0.1048, 0.1386, 0.1779, 0.2373]) {
        near(step.error.unwrap(), error, 0.00005);
    }
    let bands = [(0.433, 0.984), (0.365, 0.939), (0.213, 0.864), (0.015, 0.723)];
    for (step, (low, high)) in curve.steps.iter().zip(bands) {
        near(step.low.unwrap(), low, 0.0005);
        near(step.high.unwrap(), high, 0.0005);
    }
    assert_eq!((curve.steps[4].error, curve.steps[4].low, curve.steps[4].high), (None, None, None));
    near(curve.median.unwrap(), 249.0, 1e-9);
    let weibull = std.weibull.as_ref().unwrap();
    near(weibull.shape, 2.694, 0.0005);
    near(weibull.scale, 255.72, 0.005);
    near(weibull.log_likelihood, -31.764, 0.0005);
    near(weibull.mean, 227.4, 0.05);
    near(weibull.median, 223.2, 0.05);
    near(weibull.b10, 110.9, 0.05);
    row(weibull, "shape", 1.313, 4.685, 0.0005);
    row(weibull, "one in ten is gone by", 48.2, 164.8, 0.05);
    near(Weibull { shape: weibull.shape, scale: weibull.scale }.survival(120.0), 0.878, 0.0005);
}

#[test]
fn the_demo_couplings_of_aramid() {
    let view = couplings(&CountedFailures::default());
    let aramid = spec(&view, "aramid");
    assert_eq!((aramid.lives, aramid.failed, aramid.total.as_str()), (3, 0, "354 min"));
    assert!(aramid.weibull.is_none() && aramid.curve.as_ref().unwrap().median.is_none());
    assert!(aramid.bound.contains("at least 153.7 min (at 90 %)"), "{}", aramid.bound);
    assert!(
        aramid.bound.contains("at the shape of std, 2.69, the scale at least 143.7 min"),
        "{}",
        aramid.bound
    );
    let [pair] = view.against.as_slice() else { panic!("{:?}", view.against) };
    assert_eq!(
        (pair.first.as_str(), pair.second.as_str(), pair.verdict),
        ("std", "aramid", "cannot-tell-yet")
    );
    near(pair.observed.unwrap(), 0.0, 0.0);
    near(pair.expected.unwrap(), 0.45, 1e-12);
    near(pair.variance.unwrap(), 0.3475, 1e-12);
    near(pair.p.unwrap(), 149.0 / 220.0, 1e-15);
    assert!(pair.how.contains("149 of the 220"), "{}", pair.how);
}

/// Rubber 38.00, aramid 127.00, 70.00 of entry lost with a failure: 0.167 a minute and 760 min by price alone, 0.475 and 267 with it.
#[test]
fn what_the_demo_couplings_cost() {
    let view = couplings(&CountedFailures::default());
    let money = spec(&view, "std").money.as_ref().unwrap();
    near(money.rate.unwrap() / 60.0, 0.475, 0.0005);
    let pays = &view.against[0].pays;
    assert!(pays[0].contains("10.03 EUR") && pays[0].contains("aramid pays from 760 min"), "{pays:?}");
    near(10.03 / 60.0, 0.167, 0.0005);
    assert!(pays[1].contains("28.50 EUR") && pays[1].contains("aramid pays from 267"), "{pays:?}");
}

/// Three of them carried minutes in from last year: counted from where this book begins.
#[test]
fn the_demo_couplings_from_this_year_on() {
    let all = lives(&DEMO.book, &DEMO.history, Rank::END);
    let kind = kind_of(&DEMO, "coupling");
    let group = Group { kind, spec: specs(&DEMO.book, &all, kind)[0], clock: Clock::Time };
    let late = study(&DEMO.book, &all, group, Carried::Late, &|_| true);
    let shares: Vec<f64> =
        curve(&late.observations).unwrap().steps.iter().map(|step| step.survival).collect();
    for (got, wanted) in shares.iter().zip([0.8750, 0.7656, 0.6125, 0.3063, 0.0]) {
        near(*got, wanted, 0.00005);
    }
    let fit = fit(&late.observations).unwrap();
    near(fit.shape, 2.577, 0.0005);
    near(fit.scale / 60.0, 254.91, 0.005);
    let view = couplings(&CountedFailures::default());
    let notes = spec(&view, "std").notes.join(" ");
    assert!(
        notes.contains("3 lives had run before the book") && notes.contains("scale 254.9 min"),
        "{notes}"
    );
}

#[test]
fn the_demo_couplings_without_the_misaligned_one() {
    let without = CountedFailures { only: None, without: Some((Field::Cause, "misaligned".to_owned())) };
    let view = couplings(&without);
    let std = spec(&view, "std");
    assert_eq!((std.lives, std.failed, std.pulled), (9, 4, 4));
    steps(
        std.curve.as_ref().unwrap(),
        &[(91.0, 0.8750), (208.0, 0.7000), (249.0, 0.3500), (292.0, 0.0)],
        0.00005,
    );
    let weibull = std.weibull.as_ref().unwrap();
    near(weibull.shape, 4.125, 0.0005);
    near(weibull.scale, 263.60, 0.005);
    near(weibull.b10, 152.8, 0.05);
}

/// Conover's ten fan belts of cars (*Practical Nonparametric Statistics*, as in the documentation of `scipy.stats.ecdf`), thousands of
/// miles typed as minutes; shape and scale as `SciPy` 1.17.1 fits them.
#[test]
fn conovers_fan_belts() {
    let mut list = minutes_of("", Failed, &[77.0, 47.0, 81.0, 56.0, 80.0]);
    list.extend(minutes_of("", Pulled, &[62.0, 60.0, 43.0, 71.0]));
    list.extend(minutes_of("", Running, &[37.0]));
    let view = belts(&ledger("", &[], &list));
    let spec = &view.specs[0];
    assert_eq!((spec.lives, spec.failed, spec.pulled, spec.running), (10, 5, 4, 1));
    let curve = spec.curve.as_ref().unwrap();
    steps(curve, &[(47.0, 0.875), (56.0, 0.75), (77.0, 0.5), (80.0, 0.25), (81.0, 0.0)], 1e-12);
    for (step, error) in curve.steps.iter().zip([0.1169, 0.1531, 0.2282, 0.2104]) {
        near(step.error.unwrap(), error, 0.00005);
    }
    let weibull = spec.weibull.as_ref().unwrap();
    near(weibull.shape, 7.481_413, 5e-6);
    near(weibull.scale, 76.630_49, 5e-5);
}

/// Vehicle shock absorbers on their own clock, kilometres: Meeker & Escobar, *Statistical Methods for Reliability Data* (1998), table
/// C.2. At 20 100 km one failed and one was taken off good: both were still at risk.
#[test]
fn shock_absorbers_by_distance() {
    let failed = [6700, 9120, 12200, 13150, 14300, 17520, 20100, 20900, 22700, 26510, 27490];
    let good = [
        6950, 7820, 8790, 9660, 9820, 11310, 11690, 11850, 11880, 12140, 12870, 13330, 13470, 14040, 17540,
        17890, 18450, 18960, 18980, 19410, 20100, 20150, 20320, 23490, 27410, 27890, 28100,
    ];
    let list: Vec<_> = failed
        .iter()
        .map(|km| ("", format!("10 min  {km} km"), Failed))
        .chain(good.iter().map(|km| ("", format!("10 min  {km} km"), Pulled)))
        .collect();
    let view = belts(&ledger("life 50000 km", &[], &list));
    assert_eq!((view.clock, view.unit), (Clock::Distance, "km"));
    let spec = &view.specs[0];
    assert_eq!((spec.lives, spec.failed), (38, 11));
    let curve = spec.curve.as_ref().unwrap();
    let at = |km: f64| curve.steps.iter().find(|step| (step.at - km).abs() < 1e-6).unwrap();
    near(at(20100.0).share, 0.7184, 0.00005);
    assert_eq!(at(20100.0).at_risk, 12);
    near(at(27490.0).share, 0.2874, 0.00005);
    let weibull = spec.weibull.as_ref().unwrap();
    near(weibull.shape, 3.160_470, 1e-5);
    near(weibull.scale, 27718.718, 0.05);
}

/// Common practice: a wear part that "lasts five or six track days" on record.
#[test]
fn five_or_six_track_days() {
    let mut text = String::from("kind belt \"fan belt\"  fits nose  life 9 days\n");
    for (number, days) in [5, 6, 5, 6, 5, 6].iter().enumerate() {
        text += &format!("car c-{number} \"c\"\npart b-{number} belt  opening new\n");
        text += &format!("\n2025-05-01 c-{number}\n  fit b-{number} nose\n");
        for day in 1..=*days {
            // Two sessions a day are one day.
            text += &format!(
                "\n2025-05-{:02} c-{number}\n  09:00..09:20 run s1\n  11:00..11:15 run s2\n",
                2 * day
            );
        }
        text += &format!("    failed b-{number} mode worn\n    remove b-{number}\n\n");
    }
    let view = belts(&text);
    assert_eq!((view.clock, view.unit), (Clock::Days, "days"));
    let curve = view.specs[0].curve.as_ref().unwrap();
    steps(curve, &[(5.0, 0.5), (6.0, 0.0)], 1e-12);
    let median = curve.median.unwrap();
    assert!((5.0..=6.0).contains(&median), "{median}");
    let weibull = view.specs[0].weibull.as_ref().unwrap();
    assert!((5.0..=6.0).contains(&weibull.median), "{}", weibull.median);
}

/// The other clocks of the same lives are there for the asking.
#[test]
fn any_clock_may_be_asked_for() {
    let list = vec![
        ("", "20 min  12 laps  3 launches".to_owned(), Failed),
        ("", "30 min  20 laps".to_owned(), Pulled),
    ];
    let compiled = compile_text(&ledger("life 40 min, 9 launches", &[], &list));
    let on = |clock| view_of(&compiled, "belt", Some(clock), &CountedFailures::default());
    let length = |clock| on(clock).lives.iter().map(|life| life.length.unwrap()).collect::<Vec<_>>();
    assert_eq!(length(Clock::Time), [20.0, 30.0]);
    assert_eq!(length(Clock::Laps), [12.0, 20.0]);
    assert_eq!(length(Clock::Launches), [3.0, 0.0]);
    assert_eq!(on(Clock::Time).clocks, [Clock::Time, Clock::Launches, Clock::Days]);
}

/// Sixty lives, some entered late, through a ledger: a part that came used was bought with what it had run and is watched from there. The
/// curve and the distribution are lifelines' (`entry=`) and scipy's; the golden file names their versions.
#[test]
fn parts_bought_used_are_counted_from_the_age_they_came_at() {
    let golden: serde_json::Value =
        serde_json::from_str(include_str!("../fixtures/statistics/one.json")).unwrap();
    let row = golden["rows"].as_array().unwrap().iter();
    let row = row.clone().find(|row| row["name"] == "late entry, whole minutes").unwrap();
    let mut text = "kind belt \"fan belt\"  fits nose\n".to_owned();
    let (mut dated, mut used) = (String::new(), 0);
    for (number, life) in row["lives"].as_array().unwrap().iter().enumerate() {
        let (entry, exit, failed) =
            (life[0].as_f64().unwrap(), life[1].as_f64().unwrap(), life[2].as_bool().unwrap());
        used += u32::from(entry > 0.0);
        let (opening, bought) = if entry > 0.0 {
            (format!("{entry} min"), format!("  buy b-{number} 1.00 EUR\n"))
        } else {
            ("new".to_owned(), String::new())
        };
        text += &format!("car c-{number} \"car {number}\"\npart b-{number} belt  opening {opening}\n");
        dated += &format!(
            "\n2025-05-01 c-{number}\n{bought}  fit b-{number} nose\n  09:00 run s1  {} min\n",
            exit - entry
        );
        dated += if failed { "    failed b-NUMBER mode worn\n" } else { "" }
            .replace("NUMBER", &number.to_string())
            .as_str();
        dated += &format!("    remove b-{number}\n");
    }
    assert!(used > 10, "{used}");
    let view = belts(&(text + &dated));
    let belt = &view.specs[0];
    let steps: Vec<(f64, f64)> = (row["curve"]["steps"].as_array().unwrap().iter())
        .map(|step| (step[0].as_f64().unwrap(), step[3].as_f64().unwrap()))
        .collect();
    self::steps(belt.curve.as_ref().unwrap(), &steps, 1e-9);
    let fitted = belt.weibull.as_ref().unwrap();
    near(fitted.shape, row["weibull"]["shape"].as_f64().unwrap(), 1e-5);
    near(fitted.scale, row["weibull"]["scale"].as_f64().unwrap(), 1e-3);
}
