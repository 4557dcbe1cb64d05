//! Every drawing with nothing, one, two and four hundred points, and names of forty letters: no text leaves its paper or lies
//! on another.

use super::asked;
use super::chrome::Chrome;
use super::screen::{LAYOUT, wrong};
use crate::demo::DEMO;
use rust_decimal::Decimal;
use serde::Serialize;
use std::fmt::Write as _;
use stringline::report::Options;
use stringline::report::Page;
use stringline::report::chart::plot::{self, Point};
use stringline::report::chart::year::YearMarkKind;
use stringline::report::chart::{
    Table, Words, bars, below, corners, drift, ladder, life, rates, runs, stack, strip, usage, year,
};
use stringline::report::{Own, Report};
use stringline::source::Memory;

const LONG: &str = "a-name-of-forty-letters-that-goes-on-and";

/// A page with one drawing: the first page's template replaced by one that says the drawing's data outright.
fn page(name: &str, drawing: &impl Serialize) -> Page {
    let data = serde_json::to_string(drawing).unwrap();
    let text = format!(
        "{{% extends \"base.html\" %}}{{% from \"charts/{name}.svg\" import {name} %}}{{% block main %}}{{{{ {name}({data}) }}}}{{% endblock %}}"
    );
    let own: Own = [("index.html".to_owned(), text)].into();
    let mut first = None;
    Report::new(&DEMO, Options { season: Some(1), ..Options::default() }, &own)
        .stream(&mut |page| first = Some(page.unwrap()));
    first.unwrap()
}

fn words(id: usize, n: u32) -> Words {
    Words { id: format!("d{id}"), title: format!("{n} points"), desc: LONG.to_owned() }
}

fn table() -> Table {
    Table { head: vec![LONG.to_owned(), "y".to_owned()], rows: vec![vec!["1".to_owned(), LONG.to_owned()]] }
}

/// Every sort of drawing with so many points.
fn drawings(n: u32) -> Vec<Page> {
    let points: Vec<Point> = (0..n)
        .map(|at| Point { x: f64::from(at) * 0.5, y: -2.0e5 + f64::from(at * at * at), void: at % 7 == 6 })
        .collect();
    let readings = || {
        points
            .iter()
            .map(|point| strip::StripReading { x: point.x, y: point.y, kind: 1, alike: (0, 0) })
            .collect()
    };
    let lanes: Vec<strip::StripSeries> = (0..n.min(6))
        .map(|_| strip::StripSeries {
            name: LONG.to_owned(),
            limit: Some(f64::from(n) * 1e4),
            readings: readings(),
        })
        .collect();
    let drifts: Vec<drift::DriftSeries> = (0..n.min(30))
        .map(|_| drift::DriftSeries {
            name: LONG.to_owned(),
            widths: points.iter().map(|point| point.y / 100.0).collect(),
        })
        .collect();
    let laps: Vec<runs::RunPoint> = (0..n)
        .map(|at| runs::RunPoint {
            label: LONG.to_owned(),
            lap: 600.0 + f64::from(at * 7919 % 101) / 10.0,
            level: at as usize % 5,
            letter: ["A", "B", "C", "D", "S27"][at as usize % 5].to_owned(),
            change: vec![LONG.to_owned(), "B 3".to_owned(), "B".to_owned()],
            words: LONG.to_owned(),
        })
        .collect();
    let fitted = [runs::FittedLaps { level: 1, laps: (0..laps.len()).map(|run| (run, 601.0)).collect() }];
    let pads = || std::array::from_fn(|_| (n > 0).then(|| "12345.75 lbf".to_owned()));
    let shares = std::array::from_fn(|_| (n > 0).then(|| "100.00%".to_owned()));
    vec![
        page("plot", &plot::plot(words(0, n), "travel, mm", "load, N", &points, table())),
        page("runs", &runs::runs(words(9, n), &laps, &fitted, &read_below(n), table())),
        page("strip", &strip::strip(words(1, n), ("engine hours, h", "leak-down, %"), &lanes, LONG, table())),
        page("drift", &drift::drift(words(2, n), &drifts, table())),
        page("corners", &corners::corners(words(3, n), &pads(), shares)),
        page("life", &lives(n)),
        page("usage", &used(n)),
        page("stack", &spent(n)),
        page("bars", &used_up(n)),
        page("ladder", &laps_of(n)),
        page("rates", &rated(n)),
        page("year", &seasons(n)),
    ]
}

/// Rows below so many laps: four corners of every other run, one reading of every third.
fn read_below(n: u32) -> Vec<below::BelowSeries> {
    let corners = |run: u32| {
        (0..4).map(move |corner| below::BelowReading {
            run: run as usize,
            value: -1.0e5 + f64::from(run * 7919 % 101 + u32::from(corner)),
            corner: Some(corner),
        })
    };
    let car =
        |run: u32| below::BelowReading { run: run as usize, value: 0.001 * f64::from(run), corner: None };
    vec![
        below::BelowSeries {
            name: format!("{LONG}, {LONG}"),
            readings: (0..n).step_by(2).flat_map(corners).collect(),
        },
        below::BelowSeries { name: "oil, C".to_owned(), readings: (0..n).step_by(3).map(car).collect() },
    ]
}

/// So many bars, from nothing to far beyond their limit.
fn used_up(n: u32) -> bars::BarsChart {
    let all: Vec<bars::BarSeries> = (0..n)
        .map(|at| bars::BarSeries {
            name: LONG.to_owned(),
            told: if at % 2 == 0 { LONG.to_owned() } else { "177 of 300 min".to_owned() },
            used: f64::from(at) / 3.0,
            at_least: at % 3 == 1,
            more: (at % 4 > 0).then(|| f64::from(at % 5) / 4.0),
        })
        .collect();
    bars::bars(words(10, n), LONG, &all, table())
}

/// So many cars, each with every mark there is, at the first day, the last and beyond.
fn seasons(n: u32) -> year::YearChart {
    let marks = |at: i32| {
        vec![
            (0, YearMarkKind::Ran),
            (at % 400, YearMarkKind::Hurt),
            (200, YearMarkKind::Ahead),
            (500, if at % 5 == 0 { YearMarkKind::Sold } else { YearMarkKind::Ahead }),
        ]
    };
    let cars: Vec<year::YearCar> =
        (0..n as i32).map(|at| year::YearCar { name: LONG.to_owned(), marks: marks(at) }).collect();
    // From a season to three years.
    let count = n.clamp(12, 36) as i32;
    let months: Vec<(i32, String)> = (0..count).map(|at| (at * 30, "Sept".to_owned())).collect();
    let days = count * 30;
    year::year(words(13, n), days, &months, &(days, "30 September".to_owned()), &cars, table())
}

/// So many events, and one of so many sessions.
fn laps_of(n: u32) -> ladder::LadderChart {
    let session = |at: u32| ladder::LadderMark {
        label: LONG.to_owned(),
        lap: if at % 9 == 4 { f64::NAN } else { 600.0 + f64::from(at * 7919 % 101) },
        changed: at.is_multiple_of(3),
    };
    let event = |count: u32| ladder::LadderSeries {
        name: LONG.to_owned(),
        best: "12:34.567".to_owned(),
        slowest: "1:12:34.567".to_owned(),
        sessions: (0..count).map(session).collect(),
    };
    let events: Vec<ladder::LadderSeries> =
        (0..n.min(12)).map(|at| event(at + 1)).chain([event(n)]).collect();
    ladder::ladder(words(11, n), &events, table())
}

/// So many parts, and one of so many rates.
fn rated(n: u32) -> rates::RatesChart {
    let part = |count: u32| rates::RateSeries {
        name: LONG.to_owned(),
        dots: (0..count)
            .map(|at| rates::RateDot {
                label: (at + 1).to_string(),
                rate: f64::from(at * 3),
                half_width: Some(40.0),
            })
            .collect(),
        tag: Some(123_456.0),
    };
    let parts: Vec<rates::RateSeries> = (0..n.min(20)).map(part).chain([part(n)]).collect();
    rates::rates(words(12, n), "N/mm", (n > 1).then_some((3.0, 300.0)), &parts, table())
}

/// So many lives on every curve that may be drawn and one more, with a limit far to the left.
fn lives(n: u32) -> life::LifeChart {
    let one = |at: u32| {
        let steps = (0..n).map(|step| {
            let share = 1.0 - f64::from(step + 1) / f64::from(n + 1 + at);
            life::LifeStep {
                at: f64::from(step * 7 + 3),
                share,
                band: Some((share / 2.0, f64::midpoint(share, 1.0))),
            }
        });
        let last = f64::from(n * 7);
        life::LifeSeries { name: LONG.to_owned(), steps: steps.collect(), left: vec![last / 3.0, last], last }
    };
    let curves: Vec<life::LifeSeries> = (0..7).map(one).collect();
    life::life(words(4, n), "running time, min", Some((5.0, "limit 5 h".to_owned())), &curves, table())
}

/// So many sessions over as many events as a season has, parts that stayed one session and ones that stayed long.
fn used(n: u32) -> usage::UsageChart {
    let all = n as usize;
    let spans: Vec<usage::UsageRun> = (0..all.min(17))
        .map(|at| usage::UsageRun { name: LONG.to_owned(), sessions: all / 17 + usize::from(at < all % 17) })
        .collect();
    let row = |step: usize| usage::UsageSeries {
        name: LONG.to_owned(),
        bars: (0..all)
            .step_by(step)
            .map(|from| usage::UsagePiece {
                from,
                until: (from + step).min(all),
                part: if step > 40 { LONG.to_owned() } else { format!("p-{from}") },
                spec: from / step % 7,
                failed: from % 3 == 0,
            })
            .collect(),
    };
    let specs: Vec<String> = (0..7).map(|_| LONG.to_owned()).collect();
    usage::usage(words(5, n), &spans, &[row(1), row(2), row(13), row(60)], &specs, table())
}

/// So many rows with every kind of cost, from next to nothing to as much as a sum can be, and credits.
fn spent(n: u32) -> stack::Stack {
    let rows: Vec<stack::StackSeries> = (0..n)
        .map(|at| stack::StackSeries {
            name: LONG.to_owned(),
            total: "at least 999999999999.00".to_owned(),
            amounts: (0..9)
                .map(|kind| {
                    (kind, Decimal::from(i64::from(at) * 10_000_000_000 + 1) * Decimal::from(kind as i64 - 3))
                })
                .collect(),
        })
        .collect();
    stack::stack(words(6, n), "EUR", &[LONG; 9], &rows, table())
}

#[test]
fn every_drawing_is_legible_with_any_number_of_points() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("drawings");
    let mut found = Vec::new();
    for n in [0, 1, 2, 400] {
        let pages = drawings(n);
        for width in [360, 1280] {
            found.extend(
                wrong(&mut chrome, &pages, width, &[LAYOUT]).into_iter().map(|said| format!("{n}: {said}")),
            );
        }
    }
    found.dedup();
    assert!(found.is_empty(), "{found:#?}");
}

/// The first page of a shop with four hundred cars, all of which ran: its strip is legible, and it is no wider than a phone.
#[test]
fn the_first_page_of_four_hundred_cars_is_no_wider_than_a_phone() {
    if !asked() {
        return;
    }
    let mut text = "shop \"S\"\ncircuit k \"K\"  length 2 km\n".to_owned();
    for month in 1..=12 {
        writeln!(text, "event e{month} 2026-{month:02}-02..02 at k").unwrap();
    }
    for car in 0..400 {
        writeln!(text, "car a-car-with-a-long-name-{car} \"A car with a long name, number {car}\"").unwrap();
    }
    for car in 0..400 {
        for month in [1 + car % 6, 7 + car % 6] {
            writeln!(text, "2026-{month:02}-02 a-car-with-a-long-name-{car} at e{month}\n  run s1 20 min 5 laps  best 1:10.0").unwrap();
            if car % 3 == 0 {
                writeln!(text, "  hit LF \"a kerb\"  during s1").unwrap();
            }
        }
    }
    let world = Memory::new(&[("book.sline", &text)], "2026-12-31T12:00:00Z".parse().unwrap());
    let compiled = stringline::compile(&world).unwrap();
    let mut first = None;
    Report::new(&compiled, Options { season: Some(1), ..Options::default() }, &Own::new()).stream(
        &mut |page| {
            let page = page.unwrap();
            first = first.take().or(Some(page).filter(|page| page.name == "index.html"));
        },
    );
    let first = first.expect("a first page");
    assert!(first.html.contains("figure class=\"chart year\""));
    let mut chrome = Chrome::new("four-hundred");
    let found = wrong(&mut chrome, &[first], 360, &[LAYOUT]);
    assert!(found.is_empty(), "{found:#?}");
}
