//! `word-unexpected`: a word that means nothing where it stands.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words::did_you_mean;


/// The check.
pub const CHECK: Check = Check {
    name: "word-unexpected",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a word that means nothing where it stands",
    why: "A line is read word by word, and this one is none of what may stand here: not a place, not a unit, not a \
          clause such as `by`, `with` or `because`. Free words belong in quotes or after `because`. The line is \
          not used, so that nothing is guessed.",
    wrong: "  set camber LF -3.2 deg becuase it pushes",
    right: "  set camber LF -3.2 deg because it pushes",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    if let What::ClauseNotTaken { clause, verb, cure } = &trouble.what {
        return Some(not_taken(cx, trouble, clause, verb, cure.as_deref()));
    }
    let What::WordUnexpected { near } = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("`{typed}` means nothing here."));
    Some(match near {
        Some(near) => message.cure(did_you_mean(near)),
        None if matches!(typed, "=>" | "=" | "-" | ">" | "-->" | "=>>" | "--") => {
            message.cure("the arrow from old to new is `->`, in one piece")
        }
        None if typed.starts_with(['\'', '\u{2018}', '`']) => {
            message.cure("quoted words stand in double quotes: `\"no cracks\"`")
        }
        None if let Some(apart) = place_apart(typed) => {
            message.cure(format!("put a blank after the place: `{apart}`"))
        }
        None if typed.contains("..") && typed.bytes().all(|each| each.is_ascii_digit() || each == b'.') => {
            message.cure(format!("a number has one point: `{}`", typed.replace("..", ".")))
        }
        None if typed.contains(':') => {
            message.cure("a time of day stands first on its line; a lap time goes after `best`")
        }
        None if typed.starts_with(['\u{B1}', '+']) => {
            message.cure("the value comes before how sure it is: `71.2 ± 0.4 N/mm`")
        }
        None if typed.starts_with(|first: char| first.is_ascii_digit()) => {
            message.cure("numbers come after the quantity and its place, before `by`, `with` and `because`")
        }
        None => message.cure("put free words in quotes, or after `because` at the end of the line"),
    })
}

/// A clause that a line of its verb does not take.
fn not_taken(
    cx: &Context<'_>,
    trouble: &Trouble,
    clause: &str,
    verb: &str,
    cure: Option<&str>,
) -> Diagnostic {
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("`{typed}` says nothing on a line of `{verb}`."));
    match cure {
        Some(cure) => message.cure(format!("write {cure}")),
        None => message.cure(format!("leave it out, or say it after `because`; `{clause}` is not read here")),
    }
}

/// `LR-1/2` in two words, if it is a place with a number stuck to it.
fn place_apart(typed: &str) -> Option<String> {
    let (place, number) = (typed.get(..2)?, typed.get(2..)?);
    let number_like = number.starts_with(['-', '+', '.']) || number.starts_with(|one: char| one.is_ascii_digit());
    let corner = ["LF", "RF", "LR", "RR", "FL", "FR", "RL"].iter().any(|one| one.eq_ignore_ascii_case(place));
    (corner && number_like).then(|| format!("{place} {number}"))
}
