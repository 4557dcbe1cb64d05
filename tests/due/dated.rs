//! Items that are good until a day, impacts, work that comes round, jobs and promises on the list.

use super::{SHOP, action, list, on, ran, row};
use stringline::answer::due::DueView;
use stringline::due::row::Action;
use stringline::due::work::Press;

const BELTS: &str = "kind belts \"harness\"  fits cockpit on heron  safety  valid 5 years from made\n";

/// The list before e-3 (7 and 8 June 2025) with belts of that month on the car.
fn belts(made: &str, more: &str) -> DueView {
    let text = format!(
        "{SHOP}{BELTS}part hb-1 belts  made {made}\npart hb-2 belts  made 2024-01\npart hb-3 belts  made 2019-02\n{}{}{more}",
        on("2025-05-01", "heron", &["fit hb-1"]),
        ran("heron", "e-1", "20 min")
    );
    list(&text, "e-3", "2025-06-01")
}

/// A month runs to its end: made in June 2020 it is good to 30 June 2025, made in May to 31 May.
#[test]
fn a_last_good_day_before_the_end_of_the_event_is_a_change() {
    let good = belts("2020-06", "");
    assert_eq!(
        (action(&good, "hb-1"), row(&good, "hb-1").good_to.as_deref()),
        (Action::Leave, Some("2025-06-30"))
    );
    let past = belts("2020-05", "");
    assert_eq!(action(&past, "hb-1"), Action::Replace);
    assert!(row(&past, "hb-1").why[0].contains("31 May 2025"), "{:?}", row(&past, "hb-1").why);
    let during = belts("2020-06-07", "");
    assert_eq!(action(&during, "hb-1"), Action::Replace);
    assert!(row(&during, "hb-1").why[0].contains("before the end of the event"));
    // hb-3 is past its own day: the spare is hb-2.
    assert_eq!(row(&during, "hb-1").spare.as_ref().unwrap().part.as_deref(), Some("hb-2"));
}

#[test]
fn an_impact_sends_it_to_be_looked_at_whatever_the_date() {
    let hit = on("2025-05-04", "heron", &["hit RF \"the wall\""]);
    assert_eq!(action(&belts("2024-01", &hit), "hb-1"), Action::Inspect);
    let seen = on("2025-05-20", "heron", &["inspect hb-1 good \"webbing clean\""]);
    assert_eq!(action(&belts("2024-01", &format!("{hit}{seen}")), "hb-1"), Action::Leave);
}

/// 20 min an event: 50 min after the inspection, 60 is passed in the next event, 80 is not.
#[test]
fn work_that_comes_round_falls_due_by_use() {
    let work = |every: u32| {
        let text = format!(
            "{SHOP}kind coupling \"coupling\"  fits LR on heron  every {every} min inspect\npart cp-1 coupling  opening new\n{}{}{}",
            on("2025-05-01", "heron", &["fit cp-1 LR"]),
            ran("heron", "e-1", "20 min"),
            ran("heron", "e-2", "30 min")
        );
        list(&text, "e-3", "2025-06-01").work
    };
    assert!(work(80).is_empty());
    let due = work(60);
    assert_eq!((due.len(), due[0].press, due[0].part.as_str()), (1, Press::During, "cp-1"));
    assert_eq!(work(50)[0].press, Press::Over);
}

#[test]
fn open_jobs_and_their_promises_are_listed_until_done() {
    let jobs = |more: &str| {
        let text = format!(
            "{SHOP}client orr \"Orr\"\n{}{}{more}",
            on(
                "2025-05-20",
                "heron",
                &["job j-1 \"gearbox seal\"", "promise j-1 to orr until 2025-06-03 \"ready\""]
            ),
            ran("heron", "e-1", "20 min")
        );
        list(&text, "e-3", "2025-06-01").jobs
    };
    let open = jobs("");
    assert_eq!((open.len(), open[0].job.as_str(), open[0].days_left), (1, "j-1", Some(2)));
    assert!(open[0].presses);
    assert!(jobs(&on("2025-05-25", "heron", &["done j-1 \"lip worn, replaced\""])).is_empty());
}

/// A part at the corner that was hit waits for a look, on the car or off it; a safety part does wherever it was, and no such part is a
/// spare. Any look clears it.
#[test]
fn what_was_in_an_impact_waits_for_a_look_on_the_car_and_off_it() {
    let book = |more: &[&str]| {
        let kinds = "kind spring \"spring\"  fits LF RF on heron  life 40 min\nkind belts \"harness\"  fits cockpit on heron  safety\n\
                     part sp-1 spring  opening new\npart sp-2 spring  opening new\npart hb-1 belts  opening new\n";
        let text = format!(
            "{SHOP}{kinds}{}{}{}{}",
            on("2025-05-01", "heron", &["fit sp-1 LF", "fit sp-2 RF", "fit hb-1 cockpit"]),
            ran("heron", "e-1", "30 min"),
            on("2025-05-04", "heron", &["hit RF \"the wall\""]),
            on("2025-05-10", "heron", more),
        );
        list(&text, "e-3", "2025-06-01")
    };
    let on_it = book(&["say - \"nothing done\""]);
    let why = "not looked at since the impact of 4 May 2025";
    assert!(row(&on_it, "sp-2").why.iter().any(|said| said == why), "{:?}", row(&on_it, "sp-2").why);
    assert_eq!(row(&on_it, "hb-1").why, [why]);
    assert!(!row(&on_it, "sp-1").why.iter().any(|said| said == why), "the other corner");
    assert!(on_it.loose.is_empty());
    let off = book(&["remove sp-2"]);
    assert_eq!(off.loose.len(), 1);
    assert_eq!((off.loose[0].part.as_str(), off.loose[0].place.as_str()), ("sp-2", "RF"));
    assert_eq!(
        off.loose[0].text,
        format!("{why}; off the car since 10 May 2025: do not refit before it is looked at")
    );
    // sp-1 runs out in the 30 minutes of the event: sp-2, with as much, would be offered were it not for the wall.
    assert_eq!(row(&off, "sp-1").spare.as_ref().unwrap().text, "none on the shelf");
    let seen = book(&["remove sp-2", "inspect sp-2 good \"straight\""]);
    assert!(seen.loose.is_empty());
    assert!(row(&seen, "sp-1").spare.as_ref().unwrap().text.starts_with("sp-2 fits but has too little"));
}

/// A look without a verdict is a look, and no pass: the belts wait on, and the words say for what.
#[test]
fn belts_looked_at_without_a_verdict_are_not_said_to_be_unseen() {
    let text = |look: &str| {
        format!(
            "{SHOP}kind belts \"belts\"  fits nose  valid 5 years from made  safety\npart b-1 belts  opening new  made 2025-01\n{}{}{}",
            on("2025-05-01", "heron", &["fit b-1 nose"]),
            ran("heron", "e-1", "40 min"),
            on("2025-05-05", "heron", &["hit nose \"hay\"", look])
        )
    };
    let why = |look: &str| list(&text(look), "e-2", "2025-05-06").rows[0].why.join(" ");
    assert!(
        why("set brake-bias 60 %").contains("not looked at since the impact"),
        "{}",
        why("set brake-bias 60 %")
    );
    let looked = why("inspect b-1 \"frayed?\"");
    assert!(looked.contains("looked at, not passed as good since the impact"), "{looked}");
    assert!(!why("inspect b-1 good").contains("impact"), "{}", why("inspect b-1 good"));
}

/// A part in quarantine that was on the car, with nothing in its place since, is told as long as it is so: until another goes on, or it is looked at.
#[test]
fn what_is_in_quarantine_and_missed_is_told() {
    let book = |more: &[&str]| {
        let kinds = "kind spring \"spring\"  fits LF RF on heron\npart sp-1 spring  opening new\npart sp-2 spring  opening new\n\
                     part sp-3 spring  opening new\n";
        let text = format!(
            "{SHOP}{kinds}{}{}{}",
            on("2025-05-01", "heron", &["fit sp-1 LF", "fit sp-2 RF"]),
            ran("heron", "e-1", "30 min"),
            on("2025-05-10", "heron", more),
        );
        list(&text, "e-3", "2025-06-01").loose
    };
    let told = book(&["quarantine sp-2 because it creaks"]);
    assert_eq!(told.len(), 1);
    assert_eq!(
        (told[0].car.as_str(), told[0].part.as_str(), told[0].place.as_str()),
        ("heron", "sp-2", "RF")
    );
    assert_eq!(
        told[0].text,
        "in quarantine since 10 May 2025, to be judged: nothing is in its place on the car"
    );
    // One that was never missed, one with another in its place, and one that is back on the shelf.
    assert!(book(&["quarantine sp-3 because it creaks"]).is_empty());
    assert!(book(&["quarantine sp-2 because it creaks", "fit sp-3 RF"]).is_empty());
    assert!(book(&["quarantine sp-2 because it creaks", "release sp-2 because it was the mount"]).is_empty());
}
