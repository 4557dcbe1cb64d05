//! `life-ends-next-event`: the limit of a part's life falls in the car's next event.

use crate::book::model::PartId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::due::fitted::whereabouts;
use crate::due::limits::{Reach, Standing, in_turn};
use crate::due::plan::{CarPlan, next_event, plan};
use crate::lives::{End, life};

/// The check.
pub const CHECK: Check = Check {
    name: "life-ends-next-event",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "the limit of a part's life falls in the car's next event",
    why: "The part is within its limit now and will not be at the end of the next event that its car is entered for. What the car \
          will run there is taken from its own events so far: their mean. Change the part before the event, or take another along. \
          `stringline due` lists all of them, with the spares that fit.",
    wrong: "kind coupling fits LR on heron  life 60 min\nevent pell-9 2027-05-10 at pell  entered heron\n...\n  09:00..09:40 run s1",
    right: "kind coupling fits LR on heron  life 90 min\nevent pell-9 2027-05-10 at pell  entered heron\n...\n  09:00..09:40 run s1",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let limited = cx.book.kinds.iter().any(|kind| !kind.life.is_empty()) || cx.book.specs.iter().any(|spec| !spec.life.is_empty());
    let Some(event) = next_event(cx.book, cx.history, cx.today).filter(|_| limited) else { return };
    let plan = plan(cx.book, cx.history, event, cx.today);
    let there = whereabouts(cx.book, cx.history, plan.cut);
    let end = cx.book.events[event].last;
    for car in &plan.cars {
        for holder in there.on(cx.on(car.car, plan.cut)) {
            let inside = there.nest(cx.book, &holder);
            for part in std::iter::once(holder).chain(inside).filter_map(|fitted| fitted.part) {
                if cx.book.limits(part).0.is_empty() {
                    continue;
                }
                let lives = life::of(cx.book, cx.history, part, plan.cut);
                let Some(life) = lives.last().filter(|life| life.end == End::Running) else { continue };
                let reaches = in_turn(cx.book, life, car, plan.today, end);
                let first = reaches.first().filter(|first| first.standing() == Standing::During);
                if let Some(first) = first {
                    out.push(message(cx, car, part, first));
                }
            }
        }
    }
}

fn message(cx: &Context<'_>, car: &CarPlan, part: PartId, reach: &Reach) -> Diagnostic {
    let name = cx.part(part);
    let typed = cx.text(reach.limit.typed);
    let words = |value: f64| told::amount(reach.limit.clock, value, typed);
    let stay = cx.history.parts.get(part).stays.last();
    let at = stay.map_or(cx.book.parts[part].named.declared, |stay| told::part_span(cx, stay.entry, part));
    let event = car.events.last().map_or("", |event| &cx.book.events[*event].named.typed);
    CHECK
        .at(
            at,
            format!(
                "{name} on {} has {} and is expected to have {} after {event}; the limit is {typed}.",
                cx.car(car.car),
                words(reach.now.value),
                words(reach.after().unwrap_or(reach.now.value)),
            ),
        )
        .and(reach.limit.typed, "the limit")
        .cure(format!("change {name} before the event; `stringline due` names the spare"))
}
