//! Stringline: a plain-text setup ledger and its compiler.
//!
//! Data flows one way, and this page shows all of it: source, syntax, book, history, checks, report.

pub mod answer;
pub mod audience;
pub mod board;
pub mod book;
pub mod check;
pub mod command;
pub mod costs;
pub mod diagnostics;
pub mod due;
pub mod editor;
pub mod figures;
pub mod history;
mod ids;
pub mod lives;
pub mod money;
pub mod report;
pub mod rules;
mod sorted;
pub mod source;
pub mod statistics;
pub mod syntax;
pub mod tables;
pub mod transcribe;
pub mod trials;
pub mod units;
pub mod visible;
pub mod vocabulary;
pub mod words;
pub mod worth;

use book::Book;
use book::model::CarId;
use costs::Costs;
use diagnostics::Diagnostic;
use history::{Facts, History};
use rules::known::Known;
use source::{Files, World};
use std::collections::BTreeMap;

/// A compiled book: its texts, its model, its fold, and everything there is to say about it.
#[derive(Debug)]
pub struct Compiled {
    /// The texts.
    pub files: Files,
    /// The model.
    pub book: Book,
    /// The fold.
    pub history: History,
    /// What everything cost.
    pub costs: Costs,
    /// What was read for rules, as far as somebody asked.
    pub known: Known,
    /// The messages, sorted by place.
    pub diagnostics: Vec<Diagnostic>,
    /// Today in the shop's zone, or the day asked for.
    pub today: jiff::civil::Date,
    /// The day that was asked for in place of today and of the book's last line.
    pub at: Option<jiff::civil::Date>,
    /// The day up to which it tells, where lines of later days are in it for what they say of earlier ones.
    pub upto: Option<jiff::civil::Date>,
    /// The client that it was cut for.
    pub reader: Option<book::model::ClientId>,
    /// Of a book cut for a reader: how many errors, warnings and notes the whole book has.
    pub whole: Option<[usize; 3]>,
    /// Of a book cut for a reader: how many lines about his cars cannot be read.
    pub unread: BTreeMap<CarId, usize>,
    /// Of a book cut for a reader: the cars that are his at its end; of a client who has none left those that were.
    pub his: Vec<CarId>,
    /// The commit its version control stands at.
    pub commit: Option<String>,
}

/// Compiles a book. Mistakes in it are diagnostics; nothing stops at one.
///
/// # Errors
/// Only when the book cannot be opened at all: the reason in words.
pub fn compile(world: &dyn World) -> Result<Compiled, String> {
    let (files, load) = world.load()?;
    Ok(of_texts(files, load, |book| today(book, world), world.commit()))
}

/// Compiles texts that were loaded.
fn of_texts(
    files: Files,
    load: Vec<source::LoadTrouble>,
    today: impl Fn(&Book) -> jiff::civil::Date,
    commit: Option<String>,
) -> Compiled {
    let tree = syntax::parse(&files);
    let mut book = book::compile(&files, tree, load);
    let history = history::fold(&mut book, &files);
    let costs = costs::fold(&book, &files, &history);
    let known = Known::default();
    let today = today(&book);
    let cx = check::Context {
        facts: Facts { files: &files, book: &book, history: &history },
        costs: &costs,
        known: &known,
        today,
    };
    let diagnostics = check::check(&cx);
    let (at, upto, whole, reader) = (None, None, None, None);
    Compiled {
        files,
        book,
        history,
        costs,
        known,
        diagnostics,
        today,
        at,
        upto,
        reader,
        commit,
        whole,
        unread: BTreeMap::new(),
        his: Vec::new(),
    }
}

/// Today's date in the shop's zone.
fn today(book: &Book, world: &dyn World) -> jiff::civil::Date {
    let zone = book.shop.zone.as_deref().and_then(|zone| jiff::tz::TimeZone::get(zone).ok());
    zone.unwrap_or(jiff::tz::TimeZone::UTC).to_datetime(world.now()).date()
}

impl Compiled {
    /// What checks look at.
    #[must_use]
    pub fn context(&self) -> check::Context<'_> {
        check::Context { facts: self.facts(), costs: &self.costs, known: &self.known, today: self.today }
    }

    /// The texts, the book and its fold.
    #[must_use]
    pub const fn facts(&self) -> Facts<'_> {
        Facts { files: &self.files, book: &self.book, history: &self.history }
    }

    /// How many messages are of that severity, in the whole book.
    #[must_use]
    pub fn count(&self, severity: diagnostics::Severity) -> usize {
        if let Some([errors, warnings, notes]) = self.whole {
            return match severity {
                diagnostics::Severity::Error => errors,
                diagnostics::Severity::Warning => warnings,
                diagnostics::Severity::Note => notes,
            };
        }
        self.diagnostics.iter().filter(|one| one.severity == severity).count()
    }
}
