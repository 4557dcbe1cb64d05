//! `old-value-differs`: the old value of a change is not what the book says.

use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, ItemId, Verb};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::units::DimensionId;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "old-value-differs",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "the old value of a change is not what the book says",
    why: "`set ... OLD -> NEW` says what was on the car before. If that is neither what was asked last nor what was read \
          last, one of the two lines is wrong, and every setup since is in doubt. The new value stands, so the rest of the \
          season is not questioned again.",
    wrong: "  set spring-rate front 70 N/mm\n  set spring-rate front 75 -> 80 N/mm",
    right: "  set spring-rate front 70 N/mm\n  set spring-rate front 70 -> 80 N/mm",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::OldValueDiffers { entry, wrong } = problem else { return None };
    let (entry, first) = (*entry, wrong.first()?);
    let span = cx.item_span(entry, first.item);
    let name = cx.entry(entry).quantity.map_or_else(String::new, |id| cx.quantity(id).name.to_string());
    // Corners of which the book says the same, and the line the same of them.
    let mut alike: Vec<(String, String, Vec<String>)> = Vec::new();
    for one in wrong {
        let book = one.was.map_or_else(
            || "another value by the car's declaration".to_owned(),
            |was| format!("{} ({})", held(cx, was, one.was_item, one.value), cx.when(was, span)),
        );
        let typed = format!("{}{}", cx.typed(entry, cx.item(one.item)), way(cx, entry, cx.item(one.item).si));
        let place = cx.place(cx.item(one.item).place);
        match alike.iter_mut().find(|known| known.0 == book && known.1 == typed) {
            Some(known) => known.2.push(place),
            None => alike.push((book, typed, vec![place])),
        }
    }
    let told: Vec<String> = alike
        .iter()
        .map(|(book, typed, places)| {
            let slot = format!("{name} {}", words::and(places));
            let verb = if places.len() > 1 { "are" } else { "is" };
            format!("{} {verb} {book}; you wrote {typed}", slot.trim_end())
        })
        .collect();
    let text = format!("The book says {}. Which was on the car?", told.join(", and "));
    let mut message = CHECK.at(span, text);
    let mut known: Vec<EntryId> = Vec::new();
    for one in wrong {
        let Some(was) = one.was.filter(|was| !known.contains(was)) else { continue };
        known.push(was);
        message = message.and(cx.entry(was).span(), format!("{} here", held(cx, was, one.was_item, one.value)));
    }
    Some(message.cure("correct the old value, or write `?` if nobody knows"))
}

/// The book's value in words; after an `adjust` that is the sum, not the change on its line.
fn held(cx: &Context<'_>, was: EntryId, item: ItemId, value: f64) -> String {
    let (entry, item) = (cx.entry(was), cx.item(item));
    if entry.verb == Verb::Adjust {
        return cx.value_like(value, was, item);
    }
    format!("{}{}", cx.typed_from(was, item), way(cx, was, value))
}

/// Toe is typed with its direction before it: " in", " out"; nothing of anything else.
fn way(cx: &Context<'_>, line: EntryId, si: f64) -> &'static str {
    let toe = cx.entry(line).quantity.is_some_and(|id| cx.quantity(id).dimension == DimensionId::TOE);
    match si.partial_cmp(&0.0).filter(|_| toe) {
        Some(std::cmp::Ordering::Less) => " out",
        Some(std::cmp::Ordering::Greater) => " in",
        _ => "",
    }
}
