//! The foot of a page: the page's own fingerprint everywhere, the book's and its commit on the first page only.

use super::html::{read, words};
use super::{Demo, page, pages, text};
use stringline::source::{Files, LoadTrouble, Memory, World};

fn print(html: &str) -> String {
    let words = words(&read(html));
    let after = words.split("Page fingerprint ").nth(1).expect("a fingerprint");
    after.chars().take(17).collect()
}

const BOOK: &str =
    "car a \"A\"\ncar b \"B\"\n2026-05-01 a\n  set wing-angle 5 deg\n2026-05-01 b\n  set wing-angle 5 deg\n";

#[test]
fn a_page_changes_only_when_its_content_does() {
    let before = pages(&text(BOOK));
    // Another car's line, even one with an error, and a later date for the whole book.
    let more = format!("{BOOK}2026-06-07 b\n  set wing-angle 6 deg\n  set wing-angle 7\n");
    let after = pages(&text(&more));
    let (old, new) = (page(&before, "a-2026.html"), page(&after, "a-2026.html"));
    assert_eq!(old, new);
    for name in ["index.html", "b-2026.html"] {
        assert_ne!(print(&page(&before, name).html), print(&page(&after, name).html), "{name}");
    }
    let prints: std::collections::BTreeSet<_> = before.iter().map(|page| print(&page.html)).collect();
    assert_eq!(prints.len(), before.len(), "no two pages alike");
}

struct Committed(Memory);

impl World for Committed {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        self.0.load()
    }

    fn now(&self) -> jiff::Timestamp {
        self.0.now()
    }

    fn commit(&self) -> Option<String> {
        Some("0123456789abcdef0123456789abcdef01234567".to_owned())
    }
}

#[test]
fn the_book_as_a_whole_stands_on_the_first_page_only() {
    let world = Committed(Memory::new(&[("book.sline", BOOK)], Demo.now()));
    for page in pages(&stringline::compile(&world).unwrap()) {
        let first = page.name == "index.html";
        for whole in ["commit 0123456789abcdef", "Book fingerprint", "The whole book has"] {
            assert_eq!(words(&read(&page.html)).contains(whole), first, "{}: {whole}", page.name);
        }
    }
    let without = pages(&text(BOOK));
    assert!(!page(&without, "index.html").html.contains("version control"));
}
