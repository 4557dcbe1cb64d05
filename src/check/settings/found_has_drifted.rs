//! `found-has-drifted`: found otherwise than it was left, by more than the gauges can tell.

use crate::book::entry::{EntryId, Item};
use super::drift::{Drift, drifts};
use super::lines::Hit;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::Owner;
use crate::history::usage;
use crate::units::{DimensionId, number};

/// The check.
pub const CHECK: Check = Check {
    name: "found-has-drifted",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "found otherwise than it was left, by more than the gauges can tell",
    why: "What is found before anyone touches the car should be what was left the last time. If it is not, something \
          moved: an arm bent, a lock nut let go, somebody wrote nothing down. The difference is held against what \
          the two readings leave open together: half a division of each gauge, or half the last digit typed where none is stated.",
    wrong: "  left camber RF -3.2 deg by cg-1\n  ...\n  found camber RF -2.7 deg by cg-1",
    right: "  found camber RF -2.7 deg by cg-1\n    waive found-has-drifted because top mount slid, see the note",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for mut line in drifts(cx) {
        // The worst first; equal ones in the book's order.
        line.sort_by(|a, b| b.what.widths().total_cmp(&a.what.widths()));
        out.extend(message(cx, &line));
    }
}

fn message(cx: &Context<'_>, line: &[Hit<Drift>]) -> Option<Diagnostic> {
    let worst = line.first()?;
    let quantity = cx.entry(worst.entry).quantity?;
    let span = cx.item_span(worst.entry, worst.item);
    let since = format!("{}{}", cx.when(worst.what.left, span), between(cx, worst));
    let widths = |drift: &Drift| {
        let widths = number::format(drift.widths(), u8::from(drift.widths() < 10.0));
        format!("{} gauge widths", widths.trim_end_matches(".0"))
    };
    let step = |hit: &Hit<Drift>| {
        let (was, is) = (cx.item(hit.what.before.item()), cx.item(hit.item));
        let finest = Item { decimals: was.decimals.max(is.decimals), ..*is };
        // Toe is typed with its way in a word and kept with a sign: the way is said again.
        let way = |si: f64| match si {
            _ if cx.quantity(quantity).dimension != DimensionId::TOE || si == 0.0 => "",
            si if si < 0.0 => " out",
            _ => " in",
        };
        let moved = cx.difference_like(hit.what.moved, hit.entry, &finest);
        let way_moved = way(hit.what.moved);
        let moved = if way_moved.is_empty() { moved.as_str() } else { moved.trim_start_matches('-') };
        (
            format!("{}{}", cx.typed(hit.what.left, was).trim_start_matches(if way(was.si).is_empty() { ' ' } else { '-' }), way(was.si)),
            format!("{}{}", cx.typed(hit.entry, is).trim_start_matches(if way(is.si).is_empty() { ' ' } else { '-' }), way(is.si)),
            format!("{moved}{way_moved}"),
        )
    };
    let text = if line.len() == 1 {
        let (was, is, moved) = step(worst);
        format!(
            "{} was left at {was} ({since}) and is found at {is}: moved {moved}, {}; the two readings leave {} open.",
            cx.slot(quantity, cx.item(worst.item).place),
            widths(&worst.what),
            cx.difference_like(worst.what.grain, worst.entry, cx.item(worst.item)),
        )
    } else {
        let places: Vec<String> = line
            .iter()
            .map(|hit| {
                let (was, is, moved) = step(hit);
                let place = cx.place(cx.item(hit.item).place);
                format!("{place} {was} to {is} (moved {moved}, {})", widths(&hit.what))
            })
            .collect();
        let name = &cx.quantity(quantity).name;
        format!("{name} is not as it was left ({since}): {}.", places.join("; "))
    };
    let mut message = CHECK.at(span, text);
    let mut told: Vec<EntryId> = Vec::new();
    for hit in line {
        if !told.contains(&hit.what.left) {
            told.push(hit.what.left);
            message = message.and(cx.entry(hit.what.left).span(), "left here");
        }
    }
    Some(message.cure("find out what moved; `waive found-has-drifted because ...` once you know"))
}

/// What the car did since: ", 5.2 h of running and one impact ago".
fn between(cx: &Context<'_>, hit: &Hit<Drift>) -> String {
    let mut between = String::new();
    if let Owner::Car(car) = hit.what.owner {
        let (from, until) = (cx.rank(hit.what.left), cx.rank(hit.entry));
        let sessions = cx.history.sessions.between(car, from, until);
        let run = usage::total(sessions.iter().map(|id| cx.history.sessions.get(*id)));
        let hits = cx.history.disturbances.hits(car, from, until).count();
        if run.sessions > 0 {
            between = format!(", {:.1} h of running", run.minutes / 60.0);
        }
        if hits > 0 {
            between.push_str(if between.is_empty() { ", " } else { " and " });
            between.push_str(if hits == 1 { "one impact" } else { "more than one impact" });
        }
        if !between.is_empty() {
            between.push_str(" ago");
        }
    }
    between
}
