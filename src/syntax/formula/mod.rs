//! A formula as a tree: sums of products of powers, with the span of every piece.
//!
//! Sums and products are lists, so the tree is never deeper than its parentheses. Must not know units, functions or what a name
//! stands for: those are words with a place in the text.

mod parse;

use crate::source::Span;
pub use parse::{MAX_DEPTH, parse, parse_condition};

/// An expression.
#[derive(Debug, Clone, PartialEq)]
pub struct Expr {
    /// Where it stands.
    pub span: Span,
    /// What it is.
    pub kind: Kind,
}

/// What an expression is.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// A number, and where its unit stands, if it has one.
    Number(f64, Option<Span>),
    /// A name, as typed.
    Name(Box<str>),
    /// A function of expressions; its name in small letters, and where that stands.
    Call(Box<str>, Span, Vec<Expr>),
    /// Added up; `true` takes away.
    Sum(Vec<(bool, Expr)>),
    /// Multiplied; `true` divides.
    Product(Vec<(bool, Expr)>),
    /// Base and exponent; `true` for a negative exponent.
    Power(Box<Expr>, bool, Box<Expr>),
}

/// How two expressions are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Compare {
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    More,
    /// `>=`
    AtLeast,
    /// `=`
    Same,
}

/// A condition: `0 < share <= 1`.
#[derive(Debug, Clone, PartialEq)]
pub struct Condition {
    /// The first expression.
    pub first: Expr,
    /// Each comparison with the one before it.
    pub rest: Vec<(Compare, Expr)>,
}

/// Why a formula cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FormulaMistake {
    /// Nothing there.
    Empty,
    /// Something that fits nothing at its place.
    Unexpected,
    /// A `(` without its `)`, or the other way round.
    Parenthesis,
    /// A minus that is stuck to a word.
    MinusGlued,
    /// Parentheses too deep.
    Deep,
    /// A comparison is wanted, or one is too many.
    Comparison,
}

impl Expr {
    /// Calls `each` with every name in it, in order.
    pub fn names(&self, each: &mut dyn FnMut(&str, Span)) {
        match &self.kind {
            Kind::Number(..) => {}
            Kind::Name(name) => each(name, self.span),
            Kind::Call(_, _, list) => list.iter().for_each(|one| one.names(each)),
            Kind::Sum(list) | Kind::Product(list) => list.iter().for_each(|(_, one)| one.names(each)),
            Kind::Power(base, _, exponent) => {
                base.names(each);
                exponent.names(each);
            }
        }
    }
}

impl Condition {
    /// Calls `each` with every name in it, in order.
    pub fn names(&self, each: &mut dyn FnMut(&str, Span)) {
        self.first.names(each);
        self.rest.iter().for_each(|(_, one)| one.names(each));
    }
}
