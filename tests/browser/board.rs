//! A page that follows the book: one laid over another is the other, and what a person has done to it stays.

use super::asked;
use super::chrome::Chrome;
use crate::board::live::Running;
use crate::checks::now;
use crate::demo::DEMO;
use serde_json::{Value, json};
use stringline::board::{Board, SCRIPT, SCRIPT_NAME, STYLE, STYLE_NAME, Stand};
use stringline::report::{Options, Own, page_templates, render};
use stringline::source::Memory;

/// The demo's ledgers, as texts.
fn texts() -> Vec<(String, String)> {
    DEMO.files.iter().map(|(_, file)| (file.path.clone(), file.text.clone())).collect()
}

fn stand(texts: &[(String, String)]) -> Stand {
    let texts: Vec<(&str, &str)> = texts.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    let compiled = stringline::compile(&Memory::new(&texts, now())).unwrap();
    Stand { compiled, options: Options::default(), own: Own::new() }
}

/// In place of the network: what a test tells is the answer to the page's next question.
const TOLD: &str = "window.fetch = () => new Promise((done) => { window.tell = (html) => done({ status: 200, text: async () => html }); });";

/// Tells the page of its next state; what stands there after that, and what a fresh page of it has, without strip and marks.
fn told(chrome: &mut Chrome, html: &str) -> [Value; 3] {
    let script = format!(
        "(async () => {{ const html = {}; const before = window.tell; before(html);\
         while (window.tell === before) await new Promise((done) => setTimeout(done, 1));\
         const plain = (body) => {{ const all = body.cloneNode(true);\
         for (const node of all.querySelectorAll('#follow, script')) node.remove();\
         for (const node of [all, ...all.querySelectorAll('*')]) {{ node.removeAttribute('data-moved'); node.removeAttribute('open'); }}\
         all.normalize(); while (all.lastChild && !all.lastChild.textContent.trim()) all.lastChild.remove(); return all; }};\
         const next = new DOMParser().parseFromString(html, 'text/html');\
         const same = plain(document.body).isEqualNode(plain(next.body));\
         return [same && document.title === next.title, document.querySelectorAll('[data-moved]').length, document.querySelector('#follow .told').textContent]; }})()",
        json!(html)
    );
    let Value::Array(said) = chrome.value(&script) else { panic!("no list") };
    <[Value; 3]>::try_from(said).unwrap()
}

#[test]
fn a_page_laid_over_another_is_the_other() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("board");
    chrome.window(1280, false);
    chrome.call("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": TOLD }));
    let texts = texts();
    let first = stand(&texts);
    // The first page of each template, one over the other.
    let written = render(&first.compiled, Options::default()).unwrap();
    let of =
        |template: &str| written.iter().find(|page| page.template == template).map(|page| page.name.clone());
    let names: Vec<String> = page_templates().filter_map(of).collect();
    assert!(names.len() > 12);
    let board = Board::new(first);
    let at = chrome.folder.join("index.html");
    std::fs::write(chrome.folder.join(SCRIPT_NAME), SCRIPT).unwrap();
    std::fs::write(chrome.folder.join(STYLE_NAME), STYLE).unwrap();
    std::fs::write(&at, &board.copy("index.html").html).unwrap();
    chrome.open(&at);
    for name in names.iter().chain(names.iter().rev()) {
        let [same, moved, said] = told(&mut chrome, &board.copy(name).html);
        assert_eq!(same, json!(true), "{name}: {moved} {said}");
    }
    // One page while lines of its book go one after the other, and come back.
    let page = "bittern-now.html";
    assert_eq!(told(&mut chrome, &board.copy(page).html)[0], json!(true));
    let bittern = texts.iter().position(|(path, _)| path == "bittern.sline").unwrap();
    let lines: Vec<&str> = texts[bittern].1.lines().collect();
    let late: Vec<usize> = (0..lines.len()).rev().step_by(23).take(9).collect();
    let mut less = texts.clone();
    for leave in 1..=late.len() {
        let kept = lines.iter().enumerate().filter(|(at, _)| !late[..leave].contains(at));
        less[bittern].1 = kept.map(|(_, line)| *line).collect::<Vec<_>>().join("\n") + "\n";
        board.lay(Ok(stand(&less)), None);
        let [same, ..] = told(&mut chrome, &board.copy(page).html);
        assert_eq!(same, json!(true), "without line {}", late[leave - 1] + 1);
    }
    board.lay(Ok(stand(&texts)), None);
    let [same, moved, _] = told(&mut chrome, &board.copy(page).html);
    assert_eq!(same, json!(true));
    assert!(moved.as_u64().unwrap() > 0);
    // The same once more: nothing is marked.
    let [same, moved, said] = told(&mut chrome, &board.copy(page).html);
    assert_eq!((same, moved), (json!(true), json!(0)));
    assert!(said.as_str().unwrap().ends_with(": nothing on this page changed"), "{said}");
    let deeds = chrome.deeds();
    assert!(deeds.said.is_empty() && deeds.dialogs.is_empty(), "{deeds:?}");
}

#[test]
fn a_saved_line_appears_where_somebody_looks() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("board-live");
    chrome.window(360, false);
    let book = chrome.folder.join("book");
    std::fs::create_dir(&book).unwrap();
    for (path, text) in texts() {
        std::fs::write(book.join(path), text).unwrap();
    }
    let mut running = Running::start(&[book.to_str().unwrap()]);
    let page = "bittern-2026.html";
    chrome.visit(&running.address(page));
    // Somebody has opened what is folded, and reads at the end.
    chrome.value("document.querySelectorAll('details').forEach((one) => { one.open = true; }); scrollTo(0, document.body.scrollHeight - 2000); 0");
    let place = chrome.value("[scrollY, document.querySelectorAll('details[open]').length]");
    let ledger = book.join("bittern.sline");
    let text = std::fs::read_to_string(&ledger).unwrap();
    std::fs::write(&ledger, text.clone() + "2026-12-02 bittern\n  say \"the new line stands here\"\n")
        .unwrap();
    let shown = "new Promise((done) => { const look = () => document.body.innerText.includes('the new line stands here') ? done(true) : setTimeout(look, 20); look(); })";
    assert_eq!(chrome.value(shown), json!(true));
    let [marked, strip, place_now] = [
        "[...document.querySelectorAll('[data-moved]')].some((one) => one.textContent.includes('the new line stands here'))",
        "document.querySelector('#follow .told').textContent",
        "[scrollY, document.querySelectorAll('details[open]').length]",
    ]
    .map(|asked| chrome.value(asked));
    assert_eq!(marked, json!(true));
    // What changed is marked, not all around it, nor the small print that names lines.
    assert_eq!(chrome.value("document.querySelectorAll('main[data-moved], section[data-moved], footer [data-moved], .src[data-moved]').length"), json!(0));
    assert!(strip.as_str().unwrap().contains("changed"), "{strip}");
    // The browser keeps what stands in the window where it stands, though lines have come above it.
    assert!(place_now[0].as_f64() >= place[0].as_f64(), "{place} {place_now}");
    assert!(place_now[1].as_u64() >= place[1].as_u64());
    // Nobody else is asked for anything, and no other place may be.
    let elsewhere = chrome.value("fetch('http://127.0.0.1:1/').then(() => 'answered', () => 'refused')");
    assert_eq!(elsewhere, json!("refused"));
    let deeds = chrome.deeds();
    let own = deeds.asked.iter().filter(|url| !url.contains("127.0.0.1:1/"));
    assert!(
        own.clone().count() >= 3 && own.clone().all(|url| url.contains(&running.address(""))),
        "{deeds:?}"
    );
    assert!(deeds.dialogs.is_empty());
    // It is told how long it took until this browser had painted it.
    while !running.line().starts_with("bittern-2026.html shows it, ") {}
}
