//! One line of the list: a part or an empty place, what is due for it and why.
//!
//! Must not know how spares are shared.

use super::chance::Chance;
use super::fitted::{Fitted, Whereabouts, condemned};
use super::limits::{Reach, Standing, in_turn};
use super::plan::{CarPlan, Plan};
use crate::book::entry::EntryId;
use crate::history::Facts;
use crate::history::dated::{Dated, of_part};
use crate::history::impact::unseen;
use crate::history::unread::unread;
use crate::lives::{End, Lives};
use jiff::civil::Date;

/// What to do, the most pressing first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Action {
    /// Nothing is there and something must be.
    Fit,
    /// Take it off before the event.
    Replace,
    /// Look at it, or do the work that is due, before the event.
    Inspect,
    /// Let it run and take another along.
    Carry,
    /// Look at it after the event.
    Watch,
    /// Nothing.
    Leave,
}

/// Why.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reason {
    /// The place is empty.
    Empty,
    /// It failed and nothing was done since.
    Failed(EntryId),
    /// It was inspected and found bad, and nothing was done since; the line.
    Condemned(EntryId),
    /// Its last good day is past; the day.
    DatePast(Date),
    /// Its last good day comes before the end of the event; the day.
    DateDuring(Date),
    /// A line with a mistake would have said how it is; that line.
    Unread(EntryId),
    /// Something that its life is limited by could not be read.
    LimitLost,
    /// What says until which day it is good could not be read.
    DateLost,
    /// Nobody has looked at it since an impact on its car; the line.
    Impact(EntryId),
    /// It is good until a day that the book cannot count, for it does not say from when.
    DateUnknown,
    /// A limit is reached now; index into the row's reaches.
    Over(usize),
    /// A limit falls in what is planned.
    During(usize),
    /// Its use on a limit's clock is not known, so it counts as run out (safety kinds) or is looked at.
    UnknownUse(usize),
    /// It is within a limit, and what its car will run is not known.
    Unplanned(usize),
    /// A limit falls in the plan after this one.
    Soon(usize),
    /// It may well fail in what is planned.
    Likely,
    /// It may fail in what is planned.
    Possible,
}

/// A chance from which another part is taken along, and one from which it is watched (common practice: one in ten, one in forty).
pub const CARRY_FROM: f64 = 0.10;
/// See [`CARRY_FROM`].
pub const WATCH_FROM: f64 = 0.025;

/// One line of the list.
#[derive(Debug, Clone)]
pub struct Row {
    /// What and where.
    pub fitted: Fitted,
    /// Its limits, the first that comes in front.
    pub reaches: Vec<Reach>,
    /// The chance that it fails in what is planned.
    pub chance: Chance,
    /// What to do.
    pub action: Action,
    /// Why, the weightiest first.
    pub reasons: Vec<Reason>,
    /// Whether its failure can hurt.
    pub safety: bool,
    /// The last day it is good, where it is a dated item.
    pub good_to: Option<Date>,
}

/// What a row is made from.
#[derive(Debug, Clone, Copy)]
pub struct Makings<'a> {
    /// The texts, the book, its fold.
    pub facts: Facts<'a>,
    /// Lives up to the plan's moment.
    pub lives: &'a Lives,
    /// Where everything was.
    pub there: &'a Whereabouts,
    /// The plan.
    pub plan: &'a Plan,
}

impl<'a> std::ops::Deref for Makings<'a> {
    type Target = Facts<'a>;

    fn deref(&self) -> &Facts<'a> {
        &self.facts
    }
}

/// The line of one part of a car.
#[must_use]
pub fn row(with: Makings<'_>, car: &CarPlan, fitted: Fitted, chance: Chance) -> Row {
    let kind = with.book.kinds.get(fitted.kind);
    let safety = kind.is_some_and(|kind| kind.safety);
    let life = fitted.part.and_then(|part| with.lives.now(part));
    let end = with.plan.end;
    let reaches = life.map_or_else(Vec::new, |life| in_turn(with.book, life, car, with.plan.today, end));
    let mut found: Vec<(Action, Reason)> = Vec::new();
    if fitted.part.is_none() {
        found.push((Action::Fit, Reason::Empty));
    }
    if let Some(End::Failed(entry) | End::Unmended(entry)) = life.map(|life| life.end) {
        found.push((Action::Replace, Reason::Failed(entry)));
    }
    let condemned = fitted.part.and_then(|part| condemned(with.book, with.history, part, with.plan.cut));
    found.extend(condemned.map(|entry| (Action::Replace, Reason::Condemned(entry))));
    let dated = fitted.part.and_then(|part| of_part(with.book, with.history, part, with.plan.cut));
    if let Some(dated) = &dated {
        found.extend(dates(dated, with.plan.today, end));
    }
    let seen = |part| unseen(with.book, with.history, part, with.plan.cut).map(|hit| hit.entry);
    // A dated item wants to be found good, not only to be looked at.
    let impact = dated.as_ref().and_then(|dated| dated.impact).or_else(|| fitted.part.and_then(seen));
    let unread = fitted.part.and_then(|part| unread(with.book, with.history, part, with.plan.cut));
    found.extend(unread.map(|entry| (Action::Inspect, Reason::Unread(entry))));
    if fitted.part.is_some_and(|part| with.book.limits_lost(part)) {
        found.push((Action::Inspect, Reason::LimitLost));
    }
    found.extend(impact.map(|entry| (Action::Inspect, Reason::Impact(entry))));
    for (at, reach) in reaches.iter().enumerate() {
        match reach.standing() {
            Standing::Over => found.push((Action::Replace, Reason::Over(at))),
            Standing::During => found.push((Action::Replace, Reason::During(at))),
            Standing::Unknown if safety => found.push((Action::Replace, Reason::UnknownUse(at))),
            Standing::Unknown => found.push((Action::Inspect, Reason::UnknownUse(at))),
            Standing::Unplanned => found.push((Action::Watch, Reason::Unplanned(at))),
            Standing::Soon => found.push((Action::Watch, Reason::Soon(at))),
            Standing::Within => {}
        }
    }
    match chance.likely() {
        Some(chance) if chance >= CARRY_FROM => found.push((Action::Carry, Reason::Likely)),
        Some(chance) if chance >= WATCH_FROM => found.push((Action::Watch, Reason::Possible)),
        _ => {}
    }
    found.sort_by_key(|(action, _)| *action);
    let action = found.first().map_or(Action::Leave, |(action, _)| *action);
    let reasons = found.into_iter().map(|(_, reason)| reason).collect();
    let good_to = dated.and_then(|dated| dated.last_good_day);
    Row { fitted, reaches, chance, action, reasons, safety, good_to }
}

/// What the days of a dated item ask for: past or passing ones, and such as cannot be counted.
fn dates(dated: &Dated, today: Date, end: Date) -> Option<(Action, Reason)> {
    match dated.last_good_day {
        Some(day) if day < today => Some((Action::Replace, Reason::DatePast(day))),
        Some(day) if day < end => Some((Action::Replace, Reason::DateDuring(day))),
        Some(_) => None,
        None if dated.lost => Some((Action::Inspect, Reason::DateLost)),
        None => Some((Action::Inspect, Reason::DateUnknown)),
    }
}

impl Row {
    /// The limit that decides, if one does; else the one that comes first.
    #[must_use]
    pub fn reach(&self) -> Option<&Reach> {
        let decides = self.reasons.iter().find_map(|reason| match reason {
            Reason::Over(at)
            | Reason::During(at)
            | Reason::UnknownUse(at)
            | Reason::Unplanned(at)
            | Reason::Soon(at) => Some(*at),
            _ => None,
        });
        self.reaches.get(decides.unwrap_or(0))
    }
}
