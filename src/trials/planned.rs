//! Trials that are declared before they are run (`try`), and how they were followed.
//!
//! What a run stood at is found from state, as a found trial is; the line changes neither what is set nor what is estimated. A run that says
//! nothing of a change whatever is tried ([`aside`]) takes no place in the order. The first thing that was not as planned ends the plan. Must
//! not know words, nor what the laps say.

use super::aside::{self, Aside};
use super::factor::{Factor, Level, PlacedValue, Standings, TrackKey};
use super::standings::RankedLine;
use super::{latest, latest_of_book, meetings, number, standings};
use crate::book::entry::{EntryId, Item, Verb};
use crate::book::model::{CarId, EventId, KindId, PartId};
use crate::book::place::Place;
use crate::book::tried::{LevelAt, Tried, TryFacts};
use crate::history::Facts;
use crate::history::likeness::{self, Likeness};
use crate::history::order::Rank;
use crate::history::sessions::{Session, SessionId};
use jiff::civil::Date;
use rustc_hash::FxHashMap;

/// A trial that was declared beforehand.
#[derive(Debug, Clone)]
pub struct Planned {
    /// The line that declares it.
    pub line: EntryId,
    /// The event it is for; `None` of a day outside of one.
    pub event: Option<EventId>,
    /// The day of its line.
    pub date: Date,
    /// What is tried.
    pub factor: Factor,
    /// The runs that were as planned, each with its setting.
    pub runs: Vec<(SessionId, usize)>,
    /// The runs that took no place in the order, each with why.
    pub passed: Vec<(SessionId, Aside)>,
    /// How far it is.
    pub followed: Followed,
}

/// How a plan was followed.
#[derive(Debug, Clone)]
pub enum Followed {
    /// So far, and it goes on with this setting.
    Open(usize),
    /// To its end.
    Done,
    /// Not in this run.
    Not(SessionId, Departure),
    /// The event or the day was over before its end.
    CutShort,
    /// Another plan of the same thing took its place.
    Replaced(EntryId),
    /// Nobody can say: the reader may not read this run.
    NotKnown(SessionId),
}

/// What was not as planned.
#[derive(Debug, Clone)]
pub enum Departure {
    /// Another setting's turn.
    Order {
        /// Which was to be run.
        wanted: usize,
        /// Which was.
        ran: usize,
    },
    /// It stood at what no letter names.
    NoLetter(Level),
    /// These were not as in the first of its runs.
    Otherwise(Vec<Factor>),
    /// The same quantity was changed at another place.
    Elsewhere,
}

/// A line that declares a trial.
struct Plan<'a> {
    rank: Rank,
    line: EntryId,
    key: Result<EventId, Date>,
    date: Date,
    says: &'a TryFacts,
    /// From which end it counts clicks, where it says so.
    from_hard: Option<bool>,
}

/// The trials that were declared of a car, in order.
#[must_use]
pub fn of_car(facts: Facts<'_>, car: CarId) -> Vec<Planned> {
    let lines = facts.history.order.lines_of(facts.book, car);
    let plans: Vec<Plan<'_>> = lines.iter().filter_map(|line| plan(facts, *line)).collect();
    if plans.is_empty() {
        return Vec::new();
    }
    let set = standings::settings(facts, car, &lines);
    let of_car = latest(facts, car, &lines);
    let of_book = latest_of_book(facts);
    let meetings = meetings::meetings(facts, car);
    let key = |id: SessionId| {
        let session = facts.history.sessions.get(id);
        session.event.ok_or(session.date)
    };
    let of_key: FxHashMap<_, usize> =
        meetings.iter().enumerate().filter_map(|(at, runs)| Some((key(*runs.first()?), at))).collect();
    let next = next(&plans);
    // Plans of one event mostly follow one another: what its runs stood at is worked out once for all of them.
    let mut known: Option<(Result<EventId, Date>, Stood<'_>)> = None;
    let mut all = Vec::with_capacity(plans.len());
    for (plan, until) in plans.iter().zip(next) {
        if known.as_ref().is_none_or(|(of, _)| *of != plan.key) {
            let runs = of_key.get(&plan.key).and_then(|at| meetings.get(*at)).map_or(&[][..], Vec::as_slice);
            let sessions: Vec<&Session> = runs.iter().map(|id| facts.history.sessions.get(*id)).collect();
            let here = meetings::lines_of(&lines, &sessions);
            let standings = standings::standings(facts, car, &sessions, here, &set);
            known =
                Some((plan.key, Stood { runs, standings, aside: aside::of_runs(facts, &sessions, here) }));
        }
        let Some((_, stood)) = &known else { continue };
        let last = plan.key.map_or_else(
            |date| date,
            |event| facts.book.events.get(event).map_or(plan.date, |event| event.last),
        );
        all.push(
            Meeting { facts, car, stood, until, over: of_car > last || plan.key.is_ok() && of_book > last }
                .follow(plan),
        );
    }
    all
}

/// Of each plan, the next of the same thing at the same event.
fn next(plans: &[Plan<'_>]) -> Vec<Option<(Rank, EntryId)>> {
    let mut later: FxHashMap<(Result<EventId, Date>, Tried), (Rank, EntryId)> = FxHashMap::default();
    let mut next: Vec<Option<(Rank, EntryId)>> = plans
        .iter()
        .rev()
        .map(|plan| later.insert((plan.key, plan.says.of), (plan.rank, plan.line)))
        .collect();
    next.reverse();
    next
}

fn plan(facts: Facts<'_>, (rank, line): RankedLine) -> Option<Plan<'_>> {
    let entry = facts.book.entries.get(line)?;
    let counts = entry.verb == Verb::Try && !entry.broken && !entry.withheld;
    let extra = facts.book.extra(entry).filter(|_| counts)?;
    let date = facts.history.order.date(facts.book, line)?;
    let key = facts.book.head(entry)?.event.ok_or(date);
    Some(Plan { rank, line, key, date, says: extra.tried.as_deref()?, from_hard: extra.from_hard })
}

/// The runs of an event, what else stood otherwise in them, and which say nothing.
struct Stood<'a> {
    runs: &'a [SessionId],
    standings: Vec<Standings>,
    aside: Vec<Option<Aside>>,
}

/// The runs that a plan is for.
struct Meeting<'a> {
    facts: Facts<'a>,
    car: CarId,
    stood: &'a Stood<'a>,
    /// The next plan of the same thing there.
    until: Option<(Rank, EntryId)>,
    /// Whether the event, or the day, is over.
    over: bool,
}

impl Meeting<'_> {
    fn follow(&self, plan: &Plan<'_>) -> Planned {
        let factor = match plan.says.of {
            Tried::Setting(quantity) => Factor::Setting(quantity),
            Tried::Parts(kind) => Factor::Parts(kind),
        };
        let mut found = Planned {
            line: plan.line,
            event: plan.key.ok(),
            date: plan.date,
            factor,
            runs: Vec::new(),
            passed: Vec::new(),
            followed: Followed::Done,
        };
        let mut first = None;
        let sessions = &self.facts.history.sessions;
        let before = self.stood.runs.partition_point(|id| sessions.get(*id).rank < plan.rank);
        for (index, id) in self.stood.runs.iter().enumerate().skip(before) {
            let run = sessions.get(*id);
            let Some(wanted) = plan.says.order.get(found.runs.len()).copied() else { return found };
            if self.until.is_some_and(|(until, _)| run.rank > until) {
                break;
            }
            if let Some(why) = self.passed(index, factor) {
                if why == Aside::Hidden {
                    found.followed = Followed::NotKnown(*id);
                    return found;
                }
                found.passed.push((*id, why));
                continue;
            }
            let Some((ran, level)) = self.setting(plan, run.rank) else {
                found.passed.push((*id, Aside::Unknown(factor)));
                continue;
            };
            let began = *first.get_or_insert(index);
            let departure = match (self.otherwise(plan, factor, (began, index)), ran) {
                (Some(otherwise), _) => otherwise,
                (None, None) => Departure::NoLetter(level),
                (None, Some(ran)) if ran != wanted => Departure::Order { wanted, ran },
                (None, Some(ran)) => {
                    found.runs.push((*id, ran));
                    continue;
                }
            };
            found.followed = Followed::Not(*id, departure);
            return found;
        }
        if let Some(next) = plan.says.order.get(found.runs.len()) {
            found.followed = match self.until {
                Some((_, line)) => Followed::Replaced(line),
                None if self.over => Followed::CutShort,
                None => Followed::Open(*next),
            };
        }
        found
    }

    /// Why a run takes no place in the order, if it takes none.
    fn passed(&self, index: usize, factor: Factor) -> Option<Aside> {
        let others = self.stood.standings.iter().filter(|one| one.factor != factor);
        let unknown = |one: &&Standings| one.of_run.get(index).is_none_or(Option::is_none);
        let of_run = self.stood.aside.get(index).cloned().flatten();
        of_run.or_else(|| others.clone().find(unknown).map(|one| Aside::Unknown(one.factor)))
    }

    /// What else is not as it was in the plan's first run.
    fn otherwise(
        &self,
        plan: &Plan<'_>,
        factor: Factor,
        (first, index): (usize, usize),
    ) -> Option<Departure> {
        let at = |one: &Standings, run: usize| one.of_run.get(run).copied().flatten();
        let differs = |one: &&Standings| one.factor != factor && at(one, first) != at(one, index);
        let others: Vec<Factor> = self.stood.standings.iter().filter(differs).map(|one| one.factor).collect();
        if !others.is_empty() {
            return Some(Departure::Otherwise(others));
        }
        let own = self.stood.standings.iter().find(|one| one.factor == factor)?;
        let level = |run: usize| own.levels.get(at(own, run)?);
        let (was, is) = (level(first)?, level(index)?);
        let places: Vec<Place> = match is {
            Level::Setting(values) => values.iter().map(|(place, _)| *place).collect(),
            Level::Parts(parts) => parts.iter().map(|(place, ..)| *place).collect(),
            Level::Driver(_) | Level::Weather(_) | Level::Times(_) => Vec::new(),
        };
        let meant =
            |place: Place| plan.says.places.is_empty() || plan.says.places.iter().any(|of| of.covers(place));
        let mut elsewhere = places.iter().enumerate().filter(|(_, place)| !meant(**place));
        elsewhere.any(|(at, _)| !number::same_at(self.facts, was, is, at)).then_some(Departure::Elsewhere)
    }

    /// At which of the plan's settings the car stood, if at one, and what it stood at; `None` where that is not known.
    fn setting(&self, plan: &Plan<'_>, rank: Rank) -> Option<(Option<usize>, Level)> {
        match plan.says.of {
            Tried::Setting(quantity) => {
                let standing = self.facts.on(self.car, rank);
                let mut values: Vec<PlacedValue> = Vec::new();
                for place in &plan.says.places {
                    let slot = standing.slot(quantity, *place)?;
                    let event = slot.held.is(self.facts.history)?;
                    let from_hard = plan.from_hard.or(slot.track.from_hard);
                    if from_hard != slot.track.from_hard {
                        return None;
                    }
                    values.push((*place, Some((event, TrackKey::of(slot.track)))));
                }
                self.of_values(plan, values)
            }
            Tried::Parts(kind) => self.of_parts(plan, kind, rank),
        }
    }

    /// The setting that is nearest of those that cannot be told from where it stood.
    fn of_values(&self, plan: &Plan<'_>, values: Vec<PlacedValue>) -> Option<(Option<usize>, Level)> {
        let file = self.facts.book.entries.get(plan.line)?.file;
        let mut best: Option<(usize, f64)> = None;
        let mut told = true;
        for (index, level) in plan.says.levels.iter().enumerate() {
            let LevelAt::Values(items) = &level.stands else { return None };
            let (mut same, mut far) = (true, 0.0);
            for (typed, (_, held)) in Item::by_value(items).zip(&values) {
                let item = typed.first()?;
                let (event, key) = held.as_ref()?;
                let track = key.track(self.facts.history)?;
                let like = likeness::stands_at(self.facts, (typed, file), (*event, track));
                told &= like != Likeness::CannotTell;
                same &= like == Likeness::Same;
                far += (event.value - item.si).abs();
            }
            if same && best.is_none_or(|(_, least)| far < least) {
                best = Some((index, far));
            }
        }
        let level = best.map(|(level, _)| level);
        (level.is_some() || told).then_some((level, Level::Setting(values)))
    }

    fn of_parts(&self, plan: &Plan<'_>, kind: KindId, rank: Rank) -> Option<(Option<usize>, Level)> {
        let parts = &self.facts.history.parts;
        let named = &plan.says.places;
        let meant = |place: Place| named.is_empty() || named.iter().any(|of| of.covers(place));
        let places = parts.places_of(self.car).iter().filter(|(of, place)| *of == kind && meant(*place));
        let mut held: Vec<(Place, PartId)> = Vec::new();
        for (_, place) in places {
            let Some(part) = parts.holder(self.car, kind, *place, rank) else { continue };
            let history = parts.get(part);
            if history.at(rank).is_some_and(|stay| history.doubted(stay.from, rank)) {
                return None;
            }
            held.push((*place, part));
        }
        if held.is_empty() {
            return None;
        }
        let of_spec =
            |part: PartId, spec| self.facts.book.parts.get(part).and_then(|part| part.spec) == Some(spec);
        let level = plan.says.levels.iter().position(|level| match &level.stands {
            LevelAt::Spec(spec) => held.iter().all(|(_, part)| of_spec(*part, *spec)),
            LevelAt::Parts(wanted) => wanted.iter().all(|part| held.iter().any(|(_, there)| there == part)),
            LevelAt::Values(_) => false,
        });
        let held = held.into_iter().map(|(place, part)| (place, Some(part), Vec::new(), 0)).collect();
        Some((level, Level::Parts(held)))
    }
}
