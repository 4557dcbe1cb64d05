//! What was read of one thing over hours, as far as it is still the same thing: readings taken alike, of the part that is there.
//!
//! Hours are the engine's by its meter, or the car's running between the readings. Must not know limits or words.

use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::figures::uncertainty::rectangular;
use crate::figures::{AtHours, Calc, alike_over_hours, read_lines};
use crate::history::likeness::{self, Reading};
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register, SlotEvent};
use crate::history::{Facts, Moment, grain, usage};
use crate::vocabulary::QuantityId;

/// An hour, s.
pub const HOUR: f64 = 3600.0;

/// Which end of a range is bad.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// The least.
    Low,
    /// The most.
    High,
    /// Whichever it goes to.
    Either,
}

/// By which hours it goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hours {
    /// The engine's, by its meter.
    Engine,
    /// The car's running.
    Running,
}

/// Something that is read over hours.
#[derive(Debug, Clone, Copy)]
pub struct ReadOverHours {
    /// What is read.
    pub name: &'static str,
    /// The figure that tells it; `None` where what is read tells itself.
    pub figure: Option<&'static str>,
    /// Which end is bad.
    pub bad: End,
    /// By which hours.
    pub by: Hours,
    /// What says the limit where it stands in the book, before what is usual.
    pub limit: Option<&'static str>,
    /// Whether a `left` line begins it anew: it was adjusted.
    pub adjusted: bool,
    /// Which part is what is read.
    pub of: Named,
}

/// The kinds of a name.
#[derive(Debug, Clone, Copy)]
pub enum Named {
    /// This word stands in the name or the title: "front brake pad, sintered".
    Has(&'static str),
    /// The name or the title ends in this word: "sprint engine", and not "engine mount".
    EndsIn(&'static str),
}

impl Named {
    /// Whether a kind's name, or its title in small letters, is of them; one or several of it.
    fn is(self, text: &str) -> bool {
        let single = |one: &str| one.strip_suffix('s').unwrap_or(one).to_owned();
        let mut words = text.split(|one: char| !one.is_alphanumeric()).filter(|one| !one.is_empty());
        match self {
            Self::Has(word) => words.any(|one| single(one) == word),
            Self::EndsIn(word) => words.next_back().is_some_and(|one| single(one) == word),
        }
    }
}

const fn engine(name: &'static str, bad: End) -> ReadOverHours {
    ReadOverHours {
        name,
        figure: None,
        bad,
        by: Hours::Engine,
        limit: None,
        adjusted: false,
        of: Named::EndsIn("engine"),
    }
}

const fn running(
    name: &'static str,
    bad: End,
    limit: Option<&'static str>,
    of: &'static str,
) -> ReadOverHours {
    ReadOverHours { name, figure: None, bad, by: Hours::Running, limit, adjusted: false, of: Named::Has(of) }
}

/// What is looked at.
pub const READ: [ReadOverHours; 7] = [
    ReadOverHours { figure: Some("leakdown-lost"), ..engine("leakdown", End::High) },
    engine("compression", End::Low),
    ReadOverHours { adjusted: true, ..engine("lash-inlet", End::Either) },
    ReadOverHours { adjusted: true, ..engine("lash-exhaust", End::Either) },
    running("pad-thickness", End::Low, Some("pad-minimum"), "pad"),
    running("disc-thickness", End::Low, Some("disc-minimum"), "disc"),
    running("bearing-play", End::High, None, "bearing"),
];

/// The readings of one thing at one place.
#[derive(Debug, Clone, Default)]
pub struct Points {
    /// Hours and value, SI but for the hours; oldest first.
    pub points: Vec<(f64, f64)>,
    /// Their lines.
    pub lines: Vec<EntryId>,
    /// Their ranks.
    pub ranks: Vec<Rank>,
    /// The least that one of them is unsure by.
    pub grain: f64,
    /// Whether older readings are of another part, another state, or of before it was adjusted.
    pub anew: bool,
}

impl Points {
    fn begin_anew(&mut self) {
        self.anew |= !self.points.is_empty();
        self.points.clear();
        self.lines.clear();
        self.ranks.clear();
    }
}

/// What was read before a rank; readings since the last that began it anew.
#[must_use]
pub fn points(facts: Facts<'_>, car: CarId, cut: Rank, kept: &ReadOverHours, place: Place) -> Points {
    let mut found = Points::default();
    let Some(quantity) = facts.book.vocabulary.find(kept.name) else { return found };
    let mut calc = Calc::new(facts, car, &Moment::of_rank(cut));
    let read: Vec<(EntryId, Rank, Option<f64>)> = match kept.by {
        Hours::Engine => {
            let at = |one: AtHours| (one.entry, one.rank, Some(one.hours / HOUR));
            alike_over_hours(&mut calc, kept.name, place).into_iter().map(at).collect()
        }
        Hours::Running => {
            read_lines(&calc, kept.name, place).into_iter().map(|(entry, rank)| (entry, rank, None)).collect()
        }
    };
    let since = carried_since(facts, car, cut, quantity, place);
    for (entry, rank, hours) in read {
        if rank < since {
            found.anew = true;
            continue;
        }
        let verb = facts.book.entries.get(entry).map(|line| line.verb);
        let before = found.lines.last().copied().zip(found.ranks.last().copied());
        // Running counts from the reading before; where nobody knows how long it was, a line begins.
        let ran = before.map_or(Some(0.0), |(_, before)| running_between(facts, car, before, rank));
        let sum = found.points.last().map_or(0.0, |(sum, _)| *sum);
        let hours = hours.unwrap_or_else(|| ran.map_or(0.0, |ran| sum + ran));
        let unknown = kept.by == Hours::Running && ran.is_none();
        let (adjusted, changed) = (
            kept.adjusted && verb == Some(Verb::Left),
            before.is_some_and(|before| is_another(facts, car, (quantity, place), before, rank, kept.of)),
        );
        if adjusted || changed || unknown {
            found.begin_anew();
        }
        calc.rank = rank.next();
        let got = match kept.figure {
            Some(figure) => calc.named(figure, place),
            None => calc.reading(kept.name, place),
        };
        calc.rank = cut;
        let Ok(fig) = got else { continue };
        // A meter that stands lower is another meter; what wears and has grown is another part.
        let lower = found.points.last().is_some_and(|(last, _)| hours < *last);
        let grown = kept.bad == End::Low && kept.by == Hours::Running;
        let grown = grown && found.points.last().is_some_and(|(_, last)| fig.value > *last);
        if lower || grown {
            found.begin_anew();
        }
        found.points.push((hours, fig.value));
        found.lines.push(entry);
        found.ranks.push(rank);
        let grain = calc.u(&fig).or_else(|| read_to(facts, kept, entry, place));
        found.grain = found.grain.max(grain.unwrap_or(0.0));
    }
    // What came after the last reading makes it another too: of what is there now nothing was read.
    let last = found.lines.last().copied().zip(found.ranks.last().copied());
    let unknown = facts.on(car, cut).slot(quantity, place).is_some_and(|slot| slot.held.unknown.is_some());
    if unknown || last.is_some_and(|last| is_another(facts, car, (quantity, place), last, cut, kept.of)) {
        found.begin_anew();
    }
    found
}

/// The standard uncertainty of a reading by what its gauge or its last digit tells apart, evenly (GUM 4.3.7).
fn read_to(facts: Facts<'_>, kept: &ReadOverHours, entry: EntryId, place: Place) -> Option<f64> {
    let line = facts.book.entries.get(entry).filter(|_| kept.figure.is_none())?;
    let item = facts.book.items_of(line).iter().find(|item| item.place == place && item.has_value())?;
    Some(rectangular(grain::half(facts.book, facts.files, line, item)))
}

/// What a car ran between two ranks, h; `None` where nobody knows.
#[must_use]
pub fn running_between(facts: Facts<'_>, car: CarId, from: Rank, until: Rank) -> Option<f64> {
    let run = facts.history.sessions.between(car, from, until);
    let run = usage::total(run.iter().map(|id| facts.history.sessions.get(*id)));
    (!run.minutes_at_least).then_some(run.minutes / 60.0)
}

/// When a part whose kind carries what is read was last fitted, or rebuilt; the beginning where none does. Of a corner only what is there.
fn carried_since(facts: Facts<'_>, car: CarId, cut: Rank, quantity: QuantityId, place: Place) -> Rank {
    let parts = &facts.history.parts;
    let carries =
        |kind: KindId| facts.book.kinds.get(kind).is_some_and(|kind| kind.carries.contains(&quantity));
    let places = parts.places_of(car).iter().filter(|(kind, at)| carries(*kind) && covers(*at, place));
    let stays = places.filter_map(|(kind, place)| parts.occupants.get(&(car, *kind, *place))).flatten();
    let ranks = stays.flat_map(|(from, until, part)| {
        let rebuilds = parts.get(*part).rebuilds.iter().map(|rebuild| rebuild.rank);
        std::iter::once(*from).chain(rebuilds.filter(|rank| rank >= from && rank < until))
    });
    ranks.filter(|rank| *rank < cut).max().unwrap_or(Rank::START)
}

/// Whether what is fitted at a place is at that corner too; of what is no corner, wherever it is.
fn covers(at: Place, place: Place) -> bool {
    !place.is_corner() || at.covers(place)
}

/// Whether something between an older reading and a newer makes it of another state: what disturbs it, or another part of a name.
fn is_another(
    facts: Facts<'_>,
    car: CarId,
    (quantity, place): (QuantityId, Place),
    (entry, before): (EntryId, Rank),
    after: Rank,
    of: Named,
) -> bool {
    let slot = facts.on(car, before.next()).slot(quantity, place);
    let owner = slot.map_or(Owner::Car(car), |slot| slot.track.owner);
    let reading = Reading { quantity, place, entry, owner };
    if likeness::changes(facts, car, reading, [before, after]).next().is_some() {
        return true;
    }
    // What is set is no longer what was read.
    let set = |event: &SlotEvent| {
        event.register() == Register::Asked
            && event.rank(&facts.history.order).is_some_and(|rank| rank > before && rank < after)
    };
    if facts.on(car, after).slot(quantity, place).is_some_and(|slot| slot.track.events.iter().any(set)) {
        return true;
    }
    // A nut that is tightened again moves what it holds, whatever it was tightened to before.
    let holds = facts.book.vocabulary.get(quantity).disturbed_by.iter();
    let tightened = |by: &QuantityId| {
        let events =
            facts.on(car, after).slot(*by, place).map_or(&[][..], |slot| slot.track.events.as_slice());
        events.iter().any(|event| {
            let inside = event.rank(&facts.history.order).is_some_and(|rank| rank > before && rank < after);
            inside && event.line(facts.book).is_some_and(|line| line.verb == Verb::Torque)
        })
    };
    if holds.into_iter().any(tightened) {
        return true;
    }
    there(facts, car, place, of, before) != there(facts, car, place, of, after)
}

/// The parts of a name at a place before a rank, those inside of what is there too, each with how often it had been rebuilt.
fn there(facts: Facts<'_>, car: CarId, place: Place, of: Named, rank: Rank) -> Vec<(PartId, usize)> {
    let (book, parts) = (facts.book, &facts.history.parts);
    let named = |part: PartId| {
        let kind = book.parts.get(part).and_then(|part| book.kinds.get(part.kind?));
        kind.is_some_and(|kind| of.is(&kind.named.name) || of.is(&kind.named.title.to_lowercase()))
    };
    let mut found = Vec::new();
    for (kind, at) in parts.places_of(car).iter().filter(|(_, at)| covers(*at, place)) {
        let Some(holder) = parts.holder(car, *kind, *at, rank) else { continue };
        let all = std::iter::once(holder).chain(parts.inside(holder, rank));
        found.extend(all.filter(|part| named(*part)));
    }
    found.sort_unstable();
    found.dedup();
    let rebuilt = |part: PartId| parts.get(part).rebuilds.partition_point(|rebuild| rebuild.rank < rank);
    found.into_iter().map(|part| (part, rebuilt(part))).collect()
}
