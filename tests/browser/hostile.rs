//! What an attacker would type in every free text of a book stays words in a real browser too: no dialog, no script, no live
//! link, no request, no complaint.

use super::chrome::{Chrome, Deeds};
use super::{asked, put};
use crate::report::payloads::{self, PAYLOADS};
use crate::report::valid::of_files;

/// Scripts the templates do not have, and links that run something.
const LIVE: &str = r"[...document.querySelectorAll('script, iframe, object, embed, form, base, link, img, input, marquee')].map((one) => one.outerHTML.slice(0, 100))
  .concat([...document.querySelectorAll('a')].filter((one) => !/^(file|https?|mailto):$/.test(one.protocol)).map((one) => one.outerHTML.slice(0, 100)))
  .concat([...document.querySelectorAll('*')].flatMap((one) => [...one.attributes].filter(({ name }) => name.startsWith('on')).map(({ name }) => `${one.tagName} ${name}`)))";

fn open_all(chrome: &mut Chrome, files: &[(String, String)], payload: &str, found: &mut Vec<String>) {
    for (name, at) in put(chrome, &of_files(files)) {
        chrome.open(&at);
        let live = chrome.value(LIVE);
        let deeds = chrome.deeds();
        if live.as_array().is_none_or(|live| !live.is_empty()) || deeds != Deeds::default() {
            found.push(format!("{payload} on {name}: {live} {deeds:?}"));
        }
    }
}

#[test]
fn a_payload_in_every_free_text_stays_words() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("hostile");
    let mut found = Vec::new();
    for payload in PAYLOADS {
        open_all(&mut chrome, &payloads::typed(&payloads::reference(), payload).0, payload, &mut found);
    }
    let all = PAYLOADS.join(" ");
    open_all(&mut chrome, &payloads::typed(&payloads::demo(), &all).0, "all of them", &mut found);
    assert!(found.is_empty(), "{found:#?}");
}

/// The probes themselves see what they are there to see.
#[test]
fn a_live_payload_is_noticed() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("live");
    for (html, live) in [
        ("<script>alert(1)</script>", true),
        ("<img src=http://127.0.0.1:9/x onerror='alert(1)'>", true),
        ("<a href='java\nscript:alert(1)'>x</a>", true),
        ("<p onclick='x()'>x</p>", true),
        ("<p>x</p>", false),
    ] {
        let at = chrome.folder.join("live.html");
        std::fs::write(&at, format!("<!doctype html><title>x</title>{html}")).unwrap();
        chrome.open(&at);
        let said = chrome.value(LIVE);
        assert_eq!(!said.as_array().unwrap().is_empty(), live, "{html}: {said}");
        let deeds = chrome.deeds();
        assert_eq!(
            !deeds.dialogs.is_empty(),
            html.contains("alert(1)") && !html.contains("href"),
            "{html}: {deeds:?}"
        );
        assert_eq!(!deeds.asked.is_empty(), html.contains("src="), "{html}: {deeds:?}");
    }
}
