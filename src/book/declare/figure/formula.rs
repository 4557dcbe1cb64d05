//! The lines of a figure's arithmetic: `is`, and what holds for it.

use super::name::{places, sort_of_name};
use crate::book::Book;
use crate::book::figure::{Checker, Clash, Figure, FigureId, Known, Sort, Term, Test, Way};
use crate::book::names::{folded, nearest};
use crate::book::trouble::{FigureTrouble, Trouble, What};
use crate::source::Span;
use crate::syntax::formula::{Condition, Expr, FormulaMistake, parse, parse_condition};
use crate::syntax::{Cursor, Shape, Word, unquote};

/// What a line of the arithmetic says, and to which way it belongs.
pub(super) fn read(
    book: &mut Book,
    id: FigureId,
    lines: &[Cursor<'_>],
    lost: &[Box<str>],
    troubles: &mut Vec<Trouble>,
) {
    let mut common = Way::default();
    let mut ways: Vec<Way> = Vec::new();
    let mut under = 0;
    for line in lines {
        let mut cur = line.clone();
        let Some(word) = cur.peek() else { continue };
        let figure = book.figures.get(id).clone();
        let keyword = cur.str(word).to_ascii_lowercase();
        if keyword == "is" {
            under = indent(line);
            match way(book, &figure, &mut cur) {
                Ok(way) => ways.push(way),
                Err(trouble) => {
                    // The lines below it are its own all the same.
                    ways.push(Way { text: "is".into(), ..Way::default() });
                    troubles.extend(Some(trouble).filter(|trouble| !is_of(trouble, lost)));
                }
            }
            continue;
        }
        // Deeper than an `is` it is that formula's; else it is the figure's.
        let own = ways.last_mut().filter(|_| indent(line) > under);
        let target = own.unwrap_or(&mut common);
        if let Err(trouble) = beside(book, id, &figure, &keyword, &mut cur, target)
            && !is_of(&trouble, lost)
        {
            troubles.push(trouble);
        }
    }
    for way in &mut ways {
        share(way, &common);
    }
    book.figures.get_mut(id).ways = ways;
}

/// How far in a line stands.
fn indent(line: &Cursor<'_>) -> u32 {
    line.said().start - line.line().start
}

/// What is said of the figure is said of each of its formulas that does not say it itself.
fn share(way: &mut Way, common: &Way) {
    if way.source.is_empty() {
        way.source.clone_from(&common.source);
    }
    if way.convention.is_empty() {
        way.convention.clone_from(&common.convention);
    }
    way.when.extend(common.when.iter().cloned());
    if way.at.is_empty() {
        way.at.clone_from(&common.at);
    }
    way.must.extend(common.must.iter().cloned());
    way.careful.extend(common.careful.iter().cloned());
    way.plain |= common.plain;
    way.inferred |= common.inferred;
    way.estimated |= common.estimated;
    for name in &common.beside {
        if !way.inputs.contains(name) && !way.beside.contains(name) {
            way.beside.push(*name);
        }
    }
}

/// Whether a trouble is about a name whose own line was refused.
fn is_of(trouble: &Trouble, lost: &[Box<str>]) -> bool {
    matches!(&trouble.what, What::Figure(FigureTrouble::Clash(Clash::Unknown { name, .. })) if lost.iter().any(|one| **one == *folded(name)))
}

/// The text after the keyword, up to a quoted text where one ends the line, and where it starts.
fn rest<'a>(cur: &mut Cursor<'a>, to_text: bool) -> (&'a str, u32, Option<&'a str>) {
    let keyword = cur.peek().map_or(0, Word::end);
    cur.bump();
    let from = cur.peek().map_or(keyword, |word| word.start);
    let (mut to, mut text) = (from, None);
    while let Some(word) = cur.peek() {
        if to_text && word.shape == Shape::Text {
            text = Some(unquote(cur.str(word)));
            cur.bump();
            break;
        }
        to = word.end();
        cur.bump();
    }
    (cur.text.get(from as usize..to as usize).unwrap_or_default(), from, text)
}

fn unreadable((span, mistake): (Span, FormulaMistake)) -> Trouble {
    Trouble { span, what: What::Figure(FigureTrouble::Unreadable(mistake)) }
}

/// `is EXPRESSION`.
fn way(book: &Book, figure: &Figure, cur: &mut Cursor<'_>) -> Result<Way, Trouble> {
    let (file, text) = (cur.file, cur.text);
    let (typed, from, _) = rest(cur, false);
    let expr: Expr = parse(typed, file, from).map_err(unreadable)?;
    let known = |name: &str| known(book, figure, name, false);
    let checker = Checker { text, known: &known };
    let term = checker.figure(&expr, figure.dimension).map_err(|clash| trouble_of(figure, clash))?;
    let mut way =
        Way { term, text: typed.split_whitespace().collect::<Vec<_>>().join(" ").into(), ..Way::default() };
    expr.names(&mut |name, _| uses(figure, name, &mut way.inputs));
    // In the order of their lines, so that a chain reads as the figure does.
    way.inputs.sort_unstable();
    Ok(way)
}

/// Every line of a name (it may have one for each place).
fn uses(figure: &Figure, typed: &str, list: &mut Vec<u16>) {
    let name = folded(typed);
    for (at, one) in figure.names.iter().enumerate() {
        if *one.name == *name && !list.contains(&(at as u16)) {
            list.push(at as u16);
        }
    }
}

fn known(book: &Book, figure: &Figure, typed: &str, result: bool) -> Option<Known> {
    let name = folded(typed);
    if result && name == "result" {
        let sort = Sort::of(figure.dimension, Sort::points_of(figure.dimension));
        return Some(Known { name: None, sort, list: false });
    }
    let (at, one) = figure.names.iter().enumerate().find(|(_, one)| *one.name == *name)?;
    // Of several places where any of its lines is.
    let list = figure.names.iter().any(|one| *one.name == *name && one.list);
    Some(Known { name: Some(at as u16), sort: sort_of_name(book, one), list })
}

/// What follows a formula, or stands before all of them.
fn beside(
    book: &mut Book,
    id: FigureId,
    figure: &Figure,
    keyword: &str,
    cur: &mut Cursor<'_>,
    way: &mut Way,
) -> Result<(), Trouble> {
    match keyword {
        "when" | "must" | "careful" => {
            let (file, text) = (cur.file, cur.text);
            let (typed, from, words) = rest(cur, true);
            let condition = parse_condition(typed, file, from).map_err(unreadable)?;
            let test = test(book, figure, text, &condition, words.unwrap_or(typed))?;
            let mut names = Vec::new();
            condition.names(&mut |name, _| uses(figure, name, &mut names));
            names.retain(|name| !way.inputs.contains(name) && !way.beside.contains(name));
            way.beside.extend(names);
            match keyword {
                "when" => way.when.push(test),
                "must" => way.must.push(test),
                _ => way.careful.push(test),
            }
        }
        "source" | "convention" | "called" => {
            let (typed, _, words) = rest(cur, false);
            let words = words.unwrap_or_else(|| unquote(typed));
            match keyword {
                "source" => way.source = words.into(),
                "convention" => way.convention = words.into(),
                // Beside the formulas it is the figure's.
                _ if way.text.is_empty() => book.figures.get_mut(id).called = words.into(),
                _ => way.called = Some(words.into()),
            }
        }
        "plain" => way.plain = true,
        "inferred" => way.inferred = true,
        "estimated" => way.estimated = true,
        "at" => {
            cur.bump();
            way.at = places(cur, figure.sites)?;
        }
        _ => {
            let near = nearest(keyword, super::super::names_of("figure").iter().copied());
            let what = What::PropertyUnknown { of: "figure", near };
            return Err(Trouble { span: cur.here(), what });
        }
    }
    Ok(())
}

fn test(
    book: &Book,
    figure: &Figure,
    text: &str,
    condition: &Condition,
    words: &str,
) -> Result<Test, Trouble> {
    let known = |name: &str| known(book, figure, name, true);
    let checker = Checker { text, known: &known };
    let mut before = &condition.first;
    let mut first = None;
    let mut rest = Vec::new();
    for (compare, expr) in &condition.rest {
        let [one, other] = checker.compared(before, expr).map_err(|clash| trouble_of(figure, clash))?;
        first = first.or(Some(one));
        rest.push((*compare, other));
        before = expr;
    }
    let mut of_result = false;
    condition.names(&mut |name, _| of_result |= name.eq_ignore_ascii_case("result"));
    Ok(Test { first: first.unwrap_or(Term::Number(0.0)), rest, words: words.into(), of_result })
}

/// A clash where it is, with the name that an unknown one is near to.
fn trouble_of(figure: &Figure, mut clash: Clash) -> Trouble {
    let span = match &clash {
        Clash::Unknown { span, .. }
        | Clash::NoFunction(span, _)
        | Clash::Wants { span, .. }
        | Clash::NoUnit(span)
        | Clash::Ambiguous(span, _)
        | Clash::List(span)
        | Clash::Gives(span, ..)
        | Clash::Scale(span, _) => *span,
        Clash::Apart { second, .. } => second.0,
    };
    if let Clash::Unknown { name, near, .. } = &mut clash {
        *near = nearest(name, figure.names.iter().map(|local| &*local.name));
    }
    Trouble { span, what: What::Figure(FigureTrouble::Clash(clash)) }
}
