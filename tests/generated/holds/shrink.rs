//! A book with a finding, made as small as it gets with the finding still in it.

use super::super::book::{Piece, Written};
use super::{Broken, compiled};
use stringline::diagnostics::Severity;

/// Lines that are kept: whom and what the others name.
fn is_kept(written: &Written, at: usize) -> bool {
    let first = written.lines[at].text.0.first();
    let starts = |text: &str| ["shop", "client", "person", "car "].iter().any(|word| text.starts_with(word));
    matches!(first, Some(Piece::Plain(text)) if starts(text))
}

/// Drops lines, first many at once and then one by one, as long as the same property breaks and no new error comes; at most so many
/// tries.
pub fn shrink(
    written: &Written,
    most: usize,
    broken: &dyn Fn(&Written) -> Option<Broken>,
) -> (Written, Option<Broken>) {
    let mut best = written.clone();
    let mut shows = broken(&best);
    let Some(property) = shows.as_ref().map(|one| one.property) else { return (best, shows) };
    let errors = |book: &Written| compiled(&book.files()).count(Severity::Error);
    let before = errors(written);
    let (mut tries, mut piece) = (0, best.lines.len() / 2);
    while piece > 0 && tries < most {
        let (mut at, lines) = (0, best.lines.len());
        while at < best.lines.len() && tries < most {
            let mut less = best.clone();
            let end = (at + piece).min(best.lines.len());
            let kept: Vec<_> =
                (at..end).filter(|one| is_kept(&best, *one)).map(|one| best.lines[one].clone()).collect();
            if kept.len() == end - at {
                at = end;
                continue;
            }
            let passed = kept.len();
            less.lines.splice(at..end, kept);
            if errors(&less) > before {
                at += piece;
                continue;
            }
            tries += 1;
            match broken(&less).filter(|one| one.property == property) {
                Some(still) => {
                    (best, shows) = (less, Some(still));
                    at += passed;
                }
                None => at += piece,
            }
        }
        // Once more line by line: what named a line may have gone.
        piece = if piece == 1 && best.lines.len() < lines { 1 } else { piece / 2 };
    }
    (best, shows)
}
