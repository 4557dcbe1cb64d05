//! A copy is the page as it is written, with a strip beside it; the page as it is written has none of that.

use super::{compiled, stand};
use proptest::prelude::*;
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::audience::{self, Reader};
use stringline::board::{Board, SCRIPT_NAME, STYLE_NAME, Stand};
use stringline::book::names::Thing;
use stringline::command::output::At;
use stringline::report::{Options, Own, Report, render};

/// A copy without what a copy has more.
fn without(html: &str) -> String {
    let (before, rest) = html.split_once("<aside id=\"follow\"").unwrap();
    let (_, after) = rest.split_once("</script>\n").unwrap();
    let style = format!("<link rel=\"stylesheet\" href=\"{STYLE_NAME}\">\n");
    assert_eq!(before.matches(&style).count(), 1);
    before.replacen(&style, "", 1) + after
}

/// The demo book once more, whole or as a client may read it.
fn demo(reader: Option<&str>) -> (Compiled, Options) {
    let files = stringline::source::Disk { root: "ledgers/2026".into() };
    let compiled = stringline::compile(&At { world: files, now: Some(crate::checks::now()) }).unwrap();
    let Some(name) = reader else { return (compiled, Options::default()) };
    let Some(Thing::Client(client)) = compiled.book.names.find(name) else { panic!("no client {name}") };
    let options = Options { client: Some(client), ..Options::default() };
    (audience::cut(&compiled, &Reader::Client(client)), options)
}

#[test]
fn every_page_is_handed_out_as_it_is_written() {
    let own = Own::new();
    for reader in [None, Some("varga")] {
        let (compiled, options) = demo(reader);
        let written = render(&compiled, options).unwrap();
        let report = Report::new(&compiled, options, &own);
        assert!(report.page("no-such-page.html").is_none());
        let (again, options) = demo(reader);
        let board = Board::new(Stand { compiled: again, options, own: Own::new() });
        for page in &written {
            assert_eq!(report.page(&page.name).unwrap().unwrap(), *page);
            assert!(!page.html.contains("<script") && !page.html.contains("id=\"follow\""), "{}", page.name);
            let copy = board.copy(&page.name);
            assert!(copy.found && copy.html.contains(&format!("<script src=\"{SCRIPT_NAME}\"></script>")));
            assert_eq!(copy.html.matches("<script").count(), 1);
            assert!(without(&copy.html) == page.html, "{}", page.name);
            // A client is told how many things are wrong, as on his first page, and not which.
            let strip = copy.html.split_once("class=\"said\">").unwrap().1.split_once("</div>").unwrap().0;
            assert_eq!(strip, "<p>10 warnings and 2 notes</p>", "{}", page.name);
        }
    }
}

#[test]
fn the_strip_says_what_is_wrong() {
    let board = Board::new(stand(compiled(
        "car heron \"Heron\"\n2025-05-10 heron\n  set camber LF -3.2\n  say \"fine\"\n",
    )));
    let copy = board.copy("index.html");
    let strip = copy.html.split_once("class=\"said\">").unwrap().1.split_once("</div>").unwrap().0;
    assert!(
        strip.starts_with("<p>a.sline:3:")
            && strip.contains("error[unit-missing]")
            && strip.contains("<p>1 error"),
        "{strip}"
    );
    let mut many = String::from("car heron \"Heron\"\n2025-05-10 heron\n");
    for at in 0..9 {
        let _ = writeln!(many, "  set camber LF -3.{at}");
    }
    let copy = Board::new(stand(compiled(&many))).copy("index.html");
    assert_eq!(copy.html.matches("error[").count(), 3);
    assert!(copy.html.contains("9 errors"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Whatever is typed, and whatever name is asked for: no byte of it is markup in the strip or on the page that says there is none.
    #[test]
    fn nothing_typed_is_markup(junk in "[<>&\"'/a-z =\u{202e}]{0,40}", page in "[<>&\"'a-z]{0,20}") {
        let board = Board::new(stand(compiled(&format!("car heron \"Heron\"\n2025-05-10 heron\n  set camber {junk}<script>x()</script>\n"))));
        for name in ["index.html", &page] {
            let copy = board.copy(name);
            prop_assert_eq!(copy.html.matches("<script").count(), 1);
            prop_assert_eq!(copy.found, name == "index.html");
            prop_assert!(without(&copy.html).contains("</html>"));
        }
    }
}
