//! Pages handed out: the line at a page's foot registers it, and `altered` lists the page where it would read otherwise, and then alone.

use super::said_on;
use std::fs;

const NOW: &str = "2025-12-01T12:00:00Z";

const SHOP: &str = "client ames \"Ames\"\nclient orr \"Orr\"\n\
car wren \"Wren\"  client ames\n  motion-ratio 1 1\n  track 1500 1500 mm\ncar plover \"Plover\"  client orr\n\
circuit pell \"Pell\"  length 2 km\nevent pell-1 2025-04-12 at pell \"April\"\nevent pell-2 2025-06-14 at pell \"June\"\n\
event pell-3 2025-09-13 at pell \"September\"\n\
kind spring \"spring\"  fits LF RF LR RR on wren  gives spring-rate\n\
part k1 spring  tag spring-rate 70 N/mm\npart k2 spring  tag spring-rate 70 N/mm\n\n\
2025-04-10\n  bench k2 spring-rate 70.5 N/mm  for client\n\n\
2025-04-12 wren at pell-1\n  fit k1 LF\n  fit k2 RF\n  set camber LF -2.0 RF -2.1 deg\n  10:00..10:20 run s1  5 laps  best 1:10.2\n\n\
2025-06-14 wren at pell-2\n  10:00..10:20 run s1  5 laps  best 1:09.8\n  cost 100.00 EUR parts \"hose\"\n\n\
2025-06-15 plover\n  set camber LF -2 deg\n";

/// What comes after the pages have gone out, in the season as it goes on.
const LATER: &str = "\n2025-09-13 wren at pell-3\n  09:00 set camber LF -2.4 RF -2.4 deg  because more\n  10:00..10:20 run s1  6 laps  best 1:08.9\n  cost 60.00 EUR entry\n";

/// A book of one file in a folder.
fn folder(text: &str) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("book.sline"), text).unwrap();
    home
}

fn said(words: &[&str]) -> String {
    let said = said_on(words, 200, NOW);
    assert!(said.code != "2", "{words:?} {}", said.err);
    said.out
}

/// The line at the foot of a page.
fn line_of(page: &str) -> String {
    let (_, rest) = page.split_once("<code>handed ").unwrap_or_else(|| panic!("no line at the foot: {page}"));
    format!("handed {}", rest.split_once("</code>").unwrap().0)
}

/// The lines of the pages that go to Ames.
fn lines(book: &str) -> Vec<String> {
    let home = folder(book);
    let (book, out) = (home.path().to_str().unwrap(), home.path().join("out"));
    said(&["report", book, "--for", "ames", "--out", out.to_str().unwrap()]);
    let page = |name: &str| line_of(&fs::read_to_string(out.join(name)).unwrap());
    let sheet = said(&["sheet", book, "wren", "pell-1", "--for", "ames"]);
    vec![page("letter-ames.html"), page("wren-2025.html"), page("wren-now.html"), line_of(&sheet)]
}

/// The book with those pages registered on the day that they went out.
fn registered(book: &str) -> String {
    let lines = lines(book).join("\n  ");
    format!("{book}\n2025-06-16 wren\n  {lines}\n")
}

fn altered(book: &str, more: &[&str]) -> String {
    let home = folder(book);
    said(&[["altered", home.path().to_str().unwrap()].as_slice(), more].concat())
}

const ALIKE: &str = "Pages handed out\n  4 pages were handed out, and would read now as then.\n";

#[test]
fn a_page_alone_and_among_all_has_one_fingerprint() {
    let home = folder(SHOP);
    let (book, out) = (home.path().to_str().unwrap(), home.path().join("out"));
    said(&["report", book, "--for", "ames", "--out", out.to_str().unwrap()]);
    let sheet = fs::read_to_string(out.join("wren-pell-1-sheet.html")).unwrap();
    assert_eq!(line_of(&sheet), line_of(&said(&["sheet", book, "wren", "pell-1", "--for", "ames"])));
    assert!(line_of(&sheet).starts_with("handed setup-sheet at pell-1 to ames "), "{}", line_of(&sheet));
    // What is the shop's own goes nowhere.
    assert!(!said(&["sheet", book, "wren", "pell-1"]).contains("<code>handed"));
}

#[test]
fn what_says_nothing_of_a_page_lists_none() {
    assert_eq!(altered(SHOP, &[]), "No page is registered as handed out.\n");
    let book = registered(SHOP);
    assert_eq!(altered(&book, &[]), ALIKE);
    let none = [
        // A comment, blank lines: every line number is another.
        format!("# One more line.\n\n{book}"),
        // Another car, a client who has nothing to do with it, and the season going on.
        format!("{book}\n2025-05-01 plover\n  set camber RF -3 deg\n"),
        format!("{book}{LATER}"),
        // The page is given out once more on another day.
        format!("{book}\n2025-06-20 wren\n  handed now to ames 4f3a-91c2-07b1\n")
            .replace("4f3a-91c2-07b1", &print_of(&book, "now")),
    ];
    for other in none {
        assert!(
            altered(&other, &[]).ends_with("pages were handed out, and would read now as then.\n"),
            "{other}"
        );
    }
    assert_eq!(lines(SHOP), lines(&book), "a page that is registered has the fingerprint that it had");
}

fn print_of(book: &str, page: &str) -> String {
    let line = book.lines().find(|line| line.contains(&format!("handed {page} "))).unwrap();
    line.split_whitespace().last().unwrap().to_owned()
}

/// Each correction lists the pages that tell of what it corrects, and no other.
#[test]
fn a_correction_lists_the_page() {
    let book = registered(SHOP);
    let season = "  2025-06-16 season 2025 of wren to ames";
    let sheet = "  2025-06-16 setup-sheet at pell-1 of wren to ames";
    let letter = "  2025-06-16 letter to ames";
    // Where the bench line stands; a bench line of August, of a part benched never before; a number put right in September.
    let bench = book.replace("70.5 N/mm", "71.5 N/mm");
    let august = format!("{book}\n2025-08-20\n  bench k1 spring-rate 72.4 N/mm  for client\n");
    let september = format!("{book}{LATER}")
        .replace("09:00 set", "correct camber RF -2.1 -> -1.2 deg  because misread\n  09:00 set");
    let cost = book.replace("100.00 EUR", "120.00 EUR");
    for (other, listed, not) in [
        (&bench, [season, sheet], letter),
        (&august, [season, sheet], letter),
        (&september, [season, sheet], letter),
        (&cost, [season, letter], sheet),
    ] {
        let told = altered(other, &[]);
        assert!(listed.iter().all(|page| told.contains(page)), "{told}");
        assert!(!told.contains(not), "{told}");
    }
    let then = folder(&book);
    let told = altered(&august, &["--since", then.path().to_str().unwrap()]);
    let at = told.lines().position(|line| line.starts_with(season)).expect(&told);
    assert!(told.lines().nth(at + 1).unwrap().contains("new: book.sline:"), "{told}");
    let json: serde_json::Value = serde_json::from_str(&altered(&cost, &["--format", "json"])).unwrap();
    assert_eq!(json["handed_out"], 4);
    assert_eq!(json["handed_otherwise"][0]["client"], "ames");
    assert_eq!(json["handed_otherwise"][0]["print_then"].as_str().unwrap().len(), 14);
}

#[test]
fn a_page_that_cannot_be_made_any_more_is_a_sentence() {
    let book = registered(SHOP);
    let sold = book.replace("car wren \"Wren\"  client ames", "car wren \"Wren\"  client orr");
    let told = altered(&sold, &[]);
    assert!(
        told.contains("cannot be made any more: wren was not ames's by then, as the book now stands"),
        "{told}"
    );
    let gone = book.replace("event pell-1 2025-04-12 at pell \"April\"\n", "");
    let told = altered(&gone, &[]);
    assert!(told.contains("cannot be made any more: its line has a mistake, which `check` tells"), "{told}");
}

/// Who was handed what is told to him and to nobody else.
#[test]
fn a_client_is_told_of_his_own() {
    let book = registered(SHOP).replace("100.00 EUR", "120.00 EUR");
    assert_eq!(altered(&book, &["--for", "orr"]), "No page is registered as handed out.\n");
    let told = altered(&book, &["--for", "ames"]);
    assert!(told.contains("letter to ames\n") && !told.contains("book.sline"), "{told}");
}

#[test]
fn a_hand_over_is_made_again_as_of_its_day() {
    let sold = format!("{SHOP}\n2025-07-01 wren\n  sell wren to orr\n");
    let home = folder(&sold);
    let page = said(&["handover", home.path().to_str().unwrap(), "wren", "--include", "bench"]);
    let line = line_of(&page);
    assert!(line.starts_with("handed hand-over to orr "), "{line}");
    let book = format!("{sold}\n2025-12-01 wren for orr\n  {line}\n");
    assert_eq!(
        altered(&book, &[]),
        "Pages handed out\n  1 page was handed out, and would read now as then.\n"
    );
    let told = altered(&book.replace("RF -2.1 deg", "RF -1.2 deg"), &[]);
    assert!(told.contains("2025-12-01 hand-over of wren to orr"), "{told}");
}

/// Made for a day that was asked for, and registered under a head of that day.
#[test]
fn a_page_of_a_day_asked_for_is_registered_under_it() {
    let home = folder(&format!("{SHOP}{LATER}"));
    let page = said(&[
        "sheet",
        home.path().to_str().unwrap(),
        "wren",
        "--now",
        "--for",
        "ames",
        "--at",
        "2025-05-20",
    ]);
    let book = format!("{SHOP}{LATER}\n2025-05-20 wren\n  {}\n", line_of(&page));
    assert_eq!(
        altered(&book, &[]),
        "Pages handed out\n  1 page was handed out, and would read now as then.\n"
    );
}

/// A page's sentences name lines too; where those stand is no part of what is answered.
#[test]
fn a_line_more_above_alters_no_page() {
    let book = |more: &str| {
        format!(
            "client orr \"Orr\"\ncircuit k \"K\"\nevent e-1 2025-05-17 at k  entered heron\ncar heron \"H\" client orr\n{more}\n2025-05-10 heron\n  set camber LF -3.0 deg\n  \
             left camber LF -2.4 deg\n  left weight 150 150 160 160 kg\n2025-05-11 heron\n  set perch LF 1 turn\n2025-05-17 heron at e-1\n  10:00..10:20 run s1  8 laps  best 1:09.0\n"
        )
    };
    let print = |more: &str| {
        let home = tempfile::tempdir().unwrap();
        std::fs::write(home.path().join("a.sline"), book(more)).unwrap();
        let out = home.path().join("out");
        let words = ["report", home.path().to_str().unwrap(), "--for", "orr", "--out", out.to_str().unwrap()];
        assert_eq!(super::said(&words).code, "0", "{}", super::said(&words).err);
        let page = std::fs::read_to_string(out.join("heron-now.html")).unwrap();
        page.split("handed now to orr ").nth(1).unwrap()[..14].to_owned()
    };
    assert_eq!(print(""), print("# one\n\n# two\n\n# three\n"));
}
