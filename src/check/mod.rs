//! Everything the compiler looks for, one check a file: its name, how much it matters, why, and the words.
//!
//! Must not know the terminal. Checks read the book and its history and make [`Diagnostic`]s; they change nothing.
//! How to add one: see DEVELOPERS.md; in short, a file here, a line in [`list`], fixtures in `tests/fixtures/checks`.

mod book;
pub mod context;
mod family;
pub mod follow;
mod formulas;
mod instruments;
mod jobs;
mod list;
mod money;
mod parts;
pub mod phrase;
mod reading;
mod rules;
pub mod run;
mod sessions;
mod settings;
mod told;
mod typing;
mod waive;
pub mod worded;
mod words;
mod work;

pub use context::Context;
pub(crate) use family::family;
pub use list::CHECKS;
pub use run::check;

use crate::book::Trouble;
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::CarId;
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::history::slots::Track;

/// One check.
#[derive(Debug, Clone, Copy)]
pub struct Check {
    /// Stable kebab-case name.
    pub name: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// Which family it belongs to, for lists.
    pub family: Family,
    /// One line: what it looks for.
    pub brief: &'static str,
    /// Why it matters and what to do, a paragraph in plain words.
    pub why: &'static str,
    /// Ledger lines that it speaks up about.
    pub wrong: &'static str,
    /// The same, put right.
    pub right: &'static str,
    /// How it looks.
    pub look: Look,
}

/// Families of checks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    /// Files and lines that cannot be read.
    Reading,
    /// Names, declarations, verbs.
    Words,
    /// Figures a book declares, and their formulas.
    Formulas,
    /// Units, numbers, places, dates as typed.
    Typing,
    /// Old against new, found against left.
    Settings,
    /// Parts and their lives.
    Parts,
    /// Dates, sessions, counters.
    Sessions,
    /// Gauges and measuring.
    Instruments,
    /// Torque, safety, work.
    Work,
    /// Dated items, class rules.
    Rules,
    /// Money and hours.
    Money,
    /// Jobs, promises, work that comes round again.
    Jobs,
    /// The book itself.
    Book,
}

impl Family {
    /// The heading for lists.
    #[must_use]
    pub const fn heading(self) -> &'static str {
        match self {
            Self::Reading => "Files and lines",
            Self::Words => "Names and words",
            Self::Formulas => "Figures and formulas",
            Self::Typing => "Units, numbers, places",
            Self::Settings => "Old against new, found against left",
            Self::Parts => "Parts",
            Self::Sessions => "Dates, sessions, counters",
            Self::Instruments => "Gauges and measuring",
            Self::Work => "Torque and work",
            Self::Rules => "Dated items and class rules",
            Self::Money => "Money and hours",
            Self::Jobs => "Jobs and promises",
            Self::Book => "The book",
        }
    }
}

/// How a check looks: each kind is called at one place of one pass.
#[derive(Clone, Copy)]
pub enum Look {
    /// Puts a mistake of the reading into words; `None` if [`worded`] gives it to another check.
    Trouble(fn(&Context<'_>, &Trouble) -> Option<Diagnostic>),
    /// Puts a problem of the fold into words; `None` likewise.
    Problem(fn(&Context<'_>, &Problem) -> Option<Diagnostic>),
    /// Puts a problem of the costs into words; `None` likewise.
    Cost(fn(&Context<'_>, &crate::costs::problem::Problem) -> Option<Diagnostic>),
    /// Looks at every entry of some verbs: (context, entry's index, entry, out).
    Entry(&'static [Verb], fn(&Context<'_>, EntryId, &Entry, &mut Vec<Diagnostic>)),
    /// Looks at every slot over time.
    Track(fn(&Context<'_>, &Track, &mut Vec<Diagnostic>)),
    /// Looks at every car.
    Car(fn(&Context<'_>, CarId, &mut Vec<Diagnostic>)),
    /// Looks at the whole book once.
    Whole(fn(&Context<'_>, &mut Vec<Diagnostic>)),
    /// Found by the runner itself (waivers, caps).
    Runner,
}

impl std::fmt::Debug for Look {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Trouble(_) => "Trouble",
            Self::Problem(_) => "Problem",
            Self::Cost(_) => "Cost",
            Self::Entry(..) => "Entry",
            Self::Track(_) => "Track",
            Self::Car(_) => "Car",
            Self::Whole(_) => "Whole",
            Self::Runner => "Runner",
        })
    }
}

impl Check {
    /// A message of this check at a place.
    #[must_use]
    pub fn at(&self, span: crate::source::Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(self.name, self.severity, span, message)
    }
}

/// The check of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Check> {
    CHECKS.iter().copied().find(|check| check.name.eq_ignore_ascii_case(name))
}

/// The nearest check's name to a word.
#[must_use]
pub fn near(name: &str) -> Option<String> {
    crate::book::names::nearest(name, CHECKS.iter().map(|check| check.name))
}
