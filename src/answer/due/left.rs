//! What a spare has left, in words: the same on every list.

use crate::Compiled;
use crate::book::model::{Clock, PartId};
use crate::due::Due;
use crate::words::scale::Scale;

/// What is left of its nearest limit, or what it has run where it has none.
#[must_use]
pub fn left(compiled: &Compiled, made: &Due, part: PartId) -> String {
    let cx = compiled.context();
    let Some(life) = made.lives.now(part) else { return String::new() };
    let (limits, _) = cx.book.limits(part);
    let counted = limits.iter().filter(|limit| limit.clock != Clock::Months);
    let nearest = counted.min_by(|a, b| {
        let share =
            |limit: &crate::book::model::LifeAmount| life.on(cx.book, limit.clock).value / limit.value;
        share(b).total_cmp(&share(a))
    });
    let Some(limit) = nearest else {
        let lived = life.on(cx.book, Clock::Time);
        if lived.at_least && lived.value <= 0.0 {
            return "what it ran is not known".to_owned();
        }
        let ran = Scale::plain(Clock::Time).told(lived.value, lived.at_least);
        return if lived.value > 0.0 || lived.at_least { format!("ran {ran}") } else { "new".to_owned() };
    };
    let lived = life.on(cx.book, limit.clock);
    let scale = Scale::typed(limit.clock, cx.text(limit.typed));
    if lived.at_least {
        return format!("what it ran is not known; limit {}", scale.words(limit.value));
    }
    if lived.value <= 0.0 {
        return format!("new, {} left", scale.words(limit.value));
    }
    let rest = (limit.value - lived.value).max(0.0);
    format!("{} of {} left", scale.digits(rest), scale.words(limit.value))
}
