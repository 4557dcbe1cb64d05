//! Every page of the demo is whole, self-contained, linked, and the same bytes every time.

use super::html::{Piece, assert_nested, attribute, read};
use super::{demo, pages, text};
use std::collections::BTreeSet;
use stringline::report::Options;
use stringline::report::render;

#[test]
fn every_page_is_whole_and_needs_nothing_from_outside() {
    for page in pages(&demo()) {
        let pieces = read(&page.html);
        let name = &page.name;
        assert!(page.html.starts_with("<!doctype html>\n<html lang=\"en\">"), "{name}");
        assert_nested(name, &pieces);
        let count = |wanted: &str| {
            pieces.iter().filter(|piece| matches!(piece, Piece::Open(tag, _) if tag == wanted)).count()
        };
        assert_eq!(count("h1"), 1, "{name}");
        // A drawing has a title of its own.
        assert_eq!(count("title"), 1 + count("svg"), "{name}");
        assert_eq!(count("footer"), 1, "{name}");
        for banned in ["script", "link", "img", "iframe", "object", "form"] {
            assert_eq!(count(banned), 0, "{name} has <{banned}>");
        }
        assert!(!page.html.contains("url(") && !page.html.contains("@import"), "{name}");
        for (tag, href) in attribute(&pieces, "href").into_iter().chain(attribute(&pieces, "src")) {
            assert!(!href.contains(':') && !href.starts_with("//"), "{name}: <{tag}> goes to {href}");
        }
        let viewport = attribute(&pieces, "name").iter().any(|(_, value)| *value == "viewport");
        assert!(viewport, "{name}");
        let ids: Vec<_> = attribute(&pieces, "id").into_iter().map(|(_, id)| id).collect();
        let once: BTreeSet<_> = ids.iter().collect();
        assert_eq!(ids.len(), once.len(), "{name}: an id twice");
    }
}

#[test]
fn headings_go_down_one_step_at_a_time() {
    for page in pages(&demo()) {
        let mut last = 0;
        for piece in read(&page.html) {
            let Piece::Open(tag, _) = piece else { continue };
            let Some(level) = tag.strip_prefix('h').and_then(|level| level.parse::<u32>().ok()) else {
                continue;
            };
            assert!(level <= last + 1, "{}: h{level} after h{last}", page.name);
            last = level;
        }
    }
}

#[test]
fn links_lead_to_pages_and_places_that_are_there() {
    let pages = pages(&demo());
    let names: BTreeSet<&str> = pages.iter().map(|page| page.name.as_str()).collect();
    assert_eq!(names.len(), pages.len());
    for page in &pages {
        let pieces = read(&page.html);
        let ids: BTreeSet<_> = attribute(&pieces, "id").into_iter().map(|(_, id)| id).collect();
        for (_, href) in attribute(&pieces, "href") {
            match href.strip_prefix('#') {
                Some(id) => assert!(ids.contains(id), "{}: #{id} is nowhere", page.name),
                None => assert!(names.contains(href), "{}: no page {href}", page.name),
            }
        }
    }
}

#[test]
fn every_page_is_reached_from_the_first_in_two_steps() {
    let lap = |year: u32, event: &str| {
        format!("{year}-05-02 a at {event}\n  10:00..10:20 run s1 5 laps best 1:00.0\n")
    };
    let mut book = "circuit c \"C\" length 2 km\ncar a \"A\"\ncar b \"B\"\n".to_owned();
    for (year, first) in [(2024, "d"), (2025, "e"), (2026, "f")] {
        for (event, days) in [(format!("{first}-1"), "05-02"), (format!("{first}-2"), "06-06")] {
            book.push_str(&format!("event {event} {year}-{days}..{} at c \"E\"\n", &days[3..]));
            book.push_str(&lap(year, &event).replace("05-02", days));
        }
    }
    let pages = pages(&text(&book));
    // The first page; three seasons; five differences; a sheet for each event, and one of the other car for the event that
    // is not over when the book ends; the car now; what to load for the events of the last year.
    // Besides, what happened at each event, what the book lacks, the other car's card for that event, a car on the flat and its spares.
    assert_eq!(pages.len(), 1 + 3 + 5 + (6 + 1) + 1 + 2 + (6 + 1 + 1 + 1 + 1));
    let links = |name: &str| -> BTreeSet<String> {
        let page = pages.iter().find(|page| page.name == name).unwrap();
        let pieces = read(&page.html);
        let all = attribute(&pieces, "href").into_iter().map(|(_, href)| href.to_owned());
        all.filter(|href| !href.starts_with('#')).collect()
    };
    let first = links("index.html");
    // The latest year's differences are on the first page, those before on their seasons'.
    assert!(first.contains("a-f-1-f-2.html") && !first.contains("a-e-1-e-2.html"), "{first:?}");
    let mut reached = first.clone();
    reached.extend(first.iter().flat_map(|name| links(name)));
    let all: BTreeSet<String> = pages.iter().map(|page| page.name.clone()).collect();
    assert_eq!(reached, all);
}

#[test]
fn the_same_book_gives_the_same_bytes_on_any_number_of_threads() {
    let first = pages(&demo());
    assert_eq!(first, pages(&demo()));
    let one = rayon_of(1);
    assert_eq!(first, one.install(|| pages(&demo())));
}

fn rayon_of(threads: usize) -> rayon::ThreadPool {
    rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap()
}

#[test]
fn one_car_and_one_season_are_written_alone() {
    let compiled = demo();
    let only = Options {
        car: Some(stringline::book::model::CarId::new(0)),
        season: Some(2026),
        ..Options::default()
    };
    let names: Vec<_> = render(&compiled, only).unwrap().into_iter().map(|page| page.name).collect();
    assert_eq!(
        names,
        [
            "index.html",
            "teal-quern-1-sheet.html",
            "teal-slatehead-1-sheet.html",
            "teal-barrows-1-sheet.html",
            "teal-slatehead-2-sheet.html",
            "teal-2026.html",
            "teal-2026-parts.html",
            "teal-quern-1-slatehead-1.html",
            "teal-slatehead-1-barrows-1.html",
            "teal-slatehead-1-slatehead-2.html",
            "teal-barrows-1-slatehead-2.html",
            "teal-now.html",
        ]
    );
    let none = Options { season: Some(1999), ..Options::default() };
    assert_eq!(render(&compiled, none).unwrap().len(), 1);
}
