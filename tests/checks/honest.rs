//! A true book can be made clean: what happened and cannot be mended any more is asked about and may be waived, and what is the work itself
//! is asked about not at all.

use super::compile_text;
use stringline::diagnostics::Severity;

/// The names of the checks that speak, and whether any is an error.
fn said(text: &str) -> (Vec<String>, bool) {
    let compiled = compile_text(text);
    let all = &compiled.diagnostics;
    (
        all.iter().map(|one| one.check.to_owned()).collect(),
        all.iter().any(|one| one.severity == Severity::Error),
    )
}

fn names(text: &str) -> Vec<String> {
    said(text).0
}

#[test]
fn a_true_reading_below_a_minimum_is_no_error_and_can_be_waived() {
    let book = "person sal \"Sal\"\nclass K-1 \"K\"\ncar finch \"Finch\"  class K-1\nrule least class K-1  ride-height min 48 mm\n\n2025-05-03 finch\n  read ride-height 44 48 50 50 mm\n";
    assert_eq!(said(book), (vec!["under-minimum".to_owned()], false));
    let waived = book.to_owned() + "    waive under-minimum because put to the back for it\n";
    assert_eq!(names(&waived), Vec::<String>::new());
}

#[test]
fn a_car_that_ran_on_old_belts_did_so() {
    let book = "person sal \"Sal\"\ncar finch \"Finch\"\nkind belts \"harness\"  fits cockpit on finch  valid 5 years from made\npart hb-1 belts  made 2019-03\n\n2025-05-03 finch\n  fit hb-1\n  10:00..10:20 run s1\n";
    assert_eq!(said(book), (vec!["safety-date-passed".to_owned()], false));
}

/// A pressure leaks down: between two runs it is set again. Without a run between, or of what stays as it is, it is still asked.
#[test]
fn a_pressure_set_again_before_each_run_is_the_work_itself() {
    let book = |quantity: &str, value: &str, run: &str| {
        format!(
            "car finch \"Finch\"\n\n2025-05-03 finch\n  set {quantity} {value}\n{run}  set {quantity} {value}\n"
        )
    };
    let run = "  10:00..10:20 run s1\n";
    assert_eq!(names(&book("tyre-cold front", "1.50 bar", run)), Vec::<String>::new());
    assert!(names(&book("tyre-cold front", "1.50 bar", "")).iter().all(|one| one == "change-is-nothing"));
    assert!(names(&book("tyre-cold front", "1.50 bar", "")).len() > 1);
    assert!(names(&book("bar-hole front", "2", run)).contains(&"change-is-nothing".to_owned()));
}

/// Nobody is short of driving before the meeting is over: a least is refused where the rule stands, once.
#[test]
fn what_drivers_drive_has_no_least() {
    let book = "person ada \"Ada\"\nperson bo \"Bo\"\nclass E \"E\"\ncar finch \"Finch\"  class E\nrule least class E  drive-time min 100 min\n\n2025-05-03 finch\n  10:00..11:00 run s1  by ada\n  12:00..12:30 run s2  by bo\n";
    assert_eq!(names(book), ["rule-unclear"]);
    assert_eq!(names(&book.replace("min 100 min", "max 100 min")), Vec::<String>::new());
}

/// Twelve of twelve is inside the limit: a count has no gauge.
#[test]
fn a_count_is_exact() {
    let book = "class R \"R\"\nquantity tyres-marked count car  \"tyres marked for the meeting\"\ncar finch \"Finch\"  class R\nrule twelve class R  tyres-marked max 12\n\n2025-05-03 finch\n  read tyres-marked 12\n";
    assert_eq!(names(book), Vec::<String>::new());
    assert_eq!(names(&book.replace("tyres-marked 12\n", "tyres-marked 13\n")), ["over-maximum"]);
}

/// Who looked and did not pass it as good has looked.
#[test]
fn looked_at_and_failed_is_looked_at() {
    let book = "car finch \"Finch\"\nkind belts \"harness\"  fits cockpit on finch  valid 5 years from made\npart hb-1 belts  made 2024-03\n\n2025-05-03 finch\n  fit hb-1\n  10:00..10:20 run s1\n    hit RF \"tyre wall\"\n\n2025-05-04 finch\n  inspect hb-1 failed \"stitch lifted\"\n";
    assert!(!names(book).contains(&"impact-not-inspected".to_owned()), "{:?}", names(book));
    let ran = book.to_owned() + "  11:00..11:20 run s1\n";
    assert!(names(&ran).contains(&"impact-not-inspected".to_owned()), "{:?}", names(&ran));
    let unseen = book.split("\n2025-05-04").next().unwrap();
    assert!(names(unseen).contains(&"impact-not-inspected".to_owned()));
}

/// An eight-hour race burns what a sprint does not.
#[test]
fn a_long_race_burns_more() {
    let book = "car finch \"Finch\"\n\n2025-05-03 finch\n  10:00..18:00 run race  310 laps\n    read fuel-used 310.8 L\n";
    assert!(!said(book).1, "{:?}", said(book));
    assert!(said(&book.replace("310.8 L", "3108 L")).1);
}

/// Several quantities stand on one line as several kinds of life do.
#[test]
fn a_line_says_what_is_usual_of_several_quantities() {
    let usual = |text: &str| {
        format!(
            "car finch \"Finch\"\n{text}\n2025-05-03 finch\n  set tyre-cold all 0.60 bar\n  read tyre-hot all 0.85 bar\n"
        )
    };
    assert!(names(&usual("")).contains(&"value-implausible".to_owned()));
    assert_eq!(
        names(&usual("  usual tyre-cold 0.4..0.9 bar, tyre-hot front 0.6..1.0 bar rear 0.6..1.1 bar\n")),
        Vec::<String>::new()
    );
    assert!(names(&usual("  usual tyre-cold 0.4..0.9 bar, tyre-hto 0.6..1.0 bar\n")).len() > 1);
}
