//! Figures that need themselves: said once for a circle, and refused.

use crate::book::Book;
use crate::book::figure::{FigureId, Line, Source};
use crate::book::trouble::{FigureTrouble, What};
use crate::ids::Arena;
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

/// How far the walk has come with a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    NotSeen,
    OnTheWay,
    /// How many stand behind one another from it on.
    Done {
        deep: usize,
    },
}

impl State {
    const fn deep(self) -> usize {
        match self {
            Self::NotSeen | Self::OnTheWay => 0,
            Self::Done { deep } => deep,
        }
    }
}

/// Says every circle at the first of its figures that the book declares, and marks its figures.
pub(super) fn refuse(book: &mut Book) {
    let count = book.figures.iter().count();
    let mut state: Arena<FigureId, State> = vec![State::NotSeen; count].into();
    for start in (0..count).map(FigureId::from) {
        if state[start] != State::NotSeen {
            continue;
        }
        let mut path: Vec<(FigureId, Vec<(FigureId, Span)>, usize)> = vec![(start, takes(book, start), 0)];
        state[start] = State::OnTheWay;
        while let Some((id, list, at)) = path.last_mut() {
            let Some((next, span)) = list.get(*at).copied() else {
                let under = list.iter().map(|(other, _)| state[*other].deep()).max().unwrap_or(0);
                let (id, first) = (*id, list.first().map(|(_, span)| *span));
                state[id] = State::Done { deep: under + 1 };
                if under >= DEEPEST
                    && let Some(span) = first
                {
                    state[id] = State::Done { deep: 0 };
                    book.trouble(span, What::Figure(FigureTrouble::Deep));
                    book.figures.get_mut(id).broken = true;
                }
                path.pop();
                continue;
            };
            *at += 1;
            match state[next] {
                State::NotSeen => {
                    state[next] = State::OnTheWay;
                    let list = takes(book, next);
                    path.push((next, list, 0));
                }
                State::OnTheWay => {
                    let around: Vec<FigureId> =
                        path.iter().map(|(id, ..)| *id).skip_while(|id| *id != next).collect();
                    let mut names: Vec<String> =
                        around.iter().map(|id| book.figures.get(*id).name.to_string()).collect();
                    names.extend(names.first().cloned());
                    book.trouble(span, What::Figure(FigureTrouble::Circle(names)));
                    for id in around {
                        book.figures.get_mut(id).broken = true;
                    }
                }
                State::Done { .. } => {}
            }
        }
    }
}
