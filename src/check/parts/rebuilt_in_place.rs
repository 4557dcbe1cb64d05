//! `rebuilt-in-place`: a part was rebuilt while it was on a car.

use crate::book::entry::Verb;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::parts::Where;

/// The check.
pub const CHECK: Check = Check {
    name: "rebuilt-in-place",
    severity: Severity::Note,
    family: Family::Parts,
    brief: "a part was rebuilt while it was on a car",
    why: "A `rebuild` begins a new life where the line stands. Most parts come off for it: then a `remove` is missing before it, \
          and a `fit` after it, and what the car ran in between would be counted for the wrong part.",
    wrong: "  fit dm-1 LF\n  rebuild dm-1 with seals",
    right: "  remove dm-1\n  rebuild dm-1 with seals\n  fit dm-1 LF",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for (index, entry) in cx.book.entries.iter().enumerate() {
        if entry.verb != Verb::Rebuild || entry.broken {
            continue;
        }
        let Some(part) = entry.part() else { continue };
        let index = index as u32;
        let stay = cx.history.parts.get(part).at(cx.rank(index));
        let Some((stay, Where::Car(car, place))) = stay.map(|stay| (stay, stay.at)) else { continue };
        let name = cx.part(part);
        out.push(
            CHECK
                .at(
                    told::part_span(cx, index, part),
                    format!("{name} is {} and was rebuilt there; its new life is counted from here.", cx.place_words(stay.at)),
                )
                .and(told::part_span(cx, stay.entry, part), format!("on {} {} since", cx.car(car), cx.place(place)).replace("  ", " "))
                .cure(format!("if it came off for that, write `remove {name}` before and `fit {name}` after")),
        );
    }
}
