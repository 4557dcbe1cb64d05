//! A clause that a line of its verb does not take is a mistake at its words: every verb by every clause, whatever it is followed by.

use super::BOOK;
use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::What;
use stringline::book::entry::{By, Verb};
use stringline::diagnostics::Severity;

const SMALL: &str = "shop \"Side\"  currency EUR  rate 50.00 EUR\nclient orr \"Orr\"\nclient day \"Day\"\n\
                     gauge cg-1 \"camber\"  reads camber  resolution 0.1 deg\nperson ned \"Ned\"\n\
                     car heron \"Heron\"  client orr\n  cylinders 4\n  gears 5\ncar wren \"Wren\"  client day\n\
                     kind coupling  fits LR RR  on heron, wren\nkind damper  fits LF RF  carries rebound  clicks 0..20 from full-hard\n\
                     kind seat  fits cockpit  valid 5 years from made\nkind hub  fits LF\nkind bearing  inside hub\n\
                     part ka coupling  opening new\npart kb coupling  opening new\npart dm damper\npart st seat  made 2024\n\
                     part hu hub\npart be bearing\nspec s70 of damper\n\n2025-05-10 heron\n  run s0 10 min\n  fit ka LR\n  fit dm LF\n";

fn small(lines: &str) -> Compiled {
    compile_text(&format!("{SMALL}{lines}"))
}

fn errors(compiled: &Compiled) -> Vec<String> {
    let all = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
    all.map(|one| format!("{}: {} / {}", one.check, one.message, one.cure.as_deref().unwrap_or_default()))
        .collect()
}

/// What the reference does not list is an error, and says what was meant where that can be told.
#[test]
fn what_a_verb_does_not_take_is_said_with_its_cure() {
    for (line, wanted) in [
        ("paid 200.00 EUR from day", "`paid day`"),
        ("paid 200.00 EUR by day", "`paid day`"),
        ("paid 200.00 EUR to day", "`paid day`"),
        ("set rebound LF 7 click from full-sfot", "`from full-soft`"),
        ("set rebound LF 7 click from full", "`from full-hard` or `from full-soft`"),
        ("set bar-hole rear 3 to 4", "`3 -> 4`"),
        ("set bar-hole rear 4 from 3", "`3 -> 4`"),
        ("service st to 2030-05", "`until 2030-05`"),
        ("buy kb 10.00 EUR to day", "leave it out"),
        ("remove ka from wren", "`wren`"),
        ("build be to hu", "`into hu`"),
        ("run s2 10 min by cg-1", "person"),
        ("read camber LF -3.1 deg with cg-1", "`by cg-1`"),
        ("set camber LF -3.1 deg over 450 mm", "leave it out"),
    ] {
        let compiled = small(&format!("  {line}\n"));
        let errors = errors(&compiled);
        assert!(matches!(errors.as_slice(), [one] if one.contains(wanted)), "{line}: {errors:?}");
    }
}

/// Over every verb: a `from`, a `to` and an `into` of words that mean nothing there leave no line without a message.
#[test]
fn no_verb_swallows_a_clause_in_silence() {
    let clean = errors(&compile_text(BOOK)).len();
    assert_eq!(clean, 0);
    let mut silent = Vec::new();
    for verb in Verb::ALL.iter().filter(|verb| !matches!(verb, Verb::Note | Verb::Say | Verb::Think)) {
        for clause in ["from", "to", "into", "over 3 mm from"] {
            let mut done = false;
            let mut text = String::new();
            for line in BOOK.lines() {
                let word = line.split_whitespace().find(|word| !word.contains(':')).unwrap_or_default();
                let (said, reason) = line.split_once(" because ").unwrap_or((line, ""));
                if !done && line.starts_with(' ') && word == verb.word() {
                    done = true;
                    text += &format!("{said} {clause} xyzzy");
                    if !reason.is_empty() {
                        text += &format!(" because {reason}");
                    }
                } else {
                    text += line;
                }
                text.push('\n');
            }
            let names_whom = matches!(
                (verb, clause),
                (Verb::Cost | Verb::Credit | Verb::Buy, "from") | (Verb::Sell, "to")
            );
            if done && !names_whom && errors(&compile_text(&text)).is_empty() {
                silent.push(format!("{} {clause}", verb.word()));
            }
        }
    }
    assert!(silent.is_empty(), "{silent:?}");
}

/// A property told twice with another value is one error that names the first; told alike it is none.
#[test]
fn a_property_is_told_once() {
    let kept = "shop \"S\"  currency EUR  zone Europe/Dublin  rate 40.00 EUR\nclient orr \"Orr\"  rate 30.00 EUR\nclient day \"Day\"\n";
    for (declared, first, second) in [
        ("car heron \"H\"", "client orr", "client day"),
        ("car heron \"H\"", "class a", "class b"),
        ("car heron \"H\"", "cylinders 4", "cylinders 6"),
        ("car heron \"H\"", "reference driver 76 kg", "reference driver 80 kg"),
        ("kind k", "life 300 min", "life 30 min"),
        ("kind k", "keep 2", "keep 3"),
        ("circuit ring \"R\"", "length 2 km", "length 3 km"),
        ("gauge cg \"G\"  reads camber", "resolution 0.1 deg", "resolution 0.2 deg"),
        ("person ned \"Ned\"", "role \"driver\"", "role \"mechanic\""),
        ("rule r class a  camber", "min 1 deg", "min 2 deg"),
        ("kind k\npart p k", "opening 10 min", "opening 20 min"),
        ("kind k\npart p k", "made 2024", "made 2025"),
        ("kind k\npart p k", "price 10.00 EUR", "price 11.00 EUR"),
        ("kind k\npart p k", "serial \"1\"", "serial \"2\""),
        ("kind k\nspec s of k", "price 10.00 EUR", "price 11.00 EUR"),
        ("shop \"S\"", "rate 40.00 EUR", "rate 50.00 EUR"),
    ] {
        for apart in ["  ", "\n  "] {
            let book = |second: &str| {
                let kept = if declared.starts_with("shop") { "" } else { kept };
                compile_text(&format!("{kept}{declared}  {first}{apart}{second}\n"))
            };
            let twice = book(second);
            let said = |compiled: &Compiled| {
                let twice = |what: &What| matches!(what, What::PropertyTwice { .. });
                compiled.book.troubles.iter().filter(|trouble| twice(&trouble.what)).count()
            };
            assert_eq!(
                (said(&twice), twice.book.troubles.len()),
                (1, 1),
                "{declared} {first} {second}: {:?}",
                errors(&twice)
            );
            assert_eq!(book(first).book.troubles, [], "{declared} {first} twice");
        }
    }
    let exchange = "exchange GBP 1.1725 EUR from 2025-01-01\n";
    assert_eq!(errors(&compile_text(&format!("{kept}{exchange}{exchange}"))).len(), 0);
    let other = exchange.replace("1.1725", "11.725");
    assert_eq!(errors(&compile_text(&format!("{kept}{exchange}{other}"))).len(), 1);
}

/// Of two clients a car has none; of two prices and openings a part has none.
#[test]
fn what_is_told_twice_is_not_relied_on() {
    let text = "client orr \"Orr\"\nclient day \"Day\"\ncar heron \"H\"  client orr  client day\nkind k\npart p k  opening 10 min  opening 20 min\n";
    let compiled = compile_text(text);
    assert_eq!(compiled.book.cars.iter().next().unwrap().client, None);
    assert!(compiled.book.parts.iter().next().unwrap().opening.is_empty());
}

/// The lines under an indented head are nobody's till the next head at the margin, in one message.
#[test]
fn an_indented_head_is_no_head() {
    let compiled = small(
        "  hours 1 h\n  2025-05-11 wren\n  hours 8 h\n  fit kb RR\n  set rake 5 mm\n2025-05-12 heron\n  hours 1 h\n",
    );
    let errors = errors(&compiled);
    assert!(matches!(errors.as_slice(), [one] if one.contains("margin")), "{errors:?}");
    let broken: Vec<bool> = compiled.book.entries.iter().skip(3).map(|entry| entry.broken).collect();
    assert_eq!(broken, [false, true, true, true, false]);
}

/// A line without its verb touches what the nearest verb would, or whatever it names.
#[test]
fn a_line_without_its_verb_touches_what_it_names() {
    for line in ["rebild ka", "swop coupling LR ka -> kb", "xyzzy ka", "rebuild kaa", "lend kaa to ned"] {
        let compiled = small(&format!("  {line}\n"));
        assert_eq!(errors(&compiled).len(), 1, "{line}: {:?}", errors(&compiled));
        let part = compiled.book.parts.keys().next().unwrap();
        assert!(!compiled.history.parts.get(part).mistaken.is_empty(), "{line}");
    }
    for line in ["set cambre LF -3.1 deg", "xyzzy camber LF -3 deg", "sett camber LF -3 deg"] {
        let compiled = small(&format!("  set camber LF -3 deg\n  {line}\n"));
        assert_eq!(errors(&compiled).len(), 1, "{line}: {:?}", errors(&compiled));
        let last = compiled.book.entries.last().unwrap();
        assert!(last.broken && last.quantity.is_some() && last.verb.has_values(), "{line}");
    }
    for line in
        ["  12:00..12:20 ran s2", "  12:00..12:20 xyzzy q7", "12:00..12:20 run s2", "    12:00..12:20 run s2"]
    {
        let compiled = small(&format!("{line}\n"));
        assert_eq!(errors(&compiled).len(), 1, "{line}: {:?}", errors(&compiled));
        let last = compiled.book.entries.last().unwrap();
        assert!(last.broken && last.verb == Verb::Run, "{line}: {} {:?}", last.broken, last.verb);
    }
}

/// A gauge is nobody who drives.
#[test]
fn a_driver_is_a_person() {
    let compiled = small("  run s1 10 min by cg-1\n");
    assert_eq!(compiled.book.entries.last().unwrap().by, By::Nobody);
}

/// Places that the car does not have, marks before their lap, two numbers for one.
#[test]
fn what_the_car_lacks_is_refused() {
    for line in [
        "read leakdown c1 6 c2 6 c3 5 c5 5 %",
        "set gear-ratio g7 1.2",
        "laps s0 out-lap 2:20.1 2:11.2",
        "set wheelbase 1, 200 mm",
        "cost 1, 200.00 EUR parts",
    ] {
        let compiled = small(&format!("  {line}\n"));
        assert_eq!(errors(&compiled).len(), 1, "{line}: {:?}", errors(&compiled));
        assert!(compiled.book.entries.last().unwrap().broken, "{line}");
    }
}

/// What is offered is near, and fits; each line by the words of its cure.
#[test]
fn cures_offer_what_is_near_and_nothing_else() {
    for (line, offers, never) in [
        ("set camber LF -3,2 deg", "`-3.2`", "thousand"),
        ("set camber LF \u{2212}3,2 deg", "`-3.2`", "blank after a comma"),
        ("set camber LF 3.1 in", "", "`min`"),
        ("set camber LF -3.1 neg", "", "`deg`"),
        ("set camber LF minus 3.1 deg", "", "`mins`"),
        ("set camber LF -3.1 and RF -3.0 deg", "", "`rad`"),
        ("run s2 3 laps 5 min in s1", "", "`on`"),
        ("set tyre-cold front 1. bar", "`1`", "whole number"),
        ("set tyre-cold front 0,4..0,9 bar", "`0.4..0.9`", "0, 4"),
        ("cost 1,200.00 EUR parts", "`1200.00`", "`1, 200.00`"),
        ("fit serial LR", "", "part serial"),
        ("inspect ka bad", "", "declare"),
        ("fit kb RR becuase", "`because`", "declare"),
        ("move ka -> stote LR", "car", "part stote"),
        ("fit kd RR", "", "ka exists"),
    ] {
        let errors = errors(&small(&format!("  {line}\n")));
        let one = errors.first().cloned().unwrap_or_default();
        assert!(errors.len() == 1 && one.contains(offers) && !one.contains(never), "{line}: {errors:?}");
    }
}
