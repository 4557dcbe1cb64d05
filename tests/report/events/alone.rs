//! `stringline sheet` and `stringline load`: one page to the screen or into a file.

use super::super::command::{ends, folder};
use super::super::html::{attribute, read};
use stringline::command::{output::Output, run};

const BOOK: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/ledgers/2026");

fn said(arguments: &[&str]) -> (String, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let arguments = std::iter::once(&"stringline").chain(arguments).map(std::ffi::OsString::from);
    let now = Some("2026-12-01T12:00:00Z".parse().unwrap());
    let mut output =
        Output { out: &mut out, err: &mut err, color: false, terminal: false, quiet: false, width: 100, now };
    let code = run(arguments, &mut output);
    (format!("{code:?}"), String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

#[test]
fn a_page_goes_out_alone_and_links_to_nothing_beside_it() {
    for (arguments, title) in [
        (vec!["sheet", BOOK, "bittern"], "setup for quern-27"),
        (vec!["sheet", BOOK, "bittern", "quern-1"], "setup for quern-1"),
        (vec!["sheet", BOOK, "plover"], "setup for quern-2"),
        (vec!["sheet", BOOK, "curlew", "--now"], "hatchback: now"),
        (vec!["sheet", BOOK, "bittern", "--now", "--said", "push, entry"], "sports-racer: now"),
        (vec!["sheet", BOOK, "bittern", "--crash"], "RF hit at barrows-1"),
        (vec!["sheet", BOOK, "bittern", "barrows-1", "--crash"], "RF hit at barrows-1"),
        (vec!["sheet", BOOK, "bittern", "--align"], "sports-racer: on the flat"),
        (vec!["sheet", BOOK, "bittern", "quern-1", "--card"], "card for quern-1"),
        (vec!["sheet", BOOK, "bittern", "--spare"], "sports-racer: if it breaks"),
        (vec!["sheet", BOOK, "curlew", "--power"], "hatchback: power and fuel"),
        (vec!["sheet", BOOK, "curlew", "--engine"], "hatchback: engine check"),
        (vec!["load", BOOK, "--ran"], "ardwell-2: what happened"),
        (vec!["load", BOOK, "quern-1", "--ran"], "quern-1: what happened"),
        (vec!["load", BOOK, "--lacks"], "What the book still lacks"),
        (vec!["load", BOOK], "What to load for quern-27"),
        (vec!["load", BOOK, "barrows-1"], "What to load for barrows-1"),
    ] {
        let (code, html, message) = said(&arguments);
        assert_eq!((code, message.as_str()), (ends(0), ""), "{arguments:?}");
        assert!(html.starts_with("<!doctype html>") && html.ends_with("</html>"), "{arguments:?}");
        assert!(html.contains(&format!("{title}</title>")), "{arguments:?}: {title}");
        let pieces = read(&html);
        let away: Vec<_> =
            attribute(&pieces, "href").into_iter().filter(|(_, href)| !href.starts_with('#')).collect();
        assert!(away.is_empty(), "{arguments:?}: {away:?}");
    }
}

#[test]
fn it_goes_into_a_file_or_out_as_data() {
    let (folder, _) = folder("alone", "car a \"A\"\n");
    let file = folder.join("sheet.html");
    let path = file.display().to_string();
    let (code, out, _) = said(&["sheet", BOOK, "teal", "slatehead-1", "--out", &path]);
    assert_eq!((code, out.as_str()), (ends(0), ""));
    assert!(std::fs::read_to_string(&file).unwrap().contains("setup for slatehead-1"));
    let (_, json, _) = said(&["sheet", BOOK, "teal", "slatehead-1", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["plan"]["front"]["rows"][0]["left"]["value"]["text"], "-2.0");
    let own = folder.join("own");
    std::fs::create_dir_all(&own).unwrap();
    std::fs::write(own.join("sheet.html"), "our own {{ event }}").unwrap();
    let (_, html, _) =
        said(&["sheet", BOOK, "teal", "slatehead-1", "--templates", &own.display().to_string()]);
    assert_eq!(html, "our own slatehead-1");
}

#[test]
fn what_cannot_be_had_is_said() {
    for (arguments, wanted) in [
        (vec!["sheet"], "sheet wants a car"),
        (vec!["sheet", BOOK, "teel"], "did you mean `teal`?"),
        (vec!["sheet", BOOK, "teal", "ardwell-1"], "teal ran no session at ardwell-1"),
        (vec!["sheet", BOOK, "teal", "quern"], "`quern` is a circuit, not an event"),
        (vec!["sheet", BOOK, "teal", "--crash"], "no line that teal was hit"),
        (vec!["sheet", BOOK, "teal", "quern-1", "--now"], "--now is of the book's end"),
        (vec!["sheet", BOOK, "teal", "quern-1", "--spare"], "--spare is of the book's end"),
        (vec!["sheet", BOOK, "teal", "quern-1", "--engine"], "--engine is of the book's end"),
        (vec!["sheet", BOOK, "teal", "--spare", "--power"], "cannot be used with"),
        (vec!["sheet", BOOK, "teal", "--spare", "--for", "n-aldous"], "--spare tells of other cars"),
        (vec!["load", BOOK, "quern-27", "--ran"], "no car of the book ran at quern-27"),
        (vec!["sheet", BOOK, "bittern", "quern-1", "--crash"], "no line that bittern was hit at quern-1"),
        (vec!["sheet", BOOK, "teal", "--for", "varga"], "not a car of the client"),
        (vec!["load", BOOK, "quern-9"], "no event is called `quern-9`"),
        (vec!["sheet", BOOK, "teal", "--out", "/no/such/folder/x.html"], "cannot write"),
    ] {
        let (code, _, message) = said(&arguments);
        assert_eq!(code, ends(2), "{arguments:?}");
        assert!(message.contains(wanted), "{arguments:?}: {message}");
    }
}
