//! `unit-wrong-kind`: a unit of something else.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::{DimensionId, suggest, table, units_for};
use crate::vocabulary::QuantityId;
use crate::words::did_you_mean;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "unit-wrong-kind",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a unit of something else",
    why: "A unit of another kind means that either the number or the name before it was meant for another line: a \
          pressure where a spring rate belongs, kilograms where kilograms per millimetre do. A mass is taken for a \
          weight only where a weight is wanted.",
    wrong: "  set spring-rate front 80 bar",
    right: "  set spring-rate front 80 N/mm",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::UnitWrongKind { quantity, wanted, is } = trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let what = quantity.map_or_else(|| words::a(&plain(wanted.name())), |id| cx.quantity(id).name.to_string());
    let units = words::or(units_for(wanted));
    let kind = words::a(&plain(is.get().kind.name()));
    let message = CHECK.at(trouble.span, format!("{typed} is {kind}; {what} is in {units}."));
    Some(match suggest(typed, wanted).filter(|near| !near.eq_ignore_ascii_case(typed)) {
        Some(near) => message.cure(did_you_mean(near)),
        None => message.cure(match quantity.and_then(|id| namesake(cx, id, typed)) {
            Some(other) => format!("give it in {units}; for {typed} there is `{other}`"),
            None => format!("give it in {units}; if {typed} is right, another quantity was meant"),
        }),
    })
}

/// A kind's name as people say it.
fn plain(kind: &str) -> String {
    kind.replace('-', " ")
}

/// A quantity whose name goes on from this one's or from another word for it, and that is typed in the unit: `bump-steer` where
/// `bump` has thou/in, `wedge-load` where `wedge` has lb.
fn namesake<'a>(cx: &Context<'a>, id: QuantityId, unit: &str) -> Option<&'a str> {
    let quantity = cx.quantity(id);
    let stems = || quantity.also.iter().map(|(word, _)| word).chain([&quantity.name]);
    let goes_on =
        |other: &str| stems().any(|stem| other.strip_prefix(&**stem).is_some_and(|rest| rest.starts_with('-')));
    let fits = |dimension: DimensionId| table().find_one(unit, dimension).is_some();
    let mut all = cx.book.vocabulary.iter().map(|(_, quantity)| quantity);
    all.find(|other| goes_on(&other.name) && fits(other.dimension)).map(|other| &*other.name)
}
