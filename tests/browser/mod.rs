//! The pages in a real browser: Chromium, headless, from Debian's package.
//!
//! Left out unless `STRINGLINE_BROWSER` is set (`./tests/run` sets it); plain `cargo test` says so on stderr.

use crate::demo::DEMO;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

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

fn chromium(folder: &Path, arguments: &[&str]) -> Vec<u8> {
    let profile = format!("--user-data-dir={}", folder.join("profile").display());
    let output = Command::new("chromium")
        .args(["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"])
        .args([
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--hide-scrollbars",
        ])
        .arg(profile)
        .args(arguments)
        .output()
        .expect("chromium is installed (Debian: apt-get install chromium)");
    output.stdout
}

fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("stringline-browser-{}-{name}", std::process::id()));
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// Opens every page of the demo in a frame of that width, with everything unfolded, and has each answer with the numbers of
/// `script` (an expression of a list). The pages have no script: this one is added to a copy.
fn answers(name: &str, width: u32, script: &str) -> Vec<(String, Vec<f64>)> {
    let folder = folder(name);
    let pages = stringline::report::render(&DEMO, stringline::report::Options::default()).unwrap();
    // One page holds frames of all the others, so that the browser starts once.
    let mut frames = String::from(
        "<!doctype html><meta charset=\"utf-8\"><title>frames</title><pre id=\"said\"></pre>\
         <script>onmessage = (event) => { said.textContent += event.data.join(' ') + '\\n'; };</script>",
    );
    for (index, page) in pages.iter().enumerate() {
        let measure = format!(
            "<script>for (const one of document.querySelectorAll('details')) one.open = true;\
             parent.postMessage([{index}, ...({script})], '*')</script></body>"
        );
        let html = page.html.replace("</body>", &measure);
        assert!(html.contains("postMessage"), "{}", page.name);
        std::fs::write(folder.join(&page.name), html).unwrap();
        let frame = format!(
            "<iframe src=\"{}\" width=\"{width}\" height=\"800\" style=\"border:0\"></iframe>",
            page.name
        );
        frames.push_str(&frame);
    }
    let at = folder.join("frames.html");
    std::fs::write(&at, frames).unwrap();
    let url = format!("file://{}", at.display());
    let dom = chromium(&folder, &["--virtual-time-budget=20000", "--dump-dom", &url]);
    let dom = String::from_utf8_lossy(&dom).into_owned();
    std::fs::remove_dir_all(&folder).unwrap();
    let said = dom
        .split("<pre id=\"said\">")
        .nth(1)
        .and_then(|rest| rest.split("</pre>").next())
        .unwrap_or_default();
    let mut all = Vec::new();
    for line in said.lines().filter(|line| !line.is_empty()) {
        let mut numbers: Vec<f64> = line.split(' ').map(|number| number.parse().unwrap()).collect();
        let page = numbers.remove(0) as usize;
        all.push((pages[page].name.clone(), numbers));
    }
    assert_eq!(all.len(), pages.len(), "not every page answered: {said:?}");
    all
}

/// At 360 px no page scrolls sideways, no drawing's words are below 11 px, and none asks the network for anything.
#[test]
fn no_page_is_wider_than_a_phone() {
    if !asked() {
        return;
    }
    let script = "[document.documentElement.scrollWidth, performance.getEntriesByType('resource').length, \
                  Math.min(99, ...[...document.querySelectorAll('svg text')].map((text) => { \
                    const svg = text.ownerSVGElement; \
                    return svg.getBoundingClientRect().width / svg.viewBox.baseVal.width * parseFloat(getComputedStyle(text).fontSize); \
                  }))]";
    let wrong: Vec<_> = answers("phone", 360, script)
        .into_iter()
        .filter(|(_, said)| said[0] > 360.0 || said[1] > 0.0 || said[2] < 11.0)
        .collect();
    assert!(wrong.is_empty(), "page, [width, requests, smallest words of a drawing]: {wrong:#?}");
}

/// On a desk and on paper a table is a table: every cell of a head stands over its column.
#[test]
fn heads_stand_over_their_columns() {
    if !asked() {
        return;
    }
    let script = "[[...document.querySelectorAll('table')].filter((table) => { \
                    const head = table.tHead && table.tHead.rows[0]; \
                    const row = head && [...table.tBodies].flatMap((body) => [...body.rows]) \
                      .find((row) => row.cells.length == head.cells.length && ![...row.cells].some((cell) => cell.colSpan > 1)); \
                    return row && [...head.cells].some((cell, at) => \
                      Math.abs(cell.getBoundingClientRect().right - row.cells[at].getBoundingClientRect().right) > 1); \
                  }).length]";
    let wrong: Vec<_> = answers("desk", 1000, script).into_iter().filter(|(_, said)| said[0] > 0.0).collect();
    assert!(wrong.is_empty(), "page, [tables whose head is off]: {wrong:#?}");
}

/// Every kind of page prints: a PDF with at least one page of A4.
#[test]
fn a_page_of_every_kind_prints() {
    if !asked() {
        return;
    }
    let folder = folder("print");
    let pages = stringline::report::render(&DEMO, stringline::report::Options::default()).unwrap();
    for name in ["index.html", "bittern-2026.html", "bittern-quern-1-ardwell-1.html", "bench.html"] {
        let page = pages.iter().find(|page| page.name == name).unwrap_or_else(|| panic!("no {name}"));
        let at = folder.join(&page.name);
        std::fs::write(&at, &page.html).unwrap();
        let pdf = folder.join("page.pdf");
        let _ = std::fs::remove_file(&pdf);
        chromium(
            &folder,
            &[
                "--no-pdf-header-footer",
                &format!("--print-to-pdf={}", pdf.display()),
                &format!("file://{}", at.display()),
            ],
        );
        let bytes = std::fs::read(&pdf).unwrap_or_default();
        assert!(bytes.starts_with(b"%PDF") && bytes.len() > 5000, "{name}: {} bytes", bytes.len());
    }
    std::fs::remove_dir_all(&folder).unwrap();
}
