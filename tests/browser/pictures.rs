//! A picture of every sort of drawing, kept beside this file for whoever reviews a change: what a number cannot say, an eye sees.
//!
//! They are of one browser and its letters, named in `pictures/made-with.txt`. Where those stand here too, a picture must be what it
//! was, or be made anew (`UPDATE=1`) and looked at; anywhere else nothing is compared, and the test says so.

use super::chrome::{Chrome, base64};
use super::screen::UNFOLD;
use super::{asked, one_of_each, put};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::Path;

const KEPT: &str = "tests/browser/pictures";

/// The first drawing of each sort on a page, by its sort, kept for [`ALONE`].
const DRAWINGS: &str = r"(() => {
  window.drawn = {};
  for (const one of document.querySelectorAll('.above, figure.chart')) {
    const sort = one.matches('.above') ? 'above' : [...one.classList].filter((name) => name != 'chart').join('-') || one.querySelector('svg').getAttribute('aria-labelledby').split('-')[0];
    const box = one.getBoundingClientRect();
    if (!drawn[sort] && one.checkVisibility() && box.width >= 40 && box.height >= 40) drawn[sort] = one;
  }
  return Object.keys(drawn);
})()";

/// Moves one of them to the head of the page, so that what stands above it there moves none of its points, and says where it is.
const ALONE: &str = r"((sort) => {
  document.body.prepend(drawn[sort]);
  const box = drawn[sort].getBoundingClientRect();
  return { x: 0, y: Math.floor(box.top + scrollY), width: 360, height: Math.min(Math.ceil(box.height), 900), scale: 1 };
})";

/// How wide a line of letters is in every family that the pages ask for: the same width, the same letters.
const LETTERS: &str = r#"(() => {
  const pen = document.createElement('canvas').getContext('2d');
  return ['Charter', 'Georgia', 'Cambria', 'serif', 'ui-monospace', 'DejaVu Sans Mono', 'monospace', 'sans-serif'].map((family) => {
    pen.font = `100px "${family}", serif`;
    if (!family.includes(' ') && family == family.toLowerCase()) pen.font = `100px ${family}`;
    return `${family} ${pen.measureText('0123456789 LF RF −3.2° Hamburgefonts').width}`;
  }).join('\n');
})()"#;

/// One picture a sort of drawing, of the first page that has it: its name and its bytes (PNG).
fn pictures(chrome: &mut Chrome) -> BTreeMap<String, Vec<u8>> {
    let mut out = BTreeMap::new();
    for (name, at) in put(chrome, &one_of_each()) {
        chrome.open(&at);
        chrome.value(&format!(
            "{{ {UNFOLD} for (const one of document.querySelectorAll('details.data')) one.open = false; }}"
        ));
        let found = chrome.value(DRAWINGS);
        for sort in found.as_array().expect("a list of drawings").iter().filter_map(Value::as_str) {
            // The car from above is another one on every page; a chart is the same wherever it stands.
            let page = name.trim_end_matches(".html");
            let file = if sort == "above" { format!("above-{page}.png") } else { format!("{sort}.png") };
            if out.contains_key(&file) {
                continue;
            }
            let clip = chrome.value(&format!("{ALONE}({})", json!(sort)));
            let asked = json!({ "format": "png", "clip": clip, "captureBeyondViewport": true });
            let answer = chrome.call("Page.captureScreenshot", &asked);
            out.insert(file, base64(answer["data"].as_str().expect("a picture")));
        }
    }
    out
}

#[test]
fn every_sort_of_drawing_has_its_picture() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("pictures");
    chrome.window(360, false);
    let version = chrome.call("Browser.getVersion", &json!({}))["product"].clone();
    let Value::String(version) = version else { panic!("no version: {version}") };
    let with = format!("{version}\n{}\n", chrome.value(LETTERS).as_str().expect("widths"));
    let made = pictures(&mut chrome);
    let kept = Path::new(KEPT);
    if std::env::var_os("UPDATE").is_some() {
        let _ = std::fs::remove_dir_all(kept);
        std::fs::create_dir_all(kept).unwrap();
        for (name, bytes) in &made {
            std::fs::write(kept.join(name), bytes).unwrap();
        }
        std::fs::write(kept.join("made-with.txt"), &with).unwrap();
        return;
    }
    let mut before: Vec<String> = std::fs::read_dir(kept)
        .unwrap()
        .map(|one| one.unwrap().file_name().into_string().unwrap())
        .filter(|name| Path::new(name).extension().is_some_and(|end| end == "png"))
        .collect();
    before.sort();
    let names: Vec<&str> = made.keys().map(String::as_str).collect();
    assert_eq!(names, before, "UPDATE=1 makes the pictures anew");
    if std::fs::read_to_string(kept.join("made-with.txt")).unwrap() != with {
        let said = "not compared: the pictures of drawings (another browser, or other letters, than theirs)";
        let _ = writeln!(std::io::stderr(), "{said}");
        return;
    }
    let other: Vec<&String> = made
        .iter()
        .filter(|(name, bytes)| std::fs::read(kept.join(name)).unwrap() != **bytes)
        .map(|(name, _)| name)
        .collect();
    assert_eq!(other, Vec::<&String>::new(), "look at them: UPDATE=1 makes them anew in {KEPT}");
}
