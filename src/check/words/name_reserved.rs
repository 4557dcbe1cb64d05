//! `name-reserved`: a name that already means something in the language.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::place::Place;
use crate::source::Span;

/// The check.
pub const CHECK: Check = Check {
    name: "name-reserved",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a name that already means something in the language",
    why: "Words such as `front`, `by` or `part` mean something where a name may stand, and so do the places `LF RF \
          LR RR`, `c1` or `g1`. A car called `front` could not be told from the front of a car, so the name is \
          refused where it is declared.",
    wrong: "car front \"The front-wheel-drive one\"",
    right: "car front-drive \"The front-wheel-drive one\"",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NameReserved = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let place = Place::parse(typed).is_some();
    let number = typed.get(1..).filter(|number| place && number.bytes().all(|digit| digit.is_ascii_digit()));
    let (is, other) = match (number, typed.as_bytes().first()) {
        // `gauge g1`: what it is a name of, in full.
        (Some(number), Some(letter)) => {
            let is = if letter.eq_ignore_ascii_case(&b'g') { "gear" } else { "cylinder" };
            (format!("is {is} {number} of a car"), format!("{}-{number}", declares(cx, trouble.span)))
        }
        _ if place => ("is a place on a car".to_owned(), format!("{typed}-1")),
        _ => ("is a word of the language".to_owned(), format!("{typed}-1")),
    };
    Some(
        CHECK
            .at(trouble.span, format!("`{typed}` {is} and cannot be a name."))
            .cure(format!("choose another, such as `{other}`")),
    )
}

/// The word that the line begins with: what it declares.
fn declares(cx: &Context<'_>, span: Span) -> String {
    let text = cx.files.get(span.file).map_or("", |file| &*file.text);
    let before = text.get(..span.start as usize).and_then(|before| before.rsplit('\n').next());
    before.and_then(|before| before.split_whitespace().next()).unwrap_or("name").to_ascii_lowercase()
}
