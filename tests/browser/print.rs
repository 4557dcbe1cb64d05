//! On paper, A4 and letter: nothing runs off the sheet, no row is cut, every sheet has its number.
//!
//! The sheets are read back by `pdftotext` (poppler-utils).

use super::chrome::Chrome;
use super::{asked, demo, one_of_each, put};
use std::collections::BTreeMap;
use std::process::Command;

/// A word of a sheet, and its right edge in points.
struct Word {
    text: String,
    right: f64,
}

/// A sheet: its width in points and its words.
struct Sheet {
    width: f64,
    words: Vec<Word>,
}

/// Marks the beginning of every row and the end of each of its cells, small enough to move nothing.
const MARK: &str = r"(() => {
  let n = 0;
  const mark = (text) => Object.assign(document.createElement('span'), { textContent: text, style: 'font: 1px monospace; letter-spacing: 0' });
  const shown = (one) => one.checkVisibility();
  for (const row of document.querySelectorAll('tr, .fig > summary, .case, .line, .facts > div, .problems > li, .chart, .broke > h2')) {
    if (!shown(row) || row.closest('thead')) continue;
    n += 1;
    const ends = row.cells ? [...row.cells] : [row];
    ends[0].prepend(mark(`zq${n}z `));
    for (const end of ends) end.append(mark(` zq${n}z`));
  }
  return n;
})()";

fn sheets(pdf: &std::path::Path) -> Vec<Sheet> {
    let output = Command::new("pdftotext")
        .args(["-bbox", pdf.to_str().unwrap(), "-"])
        .output()
        .expect("pdftotext is installed (Debian: apt-get install poppler-utils)");
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let number = |tag: &str, key: &str| -> f64 {
        tag.split(&format!("{key}=\""))
            .nth(1)
            .and_then(|rest| rest.split('"').next())
            .unwrap()
            .parse()
            .unwrap()
    };
    text.split("<page ")
        .skip(1)
        .map(|page| Sheet {
            width: number(page, "width"),
            words: page
                .split("<word ")
                .skip(1)
                .map(|word| Word {
                    right: number(word, "xMax"),
                    text: word.split('>').nth(1).unwrap().split('<').next().unwrap().to_owned(),
                })
                .collect(),
        })
        .collect()
}

#[test]
fn pages_print_on_both_papers_whole_numbered_and_with_no_row_cut() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("print");
    chrome.window(1280, false);
    let mut found: Vec<String> = Vec::new();
    for (name, at) in put(&chrome, &one_of_each()) {
        for (paper, inches) in [("A4", (8.27, 11.69)), ("letter", (8.5, 11.0))] {
            chrome.open(&at);
            let rows = chrome.value(MARK).as_u64().unwrap();
            assert!(rows > 0, "{name} has no row");
            let pdf = chrome.folder.join("page.pdf");
            std::fs::write(&pdf, chrome.pdf(inches)).unwrap();
            let sheets = sheets(&pdf);
            assert!(!sheets.is_empty(), "{name} on {paper} is no PDF");
            let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
            for (at, sheet) in sheets.iter().enumerate() {
                for word in &sheet.words {
                    if word.right > sheet.width - 20.0 {
                        found.push(format!("{name} on {paper}, sheet {}: {} runs off", at + 1, word.text));
                    }
                    if word.text.starts_with("zq") && *seen.entry(&word.text).or_insert(at) != at {
                        found.push(format!(
                            "{name} on {paper}: a row is cut between sheets {at} and {}",
                            at + 1
                        ));
                    }
                }
                let number = format!("{} of {}", at + 1, sheets.len());
                let words: Vec<&str> = sheet.words.iter().map(|word| word.text.as_str()).collect();
                if !words.join(" ").contains(&number) {
                    found.push(format!("{name} on {paper}: sheet {} has no number", at + 1));
                }
            }
            // What is folded away is marked and not printed; something must be.
            assert!(!seen.is_empty(), "{name} on {paper}: no mark was printed");
        }
    }
    found.dedup();
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn the_list_for_the_wall_is_one_sheet_of_either_paper() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("wall");
    let pages = one_of_each();
    let wall: Vec<_> = pages.into_iter().filter(|page| page.template == "due.html").collect();
    let at = &put(&chrome, &wall)[0].1;
    for inches in [(8.27, 11.69), (8.5, 11.0)] {
        chrome.open(at);
        let pdf = chrome.folder.join("wall.pdf");
        std::fs::write(&pdf, chrome.pdf(inches)).unwrap();
        assert_eq!(sheets(&pdf).len(), 1, "on a paper {} inches wide", inches.0);
    }
}

/// Words in letters under so many CSS pixels, with what they stand in. What is drawn is as large as its paper makes it.
const SMALL: &str = r"(least) => {
  const small = new Set();
  for (const one of document.querySelectorAll('details')) one.open = true;
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const one = walk.currentNode.parentElement;
    const text = walk.currentNode.data.trim();
    if (!text || one.closest('.hidden, title, desc, style') || !one.checkVisibility()) continue;
    const svg = one.closest('svg');
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
    const size = parseFloat(getComputedStyle(one).fontSize) * scale;
    // Of no size is what is left out of sight.
    if (size > 0 && size < least)
      small.add(`${size.toFixed(2)} px: ${one.tagName} ${one.getAttribute('class') || ''}: ${text.slice(0, 40)}`);
  }
  return [...small].slice(0, 5);
}";

/// A4 between its margins, and a phone, CSS pixels; 7 pt are 9 1/3 px.
#[test]
fn no_letter_is_under_seven_points_on_paper_nor_nine_pixels_on_a_phone() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("letters");
    let mut found = Vec::new();
    for (name, at) in put(&chrome, &demo()) {
        for (media, width, least) in [("print", 688, 9.3), ("screen", 360, 9.0)] {
            chrome.window(width, false);
            chrome.call("Emulation.setEmulatedMedia", &serde_json::json!({ "media": media }));
            chrome.open(&at);
            let small = chrome.value(&format!("({SMALL})({least})"));
            let small = small.as_array().unwrap().iter().filter_map(|one| one.as_str());
            found.extend(small.map(|said| format!("{name}, {media}: {said}")));
        }
    }
    assert!(found.is_empty(), "{} of them: {:#?}", found.len(), &found[..found.len().min(20)]);
}
