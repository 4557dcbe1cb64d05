//! `compare`: two gauges held against one thing, or one of them against a reference.
//!
//! Must not know what follows from it.

use super::Reader;
use super::line::Reading;
use crate::book::clauses::look_up;
use crate::book::entry::{Compared, Flags, HeldAgainst, Item};
use crate::book::model::GaugeId;
use crate::book::names::Thing;
use crate::book::place::Place;
use crate::book::single::{number, tolerance};
use crate::book::trouble::{Trouble, What};
use crate::source::Span;
use crate::syntax::{Cursor, Shape, Word};
use crate::units::{DimensionId, Form, Found, Number, UnitId, table};

/// The word for a stated value.
const REFERENCE: &str = "reference";

/// One side of a comparison as typed.
struct Side {
    which: HeldAgainst,
    /// Where it is named.
    span: Span,
    /// Its numbers, each with a stated ±.
    numbers: Vec<(Word, Number, Option<f64>)>,
    /// The unit behind them.
    unit: Option<Word>,
}

impl Reader<'_> {
    /// `compare pg-1 24.0 pg-2 24.6 psi`, `compare pg-1 29.7 reference 30.0 psi`.
    pub(super) fn compare(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let cur = &mut reading.cur;
        let mut sides = [self.side(cur)?, self.side(cur)?];
        if sides[0].which == HeldAgainst::Reference {
            sides.swap(0, 1);
        }
        let [first, second] = &sides;
        let HeldAgainst::Gauge(gauge) = first.which else {
            return Err(incomplete(second.span, "a gauge to hold against the reference"));
        };
        if first.which == second.which {
            return Err(Trouble { span: second.span, what: What::ComparedWithItself(gauge) });
        }
        // One unit for both, behind either or both of them.
        let shared = sides.iter().rev().find_map(|side| side.unit);
        for side in &sides {
            let own = side.unit.or(shared);
            for (word, typed, stated) in &side.numbers {
                let unit = self.unit_read(cur, &sides, own, (*word, typed))?;
                let half = stated.unwrap_or(typed.half);
                self.out.items.push(Item {
                    si: unit.get().to_si(typed.value),
                    half: unit.get().half_to_si(half, typed.value) as f32,
                    start: word.start,
                    len: word.len,
                    place: Place::CAR,
                    unit: Some(unit),
                    flags: if stated.is_some() { Flags::STATED } else { 0 },
                    decimals: typed.decimals,
                });
            }
        }
        let count = sides[0].numbers.len();
        let against = sides[1].which;
        reading.extra.compared = Some(Compared { gauge, against, count });
        self.clauses(reading)
    }

    /// A gauge or the word `reference`, what it read (a comma before each repeat), perhaps the unit.
    fn side(&self, cur: &mut Cursor<'_>) -> Result<Side, Trouble> {
        let Some(word) = cur.peek().filter(|word| word.shape != Shape::Number) else {
            return Err(incomplete(
                cur.here(),
                "two gauges, or a gauge and `reference`, each with what it read",
            ));
        };
        let span = cur.span(word);
        let which = if cur.take_keyword(REFERENCE) {
            HeldAgainst::Reference
        } else {
            let gauge = look_up(cur, &self.book.names, "gauge", |thing| match thing {
                Thing::Gauge(id) => Some(id),
                _ => None,
            })?;
            cur.bump();
            HeldAgainst::Gauge(gauge)
        };
        let mut numbers = Vec::new();
        while let Some(word) = cur.take(Shape::Number) {
            let typed = number(cur, word)?;
            let stated = cur.take(Shape::Tolerance).map(|word| tolerance(cur, word)).transpose()?;
            numbers.push((word, typed, stated));
            if !cur.take_comma() {
                break;
            }
        }
        if numbers.is_empty() {
            return Err(incomplete(
                cur.here(),
                "what each of the two read, such as `pg-1 24.0 pg-2 24.6 psi`",
            ));
        }
        let names = |word: &Word| {
            let text = cur.str(*word);
            text.eq_ignore_ascii_case(REFERENCE) || self.book.names.find(text).is_some()
        };
        let unit = cur.peek().filter(|word| word.shape == Shape::Word && !names(word));
        let unit = unit.filter(|word| !crate::book::values::ends_values(cur.str(*word)));
        if unit.is_some() {
            cur.bump();
        }
        Ok(Side { which, span, numbers, unit })
    }

    /// The unit of a number, which every gauge of the comparison must read.
    fn unit_read(
        &self,
        cur: &Cursor<'_>,
        sides: &[Side; 2],
        unit: Option<Word>,
        (word, typed): (Word, &Number),
    ) -> Result<UnitId, Trouble> {
        let gauges: Vec<GaugeId> = sides
            .iter()
            .filter_map(|side| if let HeldAgainst::Gauge(gauge) = side.which { Some(gauge) } else { None })
            .collect();
        let mut found: Option<UnitId> = None;
        for gauge in gauges {
            let kinds = self.kinds(gauge);
            let Some(first) = kinds.first() else {
                return Err(incomplete(cur.span(word), "gauges that are declared with what they `reads`"));
            };
            let Some(unit) = unit else {
                if typed.form == Form::DegreesMinutes {
                    found = table().find_one("deg", DimensionId::ANGLE);
                } else if kinds.iter().all(|kind| kind.get().bare) {
                    found = Some(table().plain());
                } else {
                    let read = self.book.gauges.get(gauge).and_then(|gauge| gauge.reads.first());
                    let span = cur.span(word);
                    return Err(match read {
                        Some(id) => Trouble { span, what: What::UnitMissing(*id) },
                        None => incomplete(span, "a unit"),
                    });
                }
                continue;
            };
            let text = cur.str(unit);
            let span = cur.span(unit);
            let mut here = None;
            for kind in &kinds {
                match table().find(text, *kind) {
                    Found::One(unit) => here = here.or(Some(unit)),
                    Found::Ambiguous(units) if here.is_none() => {
                        return Err(Trouble { span, what: What::UnitAmbiguous(units) });
                    }
                    Found::Ambiguous(_) | Found::WrongKind(_) | Found::Unknown => {}
                }
            }
            if here.is_none() && !table().knows(text) {
                let near = crate::units::suggest(text, *first);
                return Err(Trouble { span, what: What::UnitUnknown { wanted: *first, near } });
            }
            let same = |unit: &UnitId| found.is_none_or(|found| found.get().dim == unit.get().dim);
            let Some(here) = here.filter(same) else {
                return Err(Trouble { span, what: What::ComparedInOtherUnit(gauge) });
            };
            found = found.or(Some(here));
        }
        Ok(found.unwrap_or_else(|| table().plain()))
    }

    /// What kinds of unit a gauge shows: those of what it reads, and that of its own resolution.
    fn kinds(&self, gauge: GaugeId) -> Vec<DimensionId> {
        let Some(gauge) = self.book.gauges.get(gauge) else { return Vec::new() };
        let read = gauge.reads.iter().map(|id| self.book.vocabulary.get(*id).dimension);
        let mut kinds: Vec<DimensionId> = read.filter(|kind| !kind.get().is_text()).collect();
        if let Some(resolution) = gauge.resolution {
            let dim = resolution.unit().get().dim;
            // One that reads a rate shows newtons and millimetres.
            if !kinds.iter().any(|kind| kind.get().dims().contains(&dim)) {
                kinds.extend(DimensionId::all().filter(|kind| kind.get().dim == dim));
            }
        }
        kinds
    }
}

fn incomplete(span: Span, wants: &'static str) -> Trouble {
    Trouble { span, what: What::Incomplete { verb: "compare", wants } }
}
