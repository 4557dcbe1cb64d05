//! Drawings: said in words, backed by a table, inside their paper, whatever they are given.

use super::html::{Piece, attribute, read};
use super::{demo, pages};
use proptest::prelude::*;
use rust_decimal::Decimal;
use stringline::report::chart::plot::{self, Point};
use stringline::report::chart::scale::PaperScale;
use stringline::report::chart::{
    Table, Words, bars, corners, drift, ladder, rates, runs, short, stack, strip,
};

fn words() -> Words {
    Words { id: "x".into(), title: "t".into(), desc: "d".into() }
}

fn table() -> Table {
    Table { head: Vec::new(), rows: Vec::new() }
}

fn number(text: &str) -> f64 {
    let value: f64 = text.parse().unwrap_or_else(|_| panic!("{text:?} is no number"));
    assert!(value.is_finite());
    value
}

fn within(text: &str, most: f64) {
    let value = number(text);
    assert!((0.0..=most).contains(&value), "{text} is outside 0..{most}");
}

#[test]
fn every_drawing_is_said_in_words_and_has_its_numbers_beside_it() {
    let mut drawings = 0;
    for page in pages(&demo()) {
        for figure in page.html.split("<figure class=\"chart").skip(1) {
            let figure = figure.split("</figure>").next().unwrap();
            let pieces = read(figure);
            let tags: Vec<&str> = pieces
                .iter()
                .filter_map(|piece| match piece {
                    Piece::Open(tag, _) => Some(tag.as_str()),
                    _ => None,
                })
                .collect();
            assert_eq!(tags[..3], ["svg", "title", "desc"], "{}", page.name);
            assert!(tags.contains(&"table"), "{}", page.name);
            let ids: Vec<_> = attribute(&pieces, "id").into_iter().map(|(_, id)| id).collect();
            let labelled = attribute(&pieces, "aria-labelledby");
            assert_eq!(labelled[0].1.split(' ').collect::<Vec<_>>(), ids[..2]);
            // A table that is wider than the screen is reached and scrolled by keys.
            assert_eq!(attribute(&pieces, "role"), [("svg", "img"), ("div", "group")]);
            let view = attribute(&pieces, "viewBox")[0].1;
            let paper: Vec<f64> = view.split(' ').map(number).collect();
            for (key, most) in
                [("x", 2), ("cx", 2), ("x1", 2), ("x2", 2), ("y", 3), ("cy", 3), ("y1", 3), ("y2", 3)]
            {
                for (_, value) in attribute(&pieces, key) {
                    within(value, paper[most]);
                }
            }
            drawings += 1;
        }
    }
    // A bench line with a void point, four cars with scales, an engine or more, and the drifts.
    assert!(drawings > 10, "{drawings}");
}

#[test]
fn nothing_one_two_and_four_hundred_points_fit_on_the_paper() {
    let long = "a-name-of-forty-letters-that-goes-on-and".to_owned();
    assert_eq!(long.len(), 40);
    for n in [0_u32, 1, 2, 400] {
        let points: Vec<Point> = (0..n)
            .map(|at| Point { x: f64::from(at) * 0.5, y: 20.0 + f64::from(at * at), void: at % 7 == 6 })
            .collect();
        let laps: Vec<runs::RunPoint> = points
            .iter()
            .enumerate()
            .map(|(at, point)| runs::RunPoint {
                label: long.clone(),
                lap: point.y,
                level: at % 5,
                letter: ["A", "B", "C", "D", "E"][at % 5].to_owned(),
                change: vec![long.clone(), "B".to_owned()],
                words: long.clone(),
            })
            .collect();
        let drawn = runs::runs(words(), &laps, &[], &[], table());
        assert_eq!(drawn.marks.len(), n as usize);
        // No two settings share a mark: shapes for three, letters for more.
        let looks = |mark: &runs::RunMark| {
            (mark.shape, if mark.shape == 3 { mark.letter.clone() } else { String::new() })
        };
        let marks: std::collections::BTreeSet<_> = drawn.marks.iter().map(looks).collect();
        assert_eq!(marks.len(), laps.len().min(5));
        for mark in &drawn.marks {
            within(&mark.x, runs::WIDTH);
            within(&mark.y, number(&drawn.foot));
        }
        // The quicker the higher on the paper: the first is the quickest.
        assert!(drawn.marks.windows(2).all(|pair| number(&pair[0].y) <= number(&pair[1].y)));
        let drawn = plot::plot(words(), "travel", "load", &points, table());
        assert_eq!(drawn.dots.len(), n as usize);
        assert_eq!(drawn.line.len(), if n < 2 { 0 } else { 4 });
        for dot in &drawn.dots {
            within(&dot.x, plot::PAPER.0);
            within(&dot.y, plot::PAPER.1);
        }
        let readings: Vec<_> = points
            .iter()
            .zip(0..)
            .map(|(point, at)| strip::StripReading {
                x: point.x,
                y: point.y,
                kind: (at % 2) as u8,
                alike: (0, at % 2),
            })
            .collect();
        let lanes = [strip::StripSeries { name: long.clone(), limit: None, readings }];
        let drawn = strip::strip(words(), ("hours", "%"), &lanes, "", table());
        let lane = &drawn.lanes[0];
        assert_eq!(lane.name.chars().count(), 9);
        // Hot and cold are two lines, and no dot of one is on the other.
        assert_eq!(lane.lines.len(), if n < 3 { 0 } else { 2 });
        for dot in &lane.dots {
            within(&dot.x, strip::WIDTH);
            within(&dot.y, number(&drawn.height));
        }
        let widths = points.iter().map(|point| point.y - 200.0).collect();
        let drawn = drift::drift(words(), &[drift::DriftSeries { name: long.clone(), widths }], table());
        assert_eq!(drawn.lanes[0].dots.len(), n as usize);
        for (x, _) in &drawn.lanes[0].dots {
            within(x, drift::WIDTH);
        }
        let rows: Vec<stack::StackSeries> = (0..n)
            .map(|at| stack::StackSeries {
                name: long.clone(),
                total: "at least 123456789012.00".to_owned(),
                amounts: (0..9)
                    .map(|kind| (kind, Decimal::from(i64::from(at) - 3) * Decimal::from(kind)))
                    .collect(),
            })
            .collect();
        let drawn = stack::stack(words(), "EUR", &[long.as_str(); 9], &rows, table());
        assert_eq!(drawn.rows.len(), n as usize);
        let (zero, height) = (number(&drawn.zero), number(&drawn.height));
        for (row, asked) in drawn.rows.iter().zip(&rows) {
            within(&row.text, height);
            let some = asked.amounts.iter().filter(|(_, amount)| !amount.is_zero());
            assert_eq!(row.bars.len(), some.clone().count());
            for (bar, (_, amount)) in row.bars.iter().zip(some) {
                within(&bar.x, stack::WIDTH);
                within(&bar.text, height);
                let (left, right) = (number(&bar.x), number(&bar.x) + number(&bar.width));
                assert!(right <= stack::WIDTH);
                // A credit stands to the left of nothing, all else to its right.
                assert!(
                    if amount.is_sign_negative() { left <= zero } else { left >= zero - 0.1 },
                    "{amount}"
                );
            }
        }
    }
    assert!(strip::strip(words(), ("hours", "%"), &[], "", table()).lanes.is_empty());
    assert!(drift::drift(words(), &[], table()).lanes.is_empty());
}

/// 177 of 300 and 162.5 to come: the filled piece to the hatched one as 177 to 162.5, and both beyond the tick; half of a limit ends half way
/// to it; what is known only to be at least so much is not filled.
#[test]
fn a_life_is_as_long_as_its_share_of_its_limit() {
    let one = |used: f64, at_least: bool, more: Option<f64>| bars::BarSeries {
        name: "a part of a car".to_owned(),
        told: "177 of 300 min".to_owned(),
        used,
        at_least,
        more,
    };
    let all = [
        one(177.0 / 300.0, false, Some(162.5 / 300.0)),
        one(0.5, true, None),
        one(0.0, false, Some(0.5)),
        one(40.0, false, Some(f64::NAN)),
    ];
    let drawn = bars::bars(words(), "e", &all, table());
    let (zero, limit) = (number(&drawn.zero), number(&drawn.limit));
    let close = |a: f64, b: f64| assert!((a - b).abs() < 0.15, "{a} and {b}");
    close(number(&drawn.rows[0].used), (limit - zero) * 0.59);
    close(number(&drawn.rows[0].more[0]), zero + (limit - zero) * 0.59);
    close(number(&drawn.rows[0].more[1]), (limit - zero) * 162.5 / 300.0);
    close(number(&drawn.rows[1].used), (limit - zero) / 2.0);
    assert!(drawn.rows[1].at_least && drawn.rows[1].more.is_empty() && !drawn.rows[0].at_least);
    assert_eq!(drawn.rows[2].used, "");
    close(number(&drawn.rows[2].more[1]), (limit - zero) / 2.0);
    assert!(drawn.rows[3].beyond && !drawn.rows[0].beyond);
    for row in &drawn.rows {
        within(&row.y, number(&drawn.height));
        within(&row.tick[1], number(&drawn.height));
        assert!(number(&drawn.zero) + row.used.parse().unwrap_or(0.0) <= bars::WIDTH);
    }
}

/// Laps of 70, 68 and 69 s: the quickest stands highest and is filled, the slowest lowest, the third half way; a session without a lap has
/// its place and no dot.
#[test]
fn the_quickest_of_a_lane_stands_highest() {
    let session =
        |label: &str, lap: f64, changed: bool| ladder::LadderMark { label: label.to_owned(), lap, changed };
    let sessions = vec![
        session("s1", 70.0, false),
        session("s2", f64::NAN, true),
        session("s3", 68.0, false),
        session("s4", 69.0, true),
    ];
    let lane = |name: &str, sessions: Vec<ladder::LadderMark>| ladder::LadderSeries {
        name: name.to_owned(),
        best: "1:08.00".to_owned(),
        slowest: "1:10.00".to_owned(),
        sessions,
    };
    let drawn = ladder::ladder(
        words(),
        &[lane("e1", sessions), lane("e2", vec![session("s1", 70.0, false)])],
        table(),
    );
    let one = &drawn.lanes[0];
    let heights: Vec<f64> = one.dots.iter().map(|(_, y, _)| number(y)).collect();
    assert!((heights[1] - number(&one.high)).abs() < 1e-9);
    assert!((heights[0] - number(&one.floor)).abs() < 1e-9);
    assert!((heights[2] - f64::midpoint(heights[0], heights[1])).abs() < 0.1);
    assert_eq!(one.dots.iter().map(|(.., best)| *best).collect::<Vec<_>>(), [false, true, false]);
    assert_eq!((one.turns.len(), one.labels.len()), (2, 4));
    // One session has no slowest beside its best, and no line.
    assert_eq!((drawn.lanes[1].slowest.as_str(), drawn.lanes[1].line.as_str()), ("", ""));
    for lane in &drawn.lanes {
        within(&lane.under, number(&drawn.height));
        for (x, y, _) in &lane.dots {
            within(x, ladder::WIDTH);
            within(y, number(&drawn.height));
        }
    }
}

/// Asked for 28 to 54: of 24, 40 and 59 the middle one answers, and stands in the band.
#[test]
fn the_rate_that_answers_stands_in_the_band() {
    let dots = [("1", 24.0), ("3", 40.0), ("5", 59.0)];
    let dots =
        dots.map(|(label, rate)| rates::RateDot { label: label.to_owned(), rate, half_width: Some(1.0) });
    let part = rates::RateSeries { name: "bl".to_owned(), dots: dots.to_vec(), tag: Some(42.0) };
    let drawn = rates::rates(words(), "N/mm", Some((28.0, 54.0)), std::slice::from_ref(&part), table());
    let answers: Vec<bool> = drawn.rows[0].dots.iter().map(|dot| dot.answers).collect();
    assert_eq!(answers, [false, true, false]);
    let (left, wide) = (number(&drawn.band[0]), number(&drawn.band[1]));
    let places: Vec<f64> = drawn.rows[0].dots.iter().map(|dot| number(&dot.x)).collect();
    let within_band: Vec<bool> = places.iter().map(|x| (left..=left + wide).contains(x)).collect();
    assert_eq!(within_band, answers);
    assert_eq!(drawn.rows[0].spread, [drawn.rows[0].dots[0].x.clone(), drawn.rows[0].dots[2].x.clone()]);
    // 42 stands between 40 and 59.
    assert!(number(&drawn.rows[0].tag) > places[1] && number(&drawn.rows[0].tag) < places[2]);
    // Between 27 and 29 it is either side of 28, and so is 54.5 of 54, each by a half-width of 1: nobody can tell. 55.1 is outside.
    let edge = |rate: f64| rates::RateDot { label: String::new(), rate, half_width: Some(1.0) };
    let edges = rates::RateSeries {
        name: "bl".to_owned(),
        dots: [26.9, 27.1, 28.9, 29.0, 53.0, 54.5, 55.1].map(edge).to_vec(),
        tag: None,
    };
    let drawn = rates::rates(words(), "N/mm", Some((28.0, 54.0)), &[edges], table());
    let told: Vec<(bool, bool)> = drawn.rows[0].dots.iter().map(|dot| (dot.answers, dot.either)).collect();
    let (outside, either, within) = ((false, false), (false, true), (true, false));
    assert_eq!(told, [outside, either, either, within, within, either, outside]);
    // Where nothing is asked for nothing is outside it.
    let drawn = rates::rates(words(), "N/mm", None, &[part], table());
    assert!(drawn.band.is_empty() && drawn.rows[0].dots.iter().all(|dot| dot.answers));
}

/// The paper of a cylinder goes up to its limit of 10 and no further, or to the reading that is beyond it.
#[test]
fn a_cylinder_goes_up_to_its_limit() {
    let lane = |y: f64| strip::StripSeries {
        name: "cyl 1".to_owned(),
        limit: Some(10.0),
        readings: vec![strip::StripReading { x: 1.0, y, kind: 0, alike: (0, 0) }],
    };
    let drawn = |y: f64| strip::strip(words(), ("h", "%"), &[lane(y), lane(2.0)], "10 %", table());
    let below = drawn(5.0);
    assert_eq!((below.lanes[0].most.as_str(), &below.lanes[0].limit), ("10 %", &below.lanes[0].top));
    let beyond = drawn(22.0);
    assert_eq!(beyond.lanes[0].most, "22 %");
    let (top, floor) = (number(&beyond.lanes[1].top), number(&beyond.lanes[1].floor));
    assert!((number(&beyond.lanes[1].limit) - (floor - (floor - top) * 10.0 / 22.0)).abs() < 0.1);
}

/// From a floor of 9: 13 is the top, 11 half way, and what is read below the floor takes the floor with it.
#[test]
fn a_cylinder_goes_down_to_its_floor() {
    let drawn = |least: f64| {
        let at = |x: f64, y: f64| strip::StripReading { x, y, kind: 2, alike: (0, 0) };
        let lane = strip::StripSeries {
            name: "cyl 1".to_owned(),
            limit: Some(9.0),
            readings: vec![at(1.0, 13.0), at(2.0, 11.0), at(3.0, least)],
        };
        strip::strip_from(words(), ("h", "bar"), &[lane], ([Some(9.0), None], "9 bar"), table())
    };
    let lane = &drawn(10.0).lanes[0];
    assert_eq!((lane.least.as_str(), &lane.limit), ("9 bar", &lane.floor));
    let (top, floor) = (number(&lane.top), number(&lane.floor));
    assert!((number(&lane.dots[1].y) - f64::midpoint(top, floor)).abs() < 0.1);
    assert_eq!(drawn(8.0).lanes[0].least, "8 bar");
}

#[test]
fn a_bar_is_as_long_as_its_amount_and_begins_where_the_one_before_ends() {
    let row = |amounts: &[(usize, i64)]| stack::StackSeries {
        name: "e".to_owned(),
        total: "1".to_owned(),
        amounts: amounts.iter().map(|(kind, amount)| (*kind, Decimal::new(*amount, 2))).collect(),
    };
    // 100.00 and 50.00, less 25.00.
    let rows = [row(&[(0, 10_000), (1, 5000), (2, -2500)]), row(&[(1, 20_000)]), row(&[(0, 0)])];
    let drawn = stack::stack(words(), "EUR", &["entries", "parts", "sold"], &rows, table());
    let bars: Vec<(f64, f64)> =
        drawn.rows[0].bars.iter().map(|bar| (number(&bar.x), number(&bar.width))).collect();
    let zero = number(&drawn.zero);
    let close = |a: f64, b: f64| assert!((a - b).abs() < 0.25, "{a} and {b}");
    close(bars[0].0, zero);
    close(bars[1].0, zero + bars[0].1);
    close(bars[0].1, 2.0 * bars[1].1);
    close(bars[2].0 + bars[2].1, zero);
    close(bars[0].1, 4.0 * bars[2].1);
    close(number(&drawn.rows[1].bars[0].width), 2.0 * bars[0].1);
    assert!(drawn.rows[2].bars.is_empty());
    // Told apart by hatching, and by words or a letter that the key has too.
    let hatches: Vec<bool> = drawn.key.iter().map(|one| one.hatch.is_empty()).collect();
    assert_eq!(hatches, [true, false, false]);
    assert_ne!(drawn.key[1].hatch.len(), drawn.key[2].hatch.len());
    let names: Vec<&str> = drawn.key.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(names, ["a entries", "b parts", "c sold"]);
    assert_eq!(drawn.rows[0].bars[0].label, "entries");
    assert_eq!(drawn.rows[1].bars[0].label, "parts");
}

#[test]
fn each_currency_has_a_drawing_of_its_own_and_hours_that_are_not_charged_have_none() {
    let book = super::text(
        "shop \"S\"  currency EUR\nclient c \"C\"\ncar a \"A\"  client c\n\
         2026-05-01 a\n  cost 40.00 EUR parts \"seal\"\n  cost 15.50 GBP fuel \"can\"\n  hours 3 h \"seal\" unbilled\n",
    );
    let pages = pages(&book);
    let html = &super::page(&pages, "a-2026.html").html;
    let figures: Vec<&str> = html.split("<figure class=\"chart stack").skip(1).collect();
    let said = |at: usize| super::html::words(&read(figures[at].split("</figure>").next().unwrap()));
    assert_eq!(figures.len(), 2);
    assert!(
        said(0).contains("Costs by event and kind, EUR")
            && said(0).contains("event parts total between events 40.00 40.00"),
        "{}",
        said(0)
    );
    assert!(
        said(1).contains("Costs by event and kind, GBP")
            && said(1).contains("event fuel total between events 15.50 15.50"),
        "{}",
        said(1)
    );
    assert!(!said(0).contains("labour") && !said(1).contains("labour"));
}

/// A part of no known price is on the car: what was booked is the least, in the drawing's table and its words as everywhere else.
#[test]
fn a_sum_of_which_not_all_is_known_is_the_least() {
    let book = super::text(
        "shop \"S\"  currency EUR\nclient c \"C\"\ncar a \"A\"  client c\nkind belt \"belt\"  fits nose\npart b-1 belt  opening new\n\
         2026-05-01 a\n  fit b-1 nose\n  cost 40.00 EUR parts \"seal\"\n  cost 15.50 EUR fuel \"can\"\n",
    );
    let pages = pages(&book);
    let html = &super::page(&pages, "a-2026.html").html;
    let figure = html.split("<figure class=\"chart stack").nth(1).unwrap().split("</figure>").next().unwrap();
    let said = super::html::words(&read(figure));
    assert!(said.contains("Most went on parts, at least 40.00."), "{said}");
    assert!(said.contains("between events, at least 55.50"), "{said}");
    assert!(said.contains("between events at least 40.00 15.50 at least 55.50"), "{said}");
}

#[test]
fn a_missing_pad_is_a_dash_and_takes_the_shares_with_it() {
    let kilos = |value: &str| Some(value.to_owned());
    let shares = || [kilos("50.00%"), kilos("48.00%"), kilos("51.00%")];
    let whole = corners::corners(words(), &["1", "2", "3", "4"].map(kilos), shares());
    assert_eq!(whole.cross, "cross 50.00%");
    let three = corners::corners(words(), &[kilos("1"), kilos("2"), kilos("3"), None], shares());
    assert_eq!(three.pads[3], "–");
    assert!(three.cross.is_empty() && three.front.is_empty() && three.left.is_empty());
}

#[test]
fn one_gauge_width_is_the_same_and_more_is_not() {
    // 1.5 mm less 1 mm by 0.5 mm, as angles over 400 mm: asin is not quite straight.
    let angle = |millimetres: f64| libm::asin(millimetres / 400.0);
    assert!(!drift::beyond((angle(1.5) - angle(1.0)) / (0.5 / 400.0)));
    assert!(!drift::beyond(-1.0) && drift::beyond(-1.1) && drift::beyond(1.1));
}

#[test]
fn ticks_are_round() {
    let texts = |least, most| {
        let scale = PaperScale::over([least, most], 0.0, 100.0, 5);
        scale.ticks().into_iter().map(|tick| tick.text).collect::<Vec<_>>()
    };
    assert_eq!(texts(0.0, 2145.0), ["0", "500", "1000", "1500", "2000", "2500"]);
    assert_eq!(texts(0.0, 0.3), ["0.0", "0.1", "0.2", "0.3"]);
    assert_eq!(texts(-11.0, 5.0), ["-15", "-10", "-5", "0", "5"]);
    assert_eq!(texts(8.0, 8.0).len(), 5);
}

proptest! {
    #[test]
    fn no_scale_leaves_its_paper(values in prop::collection::vec(any::<f64>(), 0..20), wanted in 0_u32..12) {
        let scale = PaperScale::over(values.iter().copied(), 10.0, 330.0, wanted);
        for value in &values {
            let at = number(&scale.place(*value));
            prop_assert!((10.0..=330.0).contains(&at), "{value} stands at {at}");
        }
        let ticks = scale.ticks();
        prop_assert!((2..=41).contains(&ticks.len()));
    }
}

/// A season's strip with nothing, one, two and four hundred cars and days outside it: everything stands on its paper.
#[test]
fn a_season_stays_on_its_paper() {
    use stringline::report::chart::year::{YearCar, YearMarkKind, year};
    for count in [0, 1, 2, 400_i32] {
        let kinds = [YearMarkKind::Ran, YearMarkKind::Hurt, YearMarkKind::Ahead, YearMarkKind::Sold];
        let marks = |_| (0..count).map(|day| (day * 7 - 9, kinds[day as usize % 4])).collect();
        let cars: Vec<YearCar> = (0..count)
            .map(|car| YearCar { name: "a-name-of-forty-letters".to_owned(), marks: marks(car) })
            .collect();
        let months: Vec<(i32, String)> = (0..count).map(|month| (month * 30, "Jan".to_owned())).collect();
        let drawn = year(words(), count * 30, &months, &(count * 40, "14 Nov".to_owned()), &cars, table());
        let height = number(&drawn.height);
        assert_eq!(drawn.rows.len(), cars.len());
        within(&drawn.last.at, 340.0);
        for row in &drawn.rows {
            within(&row.y, height);
            within(&row.end, 340.0);
            row.marks.iter().for_each(|(at, _)| within(at, 340.0));
            assert!(row.name.chars().count() <= 10);
        }
        drawn.months.iter().for_each(|tick| within(&tick.at, 340.0));
    }
}

#[test]
fn a_name_of_broad_letters_is_cut_by_its_breadth() {
    // Unicode Standard Annex 11: the letters of these scripts are two columns wide, a sign that combines has none.
    for (name, most, shown) in [
        ("barrows-1", 9, "barrows-1"),
        ("barrows-12", 9, "barrows-…"),
        (
            "\u{8d70}\u{884c}\u{4f1a}\u{8d70}\u{884c}\u{4f1a}",
            12,
            "\u{8d70}\u{884c}\u{4f1a}\u{8d70}\u{884c}\u{4f1a}",
        ),
        ("\u{8d70}\u{884c}\u{4f1a}\u{8d70}\u{884c}\u{4f1a}", 8, "\u{8d70}\u{884c}\u{4f1a}…"),
        ("e\u{301}e\u{301}e\u{301}e\u{301}", 4, "e\u{301}e\u{301}e\u{301}e\u{301}"),
        ("", 0, ""),
    ] {
        assert_eq!(short(name, most), shown);
    }
}
