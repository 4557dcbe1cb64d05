//! What a line of an outfit says of itself stands beside what the line says that fits it.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::audience::{Reader, cut};
use stringline::book::entry::{Audience, By, Entry, Verb};
use stringline::book::names::Thing;
use stringline::diagnostics::Severity;

/// A car whose outfit sets one thing; both lines end in what is asked about.
fn book(line: &str, fit: &str) -> Compiled {
    let compiled = compile_text(&format!(
        "client orr \"Orr\"
person ned \"Ned\"
person ada \"Ada\"
car heron \"Heron\"  client orr
outfit wet heron \"wet\"
  set bar-hole rear 3{line}
2025-05-03 heron
  job j-1 \"one\"
  job j-2 \"two\"
  set bar-hole rear 2
  fit wet{fit}
"
    ));
    assert_eq!(compiled.count(Severity::Error), 0, "{line} {fit} {:?}", compiled.diagnostics);
    compiled
}

fn worn(compiled: &Compiled) -> &Entry {
    let of_outfit = |entry: &&Entry| entry.verb == Verb::Set && entry.parent.is_some();
    compiled.book.entries.iter().find(of_outfit).unwrap()
}

/// Sixteen pairs: who may read a worn line is the narrower of both.
#[test]
fn the_narrower_audience_stands() {
    let all = [None, Some(Audience::Shop), Some(Audience::Client), Some(Audience::Buyer)];
    let words = |one: Option<Audience>| one.map_or_else(String::new, |one| format!("  for {}", one.word()));
    for line in all {
        for fit in all {
            let compiled = book(&words(line), &words(fit));
            let expected = match (line, fit) {
                (Some(line), Some(fit)) => Some(line.min(fit)),
                (one, other) => one.or(other),
            };
            let extra = compiled.book.extra(worn(&compiled));
            assert_eq!(extra.and_then(|extra| extra.audience), expected, "{line:?} {fit:?}");
        }
    }
}

/// What the line says itself stands; what it leaves out is said by the line that fits it.
#[test]
fn a_line_keeps_what_it_says_itself() {
    for (line, fit, who, job, why) in [
        ("  by ned  on j-1  because mine", "  by ada  on j-2  because theirs", "ned", "j-1", "mine"),
        ("  by ned", "  by ada  on j-2  because theirs", "ned", "j-2", "theirs"),
        ("  on j-1", "  by ada  because theirs", "ada", "j-1", "theirs"),
        ("  because mine", "  by ada  on j-2", "ada", "j-2", "mine"),
        ("", "  by ada  on j-2  because theirs", "ada", "j-2", "theirs"),
        ("  by ned  on j-1  because mine", "", "ned", "j-1", "mine"),
    ] {
        let compiled = book(line, fit);
        let entry = worn(&compiled);
        let Some(Thing::Person(person)) = compiled.book.names.find(who) else { panic!("{who}") };
        assert_eq!(entry.by, By::Person(person), "{line} {fit}");
        let extra = compiled.book.extra(entry).unwrap();
        let Some(Thing::Job(id)) = compiled.book.names.find(job) else { panic!("{job}") };
        assert_eq!(extra.job, Some(id), "{line} {fit}");
        let reason = extra.because.map(|span| compiled.files.text(span));
        assert_eq!(reason, Some(why), "{line} {fit}");
    }
}

/// Of a line that is the shop's alone no word reaches the client, and what stood before it is no longer known to him.
#[test]
fn a_client_reads_no_line_that_is_for_the_shop() {
    for (line, fit) in [
        ("  for shop  because qsecret", ""),
        ("  for shop  because qsecret", "  for client"),
        ("  because qsecret", "  for shop"),
    ] {
        let compiled = book(line, fit);
        let Some(Thing::Client(orr)) = compiled.book.names.find("orr") else { panic!() };
        let his = cut(&compiled, &Reader::Client(orr));
        let text: String = his.files.iter().map(|(_, file)| file.text.clone()).collect();
        assert!(!text.contains("qsecret") && !text.contains("rear 3"), "{line} {fit}\n{text}");
        assert_eq!(worn_values(&his), Vec::<f64>::new(), "{line} {fit}");
    }
    let his = book("  because qsecret", "");
    let Some(Thing::Client(orr)) = his.book.names.find("orr") else { panic!() };
    assert_eq!(worn_values(&cut(&his, &Reader::Client(orr))), [3.0]);
}

/// The numbers of worn lines that a book still has.
fn worn_values(compiled: &Compiled) -> Vec<f64> {
    let lines = compiled.book.entries.iter().filter(|entry| entry.parent.is_some() && !entry.withheld);
    lines.flat_map(|entry| compiled.book.items_of(entry)).map(|item| item.si).collect()
}

/// The line that is said to be wrong, by its number, for each outfit.
#[test]
fn a_part_a_place_and_a_setting_stand_in_an_outfit_once() {
    let head = "car heron \"Heron\"
kind spring \"spring\"  fits LF RF
kind disc \"disc\"  fits front
part s-1 spring  opening new
part s-2 spring  opening new
part d-1 disc  opening new
part d-2 disc  opening new
outfit dry heron \"dry\"
  fit s-1 LF
outfit wet heron \"wet\"
";
    let first = 11;
    for (lines, wrong) in [
        ("  fit s-1 LF\n  fit s-2 RF\n  fit d-1\n", None),
        ("  fit s-1 LF\n  fit s-2 LF\n", Some(2)),
        ("  fit s-1 LF\n  fit s-1 RF\n", Some(2)),
        ("  fit d-1\n  fit d-2\n", Some(2)),
        ("  fit s-2 RF\n  fit dry\n", Some(2)),
        ("  fit wet\n", Some(1)),
        ("  set camber LF -1.0 deg\n  set camber RF -2.0 deg\n", None),
        ("  set camber LF -1.0 deg\n  set camber LF -2.0 deg\n", Some(2)),
    ] {
        for worn in ["", "2025-05-03 heron\n  fit wet\n", "2025-05-03 heron\n  fit wet\n  fit wet\n"] {
            let compiled = compile_text(&format!("{head}{lines}{worn}"));
            let errors = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
            let at: Vec<(u32, &str)> = errors
                .map(|one| (compiled.files.line_column(one.at.as_ref().unwrap().span).0, one.check))
                .collect();
            let expected: Vec<(u32, &str)> =
                wrong.map(|line| (first + line - 1, "property-value")).into_iter().collect();
            assert_eq!(at, expected, "{lines}{worn}{:?}", compiled.diagnostics);
        }
    }
}

/// For who has sold his last car the book ends with that: an outfit that was fitted before keeps its lines, wherever it is declared, and one
/// that is fitted afterwards takes nothing else with it.
#[test]
fn an_outfit_stays_whole_where_the_book_ends_with_a_sale() {
    let wet = "outfit wet heron \"wet\"\n  set bar-hole rear 3\n  set bar-hole front 4\n";
    let head = "client orr \"Orr\"\nclient imre \"Imre\"\ncar heron \"Heron\"  client orr\n";
    let days = "2025-05-03 heron\n  fit wet\n2025-05-06 heron\n  set camber LF -1.0 deg\n  sell heron 100.00 EUR to imre\n";
    for later in ["", "  fit wet\n", "2025-05-08 heron for imre\n  fit wet\n"] {
        let one = vec![("a.sline", format!("{head}{wet}{days}{later}"))];
        let two = vec![("a.sline", format!("{head}{days}{later}")), ("b.sline", wet.to_owned())];
        for files in [one, two] {
            let texts: Vec<(&str, &str)> = files.iter().map(|(name, text)| (*name, text.as_str())).collect();
            let world = stringline::source::Memory::new(&texts, crate::checks::now());
            let compiled = stringline::compile(&world).unwrap();
            let Some(Thing::Client(orr)) = compiled.book.names.find("orr") else { panic!() };
            let his = cut(&compiled, &Reader::Client(orr));
            assert_eq!(worn_values(&his), [3.0, 4.0], "{files:?}");
            let camber =
                his.book.entries.iter().filter(|entry| entry.verb == Verb::Set && entry.parent.is_none());
            assert_eq!(camber.count(), 1, "{files:?}");
        }
    }
}
