//! A line that gives a name of a formula its meaning: `c_r = tyre-circumference right  above zero`.

use super::{is_taken, number};
use crate::book::Book;
use crate::book::figure::{Figure, FigureId, Limit, Line, Name, Sites, Sort, Source, Where};
use crate::book::names::{folded, is_mark, nearest};
use crate::book::place::Place;
use crate::book::trouble::{FigureTrouble, Trouble, What};
use crate::source::Span;
use crate::syntax::{Cursor, Shape, unquote};
use crate::units::{DimensionId, table};
use crate::vocabulary::{Form, Places};

/// Whether a line gives a name.
pub(super) fn gives(cur: &Cursor<'_>) -> bool {
    cur.peek_at(1).is_some_and(|word| cur.str(word) == "=")
}

/// The name as typed, in small letters.
pub(super) fn typed(cur: &Cursor<'_>) -> Box<str> {
    folded(cur.peek().map_or("", |word| cur.str(word))).into()
}

/// What may stand after the first source.
const AFTER: [&str; 6] = ["else", "above", "within", "at", "beside", "needs"];

/// Reads such a line.
pub(super) fn read(
    book: &Book,
    id: FigureId,
    local: &[Box<str>],
    line: &Cursor<'_>,
) -> Result<Name, Trouble> {
    let mut cur = line.clone();
    let figure = book.figures.get(id).clone();
    let wrong = |cur: &Cursor<'_>| Trouble { span: cur.here(), what: What::NameMissing("name of a formula") };
    let word = cur.take(Shape::Word).ok_or_else(|| wrong(line))?;
    let span = cur.span(word);
    let text = cur.str(word);
    let ok = |each: char| each.is_alphanumeric() || matches!(each, '_' | '-') || is_mark(each);
    if !text.starts_with(char::is_alphabetic) || !text.chars().all(ok) {
        return Err(Trouble { span, what: What::NameMissing("name of a formula") });
    }
    let own = folded(text);
    if is_taken(&own) || table().knows(text) || table().knows(&own) {
        return Err(Trouble { span, what: What::Figure(FigureTrouble::LocalReserved) });
    }
    cur.bump();
    let mut name = Name {
        name: own.into(),
        at: Vec::new(),
        sources: Vec::new(),
        limit: Limit::None,
        beside: false,
        needs: None,
        list: false,
        span,
    };
    let of = Of { book, figure: &figure, local };
    // What further sources, and further lines of the name, have to be of: the kind of the first.
    let before = figure.names.iter().find(|one| one.name == name.name);
    let mut first = before.and_then(|one| Some((one.span, sort_of(book, one.sources.first()?))));
    name.sources.push(of.source(&mut cur, &mut first)?);
    while let Some(word) = cur.peek() {
        let here = cur.span(word);
        cur.bump();
        match cur.str(word).to_ascii_lowercase().as_str() {
            "," => {}
            "else" => name.sources.push(of.source(&mut cur, &mut first)?),
            "beside" => name.beside = true,
            "needs" => name.needs = Some(super::super::text_value(&mut cur, "needs")?.into()),
            "above" => {
                let zero = cur.peek().map_or("", |word| cur.str(word));
                if !matches!(zero, "zero" | "0") {
                    let what = What::PropertyValue { property: "above", wants: "`zero`" };
                    return Err(Trouble { span: cur.here(), what });
                }
                cur.bump();
                name.limit = Limit::AboveZero;
            }
            "within" => name.limit = within(&mut cur, of.dimension(&name))?,
            "at" => name.at = places(&mut cur, figure.sites)?,
            _ => {
                let near = nearest(cur.str(word), AFTER.into_iter());
                return Err(Trouble { span: here, what: What::WordUnexpected { near } });
            }
        }
    }
    name.list = name.sources.iter().any(|source| match source {
        Source::Value { at, .. } => {
            matches!(at, Where::EachCorner | Where::EachDriven | Where::EachCylinder)
        }
        _ => false,
    });
    Ok(name)
}

/// The kind of a name's values: that of its first source, to which all others are held.
pub(super) fn sort_of_name(book: &Book, name: &Name) -> Sort {
    name.sources.first().map_or(Sort::plain(None), |source| sort_of(book, source))
}

/// The kind of a source's values.
fn kind_of(book: &Book, source: &Source) -> DimensionId {
    match source {
        Source::Value { quantity, figure, line, .. } => {
            let of_figure = figure.map(|id| book.figures.get(id).dimension);
            let of_quantity = quantity.map(|id| book.vocabulary.get(id).dimension);
            // As it is looked up: a figure where there is one, but no figure where a typed line is asked for.
            let any = *line == Line::Any;
            let kind = if any { of_figure.or(of_quantity) } else { of_quantity.or(of_figure) };
            kind.unwrap_or(DimensionId::RATIO)
        }
        Source::With { dimension, .. } | Source::Number { dimension, .. } => *dimension,
        Source::Cylinders | Source::Gears => DimensionId::COUNT,
        Source::ToeOver => DimensionId::LENGTH,
        Source::SessionLaps => DimensionId::LAPS,
        Source::SessionTime => DimensionId::TIME,
    }
}

fn sort_of(book: &Book, source: &Source) -> Sort {
    let kind = kind_of(book, source);
    match source {
        Source::Number { points, .. } => Sort::of(kind, *points),
        _ => Sort::of(kind, Sort::points_of(kind)),
    }
}

/// Places after `at`.
pub(super) fn places(cur: &mut Cursor<'_>, sites: Sites) -> Result<Vec<Place>, Trouble> {
    let mut all = Vec::new();
    while let Some(place) = cur.peek().and_then(|word| Place::parse(cur.str(word))) {
        let corners = place.corners();
        let spread = matches!(sites, Sites::Corners | Sites::FrontCorners) && corners.len() > 1;
        let these = if spread { corners } else { &[place] };
        if these.iter().any(|place| !sites.has(*place)) {
            let what = What::Figure(FigureTrouble::PlaceWrong { wants: sites.wants() });
            return Err(Trouble { span: cur.here(), what });
        }
        all.extend_from_slice(these);
        cur.bump();
        cur.take_comma();
    }
    if all.is_empty() {
        let what =
            What::PropertyValue { property: "at", wants: "the places it holds for, such as `at RF LR`" };
        return Err(Trouble { span: cur.here(), what });
    }
    Ok(all)
}

fn within(cur: &mut Cursor<'_>, dimension: DimensionId) -> Result<Limit, Trouble> {
    let typed = cur.peek().map_or("", |word| cur.str(word));
    let said = ("within", "a range with its unit, such as 0..100 %", &AFTER[..]);
    let (low, high, unit) = super::super::quantity::range(cur, dimension, said)?;
    let symbol = unit.get().shown();
    let room = if symbol.is_empty() { "" } else { " " };
    let (from, to) = typed.split_once("..").unwrap_or_default();
    Ok(Limit::Within(low, high, format!("from {from} to {to}{room}{symbol}").into()))
}

/// What the line is read for.
struct Of<'a> {
    book: &'a Book,
    figure: &'a Figure,
    local: &'a [Box<str>],
}

impl Of<'_> {
    fn dimension(&self, name: &Name) -> DimensionId {
        name.sources.first().map_or(DimensionId::RATIO, |source| kind_of(self.book, source))
    }

    /// A source, held to what the first one is.
    fn source(&self, cur: &mut Cursor<'_>, first: &mut Option<(Span, Sort)>) -> Result<Source, Trouble> {
        let (start, mut words) = (cur.here(), cur.clone());
        let source = self.any_source(cur, first.and_then(|(_, sort)| sort.kind()))?;
        let sort = sort_of(self.book, &source);
        // Up to the texts that say what a number is.
        let mut span = start;
        while let Some(word) =
            words.peek().filter(|word| word.shape != Shape::Text && word.start < cur.here().start)
        {
            span.end = word.end();
            words.bump();
        }
        let (held, is) = *first.get_or_insert((span, sort));
        sort.stands_in((span, held), is)
            .map_err(|clash| Trouble { span, what: What::Figure(FigureTrouble::Clash(clash)) })?;
        Ok(source)
    }

    fn any_source(&self, cur: &mut Cursor<'_>, wanted: Option<DimensionId>) -> Result<Source, Trouble> {
        let wants = "a quantity or figure, `with KEY`, `session laps`, or a number with its unit";
        let Some(word) = cur.peek() else {
            return Err(Trouble {
                span: cur.here(),
                what: What::PropertyValue { property: "a name's value", wants },
            });
        };
        if word.shape == Shape::Number {
            return Self::stated(cur, wanted);
        }
        if word.shape != Shape::Word {
            return Err(Trouble {
                span: cur.here(),
                what: What::PropertyValue { property: "a name's value", wants },
            });
        }
        let text = cur.str(word).to_ascii_lowercase();
        let part = match text.as_str() {
            "first" => 1,
            "second" => 2,
            "third" => 3,
            _ => 0,
        };
        let line = match text.as_str() {
            "read" => Line::Read,
            "set" => Line::Set,
            "typed" => Line::Typed,
            _ => Line::Any,
        };
        if part > 0 {
            cur.bump();
            if !cur.take_keyword("of") {
                let what =
                    What::PropertyValue { property: "first, second and third", wants: "`of` and a quantity" };
                return Err(Trouble { span: cur.here(), what });
            }
            return self.value(cur, Line::Typed, part);
        }
        match text.as_str() {
            "read" | "set" | "typed" => {
                cur.bump();
                self.value(cur, line, 0)
            }
            "with" => {
                cur.bump();
                self.with(cur)
            }
            "session" => {
                cur.bump();
                if cur.take_keyword("laps") {
                    Ok(Source::SessionLaps)
                } else if cur.take_keyword("time") {
                    Ok(Source::SessionTime)
                } else {
                    let what = What::PropertyValue { property: "session", wants: "`laps` or `time`" };
                    Err(Trouble { span: cur.here(), what })
                }
            }
            "cylinders" | "gears" | "toe-over" if self.book.vocabulary.find(&text).is_none() => {
                cur.bump();
                Ok(match text.as_str() {
                    "cylinders" => Source::Cylinders,
                    "gears" => Source::Gears,
                    _ => Source::ToeOver,
                })
            }
            _ => self.value(cur, Line::Any, 0),
        }
    }

    /// `0.745 kg/L "petrol" "EN 228"`: a number, what it is, where it is from.
    fn stated(cur: &mut Cursor<'_>, wanted: Option<DimensionId>) -> Result<Source, Trouble> {
        let assumed = cur.before().is_some_and(|word| cur.str(word).eq_ignore_ascii_case("else"));
        let (si, unit, points) = number(cur, wanted)?;
        let text = |cur: &mut Cursor<'_>| cur.take(Shape::Text).map(|word| unquote(cur.str(word)).to_owned());
        let words = text(cur).unwrap_or_else(|| "a stated number".to_owned());
        let source = text(cur).unwrap_or_else(|| "stated in the figure".to_owned());
        Ok(Source::Number {
            si,
            dimension: unit.get().kind,
            points,
            words: words.into(),
            source: source.into(),
            assumed,
        })
    }

    /// `with fuel of lf`: a condition of the line that gave another name, or of the session.
    fn with(&self, cur: &mut Cursor<'_>) -> Result<Source, Trouble> {
        let Some(word) = cur.take(Shape::Word) else {
            let what = What::PropertyValue { property: "with", wants: "a condition, such as `with fuel`" };
            return Err(Trouble { span: cur.here(), what });
        };
        let key = folded(cur.str(word));
        let Some(dimension) = condition(self.book, &key) else {
            let what = What::Figure(FigureTrouble::NameUnknown { near: None });
            return Err(Trouble { span: cur.span(word), what });
        };
        let mut of = None;
        if cur.take_keyword("of") {
            let name = cur.take(Shape::Word).map(|word| (cur.span(word), folded(cur.str(word))));
            let Some((span, name)) = name else {
                let what = What::PropertyValue { property: "of", wants: "a name of this figure" };
                return Err(Trouble { span: cur.here(), what });
            };
            let Some(at) = self.local.iter().position(|one| **one == *name) else {
                let near = nearest(&name, self.local.iter().map(|one| &**one));
                return Err(Trouble { span, what: What::Figure(FigureTrouble::NameUnknown { near }) });
            };
            of = Some(at as u16);
        }
        Ok(Source::With { key: key.into(), dimension, of })
    }

    fn value(&self, cur: &mut Cursor<'_>, line: Line, part: u8) -> Result<Source, Trouble> {
        let Some(word) = cur.take(Shape::Word) else {
            let what = What::PropertyValue { property: "a name's value", wants: "a quantity or a figure" };
            return Err(Trouble { span: cur.here(), what });
        };
        let span = cur.span(word);
        let name = folded(cur.str(word));
        let quantity = self.book.vocabulary.find(&name);
        // A part's own figure (what the spring measures) is no figure of the car that carries it.
        let on_part = |id: &FigureId| self.book.figures.get(*id).sites == Sites::Part;
        let figure = self.book.figures.find(&name);
        let figure =
            figure.filter(|id| self.figure.sites == Sites::Part || quantity.is_none() || !on_part(id));
        if quantity.is_none() && (figure.is_none() || line != Line::Any) {
            let quantities = self.book.vocabulary.iter().map(|(_, one)| &*one.name);
            let near = nearest(&name, quantities.chain(self.book.figures.iter().map(|(_, one)| &*one.name)));
            return Err(Trouble { span, what: What::Figure(FigureTrouble::NameUnknown { near }) });
        }
        let several = quantity.filter(|id| {
            let quantity = self.book.vocabulary.get(*id);
            quantity.form != Form::One && quantity.dimension != DimensionId::RATIO
        });
        if let Some(several) = several.filter(|_| part == 0 && figure.is_none()) {
            return Err(Trouble { span, what: What::Figure(FigureTrouble::SeveralNumbers(several)) });
        }
        if quantity.is_some_and(|id| self.book.vocabulary.get(id).dimension.get().is_text())
            && figure.is_none()
        {
            return Err(Trouble { span, what: What::Figure(FigureTrouble::NotANumber) });
        }
        let mut line = line;
        let at = self.at(cur, quantity.map(|id| self.book.vocabulary.get(id).places), figure, span)?;
        if line == Line::Read && cur.take_keyword("during") {
            if !cur.take_keyword("session") {
                let what = What::PropertyValue { property: "during", wants: "`session`" };
                return Err(Trouble { span: cur.here(), what });
            }
            line = Line::InSession;
        }
        Ok(Source::Value { name: name.into(), quantity, figure, line, part, at })
    }

    /// Where a name's value is read, held to where it has one.
    fn at(
        &self,
        cur: &mut Cursor<'_>,
        quantity: Option<Places>,
        figure: Option<FigureId>,
        span: Span,
    ) -> Result<Where, Trouble> {
        let sites = self.figure.sites;
        let of_figure = figure.map(|id| self.book.figures.get(id));
        let mut has = quantity.unwrap_or_default();
        if let Some(figure) = of_figure {
            has = has.and(figure.places);
        }
        let on_part = of_figure.is_some_and(|figure| figure.sites == Sites::Part);
        let word = cur.peek().filter(|word| word.shape == Shape::Word);
        let typed = word.map_or(String::new(), |word| cur.str(word).to_ascii_lowercase());
        let here = cur.here();
        let (found, place, class) = match typed.as_str() {
            "left" if sites == Sites::Axles => (true, Where::Left, Places::CORNER),
            "right" if sites == Sites::Axles => (true, Where::Right, Places::CORNER),
            "axle" if is_corner(sites) => (true, Where::Axle, Places::AXLE),
            "other-axle" if is_corner(sites) || sites == Sites::Axles => {
                (true, Where::OtherAxle, Places::AXLE)
            }
            "across" if sites == Sites::Corners => (true, Where::Across, Places::CORNER),
            "next" if sites == Sites::Gears => (true, Where::Next, Places::GEAR),
            "each-corner" => (true, Where::EachCorner, Places::CORNER),
            "each-driven" => (true, Where::EachDriven, Places::CORNER),
            "each-cylinder" => (true, Where::EachCylinder, Places::CYLINDER),
            "left" | "right" | "axle" | "other-axle" | "across" | "next" => {
                let what = What::Figure(FigureTrouble::PlaceWrong { wants: "a place that this figure has" });
                return Err(Trouble { span: here, what });
            }
            other => match Place::parse(other) {
                Some(place) => (true, Where::At(place), place.class()),
                None => (false, Where::Here, sites.places()),
            },
        };
        if found {
            cur.bump();
        }
        if sites == Sites::Part || on_part {
            let fits = (sites == Sites::Part) && !found;
            return if fits {
                Ok(Where::Here)
            } else {
                Err(Self::misplaced(here, span, found, of_figure.map(|one| one.sites), has))
            };
        }
        if has.has(class) {
            return Ok(place);
        }
        if !found && has.has(Places::CAR) {
            return Ok(Where::At(Place::CAR));
        }
        Err(Self::misplaced(here, span, found, of_figure.map(|one| one.sites), has))
    }

    fn misplaced(here: Span, name: Span, found: bool, sites: Option<Sites>, has: Places) -> Trouble {
        let wants = match sites {
            Some(sites) => sites.wants(),
            None if has.has(Places::CORNER) => Sites::Corners.wants(),
            None if has.has(Places::AXLE) => Sites::Axles.wants(),
            None if has.has(Places::CYLINDER) => Sites::Cylinders.wants(),
            None if has.has(Places::GEAR) => Sites::Gears.wants(),
            None => Sites::Car.wants(),
        };
        let span = if found { here } else { name };
        Trouble { span, what: What::Figure(FigureTrouble::PlaceWrong { wants }) }
    }
}

fn is_corner(sites: Sites) -> bool {
    matches!(sites, Sites::Corners | Sites::FrontCorners)
}

/// The kind of a condition's value.
fn condition(book: &Book, key: &str) -> Option<DimensionId> {
    Some(match key {
        "fuel" => DimensionId::VOLUME,
        "air" | "track" | "gas" | "water" | "oil" => DimensionId::TEMPERATURE,
        "driver" | "ballast" => DimensionId::MASS,
        "humidity" | "damp" => DimensionId::RATIO,
        _ => {
            let id = book.vocabulary.find(key)?;
            book.vocabulary.get(id).dimension
        }
    })
}
