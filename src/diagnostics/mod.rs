//! One value for everything the compiler has to say about a book, and one renderer per file.
//!
//! A [`Diagnostic`] is plain data: a check's name, a severity, words and spans. It must not know any
//! particular check, and the renderers must not know the book.

pub mod json;
pub mod sarif;
pub mod short;
pub mod terminal;

use crate::source::Span;
use crate::visible;

/// How much a message matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// A number in a report would be wrong.
    Error,
    /// A number in a report may be wrong.
    Warning,
    /// You will want to know.
    Note,
}

impl Severity {
    /// The lower-case word for people and machines.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// A place the message points at, with a few words of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// Where.
    pub span: Span,
    /// What to see there; may be empty for the main place.
    pub words: String,
}

/// One message about a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// The check's stable kebab-case name, such as `old-value-differs`.
    pub check: &'static str,
    /// Error, warning or note.
    pub severity: Severity,
    /// What is wrong, in the shop's words, one sentence or two.
    pub message: String,
    /// The main place. `None` for a message about the book as a whole (a missing folder).
    pub at: Option<Mark>,
    /// The other lines it quarrels with, in order of use.
    pub also: Vec<Mark>,
    /// The shortest cure, if there is one ("write `-` for a corner not read").
    pub cure: Option<String>,
    /// How many times the same mistake stands in the book (1 for most; an unknown name used 200 times is one message).
    pub times: u32,
}

impl Diagnostic {
    /// A message pointing at `span`.
    #[must_use]
    pub fn new(check: &'static str, severity: Severity, span: Span, message: impl Into<String>) -> Self {
        Self {
            check,
            severity,
            message: message.into(),
            at: Some(Mark { span, words: String::new() }),
            also: Vec::new(),
            cure: None,
            times: 1,
        }
    }

    /// Words at the main place.
    #[must_use]
    pub fn here(mut self, words: impl Into<String>) -> Self {
        if let Some(mark) = &mut self.at {
            mark.words = words.into();
        }
        self
    }

    /// Another line it quarrels with.
    #[must_use]
    pub fn and(mut self, span: Span, words: impl Into<String>) -> Self {
        self.also.push(Mark { span, words: words.into() });
        self
    }

    /// The shortest cure.
    #[must_use]
    pub fn cure(mut self, words: impl Into<String>) -> Self {
        self.cure = Some(words.into());
        self
    }
}

/// "and 199 more like it in this book", or nothing for a mistake made once.
fn repeated(times: u32) -> Option<String> {
    (times > 1).then(|| format!("and {} more like it in this book", times - 1))
}

/// Words fit for one line: line ends and tabs become blanks, and what hides or could repaint a terminal is made visible.
fn one_line(words: &str) -> String {
    let plain = |c: char| match c {
        '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => ' ',
        c => c,
    };
    visible::text(&words.trim().chars().map(plain).collect::<String>()).into_owned()
}
