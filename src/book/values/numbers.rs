//! The numbers and words of a line as items: one, a pair or three with slashes, a text.
//!
//! Must not know units or places.

use super::ValueReader;
use crate::book::entry::{Flags, Item};
use crate::book::place::Place;
use crate::book::single::of_number;
use crate::book::trouble::{Trouble, What};
use crate::syntax::{Cursor, Shape, Word};
use crate::units::number::Form::{Decimal, Fraction};
use crate::units::{DimensionId, Number, NumberTrouble, table};
use crate::vocabulary::{Form, Quantity, QuantityId};

/// Decimals that a ratio of teeth is shown with where its teeth are not.
const RATIO_DECIMALS: u8 = 4;

impl ValueReader {
    pub(super) fn push(&mut self, word: Word, si: f64, half: f64, flags: u8, decimals: u8) {
        self.raw.push(Item {
            si,
            half: half as f32,
            start: word.start,
            len: word.len,
            place: Place::CAR,
            unit: None,
            flags,
            decimals,
        });
    }

    /// A text value: a code such as `80W` may have been read as a number with a word stuck to it.
    pub(super) fn text_item(&mut self, cur: &mut Cursor<'_>, word: Word) {
        let mut whole = word;
        while cur.is_stuck(1) && cur.peek_at(1).is_some_and(|next| next.shape != Shape::Comma) {
            cur.bump();
            if let Some(next) = cur.peek() {
                whole.len = (next.end() - whole.start) as u16;
            }
        }
        self.push(whole, 0.0, 0.0, Flags::TEXT, 0);
    }

    /// A ruler's fraction is typed in its lowest terms, so that of a line of them the finest says how finely all were read: beside
    /// 84 3/4 an 86 is 86 0/4.
    pub(super) fn finest_fraction(&mut self, cur: &Cursor<'_>) {
        let text =
            |item: &Item| cur.text.get(item.start as usize..item.start as usize + usize::from(item.len));
        let ruler = |item: &Item| {
            let plain = item.has_value() && !item.is(Flags::STATED | Flags::PART);
            let number = plain.then(|| text(item)).flatten().and_then(|text| Number::parse(text).ok());
            number.filter(|number| number.form == Fraction || number.decimals == 0 && number.form == Decimal)
        };
        let is_fraction = |item: &Item| ruler(item).is_some_and(|number| number.form == Fraction);
        for at in 0..self.raw.len() {
            let Some(item) = self.raw.get(at).filter(|item| ruler(item).is_some()) else { continue };
            let like = self.raw.iter().filter(|other| other.unit == item.unit && is_fraction(other));
            let finest = like.map(|other| other.half).min_by(f32::total_cmp);
            if let Some((item, finest)) = self.raw.get_mut(at).zip(finest) {
                item.half = item.half.min(finest);
            }
        }
    }

    pub(super) fn parts(
        &mut self,
        cur: &Cursor<'_>,
        word: Word,
        id: QuantityId,
        quantity: &Quantity,
        repeat: bool,
    ) -> Result<(), Trouble> {
        let span = cur.span(word);
        let text = cur.str(word);
        let wanted = match quantity.form {
            Form::Pair => 2,
            Form::Triple => 3,
            Form::One => 1,
        };
        let parts = Number::parse_parts(text).map_err(|trouble| of_number(span, &trouble))?;
        if let (Form::One, true, [left, supply]) = (quantity.form, quantity.over_supply, parts.as_slice())
            && supply.value > 0.0
        {
            let leak = 1.0 - left.value / supply.value;
            let half = (left.half + supply.half) / supply.value;
            self.push(word, leak, half, if repeat { Flags::REPEAT } else { 0 }, 4);
            if let Some(item) = self.raw.last_mut() {
                item.unit = Some(table().plain());
            }
            return Ok(());
        }
        if parts.len() != wanted {
            return Err(match Number::parse(text) {
                Err(
                    trouble @ (NumberTrouble::FractionImproper { .. }
                    | NumberTrouble::FractionOffRuler { .. }),
                ) if wanted == 1 => of_number(span, &trouble),
                _ if wanted == 1 => Trouble { span, what: What::NotOneNumber(id) },
                _ => Trouble { span, what: What::NotAPair(id, wanted as u8) },
            });
        }
        // Teeth are one ratio, and counted: it is what the first stands for.
        let ratio = match parts.as_slice() {
            [driven, driving] if quantity.dimension == DimensionId::RATIO && driving.value > 0.0 => {
                Some(driven.value / driving.value)
            }
            _ => None,
        };
        let mut start = word.start;
        for (index, (part, typed)) in parts.iter().zip(text.split('/')).enumerate() {
            let flags = if index > 0 { Flags::PART } else { 0 } | if repeat { Flags::REPEAT } else { 0 };
            let piece = Word { start, len: typed.len() as u16, shape: Shape::Number };
            match ratio.filter(|_| index == 0) {
                Some(ratio) => self.push(piece, ratio, 0.0, flags, RATIO_DECIMALS),
                None => self.push(piece, part.value, part.half, flags, part.decimals),
            }
            start += typed.len() as u32 + 1;
        }
        Ok(())
    }
}
