//! Figures that need themselves: said once for a circle, and refused.

use crate::book::Book;
use crate::book::figure::{FigureId, Line, Source};
use crate::book::trouble::{FigureTrouble, What};
use crate::source::Span;

/// The figures a figure takes, each with the line that says so.
fn takes(book: &Book, id: FigureId) -> Vec<(FigureId, Span)> {
    let figure = book.figures.get(id);
    let mut all = Vec::new();
    for name in &figure.names {
        for source in &name.sources {
            if let Source::Value { figure: Some(other), line: Line::Any, .. } = source {
                all.push((*other, name.span));
            }
        }
    }
    all
}

/// So many figures may stand behind one another; the built-in ones are a dozen deep.
const DEEPEST: usize = 40;

/// Says every circle at the first of its figures that the book declares, and marks its figures.
pub(super) fn refuse(book: &mut Book) {
    let count = book.figures.iter().count();
    // 0 not seen, 1 on the way, 2 done.
    let mut state = vec![0_u8; count];
    let mut depth = vec![0_usize; count];
    for start in 0..count as u32 {
        if state[start as usize] != 0 {
            continue;
        }
        let mut path: Vec<(FigureId, Vec<(FigureId, Span)>, usize)> =
            vec![(FigureId(start), takes(book, FigureId(start)), 0)];
        state[start as usize] = 1;
        while let Some((id, list, at)) = path.last_mut() {
            let Some((next, span)) = list.get(*at).copied() else {
                state[id.0 as usize] = 2;
                let under = list.iter().map(|(other, _)| depth[other.0 as usize]).max().unwrap_or(0);
                let (id, first) = (*id, list.first().map(|(_, span)| *span));
                if under >= DEEPEST
                    && let Some(span) = first
                {
                    book.trouble(span, What::Figure(FigureTrouble::Deep));
                    book.figures.get_mut(id).broken = true;
                } else {
                    depth[id.0 as usize] = under + 1;
                }
                path.pop();
                continue;
            };
            *at += 1;
            match state[next.0 as usize] {
                0 => {
                    state[next.0 as usize] = 1;
                    let list = takes(book, next);
                    path.push((next, list, 0));
                }
                1 => {
                    let from = path.iter().position(|(id, ..)| *id == next).unwrap_or(0);
                    let around: Vec<FigureId> = path[from..].iter().map(|(id, ..)| *id).collect();
                    let mut names: Vec<String> =
                        around.iter().map(|id| book.figures.get(*id).name.to_string()).collect();
                    names.extend(names.first().cloned());
                    book.trouble(span, What::Figure(FigureTrouble::Circle(names)));
                    for id in around {
                        book.figures.get_mut(id).broken = true;
                    }
                }
                _ => {}
            }
        }
    }
}
