//! The pages in a real browser: Chromium, headless, from Debian's package.
//!
//! Left out unless `STRINGLINE_BROWSER` is set (`./tests/run` sets it); plain `cargo test` says so on stderr.

mod axe;
mod board;
mod chrome;
mod drawings;
mod hostile;
mod pictures;
mod print;
mod screen;
mod script;
mod season;
mod sheet;
mod style;

use crate::demo::DEMO;
use chrome::Chrome;
use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::PathBuf;
use stringline::audience::{self, Reader};
use stringline::book::names::Thing;
use stringline::report::Options;
use stringline::report::Page;
use stringline::report::{self, Own, page_templates, render};

/// Whether the browser tests are asked for. Says so when not, past the test runner's capture.
fn asked() -> bool {
    let asked = std::env::var_os("STRINGLINE_BROWSER").is_some();
    if !asked {
        let _ = writeln!(
            std::io::stderr(),
            "left out: the pages in Chromium (set STRINGLINE_BROWSER=1, or run ./tests/run)"
        );
    }
    asked
}

/// Puts pages into the browser's folder.
fn put(chrome: &Chrome, pages: &[Page]) -> Vec<(String, PathBuf)> {
    pages
        .iter()
        .map(|page| {
            let at = chrome.folder.join(&page.name);
            std::fs::write(&at, &page.html).unwrap();
            (page.name.clone(), at)
        })
        .collect()
}

/// Every page of the demo, and the hand-over book of the car that it sells.
fn demo() -> Vec<Page> {
    let mut pages = render(&DEMO, Options { parts: true, ..Options::default() }).unwrap();
    let mut purchase = audience::purchase(&DEMO, crate::demo::car("plover"), None);
    (purchase.bench, purchase.prices) = (true, true);
    let view = report::handover(&audience::cut(&DEMO, &Reader::Buyer(purchase)), &purchase);
    pages.push(report::handover_page(&view, "plover-handover.html", &Own::new()).unwrap());
    // The letter to a client stands beside the pages that are cut for him; its links lead to those.
    let Some(Thing::Client(client)) = DEMO.book.names.find("varga") else { panic!("no client varga") };
    let own = audience::cut(&DEMO, &Reader::Client(client));
    let letters = render(&own, Options { client: Some(client), ..Options::default() }).unwrap();
    pages.extend(letters.into_iter().filter(|page| page.template == "client.html"));
    pages
}

/// The longest page of each template. The demo has one of every template there is.
fn one_of_each() -> Vec<Page> {
    let mut longest: BTreeMap<&str, Page> = BTreeMap::new();
    for page in demo() {
        let before = longest.get(page.template).map_or(0, |before| before.html.len());
        if page.html.len() > before {
            longest.insert(page.template, page);
        }
    }
    for template in page_templates() {
        assert!(longest.contains_key(template), "the demo has no page of {template}");
    }
    longest.into_values().collect()
}
