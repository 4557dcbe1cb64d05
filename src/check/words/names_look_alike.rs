//! `names-look-alike`: two names that cannot be told apart by eye.

use crate::book::alike::{Named, difference, pairs};
use crate::check::phrase;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;

/// The check.
pub const CHECK: Check = Check {
    name: "names-look-alike",
    severity: Severity::Warning,
    family: Family::Words,
    brief: "two names that cannot be told apart by eye",
    why: "A letter of another alphabet, or a one for an `l`, makes a second name that looks like the first: lines meant for \
          one thing then go to the other, and nobody sees it on the page. Names are compared by how they look (Unicode \
          Technical Standard 39). Accents typed in two ways are one name, and no matter.",
    wrong: "part pads-1l pads\npart pads-11 pads",
    right: "part pads-1l pads\npart pads-12 pads",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let book = cx.book;
    say(cx, pairs(book.names.all().map(|(name, thing, at)| (name, thing.sort(), Some(at)))), out);
    let mut specs: Vec<_> = book.specs.iter().collect();
    specs.sort_by_key(|spec| spec.kind.number());
    for of_kind in specs.chunk_by(|a, b| a.kind == b.kind) {
        say(cx, pairs(of_kind.iter().map(|spec| (&*spec.named.name, "spec", Some(spec.named.declared)))), out);
    }
    let quantities = book.vocabulary.iter();
    say(cx, pairs(quantities.map(|(_, quantity)| (&*quantity.name, "quantity", quantity.declared))), out);
}

fn say(cx: &Context<'_>, pairs: Vec<(Named<'_, Option<Span>>, Named<'_, Option<Span>>)>, out: &mut Vec<Diagnostic>) {
    for ((name, sort, at), (first, of, first_at)) in pairs {
        // What is built in cannot be named otherwise.
        let Some(at) = at else { continue };
        let of = if sort == of { format!("the other {sort}") } else { format!("the {of}") };
        let letter = difference(name, first).map_or_else(String::new, |letter| format!(": {letter}"));
        let message = CHECK.at(word(cx, at), format!("The {sort} `{name}` looks like {of} `{first}`{letter}."));
        let message = match first_at {
            Some(first_at) => message.and(word(cx, first_at), "this one"),
            None => message,
        };
        out.push(message.cure("give one of the two a name that looks different"));
    }
}

/// The name on the line that declares it.
fn word(cx: &Context<'_>, at: Span) -> Span {
    if cx.text(at).contains([' ', '\t']) { phrase::word_of(cx.text(at), at, 1) } else { at }
}
