//! The strip over a copy's foot: how the book stands as it was saved last.
//!
//! Must not know how it is laid out, nor what the browser says beside it.

use crate::Compiled;
use crate::diagnostics::{Severity, short};
use crate::words::summary;

/// So many mistakes are told in full; the rest are counted.
const MOST: usize = 3;

/// The mistakes of a book, a line each, and the counts of everything; of a book cut for a reader the counts alone, as on his first page.
pub(super) fn lines(compiled: &Compiled) -> Vec<String> {
    let errors =
        compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error && compiled.whole.is_none());
    let told: Vec<_> = errors.take(MOST).cloned().collect();
    let mut lines: Vec<String> = short::render(&told, &compiled.files).lines().map(str::to_owned).collect();
    lines.push(summary(|severity| compiled.count(severity)));
    lines
}
