//! Which further runs are proposed, and from which scatter.

use super::{day, only, runs};
use stringline::statistics::student;
use stringline::trials::plan::{plan, sharpness};
use stringline::trials::row::Row;

const OPEN: [f64; 5] = [60.00, 59.80, 60.30, 59.70, 60.05];

/// A run later in the day than the last that counts stands that much further from it. By hand: of A B A B and A at the seventh place the
/// sum of squares of the setting about level and trend is 1.2 - 0.64 / 21.2; Student's t of two degrees of freedom is 4.302653.
#[test]
fn runs_that_do_not_count_take_their_place_in_the_day() {
    let rows: Vec<Row> =
        (1..).zip([0, 1, 0, 1]).map(|(order, level)| Row { block: 0, order, level }).collect();
    let found = plan(&rows, 6, Some(0.05), 0.3).unwrap();
    assert_eq!(found.settings, [0]);
    let wanted = 4.302_653 * 0.05 / (1.2_f64 - 0.64 / 21.2).sqrt();
    assert!((found.within.unwrap() - wanted).abs() < 1e-6, "{:?} {wanted}", found.within);
}

/// Two wet runs at the end of the day: the next would be the eighth.
#[test]
fn a_plan_goes_on_after_the_last_run_of_the_day() {
    let mut text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &OPEN));
    text += "  11:05..11:20 run s106  10 laps  best 1:05.00  by ned  with wet\n";
    text += "  11:35..11:50 run s107  10 laps  best 1:05.00  by ned  with wet\n";
    let trial = only(&text);
    let plan = trial.plan.unwrap();
    assert!(!plan.anew && plan.words.contains("more run"), "{}", plan.words);
    let level = |letter: &str| usize::from(letter == "B");
    let ran = (1..).zip("A B A B A".split(' '));
    let rows = ran.chain((8..).zip(plan.order.split(' ')));
    let rows: Vec<Row> = rows.map(|(order, letter)| Row { block: 0, order, level: level(letter) }).collect();
    let scatter = trial.measures[0].fit.as_ref().unwrap().scatter;
    let wide = student::quantile(0.95, rows.len() as f64 - 3.0).unwrap();
    assert!((plan.within.unwrap() - wide * scatter * sharpness(&rows).unwrap()).abs() < 1e-9);
}

/// A run on another day has a level and a trend of its own: nothing can be gone on with.
#[test]
fn no_more_runs_are_proposed_for_a_day_that_is_over() {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABAB", &OPEN[..4]));
    let sentence = |text: &str| only(text).sentence;
    assert!(sentence(&text).contains("one more run, A,"), "{}", sentence(&text));
    for later in [
        "2025-08-02 heron at pell-2\n  08:05..08:20 run s021  10 laps  best 1:01.00  by ned\n",
        "2025-05-11 heron at pell-1\n  08:05..08:20 run s021  10 laps  best 1:01.00  by ned\n",
        "2025-05-12 heron\n  note put away\n",
    ] {
        let said = sentence(&format!("{text}{later}"));
        assert!(!said.contains("more run"), "{said}");
        assert!(said.contains("five runs, A B A B A, on a day of their own"), "{said}");
    }
    // What another car did afterwards says nothing of this one's day.
    let other = "2025-08-02 plover at pell-2\n  08:05..08:20 run s021  10 laps  best 1:01.00  by ned\n";
    let said = sentence(&format!("car plover \"Plover\"\n{text}{other}"));
    assert!(said.contains("one more run, A,"), "{said}");
}

/// The laps of the trial itself are not counted a second time as the car's others.
#[test]
fn the_trials_own_event_is_no_other_run() {
    let own = day("2025-05-10", "pell-1", 1, &runs("ABAA", &[60.00, 59.80, 60.05, 60.02]));
    let trial = only(&own);
    assert!(trial.notes.iter().all(|note| !note.contains("scatters")), "{:?}", trial.notes);
    // By hand: four laps of 0, 0.1, 0, 0.1 s over a minute leave 0.008 s2 about their line by two degrees of freedom, 0.063 s of 61.05 s.
    let other = day("2025-08-02", "pell-2", 1, &runs("AAAA", &[61.00, 61.10, 61.00, 61.10]));
    let trial = only(&format!("{own}{other}"));
    let said = "scatters by about 0.06 s from run to run (2 degrees of freedom)";
    assert!(trial.notes.iter().any(|note| note.contains(said)), "{:?}", trial.notes);
}
