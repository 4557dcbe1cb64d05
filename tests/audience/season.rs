//! The demo season with a canary in every free text and every sum that its grammar has a place for: what of them reaches the buyer
//! of plover, and the client who owns bittern.

use crate::demo::DEMO;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use stringline::answer::json;
use stringline::audience::{self, Reader};
use stringline::book::model::CarId;
use stringline::book::names::Thing;
use stringline::report::Options;
use stringline::report::{self, Own, render};
use stringline::syntax::{LineKind, Shape, parse};
use stringline::{Compiled, compile};

/// Verbs whose lines a buyer reads, as the language reference has them; a client reads these and those below.
const BUYER: [&str; 35] = [
    "set",
    "adjust",
    "found",
    "left",
    "read",
    "fill",
    "torque",
    "recheck",
    "compare",
    "fit",
    "remove",
    "swap",
    "move",
    "build",
    "strip",
    "rebuild",
    "shelve",
    "quarantine",
    "release",
    "scrap",
    "buy",
    "sell",
    "failed",
    "hit",
    "inspect",
    "service",
    "run",
    "stint",
    "stage",
    "stop",
    "result",
    "correct",
    "try",
    "sweep",
    "lift",
];
const CLIENT: [&str; 11] =
    ["say", "think", "job", "done", "defer", "promise", "hours", "cost", "credit", "quote", "paid"];

/// Where a canary stands: file, line; and whether it is a sum.
type Places = BTreeMap<String, (String, u32, bool)>;

/// The book with a canary for each text, each reason, each note and each sum.
fn sown() -> (Vec<(String, String)>, Places) {
    let mut files: Vec<(String, String)> =
        DEMO.files.iter().map(|(_, file)| (file.path.clone(), file.text.clone())).collect();
    let mut places = Places::new();
    let mut slots: Vec<(usize, std::ops::Range<usize>, String)> = Vec::new();
    for chunk in parse(&DEMO.files).chunks {
        let file = chunk.file.0 as usize;
        for line in &chunk.lines {
            let words: Vec<_> = chunk.words_of(line).to_vec();
            for (at, word) in words.iter().enumerate() {
                let n = slots.len();
                let next =
                    words.get(at + 1).map(|next| &files[file].1[next.start as usize..next.end() as usize]);
                let followed = matches!(next, Some("EUR" | "GBP"));
                let text = &files[file].1[word.start as usize..word.end() as usize];
                let (canary, new) = match (line.kind, word.shape) {
                    (LineKind::Note, _) => (format!("zq{n}z"), format!("| zq{n}z")),
                    (_, Shape::Text) => (format!("zq{n}z"), format!("\"zq{n}z\"")),
                    (_, Shape::Because) => (format!("zq{n}z"), format!(" zq{n}z")),
                    (_, Shape::Number) if followed && text.contains('.') => {
                        let sum = format!("7{n:05}.{:02}", n % 89 + 10);
                        (sum.clone(), sum)
                    }
                    _ => continue,
                };
                let at =
                    DEMO.files.get(chunk.file).unwrap().text[..word.start as usize].matches('\n').count() + 1;
                places.insert(canary, (files[file].0.clone(), at as u32, word.shape == Shape::Number));
                slots.push((file, word.start as usize..word.end() as usize, new));
            }
        }
    }
    slots.sort_by_key(|(file, range, _)| std::cmp::Reverse((*file, range.start)));
    for (file, range, new) in slots {
        files[file].1.replace_range(range, &new);
    }
    (files, places)
}

fn compiled(files: &[(String, String)]) -> Compiled {
    let texts: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    compile(&stringline::source::Memory::new(&texts, crate::checks::now())).unwrap()
}

/// What stands on a line: the verb and the car of its head; `None` for a declaration.
fn line_of(book: &Compiled, path: &str, line: u32) -> Option<(String, Option<CarId>)> {
    let of = |entry: &stringline::book::entry::Entry| {
        let span = entry.span();
        book.files.path(span.file) == path && book.files.line(span) == line
    };
    let entry = book.book.entries.iter().find(|entry| of(entry));
    let head = || {
        let of = |head: &&stringline::book::entry::Head| {
            book.files.path(head.span.file) == path && book.files.line(head.span) == line
        };
        book.book.heads.iter().find(of)
    };
    match entry {
        Some(entry) => Some((entry.verb.word().to_owned(), book.book.head(entry).and_then(|head| head.car))),
        None => head().map(|head| ("head".to_owned(), head.car)),
    }
}

fn found<'a>(places: &'a Places, told: &str) -> Vec<(&'a String, &'a (String, u32, bool))> {
    places.iter().filter(|(canary, _)| told.contains(canary.as_str())).collect()
}

#[test]
fn of_every_text_and_sum_the_buyer_finds_only_those_for_him() {
    let (files, places) = sown();
    let sums = places.values().filter(|(.., sum)| *sum).count();
    assert!(places.len() > 900 && sums > 100, "{} canaries, {sums} of them sums", places.len());
    let book = compiled(&files);
    let car = crate::demo::car("plover");
    let purchase = audience::purchase(&book, car, None);
    let view = report::handover(&audience::cut(&book, &Reader::Buyer(purchase)), &purchase);
    let told = json(&view) + &report::handover_page(&view, "", &Own::new()).unwrap().html;
    let mut wrong = String::new();
    let all = found(&places, &told);
    for (canary, (path, line, sum)) in &all {
        let text = DEMO
            .files
            .iter()
            .find(|(_, file)| file.path == *path)
            .unwrap()
            .1
            .text
            .lines()
            .nth(*line as usize - 1);
        let starts = |words: &[&str]| words.iter().any(|word| text.unwrap().starts_with(word));
        // Declarations: the shop and its two, its places, kinds, gauges and rules, the car and its parts, the buyer.
        let declared = || {
            !starts(&["person", "client", "exchange", "baseline"])
                || starts(&["person maud", "person corwin", "client brannoch"])
        };
        let own =
            |(verb, whose): (String, Option<CarId>)| whose == Some(car) && BUYER.contains(&verb.as_str());
        let right = !sum && line_of(&book, path, *line).map_or_else(declared, own);
        if !right {
            let _ = writeln!(wrong, "{canary} {path}:{line}: {}", text.unwrap());
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(all.len() > 40, "{}", all.len());
}

#[test]
fn of_every_text_and_sum_a_client_finds_only_those_of_his_car() {
    let (files, places) = sown();
    let book = compiled(&files);
    let Some(Thing::Client(client)) = book.book.names.find("varga") else { panic!("no client") };
    let his = |car: CarId| book.book.cars[car].client == Some(client);
    let cut = audience::cut(&book, &Reader::Client(client));
    let told: String = render(&cut, Options::default()).unwrap().into_iter().map(|page| page.html).collect();
    let mut wrong = String::new();
    let all = found(&places, &told);
    for (canary, (path, line, _)) in &all {
        let right = match line_of(&book, path, *line) {
            Some((verb, whose)) => {
                whose.is_some_and(his)
                    && (BUYER.contains(&verb.as_str()) || CLIENT.contains(&verb.as_str()) || verb == "head")
            }
            None => true,
        };
        // Of the shop's own blocks a client finds what he pays for: the price of a part on its first car, a line `to` him.
        let paid = book.costs.postings.iter().any(|posting| {
            let entry = book.book.entries[posting.entry].span();
            let here = |span: stringline::source::Span| {
                book.files.path(span.file) == path && book.files.line(span) == *line
            };
            posting.client == Some(client) && (here(entry) || posting.price.is_some_and(here))
        });
        if !(right || paid) {
            let _ = writeln!(wrong, "{canary} {path}:{line}");
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(all.len() > 150, "{}", all.len());
}
