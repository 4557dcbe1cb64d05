//! When something breaks at an event: what would go in its place, what that does to the other car, the line to type.
//!
//! Must not know chances: what is likely to break is `due`'s to say.

use super::aboard::aboard;
use super::frame::{self, Frame};
use super::link::Link;
use super::parts::{self, LifeLeft};
use super::{stops, whose};
use crate::book::model::{CarId, KindId, PartId};
use crate::book::place::Place;
use crate::due::Due;
use crate::due::fitted::{Whereabouts, goes_there, whereabouts};
use crate::due::limits;
use crate::due::row::Makings;
use crate::due::spares;
use crate::history::dated;
use crate::history::order::Rank;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use serde::Serialize;

/// When something breaks on a car.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SparePage {
    /// Title and footer.
    pub frame: Frame,
    /// Other pages about the car.
    pub links: Vec<Link>,
    /// "as its last line left it, 3 October 2026".
    pub state: String,
    /// The places that hold a part of which another is in the book, those with nothing to go in first.
    pub places: Vec<SparePlace>,
    /// Places whose kind has no second part in the book: "extinguisher bulkhead".
    pub single: Vec<String>,
}

/// A place.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SparePlace {
    /// "coupling LR".
    pub what: String,
    /// The part that is there.
    pub part: String,
    /// What it has left of each limit, the nearest first.
    pub left: Vec<LifeLeft>,
    /// How often one of its kind failed on this car.
    pub failed: usize,
    /// Good parts on the shelf.
    pub shelf: Vec<SpareHere>,
    /// The same kind on another car of the shop's.
    pub donors: Vec<SpareHere>,
    /// The line that put it there.
    pub src: String,
}

/// A part that would go there.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SpareHere {
    /// The part.
    pub part: String,
    /// Its spec and serial.
    pub about: String,
    /// "123 min left", "none left"; what it ran, where it has no limit.
    pub left: String,
    /// Whether nothing is left or too little for the next event, nobody knows, or its date is over.
    pub over: bool,
    /// What taking it does: "plover prop is then empty; 2 of the kind on the shelf go there".
    pub then: String,
    /// The line to type first, under a head of this car; empty for one from the shelf, whose line does both.
    pub off: String,
    /// The car under whose head the line belongs; empty for this one's.
    pub under: String,
    /// The line to type.
    pub line: String,
    /// The line that put it where it is.
    pub src: String,
    /// The least share of a limit that is left, for the order.
    #[serde(skip)]
    share: f64,
}

/// More parts than these are not told of a place.
const MOST: usize = 4;

/// The title of the page.
pub(in crate::report) fn title(tell: &Teller<'_>, car: CarId) -> String {
    let title = tell.cx.book.cars.get(car).map_or("?", |car| car.named.title.as_str());
    format!("{title}: if it breaks")
}

/// A car with whatever else is asked of it.
struct Asked<'s, 'a> {
    /// What is expected of the car at its next event, and how that comes about; none where no event lies ahead of it.
    due: Option<&'s Due>,
    /// The car.
    car: CarId,
    tell: &'s Teller<'a>,
    there: &'s Whereabouts,
    rank: Rank,
    on: Date,
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId) -> SparePage {
    let tell = desk.tell;
    let cx = &tell.cx;
    let rank = cx.history.order.entries.next_key();
    let there = whereabouts(cx.book, cx.history, rank);
    let due = tell.due().filter(|due| due.plan.of(car).is_some());
    let asked = Asked { due, car, tell, there: &there, rank, on: tell.until().unwrap_or(Date::MIN) };
    let mut places = Vec::new();
    let mut single = Vec::new();
    for fitted in aboard(tell, car, rank).into_iter().filter(|fitted| fitted.inside.is_none()) {
        let Some(part) = fitted.part else { continue };
        let what = super::aboard::what(tell, &fitted);
        let place = asked.place(car, fitted.kind, fitted.place, part, what.clone());
        if place.shelf.is_empty() && place.donors.is_empty() {
            let kind = cx.book.kinds.get(fitted.kind);
            if kind.is_some_and(|kind| kind.must || kind.safety || !kind.life.is_empty()) || place.failed > 0
            {
                single.push(what);
            }
            continue;
        }
        places.push(place);
    }
    places.sort_by_key(|place| std::cmp::Reverse(place.failed));
    let next = stops::ahead(tell, car).into_iter().next();
    let links = [Some(Key::Now(car)), next.map(Key::Load)];
    SparePage {
        frame: frame::frame(tell, title(tell, car), whose::subtitle(tell, car), Some(car)),
        links: links.into_iter().flatten().filter_map(|key| desk.table.link(key)).collect(),
        state: stops::as_left(tell, car),
        places,
        single,
    }
}

/// Those with most life left in front, those that may not run behind.
fn by_life(list: &mut [SpareHere]) {
    list.sort_by(|a, b| a.over.cmp(&b.over).then(b.share.total_cmp(&a.share)));
}

impl Asked<'_, '_> {
    fn place(&self, car: CarId, kind: KindId, place: Place, part: PartId, what: String) -> SparePlace {
        let cx = &self.tell.cx;
        let kind_of = |part: &PartId| cx.book.parts.get(*part).and_then(|part| part.kind) == Some(kind);
        let name = cx.book.kinds.get(kind).map_or("", |kind| &kind.named.typed);
        let at = cx.place(place);
        let may = |one: &PartId| cx.history.parts.may_go_on(cx.book, *one, car, self.rank);
        let shelf = self
            .there
            .ready(kind)
            .iter()
            .copied()
            .filter(|one| *one != part && may(one) && goes_there(cx.book, kind, car, place));
        let mut shelf: Vec<SpareHere> = shelf
            .map(|one| {
                let line = format!("swap {name} {at} {} -> {}", cx.part(part), cx.part(one));
                self.spare(one, String::new(), line)
            })
            .collect();
        by_life(&mut shelf);
        shelf.truncate(MOST);
        let mut donors = Vec::new();
        for other in cx.book.cars.keys().filter(|other| *other != car) {
            if cx.history.parts.sold.contains_key(&other) || !goes_there(cx.book, kind, car, place) {
                continue;
            }
            for fitted in cx.on(other, self.rank).places().into_iter().filter(|there| there.kind == kind) {
                let Some(one) = fitted.part.filter(may) else { continue };
                let spares = self.there.ready(kind).iter().filter(|spare| {
                    cx.history.parts.may_go_on(cx.book, **spare, other, self.rank)
                        && goes_there(cx.book, kind, other, fitted.place)
                });
                let spares = spares.count();
                let from = format!("{} {}", cx.car(other), cx.place(fitted.place));
                let then = match spares {
                    0 => format!("{} is then empty, and nothing on the shelf goes there", from.trim_end()),
                    1 => format!("{} is then empty; 1 on the shelf goes there", from.trim_end()),
                    count => format!("{} is then empty; {count} on the shelf go there", from.trim_end()),
                };
                let line = format!("move {} -> {} {at}", cx.part(one), cx.car(car));
                let mut donor = self.spare(one, then, line.trim_end().to_owned());
                donor.off = format!("remove {} failed", cx.part(part));
                cx.car(other).clone_into(&mut donor.under);
                donors.push(donor);
            }
        }
        by_life(&mut donors);
        donors.truncate(MOST);
        let stay = cx.history.parts.get(part).at(self.rank);
        SparePlace {
            what,
            part: cx.part(part).to_owned(),
            left: parts::left(self.tell, part, self.rank, self.on),
            failed: self.tell.failed_on(car).iter().filter(|(failed, _)| kind_of(failed)).count(),
            shelf,
            donors,
            src: stay.map_or_else(String::new, |stay| self.tell.src_of(stay.entry)),
        }
    }

    fn spare(&self, part: PartId, then: String, line: String) -> SpareHere {
        let cx = &self.tell.cx;
        let left = parts::left(self.tell, part, self.rank, self.on);
        let dated = dated::of_part(cx.book, cx.history, part, self.rank);
        let until = dated.as_ref().and_then(|dated| dated.last_good_day);
        let ended = dated.is_some() && until.is_none_or(|last| last < self.on);
        let mut told: Vec<String> = match left.first() {
            Some(nearest) => vec![format!("{} ({})", nearest.text, nearest.of)],
            None => vec![format!("ran {}", parts::life_words(self.tell, part, self.rank))],
        };
        told.extend(until.map(|last| format!("good until {}", words::date(last))));
        told.extend((dated.is_some() && until.is_none()).then(|| "its date is not known".to_owned()));
        let little = self.due.and_then(|made| {
            let with = Makings { facts: cx.facts, lives: &made.lives, there: &made.there, plan: &made.plan };
            let plans = spares::left(with, made.plan.of(self.car)?, part)?;
            let event = self.tell.event(made.plan.event?);
            (plans < 1.0).then(|| format!("too little for what is expected at {event}"))
        });
        let over = ended || little.is_some() || left.iter().any(|limit| limit.over);
        told.extend(little);
        let lives = crate::lives::life::of(cx.book, cx.history, part, self.rank);
        let reaches = lives.last().map_or_else(Vec::new, |life| limits::standing(cx.book, life, self.on));
        let share = reaches.iter().map(|reach| reach.left() / reach.limit.value).fold(f64::MAX, f64::min);
        let declared = cx.book.parts.get(part).map(|part| self.tell.src(part.named.declared));
        let stay = cx.history.parts.get(part).at(self.rank);
        SpareHere {
            part: cx.part(part).to_owned(),
            about: parts::about(self.tell, part),
            left: told.join("; "),
            over,
            then,
            off: String::new(),
            under: String::new(),
            line,
            share,
            src: stay.map_or_else(|| declared.unwrap_or_default(), |stay| self.tell.src_of(stay.entry)),
        }
    }
}
