//! The balance on the car from above: what stood on each pad before the perches were turned and after, what that should have come to, and
//! what stands there once the cross is what was asked.
//!
//! Must not know how any of it is worked out, nor which page it stands on.

use super::above::{self, AboveValue, FromAbove};
use super::value::{self, ShownValue, ValueOrigin};
use crate::answer::worth::{WorthAnswer, is_doubted};
use crate::book::entry::{EntryId, Item};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::calc::Missing;
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register, SlotEvent};
use crate::report::chart::Table;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words::DASH;
use crate::source::FileId;
use crate::units::{DimensionId, number, table};
use crate::words;
use crate::worth::loads::{self, Brought};
use serde::Serialize;

/// The balance of a car.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownBalance {
    /// The car from above.
    pub above: FromAbove,
    /// What was turned, and what the words in the drawing mean, a sentence each.
    pub told: Vec<String>,
    /// The lines it was weighed on.
    pub src: String,
    /// The numbers.
    pub table: Table,
}

/// A pad of a weighing.
struct Pad<'t> {
    shown: ShownValue,
    si: f64,
    item: &'t Item,
    file: FileId,
}

/// Decimals of a share in per cent, and of turns.
const PERCENT: u8 = 1;
const TURNS: u8 = 2;

/// The balance from the lines before a rank; none where no perch was turned from one weighing, and no other cross is asked.
pub(super) fn view(tell: &Teller<'_>, car: CarId, until: Rank, answer: &WorthAnswer) -> Option<ShownBalance> {
    let facts = tell.cx.facts;
    let brought = loads::brought(facts, car, until);
    let asked = answer.balance.as_ref().zip(loads::by_asking(facts, car, until));
    let last = brought.as_ref().map_or_else(|| loads::last_weighed(facts, car, until), |one| Some(one.from));
    let before = pads(tell, car, last?)?;
    let after = brought.as_ref().and_then(|one| pads(tell, car, one.to?));
    let now = after.as_ref().unwrap_or(&before);
    let gained = brought.as_ref().map(|one| loads::by_turns(facts, car, one));
    let wanted = asked.map(|(_, (gained, _))| gained);
    if brought.is_none() && wanted.is_none() {
        return None;
    }
    let turns = asked.and_then(|(balance, _)| match balance.surer {
        Some("statics") => balance.statics.as_ref(),
        _ => balance.own.as_ref().or(balance.statics.as_ref()),
    });
    let mut values = Vec::new();
    let mut rows = Vec::new();
    for (index, corner) in Place::CORNERS.into_iter().enumerate() {
        let (Some(pad), Some(standing)) = (before.get(index), now.get(index)) else { continue };
        let gain = |gained: &[f64; 4]| gained.get(index).copied();
        let place = tell.cx.place(corner);
        let turned = brought.as_ref().and_then(|one| by_at(&one.turned, corner));
        let weighed = if brought.is_some() {
            let after = after.as_ref().and_then(|pads| pads.get(index));
            let after = after.map_or_else(ShownValue::missing, |pad| pad.shown.clone());
            above::value("weight", Some(pad.shown.clone()), after, turned.is_some())
        } else {
            above::value("weight", None, pad.shown.clone(), false)
        };
        let expected = gained.as_ref().map(|gained| match gained.as_ref().ok().and_then(gain) {
            Some(gain) => loaded(tell, pad, gain),
            None => ShownValue::missing(),
        });
        let aim = wanted.as_ref().and_then(gain).map(|gain| loaded(tell, standing, gain));
        let by = turns.and_then(|turns| turns.turns.iter().find(|(at, _)| *at == place)).map(|(_, by)| *by);
        rows.push(vec![
            place.clone(),
            pad.shown.full(),
            turned.map_or_else(|| DASH.to_owned(), turn),
            expected.as_ref().map_or_else(|| DASH.to_owned(), ShownValue::full),
            after
                .as_ref()
                .and_then(|pads| pads.get(index))
                .map_or_else(|| DASH.to_owned(), |pad| pad.shown.full()),
            aim.as_ref().map_or_else(|| DASH.to_owned(), ShownValue::full),
            by.map_or_else(|| DASH.to_owned(), |by| format!("{} turn", number::signed(by, TURNS))),
        ]);
        values.push((place.clone(), weighed));
        let expected = expected.map(|now| should("expected", now));
        let turned = turned
            .map(|by| AboveValue { moved: true, ..above::value("turned", None, plain(turn(by)), true) });
        let aim = aim.map(|now| AboveValue {
            far: by.map_or_else(String::new, |by| format!("by {} turn", number::signed(by, TURNS))),
            ..should("asked for", now)
        });
        values.extend([turned, expected, aim].into_iter().flatten().map(|value| (place.clone(), value)));
    }
    let crosses = [
        cross(&before, [0.0; 4]),
        gained.as_ref().and_then(|gained| cross(&before, *gained.as_ref().ok()?)),
        after.as_ref().and_then(|pads| cross(pads, [0.0; 4])),
        wanted.and_then(|gained| cross(now, gained)),
    ];
    values.extend(of_car(&crosses, brought.is_some()));
    let [was, expected, is, aim] = crosses.map(|one| one.map_or_else(|| DASH.to_owned(), |one| one.full()));
    rows.push(vec!["cross weight".to_owned(), was, DASH.to_owned(), expected, is, aim, DASH.to_owned()]);
    let lines = [last, brought.as_ref().and_then(|one| one.to)].into_iter().flatten();
    Some(ShownBalance {
        above: above::of_values(tell, car, values)?,
        told: told(
            tell,
            brought.as_ref(),
            gained.as_ref(),
            is_doubted(&answer.turns),
            asked.map(|(_, (_, equal))| equal),
        ),
        src: sources::lines(tell.cx.files, lines.filter_map(|line| Some(tell.entry(line)?.span()))),
        table: Table { head: HEADS.map(str::to_owned).to_vec(), rows },
    })
}

/// Heads of the table.
const HEADS: [&str; 7] =
    ["place", "weighed", "turned", "expected", "weighed after", "asked for", "by turning"];

/// The four pads of a line.
fn pads<'t>(tell: &Teller<'t>, car: CarId, line: EntryId) -> Option<Vec<Pad<'t>>> {
    let (book, history) = (tell.cx.book, tell.cx.history);
    let weight = book.vocabulary.find("weight")?;
    let pad = |corner: Place| {
        let track = history.slots.find(Owner::Car(car), weight, corner)?;
        let of_line = |event: &&SlotEvent| event.entry == Some(line) && event.register() == Register::Read;
        let event = track.events.iter().rev().find(of_line)?;
        Some(Pad {
            shown: value::value(tell, track, event),
            si: event.value,
            item: history.item(book, track, event)?,
            file: tell.entry(line)?.file,
        })
    };
    Place::CORNERS.into_iter().map(pad).collect()
}

/// What a pad would show with so much more on it, as finely as it was read.
fn loaded(tell: &Teller<'_>, pad: &Pad<'_>, gain: f64) -> ShownValue {
    let text = tell.cx.difference_in(pad.si + gain, pad.file, pad.item);
    let text = text.split(' ').next().unwrap_or_default().to_owned();
    ShownValue { text, unit: pad.shown.unit.clone(), how: ValueOrigin::Derived }
}

/// The cross of four pads with so much more on each.
fn cross(pads: &[Pad<'_>], gained: [f64; 4]) -> Option<ShownValue> {
    let [lf, rf, lr, rr] = pads else { return None };
    let [to_lf, to_rf, to_lr, to_rr] = gained;
    let share = loads::cross_of([lf.si + to_lf, rf.si + to_rf, lr.si + to_lr, rr.si + to_rr]);
    share.is_finite().then(|| ShownValue {
        text: number::format(share * 100.0, PERCENT),
        unit: "%".to_owned(),
        how: ValueOrigin::Derived,
    })
}

/// What is told of the whole car: its cross as weighed, as expected, as weighed again, and as asked.
fn of_car(crosses: &[Option<ShownValue>; 4], turned: bool) -> Vec<(String, AboveValue)> {
    let [was, expected, is, aim] = crosses;
    let mut all = Vec::new();
    if let Some(was) = was {
        let now = is.clone().unwrap_or_else(ShownValue::missing);
        all.push(if turned {
            above::value("cross", Some(was.clone()), now, false)
        } else {
            above::value("cross", None, was.clone(), false)
        });
    }
    all.extend(expected.clone().map(|now| should("expected", now)));
    all.extend(aim.clone().map(|now| should("asked for", now)));
    all.into_iter().map(|value| (String::new(), value)).collect()
}

fn should(name: &str, now: ShownValue) -> AboveValue {
    AboveValue { expected: true, ..above::value(name, None, now, false) }
}

fn plain(text: String) -> ShownValue {
    ShownValue { text, unit: String::new(), how: ValueOrigin::Set }
}

fn by_at(turned: &[(Place, f64)], corner: Place) -> Option<f64> {
    turned.iter().find(|(place, _)| *place == corner).map(|(_, by)| *by)
}

/// "+0.5 turn", of SI: as many decimals as it takes.
fn turn(by: f64) -> String {
    let turn =
        table().find_one("turn", DimensionId::TURN).map_or(1.0, |unit| unit.get().difference_to_si(1.0));
    let by = by / turn;
    let exact = |decimals: &u8| {
        number::signed(by, *decimals).parse::<f64>().is_ok_and(|shown| libm::fabs(shown - by) < 1e-6)
    };
    format!("{} turn", number::signed(by, (0..4).find(exact).unwrap_or(4)))
}

/// What the drawing's words mean here.
fn told(
    tell: &Teller<'_>,
    brought: Option<&Brought>,
    gained: Option<&Result<[f64; 4], Missing>>,
    doubted: bool,
    asked: Option<bool>,
) -> Vec<String> {
    let mut all = Vec::new();
    if let Some(one) = brought {
        let from = tell.moment(one.from);
        all.push(match one.to {
            Some(to) => format!(
                "Weighed {from} and again {}, with nothing but perches turned between that moves the load",
                tell.moment(to)
            ),
            None => format!("Weighed {from}; perches were turned since, and it was not weighed again"),
        });
        all.push(match gained {
            Some(Err(missing)) => format!(
                "Expected is not known: springs and tracks say it, and that needs {}",
                words::and(&missing.needs)
            ),
            _ if doubted => "Expected is what springs and tracks make of the turns, which is not what this car's own moves bear out: weigh it".to_owned(),
            _ => "Expected is what springs and tracks make of the turns".to_owned(),
        });
    }
    if let Some(equal) = asked {
        let tracks =
            if equal { ", both tracks taken as equal since the book does not state them" } else { "" };
        all.push(format!(
            "Asked for is what each wheel carries once the cross is what was asked: the weight of the car and of each axle stays, and what it leans by{tracks}"
        ));
    }
    all
}
