//! A ledger in the usual layout, as `format` gives it and an editor asks for it.
//!
//! Must not know who writes it where.

use crate::Compiled;
use crate::book::What;
use crate::source::{FileId, LoadTrouble};
use crate::syntax;
use std::collections::BTreeSet;

/// A ledger laid out.
#[derive(Debug, Clone)]
pub struct Laid {
    /// Its whole text.
    pub text: String,
    /// Lines (from 1) left as typed for their errors.
    pub left_alone: BTreeSet<u32>,
}

/// A file of a book, laid out; `None` where it is not all UTF-8, for what it says is then not known.
#[must_use]
pub fn of_file(compiled: &Compiled, file: FileId) -> Option<Laid> {
    if !is_utf8(compiled, file) {
        return None;
    }
    let troubles = compiled.book.troubles.iter().filter(|trouble| trouble.span.file == file);
    let left_alone: BTreeSet<u32> = troubles.map(|trouble| compiled.files.line(trouble.span)).collect();
    let text = &compiled.files.get(file)?.text;
    let text = syntax::layout(text, &|line| left_alone.contains(&line), &crate::book::opens);
    Some(Laid { text, left_alone })
}

/// Whether a file is all UTF-8. Where it is not, what it says is not known, and nothing may be written into it.
#[must_use]
pub fn is_utf8(compiled: &Compiled, file: FileId) -> bool {
    let mut troubles = compiled.book.troubles.iter().filter(|trouble| trouble.span.file == file);
    !troubles.any(|trouble| matches!(&trouble.what, What::Load(LoadTrouble::NotUtf8 { .. })))
}
