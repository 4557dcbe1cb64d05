//! A page says the same with scripts off: scripts may sort, filter and unfold, never tell.

use super::chrome::Chrome;
use super::{asked, one_of_each, put};
use serde_json::json;

#[test]
fn a_script_turned_off_changes_no_content() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("script");
    chrome.window(1280, false);
    let pages = put(&chrome, &one_of_each());
    // Folded as it comes: what a reader without scripts sees first.
    let mut texts = |off: bool| -> Vec<(String, String)> {
        chrome.call("Emulation.setScriptExecutionDisabled", &json!({ "value": off }));
        pages
            .iter()
            .map(|(name, at)| {
                chrome.open(at);
                let text = chrome.value("document.querySelector('main').innerText");
                (name.clone(), text.as_str().unwrap().to_owned())
            })
            .collect()
    };
    let on = texts(false);
    assert!(on.iter().all(|(_, text)| text.len() > 200), "a page with nothing on it");
    assert_eq!(on, texts(true));
}
