//! `not-one-number`: two numbers with a slash where one belongs.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::DimensionId;
use crate::vocabulary::{Form, QuantityId};


/// The check.
pub const CHECK: Check = Check {
    name: "not-one-number",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "two numbers with a slash where one belongs",
    why: "`41/11` is two numbers: teeth, a pressure held over its supply, the three temperatures across a tyre. A \
          quantity that has one number cannot tell which of them was meant, and no arithmetic is done on what is \
          typed. Nor does `adjust` change two numbers at once: of teeth, ramps and three temperatures the new value is typed.",
    wrong: "  set fuel 40/7 L",
    right: "  set fuel 20 L",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    if let What::ChangeOfPair(id) = trouble.what {
        return Some(change(cx, trouble, id));
    }
    let What::NotOneNumber(id) = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let parts: Vec<&str> = typed.split('/').collect();
    Some(
        CHECK
            .at(trouble.span, format!("{typed} is {} numbers; {} has one.", parts.len(), cx.quantity(id).name))
            .cure(format!("write {} alone, or repeats of it with a comma and a blank: `{}`", typed.split('/').next().unwrap_or(typed), parts.join(", "))),
    )
}

/// Of a change: which number of them it would be added to, nobody says.
fn change(cx: &Context<'_>, trouble: &Trouble, id: QuantityId) -> Diagnostic {
    let quantity = cx.quantity(id);
    let name = &quantity.name;
    let (why, example) = match quantity.form {
        Form::Pair if quantity.dimension == DimensionId::RATIO => {
            ("is teeth over teeth, and nothing is added to a ratio of teeth", "41/11 -> 40/11".to_owned())
        }
        Form::Pair => ("has two numbers, and a change is of one", "45/60 -> 45/65".to_owned()),
        Form::Triple => ("has three numbers, and a change is of one", "81/86/79".to_owned()),
        Form::One => ("in this unit says less the more there is of it, so that a change of it has no size", "OLD -> NEW".to_owned()),
    };
    let unit = quantity.dimension.get().usual.first().filter(|_| !quantity.dimension.get().bare);
    let unit = unit.map_or_else(String::new, |unit| format!(" {unit}"));
    CHECK.at(trouble.span, format!("{name} {why}.")).cure(format!("write the new value itself: `set {name} ... {example}{unit}`"))
}
