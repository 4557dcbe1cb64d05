//! A reading held to a rule: what it falls short by, or passes by, and whether the gauge can tell.
//!
//! Must not know messages.

use super::Scrutiny;
use super::force::{self, InForce};
use super::known::{Missed, Reading, Readings, Value};
use crate::book::Book;
use crate::book::entry::{EntryId, Extra, HeadId};
use crate::book::model::{CarId, Condition, EventId, Limit, Rule, RuleId};
use crate::book::names::same;
use crate::book::place::Place;
use crate::history::likeness;
use crate::history::order::Rank;
use crate::history::slots::Owner;
use crate::units::{DimensionId, UnitId};
use crate::vocabulary::Places;
use jiff::civil::Date;
use rustc_hash::FxHashMap;

/// What came of it.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// It passes by more than the gauge's error.
    Passes,
    /// It passes, by less than the gauge's error: nobody can say so.
    InsideError,
    /// It fails.
    Fails,
    /// It may pass or not: not all of what was driven is told.
    NotKnown,
    /// Nothing was read for it.
    NoReading,
    /// It was read in another state than the rule wants: the condition it lacks.
    OtherState(String),
    /// The limit's unit is none of what it limits.
    UnitUnfit,
    /// The limit is a length of toe, and nobody knows over which diameter.
    NotOver,
}

/// Which of a rule's limits is nearer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// The least.
    Min,
    /// The most.
    Max,
}

/// A value against a limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// Which limit.
    pub side: Side,
    /// The limit, SI.
    pub limit: f64,
    /// Its unit.
    pub unit: UnitId,
    /// By how much it passes, SI; below zero it falls short.
    pub margin: f64,
    /// The value of the place with the least margin.
    pub value: Value,
}

/// A rule, a reading and what came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// The rule.
    pub rule: RuleId,
    /// The local rule that stands in its place there.
    pub outranked: Option<RuleId>,
    /// The reading.
    pub reading: Option<Reading>,
    /// The nearest limit at the worst place.
    pub margin: Option<Margin>,
    /// Of every other place of which the same came, the nearest limit; of a reading that passes, none.
    pub also: Vec<Margin>,
    /// What came of it.
    pub verdict: Verdict,
    /// A later line of the same block states it anew: found so, and not left so.
    pub mended: bool,
    /// The car ran after the reading, and of its last session the figure cannot be had: so it is not known how it stands now.
    pub missed: Option<Missed>,
    /// The line that cannot be read, or not by this reader, since which something of it is not known.
    pub lost: Option<EntryId>,
}

/// A judged reading, lent: [`Judged::reading`] is left out.
#[derive(Debug)]
pub struct Held<'a> {
    /// What came of it.
    pub judged: Judged,
    /// The reading.
    pub reading: &'a Reading,
}

impl Margin {
    /// An SI value of what is limited as a number of the limit's unit.
    #[must_use]
    pub fn in_unit(&self, si: f64) -> f64 {
        self.value.in_unit(si, self.unit)
    }
}

impl Held<'_> {
    /// The same with its reading in it.
    #[must_use]
    pub fn kept(self) -> Judged {
        Judged { reading: Some(self.reading.clone()), ..self.judged }
    }
}

/// A value held to a limit; `None` where that is a length of toe over nobody knows which diameter.
fn held_to(value: Value, side: Side, (unit, limit): (UnitId, f64)) -> Option<Margin> {
    let at = value.limit(unit, limit)?;
    let margin = if side == Side::Min { value.si - at } else { at - value.si };
    Some(Margin { side, limit: at, unit, margin, value })
}

/// What comes of one place's margin.
fn of_margin(near: &Margin) -> Verdict {
    let hair = HAIR * near.limit.abs().max(near.value.si.abs());
    if near.margin < -hair {
        Verdict::Fails
    } else if near.margin < near.value.error - hair {
        Verdict::InsideError
    } else {
        Verdict::Passes
    }
}

impl Judged {
    /// A rule for which nothing was read.
    #[must_use]
    pub const fn nothing(rule: RuleId) -> Self {
        Self {
            rule,
            outranked: None,
            reading: None,
            margin: None,
            also: Vec::new(),
            verdict: Verdict::NoReading,
            mended: false,
            missed: None,
            lost: None,
        }
    }

    /// Every place of which the verdict is told, the worst first.
    pub fn told(&self) -> impl Iterator<Item = &Margin> {
        self.margin.iter().chain(&self.also)
    }

    /// The line that says the value nearest to a limit; of a figure the newest under it. `None` for the car's own declaration, and where
    /// nothing was read.
    #[must_use]
    pub fn line(&self) -> Option<EntryId> {
        let reading = self.reading.as_ref()?;
        match self.margin.filter(|_| !reading.figure && !reading.driven) {
            Some(near) => near.value.line,
            None => self.margin.and_then(|near| near.value.line).or(reading.entry),
        }
    }

    /// Whether the reading was taken in the state that the rule wants.
    #[must_use]
    pub const fn reading_counts(&self) -> bool {
        matches!(self.verdict, Verdict::Passes | Verdict::InsideError | Verdict::Fails)
    }
}

/// Room for the last bit of a sum: 51 mm less 48 mm is 3 mm.
const HAIR: f64 = 1e-9;

impl Scrutiny<'_> {
    /// Holds a reading to a rule.
    #[must_use]
    pub fn judge(&self, car: CarId, id: RuleId, reading: Reading) -> Judged {
        let judged = self.verdict(car, id, &reading);
        Judged { reading: Some(reading), ..judged }
    }

    /// The corners that a rule limits too and that nothing was ever said of, where others were.
    #[must_use]
    pub fn unsaid(&self, judged: &Judged) -> Vec<Place> {
        let rule = self.rule(judged.rule);
        let meant = self.meant(rule);
        let (Some(reading), Some(quantity), None) = (&judged.reading, meant.quantity, meant.figure) else {
            return Vec::new();
        };
        let places = self.book.vocabulary.get(quantity).places;
        let of_corners = places.has(Places::CORNER) && !places.has(Places::AXLE);
        if !of_corners || reading.driven || reading.values.is_empty() || judged.lost.is_some() {
            return Vec::new();
        }
        let wanted =
            |corner: &Place| rule.places.is_empty() || rule.places.iter().any(|one| one.covers(*corner));
        let said = |corner: &Place| reading.values.iter().any(|value| value.place.touches(*corner));
        Place::CORNERS.into_iter().filter(|corner| wanted(corner) && !said(corner)).collect()
    }

    /// Whether the value nearest to a limit was asked for and never read.
    #[must_use]
    pub fn is_set(&self, judged: &Judged) -> bool {
        let reading = judged.reading.as_ref().filter(|reading| !reading.driven);
        let line = reading.and(judged.margin).and_then(|near| self.book.entries.get(near.value.line?));
        line.is_some_and(|line| !line.verb.is_reading())
    }

    /// The day of what is judged: of a value that its line states, that line's.
    #[must_use]
    pub fn day(&self, judged: &Judged) -> Option<Date> {
        let reading = judged.reading.as_ref()?;
        if reading.figure || reading.driven {
            return reading.date;
        }
        self.history.order.date(self.book, judged.line()?)
    }

    /// The same without the reading in it.
    fn verdict(&self, car: CarId, id: RuleId, reading: &Reading) -> Judged {
        let rule = self.rule(id);
        let mut judged = Judged::nothing(id);
        let lacks = rule.conditions.iter().find(|wanted| !self.meets(car, reading, wanted));
        let (mut unfit, mut not_over) = (false, false);
        let mut nearest: Option<Margin> = None;
        let mut of_place: Vec<Margin> = Vec::new();
        for value in &reading.values {
            let mut here: Option<Margin> = None;
            for (side, limit) in [(Side::Min, rule.min), (Side::Max, rule.max)] {
                let Some(limit) = limit else { continue };
                let Some(unit) = self.unit(&limit, value.dimension) else {
                    unfit = true;
                    continue;
                };
                let Some(held) = held_to(*value, side, (unit, limit.value)) else {
                    not_over = true;
                    continue;
                };
                if here.is_none_or(|here| held.margin < here.margin) {
                    here = Some(held);
                }
            }
            let Some(here) = here else { continue };
            if nearest.is_none_or(|nearest| here.margin < nearest.margin) {
                nearest = Some(here);
            }
            if !matches!(of_margin(&here), Verdict::Passes) {
                of_place.push(here);
            }
        }
        judged.verdict = match (lacks, nearest) {
            (Some(lacks), _) => Verdict::OtherState(self.files.text(lacks.said).trim().to_owned()),
            (None, _) if not_over => Verdict::NotOver,
            (None, None) if unfit => Verdict::UnitUnfit,
            (None, None) => Verdict::NoReading,
            (None, Some(near)) => of_margin(&near),
        };
        judged.margin = nearest;
        // What is worked out of a weighing that was true of another car neither passes nor fails.
        let worked_out = reading.values.iter().any(|value| value.typed.is_none());
        if reading.figure && reading.stale.is_some() && worked_out && judged.reading_counts() {
            judged.verdict = Verdict::NotKnown;
            return judged;
        }
        if let (Some(open), Some(least)) = (&reading.open, reading.values.first())
            && lacks.is_none()
            && !unfit
        {
            (judged.verdict, judged.margin) = self.perhaps_more(rule, *least, open.most);
            judged.missed = Some(open.missed.clone()).filter(|_| judged.verdict == Verdict::NotKnown);
        }
        if judged.reading_counts() {
            let place = nearest.map(|near| near.value.place);
            of_place.retain(|one| Some(one.value.place) != place && of_margin(one) == judged.verdict);
            judged.also = of_place;
        }
        judged
    }

    /// A value held to one limit.
    fn margin(&self, value: Value, side: Side, limit: Limit) -> Option<Margin> {
        held_to(value, side, (self.unit(&limit, value.dimension)?, limit.value))
    }

    /// What comes of something that is at least so much, and at most so much, where that is known. What may be more is what was driven, of which
    /// no rule has a least (`readings_and_had`): it fails by the least that it was, and passes by the most.
    fn perhaps_more(&self, rule: &Rule, least: Value, most: Option<Value>) -> (Verdict, Option<Margin>) {
        let held = |value: Option<Value>| self.margin(value?, Side::Max, rule.max?);
        let (low, high) = (held(Some(least)), held(most));
        let fails = |margin: &Margin| of_margin(margin) == Verdict::Fails;
        match (low, high) {
            (Some(low), _) if fails(&low) => (Verdict::Fails, Some(low)),
            (_, Some(high)) if !fails(&high) => (Verdict::Passes, Some(high)),
            (low, _) => (Verdict::NotKnown, low),
        }
    }

    /// Whether a reading was taken in the state that a condition of a rule wants: its own line says so, or the car's reference.
    fn meets(&self, car: CarId, reading: &Reading, wanted: &Condition) -> bool {
        let key = self.files.text(wanted.key);
        let lines = reading.lines.iter().filter_map(|line| self.book.entries.get(*line));
        let extras = lines.filter_map(|line| self.book.extra(line));
        let lost = extras.clone().any(Extra::conditions_lost);
        let own = extras.flat_map(|extra| &extra.conditions);
        let reference =
            self.book.cars.get(car).filter(|_| !lost).map_or(&[][..], |car| car.reference.as_slice());
        let found = own.chain(reference).find(|one| same(self.files.text(one.key), key));
        let Some(found) = found else { return false };
        match (wanted.value, found.value) {
            (Some((want, _)), Some((is, _))) => (want - is).abs() <= HAIR * want.abs().max(is.abs()),
            (Some(_), None) => false,
            // `with driver`: aboard, however heavy; `driver out` is not.
            (None, Some(_)) => same(self.files.text(wanted.said), key),
            (None, None) => same(self.files.text(wanted.said), self.files.text(found.said)),
        }
    }

    /// Every reading of a car under the rules of a class, each by the rules in force on its day, in order.
    #[must_use]
    pub fn judged(&self, car: CarId, class: &str) -> Vec<Judged> {
        let mut all: Vec<Judged> = Vec::new();
        self.each(car, class, |one| all.push(one.kept()));
        all.sort_by_key(|one| (one.reading.as_ref().map_or(Rank::START, |reading| reading.rank), one.rule));
        all
    }

    /// The same one by one, rule by rule.
    pub fn each(&self, car: CarId, class: &str, mut give: impl FnMut(Held<'_>)) {
        let locals = self.locals(class);
        for id in self.book.rules.keys() {
            let rule = self.rule(id);
            if rule.broken || !super::force::of_class(rule, class) {
                continue;
            }
            let readings = self.readings(car, rule);
            let mended = mended(self.book, &readings);
            for (reading, mended) in readings.iter().zip(mended) {
                // The car's own declaration has no day: whatever is in force, it says the same.
                let force = match reading.date {
                    Some(day) => self.force_of(&locals, id, ([day; 2], reading.event)),
                    None => Some(InForce { rule: id, outranked: None }),
                };
                let Some(force) = force else { continue };
                let mut judged = self.verdict(car, id, reading);
                judged.outranked = force.outranked;
                judged.mended = mended;
                give(Held { judged, reading });
            }
        }
    }

    /// The rules of a class in force on any of some days, each held to the car's last reading before `rank`; one that ends within them to
    /// the last of the days that it holds.
    #[must_use]
    pub fn card(
        &self,
        car: CarId,
        class: &str,
        days: [Date; 2],
        event: Option<EventId>,
        rank: Rank,
    ) -> Vec<Judged> {
        let force = self.in_force(class, days, event);
        let held = force.into_iter().map(|force| {
            let rule = self.rule(force.rule);
            let readings = self.readings(car, rule);
            let ends = rule.until.map(|(until, _)| until).filter(|until| *until < days[1]);
            let rank = ends.map_or(rank, |until| rank.min(self.history.order.after(self.book, until)));
            self.judge_last(car, force, &readings, rank)
        });
        held.collect()
    }

    /// A rule in force held to the last of the car's readings for it before `rank`.
    #[must_use]
    pub fn judge_last(&self, car: CarId, force: InForce, readings: &Readings, rank: Rank) -> Judged {
        if let Some(mut judged) = self.of_meeting(car, force.rule, readings, rank) {
            judged.outranked = force.outranked;
            return judged;
        }
        let newest = self.newest(readings, rank);
        let (newest, lost) = self.without_lost(car, self.rule(force.rule), newest, rank);
        let mut judged = match newest {
            Some(reading) => self.judge(car, force.rule, reading),
            None => Judged::nothing(force.rule),
        };
        Self::but_lost(&mut judged, lost);
        judged.outranked = force.outranked;
        let read = judged.reading.as_ref();
        let from = read.map_or(Rank::START, |reading| reading.rank);
        let figure = read.is_none_or(|reading| reading.figure);
        judged.missed = readings.missed(from, rank).filter(|_| figure).cloned();
        judged
    }

    /// Of what was driven at the last meeting while the rule was in force, whoever drove: what breaks the rule, else what may, else what comes nearest to it; `None`
    /// where nothing was driven.
    fn of_meeting(&self, car: CarId, rule: RuleId, readings: &Readings, rank: Rank) -> Option<Judged> {
        let count = readings.before(rank);
        let newest = readings.get(count.checked_sub(1)?).filter(|newest| newest.driven)?;
        // Past midnight it is still the meeting of its block.
        let block = |reading: &Reading| {
            let line = self.book.entries.get(reading.entry?)?;
            self.book.head(line).map(|head| head.date)
        };
        let of_meeting = |reading: &&Reading| {
            reading.driven
                && reading.event == newest.event
                && (newest.event.is_some() || reading.date == newest.date || block(reading) == block(newest))
        };
        let held: Vec<&Reading> = readings.iter().take(count).filter(of_meeting).collect();
        // A rule that begins or ends within the meeting judges its own days, where anything was driven on them.
        let is_held = |reading: &&&Reading| reading.date.is_none_or(|date| force::on(self.rule(rule), date));
        let own: Vec<&Reading> = held.iter().filter(is_held).copied().collect();
        let held = if own.is_empty() { held } else { own };
        let judged = held.into_iter().map(|reading| self.judge(car, rule, reading.clone()));
        let order = |one: &Judged| match one.verdict {
            Verdict::Fails => 0,
            Verdict::OtherState(_) | Verdict::UnitUnfit | Verdict::NotOver | Verdict::NotKnown => 1,
            Verdict::InsideError => 2,
            Verdict::Passes => 3,
            Verdict::NoReading => 4,
        };
        let margin = |one: &Judged| one.margin.map_or(f64::INFINITY, |near| near.margin);
        judged.min_by(|a, b| order(a).cmp(&order(b)).then(margin(a).total_cmp(&margin(b))))
    }

    /// What is known last of every place: the last reading, and the last of places that it leaves out.
    fn newest(&self, readings: &Readings, rank: Rank) -> Option<Reading> {
        let count = readings.before(rank);
        let mut newest = readings.get(count.checked_sub(1)?)?.clone();
        for before in readings.last_of_places(newest.figure, count) {
            let known: Vec<Place> = newest.values.iter().map(|known| known.place).collect();
            for value in &before.values {
                if !known.contains(&value.place) {
                    newest.values.push(*value);
                    newest.lines.extend(
                        before
                            .lines
                            .iter()
                            .filter(|line| !newest.lines.contains(line))
                            .copied()
                            .collect::<Vec<_>>(),
                    );
                }
            }
        }
        self.newer_form(&mut newest);
        if newest.stale.is_none() {
            newest.stale = if newest.figure {
                newest.staled.filter(|(since, _)| *since < rank).map(|(_, line)| line)
            } else {
                self.disturbed(&newest, rank)
            };
        }
        Some(newest)
    }

    /// Of an axle's toe and its wheels' the newer stands for both.
    fn newer_form(&self, reading: &mut Reading) {
        let rank = |value: &Value| {
            let rank = value.line.and_then(|line| self.history.order.rank.get(line).copied());
            rank.unwrap_or(Rank::START)
        };
        let all = reading.values.clone();
        let axle = |value: &Value| value.place.axle();
        reading.values.retain(|value| {
            let other = |one: &&Value| {
                value.dimension == DimensionId::TOE
                    && one.place.is_axle() != value.place.is_axle()
                    && axle(one) == axle(value)
            };
            !all.iter().filter(other).any(|one| rank(one) > rank(value))
        });
    }

    /// The line that changed something since a quantity of the car was read.
    fn disturbed(&self, reading: &Reading, until: Rank) -> Option<EntryId> {
        let entry = reading.entry?;
        let line = self.book.entries.get(entry)?;
        let (car, quantity) = (self.book.head(line)?.car?, line.quantity?);
        if !line.verb.is_reading() {
            return None;
        }
        let first = |value: &Value| {
            let read = likeness::Reading { quantity, place: value.place, entry, owner: Owner::Car(car) };
            let found = likeness::changes(self.facts, car, read, [reading.rank, until]).next();
            found.map(|change| change.entry)
        };
        reading.values.iter().find_map(first)
    }
}

/// Of each reading: whether a later line of the same block states it anew.
fn mended(book: &Book, readings: &[Reading]) -> Vec<bool> {
    let mut of: FxHashMap<HeadId, Vec<&Reading>> = FxHashMap::default();
    let head =
        |reading: &Reading| reading.entry.and_then(|entry| book.entries.get(entry)).map(|entry| entry.head);
    let mut mended: Vec<bool> = readings
        .iter()
        .rev()
        .map(|reading| {
            let Some(head) = head(reading) else { return false };
            let later = of.entry(head).or_default();
            let is =
                !reading.driven && later.iter().rev().any(|later| !later.driven && covers(later, reading));
            later.push(reading);
            is
        })
        .collect();
    mended.reverse();
    mended
}

/// Whether a reading states every place that another does.
///
/// What another session came in with mends nothing of this one.
fn covers(later: &Reading, before: &Reading) -> bool {
    later.of_session == before.of_session
        && before.values.iter().all(|value| later.values.iter().any(|other| other.place == value.place))
}
