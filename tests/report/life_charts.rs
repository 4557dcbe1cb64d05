//! The drawings of lives: steps and never a slope, nothing past the last data, bars at the precision of a session.

use stringline::report::chart::life::{self, LifeSeries, LifeStep};
use stringline::report::chart::usage::{self, UsagePiece, UsageRun, UsageSeries};
use stringline::report::chart::{Table, Words};

const LONG: &str = "a-name-of-forty-letters-that-goes-on-and";

fn words() -> Words {
    Words { id: "x".into(), title: "t".into(), desc: "d".into() }
}

fn table() -> Table {
    Table { head: Vec::new(), rows: Vec::new() }
}

/// The commands of a path: letter and numbers.
fn commands(path: &str) -> Vec<(char, Vec<f64>)> {
    let mut all: Vec<(char, String)> = Vec::new();
    for c in path.chars() {
        if c.is_ascii_alphabetic() {
            all.push((c, String::new()));
        } else {
            all.last_mut().expect("a path begins with a letter").1.push(c);
        }
    }
    all.into_iter()
        .map(|(letter, rest)| (letter, rest.split_whitespace().map(|one| one.parse().unwrap()).collect()))
        .collect()
}

/// Every place a path goes to: across, down.
fn places(path: &str) -> (Vec<f64>, Vec<f64>) {
    let (mut across, mut down) = (Vec::new(), Vec::new());
    for (letter, numbers) in commands(path) {
        match letter {
            'H' => across.extend(numbers),
            'V' => down.extend(numbers),
            'M' | 'L' => {
                across.push(numbers[0]);
                down.push(numbers[1]);
            }
            'Z' => {}
            other => panic!("{other} in {path}"),
        }
    }
    (across, down)
}

fn inside(path: &str, wide: f64, high: &str) {
    let high: f64 = high.parse().unwrap();
    let (across, down) = places(path);
    assert!(across.iter().all(|x| (0.0..=wide).contains(x)), "{path}");
    assert!(down.iter().all(|y| (0.0..=high).contains(y)), "{path}");
}

fn curve(n: u32) -> LifeSeries {
    let steps = (0..n).map(|at| {
        let share = 1.0 - f64::from(at + 1) / f64::from(n + 1);
        LifeStep { at: f64::from(at * 10 + 10), share, band: Some((share * 0.5, share.sqrt())) }
    });
    let last = f64::from(n * 10 + 5);
    LifeSeries { name: LONG.to_owned(), steps: steps.collect(), left: vec![5.0, last], last }
}

#[test]
fn a_curve_goes_down_in_steps_and_ends_with_its_last_life() {
    for n in [0_u32, 1, 2, 400] {
        let drawn = life::life(words(), "min", None, &[curve(n)], table());
        let one = &drawn.curves[0];
        inside(&one.path, life::WIDTH, &drawn.height);
        inside(&one.ticks, life::WIDTH, &drawn.height);
        inside(&one.band, life::WIDTH, &drawn.height);
        // Only level and upright lines, a level and an upright for each failure, and one level at the end.
        let letters: String = commands(&one.path).iter().map(|(letter, _)| *letter).collect();
        assert_eq!(letters, format!("M{}H", "HV".repeat(n as usize)));
        let ends = |path: &str| places(path).0.into_iter().fold(0.0, f64::max);
        let last = ends(&one.ticks);
        assert!((ends(&one.path) - last).abs() < 0.11, "the curve ends at its last life");
        assert!(ends(&one.band) <= last + 0.11, "so does the band");
        assert!(one.name.chars().count() <= 44);
        assert_eq!(one.band.is_empty(), n == 0);
    }
    let none = life::life(words(), "min", None, &[], table());
    assert!(none.curves.is_empty() && !none.ticks);
}

#[test]
fn a_band_breaks_where_there_is_none_and_a_tick_stands_on_its_step() {
    // The first example of Kaplan and Meier (J. Am. Stat. Assoc. 53, 1958; from memory): deaths at 0.8, 3.1, 5.4 and 9.2
    // and losses at 1.0, 2.7, 7.0 and 12.1: 7/8, 7/10, 21/40 and 21/80 live past them.
    let shares = [(0.8, 0.875), (3.1, 0.7), (5.4, 0.525), (9.2, 0.2625)];
    let steps = shares.map(|(at, share)| LifeStep { at, share, band: (share < 0.6).then_some((0.1, 0.9)) });
    let curve = LifeSeries {
        name: String::new(),
        steps: steps.to_vec(),
        left: vec![1.0, 2.7, 7.0, 12.1],
        last: 12.1,
    };
    let drawn = life::life(words(), "months", Some((6.0, LONG.to_owned())), &[curve], table());
    let one = &drawn.curves[0];
    let heights: Vec<f64> =
        commands(&one.path).into_iter().filter(|(c, _)| *c == 'V').map(|(_, n)| n[0]).collect();
    let middles: Vec<f64> =
        commands(&one.ticks).chunks(2).map(|tick| f64::midpoint(tick[0].1[1], tick[1].1[0])).collect();
    assert_eq!(middles.len(), 4);
    for (tick, step) in [(0, 0), (1, 0), (2, 2), (3, 3)] {
        assert!((middles[tick] - heights[step]).abs() < 0.11, "tick {tick} stands on step {step}");
    }
    // The band has one piece, and begins at 5.4.
    assert_eq!(one.band.matches('M').count(), 1);
    let x = |at: f64| {
        let (from, to) = (&drawn.x[0], drawn.x.last().unwrap());
        let number = |text: &str| text.parse::<f64>().unwrap();
        let share = at / number(&to.text);
        number(&from.at) + share * (number(&to.at) - number(&from.at))
    };
    let left = places(&one.band).0.into_iter().fold(f64::INFINITY, f64::min);
    assert!((left - x(5.4)).abs() < 0.11, "{left}");
    assert!((drawn.limit.as_ref().unwrap().at.parse::<f64>().unwrap() - x(6.0)).abs() < 0.11);
}

#[test]
fn more_curves_than_lines_to_tell_them_apart_are_not_drawn() {
    let curves: Vec<LifeSeries> = (0..20).map(|_| curve(3)).collect();
    let drawn = life::life(words(), "min", None, &curves, table());
    let styles: std::collections::BTreeSet<usize> = drawn.curves.iter().map(|one| one.style).collect();
    assert_eq!((drawn.curves.len(), styles.len()), (life::MOST, life::MOST));
}

fn bars(sessions: usize, each: usize) -> UsageSeries {
    let bar = |from: usize| UsagePiece {
        from,
        until: (from + each).min(sessions),
        part: LONG.to_owned(),
        spec: from % 6,
        failed: from % 2 == 1,
    };
    UsageSeries { name: LONG.to_owned(), bars: (0..sessions).step_by(each).map(bar).collect() }
}

#[test]
fn bars_stand_on_their_sessions_and_inside_the_paper() {
    for n in [0_usize, 1, 2, 400] {
        let spans = [UsageRun { name: LONG.to_owned(), sessions: n }];
        let rows = [bars(n, 1), bars(n, 3), bars(n, 1000)];
        let drawn = usage::usage(words(), &spans, &rows, &[LONG.to_owned()], table());
        let high: f64 = drawn.height.parse().unwrap();
        for (row, typed) in drawn.rows.iter().zip(&rows) {
            assert_eq!(row.bars.len(), typed.bars.len());
            assert!(row.name.chars().count() <= 46);
            let mut before = 0.0;
            for bar in &row.bars {
                let (x, wide): (f64, f64) = (bar.x.parse().unwrap(), bar.width.parse().unwrap());
                assert!(x + 0.11 >= before && x + wide <= usage::WIDTH, "{bar:?}");
                before = x + wide;
                assert!(bar.y.parse::<f64>().unwrap() < high);
                inside(&bar.hatch, usage::WIDTH, &drawn.height);
                inside(&bar.cross, usage::WIDTH, &drawn.height);
            }
        }
    }
    assert!(usage::usage(words(), &[], &[], &[], table()).rows.is_empty());
}

#[test]
fn a_change_between_two_sessions_shows_and_a_gap_stays_open() {
    // Ten sessions: p to the third, then nothing, then q from the sixth.
    let bar =
        |from, until, part: &str| UsagePiece { from, until, part: part.to_owned(), spec: 0, failed: false };
    let rows = [UsageSeries { name: "LR".to_owned(), bars: vec![bar(0, 3, "p-1"), bar(5, 10, "q-1")] }];
    let spans = [UsageRun { name: "e".to_owned(), sessions: 10 }];
    let drawn = usage::usage(words(), &spans, &rows, &[String::new()], table());
    let [p, q] = [&drawn.rows[0].bars[0], &drawn.rows[0].bars[1]];
    let number = |text: &str| text.parse::<f64>().unwrap();
    let session = 336.0 / 10.0;
    assert!((number(&p.x) + number(&p.width) - (2.0 + 3.0 * session)).abs() < 1.2, "{p:?}");
    assert!((number(&q.x) - (2.0 + 5.0 * session)).abs() < 1.2, "{q:?}");
    assert_eq!((p.label.as_str(), q.label.as_str()), ("p-1", "q-1"));
    // A spec without a name has no key.
    assert!(drawn.key.is_empty() && drawn.cross.is_empty());
}

#[test]
fn a_bar_too_short_for_its_name_has_a_letter_that_the_row_explains() {
    let drawn = usage::usage(
        words(),
        &[UsageRun { name: "e".to_owned(), sessions: 20 }],
        &[bars(20, 1)],
        &[],
        table(),
    );
    let row = &drawn.rows[0];
    assert_eq!(row.bars[0].label, "a");
    // One that failed has its cross in the place of a letter where both do not fit.
    assert_eq!(row.bars[1].label, "");
    assert!(!row.bars[1].cross.is_empty());
    let short = UsagePiece { from: 0, until: 1, part: "cp-04".to_owned(), spec: 0, failed: false };
    let rows = [UsageSeries { name: "LR".to_owned(), bars: vec![short] }];
    let drawn =
        usage::usage(words(), &[UsageRun { name: "e".to_owned(), sessions: 20 }], &rows, &[], table());
    assert_eq!(drawn.rows[0].name, "LR (a is cp-04)");
}
