//! A setup sheet is one sheet of paper, A4 and letter: every car of the demo at every event, and a car with too much of everything.

use super::chrome::Chrome;
use super::{asked, demo, put};
use stringline::compile;
use stringline::diagnostics::Severity;
use stringline::report::Options;
use stringline::report::Page;
use stringline::report::render;
use stringline::source::Memory;

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

/// What is set at the event, every number of it one more before the next.
const SETTINGS: [&str; 20] = [
    "camber -3.0 -3.0 -2.0 -2.0 deg",
    "caster 6.2 6.2 2.1 2.1 deg",
    "toe-out LF 0.2 RF 0.2 deg",
    "ride-height 44 44 50 50 mm",
    "spring-rate 70 70 85 85 N/mm",
    "bump 9 9 9 9 click from full-hard",
    "rebound 8 8 8 8 click from full-hard",
    "high-bump 7 7 7 7 click from full-hard",
    "bump-stop-gap 18 18 22 22 mm",
    "tyre-cold 1.45 1.45 1.40 1.40 bar",
    "wing-angle 5 deg",
    "splitter-height 52 mm",
    "gurney 10 mm",
    "brake-bias 58 %",
    "bar-hole front 2",
    "bar-hole rear 3",
    "diff-preload rear 62 N.m",
    "final-drive 37/10",
    "ignition 30 deg",
    "rev-limit 7800 rpm",
];

fn one_more(line: &str) -> String {
    let word = |word: &str| {
        word.parse::<f64>().map_or_else(
            |_| word.to_owned(),
            |n| if word.contains('.') { format!("{:.1}", n + 0.2) } else { format!("{}", n + 1.0) },
        )
    };
    line.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

/// A car with names of forty letters, thirty jobs, a dozen parts with a date or a limit, fifteen rules, twenty changes since
/// it ran, each with a reason, and something in every block.
fn crowded() -> Vec<Page> {
    let long = "a name of forty letters, typed out whole";
    let dashed = "a-name-of-forty-letters-that-goes-on";
    let mut book = format!(
        "shop \"{long}\"\ncircuit c \"{long}\" length 2 km\nevent e 2026-05-02..02 at c \"{long}\"\nevent f 2026-06-06..06 at c \"{long}\"\n\
         kind label \"label\" fits LF RF LR RR front rear valid 5 years from made\nkind limb \"limb\" fits LF RF LR RR front rear life 300 min\n\
         kind rubber \"rubber\" fits all\npart {dashed}-t rubber\nclient k \"{long}\"\ncar a \"{long}\" client k class K\n"
    );
    for n in 0..15 {
        book += &format!("rule r-{n} class K wing-angle max {}.5 deg \"{long}\"\n", n + 10);
    }
    let places = ["LF", "RF", "LR", "RR", "front", "rear"];
    for n in 1..=places.len() {
        book +=
            &format!("part {dashed}-l{n} label made 2024-0{n}\npart {dashed}-m{n} limb opening {n} min\n");
    }
    book += &format!("2026-05-01 a\n  fit {dashed}-t all\n");
    for (n, place) in places.iter().enumerate() {
        book += &format!("  fit {dashed}-l{} {place}\n  fit {dashed}-m{} {place}\n", n + 1, n + 1);
    }
    for n in 0..30 {
        book += &format!("  job j-{n} \"{long}\"\n");
    }
    for line in SETTINGS {
        book += &format!("  set {line}\n");
    }
    book += "  read weight 149.0 151.0 171.0 171.0 kg with driver 78 kg, fuel 20 L, bars off\n  read tread 5.0 5.0 5.0 5.0 mm\n  \
             read pad-thickness 12 12 12 12 mm\n  fill engine-oil 10W-60 5.2 L\n  fill brake-fluid DOT4 0.7 L\n  torque wheel-torque all 85 N.m\n";
    book += "2026-05-02 a at e\n  10:00..10:30 run s1 4 laps best 1:00.20\n  11:00..11:30 run s2 4 laps best 1:00.10\n2026-06-01 a\n";
    for line in SETTINGS {
        book += &format!("  set {}  because {long}\n", one_more(line));
    }
    let world = Memory::new(&[("book.sline", &book)], "2026-06-05T12:00:00Z".parse().unwrap());
    let compiled = compile(&world).unwrap();
    let wrong = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
    let wrong: Vec<_> = wrong.map(|one| (&one.check, &one.message)).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    render(&compiled, Options::default()).unwrap()
}

#[test]
fn every_setup_sheet_fits_one_page_of_both_papers() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("sheet");
    let mut pages = demo();
    pages.extend(crowded().into_iter().filter(|page| page.name == "a-f-sheet.html"));
    pages.retain(|page| page.template == "sheet.html");
    assert!(pages.len() > 20, "the demo has its sheets");
    let full = pages.iter().find(|page| page.name == "a-f-sheet.html").expect("the crowded sheet");
    for block in [
        "Changed since e",
        "Best known at",
        "the quickest of 2 runs",
        "and 11 more",
        "and 26 more",
        "and 6 more",
        "and 2 more",
    ] {
        assert!(full.html.contains(block), "no {block}");
    }
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
