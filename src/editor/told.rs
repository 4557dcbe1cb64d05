//! The messages of a book as the protocol has them, file by file.
//!
//! Must not know any check, nor when they are sent.

use super::desk::Desk;
use crate::Compiled;
use crate::diagnostics::{Diagnostic, Mark, Severity};
use crate::source::FileId;
use lsp_types::{
    DiagnosticRelatedInformation, DiagnosticSeverity, Location, NumberOrString, Position, Range,
};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::str::FromStr as _;

/// The messages of every file that belongs to the book; a file without any has an empty list. What has no place of its own stands at the
/// top of the first file.
#[must_use]
pub fn of_book(
    desk: &Desk,
    root: &Path,
    compiled: &Compiled,
) -> BTreeMap<PathBuf, Vec<lsp_types::Diagnostic>> {
    let mut all: BTreeMap<PathBuf, Vec<lsp_types::Diagnostic>> = BTreeMap::new();
    let mut paths: BTreeMap<FileId, PathBuf> = BTreeMap::new();
    for (id, _) in compiled.files.iter() {
        // Files of another root inside this folder are told of by their own book.
        if let Some(path) = Desk::path_of(compiled, id).filter(|path| desk.root(path) == *root) {
            all.insert(path.clone(), Vec::new());
            paths.insert(id, path);
        }
    }
    let mut places = Places { desk, compiled, texts: BTreeMap::new() };
    let first = paths.keys().next().copied();
    for one in &compiled.diagnostics {
        let file = one.at.as_ref().map(|mark| mark.span.file).or(first);
        let list = file.and_then(|file| paths.get(&file)).and_then(|path| all.get_mut(path));
        if let Some(list) = list {
            list.push(message(&mut places, one));
        }
    }
    all
}

/// One message, as it is published.
#[must_use]
pub fn as_told(desk: &Desk, compiled: &Compiled, one: &Diagnostic) -> lsp_types::Diagnostic {
    message(&mut Places { desk, compiled, texts: BTreeMap::new() }, one)
}

fn message(places: &mut Places<'_>, one: &Diagnostic) -> lsp_types::Diagnostic {
    let mut words = one.message.clone();
    if let Some(mark) = one.at.as_ref().filter(|mark| !mark.words.is_empty()) {
        words.push_str(&format!("\n{}", mark.words));
    }
    if let Some(cure) = &one.cure {
        words.push_str(&format!("\n{cure}"));
    }
    if one.times > 1 {
        words.push_str(&format!("\nand {} more like it in this book", one.times - 1));
    }
    let also: Vec<_> = one.also.iter().filter_map(|mark| places.related(mark)).collect();
    let top = Range::new(Position::new(0, 0), Position::new(0, 0));
    lsp_types::Diagnostic {
        range: one.at.as_ref().map_or(top, |mark| places.range(mark)),
        severity: Some(match one.severity {
            Severity::Error => DiagnosticSeverity::ERROR,
            Severity::Warning => DiagnosticSeverity::WARNING,
            Severity::Note => DiagnosticSeverity::INFORMATION,
        }),
        code: Some(NumberOrString::String(one.check.to_owned())),
        source: Some("stringline".to_owned()),
        message: words,
        related_information: (!also.is_empty()).then_some(also),
        ..lsp_types::Diagnostic::default()
    }
}

/// The texts of a book for positions, each made when it is first asked for.
struct Places<'a> {
    desk: &'a Desk,
    compiled: &'a Compiled,
    texts: BTreeMap<FileId, super::text::Text<'a>>,
}

impl Places<'_> {
    fn range(&mut self, mark: &Mark) -> Range {
        let (desk, compiled) = (self.desk, self.compiled);
        let text = self.texts.entry(mark.span.file).or_insert_with(|| desk.text(compiled, mark.span.file));
        text.range(mark.span.start, mark.span.end)
    }

    fn related(&mut self, mark: &Mark) -> Option<DiagnosticRelatedInformation> {
        let path = Desk::path_of(self.compiled, mark.span.file)?;
        let uri = lsp_types::Uri::from_str(&self.desk.address_of(&path));
        let uri = uri.or_else(|_| lsp_types::Uri::from_str(&super::address::of(&path))).ok()?;
        let words = if mark.words.is_empty() { "this line".to_owned() } else { mark.words.clone() };
        Some(DiagnosticRelatedInformation {
            location: Location { uri, range: self.range(mark) },
            message: words,
        })
    }
}
