//! `name-twice`: a name declared twice.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::check::phrase;
use crate::source::Span;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "name-twice",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a name declared twice",
    why: "A name stands for one thing in the whole book, whatever its sort, so that a line naming it can mean only \
          that. The first declaration stands; what the second says is kept apart and nothing can refer to it.",
    wrong: "gauge pg-1 \"dial\"\ngauge pg-1 \"digital\"",
    right: "gauge pg-1 \"dial\"\ngauge pg-2 \"digital\"",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    if let What::QuantityBuiltIn(_, ranges) = &trouble.what {
        return Some(built_in(cx, trouble, ranges));
    }
    if let What::PropertyTwice { property, first } = &trouble.what {
        let at = words::place(cx.files.path(first.file), cx.files.line(*first));
        return Some(
            CHECK
                .at(trouble.span, format!("`{property}` is told already, with another value, at {at}."))
                .and(*first, "first here")
                .cure("keep the one that is right; until then neither is relied on"),
        );
    }
    let What::NameTwice(first) = trouble.what else { return None };
    let name = |span| if cx.text(span).contains([' ', '\t']) { phrase::word_of(cx.text(span), span, 1) } else { span };
    let at = name(trouble.span);
    let typed = cx.text(at);
    let Some(first) = first else {
        return Some(
            CHECK
                .at(at, format!("`{typed}` is built in already."))
                .cure("leave the line out, or give your own another name"),
        );
    };
    Some(
        CHECK
            .at(at, format!("`{typed}` is declared already, at {}.", words::place(cx.files.path(first.file), cx.files.line(first))))
            .and(name(first), "first here")
            .cure("give this one another name, or take one of the two lines out"),
    )
}

/// A built-in quantity has its ranges from a car or a class.
fn built_in(cx: &Context<'_>, trouble: &Trouble, ranges: &[Span]) -> Diagnostic {
    let name = cx.text(trouble.span);
    let line = |span: &Span| {
        let (word, range) = cx.text(*span).split_once([' ', '\t']).unwrap_or_default();
        format!("`{word} {name} {}`", range.trim_start())
    };
    let lines: Vec<String> = ranges.iter().map(line).collect();
    let cure = if lines.is_empty() {
        "leave the line out, or give your own another name".to_owned()
    } else {
        format!("what is normal is said of a car: under its `car` line, or under `class NAME`, write {}", words::and(&lines))
    };
    CHECK.at(trouble.span, format!("`{name}` is built in already.")).cure(cure)
}
