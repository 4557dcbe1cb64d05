//! Good parts on the shelf that go on the cars of an event, kind by kind, and what life each has left for what is planned: those of
//! one car with it, those that go on several once for all.
//!
//! What the list fits before the event is no spare any more. Must not know chances.

use crate::answer::due::{goes_to, left};
use crate::book::model::{CarId, KindId, PartId};
use crate::due::Due;
use crate::due::fitted::{goes_there, one_place};
use crate::due::row::{Action, Makings, Row};
use crate::due::spares::{Spare, asks, ready};
use crate::report::section::aboard::aboard;
use crate::report::section::parts;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;
use std::collections::BTreeMap;

/// Spares of a kind.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Spares {
    /// The kind.
    pub kind: String,
    /// Where it goes on that car: "LR RR"; empty where it has but one place, or for several cars.
    pub places: String,
    /// Those that are fitted before it is loaded: "ar-02"; empty for none.
    pub fitted: String,
    /// The parts, those with most life left first.
    pub parts: Vec<Kept>,
    /// How many more.
    pub more: usize,
    /// "none on the shelf", "none with enough left", "cp-3 is promised to heron LR for pell-1"; empty where one that may be wanted is there.
    pub lack: String,
}

/// A part on the shelf.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Kept {
    /// The part.
    pub part: String,
    /// Its spec and serial.
    pub about: String,
    /// "223 of 300 min left", "ran 161 min".
    pub left: String,
    /// "too little", or for which of the cars it is; empty where it is enough for what is expected at the event.
    pub little: String,
    /// The cars it goes on, where they are several.
    pub cars: String,
    /// The line that put it on the shelf, or that declares it.
    pub src: String,
}

/// The spares for an event.
#[derive(Debug, Clone, Default)]
pub(super) struct All {
    /// For each car, in the order of the plan.
    pub(super) own: Vec<Vec<Spares>>,
    /// For several cars.
    pub(super) shared: Vec<Spares>,
    /// How many parts that is.
    pub(super) count: usize,
    /// And of each kind that a car stands on with all four corners, such as a set of tyres.
    pub(super) sets: Vec<(String, usize)>,
}

/// Parts told of one kind.
const MOST: usize = 6;

/// What is known of a part on the shelf: what it goes on, whether it is enough there, and how long it lasts.
struct Found {
    cars: Vec<(CarId, bool)>,
    left: f64,
}

/// Makes the lists.
pub(super) fn spares(tell: &Teller<'_>, made: &Due) -> All {
    let cx = &tell.cx;
    let cut = made.plan.cut;
    let with = Makings { facts: cx.facts, lives: &made.lives, there: &made.there, plan: &made.plan };
    let fitted: BTreeMap<PartId, CarId> = made
        .rows
        .iter()
        .zip(&made.spares)
        .filter_map(|(row, spare)| match (row.action, spare) {
            (Action::Fit | Action::Replace, Spare::Given(part)) => Some((*part, row.fitted.car)),
            _ => None,
        })
        .collect();
    let mut kinds: Vec<Vec<KindId>> = Vec::new();
    let mut found: BTreeMap<(KindId, PartId), Found> = BTreeMap::new();
    for plan in &made.plan.cars {
        let car = plan.car;
        let mut own: Vec<KindId> = aboard(tell, car, cut).iter().map(|one| one.kind).collect();
        // An empty place has a kind too.
        own.extend(rows(made, car).map(|row| row.fitted.kind));
        own.sort_unstable();
        own.dedup();
        for kind in own.iter().copied() {
            let of_kind = || rows(made, car).filter(move |row| row.fitted.kind == kind);
            let inside = of_kind().any(|row| row.fitted.inside.is_some());
            if !inside && !of_kind().any(|row| goes_there(cx.book, kind, car, row.fitted.place)) {
                continue;
            }
            for one in ready(with, kind, plan)
                .into_iter()
                .filter(|one| !fitted.contains_key(&one.part) && !made.promised.contains_key(&one.part))
            {
                let known = found.entry((kind, one.part));
                let known = known.or_insert(Found { cars: Vec::new(), left: one.left });
                known.left = known.left.min(one.left);
                known.cars.push((car, one.left >= 1.0));
            }
        }
        kinds.push(own);
    }
    let mut all = All::default();
    let enough = |one: &(&(KindId, PartId), &Found)| one.1.cars.iter().any(|(_, enough)| *enough);
    for ((kind, _), _) in found.iter().filter(enough) {
        let word = word(tell, *kind);
        match all.sets.last_mut().filter(|(known, _)| *known == word) {
            Some((_, count)) => *count += 1,
            None if stands_on(tell, *kind) => all.sets.push((word, 1)),
            None => all.count += 1,
        }
    }
    for (plan, kinds) in made.plan.cars.iter().zip(kinds) {
        let of_car = kinds.into_iter().filter_map(|kind| {
            let own = rows(made, plan.car).filter(|row| row.fitted.kind == kind);
            of_kind(tell, made, (plan.car, kind), &own.collect::<Vec<_>>(), &found, &fitted)
        });
        all.own.push(of_car.collect());
    }
    let mut several: Vec<KindId> =
        found.iter().filter(|(_, one)| one.cars.len() > 1).map(|((kind, _), _)| *kind).collect();
    several.dedup();
    for kind in several {
        let (parts, more) = kept(tell, made, &found, |(of, _), one| *of == kind && one.cars.len() > 1);
        let (kind, none) = (word(tell, kind), String::new());
        all.shared.push(Spares { kind, places: none.clone(), fitted: none.clone(), parts, more, lack: none });
    }
    all
}

fn rows(made: &Due, car: CarId) -> impl Iterator<Item = &Row> {
    made.rows.iter().filter(move |row| row.fitted.car == car)
}

/// Whether a kind goes on all four corners at once: a set of tyres.
fn stands_on(tell: &Teller<'_>, kind: KindId) -> bool {
    let kind = tell.cx.book.kinds.get(kind);
    kind.is_some_and(|kind| {
        kind.fits.iter().flat_map(|fit| &fit.places).any(|place| place.corners().len() == 4)
    })
}

fn word(tell: &Teller<'_>, kind: KindId) -> String {
    tell.cx.book.kinds.get(kind).map_or_else(String::new, |kind| kind.named.typed.replace('-', " "))
}

/// The spares of a kind that go on one car alone, and what is wanting; `None` where there is nothing to say.
fn of_kind(
    tell: &Teller<'_>,
    made: &Due,
    (car, kind): (CarId, KindId),
    own: &[&Row],
    found: &BTreeMap<(KindId, PartId), Found>,
    fitted: &BTreeMap<PartId, CarId>,
) -> Option<Spares> {
    let cx = &tell.cx;
    let (parts, more) = kept(tell, made, found, |(of, _), one| {
        *of == kind && one.cars.len() == 1 && one.cars.iter().any(|(on, _)| *on == car)
    });
    let wanted = own.iter().any(|row| asks(row));
    let on_it = || {
        let of_kind = found.iter().filter(|((of, _), _)| *of == kind);
        of_kind.flat_map(|(_, one)| &one.cars).filter(|(on, _)| *on == car)
    };
    let lack = if !wanted || on_it().any(|(_, enough)| *enough) {
        String::new()
    } else if on_it().next().is_some() {
        "none with enough left".to_owned()
    } else {
        "none on the shelf".to_owned()
    };
    let lack = match promised(tell, made, (car, kind)) {
        taken if lack.is_empty() || taken.is_empty() => lack,
        taken => words::and(&taken),
    };
    let on = fitted.iter().filter(|(part, on)| {
        **on == car && cx.book.parts.get(**part).is_some_and(|part| part.kind == Some(kind))
    });
    let on: Vec<String> = on.map(|(part, _)| cx.part(*part).to_owned()).collect();
    if parts.is_empty() && lack.is_empty() && on.is_empty() {
        return None;
    }
    let mut places: Vec<String> = Vec::new();
    if !one_place(cx.book, kind, car) {
        places.extend(own.iter().map(|row| cx.place(row.fitted.place)));
    }
    places.dedup();
    let (kind, places) = (word(tell, kind), places.join(" "));
    Some(Spares { kind, places, fitted: words::and(&on), parts, more, lack })
}

/// "cp-3 is promised to heron LR for pell-1": the spares of a kind that go on a car and are promised elsewhere.
fn promised(tell: &Teller<'_>, made: &Due, (car, kind): (CarId, KindId)) -> Vec<String> {
    let cx = &tell.cx;
    let fits = |part: PartId| {
        let of_kind = cx.book.parts.get(part).is_some_and(|part| part.kind == Some(kind));
        of_kind && cx.history.parts.may_go_on(cx.book, part, car, made.plan.cut)
    };
    let taken = made.promised.iter().filter(|(part, _)| fits(**part));
    taken
        .map(|(part, to)| format!("{} is promised to {}", cx.part(*part), goes_to(tell.compiled, made, to)))
        .collect()
}

/// The first of the parts that are asked for, those with most life left in front, and how many more there are.
fn kept(
    tell: &Teller<'_>,
    made: &Due,
    found: &BTreeMap<(KindId, PartId), Found>,
    wanted: impl Fn(&(KindId, PartId), &Found) -> bool,
) -> (Vec<Kept>, usize) {
    let mut list: Vec<(PartId, &Found)> =
        found.iter().filter(|(key, one)| wanted(key, one)).map(|((_, part), one)| (*part, one)).collect();
    list.sort_by(|(a, one), (b, other)| other.left.total_cmp(&one.left).then(a.cmp(b)));
    let more = list.len().saturating_sub(MOST);
    (list.into_iter().take(MOST).map(|(part, one)| told(tell, made, part, one)).collect(), more)
}

fn told(tell: &Teller<'_>, made: &Due, part: PartId, one: &Found) -> Kept {
    let cx = &tell.cx;
    let declared = cx.book.parts.get(part);
    let stay = cx.history.parts.get(part).at(made.plan.cut);
    let carried = stay.and_then(|stay| stay.carried);
    let carried = carried
        .map_or_else(String::new, |(car, place)| format!("carried in {}, {}", cx.car(car), cx.place(place)));
    let names = |all: &[(CarId, bool)]| -> String {
        all.iter().map(|(car, _)| cx.car(*car)).collect::<Vec<_>>().join(", ")
    };
    let little: Vec<(CarId, bool)> = one.cars.iter().copied().filter(|(_, enough)| !enough).collect();
    Kept {
        part: cx.part(part).to_owned(),
        about: [parts::about(tell, part), carried]
            .into_iter()
            .filter(|text| !text.is_empty())
            .collect::<Vec<_>>()
            .join(", "),
        left: left(tell.compiled, made, part),
        little: match little.len() {
            0 => String::new(),
            n if n == one.cars.len() => "too little".to_owned(),
            _ => format!("too little for {}", names(&little)),
        },
        cars: if one.cars.len() > 1 { names(&one.cars) } else { String::new() },
        src: stay.map_or_else(
            || declared.map_or_else(String::new, |part| tell.src(part.named.declared)),
            |stay| tell.src_of(stay.entry),
        ),
    }
}
