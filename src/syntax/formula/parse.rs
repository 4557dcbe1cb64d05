//! Text to a formula's tree. pest types end here.

use super::{Compare, Condition, Expr, FormulaMistake, Kind};
use crate::source::{FileId, Span};
use pest::Parser as _;
use pest::iterators::Pair;

/// Parentheses may stand this deep.
pub const MAX_DEPTH: usize = 32;

#[allow(missing_docs)]
mod grammar {
    //! What pest generates from `grammar/formula.pest`.
    #[derive(pest_derive::Parser)]
    #[grammar = "grammar/formula.pest"]
    pub struct FormulaParser;
}
use grammar::{FormulaParser, Rule};

/// A mistake and where it is.
type Wrong = (Span, FormulaMistake);

/// The text that is read, and where it stands in its file.
#[derive(Clone, Copy)]
struct At {
    file: FileId,
    base: u32,
}

impl At {
    fn span(self, pair: &Pair<'_, Rule>) -> Span {
        let span = pair.as_span();
        Span::new(self.file, self.base + span.start() as u32, self.base + span.end() as u32)
    }
}

/// Reads a formula that stands at byte `base` of a file.
///
/// # Errors
/// The first mistake, and where.
pub fn parse(text: &str, file: FileId, base: u32) -> Result<Expr, Wrong> {
    let pair = first(Rule::formula, text, file, base)?;
    let at = At { file, base };
    let sum = pair.into_inner().find(|one| one.as_rule() == Rule::sum);
    sum.map(|sum| expression(at, sum)).ok_or((whole(text, file, base), FormulaMistake::Empty))
}

/// Reads a condition, such as `0 < share <= 1`.
///
/// # Errors
/// The first mistake, and where.
pub fn parse_condition(text: &str, file: FileId, base: u32) -> Result<Condition, Wrong> {
    let pair = first(Rule::condition, text, file, base)?;
    let at = At { file, base };
    let mut first = None;
    let mut rest = Vec::new();
    let mut compare = Compare::Same;
    for one in pair.into_inner() {
        match one.as_rule() {
            Rule::compare => {
                compare = match one.as_str() {
                    "<" => Compare::Less,
                    ">" => Compare::More,
                    "<=" | "\u{2264}" => Compare::AtMost,
                    ">=" | "\u{2265}" => Compare::AtLeast,
                    _ => Compare::Same,
                }
            }
            Rule::sum if first.is_none() => first = Some(expression(at, one)),
            Rule::sum => rest.push((compare, expression(at, one))),
            _ => {}
        }
    }
    first.map(|first| Condition { first, rest }).ok_or((whole(text, file, base), FormulaMistake::Empty))
}

fn whole(text: &str, file: FileId, base: u32) -> Span {
    Span::new(file, base, base + text.len() as u32)
}

fn first(rule: Rule, text: &str, file: FileId, base: u32) -> Result<Pair<'_, Rule>, Wrong> {
    if text.trim().is_empty() {
        return Err((whole(text, file, base), FormulaMistake::Empty));
    }
    let mut depth = 0_usize;
    for (at, each) in text.char_indices() {
        let here = Span::new(file, base + at as u32, base + at as u32 + 1);
        match each {
            '(' => depth += 1,
            ')' if depth == 0 => return Err((here, FormulaMistake::Parenthesis)),
            ')' => depth -= 1,
            _ => {}
        }
        if depth > MAX_DEPTH {
            return Err((here, FormulaMistake::Deep));
        }
    }
    if depth > 0 {
        let open = text.rfind('(').unwrap_or(0) as u32;
        return Err((Span::new(file, base + open, base + open + 1), FormulaMistake::Parenthesis));
    }
    let found = FormulaParser::parse(rule, text);
    match found {
        Ok(mut pairs) => pairs.next().ok_or((whole(text, file, base), FormulaMistake::Empty)),
        Err(error) => {
            let pos = match error.location {
                pest::error::InputLocation::Pos(at) | pest::error::InputLocation::Span((at, _)) => at,
            };
            Err(wrong(rule, text, file, base, pos))
        }
    }
}

/// What stands where the grammar gave up.
fn wrong(rule: Rule, text: &str, file: FileId, base: u32, pos: usize) -> Wrong {
    let rest = text.get(pos..).unwrap_or_default();
    let skip = rest.len() - rest.trim_start().len();
    let from = pos + skip;
    let rest = rest.trim_start();
    let len = rest.find(char::is_whitespace).unwrap_or(rest.len());
    let span = Span::new(file, base + from as u32, base + (from + len) as u32);
    if rest.starts_with(['-', '\u{2212}']) {
        return (span, FormulaMistake::MinusGlued);
    }
    let compares = rest.starts_with(['<', '>', '=', '\u{2264}', '\u{2265}']);
    if (rule == Rule::condition) != compares && (compares || rest.is_empty()) {
        return (if rest.is_empty() { whole(text, file, base) } else { span }, FormulaMistake::Comparison);
    }
    (span, FormulaMistake::Unexpected)
}

fn expression(at: At, pair: Pair<'_, Rule>) -> Expr {
    let span = at.span(&pair);
    match pair.as_rule() {
        Rule::sum => {
            let mut list = Vec::new();
            let mut takes = false;
            for one in pair.into_inner() {
                match one.as_rule() {
                    Rule::negative | Rule::minus => takes = true,
                    Rule::plus => takes = false,
                    _ => list.push((std::mem::take(&mut takes), expression(at, one))),
                }
            }
            single(list, span, Kind::Sum)
        }
        Rule::product => {
            let mut list = Vec::new();
            let mut divides = false;
            for one in pair.into_inner() {
                match one.as_rule() {
                    Rule::over => divides = true,
                    Rule::times => divides = false,
                    _ => list.push((std::mem::take(&mut divides), expression(at, one))),
                }
            }
            single(list, span, Kind::Product)
        }
        Rule::power => {
            let mut negative = false;
            let mut base = None;
            for one in pair.into_inner() {
                match (one.as_rule(), base.take()) {
                    (Rule::negative, before) => {
                        negative = true;
                        base = before;
                    }
                    (_, None) => base = Some(expression(at, one)),
                    (_, Some(before)) => {
                        let exponent = Box::new(expression(at, one));
                        base = Some(Expr { span, kind: Kind::Power(Box::new(before), negative, exponent) });
                    }
                }
            }
            base.unwrap_or(Expr { span, kind: Kind::Sum(Vec::new()) })
        }
        Rule::group => {
            let inner = pair.into_inner().find(|one| one.as_rule() == Rule::sum);
            let kind = inner.map_or(Kind::Sum(Vec::new()), |inner| expression(at, inner).kind);
            Expr { span, kind }
        }
        Rule::call => {
            let mut name = (Box::default(), span);
            let mut list = Vec::new();
            for one in pair.into_inner() {
                match one.as_rule() {
                    Rule::word => name = (one.as_str().to_lowercase().into(), at.span(&one)),
                    _ => list.push(expression(at, one)),
                }
            }
            Expr { span, kind: Kind::Call(name.0, name.1, list) }
        }
        Rule::literal => {
            let mut value = 0.0;
            let mut unit = None;
            for one in pair.into_inner() {
                match one.as_rule() {
                    Rule::number => value = one.as_str().parse().unwrap_or(f64::INFINITY),
                    Rule::fraction | Rule::mixed => value = fraction(one.as_str()),
                    _ => unit = Some(at.span(&one)),
                }
            }
            Expr { span, kind: Kind::Number(value, unit) }
        }
        _ => Expr { span, kind: Kind::Name(pair.as_str().into()) },
    }
}

/// The value of `1/8` or `1 1/2`.
fn fraction(text: &str) -> f64 {
    let (whole, part) = text.split_once(' ').unwrap_or(("0", text));
    let (above, below) = part.split_once('/').unwrap_or((part, "1"));
    let number = |digits: &str| digits.parse().unwrap_or(f64::INFINITY);
    number(whole) + number(above) / number(below)
}

/// A list of one, taken as it stands, is that one.
fn single(mut list: Vec<(bool, Expr)>, span: Span, of: fn(Vec<(bool, Expr)>) -> Kind) -> Expr {
    match list.pop() {
        Some((false, one)) if list.is_empty() => one,
        Some(last) => {
            list.push(last);
            Expr { span, kind: of(list) }
        }
        None => Expr { span, kind: of(list) },
    }
}
