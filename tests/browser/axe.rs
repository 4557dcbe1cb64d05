//! axe-core's rules (Deque Systems, MPL-2.0; the version in `package.json`, fetched by `./tests/run`), light and dark, narrow and wide.

use super::chrome::Chrome;
use super::screen::UNFOLD;
use super::{asked, one_of_each, put};

const RUN: &str = r"axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) => violations.flatMap((rule) =>
  rule.nodes.slice(0, 3).map((node) => `${rule.id}: ${node.html.slice(0, 160)} (${node.failureSummary.replace(/\s+/g, ' ').slice(0, 200)})`)))";

#[test]
fn axe_finds_no_violation() {
    if !asked() {
        return;
    }
    let path =
        std::env::var_os("STRINGLINE_AXE").expect("STRINGLINE_AXE names axe.min.js; ./tests/run fetches it");
    let axe = std::fs::read_to_string(path).unwrap();
    let mut chrome = Chrome::new("axe");
    let mut found = Vec::new();
    for (name, at) in put(&chrome, &one_of_each()) {
        for (width, dark) in [(360, false), (1280, true)] {
            chrome.window(width, dark);
            chrome.open(&at);
            chrome.value(UNFOLD);
            chrome.value(&format!("{axe};0"));
            for said in chrome.value(RUN).as_array().unwrap() {
                found.push(format!(
                    "{name} at {width} px{}: {}",
                    if dark { ", dark" } else { "" },
                    said.as_str().unwrap()
                ));
            }
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}
