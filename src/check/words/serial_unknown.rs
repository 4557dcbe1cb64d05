//! `serial-unknown`: a part that nobody declared.

use crate::book::alike::{difference, skeleton};
use crate::book::declare::can_name;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::money::Currency;
use crate::source::Span;
use crate::book::names::{Thing, folded};

/// The check.
pub const CHECK: Check = Check {
    name: "serial-unknown",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a part that nobody declared",
    why: "A part's whole life hangs on its name: where it was, how long it ran, why it came off. A letter typed \
          for a digit would start a second life for the same piece, so a part must be declared before a line names \
          it.",
    wrong: "  fit cp-o7 LR",
    right: "  fit cp-07 LR",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::NameUnknown { wanted: "part", near } = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    if let Some(line) = halt(cx, trouble.span) {
        return Some(
            CHECK
                .at(trouble.span, format!("`service` is of a part, and no part is called `{typed}`."))
                .cure(format!("a halt is a note, perhaps with its time: `10:30 | {line}`")),
        );
    }
    let Some(near) = near else {
        let message = CHECK.at(trouble.span, format!("No part is called `{typed}`."));
        if typed.starts_with(['\u{A3}', '$', '\u{20AC}']) {
            let sum = typed.trim_start_matches(['\u{A3}', '$', '\u{20AC}']);
            let code = cx.book.shop.currency.map_or("EUR", Currency::code);
            return Some(message.cure(format!("money is the number and then its code: `{sum} {code}`")));
        }
        // `cause oil starved`: the second word of what should have been one.
        if let Some(before) = failure_word(cx, trouble.span) {
            return Some(message.cure(format!("join the words with a hyphen, or quote them: `{before}-{typed}`")));
        }
        return Some(if can_name("part", typed) {
            message.cure(format!("declare it, at the margin: `part {typed} KIND`"))
        } else {
            message.cure("write the part's name as it is declared")
        });
    };
    // The name as its declaration spells it, not in lower case.
    let near = match cx.book.names.find(near) {
        Some(Thing::Part(part)) => cx.part(part),
        _ => near.as_str(),
    };
    if let Some(letter) = difference(typed, near).filter(|_| skeleton(typed) == skeleton(near)) {
        let message = CHECK.at(trouble.span, format!("No part {typed}; {near} only looks like it: {letter}."));
        return Some(message.cure(format!("write `{near}`")));
    }
    let slip = slip(&folded(typed), &folded(near));
    Some(
        CHECK
            .at(trouble.span, format!("No part {typed}; {near} exists{slip}."))
            .cure(format!("write `{near}`, or declare `part {typed} KIND` at the margin")),
    )
}

/// `service A 20 min`: the words of a halt between stages, with how long it was behind its name.
fn halt<'a>(cx: &Context<'a>, span: Span) -> Option<&'a str> {
    let text = &cx.files.get(span.file)?.text;
    let start = text.get(..span.start as usize)?.rfind('\n').map_or(0, |end| end + 1);
    let line = text.get(start..)?.lines().next()?;
    let verb = line.get(..(span.start as usize).checked_sub(start)?)?.split_whitespace().next_back()?;
    let after = line.get((span.end as usize).checked_sub(start)?..)?;
    let (number, unit) = after.trim_start().split_once([' ', '\t']).unwrap_or((after.trim(), ""));
    let unit = unit.split_whitespace().next().unwrap_or_default();
    let long = number.parse::<f64>().is_ok() && ["min", "minutes", "h"].contains(&unit)
        || number.strip_suffix("min").is_some_and(|number| number.parse::<f64>().is_ok());
    let words = line.get(line.to_ascii_lowercase().find("service")?..)?.trim_end();
    (verb.eq_ignore_ascii_case("service") && long).then_some(words)
}

/// Letters that are taken for digits.
fn slip(typed: &str, near: &str) -> &'static str {
    if typed == near.replace('0', "o") || typed.replace('o', "0") == near {
        " (letter o?)"
    } else if typed.replace('l', "1") == near {
        " (letter l?)"
    } else if typed.replace('i', "1") == near {
        " (letter i?)"
    } else {
        ""
    }
}

/// The word before, if it answers `mode`, `mechanism`, `cause` or `found-by`.
fn failure_word<'a>(cx: &Context<'a>, span: Span) -> Option<&'a str> {
    let text = &cx.files.get(span.file)?.text;
    let mut before = text.get(..span.start as usize)?.rsplit('\n').next()?.split_whitespace().rev();
    let (word, asked) = (before.next()?, before.next()?);
    ["mode", "mechanism", "cause", "found-by"].iter().any(|one| one.eq_ignore_ascii_case(asked)).then_some(word)
}
