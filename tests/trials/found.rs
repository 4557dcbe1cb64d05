//! Which runs are a trial: found from state, and what else changed named.

use super::{day, only, runs, said, typed};

const LAPS: [f64; 5] = [58.40, 58.02, 58.49, 58.06, 58.61];

/// A value that is first typed between two runs was something before it: nobody wrote what.
#[test]
fn what_was_not_set_yet_is_not_known() {
    let text = with(2, "08:31 set wing-angle 3 deg", "AAAAA");
    let text =
        text.replace("  09:05..09:20 run s103", "  09:01 set wing-angle 5 deg\n  09:05..09:20 run s103");
    let text =
        text.replace("  09:35..09:50 run s104", "  09:31 set wing-angle 3 deg\n  09:35..09:50 run s104");
    let trial = only(&text);
    let settings: Vec<&str> = trial.settings.iter().map(|one| one.text.as_str()).collect();
    assert_eq!((settings, trial.order.as_str()), (vec!["3 deg", "5 deg"], "A B A A"));
    assert_eq!(trial.left_out.len(), 1);
    assert_eq!(
        (trial.left_out[0].session.as_str(), trial.left_out[0].why.as_str()),
        ("s101", "not known: wing-angle")
    );
}

/// It does not count as another thing that changed either.
#[test]
fn a_value_first_typed_leaves_out_the_runs_before_it() {
    let laps: Vec<f64> = LAPS.iter().chain(&[58.20]).copied().collect();
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABAB", &laps));
    let text =
        text.replace("  08:35..08:50 run s102", "  08:31 set wing-angle 3 deg\n  08:35..08:50 run s102");
    let all = super::view(&super::book(&text)).trials;
    let [trial, wing] = all.as_slice() else { panic!("{}", all.len()) };
    assert_eq!(wing.sentence, "Cannot tell: what wing-angle stood at is not known for every run");
    assert_eq!((trial.what.as_str(), trial.order.as_str()), ("bar-hole front", "A B A B A"));
    assert_eq!(trial.settings[0].text, "3");
    assert_eq!(trial.left_out[0].why, "not known: wing-angle");
}

const PARTS: &str = "kind coupling  fits LR RR\npart cp-1 coupling\npart cp-2 coupling\n";

/// A trial of parts is one as of settings; of a place whose first part went on between two runs nobody knows what was there.
#[test]
fn parts_that_went_to_and_fro() {
    let laps = [60.00, 59.80, 60.05, 59.80, 60.01];
    let mut text = "2025-05-02 heron\n  fit cp-1 LR\n\n".to_owned();
    text += &day("2025-05-10", "pell-1", 1, &runs("AAAAA", &laps));
    for (number, (hour, from, to)) in ["08:3", "09:0", "09:3", "10:0"]
        .iter()
        .zip(["1", "2", "1", "2"])
        .zip(["2", "1", "2", "1"])
        .map(|((a, b), c)| (a, b, c))
        .enumerate()
    {
        let before = format!("  {hour}5..");
        let swap = format!("  {hour}2 swap coupling LR cp-{from} -> cp-{to}\n{before}");
        assert_eq!(text.matches(&before).count(), 1, "{number}");
        text = text.replace(&before, &swap);
    }
    let trial = only(&format!("{PARTS}{text}"));
    assert_eq!((trial.what.as_str(), trial.order.as_str()), ("coupling LR", "A B A B A"));
    assert!(
        trial.sentence.starts_with("Coupling LR cp-2 is quicker than coupling LR cp-1 by 0.2"),
        "{}",
        trial.sentence
    );
    // The same with nothing known of the place before the first run.
    let unknown = text
        .replace("  fit cp-1 LR\n", "  note nothing\n")
        .replace("swap coupling LR cp-1 -> cp-2", "fit cp-2 LR")
        .replace("swap coupling LR cp-2 -> cp-1", "remove cp-2");
    let trial = only(&format!("{PARTS}{unknown}"));
    assert_eq!(trial.left_out[0].why, "not known: coupling");
    assert_eq!(trial.order, "A B A B");
}

/// Five runs, hole 1 and 3 by turns, with a line before or under one of them.
fn with(number: usize, line: &str, order: &str) -> String {
    let text = day("2025-05-10", "pell-1", 1, &runs(order, &LAPS));
    let mut out = String::new();
    for written in text.lines() {
        let run = written.contains(&format!("run s10{number} "));
        if run && !line.starts_with(' ') {
            out += &format!("  {line}\n");
        }
        out += written;
        out += "\n";
        if run && line.starts_with(' ') {
            out += &format!("  {line}\n");
        }
    }
    out
}

#[test]
fn a_quicker_hole_is_a_verdict_with_its_interval() {
    let trial = only(&day("2025-05-10", "pell-1", 1, &runs("ABABA", &LAPS)));
    assert_eq!(
        trial.sentence,
        "Bar-hole front 3 is quicker than bar-hole front 1 by 0.46 s (0.34 to 0.58), A B A B A, laps rising 0.05 s a run"
    );
    assert_eq!(trial.order, "A B A B A");
}

#[test]
fn the_slower_one_is_named_last() {
    let laps: Vec<f64> = LAPS.iter().zip([0.0, 0.92, 0.0, 0.92, 0.0]).map(|(lap, more)| lap + more).collect();
    let trial = only(&day("2025-05-10", "pell-1", 1, &runs("ABABA", &laps)));
    assert!(
        trial.sentence.starts_with("Bar-hole front 1 is quicker than bar-hole front 3 by 0.46 s"),
        "{}",
        trial.sentence
    );
}

#[test]
fn one_degree_of_freedom_has_an_interval_and_no_verdict() {
    let trial = only(&day("2025-05-10", "pell-1", 1, &runs("ABAB", &[67.61, 67.18, 67.87, 67.36])));
    assert!(
        trial.sentence.starts_with(
            "Cannot tell: bar-hole front 3 against 1: quicker by 0.58 s (0.01 to 1.15), A B A B, but so few runs are no verdict (1 degree of freedom)"
        ),
        "{}",
        trial.sentence
    );
}

#[test]
fn a_change_put_back_between_runs_is_none() {
    let text = with(2, "09:50 set bar-hole front 1 -> 3", "AAAAA");
    assert_eq!(
        said(
            &text.replace(
                "set bar-hole front 1 -> 3",
                "set bar-hole front 1 -> 3\n  set bar-hole front 3 -> 1"
            )
        ),
        Vec::<String>::new()
    );
}

#[test]
fn a_change_put_back_inside_a_session_leaves_it_out() {
    let text = with(3, "  set bar-hole front 1 -> 3\n    set bar-hole front 3 -> 1", "ABABA");
    let trial = only(&text);
    assert_eq!(trial.left_out.len(), 1, "{:?}", trial.left_out);
    assert_eq!(trial.left_out[0].why, "bar-hole was changed during it");
    assert_eq!(trial.order, "A B B A");
}

#[test]
fn what_went_with_it_is_named() {
    let text = with(2, "08:28 set brake-bias 60 -> 59 %", "ABBBB");
    let all = said(&text);
    assert!(
        all.iter().any(|one| one.contains("bar-hole front never changed alone: with it changed brake-bias")),
        "{all:?}"
    );
    assert!(
        all.iter().any(|one| one.contains("brake-bias never changed alone: with it changed bar-hole")),
        "{all:?}"
    );
}

#[test]
fn what_changed_once_on_the_way_leaves_those_runs_out() {
    let laps: Vec<f64> = LAPS.iter().chain(&[58.20, 58.70, 58.10]).copied().collect();
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABABAB", &laps));
    let before = "  11:05..11:20 run s107";
    let text = text.replace(before, &format!("  11:02 set brake-bias 60 -> 59 %\n{before}"));
    let all = super::view(&super::book(&text)).trials;
    let bar =
        all.iter().find(|trial| trial.what == "bar-hole front" && trial.order == "A B A B A B").unwrap();
    let out: Vec<_> = bar.left_out.iter().map(|run| (run.session.as_str(), run.why.as_str())).collect();
    assert_eq!(out, [("s107", "brake-bias differed"), ("s108", "brake-bias differed")]);
}

#[test]
fn wet_and_dry_two_drivers_and_other_words_are_told_apart() {
    for (from, to, why) in [
        ("by ned  with dry", "by ned  with damp", "its line says damp"),
        ("by ned  with dry", "by ann  with dry", "the driver differed"),
        ("by ned  with dry", "by ned  with dry, red-flag", "red-flag"),
        ("by ned  with dry", "by ned  with dry, new-tyres", "its line says new-tyres"),
        ("10 laps", "3 laps", "3 laps, where 10 are usual"),
        ("best 58.49", "", "no lap time that counts"),
    ] {
        let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &LAPS));
        let text: Vec<String> = text
            .lines()
            .map(|line| {
                if !line.contains("run s103 ") {
                    line.to_owned()
                } else if to.is_empty() {
                    line.replace(&format!("best {}", typed(58.49)), "")
                } else {
                    line.replace(from, to)
                }
            })
            .collect();
        let trial = only(&format!("{}\n", text.join("\n")));
        let out: Vec<_> = trial.left_out.iter().map(|run| (run.session.as_str(), run.why.as_str())).collect();
        assert_eq!(out, [("s103", why)]);
        assert_eq!(trial.order, "A B B A");
    }
}

#[test]
fn the_weather_that_went_with_it_is_the_reason() {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &LAPS));
    let text: Vec<String> = text
        .lines()
        .map(|line| {
            let wet = line.contains("run s102 ") || line.contains("run s104 ");
            if wet { line.replace("with dry", "with wet") } else { line.to_owned() }
        })
        .collect();
    let trial = only(&format!("{}\n", text.join("\n")));
    assert!(
        trial.sentence.starts_with(
            "Cannot tell: bar-hole front never changed alone: with it changed what its line says (wet)"
        ),
        "{}",
        trial.sentence
    );
}

#[test]
fn three_holes_are_a_slope_where_they_are_turned_to_and_fro() {
    let holes = [1, 5, 3, 5, 1, 3];
    // 0.1 s a hole, and a scatter.
    let scatter = [0.02, -0.01, 0.0, 0.01, -0.02, 0.01];
    let list: Vec<(u32, f64)> =
        holes.iter().zip(scatter).map(|(hole, more)| (*hole, 60.0 - 0.1 * f64::from(*hole) + more)).collect();
    let trial = only(&day("2025-05-10", "pell-1", 1, &list));
    assert!(
        trial.sentence.starts_with("Bar-hole front from 1 to 5 is quicker by 0.40"),
        "{}",
        trial.sentence
    );
    assert!(trial.sentence.contains(") as a straight line, A B C B A C"), "{}", trial.sentence);
    let up: Vec<(u32, f64)> = [1, 2, 3, 4, 5, 6].iter().map(|hole| (*hole, 60.0)).collect();
    let trial = only(&day("2025-05-10", "pell-1", 1, &up));
    assert!(trial.sentence.contains("only ever turned one way"), "{}", trial.sentence);
}

#[test]
fn each_day_has_its_own_level_and_a_setting_that_went_with_it_is_refused() {
    let first = day("2025-05-10", "pell-1", 1, &runs("AAA", &[60.1, 60.2, 60.1]));
    let second = day("2025-05-11", "pell-1", 1, &runs("BBB", &[59.1, 59.2, 59.1]));
    let trial = only(&format!("{first}{second}"));
    assert!(trial.sentence.contains("each day had one setting of bar-hole front"), "{}", trial.sentence);
    let first = day("2025-05-10", "pell-1", 1, &runs("ABAB", &[60.1, 59.9, 60.2, 60.0]));
    let second = day("2025-05-11", "pell-1", 3, &runs("ABAB", &[58.1, 57.9, 58.3, 58.0]));
    let trial = only(&format!("{first}{second}"));
    assert_eq!(trial.order, "A B A B | A B A B");
    assert_eq!(trial.measures[0].fit.as_ref().unwrap().freedom, 3);
}

/// Two runs at another event say nothing beside its own level and trend: it is not among the events.
#[test]
fn an_event_that_adds_nothing_is_not_counted_in() {
    let first = day("2025-05-10", "pell-1", 1, &runs("ABABA", &[60.00, 59.60, 60.02, 59.63, 60.01]));
    let second = day("2025-08-02", "pell-2", 1, &runs("AB", &[60.00, 59.00]));
    assert_eq!(super::view(&super::book(&format!("{first}{second}"))).together.len(), 0);
    // A third run makes it one.
    let second = day("2025-08-02", "pell-2", 1, &runs("ABA", &[60.00, 59.60, 60.02]));
    assert_eq!(
        super::view(&super::book(&format!("{first}{second}"))).together[0].events,
        ["pell-1", "pell-2"]
    );
}

/// Dry and wet at one event are two trials, and one event.
#[test]
fn an_event_is_named_once() {
    let dry = day("2025-05-10", "pell-1", 1, &runs("ABABA", &[60.00, 59.80, 60.05, 59.80, 60.01]));
    let wet = day("2025-05-11", "pell-1", 1, &runs("ABABA", &[65.00, 64.70, 65.10, 64.80, 65.02]));
    let view = super::view(&super::book(&format!("{dry}{}", wet.replace("with dry", "with wet"))));
    assert_eq!((view.trials.len(), view.together.len()), (2, 1));
    assert_eq!(view.together[0].events, ["pell-1"]);
    assert!(view.together[0].sentence.ends_with(", at pell-1, in 2 trials"), "{}", view.together[0].sentence);
}

#[test]
fn one_contrast_at_two_events_says_more_than_at_each() {
    let first = day("2025-05-10", "pell-1", 1, &runs("ABAB", &[60.10, 59.70, 60.21, 59.80]));
    let second = day("2025-08-02", "pell-2", 3, &runs("BABA", &[58.10, 58.52, 58.21, 58.60]));
    let view = super::view(&super::book(&format!("{first}{second}")));
    let [both] = view.together.as_slice() else { panic!("{:?}", view.together) };
    // Eight runs, two levels, two trends, one change.
    assert_eq!((both.fit.freedom, both.unit), (3, "s"));
    assert!(both.fit.effects[0].value < -0.3, "{:?}", both.fit);
    assert!(
        both.sentence.starts_with("Together: bar-hole front 3 is quicker than bar-hole front 1 by"),
        "{}",
        both.sentence
    );
}

#[test]
fn the_median_of_the_flying_laps_and_what_was_read_are_compared_too() {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &LAPS));
    let mut out = String::new();
    for (index, line) in text.lines().enumerate() {
        out += line;
        out += "\n";
        if line.contains(" run s") {
            let hot = 1.80 + f64::from(u32::try_from(index % 3).unwrap()) / 100.0;
            out += &format!("    laps 1:20.0 out-lap 59.{index}1 59.{index}2 59.{index}3 1:30.0 in-lap\n");
            out += &format!("    read tyre-hot {hot:.2} {hot:.2} 1.70 1.70 bar\n");
        }
    }
    let trial = only(&out);
    let names: Vec<&str> = trial.measures.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(names, ["best lap", "median of the flying laps", "tyre-hot, mean"]);
    // The middle of three, not of five: in- and out-laps are left out.
    assert!(
        trial.measures[1].values.iter().flatten().all(|lap| *lap < 60.0),
        "{:?}",
        trial.measures[1].values
    );
    assert_eq!(trial.measures[2].unit.as_deref(), Some("bar"));
}

/// What is counted from where it stood begins at nought: turned by `adjust` alone it is the trial that it is with `set perch LR 0 turn` before.
#[test]
fn turns_from_where_it_stood_are_known_from_the_first_run_on() {
    let turned = |first: &str| {
        let text = day("2025-05-10", "pell-1", 1, &runs("AAAAA", &LAPS));
        let mut out = text.replacen("  08:05", &format!("{first}  08:05"), 1);
        for (at, turn) in [("08:35", "+1"), ("09:05", "-1"), ("09:35", "+1"), ("10:05", "-1")] {
            out = out.replace(&format!("  {at}.."), &format!("  adjust perch LR {turn} turn\n  {at}.."));
        }
        out
    };
    let said = |first: &str| {
        let all = super::view(&super::book(&turned(first))).trials;
        let perch = all.into_iter().find(|one| one.what.starts_with("perch")).expect("a trial");
        (
            perch.order,
            perch.sentence,
            perch.left_out.len(),
            perch.settings.into_iter().map(|one| one.text).collect::<Vec<_>>(),
        )
    };
    let (order, sentence, left_out, settings) = said("");
    assert_eq!((order.as_str(), left_out), ("A B A B A", 0));
    assert_eq!(settings, ["0 turn", "1 turn"]);
    assert_eq!(said("  set perch LR 0 turn\n").1, sentence);
}
