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
    why: "Four bare numbers are LF RF LR RR here. A scale box may print LF LR RF RR, or go round the car, LF RF RR LR. When the \
          shares of front and left are far from what this car always had, and would agree in one of those orders, the \
          corners are asked for.",
    wrong: "  left weight 561 467 549 452 lb",
    right: "  left weight LF 561 RF 549 LR 467 RR 452 lb",
    look: Look::Whole(look),
};

/// How many points of share are another car.
const FAR: f64 = 0.04;
/// How many are the same one.
const NEAR: f64 = 0.02;

/// Sums of front and left shares, and how many readings they are of.
#[derive(Clone, Copy, Default)]
struct Usual {
    front: f64,
    left: f64,
    count: f64,
}

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut usual: FxHashMap<(CarId, QuantityId), Usual> = FxHashMap::default();
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
        let (Some(car), Some(read)) = (cx.book.head(entry).and_then(|head| head.car), corners(cx, entry)) else {
            continue;
        };
        let known = usual.entry((car, id)).or_default();
        let (front, left) = shares(read);
        if known.count > 0.0 && bare(cx, entry, &quantity.name) {
            let (was_front, was_left) = (known.front / known.count, known.left / known.count);
            let off = |(front, left): (f64, f64)| (front - was_front).abs().max((left - was_left).abs());
            let [a, b, c, d] = read;
            let orders = [("LF LR RF RR", [a, c, b, d]), ("LF RF RR LR", [a, b, d, c])];
            let better = orders.into_iter().find(|(_, order)| off(shares(*order)) <= NEAR);
            if off((front, left)) > FAR
                && let Some((order, _)) = better
            {
                let (name, is, was) = if (front - was_front).abs() > FAR {
                    ("front", front, was_front)
                } else {
                    ("left", left, was_left)
                };
                out.push(message(cx, *index, order, name, is, was));
                continue;
            }
        }
        known.front += front;
        known.left += left;
        known.count += 1.0;
    }
}

fn message(cx: &Context<'_>, index: EntryId, order: &str, share: &str, is: f64, was: f64) -> Diagnostic {
    let percent = |share: f64| number::format(share * 100.0, 1);
    CHECK
        .at(
            cx.entry(index).span(),
            format!("Looks like {order}: {share} would be {} %, usually {}. Name the corners.", percent(is), percent(was)),
        )
        .cure("write LF, RF, LR and RR before their numbers")
}

/// The four corners' values, if all are there, in the book's order.
fn corners(cx: &Context<'_>, entry: &Entry) -> Option<[f64; 4]> {
    let items = cx.book.items_of(entry);
    let mut all = [0.0; 4];
    for (value, place) in all.iter_mut().zip(Place::CORNERS) {
        *value = items.iter().find(|item| item.place == place && Context::is_number(item))?.si;
    }
    (all.iter().sum::<f64>() > 0.0).then_some(all)
}

/// Front and left shares.
fn shares([lf, rf, lr, rr]: [f64; 4]) -> (f64, f64) {
    let total = lf + rf + lr + rr;
    ((lf + rf) / total, (lf + lr) / total)
}

/// Whether no corner is named: the first number follows the quantity's name.
fn bare(cx: &Context<'_>, entry: &Entry, name: &str) -> bool {
    let Some(first) = cx.book.items_of(entry).iter().map(|item| item.start).min() else { return false };
    let before = cx.text(crate::source::Span::new(entry.file, entry.start, first.max(entry.start)));
    before.trim_end().to_lowercase().ends_with(name)
}
