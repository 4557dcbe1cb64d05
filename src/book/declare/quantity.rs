//! `quantity`, built in or the book's own.

use super::{Declared, names_of};
use crate::book::Book;
pub(super) use crate::book::declare::shown::{full, range, show};
use crate::book::names::{folded, nearest};
use crate::book::trouble::{FigureTrouble, RangeTrouble, Trouble, What};
use crate::source::{Files, SourceFile, Span};
use crate::syntax::{Cursor, LineKind, Shape, unquote};
use crate::units::DimensionId;
use crate::vocabulary::{Form, Places, Quantity, QuantityId, Vocabulary};

/// Words of `disturbed-by`, to be resolved when every quantity is known.
type Disturbers = Vec<(QuantityId, Span, String)>;

/// Reads the built-in vocabulary. The lines that could not be read are returned; a test asserts there is none.
#[must_use]
pub fn read_built_in() -> BuiltIn {
    let texts = [crate::vocabulary::BUILT_IN, crate::book::figure::BUILT_IN];
    let file = |(path, text): (&str, &str)| SourceFile { path: path.to_owned(), text: text.to_owned() };
    let files = Files::new(["vocabulary.sline", "figures.sline"].into_iter().zip(texts).map(file).collect());
    let tree = crate::syntax::parse(&files);
    let mut book = Book::default();
    let mut all = Vec::new();
    for chunk in &tree.chunks {
        for trouble in &chunk.troubles {
            book.trouble(trouble.span, What::Syntax(trouble.mistake));
        }
        let Some(file) = files.get(chunk.file) else { continue };
        for block in &chunk.blocks {
            let lines = chunk.lines_of(*block).split_first();
            all.extend(lines.map(|(line, lines)| Declared { chunk, line, lines, text: &file.text }));
        }
    }
    read_all(&mut book, &all);
    super::figure::read_all(&mut book, &all);
    let ids: Vec<QuantityId> = book.vocabulary.iter().map(|(id, _)| id).collect();
    for id in ids {
        book.vocabulary.get_mut(id).declared = None;
    }
    let ids: Vec<crate::book::figure::FigureId> = book.figures.iter().map(|(id, _)| id).collect();
    for id in ids {
        book.figures.get_mut(id).declared = None;
    }
    BuiltIn { vocabulary: book.vocabulary, figures: book.figures, troubles: book.troubles }
}

/// What every book starts with.
#[derive(Debug)]
pub struct BuiltIn {
    /// The quantities.
    pub vocabulary: Vocabulary,
    /// The figures.
    pub figures: crate::book::figure::Figures,
    /// What could not be read; nothing, as a test asserts.
    pub troubles: Vec<Trouble>,
}

/// Reads every `quantity` line among the declarations.
pub(super) fn read_all(book: &mut Book, all: &[Declared<'_>]) {
    let mut disturbers = Disturbers::new();
    for one in all {
        let mut cur = one.head();
        if one.line.kind != LineKind::Declaration || !cur.take_keyword("quantity") {
            continue;
        }
        let mut lines = vec![cur];
        lines.extend(one.under());
        if let Err(trouble) = read(book, &mut lines, one.head().said(), &mut disturbers) {
            super::common::refuse_quantity(book, one.head(), &trouble);
            book.troubles.push(trouble);
        }
    }
    let words: Vec<(QuantityId, Vec<(Box<str>, Span)>)> = book
        .vocabulary
        .iter()
        .map(|(id, quantity)| (id, quantity.also.clone()))
        .filter(|(_, also)| !also.is_empty())
        .collect();
    for (id, also) in words {
        for (word, span) in also {
            if let Err(other) = book.vocabulary.alias(id, &word) {
                let first = book.vocabulary.get(other).declared;
                book.trouble(span, What::NameTwice(first));
            }
        }
    }
    for (id, span, name) in disturbers {
        if let Some(by) = book.vocabulary.find(&name) {
            book.vocabulary.get_mut(id).disturbed_by.push(by);
        } else {
            let near = nearest(&name, book.vocabulary.iter().map(|(_, quantity)| &*quantity.name));
            // What is offered in its place may disturb it; where nothing is, anything may.
            let offered = near.as_ref().and_then(|near| book.vocabulary.find(near));
            let quantity = book.vocabulary.get_mut(id);
            quantity.disturbed_by.extend(offered);
            quantity.disturbed_by_anything |= offered.is_none();
            quantity.disturbed_by_hit |= offered.is_none();
            book.trouble(span, What::QuantityUnknown { near });
        }
    }
}

fn read(
    book: &mut Book,
    lines: &mut [Cursor<'_>],
    at: Span,
    disturbers: &mut Disturbers,
) -> Result<(), Trouble> {
    let Some((cur, rest)) = lines.split_first_mut() else { return Ok(()) };
    let Some(word) = cur.take(Shape::Word) else {
        return Err(Trouble { span: cur.here(), what: What::NameMissing("quantity") });
    };
    let name = folded(cur.str(word));
    let name_span = cur.span(word);
    if super::figure::is_taken(&name) {
        return Err(Trouble { span: name_span, what: What::NameReserved });
    }
    if let Some(id) = book.vocabulary.find(&name)
        && book.vocabulary.get(id).declared.is_none()
        && !book.figures.made(id)
    {
        let lines = std::iter::once(&*cur).chain(rest.iter());
        let what = What::QuantityBuiltIn(id, lines.flat_map(|line| ranges(line.clone())).collect());
        return Err(Trouble { span: name_span, what });
    }
    let Some(kind) = cur.take(Shape::Word) else {
        let what = What::PropertyValue { property: "quantity", wants: "its dimension, such as `length`" };
        return Err(Trouble { span: cur.here(), what });
    };
    let Some(dimension) = DimensionId::by_name(&cur.str(kind).to_ascii_lowercase()) else {
        let near = nearest(cur.str(kind), DimensionId::all().map(DimensionId::name));
        return Err(Trouble { span: cur.span(kind), what: What::NameUnknown { wanted: "dimension", near } });
    };
    let mut places = Places::default();
    while let Some(class) = cur.peek().and_then(|word| Places::parse(cur.str(word))) {
        places = places.and(class);
        cur.bump();
    }
    if places == Places::default() {
        let what = What::PropertyValue {
            property: "quantity",
            wants: "where it is read: corner, axle, car, cylinder or gear",
        };
        return Err(Trouble { span: cur.here(), what });
    }
    let mut quantity = Quantity { declared: Some(at), ..Quantity::new(&name, dimension, places) };
    let mut area = None;
    let mut by: Vec<(Span, String)> = Vec::new();
    let mut said = [None; 2];
    properties(cur, &mut quantity, &mut area, &mut by, &mut said)?;
    for line in rest {
        properties(line, &mut quantity, &mut area, &mut by, &mut said)?;
    }
    if let ([Some(usual), Some(possible)], Some((least, most)), Some((low, high))) =
        (said, quantity.usual, quantity.possible)
        && (least < low || most > high)
    {
        book.trouble(usual, What::Range(RangeTrouble::Beyond(possible)));
    }
    quantity.area = book.vocabulary.area(area.as_deref().unwrap_or("other"));
    // A figure may be read under its name; a book that says more of how (a range, what disturbs it) says it of that.
    if let Some(id) = book.figures.find(&name).and_then(|id| book.figures.get(id).quantity)
        && let made = book.vocabulary.get(id)
        && made.declared.is_none()
        && &*made.name == name.as_str()
        && book.figures.made(id)
    {
        if made.dimension != quantity.dimension || made.places != quantity.places {
            let figure = book.figures.find(&name).map(|id| book.figures.get(id).clone());
            let wants = figure.map_or("", |figure| figure.sites.wants());
            let what =
                What::Figure(FigureTrouble::OtherSort { declared: None, dimension: made.dimension, wants });
            return Err(Trouble { span: name_span, what });
        }
        *book.vocabulary.get_mut(id) = quantity;
        disturbers.extend(by.into_iter().map(|(span, name)| (id, span, name)));
        return Ok(());
    }
    match book.vocabulary.add(quantity) {
        Ok(id) => {
            disturbers.extend(by.into_iter().map(|(span, name)| (id, span, name)));
            Ok(())
        }
        Err(None) => Err(full(name_span)),
        Err(Some(first)) => {
            let first = book.vocabulary.get(first).declared;
            Err(Trouble { span: name_span, what: What::NameTwice(first) })
        }
    }
}

/// The ranges of a line as typed, `usual 2..7 deg`: the word, the range and a unit.
fn ranges(mut cur: Cursor<'_>) -> Vec<Span> {
    let mut found = Vec::new();
    while let Some(word) = cur.peek() {
        cur.bump();
        let range = cur.peek().filter(|next| next.shape == Shape::Range);
        let (Some(range), "usual" | "possible") = (range, &*cur.str(word).to_ascii_lowercase()) else {
            continue;
        };
        cur.bump();
        let unit = cur.peek().filter(|unit| unit.shape == Shape::Word && !super::is_property(cur.str(*unit)));
        let end = unit.unwrap_or(range);
        found.push(cur.span(word).to(cur.span(end)));
    }
    found
}

fn properties(
    cur: &mut Cursor<'_>,
    quantity: &mut Quantity,
    area: &mut Option<String>,
    by: &mut Vec<(Span, String)>,
    said: &mut [Option<Span>; 2],
) -> Result<(), Trouble> {
    while let Some(word) = cur.peek() {
        let span = cur.span(word);
        if word.shape == Shape::Text {
            cur.bump();
            quantity.sentence = unquote(cur.str(word)).into();
            continue;
        }
        let property = cur.str(word).to_ascii_lowercase();
        cur.bump();
        match property.as_str() {
            "of" => quantity.of_part = cur.take_keyword("part") || !cur.take_keyword("car"),
            "also" => loop {
                let Some(word) = cur.take(Shape::Word) else {
                    let wants = "another word for it; several with commas between";
                    return Err(Trouble {
                        span: cur.here(),
                        what: What::PropertyValue { property: "also", wants },
                    });
                };
                let name = folded(cur.str(word));
                if super::figure::is_taken(&name) {
                    return Err(Trouble { span: cur.span(word), what: What::NameReserved });
                }
                quantity.also.push((name.into(), cur.span(word)));
                if !cur.take_comma() {
                    break;
                }
            },
            "area" => *area = cur.take(Shape::Word).map(|word| cur.str(word).to_ascii_lowercase()),
            "show" => quantity.show = show(cur, quantity.dimension)?,
            "usual" | "possible" => {
                let after = names_of("quantity");
                let words = ("usual", "a range with its unit, such as -5..0.5 deg", after);
                let (low, high, _) = range(cur, quantity.dimension, words)?;
                let typed = span.to(cur.before().map_or(span, |word| cur.span(word)));
                let (kept, said) = match property.as_str() {
                    "usual" => (&mut quantity.usual, &mut said[0]),
                    _ => (&mut quantity.possible, &mut said[1]),
                };
                if let Some(first) = *said {
                    return Err(Trouble { span: typed, what: What::Range(RangeTrouble::Twice(first)) });
                }
                *kept = Some((low, high));
                *said = Some(typed);
            }
            "pair" => quantity.form = Form::Pair,
            "triple" => quantity.form = Form::Triple,
            "counter" => quantity.counter = true,
            "relative" => quantity.relative = true,
            "rear-axle" => quantity.rear_axle = true,
            "supply" => quantity.over_supply = true,
            "disturbed-by" | "needs" => loop {
                let Some(word) = cur.take(Shape::Word) else {
                    let what =
                        What::PropertyValue { property: "disturbed-by", wants: "names, with commas between" };
                    return Err(Trouble { span: cur.here(), what });
                };
                let name = folded(cur.str(word));
                if property == "needs" {
                    quantity.needs.push(name.into());
                } else if name == "hit" {
                    quantity.disturbed_by_hit = true;
                } else {
                    by.push((cur.span(word), name));
                }
                if !cur.take_comma() {
                    break;
                }
            },
            _ => {
                let near = nearest(&property, names_of("quantity").iter().copied());
                return Err(Trouble { span, what: What::PropertyUnknown { of: "quantity", near } });
            }
        }
    }
    Ok(())
}
