//! On a screen: nothing scrolls sideways, no text is cut or lies on another, nobody complains, nothing is fetched.

use super::chrome::{Chrome, Deeds};
use super::{asked, demo, one_of_each, put};
use crate::report::payloads;
use crate::report::valid::of_files;
use stringline::report::Page;

/// Unfolds everything.
pub const UNFOLD: &str = "for (const one of document.querySelectorAll('details')) one.open = true;";

/// What is wrong with how a page stands in its window, as a list of sentences.
pub const LAYOUT: &str = r"(() => {
  const wrong = [];
  const wide = document.documentElement;
  if (wide.scrollWidth > wide.clientWidth) {
    wrong.push(`the page is ${wide.scrollWidth} px wide in a window of ${wide.clientWidth}`);
    for (const one of document.body.querySelectorAll('*')) {
      const box = one.getBoundingClientRect();
      if (box.right > wide.clientWidth + 1 && wrong.length < 4) wrong.push(`  ${one.tagName} ${one.className}: ${one.textContent.trim().slice(0, 60)}`);
    }
  }
  const shown = (one) => one.checkVisibility({ contentVisibilityAuto: true }) && !one.closest('.hidden');
  for (const one of document.body.querySelectorAll('*')) {
    const style = getComputedStyle(one);
    if (/hidden|clip/.test(style.overflowX) && !one.closest('.hidden, svg, details, thead') && one.scrollWidth > one.clientWidth + 1)
      wrong.push(`cut: ${one.tagName} ${one.className}: ${one.textContent.trim().slice(0, 60)}`);
  }
  for (const svg of document.querySelectorAll('svg')) {
    if (!shown(svg)) continue;
    const paper = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll('text')].filter((text) => text.textContent.trim()).map((text) => {
      const box = text.getBoundingClientRect();
      const size = parseFloat(getComputedStyle(text).fontSize) * paper.width / svg.viewBox.baseVal.width;
      return { box, size, said: text.textContent };
    });
    const name = svg.querySelector('title')?.textContent;
    for (const { box, size, said } of texts) {
      if (size < 11) wrong.push(`${name}: ${said} is ${size.toFixed(1)} px high`);
      if (box.left < paper.left - 1 || box.right > paper.right + 1 || box.top < paper.top - 1 || box.bottom > paper.bottom + 1)
        wrong.push(`${name}: ${said} leaves its paper`);
    }
    texts.forEach((a, at) => texts.slice(at + 1).forEach((b) => {
      // Letters do not fill their line: what overlaps by a fifth of it does not touch.
      const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
      if (across > 0.5 && down > 0.2 * Math.min(a.box.height, b.box.height)) wrong.push(`${name}: ${a.said} lies on ${b.said}`);
    }));
  }
  return wrong;
})()";

/// Tables whose head does not stand over its columns, where a table is laid out as one.
const HEADS: &str = r"[...document.querySelectorAll('table')].filter((table) => {
  const head = table.tHead && table.tHead.rows[0];
  const row = head && [...table.tBodies].flatMap((body) => [...body.rows])
    .find((row) => row.cells.length == head.cells.length && ![...row.cells].some((cell) => cell.colSpan > 1));
  return row && [...head.cells].some((cell, at) =>
    Math.abs(cell.getBoundingClientRect().right - row.cells[at].getBoundingClientRect().right) > 1);
}).map((table) => `the head of ${table.className} is off its columns`)";

/// Columns of one quantity whose numbers do not stand point under point; a number without one ends where the point would be.
const POINTS: &str = r"[...document.querySelectorAll('table.points')].filter((one) => one.checkVisibility()).flatMap((table) => {
  const columns = new Map();
  for (const cell of table.querySelectorAll('td.num')) {
    const walk = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const found = /^(at least )?[-+]?[\d:]+(\.\d+)?/.exec(walk.currentNode.data);
      if (!found) continue;
      const range = document.createRange();
      const end = found[0].indexOf('.') < 0 ? found[0].length : found[0].indexOf('.');
      range.setStart(walk.currentNode, end - 1);
      range.setEnd(walk.currentNode, end);
      const key = [...cell.parentElement.cells].slice(0, cell.cellIndex).reduce((sum, one) => sum + one.colSpan, 0);
      if (cell.colSpan == 1 && !cell.querySelector('.gap')) columns.set(key, [...(columns.get(key) || []), range.getBoundingClientRect().right]);
      break;
    }
  }
  return [...columns].filter(([, at]) => Math.max(...at) - Math.min(...at) > 1)
    .map(([column]) => `${table.className}, column ${column}: ${table.textContent.trim().replace(/\s+/g, ' ').slice(0, 60)}`);
})";

/// Opens pages at a width with everything unfolded; every page with something wrong, and what.
pub fn wrong(chrome: &mut Chrome, pages: &[Page], width: u32, scripts: &[&str]) -> Vec<String> {
    chrome.window(width, false);
    let mut all = Vec::new();
    for (name, at) in put(chrome, pages) {
        chrome.open(&at);
        chrome.value(UNFOLD);
        for script in scripts {
            for said in chrome.value(script).as_array().unwrap() {
                all.push(format!("{name} at {width} px: {}", said.as_str().unwrap()));
            }
        }
        let deeds = chrome.deeds();
        if deeds != Deeds::default() {
            all.push(format!("{name} at {width} px: {deeds:?}"));
        }
    }
    all
}

#[test]
fn every_page_stands_on_a_phone() {
    if !asked() {
        return;
    }
    let found = wrong(&mut Chrome::new("phone"), &demo(), 360, &[LAYOUT]);
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn a_page_of_every_template_stands_at_every_width() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("widths");
    let pages = one_of_each();
    let mut found = wrong(&mut chrome, &pages, 360, &[LAYOUT]);
    for width in [768, 1280] {
        found.extend(wrong(&mut chrome, &pages, width, &[LAYOUT, HEADS, POINTS]));
    }
    assert!(found.is_empty(), "{found:#?}");
}

/// Titles, reasons and remarks of forty letters without a blank break where they must.
#[test]
fn long_words_stand_on_a_phone() {
    if !asked() {
        return;
    }
    let words = "A title, thewordofthisshopthathasmorethanfortyletters and-a-name-that-goes-on-and-on-and-on-for-ever";
    let pages = of_files(&payloads::typed(&payloads::demo(), words).0);
    let found = wrong(&mut Chrome::new("long"), &pages, 360, &[LAYOUT]);
    assert!(found.is_empty(), "{found:#?}");
}

/// The probes themselves see what they are there to see.
#[test]
fn a_fault_of_layout_is_noticed() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("probes");
    chrome.window(360, false);
    let svg = |texts: &str| format!("<svg viewBox='0 0 100 50' width=300><title>t</title>{texts}</svg>");
    let column = |cells: [&str; 2]| {
        let cells = cells.map(|cell| format!("<tr><td class=num style='text-align: right'>{cell}</td></tr>"));
        format!("<table class=points>{}</table>", cells.concat())
    };
    for (html, said) in [
        ("<p style='width: 400px'>x</p>".to_owned(), "the page is"),
        (
            "<p style='width: 50px; overflow: hidden; white-space: nowrap'>words and words</p>".to_owned(),
            "cut: P",
        ),
        (svg("<text x=90 y=20>leaves</text>"), "t: leaves leaves its paper"),
        (svg("<text x=10 y=20>one</text><text x=12 y=22>two</text>"), "t: one lies on two"),
        (svg("<text x=10 y=20 style='font-size: 3px'>small</text>"), "t: small is"),
        (column(["1.25", "12"]), "points, column 0"),
        (column(["1.2", "12.3"]) + &svg("<text x=10 y=20>well</text>"), ""),
    ] {
        let at = chrome.folder.join("probe.html");
        std::fs::write(&at, format!("<!doctype html><title>x</title><body style='margin: 0'>{html}</body>"))
            .unwrap();
        chrome.open(&at);
        let found: Vec<String> = [LAYOUT, POINTS]
            .iter()
            .flat_map(|script| chrome.value(script).as_array().unwrap().clone())
            .map(|one| one.as_str().unwrap().to_owned())
            .collect();
        match said {
            "" => assert!(found.is_empty(), "{html}: {found:?}"),
            said => assert!(found.iter().any(|one| one.starts_with(said)), "{html}: {found:?}"),
        }
    }
}
