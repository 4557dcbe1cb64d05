//! A setup sheet is one sheet of paper, A4 and letter: every car of the demo at every event, and a car with too much of everything.

use super::chrome::Chrome;
use super::{asked, demo, put};

/// Sheets in a PDF: its objects of type Page (ISO 32000-1, 7.7.3.3).
pub fn sheets(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    text.split("/Type")
        .filter(|rest| {
            let rest = rest.trim_start();
            rest.strip_prefix("/Page").is_some_and(|rest| !rest.starts_with('s'))
        })
        .count()
}

#[test]
fn every_setup_sheet_fits_one_page_of_both_papers() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("sheet");
    let mut pages = demo();
    pages.retain(|page| page.template == "sheet.html");
    assert!(pages.len() > 20, "the demo has its sheets");
    let mut found = Vec::new();
    for (name, at) in put(&chrome, &pages) {
        chrome.open(&at);
        for (paper, inches) in [("A4", (8.27, 11.69)), ("letter", (8.5, 11.0))] {
            let count = sheets(&chrome.pdf(inches));
            if count != 1 {
                found.push(format!("{name} takes {count} sheets of {paper}"));
            }
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}
