//! `trial-unclear`: a declared trial whose settings, letters and order do not go together.

use crate::book::tried::TryTrouble;
use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "trial-unclear",
    severity: Severity::Error,
    family: Family::Settings,
    brief: "a declared trial whose settings, letters and order do not go together",
    why: "A trial compares two settings or more. Each has a letter of its own, stands for the same places as the others, and comes in the \
          order at least once; the order has no other letters. Parts are of the kind that is named, or the setting is one of its specs.",
    wrong: "  try bar-hole front A 1, B 3 order A B A C A",
    right: "  try bar-hole front A 1, B 3 order A B A B A",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::Tried(what) = &trouble.what else { return None };
    let at = |message: String| CHECK.at(trouble.span, message);
    Some(match what {
        TryTrouble::OneLevel => at("Nothing to compare it with: there is one setting.".to_owned())
            .cure("say the other after a comma, such as `A 1, B 3`"),
        TryTrouble::LetterTwice(first) => at(format!("{} stands for two settings.", cx.text(trouble.span)))
            .and(*first, "the first")
            .cure("give each setting a letter of its own"),
        TryTrouble::LetterUnknown(known) => {
            let known: Vec<String> = known.iter().map(char::to_string).collect();
            at(format!("{} stands for no setting of this line.", cx.text(trouble.span)))
                .cure(format!("write {}, or say what it is before the order", words::or(&known)))
        }
        TryTrouble::LetterUnused(letter) => at(format!("{letter} is never run in this order."))
            .cure("put it into the order, or take its setting out"),
        TryTrouble::SameTwice(other) => {
            at(format!("{} is the same setting as {other}.", cx.text(trouble.span)))
                .cure("correct one of the two")
        }
        TryTrouble::OtherPlaces(other) => {
            at(format!("{} is said for other places than {other}.", cx.text(trouble.span)))
                .cure("write the place once, before the first letter")
        }
        TryTrouble::OtherKind(kind) => {
            let kind = cx.book.kinds.get(*kind)?;
            let message = at(format!("{} is no {}.", cx.text(trouble.span), kind.named.typed));
            message.and(kind.named.declared, "the kind").cure("name a part of it, or one of its specs")
        }
    })
}
