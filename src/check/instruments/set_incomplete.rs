//! `set-incomplete`: corner weights with a corner missing.

use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Verb};
use crate::book::place::Place;
use crate::history::weighing;
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::DimensionId;
use crate::vocabulary::Places;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "set-incomplete",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "corner weights with a corner missing",
    why: "Cross, front share and total need all four corners, on one line or on several of one block with nothing changed between; \
          or three of them and the whole car on one scale (`total-weight` in the same block), from which the fourth follows. A corner \
          that was not read stays empty; it is never taken for zero, nor for what it read the last time.",
    wrong: "  left weight LF 149.0 RF 151.0 LR 171.0 RR - kg",
    right: "  left weight LF 149.0 RF 151.0 LR 171.0 RR 171.0 kg",
    look: Look::Entry(&[Verb::Found, Verb::Left, Verb::Read], look),
};

fn look(cx: &Context<'_>, at: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let Some(quantity) = entry.quantity.map(|id| cx.quantity(id)) else { return };
    if quantity.dimension != DimensionId::WEIGHT || !quantity.places.has(Places::CORNER) || entry.void {
        return;
    }
    let items = cx.book.items_of(entry);
    let read = |place: &Place| items.iter().any(|item| item.place == *place && Context::is_number(item));
    let mut missing: Vec<Place> = Place::CORNERS.into_iter().filter(|place| !read(place)).collect();
    if missing.is_empty() || items.is_empty() {
        return;
    }
    let mut total = false;
    // What other lines of the block read with it counts too.
    if entry.quantity == cx.book.vocabulary.find("weight") {
        match weighed(cx, at, entry) {
            Weighed::Whole | Weighed::Later => return,
            Weighed::Lacks(unread, whole) => (missing, total) = (unread, whole),
            Weighed::Unknown => {}
        }
    }
    let lost = if total {
        "only what two of them and the total give is worked out"
    } else if missing.len() == 4 {
        "nothing is worked out of them"
    } else {
        "cross and total are not worked out from it"
    };
    let missing: Vec<String> = missing.into_iter().map(|place| cx.place(place)).collect();
    let verb = if missing.len() == 1 { "is" } else { "are" };
    let text = format!("{} {verb} missing; {lost}.", words::and(&missing));
    let cure = if total { "read all four, or three of them" } else { "read all four in one block, or three and total-weight" };
    out.push(CHECK.at(entry.span(), text).cure(cure));
}

/// What the weighing that a line is of has.
enum Weighed {
    /// The load on every wheel.
    Whole,
    /// A later line of it, which says what is missing.
    Later,
    /// Not these corners; and whether the whole car was read.
    Lacks(Vec<Place>, bool),
    /// The line is in none.
    Unknown,
}

fn weighed(cx: &Context<'_>, at: EntryId, entry: &Entry) -> Weighed {
    let of_scales = ["weight", "total-weight"].map(|name| cx.book.vocabulary.find(name));
    let Some((head, car)) = cx.book.head(entry).and_then(|head| Some((head, head.car?))) else {
        return Weighed::Unknown;
    };
    let mut last = Weighed::Unknown;
    for line in head.lines().filter(|line| *line >= at) {
        let of_one = cx.book.entries.get(line).is_some_and(|line| of_scales.contains(&line.quantity));
        let rank = cx.history.order.rank.get(line).filter(|_| of_one);
        let weighing = rank.and_then(|rank| weighing::newest(cx.facts, car, |_| rank.next()));
        let Some(weighing) = weighing.filter(|weighing| weighing.pads.contains(&Some(at))) else { continue };
        if weighing.is_whole() {
            return Weighed::Whole;
        }
        last = if weighing.last == at {
            Weighed::Lacks(weighing.unread().collect(), weighing.total.is_some())
        } else {
            Weighed::Later
        };
    }
    last
}
