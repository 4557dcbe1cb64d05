//! `figure`, built in or the book's own: first every name, then the formulas, since figures name each other in any order.
//!
//! Must not know how a value is read off a book.

mod circle;
mod formula;
mod name;
mod number;

use super::Declared;
pub(in crate::book::declare) use crate::book::declare::figure::number::is_taken;
use crate::book::declare::figure::number::number;
use crate::book::figure::{Figure, FigureId, Sites};
use crate::book::trouble::{FigureTrouble, Trouble, What};
use crate::book::{
    Book,
    names::{folded, is_name, nearest},
};
use crate::source::Span;
use crate::syntax::{Cursor, LineKind, Shape, unquote};
use crate::units::DimensionId;
use crate::vocabulary::{Places, Quantity};

/// So many names a figure may have.
const MOST_NAMES: usize = 1000;

/// A figure whose formulas are still to be read.
struct Waiting<'a> {
    id: FigureId,
    lines: Vec<Cursor<'a>>,
}

/// Reads every `figure` among the declarations.
pub(super) fn read_all(book: &mut Book, all: &[Declared<'_>]) {
    let mut waiting = Vec::new();
    for one in all {
        let mut cur = one.head();
        if one.line.kind != LineKind::Declaration || !cur.take_keyword("figure") {
            continue;
        }
        match head(book, &mut cur, one.head().said()) {
            Ok(id) => waiting.push(Waiting { id, lines: one.under().collect() }),
            Err(trouble) => {
                super::common::refuse_quantity(book, one.head(), &trouble);
                book.troubles.push(trouble);
            }
        }
    }
    for one in &waiting {
        properties(book, one);
    }
    for one in &waiting {
        read_under(book, one);
    }
    circle::refuse(book);
}

/// The head line up to its properties.
fn head(book: &mut Book, cur: &mut Cursor<'_>, at: Span) -> Result<FigureId, Trouble> {
    let Some(word) = cur.take(Shape::Word) else {
        return Err(Trouble { span: cur.here(), what: What::NameMissing("figure") });
    };
    let name = folded(cur.str(word));
    let span = cur.span(word);
    if !is_name(&name) {
        return Err(Trouble { span, what: What::NameMissing("figure") });
    }
    if is_taken(&name) {
        return Err(Trouble { span, what: What::NameReserved });
    }
    let Some(kind) = cur.take(Shape::Word) else {
        let what = What::PropertyValue { property: "figure", wants: "its dimension, such as `length`" };
        return Err(Trouble { span: cur.here(), what });
    };
    let dimension =
        DimensionId::by_name(&cur.str(kind).to_ascii_lowercase()).filter(|kind| !kind.get().is_text());
    let Some(dimension) = dimension else {
        let near = nearest(cur.str(kind), DimensionId::all().map(DimensionId::name));
        return Err(Trouble { span: cur.span(kind), what: What::NameUnknown { wanted: "dimension", near } });
    };
    let mut sites = None;
    let mut places = Places::default();
    while let Some(class) = cur.peek().and_then(|word| Sites::parse(cur.str(word))) {
        sites = sites.or(Some(class));
        places = places.and(class.places());
        cur.bump();
    }
    let Some(sites) = sites else {
        let wants = "where it has values: corner, axle, car, cylinder, gear or part";
        return Err(Trouble { span: cur.here(), what: What::PropertyValue { property: "figure", wants } });
    };
    let mut figure = Figure {
        called: name.replace('-', " ").into(),
        brief: Box::default(),
        dimension,
        sites,
        places,
        area: "other".into(),
        step: false,
        show: [None, None],
        names: Vec::new(),
        ways: Vec::new(),
        in_code: None,
        quantity: None,
        declared: Some(at),
        broken: false,
        name: name.into(),
    };
    while !cur.is_done() {
        property(cur, &mut figure)?;
    }
    let area = figure.area.clone();
    if !figure.step && figure.sites != Sites::Part {
        figure.quantity = Some(under_its_name(book, &figure, span)?);
        book.vocabulary.area(&area);
    }
    book.figures.add(figure).map_err(|first| {
        let first = book.figures.get(first).declared;
        Trouble { span, what: What::NameTwice(first) }
    })
}

/// The quantity under which a figure may be read: that of its name, else one made for it.
fn under_its_name(
    book: &mut Book,
    figure: &Figure,
    span: Span,
) -> Result<crate::vocabulary::QuantityId, Trouble> {
    if let Some(id) = book.vocabulary.find(&figure.name) {
        let quantity = book.vocabulary.get(id);
        if quantity.dimension == figure.dimension && quantity.places.has(figure.sites.places()) {
            return Ok(id);
        }
        let declared = quantity.declared;
        let (dimension, wants) = (quantity.dimension, figure.sites.wants());
        let what = What::Figure(FigureTrouble::OtherSort { declared, dimension, wants });
        return Err(Trouble { span, what });
    }
    let area = book.vocabulary.area(&figure.area);
    let places = figure.sites.places();
    let made = Quantity {
        area,
        show: figure.show,
        sentence: figure.brief.clone(),
        ..Quantity::new(&figure.name, figure.dimension, places)
    };
    let id = book.vocabulary.add(made).map_err(|_| super::quantity::full(span))?;
    book.figures.make(id);
    Ok(id)
}

/// One property of the head line, or of a line of its own.
fn property(cur: &mut Cursor<'_>, figure: &mut Figure) -> Result<(), Trouble> {
    let Some(word) = cur.peek() else { return Ok(()) };
    let span = cur.span(word);
    cur.bump();
    if word.shape == Shape::Comma {
        return Ok(());
    }
    if word.shape == Shape::Text {
        figure.brief = unquote(cur.str(word)).into();
        return Ok(());
    }
    let text = |cur: &mut Cursor<'_>, property| super::text_value(cur, property).map(String::into_boxed_str);
    match cur.str(word).to_ascii_lowercase().as_str() {
        "area" => figure.area = text(cur, "area")?.to_lowercase().into(),
        "called" => figure.called = text(cur, "called")?,
        "step" => figure.step = true,
        "in-code" => figure.in_code = Some(text(cur, "in-code")?),
        "show" => figure.show = super::quantity::show(cur, figure.dimension)?,
        other => {
            let near = nearest(other, super::names_of("figure").iter().copied());
            return Err(Trouble { span, what: What::PropertyUnknown { of: "figure", near } });
        }
    }
    Ok(())
}

/// Whether a line is a property rather than a piece of the arithmetic.
fn is_property(cur: &Cursor<'_>) -> bool {
    let first = cur.peek().map_or("", |word| cur.str(word));
    number::OF_THE_HEAD.iter().chain(&["step"]).any(|word| first.eq_ignore_ascii_case(word))
        && !name::gives(cur)
        || cur.peek().is_some_and(|word| word.shape == Shape::Text)
}

/// The properties that stand on lines of their own.
fn properties(book: &mut Book, one: &Waiting<'_>) {
    for line in one.lines.iter().filter(|line| is_property(line)) {
        let mut cur = line.clone();
        while !cur.is_done() {
            if let Err(trouble) = property(&mut cur, book.figures.get_mut(one.id)) {
                book.troubles.push(trouble);
                break;
            }
        }
    }
}

/// The names, then the formulas of a figure. Each line has a message of its own; a figure with one has no values.
fn read_under(book: &mut Book, one: &Waiting<'_>) {
    let mut troubles = Vec::new();
    let own: Vec<&Cursor<'_>> = one.lines.iter().filter(|line| !is_property(line)).collect();
    let mut named: Vec<&Cursor<'_>> = own.iter().copied().filter(|line| name::gives(line)).collect();
    if let Some(over) = named.get(MOST_NAMES) {
        let span = over.peek().map_or(over.line(), |word| over.span(word));
        troubles.push(Trouble { span, what: What::Full("1,000 names in this figure") });
    }
    let over: Vec<Box<str>> = named.iter().skip(MOST_NAMES).map(|line| name::typed(line)).collect();
    named.truncate(MOST_NAMES);
    // Every name first, so that `with fuel of pads` finds its line whatever stands first.
    let local: Vec<Box<str>> = named.iter().map(|line| name::typed(line)).collect();
    let mut lost = over;
    for line in named {
        match name::read(book, one.id, &local, line) {
            Ok(name) => book.figures.get_mut(one.id).names.push(name),
            Err(trouble) => {
                lost.push(name::typed(line));
                troubles.push(trouble);
            }
        }
    }
    let rest: Vec<Cursor<'_>> = own.into_iter().filter(|line| !name::gives(line)).cloned().collect();
    formula::read(book, one.id, &rest, &lost, &mut troubles);
    let figure = book.figures.get_mut(one.id);
    if figure.ways.is_empty() && figure.in_code.is_none() && troubles.is_empty() {
        let span = figure.declared.unwrap_or(Span::BOOK);
        troubles.push(Trouble { span, what: What::Figure(FigureTrouble::NoFormula) });
    }
    figure.broken = !troubles.is_empty();
    book.troubles.extend(troubles);
}
