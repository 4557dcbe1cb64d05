//! What goes in the box for an event, by car: spares with life left, fluids, gauges in date, papers, open jobs.
//!
//! As the book stood on the eve of the event, or at its last line where that is earlier; never as of today. Must not know
//! chances, nor which spare goes where: that is `due`'s business.

mod amount;
mod fluids;
mod fuel;
mod gauges;
mod spares;

use super::frame::{self, Frame};
use super::link::Link;
use super::margins::{self, RuleMargin};
use super::stops;
use super::todo::{self, Todo};
use super::until::{self, GoodUntil};
use crate::answer::due::{DueRow, DueView, told};
use crate::book::model::{CarId, EventId};
use crate::book::names::Thing;
use crate::due::plan::CarPlan;
use crate::due::row::Action;
use crate::due::{Ask, Due, going};
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use serde::Serialize;

pub use amount::Fill;
pub use fluids::Fluid;
pub use gauges::GaugeLine;
pub use spares::{Kept, Spares};

/// What to load for an event.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Load {
    /// Title and footer.
    pub frame: Frame,
    /// "As the book stood on 13 November 2026, 155 days before", "As the book stood on its eve, 6 March 2026" of an event that is over.
    pub stood: String,
    /// "3 cars, 11 spare parts, 5 tyre sets, fuel 98.3 L to fill, 5 gauges".
    pub counts: String,
    /// "brake fluid 1.9 L": how much of each fluid is filled at the event.
    pub to_fill: Vec<String>,
    /// What must be done before anything is loaded: parts to change, parts and gauges to be looked at.
    pub before: Vec<Must>,
    /// The cars that go.
    pub cars: Vec<CarLoad>,
    /// Spares that go on several of the cars.
    pub shared: Vec<Spares>,
    /// Spares to take for the lot, a kind a line.
    pub carry: Vec<CarriedSpares>,
    /// Fluids for the lot.
    pub fluids: Vec<Fluid>,
    /// Gauges to take; those that are not to be trusted first.
    pub gauges: Vec<GaugeLine>,
    /// Gauges that were never used at an event.
    pub home: Vec<String>,
    /// The shop's own jobs.
    pub jobs: Vec<Todo>,
}

/// One car's part of the box.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CarLoad {
    /// Its title.
    pub title: String,
    /// What it is expected to run: "162.5 min an event, the mean of its 4 events".
    pub expected: String,
    /// Its setup sheet.
    pub sheet: Option<Link>,
    /// Spares for it alone, kind by kind.
    pub spares: Vec<Spares>,
    /// Its outfits with the parts of each: what has to be in the box to change from one to another.
    pub outfits: Vec<OutfitLoad>,
    /// Jobs still to do.
    pub jobs: Vec<Todo>,
    /// Its dated items, for the papers.
    pub until: Vec<GoodUntil>,
    /// Rules it does not clearly keep.
    pub margins: Vec<RuleMargin>,
    /// How many rules are in force for it.
    pub rules: usize,
}

/// One of a car's outfits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct OutfitLoad {
    /// Its title.
    pub title: String,
    /// Its parts that are not on the car: "sp-1, sp-2"; empty where it wears all of them.
    pub take: String,
    /// Those that cannot be taken as they are: "dm-3 (lent)"; empty for none.
    pub lack: String,
    /// Where it is declared.
    pub src: String,
}

/// What must be done before an event.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Must {
    /// "replace", "fit", "look at", "have checked".
    pub action: String,
    /// "bittern coupling LR cp-02", "torque wrench, red handle tw-1".
    pub what: String,
    /// Why.
    pub why: String,
    /// With what; may be empty.
    pub with: String,
    /// The line that put it there; the impact, the gauge's own.
    pub src: String,
}

/// Spares of a kind to take.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CarriedSpares {
    /// The kind.
    pub kind: String,
    /// "take 1 for 2 places; 3 ready".
    pub text: String,
    /// What is wanting: "short 1", "no spare left"; empty where nothing is.
    pub lack: String,
}

/// How sure the spares are to be enough; common practice for a trailer that has room.
const ENOUGH: f64 = 0.90;

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, event: EventId) -> Option<Load> {
    let tell = desk.tell;
    let cx = &tell.cx;
    let declared = cx.book.events.get(event)?;
    let today = tell.until().unwrap_or(declared.first);
    let made = going(cx.facts, (Ask { event: Some(event), today, confidence: ENOUGH }, event));
    let said = told(tell.compiled, &made, ENOUGH, false);
    let cars: Vec<CarId> = made.plan.cars.iter().map(|car| car.car).collect();
    let (gauges, home) = gauges::gauges(tell, declared.last);
    let spares = spares::spares(tell, &made);
    let unit = fluids::unit(tell, &cars);
    let fluids = fluids::fluids(tell, &made.plan.cars, unit, made.plan.cut);
    let title = format!("What to load for {}", tell.event(event));
    Some(Load {
        frame: frame::frame(tell, title, stops::about(tell, event), None),
        stood: stood(&made, (today, declared.first)),
        counts: counts(&cars, &spares, gauges.len()),
        to_fill: fluids::of_each(&fluids),
        before: before(&said),
        cars: made
            .plan
            .cars
            .iter()
            .zip(spares.own)
            .map(|(car, own)| car_load(desk, (&made, &said), car, own, event))
            .collect(),
        shared: spares.shared,
        carry: said
            .carry
            .iter()
            .map(|one| CarriedSpares {
                kind: one.kind.replace('-', " "),
                text: one.text.clone(),
                lack: one.lack.clone(),
            })
            .collect(),
        fluids,
        gauges,
        home,
        jobs: todo::todo(tell, None, made.plan.cut, Some(made.plan.today)),
    })
}

fn car_load(
    desk: &Desk<'_>,
    (made, said): (&Due, &DueView),
    plan: &CarPlan,
    spares: Vec<Spares>,
    event: EventId,
) -> CarLoad {
    let tell = desk.tell;
    let cx = &tell.cx;
    let (car, cut) = (plan.car, made.plan.cut);
    let name = cx.car(car);
    let declared = cx.book.cars.get(car);
    let margins = margins::margins(tell, car, Some(event), cut);
    CarLoad {
        title: declared.map_or_else(String::new, |car| car.named.title.clone()),
        expected: said
            .plan
            .cars
            .iter()
            .find(|one| one.car == name)
            .map_or_else(String::new, |one| one.text.clone()),
        sheet: desk.table.link(Key::Sheet(car, event)),
        outfits: outfits(tell, car, cut),
        spares,
        jobs: todo::todo(tell, Some(car), cut, Some(made.plan.today)),
        until: until::until(tell, car, Some(event), cut),
        rules: margins.len(),
        margins: margins.into_iter().filter(|one| !one.wrong.is_empty()).collect(),
    }
}

/// When the book stood as the page tells it: of an event that is over, before its first day had anything.
fn stood(made: &Due, (today, first): (Date, Date)) -> String {
    let on = made.plan.today;
    let eve = (on < today).then(|| first.yesterday().ok()).flatten();
    if let Some(eve) = eve {
        return format!("As the book stood on its eve, {}", words::date(eve));
    }
    let text = format!("As the book stood on {}", words::date(on));
    match (first - on).get_days() {
        0 => format!("{text}, its first day"),
        1 => format!("{text}, the day before"),
        days if days > 1 => format!("{text}, {days} days before"),
        _ => format!("{text}, during it"),
    }
}

/// The outfits of a car, in the order they are declared.
fn outfits(tell: &Teller<'_>, car: CarId, cut: Rank) -> Vec<OutfitLoad> {
    let cx = &tell.cx;
    let own = cx.book.outfits.iter().filter(|outfit| outfit.car == Some(car));
    own.map(|outfit| {
        let (mut take, mut lack) = (Vec::new(), Vec::new());
        for line in &outfit.lines.lines {
            let words = outfit.lines.words_of(line);
            let text = |word: &crate::syntax::Word| cx.text(word.span(outfit.lines.file));
            let fits = words.first().is_some_and(|word| text(word).eq_ignore_ascii_case("fit"));
            let named = words.iter().filter(|_| fits).find_map(|word| match cx.book.names.find(text(word)) {
                Some(Thing::Part(part)) => Some(part),
                _ => None,
            });
            let Some(part) = named else { continue };
            let there = cx.history.parts.get(part).at(cut).map_or(Where::New, |stay| stay.at);
            match there {
                Where::Car(on, _) if on == car => {}
                Where::New | Where::Shelf => take.push(cx.part(part).to_owned()),
                there => lack.push(format!("{} ({})", cx.part(part), cx.place_words(there))),
            }
        }
        OutfitLoad {
            title: outfit.named.title.clone(),
            take: take.join(", "),
            lack: lack.join(", "),
            src: tell.src(outfit.named.declared),
        }
    })
    .collect()
}

/// "3 cars, 9 spare parts, 6 tyre sets, 5 gauges".
fn counts(cars: &[CarId], spares: &spares::All, gauges: usize) -> String {
    let mut list = vec![words::count(cars.len(), "car", "cars")];
    list.extend((spares.count > 0).then(|| words::count(spares.count, "spare part", "spare parts")));
    list.extend(spares.sets.iter().map(|(kind, n)| {
        words::count(*n, kind, &if kind.ends_with('s') { kind.clone() } else { format!("{kind}s") })
    }));
    list.extend((gauges > 0).then(|| words::count(gauges, "gauge", "gauges")));
    list.join(", ")
}

/// What is to be done before anything is loaded: gauges that are not to be trusted first, for the work is checked with them.
fn before(said: &DueView) -> Vec<Must> {
    let gauges = said.gauges.iter().map(|one| Must {
        action: "have checked, or leave at home".to_owned(),
        what: format!("{} {}", one.title, one.gauge).trim_start().to_owned(),
        why: one.text.clone(),
        with: String::new(),
        src: one.line.to_string(),
    });
    let loose = said.loose.iter().map(|one| Must {
        action: "look at".to_owned(),
        what: format!("{} {} {}", one.car, one.kind.replace('-', " "), one.part),
        why: one.text.clone(),
        with: String::new(),
        src: one.line.to_string(),
    });
    let beside = said.beside.iter().map(|one| Must {
        action: if one.sort == "stock" { "stock up" } else { "settle" }.to_owned(),
        what: one.what(),
        why: one.text.clone(),
        with: String::new(),
        src: one.line.to_string(),
    });
    gauges.chain(said.rows.iter().filter_map(must)).chain(loose).chain(beside).collect()
}

fn must(row: &DueRow) -> Option<Must> {
    let action = match row.action {
        Action::Fit => "fit",
        Action::Replace => "replace",
        Action::Inspect => "look at",
        _ => return None,
    };
    let words = [row.car.clone(), row.kind.replace('-', " "), row.spot.clone(), row.part.clone()];
    let words: Vec<&str> = words.iter().map(String::as_str).filter(|word| !word.is_empty()).collect();
    Some(Must {
        action: action.to_owned(),
        what: words.join(" "),
        why: row.why.join("; "),
        with: row.spare.as_ref().map_or_else(String::new, |spare| spare.text.clone()),
        src: row.line.to_string(),
    })
}

/// Whether any car goes to an event, as its book says.
pub(in crate::report) fn any(tell: &Teller<'_>, event: EventId) -> bool {
    tell.cx
        .book
        .cars
        .keys()
        .any(|car| stops::ran(tell, car).contains(&event) || stops::ahead(tell, car).contains(&event))
}
