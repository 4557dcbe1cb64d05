//! The parts on a car, and how much each has run since new and since its last rebuild.
//!
//! Must not know statistics.

use super::link::Link;
use crate::book::model::{CarId, Clock, PartId};
use crate::due::limits::{self, Reach, Standing};
use crate::history::order::Rank;
use crate::history::usage::{self, Use};
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::teller::Teller;
use crate::report::words;
use crate::source::Span;
use crate::vocabulary::QuantityId;
use crate::words::scale::Scale;
use jiff::civil::Date;
use serde::Serialize;

/// One part on the car.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct OnCar {
    /// The kind.
    pub kind: String,
    /// The place, or the assembly it is in.
    pub place: String,
    /// Its name; an en dash for a place left empty.
    pub part: String,
    /// Spec and serial.
    pub about: String,
    /// Since when it is there.
    pub since: String,
    /// Use since new, clock by clock.
    pub since_new: Vec<String>,
    /// Use since its last rebuild; empty where it never was.
    pub since_rebuild: Vec<String>,
    /// When it was last rebuilt.
    pub rebuilt: String,
    /// How far it is from each limit of its life, the one of which the least share is left in front.
    pub left: Vec<LifeLeft>,
    /// What it is expected to have after the next event, where that is planned: "339.5 min expected after quern-2".
    pub after: String,
    /// The line that put it there.
    pub src: String,
    /// Its own page, else its kind's; none for an empty place.
    pub page: Option<Link>,
}

/// What is left of one limit.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LifeLeft {
    /// "123 min left", "none left", "not known".
    pub text: String,
    /// "177 of 300 min": what it has since its last rebuild, and the limit.
    pub of: String,
    /// Whether nothing is left, or nobody knows.
    pub over: bool,
    /// The limit's line.
    pub src: String,
}

/// What is left of every limit of a part before a rank, on a date.
pub(in crate::report) fn left(tell: &Teller<'_>, part: PartId, rank: Rank, on: Date) -> Vec<LifeLeft> {
    let cx = &tell.cx;
    let lives = crate::lives::life::of(cx.book, cx.history, part, rank);
    let Some(life) = lives.last() else { return Vec::new() };
    let standing = limits::standing(cx.book, life, on);
    standing.iter().map(|reach| one_left(tell, reach)).collect()
}

/// What is left of one.
pub(super) fn one_left(tell: &Teller<'_>, reach: &Reach) -> LifeLeft {
    let typed = tell.cx.text(reach.limit.typed);
    let scale = Scale::typed(reach.limit.clock, typed);
    let over = reach.standing() == Standing::Over;
    LifeLeft {
        text: match (over, reach.now.at_least) {
            (true, _) => "none left".to_owned(),
            (false, true) => "not known".to_owned(),
            (false, false) => format!("{} left", scale.words(reach.left())),
        },
        of: if reach.now.at_least && reach.now.value <= 0.0 {
            format!("not known of {typed}")
        } else if reach.now.at_least {
            format!("at least {} of {typed}", scale.digits(reach.now.value))
        } else {
            format!("{} of {typed}", scale.digits(reach.now.value))
        },
        over: over || reach.now.at_least,
        src: tell.src(reach.limit.typed),
    }
}

/// Clocks shown for every part; others only where a life or an opening names them.
const ALWAYS: [Clock; 2] = [Clock::Time, Clock::Days];

/// The clocks that matter to a part: running time and days, and those its life or its opening names.
pub(super) fn clocks(tell: &Teller<'_>, part: PartId) -> Vec<Clock> {
    let mut all: Vec<Clock> = ALWAYS.to_vec();
    let Some(declared) = tell.cx.book.parts.get(part) else { return all };
    all.extend(tell.cx.book.limits(part).0.iter().chain(&declared.opening).map(|amount| amount.clock));
    all.sort_unstable();
    all.dedup();
    all.retain(|clock| *clock != Clock::Months);
    all
}

/// Use since new before a rank, clock by clock. "at least" where something is not known.
fn since_new(tell: &Teller<'_>, part: PartId, rank: Rank) -> Vec<String> {
    let run = usage::of_part(tell.cx.book, tell.cx.history, part, Rank::START, rank);
    clocks(tell, part)
        .into_iter()
        .map(|clock| {
            let total = usage::with_opening(tell.cx.book, part, &run, clock);
            Scale::of_part(tell.cx.book, tell.cx.files, part, clock).told_of(total.value, total.at_least)
        })
        .collect()
}

/// "292 min, 5 days": use since new, or since the last rebuild, before a rank; for one line.
pub(in crate::report) fn life_words(tell: &Teller<'_>, part: PartId, rank: Rank) -> String {
    since_new(tell, part, rank).join(", ")
}

fn since_rebuild(tell: &Teller<'_>, part: PartId, from: Rank, rank: Rank) -> Vec<String> {
    let run: Use = usage::of_part(tell.cx.book, tell.cx.history, part, from, rank);
    clocks(tell, part)
        .into_iter()
        .map(|clock| {
            let (value, at_least) = run.on(clock);
            Scale::of_part(tell.cx.book, tell.cx.files, part, clock).told_of(value, at_least)
        })
        .collect()
}

/// Spec and serial of a part, "std, serial 0417/B".
pub(in crate::report) fn about(tell: &Teller<'_>, part: PartId) -> String {
    let book = tell.cx.book;
    let Some(declared) = book.parts.get(part) else { return String::new() };
    let spec = declared.spec.and_then(|spec| book.specs.get(spec));
    let mut about: Vec<String> = Vec::new();
    if let Some(spec) = spec {
        let typed = spec.named.typed.to_string();
        about.push(if spec.named.title == typed { typed } else { format!("{typed}, {}", spec.named.title) });
    }
    if !declared.serial.is_empty() {
        about.push(format!("serial {}", declared.serial));
    }
    for (quantity, text, unit, _) in tags(tell, part) {
        about.push(format!("tag {} {text} {unit}", tell.cx.quantity(quantity).name.replace('-', " ")));
    }
    about.join("; ")
}

/// What a part's tag says, or its spec's: quantity, digits as typed, unit, and where.
pub(in crate::report) fn tags<'a>(
    tell: &Teller<'a>,
    part: PartId,
) -> Vec<(QuantityId, &'a str, &'static str, Span)> {
    let book = tell.cx.book;
    let Some(declared) = book.parts.get(part) else { return Vec::new() };
    let spec = declared.spec.and_then(|spec| book.specs.get(spec));
    let own = declared.tags.iter().map(|tag| (tag, declared.named.declared));
    let spec = spec.into_iter().flat_map(|spec| spec.tags.iter().map(|tag| (tag, spec.named.declared)));
    let mut all: Vec<(QuantityId, &str, &str, Span)> = Vec::new();
    for ((quantity, item), declared) in own.chain(spec) {
        if !all.iter().any(|(known, ..)| known == quantity) {
            let at = item.span(declared.file);
            all.push((*quantity, tell.cx.text(at), item.unit().get().shown(), at));
        }
    }
    all
}

/// Every place of the car that ever held a part, and what is inside what is there, before a rank.
pub(in crate::report) fn on_car(desk: &Desk<'_>, car: CarId, rank: Rank, on: Date) -> Vec<OnCar> {
    let tell = desk.tell;
    let cx = &tell.cx;
    let mut rows = Vec::new();
    for place in cx.on(car, rank).places() {
        let kind = cx.book.kinds.get(place.kind);
        let kind_title = kind.map_or_else(String::new, |kind| kind.named.typed.replace('-', " "));
        let Some(part) = place.part else {
            rows.push(OnCar {
                kind: kind_title,
                place: cx.place(place.place),
                part: words::DASH.to_owned(),
                about: "nothing fitted".to_owned(),
                since: String::new(),
                since_new: Vec::new(),
                since_rebuild: Vec::new(),
                rebuilt: String::new(),
                left: Vec::new(),
                after: String::new(),
                src: String::new(),
                page: None,
            });
            continue;
        };
        rows.push(row(desk, part, &kind_title, &cx.place(place.place), (rank, on)));
        let mut open = vec![part];
        while let Some(assembly) = open.pop() {
            for inner in cx.history.parts.inside(assembly, rank) {
                let kind = format!("{} (inside)", cx.kind_of(inner));
                rows.push(row(desk, inner, &kind, &format!("in {}", cx.part(assembly)), (rank, on)));
                open.push(inner);
            }
        }
    }
    rows
}

/// What a part is expected to have after the next event, if these ranks are all the plan knows.
fn after(tell: &Teller<'_>, part: PartId, rank: Rank) -> String {
    let Some(due) = tell.due().filter(|due| due.plan.cut == rank.min(tell.end())) else {
        return String::new();
    };
    let row = due.rows.iter().find(|row| row.fitted.part == Some(part));
    let Some(reach) = row.and_then(|row| row.reaches.first()) else { return String::new() };
    let scale = Scale::typed(reach.limit.clock, tell.cx.text(reach.limit.typed));
    let Some(event) = due.plan.event.map(|event| tell.event(event)) else { return String::new() };
    let told = |value: f64| format!("{} expected after {event}", scale.told(value, reach.now.at_least));
    reach.after().map_or_else(String::new, told)
}

/// A link to a part's own page, else to its kind's.
pub(in crate::report) fn page(desk: &Desk<'_>, part: PartId) -> Option<Link> {
    let kind = || desk.tell.cx.book.parts.get(part)?.kind;
    desk.table.link(Key::Part(part)).or_else(|| desk.table.link(Key::Kind(kind()?)))
}

fn row(desk: &Desk<'_>, part: PartId, kind: &str, place: &str, (rank, on): (Rank, Date)) -> OnCar {
    let tell = desk.tell;
    let cx = &tell.cx;
    let stay = cx.history.parts.get(part).at(rank).copied();
    let rebuilt = usage::since_rebuild(cx.history, part, rank);
    let line = cx.history.parts.get(part).rebuilds.iter().rev().find(|rebuild| rebuild.rank < rank);
    OnCar {
        kind: kind.to_owned(),
        place: place.to_owned(),
        part: cx.part(part).to_owned(),
        about: about(tell, part),
        since: stay.and_then(|stay| cx.date(stay.entry)).map_or_else(String::new, words::short),
        since_new: since_new(tell, part, rank),
        since_rebuild: if rebuilt > Rank::START {
            since_rebuild(tell, part, rebuilt, rank)
        } else {
            Vec::new()
        },
        rebuilt: line.and_then(|line| cx.date(line.entry)).map_or_else(String::new, words::short),
        left: left(tell, part, rank, on),
        after: after(tell, part, rank),
        src: stay.map_or_else(String::new, |stay| tell.src_of(stay.entry)),
        page: page(desk, part),
    }
}
