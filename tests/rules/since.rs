//! What a card says beside a value: what to be careful of, that nothing is known of a session since, and whose drive is held to a rule.

use crate::checks::compile_text;
use crate::history::running::{EIGHT, ONE_FILL};
use stringline::Compiled;
use stringline::answer::rules::{Rules, build};
use stringline::book::model::CarId;
use stringline::history::moment;

fn card(book: &Compiled) -> Rules {
    build(book, CarId::new(0), &moment::end(&book.history), None, None)
}

/// 20 L, three sessions of 7.5 L: after two of them 5 L are left, and the third leaves less than none.
#[test]
fn a_session_without_the_figure_is_named() {
    let ruled = ONE_FILL.replace(
        "car heron \"Heron\"",
        "car heron \"Heron\"  class S\nrule w class S  weight-after-session min 600 kg",
    );
    let card_of = |text: &str| card(&compile_text(text)).rules.remove(0);
    let one = card_of(&ruled);
    let missed = one.missed.expect("s3 has none");
    assert_eq!(missed.session, "s3");
    assert!(
        missed.needs[0].contains("fuel-rate") && missed.needs[0].contains("`fill fuel 30 L`"),
        "{:?}",
        missed.needs
    );
    assert!(
        one.careful.iter().any(|words| words.contains("run since it was filled: s1")),
        "{:?}",
        one.careful
    );
    // Its line is that of the second session.
    assert!(one.line.is_some_and(|line| line.line == 10), "the reading is of s2");
    let filled = ruled.replace("  12:00..", "  fill fuel 20 L\n  12:00..");
    let one = card_of(&filled);
    assert!(one.missed.is_none() && one.careful.is_empty(), "{one:#?}");
    // Where it could never be had, the card says why.
    let never = card_of(&ruled.replace("  set fuel-rate 30 L/h\n", ""));
    assert_eq!(never.verdict, "no-reading");
    assert!(never.missed.is_some_and(|missed| missed.needs.iter().any(|one| one.contains("fuel-rate"))));
}

/// Ada drove 110 and 115 minutes, Bo 114, Cy 118: the longest is on the card, whoever drove last.
#[test]
fn the_longest_drive_of_a_meeting_is_held_against_the_rule() {
    let card = card(&compile_text(EIGHT));
    let of = |rule: &str| {
        let one = card.rules.iter().find(|one| one.rule == rule).expect("a rule in force");
        one.value.as_ref().map(|value| value.text.clone())
    };
    assert_eq!(of("e2-stint").as_deref(), Some("118 min"));
    assert_eq!(of("e2-drive").as_deref(), Some("225 min"));
}
