//! Holds a formula to its dimensions as it is read, and puts its literals into SI.
//!
//! A length and a weight do not add up; a sine is of an angle; what is raised to a power that is no number is a plain number.
//! Of temperatures it is known whether they are points of the scale or differences. Must not know values.

use super::{Function, Term};
use crate::source::Span;
use crate::syntax::formula::{Expr, Kind};
use crate::units::{DimensionId, Found, Measure, UnitId, table};

/// What a name of the formula stands for.
#[derive(Debug, Clone, Copy)]
pub struct Known {
    /// Its number among the figure's names; `None` for the figure's own value.
    pub name: Option<u16>,
    /// Its kind.
    pub sort: Sort,
    /// Whether it is of several places.
    pub list: bool,
}

/// Why a formula cannot stand.
#[derive(Debug, Clone, PartialEq)]
pub enum Clash {
    /// A name in the formula that no line of the figure gives.
    Unknown {
        /// Where.
        span: Span,
        /// As typed.
        name: String,
        /// The nearest that a line gives; left to whoever knows the lines.
        near: Option<String>,
    },
    /// No such function.
    NoFunction(Span, String),
    /// Two things that do not go together: "adds", what each is, and where.
    Apart {
        /// What the formula does with them: "adds".
        does: &'static str,
        /// The first and what it is.
        first: (Span, String),
        /// The second and what it is.
        second: (Span, String),
    },
    /// Something else is wanted here: "a sine is of an angle".
    Wants {
        /// Where.
        span: Span,
        /// What is wanted.
        wants: &'static str,
        /// What it is.
        is: String,
    },
    /// A literal's unit is none.
    NoUnit(Span),
    /// A literal's unit means several things.
    Ambiguous(Span, Vec<UnitId>),
    /// A name of several places where one value is wanted.
    List(Span),
    /// It does not fit a figure: what it gives, and what was declared.
    Gives(Span, String, DimensionId),
    /// A point of the temperature scale where a difference is declared, or the other way round.
    Scale(Span, DimensionId),
}

/// What is known of a piece.
#[derive(Debug, Clone, Copy)]
pub struct Sort {
    measure: Measure,
    /// The kind, for words, where it is a name or a literal as it stands.
    kind: Option<DimensionId>,
    /// For a temperature: how many points of the scale it is worth; 0 for a difference. `None` where nobody can say.
    points: Option<f64>,
    /// The number, where it is one.
    number: Option<f64>,
}

impl Sort {
    /// Of a plain number.
    #[must_use]
    pub const fn plain(number: Option<f64>) -> Self {
        Self { measure: Measure::PLAIN, kind: None, points: Some(0.0), number }
    }

    /// Of values of a kind, with what they are worth in points of the scale of temperature.
    #[must_use]
    pub fn of(kind: DimensionId, points: Option<f64>) -> Self {
        Self { measure: Measure::of(kind), kind: Some(kind), points, number: None }
    }

    /// What values of a kind are worth in points of the scale of temperature.
    #[must_use]
    pub fn points_of(kind: DimensionId) -> Option<f64> {
        Some(if kind == DimensionId::TEMPERATURE { 1.0 } else { 0.0 })
    }

    /// The kind, where it is one.
    #[must_use]
    pub const fn kind(self) -> Option<DimensionId> {
        self.kind
    }

    /// Whether a value of this sort can stand in for one of another: in its dimension, and as the same thing of a scale.
    ///
    /// # Errors
    /// The clash, at the places of this and of the other.
    pub fn stands_in(self, (span, other_span): (Span, Span), other: Self) -> Result<(), Clash> {
        let scale = self.points.zip(other.points).is_none_or(|(a, b)| near(a, b));
        if self.measure == other.measure && scale {
            return Ok(());
        }
        let (first, second) = ((other_span, other.words()), (span, self.words()));
        Err(Clash::Apart { does: "stands in for", first, second })
    }

    fn words(self) -> String {
        let kind = match self.points {
            Some(_) if self.measure != Measure::of(DimensionId::TEMPERATURE) => self.kind,
            Some(points) if near(points, 1.0) => Some(DimensionId::TEMPERATURE),
            Some(points) if near(points, 0.0) => Some(DimensionId::TEMPERATURE_DIFFERENCE),
            Some(_) => return "a sum of temperatures".to_owned(),
            None => self.kind,
        };
        self.measure.words(kind)
    }
}

/// Reads formulas of one figure.
pub struct Checker<'a> {
    /// The file's text.
    pub text: &'a str,
    /// What a name stands for.
    pub known: &'a dyn Fn(&str) -> Option<Known>,
}

type Got<T> = Result<T, Clash>;

impl Checker<'_> {
    /// The formula of a figure of that kind.
    ///
    /// # Errors
    /// The first clash.
    pub fn figure(&self, expr: &Expr, wanted: DimensionId) -> Got<Term> {
        let (term, sort) = self.one(expr)?;
        if sort.measure != Measure::of(wanted) {
            return Err(Clash::Gives(expr.span, sort.words(), wanted));
        }
        let points = match wanted {
            DimensionId::TEMPERATURE => 1.0,
            DimensionId::TEMPERATURE_DIFFERENCE => 0.0,
            _ => return Ok(term),
        };
        match sort.points {
            Some(is) if !near(is, points) => Err(Clash::Scale(expr.span, wanted)),
            _ => Ok(term),
        }
    }

    /// Two pieces that are compared.
    ///
    /// # Errors
    /// The first clash.
    pub fn compared(&self, first: &Expr, second: &Expr) -> Got<[Term; 2]> {
        let (one, sort) = self.one(first)?;
        let (other, of_other) = self.one(second)?;
        Self::alike("compares", (first.span, sort), (second.span, of_other))?;
        Self::of_one_scale("compares", (first.span, sort), (second.span, of_other))?;
        Ok([one, other])
    }

    /// Nothing is anything's nothing: a bare 0 goes with all dimensions.
    fn alike(does: &'static str, first: (Span, Sort), second: (Span, Sort)) -> Got<()> {
        let zero = |sort: Sort| sort.number == Some(0.0) && sort.measure.is_plain();
        if first.1.measure == second.1.measure || zero(first.1) || zero(second.1) {
            return Ok(());
        }
        Err(Clash::Apart { does, first: (first.0, first.1.words()), second: (second.0, second.1.words()) })
    }

    /// Whether two pieces stand at one height of the scale: a temperature is neither more nor less than a difference, nor is a
    /// bare 0 any temperature (it would be taken for 0 K).
    fn of_one_scale(does: &'static str, first: (Span, Sort), second: (Span, Sort)) -> Got<()> {
        let warmth = Measure::of(DimensionId::TEMPERATURE);
        let (Some(a), Some(b)) = (first.1.points, second.1.points) else { return Ok(()) };
        if (first.1.measure != warmth && second.1.measure != warmth) || near(a, b) {
            return Ok(());
        }
        Err(Clash::Apart { does, first: (first.0, first.1.words()), second: (second.0, second.1.words()) })
    }

    /// One value: a name of several places is none.
    fn one(&self, expr: &Expr) -> Got<(Term, Sort)> {
        let (term, sort, list) = self.any(expr)?;
        if list { Err(Clash::List(expr.span)) } else { Ok((term, sort)) }
    }

    fn any(&self, expr: &Expr) -> Got<(Term, Sort, bool)> {
        let single = |(term, sort): (Term, Sort)| (term, sort, false);
        match &expr.kind {
            Kind::Number(value, unit) => self.literal(*value, *unit).map(single),
            Kind::Name(name) if name.eq_ignore_ascii_case("pi") => {
                let pi = std::f64::consts::PI;
                Ok((Term::Number(pi), Sort::plain(Some(pi)), false))
            }
            Kind::Name(name) => {
                let Some(known) = (self.known)(name) else {
                    return Err(Clash::Unknown { span: expr.span, name: name.to_string(), near: None });
                };
                Ok((known.name.map_or(Term::Result, Term::Name), known.sort, known.list))
            }
            Kind::Call(word, span, list) => self.call(word, *span, list, expr.span).map(single),
            Kind::Sum(list) => self.sum(list).map(single),
            Kind::Product(list) => self.product(list).map(single),
            Kind::Power(base, negative, exponent) => self.power(base, *negative, exponent).map(single),
        }
    }

    fn literal(&self, value: f64, unit: Option<Span>) -> Got<(Term, Sort)> {
        let Some(span) = unit else { return Ok((Term::Number(value), Sort::plain(Some(value)))) };
        let word = self.text.get(span.start as usize..span.end as usize).unwrap_or_default();
        let (unit, points) = unit_of_literal(word).map_err(|odd| odd.at(span))?;
        let unit = unit.get();
        let si = unit.to_si(value);
        if !si.is_finite() {
            return Err(Clash::NoUnit(span));
        }
        let measure = Measure::of(unit.kind);
        let number = measure.is_plain().then_some(si);
        Ok((Term::Number(si), Sort { measure, kind: Some(unit.kind), points, number }))
    }

    fn sum(&self, list: &[(bool, Expr)]) -> Got<(Term, Sort)> {
        let mut terms = Vec::with_capacity(list.len());
        let mut all: Option<(Span, Sort)> = None;
        for (takes, expr) in list {
            let (term, sort) = self.one(expr)?;
            let sign = if *takes { -1.0 } else { 1.0 };
            let points = sort.points.map(|points| points * sign);
            let number = sort.number.map(|number| number * sign);
            all = Some(match all {
                None => (expr.span, Sort { points, number, ..sort }),
                Some((span, before)) => {
                    let does = if *takes { "takes apart" } else { "adds" };
                    Self::alike(does, (span, before), (expr.span, sort))?;
                    let measure = if before.measure.is_plain() { sort.measure } else { before.measure };
                    let kind = before.kind.or(sort.kind);
                    let points = before.points.zip(points).map(|(a, b)| a + b);
                    let number = before.number.zip(number).map(|(a, b)| a + b);
                    (span, Sort { measure, kind, points, number })
                }
            });
            terms.push((*takes, term));
        }
        let sort = all.map_or(Sort::plain(None), |(_, sort)| sort);
        Ok((Term::Sum(terms), sort))
    }

    fn product(&self, list: &[(bool, Expr)]) -> Got<(Term, Sort)> {
        let mut terms = Vec::with_capacity(list.len());
        let mut all = Sort::plain(Some(1.0));
        for (divides, expr) in list {
            let (term, sort) = self.one(expr)?;
            if *divides && sort.number == Some(0.0) {
                return Err(Clash::Wants {
                    span: expr.span,
                    wants: "something other than nothing to divide by",
                    is: "0".to_owned(),
                });
            }
            // Times a number, points of a scale stay what they are in that measure; times anything else nobody can say.
            let by = |number: f64| if *divides { 1.0 / number } else { number };
            let points = match (all.number, sort.number) {
                (Some(number), None) if !*divides => sort.points.map(|points| points * number),
                (None, Some(number)) => all.points.map(|points| points * by(number)),
                (Some(_), Some(_)) => Some(0.0),
                _ if all.points == Some(0.0) && sort.points == Some(0.0) => Some(0.0),
                _ => None,
            };
            let number = all.number.zip(sort.number).map(|(a, b)| a * by(b));
            let measure =
                if *divides { all.measure.over(sort.measure) } else { all.measure.times(sort.measure) };
            all = Sort { measure, kind: None, points, number };
            terms.push((*divides, term));
        }
        Ok((Term::Product(terms), all))
    }

    fn power(&self, base: &Expr, negative: bool, exponent: &Expr) -> Got<(Term, Sort)> {
        let (of, sort) = self.one(base)?;
        let (mut by, power) = self.one(exponent)?;
        if !power.measure.is_plain() {
            let wants = "a plain number as an exponent";
            return Err(Clash::Wants { span: exponent.span, wants, is: power.words() });
        }
        let number = power.number.map(|number| if negative { -number } else { number });
        if negative {
            by = Term::Sum(vec![(true, by)]);
        }
        let measure = match (sort.measure.is_plain(), number) {
            (true, _) => Some(Measure::PLAIN),
            (false, Some(number)) => sort.measure.raised(number),
            (false, None) => None,
        };
        let Some(measure) = measure else {
            let wants = "a number as the exponent of what has a dimension";
            return Err(Clash::Wants { span: exponent.span, wants, is: sort.words() });
        };
        let points = (sort.points == Some(0.0)).then_some(0.0);
        let value = sort.number.zip(number).map(|(base, by)| libm::pow(base, by));
        let out = Sort { measure, kind: None, points, number: value };
        Ok((Term::Power(Box::new(of), Box::new(by)), out))
    }

    fn call(&self, word: &str, name: Span, list: &[Expr], whole: Span) -> Got<(Term, Sort)> {
        let Some(function) = Function::find(word) else {
            return Err(Clash::NoFunction(name, word.to_owned()));
        };
        if function.takes_many() {
            return self.many(function, list);
        }
        let [only] = list else {
            let is = format!("{} values", list.len());
            return Err(Clash::Wants { span: whole, wants: "one value in this function", is });
        };
        let (term, sort) = self.one(only)?;
        let plain = sort.measure.is_plain();
        let wants = |wants| Err(Clash::Wants { span: only.span, wants, is: sort.words() });
        let out = match function {
            Function::Sin | Function::Cos | Function::Tan => {
                if sort.measure != Measure::angle() {
                    return wants("an angle in a sine, cosine or tangent");
                }
                Sort::plain(None)
            }
            Function::Asin | Function::Acos | Function::Atan => {
                if !plain {
                    return wants("a plain number, such as one length over another, to take the angle of");
                }
                let measure = Measure::angle();
                Sort { measure, kind: Some(DimensionId::ANGLE), points: Some(0.0), number: None }
            }
            Function::Exp | Function::Ln | Function::Floor | Function::Ceil if !plain => {
                return wants("a plain number: divide by a unit first, such as `/ 1 mm`");
            }
            Function::Sqrt => {
                let Some(measure) = sort.measure.raised(0.5) else { return wants("something with a root") };
                Sort {
                    measure,
                    kind: None,
                    points: Some(0.0).filter(|_| sort.points == Some(0.0)),
                    number: None,
                }
            }
            Function::Abs => Sort { number: None, ..sort },
            _ => Sort::plain(None),
        };
        Ok((Term::Call(function, vec![term]), out))
    }

    /// A function of several values, or of a name of several places.
    fn many(&self, function: Function, list: &[Expr]) -> Got<(Term, Sort)> {
        let mut terms = Vec::with_capacity(list.len());
        let mut all: Option<(Span, Sort)> = None;
        let mut points = Some(0.0);
        for expr in list {
            let (term, sort, _) = self.any(expr)?;
            if let Some((span, before)) = all {
                let does = "puts together";
                Self::alike(does, (span, before), (expr.span, sort))?;
                if matches!(function, Function::Min | Function::Max | Function::Mean) {
                    Self::of_one_scale(does, (span, before), (expr.span, sort))?;
                }
                if before.points != sort.points {
                    points = None;
                }
            }
            if all.is_none_or(|(_, before)| before.measure.is_plain()) {
                all = Some((expr.span, sort));
            }
            points = points.and(sort.points);
            terms.push(term);
        }
        let Some((_, sort)) = all else { return Ok((Term::Call(function, terms), Sort::plain(None))) };
        let sort = match function {
            Function::Count => Sort::plain(None),
            // A sum of points of a scale is no point of it.
            Function::Sum => Sort { points: points.filter(|points| *points == 0.0), number: None, ..sort },
            _ => Sort { points, number: None, ..sort },
        };
        Ok((Term::Call(function, terms), sort))
    }
}

/// Why the unit of a number cannot be told from its spelling.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OddUnit {
    /// It is none.
    None,
    /// It is several.
    Several(Vec<UnitId>),
}

impl OddUnit {
    /// As a clash at its place.
    #[must_use]
    pub fn at(self, span: Span) -> Clash {
        match self {
            Self::None => Clash::NoUnit(span),
            Self::Several(units) => Clash::Ambiguous(span, units),
        }
    }
}

/// The unit of a number that stands for itself, by its spelling alone, and for a temperature what it is worth in points of the
/// scale: a number in kelvin may be a point or a difference.
///
/// # Errors
/// Where the spelling is no unit, or units of several kinds.
pub fn unit_of_literal(word: &str) -> Result<(UnitId, Option<f64>), OddUnit> {
    let mut found: Vec<UnitId> = Vec::new();
    for kind in DimensionId::all() {
        match table().find(word, kind) {
            Found::One(id) if !id.get().stands_for_weight && !found.contains(&id) => found.push(id),
            Found::Ambiguous(ids) => return Err(OddUnit::Several(ids)),
            _ => {}
        }
    }
    // A difference of temperatures is written in kelvin; the same letters with an offset are a point of the scale.
    let exact: Vec<UnitId> = found.iter().copied().filter(|id| spelled(*id, word)).collect();
    if !exact.is_empty() {
        found = exact;
    }
    let Some(first) = found.first().copied() else { return Err(OddUnit::None) };
    let same = |id: &UnitId| {
        id.get().dim == first.get().dim && id.get().factor.total_cmp(&first.get().factor).is_eq()
    };
    if !found.iter().all(same) {
        return Err(OddUnit::Several(found));
    }
    let unit = first.get();
    let either = unit.kind == DimensionId::TEMPERATURE && unit.offset == 0.0;
    Ok((first, Sort::points_of(unit.kind).filter(|_| !either)))
}

/// Whether two counts of points are the same to rounding.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9
}

/// Whether a word is a spelling of a unit letter for letter.
fn spelled(id: UnitId, word: &str) -> bool {
    id.get().symbol == word || table().spellings_of(id).any(|spelling| spelling == word)
}
