//! `range-unclear`: a range of a car or a class that says nothing.

use crate::book::trouble::RangeTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "range-unclear",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a range of a car or a class that contradicts itself or another",
    why: "`usual` and `possible` under a car or a class say what is normal there, in place of what the vocabulary says. A range \
          runs from its lower number to its higher one, is said once for a place, and what is usual lies within what the same \
          declaration calls possible; a range that names a place stands before one for the axle, the side or the whole car.",
    wrong: "car lm12 \"Late model\"\n  usual camber LF 7..2 deg",
    right: "car lm12 \"Late model\"\n  usual camber LF 2..7 deg",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Range(range) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let at = |span: crate::source::Span| words::place(cx.files.path(span.file), cx.files.line(span));
    Some(match range {
        RangeTrouble::Backward => {
            let cure = match typed.split_once("..") {
                Some((from, to)) if from != to => format!("write `{to}..{from}`, if that is meant"),
                _ => "write two numbers, the lower one first".to_owned(),
            };
            CHECK.at(trouble.span, format!("{typed} holds nothing: the lower number stands first.")).cure(cure)
        }
        RangeTrouble::NotANumber(id) => {
            let name = &cx.quantity(id).name;
            CHECK
                .at(trouble.span, format!("{name} is said in words or grades: it has no range."))
                .cure("leave the line out")
        }
        RangeTrouble::Twice(first) => CHECK
            .at(trouble.span, format!("`{typed}` says once more what is said at {}.", at(first)))
            .and(first, "first here")
            .cure("take one of the two out, or give each its places"),
        RangeTrouble::Beyond(possible) => CHECK
            .at(trouble.span, format!("`{typed}` goes beyond what is possible, said at {}.", at(possible)))
            .and(possible, "possible here")
            .cure("widen `possible`, or narrow `usual`"),
    })
}
