//! A season's page is short: on a phone its first screen has the laps begin, folded it is some screens long, and printed it is a
//! few sheets, of which the first has what was learnt and what to do. What is folded is found by a link and printed all the same.

use super::chrome::Chrome;
use super::sheet::sheets;
use super::{asked, demo, put};
use std::process::Command;

/// As high as a folded page may be on a phone, in CSS pixels.
const HIGH: u64 = 12_200;
/// As many sheets as a printed season may take of A4, and of the shorter letter paper.
const SHEETS: [((f64, f64), usize); 2] = [((8.27, 11.69), 7), ((8.5, 11.0), 8)];

#[test]
fn a_season_is_short_on_a_phone_and_on_paper() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("season");
    let mut pages = demo();
    pages.retain(|page| page.template == "season.html");
    assert_eq!(pages.len(), 4);
    let mut found = Vec::new();
    for (name, at) in put(&chrome, &pages) {
        chrome.window(360, false);
        chrome.open(&at);
        let high = chrome.value("document.documentElement.scrollHeight").as_u64().unwrap();
        let laps =
            chrome.value("Math.round(document.querySelector('#laps svg').getBoundingClientRect().top)");
        let laps = laps.as_u64().unwrap();
        // The first two lanes, 60 px each.
        if high > HIGH || laps + 120 > 740 {
            found.push(format!("{name} is {high} px high, its laps begin at {laps} px"));
        }
        for (inches, most) in SHEETS {
            let count = sheets(&chrome.pdf(inches));
            if count > most {
                found.push(format!("{name} takes {count} sheets {} inches wide", inches.0));
            }
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn what_is_folded_is_found_by_its_link_and_printed() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("folded");
    let mut pages = demo();
    pages.retain(|page| page.name == "bittern-2026.html");
    let at = put(&chrome, &pages).remove(0).1;
    chrome.window(360, false);
    chrome.open(&at);
    // A warning inside a fold opens it; a chapter's id stands on what opens the chapter.
    for id in ["problem-2", "event-3"] {
        let there = chrome.value(&format!(
            "(() => {{ document.querySelector('a[href=\"#{id}\"]').click();
              return new Promise((done) => setTimeout(() => {{
                const one = document.getElementById('{id}');
                const box = one.getBoundingClientRect();
                done(one.checkVisibility({{ contentVisibilityAuto: true }}) && box.top > -1 && box.top < innerHeight);
              }}, 200)); }})()"
        ));
        assert_eq!(there, true, "#{id}");
    }
    let pdf = chrome.folder.join("season.pdf");
    chrome.open(&at);
    std::fs::write(&pdf, chrome.pdf((8.27, 11.69))).unwrap();
    let output = Command::new("pdftotext").args(["-raw", pdf.to_str().unwrap(), "-"]).output();
    let text = String::from_utf8_lossy(&output.expect("pdftotext is installed").stdout).into_owned();
    let (first, rest) = text.split_once('\u{c}').unwrap();
    let rest = rest.split_whitespace().collect::<Vec<_>>().join(" ");
    // The first sheet is looked at: laps, what was learnt, what to do.
    for said in ["Laps", "1:07.18", "What was learnt", "Winter plan", "ar-01"] {
        assert!(first.contains(said), "{said}: {first}");
    }
    assert!(!first.contains("Setup at the end"), "{first}");
    // Setup, parts, chapters: folded on the screen.
    for said in ["ride height", "ar-01 LR", "quern-2: Quern Park, September", "stops straight now"] {
        assert!(rest.contains(said), "{said}");
    }
}
