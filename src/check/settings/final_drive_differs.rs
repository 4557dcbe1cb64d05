//! `final-drive-differs`: a final drive that the sprockets contradict.

use super::lines::before;
use crate::book::entry::{EntryId, HeadId};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Rank;
use crate::history::slots::Register;
use crate::units::number;
use std::collections::BTreeMap;

/// The check.
pub const CHECK: Check = Check {
    name: "final-drive-differs",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "a final drive that the sprockets contradict",
    why: "Where a chain is the final drive its ratio is that of the sprockets, teeth of the driven over teeth of the driving one, \
          after the primary drive where there is one. A `final-drive` beside them says it once more; where the two differ, speeds and \
          revs are worked out from the `final-drive` alone. One message stands at the last such line of a block.",
    wrong: "  set sprocket-front 15\n  set sprocket-rear 44\n  set final-drive 41/11",
    right: "  set sprocket-front 15\n  set sprocket-rear 44",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let find = |name: &str| cx.book.vocabulary.find(name);
    let names = [find("final-drive"), find("sprocket-front"), find("sprocket-rear")];
    // The last line about one of them in each block of a car.
    let mut last: BTreeMap<(CarId, HeadId), (Rank, EntryId)> = BTreeMap::new();
    for (index, entry) in cx.book.entries.iter_enumerated() {
        if entry.quantity.is_none() || !names.contains(&entry.quantity) || entry.broken || entry.void {
            continue;
        }
        let Some(car) = cx.car_of(index) else { continue };
        let rank = cx.rank(index);
        let latest = last.entry((car, entry.head)).or_insert((rank, index));
        *latest = (*latest).max((rank, index));
    }
    for ((car, _), (rank, line)) in last {
        let typed = |name: &str| typed(cx, car, name, rank);
        let (Some(drive), Some(front), Some(rear)) = (typed("final-drive"), typed("sprocket-front"), typed("sprocket-rear"))
        else {
            continue;
        };
        let (Some(stated), Some(by_chain)) = (ratio(drive.0), ratio(&format!("{}/{}", rear.0, front.0))) else { continue };
        let primary = self::typed(cx, car, "primary-drive", rank).and_then(|primary| ratio(primary.0));
        let after_primary = primary.map(|primary| (primary.0 * by_chain.0, primary.1 * by_chain.0));
        let differs = |chain: (f64, f64)| (stated.0 - chain.0).abs() > stated.1 + chain.1 + 1e-9;
        if !differs(by_chain) || after_primary.is_some_and(|chain| !differs(chain)) {
            continue;
        }
        let chain = after_primary.unwrap_or(by_chain).0;
        let mut message = CHECK.at(
            cx.entry(line).span(),
            format!(
                "final-drive is {}, and the sprockets ({} on {}) make it {}.",
                drive.0, rear.0, front.0, number::format(chain, 3)
            ),
        );
        for (_, other) in [drive, front, rear] {
            if let Some(other) = other.filter(|other| *other != line) {
                message = message.and(cx.entry(other).span(), "stated here");
            }
        }
        out.push(message.cure("correct one of them, or leave the `final-drive` out: the sprockets say it"));
    }
}

/// What stands for a quantity of the whole car after that line: as typed, and its line where it has one.
fn typed<'a>(cx: &Context<'a>, car: CarId, name: &str, rank: Rank) -> Option<(&'a str, Option<EntryId>)> {
    let quantity = cx.book.vocabulary.find(name)?;
    let (track, event) = before(cx, car, quantity, Place::CAR, rank.next())?;
    if event.register() == Register::Unknown {
        return None;
    }
    let item = track.item(cx.book, &event)?;
    let text = &*cx.files.get(track.file(cx.book, &event)?)?.text;
    let from = text.get(item.start as usize..)?;
    Some((from.split([' ', '\t', '\r', '\n', ',']).next()?, event.entry))
}

/// A ratio as typed, teeth or a number, and half of what its last digit is worth.
fn ratio(typed: &str) -> Option<(f64, f64)> {
    if let Some((driven, driving)) = typed.split_once('/') {
        let (driven, driving) = (driven.parse::<f64>().ok()?, driving.parse::<f64>().ok()?);
        return (driven > 0.0 && driving > 0.0).then(|| (driven / driving, 0.0));
    }
    let value = typed.parse::<f64>().ok().filter(|value| *value > 0.0 && value.is_finite())?;
    let decimals = typed.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    Some((value, 0.5 * libm::pow(10.0, -(decimals.min(9) as f64))))
}
