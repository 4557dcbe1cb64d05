//! The units of a line's values: each word after numbers, and what has none; a word that is no unit either.
//!
//! Must not know places.

use super::ValueReader;
use crate::book::names::nearest;
use crate::book::single::{convert, convert_change, of_number};
use crate::book::trouble::{Trouble, What};
use crate::syntax::{Cursor, Word};
use crate::units::{DimensionId, Found, Number, NumberTrouble, table};
use crate::vocabulary::{Quantity, QuantityId};

impl ValueReader {
    pub(super) fn unit(
        &mut self,
        cur: &Cursor<'_>,
        word: Word,
        id: QuantityId,
        quantity: &Quantity,
        unit_from: &mut usize,
    ) -> Result<(), Trouble> {
        let span = cur.span(word);
        let text = cur.str(word);
        let found = match table().find(text, quantity.dimension) {
            Found::One(unit) => unit,
            Found::Ambiguous(units) => return Err(Trouble { span, what: What::UnitAmbiguous(units) }),
            Found::WrongKind(units) => {
                if quantity.over_supply && table().find_one(text, DimensionId::PRESSURE).is_some() {
                    *unit_from = self.raw.len();
                    return Ok(());
                }
                let is = units.first().copied().unwrap_or_else(|| table().plain());
                return Err(Trouble {
                    span,
                    what: What::UnitWrongKind { quantity: Some(id), wanted: quantity.dimension, is },
                });
            }
            Found::Unknown => return Err(self.unexpected_in(cur, word, quantity)),
        };
        let waiting = self.raw.iter().skip(*unit_from).any(|item| item.unit.is_none());
        if !waiting {
            return Err(match self.raw.last() {
                Some(last) => Trouble { span, what: What::UnitTwice { number: last.span(cur.file) } },
                None => Trouble { span, what: What::WordUnexpected { near: None } },
            });
        }
        if self.changes && found.get().reciprocal {
            return Err(Trouble { span, what: What::ChangeOfPair(id) });
        }
        let convert = if self.changes { convert_change } else { convert };
        for item in self.raw.iter_mut().skip(*unit_from) {
            convert(item, found);
        }
        *unit_from = self.raw.len();
        Ok(())
    }

    /// Numbers left without a unit: fine where a bare number is complete, or typed as degrees and minutes.
    pub(super) fn finish_units(
        &mut self,
        cur: &Cursor<'_>,
        id: QuantityId,
        quantity: &Quantity,
    ) -> Result<(), Trouble> {
        let bare = quantity.dimension.get().bare;
        for item in &mut self.raw {
            if item.unit.is_some() {
                continue;
            }
            if !item.has_value() || bare {
                convert(item, table().plain());
                continue;
            }
            let typed = cur
                .text
                .get(item.start as usize..item.start as usize + item.len as usize)
                .unwrap_or_default();
            let angle = matches!(quantity.dimension, DimensionId::ANGLE | DimensionId::TOE);
            match table().find_one("deg", DimensionId::ANGLE) {
                Some(degrees) if angle && typed.contains(['d', '°']) => convert(item, degrees),
                _ => return Err(Trouble { span: item.span(cur.file), what: What::UnitMissing(id) }),
            }
        }
        Ok(())
    }

    pub(super) fn unexpected(cur: &Cursor<'_>, word: Word) -> Trouble {
        let span = cur.span(word);
        match Number::parse(cur.str(word)) {
            Err(
                trouble
                @ (NumberTrouble::DecimalComma | NumberTrouble::MinutesRange | NumberTrouble::TooLong),
            ) => of_number(span, &trouble),
            _ => Trouble { span, what: What::WordUnexpected { near: None } },
        }
    }

    pub(super) fn unexpected_in(&self, cur: &Cursor<'_>, word: Word, quantity: &Quantity) -> Trouble {
        let text = cur.str(word);
        let span = cur.span(word);
        let near = crate::units::suggest(text, quantity.dimension);
        if near.is_some() || self.raw.last().is_some_and(|item| item.unit.is_none() && item.has_value()) {
            return Trouble { span, what: What::UnitUnknown { wanted: quantity.dimension, near } };
        }
        let clauses = [
            "by", "with", "over", "during", "at", "from", "on", "after", "because", "each", "total", "off",
            "front", "rear", "left", "right", "all",
        ];
        Trouble {
            span,
            what: What::WordUnexpected {
                near: nearest(text, clauses.into_iter()).filter(|_| text.chars().count() > 2),
            },
        }
    }
}
