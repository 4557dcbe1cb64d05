//! What every page has: title, language, footer; and, on the first page alone, how the whole book stands.
//!
//! Must not know what is between.

use crate::book::model::CarId;
use crate::diagnostics::Severity;
use crate::report::page::print::Print;
use crate::report::teller::{Teller, written_until};
use crate::report::words;
use crate::source::covered::signed;
use serde::Serialize;

/// The frame of a page.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Frame {
    /// For the window and the one `<h1>`.
    pub title: String,
    /// The line under it.
    pub subtitle: String,
    /// The shop.
    pub shop: String,
    /// Whether a line that the page rests on has an error, so that some number may be missing or wrong.
    pub errors: bool,
    /// Whether the first page is written beside it; a page that goes out alone has no link to it.
    pub home: bool,
    /// The file that most of the page's lines are in, which small print need not repeat; empty where there is no such file.
    pub file: String,
    /// A number made from what the page tells, its line numbers, file names, links and footer aside: the same number, the same answer.
    pub print: String,
    /// The ledger line that registers the page as handed out to its reader; empty where it is nobody's, or no page to be handed out.
    pub handed: String,
    /// As of when the page is: of the book's last line, whatever day it is read on, or of a day that was asked for.
    pub stands: String,
    /// How the whole book stands; on the first page only, so that other pages change only when their content does.
    pub whole: Option<Whole>,
}

/// The whole book.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Whole {
    /// "10 files, 1758 lines".
    pub size: String,
    /// A number made from the book's every byte: the same number, the same book.
    pub print: String,
    /// The commit its version control stands at; empty without one.
    pub commit: String,
    /// The last dated line of the book.
    pub until: String,
    /// "2 errors and 5 warnings".
    pub problems: String,
}

/// Frames a page about a car, or about what belongs to none.
pub(in crate::report) fn frame(
    tell: &Teller<'_>,
    title: String,
    subtitle: String,
    car: Option<CarId>,
) -> Frame {
    let shop = &tell.cx.book.shop.title;
    let wrong = |one: (usize, &crate::diagnostics::Diagnostic)| one.1.severity == Severity::Error;
    Frame {
        title,
        subtitle,
        shop: if shop.is_empty() { "The shop".to_owned() } else { shop.clone() },
        errors: tell.messages_of_book().any(wrong) || car.is_some_and(|car| tell.errors_of(car) > 0),
        home: false,
        file: car
            .and_then(|car| tell.home(car))
            .map_or_else(String::new, |file| tell.cx.files.path(file).to_owned()),
        print: String::new(),
        handed: String::new(),
        stands: match tell.compiled.at {
            Some(day) => format!("It stands at {}, the day asked for", words::date(day)),
            None => "It stands at the book's last line, whatever the day it is read".to_owned(),
        },
        whole: None,
    }
}

/// How the whole book stands; of a reader's book what he reads of it, so that nothing here tells of the rest.
pub(in crate::report) fn whole(tell: &Teller<'_>) -> Whole {
    let files = tell.cx.files;
    let cut = tell.is_cut();
    let lines: usize = files.iter().map(|(_, file)| shown(&file.text, cut).count()).sum();
    let until = written_until(tell.compiled);
    let size = words::count(lines, "line", "lines");
    Whole {
        size: if cut { size } else { format!("{}, {size}", words::count(files.len(), "file", "files")) },
        print: print(tell),
        commit: tell.compiled.commit.clone().filter(|_| !cut).unwrap_or_default(),
        until: until.map_or_else(|| words::DASH.to_owned(), words::date),
        problems: if cut {
            String::new()
        } else {
            crate::words::summary(|severity| tell.compiled.count(severity))
        },
    }
}

/// The lines of a text; of a reader's, those with something on them.
fn shown(text: &str, cut: bool) -> impl Iterator<Item = &str> {
    text.lines().filter(move |line| !cut || !line.trim().is_empty())
}

/// The fingerprint of all paths and texts; of a reader's book that of the words he reads.
fn print(tell: &Teller<'_>) -> String {
    let mut print = Print::default();
    for (_, file) in tell.cx.files.iter() {
        if !tell.is_cut() {
            for bytes in [file.path.as_bytes(), &[0], file.text.as_bytes(), &[0]] {
                print.eat(bytes);
            }
            continue;
        }
        // How much room a hidden word takes is no business of his.
        for line in shown(&file.text, true) {
            for word in signed(line).split_whitespace() {
                print.eat(word.as_bytes());
                print.eat(b" ");
            }
            print.eat(b"\n");
        }
    }
    print.words()
}
