//! What the readers of declarations share: a declaration with its lines, its name, its properties one by one.
//!
//! Must not know any one declaration.

use crate::book::declare::lost;
use crate::book::declare::told::Told;
use crate::book::declare::words::is_reserved;
use crate::book::declare::words::{is_property, names_of};
use crate::book::names::{Thing, composed, folded, is_name, lowered, nearest};
use crate::book::sums;
use crate::book::trouble::{Trouble, What};
use crate::book::{Book, Named};
use crate::money::Amount;
use crate::source::Span;
use crate::syntax::{Chunk, Cursor, Line, LineKind, Shape, unquote};

/// A declaration: its chunk, its head line and the lines under it.
#[derive(Clone, Copy)]
pub struct Declared<'a> {
    /// The chunk.
    pub chunk: &'a Chunk,
    /// Its head line.
    pub line: &'a Line,
    /// The lines under it.
    pub lines: &'a [Line],
    /// The file's text.
    pub text: &'a str,
}

impl<'a> Declared<'a> {
    /// A cursor on the head line.
    #[must_use]
    pub fn head(&self) -> Cursor<'a> {
        self.cursor(self.line)
    }

    /// Cursors on the indented lines, notes and unreadable ones left out.
    pub fn under(&self) -> impl Iterator<Item = Cursor<'a>> {
        let this = *self;
        self.lines.iter().filter(|line| line.kind == LineKind::Entry).map(move |line| this.cursor(line))
    }

    /// The lines under it that cannot be taken apart, as they are typed.
    pub(super) fn lost_lines(&self) -> impl Iterator<Item = &'a str> {
        let text = self.text;
        let bad = self.lines.iter().filter(|line| line.kind == LineKind::Bad);
        bad.map(move |line| text.get(line.start as usize..line.end as usize).unwrap_or_default())
    }

    /// Whether its head is a line of a dated block that stands at the margin.
    pub(super) fn is_verb(&self) -> bool {
        let word = self.head().take(Shape::Word);
        let verb = |text: &str| {
            crate::book::entry::Verb::ALL.iter().any(|verb| verb.word().eq_ignore_ascii_case(text))
        };
        word.is_some_and(|word| verb(word.text(self.text)))
    }

    /// Leaves out the lines from the first that says what was done on a day: their dated head is missing. Said once.
    pub(super) fn cut_dated_lines(&mut self, book: &mut Book) {
        // The lines of an outfit are dated where it is fitted.
        if self.head().take_keyword("outfit") {
            return;
        }
        let figure = self.head().take_keyword("figure");
        let found = self.lines.iter().enumerate().find_map(|(at, line)| {
            let mut cur = self.cursor(line);
            cur.take(Shape::Clock);
            let word = cur.take(Shape::Word).filter(|_| line.kind == LineKind::Entry)?;
            // `set = ...` is a name that a formula cannot have, and is told so.
            if figure && cur.peek().is_some_and(|next| cur.str(next) == "=") {
                return None;
            }
            let verb = |verb: &crate::book::entry::Verb| verb.word().eq_ignore_ascii_case(cur.str(word));
            crate::book::entry::Verb::ALL.iter().any(verb).then(|| (at, cur.said()))
        });
        if let Some((at, span)) = found {
            book.trouble(span, What::Orphan);
            self.lines = self.lines.split_at(at).0;
        }
    }

    fn cursor(&self, line: &Line) -> Cursor<'a> {
        let words = self.chunk.words_of(line);
        Cursor::new(self.chunk.file, self.text, words, (line.start, line.end))
    }
}

/// Reads a declaration's name and title and enters nothing yet.
pub(super) fn named(book: &mut Book, cur: &mut Cursor<'_>, what: &'static str) -> Option<Named> {
    let Some(word) = cur.peek().filter(|word| word.shape == Shape::Word) else {
        // `4ned` was read as a number with a word stuck to it: the whole of it was meant as the name.
        let mut span = cur.here();
        cur.bump();
        while cur.is_stuck(0)
            && let Some(next) = cur.peek().filter(|next| next.shape != Shape::Comma)
        {
            span = span.to(cur.span(next));
            cur.bump();
        }
        book.trouble(span, What::NameMissing(what));
        book.names.refuse(line_text(cur));
        return None;
    };
    cur.bump();
    let typed = cur.str(word);
    if !is_name(typed) {
        book.trouble(cur.span(word), What::NameMissing(what));
        return None;
    }
    let name = folded(typed);
    let own = names_of(what).contains(&name.as_str());
    if own || is_reserved(&name) {
        book.trouble(cur.span(word), What::NameReserved);
        book.names.refuse(line_text(cur));
        return None;
    }
    Some(Named {
        name: name.as_str().into(),
        typed: composed(typed).into(),
        title: title_of(cur, &composed(typed)),
        declared: cur.said(),
    })
}

/// The first quoted words of the line that are not the value of a property.
pub(super) fn title_of(cur: &Cursor<'_>, typed: &str) -> String {
    let mut ahead = 0;
    let mut before = String::new();
    while let Some(word) = cur.peek_at(ahead) {
        let text = cur.str(word);
        if word.shape == Shape::Text && !matches!(before.as_str(), "serial" | "role" | "class" | "drive") {
            return unquote(text).to_owned();
        }
        before = text.to_ascii_lowercase();
        ahead += 1;
    }
    typed.to_owned()
}

/// The text of a line.
pub(super) fn line_text<'a>(cur: &Cursor<'a>) -> &'a str {
    let line = cur.line();
    cur.text.get(line.start as usize..line.end as usize).unwrap_or_default()
}

/// Enters a name, or says that it is taken.
pub(super) fn enter(book: &mut Book, name: &str, thing: Thing, at: Span) -> bool {
    match book.names.add(name, thing, at) {
        Ok(()) => true,
        Err(first) => {
            book.trouble(at, What::NameTwice(Some(first)));
            false
        }
    }
}

/// Runs `property` over a line until it is read; one mistake ends the line.
pub(super) fn properties(
    book: &mut Book,
    cur: &mut Cursor<'_>,
    (of, told): (&'static str, &mut Told),
    property: &mut dyn FnMut(&mut Book, &mut Cursor<'_>) -> Result<bool, Trouble>,
) {
    while let Some(word) = cur.peek() {
        if matches!(word.shape, Shape::Text | Shape::Comma) {
            cur.bump();
            continue;
        }
        match told.again(book, cur, of) {
            Some(Ok(())) => continue,
            Some(Err(trouble)) => {
                book.troubles.push(trouble);
                continue;
            }
            None => {}
        }
        let rest = lost::rest_of(cur);
        match property(book, cur) {
            // `keep 1O`: whoever reads a number takes it up to the letter, and it is not the number that was meant.
            Ok(true) if cur.before().is_some_and(|last| last.shape == Shape::Number) && glued(cur) => {
                let span = cur.before().map_or(cur.here(), |last| cur.span(last)).to(cur.here());
                told.lost.push(format!("{} ", folded(cur.str(word))));
                told.unread.push(rest.to_owned());
                book.troubles.push(Trouble { span, what: What::NumberBad });
                return;
            }
            Ok(true) => {}
            Ok(false) => {
                told.unread.push(rest.to_owned());
                let own = book.vocabulary.iter().map(|(_, quantity)| &*quantity.name).filter(|_| of == "car");
                let names = names_of(of).iter().copied().chain(own);
                let near = lowered(cur.str(word), |text| nearest(text, names));
                book.names.refuse(line_text(cur));
                book.trouble(cur.span(word), What::PropertyUnknown { of, near });
                return;
            }
            // A name that there is not is one word: what stands behind it is read.
            Err(trouble)
                if matches!(trouble.what, What::NameUnknown { .. })
                    && cur.peek().is_some_and(|word| cur.span(word) == trouble.span)
                    && cur.peek_at(1).is_none_or(|next| next.shape != Shape::Comma) =>
            {
                told.unread.push(folded(cur.str(word)));
                book.troubles.push(trouble);
                cur.bump();
            }
            Err(trouble) => {
                told.unread.push(rest.to_owned());
                refuse_but(book, cur, &trouble);
                book.troubles.push(trouble);
                return;
            }
        }
    }
}

/// Whether a word stands at the cursor with no blank before it.
fn glued(cur: &Cursor<'_>) -> bool {
    cur.is_stuck(0) && cur.peek().is_some_and(|next| next.shape != Shape::Comma)
}

/// A price after its property; a currency left out is said, and the shop's taken.
pub(super) fn price(book: &mut Book, cur: &mut Cursor<'_>) -> Result<Amount, Trouble> {
    let (sum, slip) = sums::sum(cur, book.shop.currency, &is_property)?;
    book.troubles.extend(slip);
    Ok(sum)
}

/// What an hour of work costs, after its property.
pub(super) fn hourly(book: &mut Book, cur: &mut Cursor<'_>) -> Result<Amount, Trouble> {
    let (sum, slip) = sums::rate(cur, book.shop.currency, &is_property)?;
    book.troubles.extend(slip);
    Ok(sum)
}

/// The words between quotes, or one word, after a property.
pub(super) fn text_value(cur: &mut Cursor<'_>, property: &'static str) -> Result<String, Trouble> {
    match cur.peek() {
        Some(word) if word.shape != Shape::Comma && word.shape != Shape::Because => {
            cur.bump();
            let mut end = word;
            while cur.is_stuck(0) && cur.peek().is_some_and(|next| next.shape != Shape::Comma) {
                if let Some(next) = cur.peek() {
                    end = next;
                }
                cur.bump();
            }
            let whole = cur.text.get(word.start as usize..end.end() as usize).unwrap_or_default();
            Ok(unquote(whole).to_owned())
        }
        _ => Err(Trouble {
            span: cur.here(),
            what: What::PropertyValue { property, wants: "a word or quoted text" },
        }),
    }
}

/// Of a line that is refused: a position or a name that it would have declared is not to be missed elsewhere; a name that its message says there is
/// not, is.
pub(super) fn refuse_but(book: &mut Book, cur: &Cursor<'_>, trouble: &Trouble) {
    let line = cur.line();
    let text = |from: u32, to: u32| cur.text.get(from as usize..to as usize).unwrap_or_default();
    book.names.refuse(text(line.start, trouble.span.start));
    book.names.refuse(text(trouble.span.end, line.end));
}

/// The same of a `quantity` or a `figure`, whose name nobody is told again that there is not.
pub(super) fn refuse_quantity(book: &mut Book, mut cur: Cursor<'_>, trouble: &Trouble) {
    refuse_but(book, &cur, trouble);
    cur.bump();
    if let Some(name) = cur.take(Shape::Word) {
        book.names.refused_quantities.insert(folded(cur.str(name)).into());
    }
}
