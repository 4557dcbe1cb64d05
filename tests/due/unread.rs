//! What cannot be read is on the list: a part of which nobody knows how it is, a limit, a day, a promise; and is no spare.

use super::{SHOP, action, list, on, ran, row};
use stringline::due::row::Action;

const COUPLING: &str = "kind coupling \"coupling\"  fits LR RR on heron  life 60 min\npart cp-1 coupling  opening new\n\
                        part cp-2 coupling  opening new\n";

fn with(kinds: &str, lines: &[&str]) -> String {
    let first = on("2025-05-01", "heron", &["fit cp-1 LR"]);
    format!("{SHOP}{kinds}{first}{}{}", ran("heron", "e-1", "10 min"), on("2025-05-05", "heron", lines))
}

fn why(text: &str, part: &str) -> (Action, String) {
    let made = list(text, "e-3", "2025-06-01");
    (action(&made, part), row(&made, part).why.join("; "))
}

#[test]
fn a_part_whose_state_cannot_be_read_waits_to_be_looked_at() {
    assert_eq!(why(&with(COUPLING, &[]), "cp-1").0, Action::Leave);
    for line in ["inspect cp-1 faild", "quarantine cp-1 becuse bent", "failed cp-9"] {
        let (action, why) = why(&with(COUPLING, &[line]), "cp-1");
        assert_eq!(action, Action::Inspect, "{line}");
        assert!(why.contains("whether it is fit for use is not known"), "{line}: {why}");
    }
    assert_eq!(why(&with(COUPLING, &["failed cp-1 mode"]), "cp-1").0, Action::Replace);
    let (action, why) = why(&with(COUPLING, &["hit RFF \"wall\""]), "cp-1");
    assert_eq!(action, Action::Inspect);
    assert!(why.contains("since the car was hit on 5 May 2025; where, could not be read"), "{why}");
}

/// The limit that can be read stands, and one that cannot is not known: in the order of what presses.
#[test]
fn a_limit_that_cannot_be_read_is_not_taken_for_none() {
    for (life, ran, wanted) in [
        ("life 60 min", "10 min", Action::Leave),
        ("life 60 min, 3 das", "10 min", Action::Inspect),
        ("life 60 min, 3 das", "60 min", Action::Replace),
        ("lief 60 min", "10 min", Action::Inspect),
        ("keep two life 60 min", "10 min", Action::Inspect),
    ] {
        let kinds = COUPLING.replace("life 60 min", life);
        let text = with(&kinds, &[]).replace("run s1  10 min", &format!("run s1  {ran}"));
        let (action, why) = why(&text, "cp-1");
        assert_eq!(action, wanted, "{life} {ran}: {why}");
        assert_eq!(
            why.contains("a limit of its life could not be read"),
            life != "life 60 min",
            "{life}: {why}"
        );
    }
    // Of a kind that is one of safety it stays one, though its line ends before it says so.
    let made =
        list(&with(&COUPLING.replace("life 60 min", "life 60 min, 3 das  safety"), &[]), "e-3", "2025-06-01");
    assert!(row(&made, "cp-1").safety);
}

/// A day that cannot be read is no other's day.
#[test]
fn a_day_that_cannot_be_read_is_not_known() {
    let belts = |kind: &str, part: &str| {
        let kinds =
            format!("kind belts \"harness\"  fits cockpit on heron  {kind}\npart hb-1 belts  {part}\n");
        let text = with(&format!("{COUPLING}{kinds}"), &["fit hb-1"]);
        let made = list(&text, "e-3", "2025-06-01");
        (row(&made, "hb-1").good_to.clone(), action(&made, "hb-1"))
    };
    let good = Some("2028-12-31".to_owned());
    assert_eq!(belts("valid 5 years from made", "made 2023"), (good.clone(), Action::Leave));
    assert_eq!(belts("valid 5 years from made", "made 2023  valid-until 2029"), (good, Action::Leave));
    for (kind, part) in [
        ("valid 5 yers from made", "made 2023"),
        ("vald 5 years from made", "made 2023"),
        ("valid 5 years from made", "made 2023  valid-until 2025-13"),
        ("valid 5 years from made", "made 2023  valid-untl 2025-12"),
        ("valid 5 years from made", "made 2O23"),
        ("valid 5 years from made, 2 years form serviced", "made 2023"),
    ] {
        assert_eq!(belts(kind, part), (None, Action::Inspect), "{kind} {part}");
    }
}

/// What is in doubt is no spare: a part that a line with a mistake may have put somewhere, or of which nobody knows how it is.
#[test]
fn what_is_in_doubt_is_no_spare() {
    let worn = |lines: &[&str]| {
        let text = with(COUPLING, lines).replace("run s1  10 min", "run s1  55 min");
        let made = list(&text, "e-3", "2025-06-01");
        row(&made, "cp-1").spare.clone().and_then(|spare| spare.part)
    };
    assert_eq!(worn(&[]).as_deref(), Some("cp-2"));
    for line in ["fit cp-2 RRR", "inspect cp-2 faild", "scrap cp-2, cp-1 because x", "swap RR cp-9 -> cp-2"] {
        assert_eq!(worn(&[line]), None, "{line}");
    }
}

/// A promise with a mistake may have put off the one before.
#[test]
fn a_promise_that_cannot_be_read_leaves_open_what_is_promised() {
    let jobs = |lines: &[&str]| {
        let text = with(&format!("client kell \"Kell\"\n{COUPLING}"), lines);
        let made = list(&text, "e-3", "2025-06-01");
        (made.jobs[0].days_left, made.jobs[0].text.clone())
    };
    let first = "job j-1 \"box\" promised 2025-05-30";
    assert_eq!(jobs(&[first]).0, Some(-2));
    let (left, text) = jobs(&[first, "promise j-1 to kell until 2025-13-01"]);
    assert_eq!(left, None);
    assert!(text.contains("what is promised is not known"), "{text}");
    // A later one that can be read stands.
    assert_eq!(
        jobs(&[first, "promise j-1 to kell until 2025-13-01", "promise j-1 to kell until 2025-06-11"]).0,
        Some(10)
    );
}
