//! `fuel-over-tank`: more fuel aboard than the tank holds.

use crate::book::model::CarId;
use crate::book::place::Place;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::{Owner, Register, SlotEvent};

/// The check.
pub const CHECK: Check = Check {
    name: "fuel-over-tank",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "more fuel aboard than the tank holds",
    why: "What the line says is aboard, or comes to with what it adds, is more than the car's `tank-capacity`. A plus in front of the \
          number adds to what is left; without one the number is all there is. Fuel left and range are told by it.",
    wrong: "  set tank-capacity 60 L\n  fill fuel 45 L\n  fill fuel +40 L",
    right: "  set tank-capacity 60 L\n  fill fuel 45 L\n  fill fuel +15 L",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let track = |name: &str| {
        let id = cx.book.vocabulary.find(name)?;
        cx.history.slots.find(Owner::Car(car), id, Place::CAR)
    };
    let (Some(fuel), Some(tank)) = (track("fuel"), track("tank-capacity")) else { return };
    let rank = |event: &SlotEvent| event.rank(&cx.history.order);
    let mut over = false;
    let mut holds = tank.events.iter().peekable();
    let mut held: Option<&SlotEvent> = None;
    for (entry, event) in fuel.lines() {
        while let Some(next) = holds.next_if(|next| rank(next) < rank(event)) {
            held = Some(next);
        }
        let Some(most) = held.filter(|held| held.register() != Register::Unknown).map(|held| held.value) else {
            continue;
        };
        let was = std::mem::replace(&mut over, false);
        if event.register() == Register::Unknown || event.value <= most * (1.0 + 1e-9) {
            continue;
        }
        // What was too much stays so until there is less again.
        over = true;
        if !was {
            let item = cx.item(event.item());
            let message = format!(
                "{} would have {} aboard, and its tank holds {}.",
                cx.car(car),
                cx.value_like(event.value, entry, item),
                cx.value_like(most, entry, item)
            );
            let message = CHECK.at(cx.item_span(entry, event.item()), message);
            let message = match held.and_then(|held| held.entry) {
                Some(line) => message.and(cx.entry(line).span(), "what the tank holds"),
                None => message,
            };
            out.push(message.cure("correct the amount; `fill fuel 40 L` says what is aboard, `fill fuel +40 L` what was put in"));
        }
    }
}
