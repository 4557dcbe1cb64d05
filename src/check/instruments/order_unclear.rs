//! `order-unclear`: four bare corner weights that look read in another order.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Verb};
use crate::book::place::Place;
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::{DimensionId, number};
use crate::vocabulary::{Places, QuantityId};
use rustc_hash::FxHashMap;

/// The check.
pub const CHECK: Check = Check {
    name: "order-unclear",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "four bare corner weights that look read in another order",
    why: "Four bare numbers are LF RF LR RR here. A scale box may print LF LR RF RR, or go round the car, LF RF RR LR. When a \
          corner's share of the whole is far from that of the car's last weights, and all four would come three times nearer in one \
          of those orders, the corners are asked for.",
    wrong: "  left weight 561 467 549 452 lb",
    right: "  left weight LF 561 RF 549 LR 467 RR 452 lb",
    look: Look::Whole(look),
};

/// As a share of the whole, how far a corner is from where it was before another order is looked for.
const FAR: f64 = 0.015;
/// How far it may be in that order.
const NEAR: f64 = 0.02;
/// How many times nearer it comes in that order. What perches and ballast move stays below.
const NEARER: f64 = 3.0;

/// The numbers of a line, put in the order LF RF LR RR.
type Sorted = fn([f64; 4]) -> [f64; 4];

/// The orders that scale boxes print and people walk.
const ORDERS: [(&str, Sorted); 4] = [
    ("LF LR RF RR", |[lf, lr, rf, rr]| [lf, rf, lr, rr]),
    ("LF RF RR LR", |[lf, rf, rr, lr]| [lf, rf, lr, rr]),
    ("LF LR RR RF", |[lf, lr, rr, rf]| [lf, rf, lr, rr]),
    ("RF LF RR LR", |[rf, lf, rr, lr]| [lf, rf, lr, rr]),
];

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut last: FxHashMap<(CarId, QuantityId), (EntryId, [f64; 4])> = FxHashMap::default();
    for index in &cx.history.order.entries {
        let entry = cx.entry(*index);
        if entry.broken || entry.void || !matches!(entry.verb, Verb::Found | Verb::Left | Verb::Read) {
            continue;
        }
        let Some(id) = entry.quantity else { continue };
        let quantity = cx.quantity(id);
        if quantity.dimension != DimensionId::WEIGHT || !quantity.places.has(Places::CORNER) {
            continue;
        }
        let (Some(car), Some(is)) = (cx.book.head(entry).and_then(|head| head.car), corners(cx, entry)) else {
            continue;
        };
        if let Some((before, was)) = last.get(&(car, id))
            && bare(cx, entry, &quantity.name)
            && let Some(order) = better(is, *was)
        {
            out.push(message(cx, *index, *before, order, (is, *was)));
            continue;
        }
        last.insert((car, id), (*index, is));
    }
}

/// The order in which four numbers read like the last four, where they do not as they stand.
fn better(is: [f64; 4], was: [f64; 4]) -> Option<&'static str> {
    let off = |is: [f64; 4]| is.into_iter().zip(was).map(|(is, was)| (is - was).abs()).fold(0.0, f64::max);
    let typed = off(is);
    let (order, least) = ORDERS.map(|(order, sorted)| (order, off(sorted(is)))).into_iter().min_by(|a, b| a.1.total_cmp(&b.1))?;
    (typed > FAR && least <= NEAR && least * NEARER <= typed).then_some(order)
}

fn message(
    cx: &Context<'_>,
    index: EntryId,
    before: EntryId,
    order: &str,
    (is, was): ([f64; 4], [f64; 4]),
) -> Diagnostic {
    let percent = |share: f64| number::format(share * 100.0, 1);
    let shares = |[lf, rf, lr, rr]: [f64; 4]| [("front", lf + rf), ("left", lf + lr), ("cross weight", rf + lr), ("rear", lr + rr)];
    // The share that is furthest from what it was says it best.
    let pairs = shares(is).into_iter().zip(shares(was));
    let worst = pairs.max_by(|a, b| (a.0.1 - a.1.1).abs().total_cmp(&(b.0.1 - b.1.1).abs()));
    let ((name, now), (_, then)) = worst.unwrap_or((("front", 0.0), ("front", 0.0)));
    let span = cx.entry(index).span();
    CHECK
        .at(
            span,
            format!(
                "Looks like {order}: {name} would be {} %, and was {} % ({}). Name the corners.",
                percent(now),
                percent(then),
                cx.when(before, span)
            ),
        )
        .and(cx.entry(before).span(), "the last weights")
        .cure("write LF, RF, LR and RR before their numbers")
}

/// The four corners as shares of the whole, if all are there, in the book's order.
fn corners(cx: &Context<'_>, entry: &Entry) -> Option<[f64; 4]> {
    let items = cx.book.items_of(entry);
    let mut all = [0.0; 4];
    for (value, place) in all.iter_mut().zip(Place::CORNERS) {
        *value = items.iter().find(|item| item.place == place && Context::is_number(item))?.si;
    }
    let total = all.iter().sum::<f64>();
    (total > 0.0).then(|| all.map(|value| value / total))
}

/// Whether no corner is named: the first number follows the quantity's name.
fn bare(cx: &Context<'_>, entry: &Entry, name: &str) -> bool {
    let Some(first) = cx.book.items_of(entry).iter().map(|item| item.start).min() else { return false };
    let before = cx.text(crate::source::Span::new(entry.file, entry.start, first.max(entry.start)));
    before.trim_end().to_lowercase().ends_with(name)
}
