//! The places of a line's values: one item a place, old ones before their new ones, and no place twice.
//!
//! Must not know numbers or units.

use super::ValueReader;
use crate::book::context::Context;
use crate::book::entry::{Flags, Item};
use crate::book::spread::{count, lay, spread};
use crate::book::trouble::{Trouble, What};
use crate::syntax::Cursor;
use crate::units::DimensionId;
use crate::vocabulary::{Quantity, QuantityId};

impl ValueReader {
    pub(super) fn expand(
        &mut self,
        id: QuantityId,
        quantity: &Quantity,
        context: Context,
        cur: &Cursor<'_>,
        out: &mut Vec<Item>,
    ) -> Result<(), Trouble> {
        let first_new = out.len();
        for group in &self.groups {
            let typed = |(from, to): (usize, usize)| self.raw.get(from..to).unwrap_or_default();
            let (news, olds) = (typed(group.news), typed(group.olds));
            let span = news
                .first()
                .or(olds.first())
                .map_or_else(|| group.place.map_or(cur.here(), |(_, span)| span), |item| item.span(cur.file));
            if news.is_empty() {
                let what = if olds.is_empty() { What::ValueMissing(id) } else { What::ArrowBad };
                return Err(Trouble { span, what });
            }
            if quantity.dimension == DimensionId::FLUID && count(news) == 0 {
                let wants = "the grade and then the amount, such as `75W-90 1.6 L`";
                return Err(Trouble { span, what: What::Incomplete { verb: "fill", wants } });
            }
            let places = &mut self.places;
            if !olds.is_empty() {
                spread(id, quantity, context, group.place, count(news), span, places)?;
                spread(id, quantity, context, group.place, count(olds), span, places)?;
                lay(olds, places, out);
            }
            spread(id, quantity, context, group.place, count(news), span, places)?;
            let start = out.len();
            lay(news, places, out);
            let (before, laid) = out.split_at(start);
            let before = || before.iter().skip(first_new);
            if let Some(again) = laid.iter().find(|item| {
                !item.is(Flags::PART | Flags::REPEAT)
                    && before().any(|before| {
                        before.place == item.place && !before.is(Flags::OLD | Flags::PART | Flags::REPEAT)
                    })
            }) {
                let span = group.place.map_or(again.span(cur.file), |(_, span)| span);
                let first = before()
                    .find(|before| before.place == again.place)
                    .map_or(span, |before| before.span(cur.file));
                return Err(Trouble { span, what: What::PlaceTwice(first) });
            }
        }
        Ok(())
    }
}
