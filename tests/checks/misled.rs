//! Lines that strangers typed and whose messages led them astray: what each says now. And the law over slips of every verb: a
//! suggestion taken is a line that can be read.

use super::compile_text;
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::history::moment;

const SHOP: &str = r#"shop "S"  currency EUR  zone Europe/Dublin
person sal "Sal"
person hugh "Hugh"
client ott "Ott"
client imre "Imre"
car rook "Rook"  client ott
kind damper "damper"  fits LF RF LR RR
kind nut "nut"
part d1 damper  price 100.00 EUR
"#;

/// Messages about one line under a head, each with its cure.
fn said(line: &str) -> Vec<(String, String)> {
    let compiled = compile_text(&format!("{SHOP}\n2025-05-03 rook\n  {line}\n"));
    let all = compiled.diagnostics.iter();
    all.map(|one| (one.message.clone(), one.cure.clone().unwrap_or_default())).collect()
}

fn one(line: &str) -> (String, String) {
    let all = said(line);
    let [(message, cure)] = &all[..] else { panic!("{line}: {all:?}") };
    (message.clone(), cure.clone())
}

#[test]
fn a_halt_is_no_part() {
    let (message, cure) = one("service A 20 min");
    assert_eq!(message, "`service` is of a part, and no part is called `A`.");
    assert!(cure.contains("| service A 20 min`"), "{cure}");
    // Of a part that was meant for one it says so.
    assert_eq!(one("service d2").0, "No part d2; d1 exists.");
}

#[test]
fn a_quantity_in_two_words_is_that_quantity() {
    assert_eq!(one("set tyre cold 1.5 1.5 1.4 1.4 bar").1, "did you mean `tyre-cold`?");
    assert_eq!(one("read tyre wear 3 3 3 3 mm").1.find("toe"), None);
}

#[test]
fn words_of_another_meaning_are_not_offered() {
    for line in ["finish line", "pit 10:40", "pit lane", "fir 3 laps", "sit 2", "later", "driver 3"] {
        for (_, cure) in said(line) {
            assert!(!cure.contains("did you mean"), "{line}: {cure}");
        }
    }
    // A word for the same thing is, where what follows fits.
    assert_eq!(one("lent d1 to imre").1, "did you mean `lend`?");
    assert_eq!(one("pay imre 20.00 EUR").1, "did you mean `paid`?");
    assert_eq!(one("pull d1").1, "did you mean `remove`?");
    assert_eq!(one("finish 3").1, "did you mean `result finish`?");
    assert_eq!(one("pit 3 min").1, "did you mean `stop`?");
    assert_eq!(one("driver sal").1, "did you mean `stint`?");
    assert_eq!(one("refuel 30 L").1, "did you mean `fill fuel`?");
    // A note may have its time.
    assert_eq!(said("10:30 | puncture"), []);
}

#[test]
fn one_stands_behind_by() {
    let (message, cure) = one("run s1 20 min 10 laps  by sal, hugh");
    assert_eq!(message, "`by` says one gauge or one person of a line.");
    assert!(cure.contains("`by sal`"), "{cure}");
    assert_eq!(one("run s1 20 min 10 laps  by sal by hugh").0, message);
    // Who drove is not known; that it ran, is.
    let compiled = compile_text(&format!("{SHOP}\n2025-05-03 rook\n  run s1 20 min  by sal, hugh\n"));
    let session = compiled.history.sessions.all.iter().next().unwrap();
    assert_eq!((session.driver, session.laps), (None, None));
}

#[test]
fn a_part_bought_twice_is_bought_twice() {
    assert_eq!(
        said("buy d1 100.00 EUR\n  buy d1 100.00 EUR")
            .iter()
            .map(|(message, _)| &**message)
            .collect::<Vec<_>>(),
        ["d1 is bought twice (2025-05-03, line 12)."]
    );
}

#[test]
fn a_gauge_called_g1_is_told_that_it_is_a_gear() {
    let compiled = compile_text(&format!(
        "{SHOP}gauge g1 \"dial\"  reads tyre-cold\ngauge gauge-1 \"dial\"  reads tyre-cold\nperson c2 \"C\"\n\n\
         2025-05-03 rook\n  read tyre-cold 1.5 1.5 1.4 1.4 bar  by g1\n"
    ));
    let all: Vec<(&str, &str)> =
        compiled.diagnostics.iter().map(|one| (&*one.message, one.cure.as_deref().unwrap_or(""))).collect();
    assert_eq!(
        all,
        [
            ("`g1` is gear 1 of a car and cannot be a name.", "choose another, such as `gauge-1`"),
            ("`c2` is cylinder 2 of a car and cannot be a name.", "choose another, such as `person-2`"),
        ]
    );
}

#[test]
fn loans_counts_and_payments() {
    assert_eq!(one("lend d1 imre").0, "`lend` wants `to` and whom: a client, a person, or a name in quotes.");
    assert_eq!(
        one("borrow d1 imre").0,
        "`borrow` wants `from` and whom: a client, a person, or a name in quotes."
    );
    assert_eq!(one("buy nut 3.5 10.00 EUR").0, "`buy` wants how many: a whole number.");
    assert!(one("paid imre -20.00 EUR").1.contains("`back`"));
    assert!(one("cost -20.00 EUR").1.contains("`credit`"));
}

/// An event of which the car has no line yet is a moment as the day is that it ends on.
#[test]
fn an_event_to_come_is_a_moment() {
    let text = format!(
        "{SHOP}circuit hill \"Hill\"\nevent e1 2025-05-03..04 at hill\nevent e9 2025-09-06..07 at hill\n\
         2025-05-03 rook at e1\n  fit d1 LF\n\n2025-09-06 rook\n  remove d1\n\n2025-09-20 rook\n  fit d1 RF\n"
    );
    let compiled = compile_text(&text);
    let at = |typed: &str| {
        let (book, history) = (&compiled.book, &compiled.history);
        let car = book.cars.keys().next().unwrap();
        moment::parse(book, &compiled.files, history, car, typed).map(|moment| moment.rank)
    };
    // The block of 6 September says nothing of the event, but its day lies in it.
    assert_eq!(at("e1"), at("e1/end"));
    for (event, day) in [("e9", "2025-09-07"), ("e9/end", "2025-09-07"), ("e9/start", "2025-09-05")] {
        assert_eq!(at(event), at(day), "{event}");
    }
    assert!(at("e9/s1").is_err() && at("e9/best").is_err());
}

/// An outfit's line that is wrong is wrong once, however often it goes on.
#[test]
fn a_line_of_an_outfit_makes_one_message() {
    let text = format!("{SHOP}outfit wet rook \"Wet\"\n  set ride-height 300 60 60 60 mm\n");
    let blocks = "\n2025-05-03 rook\n  fit wet\n\n2025-05-04 rook\n  fit wet\n";
    let compiled = compile_text(&(text + blocks));
    let messages: Vec<&str> = compiled.diagnostics.iter().map(|one| one.check).collect();
    assert_eq!(messages, ["value-implausible"]);
}

const VERBS: &str = include_str!("../fixtures/verbs.sline");

fn about(compiled: &Compiled, line: usize) -> Vec<(&'static str, String)> {
    let all = compiled.diagnostics.iter();
    let here = all.filter(|one| {
        one.at.as_ref().is_some_and(|mark| compiled.files.line(mark.span) as usize == line + 1)
    });
    here.map(|one| (one.check, one.cure.clone().unwrap_or_default())).collect()
}

/// Of every verb with a slip in it: what is offered in its place makes a line that says something.
#[test]
fn a_suggestion_taken_can_be_read() {
    let lines: Vec<&str> = VERBS.lines().collect();
    let (mut offered, mut wrong) = (0, String::new());
    for (index, line) in lines.iter().enumerate() {
        let plain = line.trim_start();
        let verb = plain.split_whitespace().next().unwrap_or_default();
        let verbs = plain.len() < line.len()
            && verb.len() > 2
            && verb.bytes().all(|letter| letter.is_ascii_lowercase());
        if !verbs {
            continue;
        }
        let with = |word: &str| {
            let mut text: Vec<String> = lines.iter().map(|&line| line.to_owned()).collect();
            text[index] = line.replacen(verb, word, 1);
            compile_text(&(text.join("\n") + "\n"))
        };
        // A letter left out, and one typed for another.
        let last = &verb[..verb.len() - 1];
        for slip in [&verb[1..], last, &format!("{last}q")] {
            let told = about(&with(slip), index);
            let near = told.iter().find(|(check, _)| *check == "verb-unknown");
            let near = near.and_then(|(_, cure)| cure.strip_prefix("did you mean `")?.strip_suffix("`?"));
            let Some(near) = near else { continue };
            offered += 1;
            let after = about(&with(near), index);
            let unread =
                ["verb-unknown", "serial-unknown", "quantity-unknown", "line-incomplete", "name-unknown"];
            if after.iter().any(|(check, _)| unread.contains(check)) {
                let _ = writeln!(wrong, "{line}: `{slip}` offers `{near}`, {after:?}");
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(offered > 60, "{offered}");
}
