//! Good parts on the shelf that go on a car, kind by kind, and what life each has left for what is planned.
//!
//! Must not know which of them is fitted before the event.

use crate::book::model::{CarId, Clock, KindId, PartId};
use crate::due::Due;
use crate::due::fitted::{Whereabouts, goes_there};
use crate::due::row::{Action, Makings};
use crate::due::spares::ready;
use crate::report::teller::Teller;
use crate::report::view::aboard::aboard;
use crate::report::view::parts;
use crate::view::scale::Scale;
use schemars::JsonSchema;
use serde::Serialize;

/// Spares of a kind for a car.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Spares {
    /// The kind.
    pub kind: String,
    /// Where it goes: "LR RR".
    pub places: String,
    /// The parts, those with enough life for the event first. Empty where one is wanted and none is there.
    pub parts: Vec<Kept>,
    /// How many more.
    pub more: usize,
}

/// A part on the shelf.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Kept {
    /// The part.
    pub part: String,
    /// Its spec and serial.
    pub about: String,
    /// "223 of 300 min left", "ran 161 min, no limit".
    pub left: String,
    /// Whether that is enough for what is expected at the event.
    pub enough: bool,
    /// The other cars of the event that it goes on.
    pub also: String,
    /// The line that put it on the shelf, or that declares it.
    pub src: String,
}

/// Parts told of one kind.
const MOST: usize = 6;

/// The spares for a car.
pub(super) fn spares(tell: &Teller<'_>, made: &Due, there: &Whereabouts, car: CarId) -> Vec<Spares> {
    let cx = &tell.cx;
    let cut = made.plan.cut;
    let with = Makings { book: cx.book, history: cx.history, lives: &made.lives, there, plan: &made.plan };
    let on = aboard(tell, car, cut);
    let mut kinds: Vec<KindId> = on.iter().map(|one| one.kind).collect();
    // An empty place has a kind too.
    kinds.extend(made.rows.iter().filter(|row| row.fitted.car == car).map(|row| row.fitted.kind));
    kinds.sort_unstable();
    kinds.dedup();
    let mut list = Vec::new();
    for kind in kinds {
        let Some(declared) = cx.book.kinds.get(kind.0 as usize) else { continue };
        let own = || made.rows.iter().filter(move |row| row.fitted.car == car && row.fitted.kind == kind);
        let nested = own().any(|row| row.fitted.inside.is_some());
        let goes = |on: CarId| own().any(|row| goes_there(cx.book, kind, on, row.fitted.place)) || nested;
        let plan = made.plan.cars.iter().find(|plan| plan.car == car).filter(|_| goes(car));
        let mut parts = plan.map_or_else(Vec::new, |plan| ready(with, kind, plan));
        parts.sort_by(|a, b| b.left.total_cmp(&a.left).then(a.part.cmp(&b.part)));
        let wanted = own().any(|row| matches!(row.action, Action::Fit | Action::Replace | Action::Carry));
        if parts.is_empty() && !wanted {
            continue;
        }
        let mut places: Vec<String> = own().map(|row| cx.place(row.fitted.place)).collect();
        places.dedup();
        let more = parts.len().saturating_sub(MOST);
        parts.truncate(MOST);
        list.push(Spares {
            kind: declared.named.typed.replace('-', " "),
            places: places.join(" "),
            parts: parts.iter().map(|one| kept(tell, made, one.part, one.left >= 1.0, car)).collect(),
            more,
        });
    }
    list
}

fn kept(tell: &Teller<'_>, made: &Due, part: PartId, enough: bool, car: CarId) -> Kept {
    let cx = &tell.cx;
    let declared = &cx.book.parts[part.0 as usize];
    let kind = declared.kind;
    let others = made.plan.cars.iter().map(|plan| plan.car).filter(|other| *other != car);
    let also = others.filter(|other| {
        let rows = made.rows.iter().filter(|row| row.fitted.car == *other && row.fitted.kind == kind);
        rows.into_iter().any(|row| goes_there(cx.book, kind, *other, row.fitted.place))
    });
    let stay = cx.history.parts.get(part).at(made.plan.cut);
    Kept {
        part: cx.part(part).to_owned(),
        about: parts::about(tell, part),
        left: left(tell, made, part),
        enough,
        also: also.map(|other| cx.car(other)).collect::<Vec<_>>().join(", "),
        src: stay.map_or_else(|| tell.src(declared.named.declared), |stay| tell.src_of(stay.entry)),
    }
}

/// What is left of its nearest limit, or what it has run where it has none.
fn left(tell: &Teller<'_>, made: &Due, part: PartId) -> String {
    let cx = &tell.cx;
    let Some(life) = made.lives.now(part) else { return String::new() };
    let (limits, _) = cx.book.limits(part);
    let counted = limits.iter().filter(|limit| limit.clock != Clock::Months);
    let nearest = counted.min_by(|a, b| {
        let share = |limit: &crate::book::model::Amount| life.on(cx.book, limit.clock).value / limit.value;
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
    let rest = (limit.value - lived.value).max(0.0);
    format!("{} of {} left", scale.digits(rest), scale.words(limit.value))
}
