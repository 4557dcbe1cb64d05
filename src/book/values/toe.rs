//! Toe as it is kept: an angle, in positive.
//!
//! Must not know how its numbers were read.

use super::{Mode, ValueReader};
use crate::book::context::Context;
use crate::book::trouble::{Trouble, What};
use crate::syntax::Cursor;
use crate::units::{DimensionId, toe};

impl ValueReader {
    /// Toe is kept as an angle, in positive: the total of an axle, or one wheel's.
    pub(super) fn toe(
        &mut self,
        mode: Mode,
        context: Context,
        share: Option<bool>,
        cur: &Cursor<'_>,
    ) -> Result<(), Trouble> {
        for group in &self.groups {
            let on_axle = match group.place {
                Some((place, _)) => place.is_axle() && group.news.1 - group.news.0 == 1,
                None => group.news.1 - group.news.0 == 2,
            };
            for item in self.raw.iter_mut().take(group.news.1).skip(group.olds.0.min(group.news.0)) {
                if !item.has_value() {
                    continue;
                }
                let length = item.unit().get().dim == DimensionId::LENGTH.get().dim;
                let signed = cur
                    .text
                    .as_bytes()
                    .get(item.start as usize)
                    .is_some_and(|b| matches!(b, b'+' | b'-' | 0xE2));
                let direction = context.direction == 0 && !signed && item.si != 0.0 && mode != Mode::Adjust;
                let missing_share = on_axle && share.is_none() && item.si != 0.0;
                let over = length && context.toe_over.is_none();
                if direction || missing_share || over {
                    return Err(Trouble {
                        span: item.span(cur.file),
                        what: What::ToeUnderspecified { direction, share: missing_share, over },
                    });
                }
                let sign = if context.direction < 0 { -1.0 } else { 1.0 };
                // Of an axle the two wheels share the total equally; asin because s = D sin(angle) for one wheel.
                let wheels = if on_axle && share == Some(false) { 2.0 } else { 1.0 };
                let of_slot = if on_axle { 2.0 } else { 1.0 };
                let half = f64::from(item.half);
                let to_angle = |value: f64| {
                    let one = value / wheels;
                    let angle = context.toe_over.filter(|_| length).map_or(one, |over| toe::angle(one, over));
                    angle * of_slot
                };
                item.half = to_angle(half) as f32;
                item.si = sign * to_angle(item.si);
            }
        }
        Ok(())
    }
}
