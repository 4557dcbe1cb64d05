//! `word`: a word of the driver's that the shop takes for another.

use crate::book::Book;
use crate::book::meaning::MeaningTrouble;
use crate::book::trouble::{Trouble, What};
use crate::syntax::{Cursor, Shape};

/// `word washes means push`.
pub(super) fn read(book: &mut Book, cur: &mut Cursor<'_>) -> Result<(), Trouble> {
    let missing = |cur: &Cursor<'_>| Trouble {
        span: cur.here(),
        what: What::PropertyValue {
            property: "word",
            wants: "one word, `means`, and the one it stands for: `washes means push`",
        },
    };
    let declared = cur.said();
    let Some(word) = cur.take(Shape::Word) else { return Err(missing(cur)) };
    if !cur.take_keyword("means") {
        return Err(missing(cur));
    }
    let Some(means) = cur.take(Shape::Word) else { return Err(missing(cur)) };
    if cur.take_comma() {
        let what = What::Meaning(MeaningTrouble::TwoThings(cur.span(means)));
        return Err(Trouble { span: cur.span(word), what });
    }
    if !cur.is_done() {
        return Err(Trouble { span: cur.here(), what: What::WordUnexpected { near: None } });
    }
    let span = cur.span(word);
    book.meanings
        .add(cur.str(word), cur.str(means), declared)
        .map_err(|trouble| Trouble { span, what: What::Meaning(trouble) })
}
