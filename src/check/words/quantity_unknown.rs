//! `quantity-unknown`: a quantity that is neither built in nor declared.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::place::Place;
use crate::words::did_you_mean;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "quantity-unknown",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a quantity that is neither built in nor declared",
    why: "What can be set and read is known by name, so that its unit, its places and what is plausible are known \
          too. A shop adds its own with one `quantity` line at the margin; from then on it is checked like the \
          others.",
    wrong: "  set springs front 70 N/mm",
    right: "  set spring-rate front 70 N/mm",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::QuantityUnknown { near } = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    if typed.is_empty() || typed == "," {
        return Some(
            CHECK
                .at(trouble.span, "The name of a quantity is missing here.")
                .cure("write one, such as `camber`; several with a comma and a blank between"),
        );
    }
    if Place::parse(typed).is_some() {
        return Some(
            CHECK
                .at(trouble.span, format!("`{typed}` is a place; what was measured there comes first."))
                .cure(format!("write the quantity before the place: `camber {typed} ...`")),
        );
    }
    let message = CHECK.at(trouble.span, format!("There is no quantity `{typed}`."));
    if let Some(near) = near {
        return Some(message.cure(did_you_mean(near)));
    }
    let alike = alike(cx, &typed.to_lowercase());
    Some(if alike.is_empty() {
        message.cure(format!(
            "for one of your own, at the margin: `quantity {} length car \"what it is\"`",
            typed.to_lowercase()
        ))
    } else {
        message.cure(format!("is it {}?", words::or(&alike)))
    })
}

/// Quantities that share a word with what was typed, at most six.
fn alike<'a>(cx: &Context<'a>, typed: &str) -> Vec<&'a str> {
    let shares = |name: &str| {
        typed.split('-').any(|part| {
            let part = part.strip_suffix('s').filter(|stem| stem.len() > 3).unwrap_or(part);
            part.len() > 2 && name.split('-').any(|word| word == part)
        })
    };
    cx.book.vocabulary.iter().map(|(_, quantity)| &*quantity.name).filter(|name| shares(name)).take(6).collect()
}
