//! Slips and habits of real typing: each gives the same as the plain spelling, or one clear message.
//!
//! Numbers expected are definitions: an inch is 25.4 mm exactly (NIST SP 811, appendix B).

use crate::checks::{compile_text, now};
use std::fs;
use stringline::Compiled;
use stringline::diagnostics::Diagnostic;
use stringline::source::{Disk, World};

const INCH: f64 = 0.0254;

/// A book of one car with these lines under one date.
fn book(lines: &str) -> String {
    format!("car heron \"Heron\"  cylinders 4\n\n2025-05-03 heron\n{lines}\n")
}

/// What a book says, without where it stands: each line's verb, quantity and values, and its messages.
fn facts(compiled: &Compiled) -> Vec<String> {
    let mut all: Vec<String> = compiled
        .book
        .entries
        .iter()
        .map(|entry| {
            let items = compiled.book.items_of(entry).iter();
            let values: Vec<String> =
                items.map(|item| format!("{:?} {} {}", item.place, item.si, item.flags)).collect();
            let words = compiled.book.extra(entry).map_or(String::new(), |extra| {
                let words: Vec<&str> = extra.words.iter().map(|span| compiled.files.text(*span)).collect();
                format!(
                    "{} {:?}",
                    words.join(" ").replace(['\u{201C}', '\u{201D}'], "\""),
                    extra.conditions.len()
                )
            });
            format!("{:?} {:?} {} {words}", entry.verb, entry.quantity, values.join(", "))
        })
        .collect();
    all.extend(compiled.diagnostics.iter().map(|one| format!("{}: {}", one.check, one.message)));
    all
}

/// Both spellings say the same, and neither is spoken about.
fn same(plain: &str, typed: &str) {
    let (plain, typed) = (compile_text(plain), compile_text(typed));
    assert!(plain.diagnostics.is_empty(), "{:#?}", plain.diagnostics);
    assert!(plain.book.entries.iter().any(|entry| !entry.broken));
    assert_eq!(facts(&plain), facts(&typed));
}

/// The one message about a line, which must be of that check, name these words in its message or cure, and point at
/// this text.
fn told(line: &str, check: &str, at: &str, words: &[&str]) {
    let compiled = compile_text(&book(line));
    told_of(&compiled, check, at, words);
}

fn told_of(compiled: &Compiled, check: &str, at: &str, words: &[&str]) {
    let [one]: &[Diagnostic] = compiled.diagnostics.as_slice() else {
        panic!("one message expected: {:#?}", compiled.diagnostics)
    };
    assert_eq!(one.check, check, "{one:#?}");
    assert_eq!(compiled.files.text(one.at.as_ref().unwrap().span), at);
    let said = format!("{} {}", one.message, one.cure.as_deref().unwrap_or_default());
    for word in words {
        assert!(said.contains(word), "`{word}` is not in: {said}");
    }
}

/// The only value of a line, SI.
fn value(line: &str) -> f64 {
    let compiled = compile_text(&book(line));
    assert!(compiled.diagnostics.is_empty(), "{line}: {:#?}", compiled.diagnostics);
    let items = &compiled.book.items;
    assert_eq!(items.len(), 1, "{line}");
    items.as_slice()[0].si
}

#[test]
fn a_fraction_of_a_ruler_and_one_with_a_whole_before_it() {
    assert!((value("  set rake 11/16 in") - 11.0 / 16.0 * INCH).abs() < 1e-15);
    assert!((value("  set rake 1 1/16 in") - 17.0 / 16.0 * INCH).abs() < 1e-15);
    assert!((value("  set rake 1-1/16 in") - 17.0 / 16.0 * INCH).abs() < 1e-15);
    assert!((value("  set rake 11/16in") - 11.0 / 16.0 * INCH).abs() < 1e-15);
}

#[test]
fn two_fractions_beside_each_other_stay_two() {
    let compiled = compile_text(&book("  set ride-height front 5 3/16 5 1/4 in"));
    assert!(compiled.diagnostics.is_empty(), "{:#?}", compiled.diagnostics);
    let values: Vec<f64> = compiled.book.items.iter().map(|item| item.si / INCH).collect();
    assert_eq!(values.len(), 2);
    assert!((values[0] - 5.1875).abs() < 1e-12 && (values[1] - 5.25).abs() < 1e-12, "{values:?}");
}

#[test]
fn a_lost_blank_is_asked_about() {
    told("  set rake 13/8 in", "fraction-lost-space", "13/8", &["1 3/8", "1 5/8"]);
    told("  set rake 17/16 in", "fraction-lost-space", "17/16", &["1 7/16", "1 1/16"]);
}

#[test]
fn a_decimal_comma_is_refused_and_not_taken_for_a_repeat() {
    told("  set tyre-cold front 1,5 bar", "decimal-comma", "1,5", &["`1.5`", "`1, 5`"]);
    told("  set fuel 1,450 L", "decimal-comma", "1,450", &["1.450", "1450"]);
    told("  read fuel 20.1,20.2 L", "decimal-comma", "20.1,20.2", &["`20.1, 20.2`"]);
}

#[test]
fn a_day_that_is_not_and_a_date_in_another_order() {
    let lines = "car heron \"Heron\"\n\n2026-02-29 heron\n  set fuel 20 L\n  set rake 1,5 mm\n";
    // The line under it that cannot be read has its own message; the others wait for the date.
    let compiled = compile_text(lines);
    let checks: Vec<&str> = compiled.diagnostics.iter().map(|one| one.check).collect();
    assert_eq!(checks, ["date-impossible", "decimal-comma"]);
    assert!(compiled.diagnostics[0].message.contains("February 2026 has 28 days"));
    // What they are about is not known.
    assert!(compiled.book.entries.iter().all(|entry| entry.broken));

    let leap = compile_text("car heron \"Heron\"\n\n2028-02-29 heron\n  set fuel 20 L\n");
    assert_eq!(leap.book.entries.len(), 1);

    for (typed, readings) in [
        ("3/4/26", &["2026-04-03", "2026-03-04"][..]),
        ("5/6/26", &["2026-06-05", "2026-05-06"]),
        ("18.4.2026", &["2026-04-18"]),
        ("18-4-26", &["2026-04-18", "2018-04-26"]),
        ("2026/04/18", &["2026-04-18"]),
        ("2026-4-18", &["2026-04-18"]),
        ("3/4", &["2026-04-03", "2026-03-04"]),
    ] {
        let compiled = compile_text(&format!("car heron \"Heron\"\n\n{typed} heron\n  set fuel 20 L\n"));
        told_of(&compiled, "date-ambiguous", typed, readings);
        let cure = compiled.diagnostics[0].cure.as_deref().unwrap();
        assert_eq!(cure.matches('`').count(), readings.len() * 2, "{typed}: {cure}");
    }
}

#[test]
fn smart_quotes_are_quotes() {
    same(
        &book("  think \"rear bar a hole too far\" unsure"),
        &book("  think \u{201C}rear bar a hole too far\u{201D} unsure"),
    );
    // Apostrophes, straight and curly, are letters of what is said.
    let compiled = compile_text(&book(
        "  say entry push \"can\u{2019}t see the gate\"\n  set caster front 5d54\u{2019}",
    ));
    assert!(compiled.diagnostics.is_empty(), "{:#?}", compiled.diagnostics);
    told("  think \u{201C}rear bar", "quote-open", "\u{201C}rear bar", &["close"]);
}

#[test]
fn tabs_are_blanks() {
    let plain = book("  read fuel 20 L  with driver 78 kg, bars off\n    void because the hose was full");
    same(
        &plain,
        &plain.replace("    void", "\t\tvoid").replace("  read", "\tread").replace("  with", "\t\twith"),
    );
    // One tab reaches as far as any number of blanks up to eight.
    same(&plain, &plain.replace("    void", "\tvoid"));
}

#[test]
fn blanks_that_editors_and_phones_put_in() {
    let plain = book("  set fuel 20 L  because topped up");
    same(&plain, &plain.replace("20 L", "20\u{A0}L"));
    same(&plain, &plain.replace("topped up", "topped up   "));
    same(&book("  set camber LF -3.2 RF -3.2 deg"), &book("  set camber LF \u{2212}3.2 RF \u{2212}3.2 deg"));
    same(&book("  set bar-hole rear ? -> 3"), &book("  set bar-hole rear ? \u{2192} 3"));
}

#[test]
fn line_ends_of_any_system_and_none_at_the_end() {
    let plain = book("  set fuel 20 L\n  | a note\n\n  set rake 12 mm  because it pushed");
    same(&plain, &plain.replace('\n', "\r\n"));
    same(&plain, plain.trim_end());
    same(&plain, plain.replace('\n', "\r\n").trim_end());
    // The reason ends where the line does.
    let compiled = compile_text(&plain.replace('\n', "\r\n"));
    let reasons: Vec<&str> = compiled
        .book
        .entries
        .iter()
        .filter_map(|entry| compiled.book.extra(entry)?.because)
        .map(|span| compiled.files.text(span))
        .collect();
    assert_eq!(reasons, ["it pushed"]);
}

#[test]
fn capitals_do_not_matter() {
    same(
        &book("  set camber LF -3.2 RF -3.2 deg  because of wear"),
        &book("  SET Camber lf -3.2 Rf -3.2 deg  BECAUSE of wear"),
    );
}

#[test]
fn corners_by_either_name() {
    same(
        &book("  set camber LF -3.2 RF -3.1 LR -2.0 RR -1.9 deg"),
        &book("  set camber FL -3.2 FR -3.1 RL -2.0 RR -1.9 deg"),
    );
}

#[test]
fn units_stuck_to_their_numbers() {
    same(&book("  set tyre-cold 26 26 24 24 psi"), &book("  set tyre-cold 26psi 26psi 24psi 24psi"));
    same(&book("  set caster front 5d54'"), &book("  set caster front 5\u{B0}54'"));
}

/// The mark that some editors put before the first byte is no part of the text.
#[test]
fn a_byte_order_mark_is_left_out() {
    let folder = std::env::temp_dir().join(format!("stringline-typed-{}-bom", std::process::id()));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let text = book("  set fuel 20 L");
    fs::write(folder.join("book.sline"), format!("\u{FEFF}{text}")).unwrap();
    let (files, troubles) = Disk { root: folder.clone() }.load().unwrap();
    fs::remove_dir_all(&folder).unwrap();
    assert!(troubles.is_empty());
    let read = files.iter().next().map(|(_, file)| file.text.clone()).unwrap();
    assert_eq!(read, text);
    let _ = now();
}

#[test]
fn a_half_written_line_leaves_its_neighbours_alone() {
    let compiled = compile_text(&book("  set fuel 20 L\n  set camber LF\n  set rake 12 mm"));
    told_of(&compiled, "value-missing", "LF", &["camber LF"]);
    let whole: Vec<bool> = compiled.book.entries.iter().map(|entry| entry.broken).collect();
    assert_eq!(whole, [false, true, false]);
}

#[test]
fn a_line_under_one_that_cannot_be_read_has_no_message_of_its_own() {
    told("  pull cp-1\n    void because wrong car", "verb-unknown", "pull", &["remove"]);
    told("  run s1 \"open\n    laps 1:11.2 1:09.8", "quote-open", "\"open", &["close"]);
}

/// `on` ties a line to a job, and says how a bar or a lamp is: the job is what stands after it.
#[test]
fn on_a_job_and_bars_on() {
    let jobs = "  job j-1 \"strut\"\n  job bars-1 \"bars\"\n";
    let told = |line: &str| {
        let own = "quantity lamps text car \"lamps\"\n\n";
        let compiled = compile_text(&format!("{own}{}", book(&format!("{jobs}{line}"))));
        assert!(compiled.diagnostics.iter().all(|one| one.check != "name-unknown"), "{line}");
        let entry = &compiled.book.entries.as_slice()[2];
        let extra = compiled.book.extra(entry).cloned().unwrap_or_default();
        let conditions: Vec<String> =
            extra.conditions.iter().map(|one| compiled.files.text(one.said).to_owned()).collect();
        let values: Vec<String> = compiled
            .book
            .items_of(entry)
            .iter()
            .map(|item| compiled.files.text(item.span(entry.file)).to_owned())
            .collect();
        assert!(!entry.broken, "{line}: {:#?}", compiled.diagnostics);
        (extra.job.map(stringline::book::model::JobId::number), conditions.join(", "), values.join(", "))
    };
    let is =
        |job: Option<u32>, conditions: &str, values: &str| (job, conditions.to_owned(), values.to_owned());
    assert_eq!(told("  set rake 12 mm  on j-1"), is(Some(0), "", "12"));
    assert_eq!(told("  set rake 12 mm  ON J-1  because it sat"), is(Some(0), "", "12"));
    assert_eq!(told("  read rake 12 mm  with bars on"), is(None, "bars on", "12"));
    assert_eq!(told("  read rake 12 mm  with bars on, fuel 20 L"), is(None, "bars on, fuel 20 L", "12"));
    assert_eq!(told("  read rake 12 mm  with bars on  on j-1"), is(Some(0), "bars on", "12"));
    assert_eq!(told("  read rake 12 mm  with hot  on j-1"), is(Some(0), "hot", "12"));
    assert_eq!(told("  read rake 12 mm  with driver 78 kg  on j-1"), is(Some(0), "driver 78 kg", "12"));
    assert_eq!(told("  set lamps on"), is(None, "", "on"));
    assert_eq!(told("  set lamps on  on bars-1"), is(Some(1), "", "on"));
    assert_eq!(told("  think \"it bent\"  on j-1"), is(Some(0), "", ""));
    assert_eq!(told("  say entry push, on the brakes"), is(None, "", ""));
}

#[test]
fn a_job_that_nobody_opened_gets_the_nearest() {
    let named = "  job j-12 \"strut\"\n";
    told_of(&compile_text(&book(&format!("{named}  done j-21 \"bent\""))), "name-unknown", "j-21", &["j-12"]);
    told_of(
        &compile_text(&book("  jbo j-1 \"strut\"\n  done j-1 \"bent\"")),
        "verb-unknown",
        "jbo",
        &["job"],
    );
    told_of(&compile_text(&book("  done strut \"bent\"")), "name-unknown", "strut", &["job strut"]);
    told_of(&compile_text(&book("  job heron \"taken\"")), "name-twice", "heron", &["another name"]);
    told_of(&compile_text(&book("  job j-1")), "line-incomplete", "", &["what is to be done"]);
}
