//! Pages of a reader, registered as handed out under a head of the book's last day: with nothing changed each reads as it did.

use super::book::{Knobs, Written};
use super::holds::{Broken, compiled};
use super::hunt::{books, hunt};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::audience::{self, Reader};
use stringline::book::model::ClientId;
use stringline::report::{Options, Own, Reads, Report, handed_out};

/// The lines at the feet of a reader's pages, each with the car of the page.
fn lines(whole: &Compiled, client: ClientId) -> Vec<(Option<String>, String)> {
    let cut = audience::cut(whole, &Reader::Client(client));
    let own = Own::new();
    let report = Report::new(&cut, Options { client: Some(client), ..Options::default() }, &own);
    let named = |car| cut.book.cars.get(car).unwrap().named.typed.to_string();
    let cars: BTreeMap<String, Option<String>> =
        report.pages().map(|(file, car, _)| (file.to_owned(), car.map(named))).collect();
    let mut lines = Vec::new();
    report.stream(&mut |page| {
        let page = page.unwrap();
        if let Some((_, rest)) = page.html.split_once("<code>handed ") {
            let line = rest.split_once("</code>").unwrap().0;
            lines.push((cars[&page.name].clone(), format!("handed {line}")));
        }
    });
    lines
}

/// The book with those lines under heads of its last day, in a ledger of their own.
fn registered(
    whole: &Compiled,
    files: &[(String, String)],
    lines: &[(Option<String>, String)],
) -> Vec<(String, String)> {
    let last = whole.book.heads.iter().filter(|head| head.is_dated()).map(|head| head.date).max().unwrap();
    let mut text = String::new();
    for (car, line) in lines {
        writeln!(text, "\n{last} {}\n  {line}", car.as_deref().unwrap_or_default()).unwrap();
    }
    files.iter().cloned().chain([("zz-handed.sline".to_owned(), text)]).collect()
}

fn reads_as_it_did(book: &Written, seed: u64) -> Option<Broken> {
    let files = book.files();
    let whole = compiled(&files);
    let client = ClientId::from(seed as usize % whole.book.clients.len());
    let lines = lines(&whole, client);
    let again = compiled(&registered(&whole, &files, &lines));
    let broken = |section: String, shows: String| {
        Some(Broken { property: "a page registered reads as it did", section, shows })
    };
    let ours = |line| {
        let entry = again.book.entries.get(line).unwrap();
        again.files.path(entry.file) == "zz-handed.sline"
    };
    let all: Vec<_> = handed_out(&again, |facts| facts.client == client)
        .into_iter()
        .filter(|page| ours(page.line))
        .collect();
    if all.len() != lines.len() {
        return broken("count".to_owned(), format!("{} of {}", all.len(), lines.len()));
    }
    let other = all.iter().find(|page| page.reads != Reads::Alike)?;
    let entry = again.book.entries.get(other.line).unwrap();
    broken(again.files.text(entry.span()).to_owned(), format!("{:?}", other.reads))
}

#[test]
fn a_registered_page_reads_as_it_did() {
    for resale in [false, true] {
        let knobs = Knobs { resale, ..Knobs::default() };
        hunt(books(2, 200), 700, knobs, reads_as_it_did);
    }
}
