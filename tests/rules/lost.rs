//! What nobody knows any more neither passes nor fails: after a line that cannot be read, and for who may not read it.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::rules::build;
use stringline::audience::{Reader, cut};
use stringline::book::model::{CarId, ClientId};
use stringline::history::moment;

const BOOK: &str = "client orr \"Orr\"\nclass K-9 \"K\"\n\
    rule h class K-9  ride-height min 50 mm\nrule t class K-9  total-weight min 600 kg\n\
    car heron \"Heron\"  class K-9  client orr\n\
    2026-03-01 heron\n  read ride-height 55 55 60 60 mm\n  read weight 150 155 150 155 kg  with driver 78 kg, fuel 20 L\n\
    2026-03-02 heron\n";

/// The verdicts of the height and of the weight at the end.
fn verdicts(made: &Compiled) -> Vec<&'static str> {
    let card = build(made, CarId::new(0), &moment::end(&made.history), None, None);
    card.rules.iter().map(|rule| rule.verdict).collect()
}

#[test]
fn a_line_that_cannot_be_read_takes_the_verdict() {
    assert_eq!(verdicts(&compile_text(BOOK)), ["passes", "passes"]);
    for (line, wanted) in [
        ("set ride-height LF 49,5 mm", ["not-known", "passes"]),
        ("read ride-height LF 49,5 mm", ["not-known", "passes"]),
        ("adjust ride-height LF 5 mm", ["not-known", "passes"]),
        ("set ride-height LG 49.5 mm", ["not-known", "passes"]),
        ("read weight 150 155 150 15,5 kg  with driver 78 kg, fuel 20 L", ["passes", "not-known"]),
        ("correct weight LF 150 -> 140,5 kg", ["passes", "not-known"]),
        // Of another quantity it is no matter.
        ("set camber LF -3,2 deg", ["passes", "passes"]),
    ] {
        let made = compile_text(&format!("{BOOK}  {line}\n"));
        assert_eq!(verdicts(&made), wanted, "{line}");
    }
}

/// It fails by a place that is known, whatever is not known of another; and what is stated again is known again.
#[test]
fn what_is_known_to_fail_fails() {
    let fails = format!("{BOOK}  set ride-height RF 45 mm\n  set ride-height LF 49,5 mm\n");
    assert_eq!(verdicts(&compile_text(&fails))[0], "fails");
    let again = format!("{BOOK}  set ride-height LF 49,5 mm\n  read ride-height LF 55 mm\n");
    assert_eq!(verdicts(&compile_text(&again))[0], "passes");
    let low = format!("{BOOK}  set ride-height LF 49,5 mm\n  read ride-height LF 45 mm\n");
    assert_eq!(verdicts(&compile_text(&low))[0], "fails");
}

/// What the shop keeps to itself makes what he knew not known; the shop's own says what it is.
#[test]
fn a_line_that_is_not_for_him_takes_the_verdict_from_his() {
    for (line, shops, his) in [
        ("set ride-height LF 45 mm  for shop", ["fails", "passes"], ["not-known", "passes"]),
        ("set ride-height LF 58 mm  for shop", ["passes", "passes"], ["not-known", "passes"]),
        (
            "read weight 145 150 145 150 kg  with driver 78 kg, fuel 20 L  for shop",
            ["passes", "fails"],
            ["passes", "not-known"],
        ),
    ] {
        let made = compile_text(&format!("{BOOK}  {line}\n"));
        assert_eq!(verdicts(&made), shops, "{line}");
        assert_eq!(verdicts(&cut(&made, &Reader::Client(ClientId::new(0)))), his, "{line}");
    }
}

/// Of corners that a rule limits too, and nobody measured, nothing is known: they are named, whatever the others say.
#[test]
fn corners_that_nobody_measured_are_named() {
    let careful = |rule: &str, lines: &str| {
        let text =
            format!("class K-9 \"K\"\n{rule}\ncar heron \"Heron\"  class K-9\n2026-03-01 heron\n  {lines}\n");
        let card = build(
            &compile_text(&text),
            CarId::new(0),
            &moment::end(&compile_text(&text).history),
            None,
            None,
        );
        (card.rules[0].verdict, card.rules[0].careful.clone())
    };
    let all = "rule h class K-9  ride-height min 50 mm";
    assert_eq!(
        careful(all, "read ride-height LF 55 RF 55 mm"),
        ("passes", vec!["nothing read at LR RR".to_owned()])
    );
    assert_eq!(
        careful(all, "read ride-height LF 45 RF 55 mm"),
        ("fails", vec!["nothing read at LR RR".to_owned()])
    );
    assert_eq!(careful(all, "read ride-height 55 55 60 60 mm"), ("passes", vec![]));
    let front = "rule h class K-9  ride-height front min 50 mm";
    assert_eq!(careful(front, "read ride-height LF 55 RF 55 mm"), ("passes", vec![]));
    assert_eq!(
        careful(front, "read ride-height LF 55 mm"),
        ("passes", vec!["nothing read at RF".to_owned()])
    );
}

/// It is not known since the first line that made it so: neither a later one of the same, nor one of something else.
#[test]
fn it_is_not_known_since_the_first_line_that_made_it_so() {
    let since = |lines: &str| -> Vec<String> {
        let made = compile_text(&format!("{BOOK}{lines}"));
        let card = build(&made, CarId::new(0), &moment::end(&made.history), None, None);
        let told = card.rules.iter().map(|rule| {
            let said = rule.careful.iter().find(|words| words.starts_with("not known since"));
            said.map_or("-", |words| words.trim_end_matches(", until a value is stated after it")).to_owned()
        });
        told.collect()
    };
    assert_eq!(
        since("  set ride-height LF 49,5 mm\n  set ride-height LF 49,2 mm\n  read ride-height RF 49,2 mm\n"),
        ["not known since book.sline:10", "-"]
    );
    // Stated in between, LF is known again, and lost once more.
    assert_eq!(
        since("  set ride-height LF 49,5 mm\n  read ride-height LF 55 mm\n  set ride-height LF 49,2 mm\n"),
        ["not known since book.sline:12", "-"]
    );
    assert_eq!(
        since(
            "  read camber LF -3,2 deg\n  read weight LF 150,5 kg\n  read weight RF 150,5 kg\n  set camber LF -3,1 deg\n"
        ),
        ["-", "not known since book.sline:11"]
    );
}
