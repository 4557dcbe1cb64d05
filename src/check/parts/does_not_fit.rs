//! `does-not-fit`: a part goes where its kind does not.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "does-not-fit",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part goes where its kind does not",
    why: "A kind says on which cars and in which places its parts go. A line that puts one anywhere else has the \
          wrong part, the wrong place or the wrong car; or the kind should say that it fits there too.",
    wrong: "kind chain fits rear on teal\n...\n2026-05-03 heron\n  fit ch-1 rear",
    right: "2026-05-03 teal\n  fit ch-1 rear",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::DoesNotFit { entry, part, car, place } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    let kind = cx.book.kind_of(part)?;
    let fits: Vec<String> = kind
        .fits
        .iter()
        .map(|fit| {
            let places: Vec<String> = fit.places.iter().map(|place| cx.place(*place)).collect();
            let cars: Vec<String> = fit.cars.iter().map(|car| cx.car(*car).to_owned()).collect();
            let cars = if cars.is_empty() { "any car".to_owned() } else { words::and(&cars) };
            format!("{} on {cars}", places.join(" "))
        })
        .collect();
    let goes = match fits.is_empty() {
        true if kind.inside.is_empty() => "goes in no place that the book declares".to_owned(),
        true => "lives inside an assembly".to_owned(),
        false => format!("goes {}", words::and(&fits)),
    };
    let place = place.map(|place| cx.place(place)).filter(|place| !place.is_empty());
    let there = place.map_or_else(|| cx.car(car).to_owned(), |place| format!("{} {place}", cx.car(car)));
    Some(
        CHECK
            .at(span, format!("{name} is a {} and {goes}, not {there}.", kind.named.typed))
            .and(kind.named.declared, "where it fits")
            .cure("correct the part, the place or the car, or let the kind say that it fits there"),
    )
}
