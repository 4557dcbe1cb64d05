//! `place-missing`: one number without a place on a quantity that has places.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::vocabulary::Places;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "place-missing",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "one number without a place on a quantity that has places",
    why: "A camber belongs to a corner and a bar hole to an axle. One bare number could be any of them; four stand \
          for LF RF LR RR and two for front and rear, but one needs its place.",
    wrong: "  set camber -3.2 deg",
    right: "  set camber LF -3.2 deg",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::PlaceMissing(id) = trouble.what else { return None };
    let quantity = cx.quantity(id);
    let typed = cx.text(trouble.span);
    let repeats = repeats(cx, trouble.span);
    if matches!(repeats.len(), 2 | 4) {
        return Some(
            CHECK
                .at(trouble.span, format!("{} goes by {}: commas make these {} repeats of one.", quantity.name, words::places(quantity.places), repeats.len()))
                .here("no place")
                .cure(format!("for one number a place, type blanks: `{}`; for repeats, the place first, such as `{} {}`", repeats.join(" "), example(quantity.places), repeats.join(", "))),
        );
    }
    Some(
        CHECK
            .at(trouble.span, format!("{} goes by {}: where is {typed}?", quantity.name, words::places(quantity.places)))
            .here("no place")
            .cure(format!("write the place before it, such as `{} {typed}`", example(quantity.places))),
    )
}

const fn example(places: Places) -> &'static str {
    if places.has(Places::CORNER) {
        "LF"
    } else if places.has(Places::AXLE) {
        "front"
    } else if places.has(Places::CYLINDER) {
        "c1"
    } else {
        "g1"
    }
}

/// The numbers from here on that commas hold together.
fn repeats<'a>(cx: &Context<'a>, span: crate::source::Span) -> Vec<&'a str> {
    let text = cx.files.get(span.file).map_or("", |file| &*file.text);
    let line = text.get(span.start as usize..).unwrap_or_default().lines().next().unwrap_or_default();
    let mut list = Vec::new();
    for one in line.split(',').take(40) {
        let mut words = one.split_whitespace();
        let number = words.next().filter(|word| word.starts_with(|one: char| one.is_ascii_digit() || one == '-'));
        let Some(number) = number else { break };
        list.push(number);
        if words.next().is_some() {
            break;
        }
    }
    list
}
