//! What `altered` says of pages that were handed out: which of them would read otherwise now, and why, where that can be told.
//!
//! Must not know how a page is made again.

use crate::Compiled;
use crate::answer::altered::Alterations;
use crate::answer::{self, LedgerLine};
use crate::book::handed::{HandedFacts, HandedPage};
use crate::book::model::ClientId;
use crate::report::{HandedOut, NoPage, Reads, Unmade, handed_out};
use crate::words::count;
use serde::Serialize;
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// All pages that were handed out.
#[derive(Debug, Serialize)]
pub(super) struct HandedPages {
    /// How many there are.
    pub handed_out: usize,
    /// Those that would read otherwise.
    pub handed_otherwise: Vec<Handed>,
}

/// A page that was handed out and would read otherwise now.
#[derive(Debug, Serialize)]
pub(super) struct Handed {
    /// The day of its line's head.
    date: String,
    /// The page, as its line says it; null where that has a mistake.
    page: Option<String>,
    /// The car it is about; null of a letter.
    car: Option<String>,
    /// To whom; null where its line has a mistake.
    client: Option<String>,
    /// Its fingerprint then; null where its line has a mistake.
    print_then: Option<String>,
    /// Its fingerprint now; null where it cannot be made any more.
    print_now: Option<String>,
    /// Why it cannot be made any more; null where it can.
    why: Option<String>,
    /// Its line; null for a client, in whose book it does not stand.
    line: Option<LedgerLine>,
    /// Of what is told otherwise of its car, since the state that was asked about: lines that are no more.
    lines_then: Vec<LedgerLine>,
    /// Likewise lines that are new.
    lines_now: Vec<LedgerLine>,
}

/// Lays every page that was handed out beside what it would be now; of a reader's, those that went to him.
pub(super) fn pages(whole: &Compiled, reader: Option<ClientId>, since: Option<&Alterations>) -> HandedPages {
    let all = handed_out(whole, |facts| reader.is_none_or(|reader| facts.client == reader));
    // Whose a line with a mistake is nobody knows.
    let all: Vec<HandedOut> =
        all.into_iter().filter(|page| reader.is_none() || page.facts.is_some()).collect();
    let otherwise = all.iter().filter(|page| page.reads != Reads::Alike);
    HandedPages {
        handed_out: all.len(),
        handed_otherwise: otherwise.map(|page| handed(whole, page, reader, since)).collect(),
    }
}

fn handed(
    whole: &Compiled,
    page: &HandedOut,
    reader: Option<ClientId>,
    since: Option<&Alterations>,
) -> Handed {
    let book = &whole.book;
    let client = page.facts.map(|facts| facts.client).and_then(|client| book.clients.get(client));
    let car = page.car.and_then(|car| book.cars.get(car)).map(|car| car.named.typed.to_string());
    let entry = book.entries.get(page.line).filter(|_| reader.is_none());
    let (lines_then, lines_now) = lines(whole, page, car.as_deref(), since);
    Handed {
        date: page.date.to_string(),
        page: page.facts.as_ref().map(|facts| called(whole, facts)),
        client: client.map(|client| client.named.typed.to_string()),
        print_then: page.facts.map(|facts| facts.print.words()),
        print_now: match page.reads {
            Reads::Otherwise(print) => Some(print.words()),
            Reads::Alike | Reads::NotMade(_) => None,
        },
        why: match page.reads {
            Reads::NotMade(why) => {
                Some(sentence(why, car.as_deref(), client.map(|client| &*client.named.typed)))
            }
            Reads::Alike | Reads::Otherwise(_) => None,
        },
        car,
        line: entry.map(|entry| answer::line(whole, entry.span())),
        lines_then,
        lines_now,
    }
}

/// "setup-sheet at pell-2".
fn called(whole: &Compiled, facts: &HandedFacts) -> String {
    let event = facts.event.and_then(|event| whole.book.events.get(event));
    let event = event.map_or_else(String::new, |event| format!(" at {}", event.named.typed));
    let year = facts.year.map_or_else(String::new, |year| format!(" {year}"));
    format!("{}{year}{event}", facts.page.word())
}

/// Lines that made something of the page's car told otherwise; of a letter, of any of his cars or of himself.
fn lines(
    whole: &Compiled,
    page: &HandedOut,
    car: Option<&str>,
    since: Option<&Alterations>,
) -> (Vec<LedgerLine>, Vec<LedgerLine>) {
    let (book, parts) = (&whole.book, &whole.history.parts);
    let Some(facts) = page.facts else { return Default::default() };
    let rank = whole.history.order.rank.get(page.line).copied();
    let his = || {
        let his = book
            .cars
            .iter_enumerated()
            .filter(|(car, _)| rank.is_some_and(|rank| parts.owner(book, *car, rank) == Some(facts.client)));
        let client = book.clients.get(facts.client).map(|client| &*client.named.typed);
        his.map(|(_, car)| &*car.named.typed).chain(client).collect::<Vec<&str>>()
    };
    let about: Vec<&str> = if facts.page == HandedPage::Letter { his() } else { car.into_iter().collect() };
    let told = since.into_iter().flat_map(|all| &all.facts).filter(|fact| about.contains(&fact.of.as_str()));
    let (mut then, mut now) = (BTreeSet::new(), BTreeSet::new());
    for fact in told {
        then.extend(fact.lines_then.iter().cloned());
        now.extend(fact.lines_now.iter().cloned());
    }
    (then.into_iter().collect(), now.into_iter().collect())
}

/// Why a page cannot be made any more.
fn sentence(why: Unmade, car: Option<&str>, client: Option<&str>) -> String {
    let car = car.unwrap_or("the car");
    match why {
        Unmade::Broken => "its line has a mistake, which `check` tells".to_owned(),
        Unmade::NotHis => {
            format!("{car} was not {}'s by then, as the book now stands", client.unwrap_or("that client"))
        }
        Unmade::None(NoPage::NotThere) => {
            format!("{car} ran no session there, and the event does not lie ahead of it")
        }
        Unmade::None(NoPage::NoCylinder) => format!("no line reads the cylinders of {car} any more"),
        Unmade::None(NoPage::NoHit) => format!("no line says any more that {car} was hit there"),
        Unmade::None(NoPage::NoEvent) => format!("{car} goes to no event"),
        Unmade::None(NoPage::NoLine) => "the book has nothing left that it would tell".to_owned(),
        Unmade::None(NoPage::ShopsOwn) => "it is the shop's own page".to_owned(),
    }
}

/// The section; of a state that was asked about, below what differs.
pub(super) fn text(pages: &HandedPages, below: bool) -> String {
    let mut out = String::new();
    if pages.handed_out == 0 {
        return if below { out } else { "No page is registered as handed out.\n".to_owned() };
    }
    out.push_str(if below { "\n" } else { "" });
    let all = count(pages.handed_out, "page was", "pages were");
    let _ = match pages.handed_otherwise.len() {
        0 => writeln!(out, "Pages handed out\n  {all} handed out, and would read now as then."),
        otherwise => writeln!(
            out,
            "Pages handed out\n  {all} handed out, of which {otherwise} would read otherwise now:"
        ),
    };
    for page in &pages.handed_otherwise {
        let what = page.page.as_deref().unwrap_or("a page");
        let car = page.car.as_ref().map_or_else(String::new, |car| format!(" of {car}"));
        let to = page.client.as_ref().map_or_else(String::new, |client| format!(" to {client}"));
        let line = page.line.as_ref().map_or_else(String::new, |line| format!("  ({line})"));
        let _ = writeln!(out, "  {} {what}{car}{to}{line}", page.date);
        if let Some(why) = &page.why {
            let _ = writeln!(out, "      cannot be made any more: {why}");
        }
        for (lines, word) in [(&page.lines_then, "no more"), (&page.lines_now, "new")] {
            if !lines.is_empty() {
                let lines: Vec<String> = lines.iter().map(LedgerLine::to_string).collect();
                let _ = writeln!(out, "      {word}: {}", lines.join(", "));
            }
        }
    }
    out
}
