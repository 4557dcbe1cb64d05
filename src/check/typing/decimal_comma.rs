//! `decimal-comma`: a comma inside a number.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::syntax::Mistake;

/// The check.
pub const CHECK: Check = Check {
    name: "decimal-comma",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a comma inside a number",
    why: "A comma and a blank separate the repeats of a reading, so the sign inside a number is a point, whatever \
          the country. `1,5` could be one and a half or two readings run together, and it is not guessed which.",
    wrong: "  set tyre-cold front 1,5 bar",
    right: "  set tyre-cold front 1.5 bar",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Syntax(Mistake::DecimalComma) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let message = CHECK.at(trouble.span, format!("{typed} has a comma; the sign inside a number is a point."));
    let plain = |piece: &&str| piece.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'-' | b'+'));
    let typed = &*typed.replace('\u{2212}', "-");
    let pieces: Vec<&str> = typed.split(',').collect();
    if let Some((first, second)) = typed.split_once(", ") {
        // Two numbers where one is wanted.
        let thousands = second.split('.').next().is_some_and(|whole| whole.len() == 3);
        let cure = match (first.contains('.') || second.contains('.') && !thousands, thousands) {
            (true, _) => "one number stands here".to_owned(),
            (false, true) if second.contains('.') => format!("write `{first}{second}`"),
            (false, true) => format!("write `{first}{second}`, or `{first}.{second}`"),
            (false, false) => format!("write `{first}.{second}`"),
        };
        return Some(
            CHECK.at(trouble.span, format!("{typed} is two numbers, and one is wanted here.")).cure(cure),
        );
    }
    if let Some((from, to)) = typed.split_once("..") {
        let end = |end: &str| end.matches(',').count() <= 1 && !(end.contains(',') && end.contains('.'));
        if end(from) && end(to) {
            return Some(message.cure(format!("write `{}`", typed.replace(',', "."))));
        }
    }
    if let Some((whole, part)) = typed.rsplit_once('.')
        && whole.contains(',')
        && !part.contains(',')
        && whole.split(',').skip(1).all(|piece| piece.len() == 3)
    {
        let plain = format!("{}.{part}", whole.replace(',', ""));
        return Some(message.cure(format!("write `{plain}`: nothing stands between thousands")));
    }
    let thousands = pieces.len() > 2 || pieces.last().is_some_and(|last| last.len() == 3);
    if pieces.iter().any(|piece| piece.contains('.')) {
        return Some(
            CHECK
                .at(trouble.span, format!("{typed}: a comma needs a blank after it."))
                .cure(format!("write `{}` for two readings of one thing", pieces.join(", "))),
        );
    }
    Some(match pieces.as_slice() {
        [whole, part] if !plain(whole) || !plain(part) => {
            message.cure("write a point inside the number, and a blank after a comma that separates")
        }
        [whole, part] if thousands => message.cure(format!("write `{whole}.{part}`, or `{whole}{part}` for thousands")),
        [whole, part] => {
            message.cure(format!("write `{whole}.{part}`; two readings have a blank between: `{whole}, {part}`"))
        }
        _ => message.cure("write a point for decimals and nothing for thousands; a comma and a blank separate readings"),
    })
}
