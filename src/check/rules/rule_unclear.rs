//! `rule-unclear`: a rule on something that is no quantity and no figure, or in a unit of something else.

use crate::book::model::{Limit, Rule, Subject};
use crate::book::names::{folded, nearest};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::DimensionId;
use crate::rules::driven::Driven;
use crate::words::{did_you_mean, or};

/// The check.
pub const CHECK: Check = Check {
    name: "rule-unclear",
    severity: Severity::Error,
    family: Family::Rules,
    brief: "a rule on something that is no quantity and no figure, or in a unit of something else",
    why: "A rule limits a quantity (`ride-height`, `track`, `ballast`, one of your own) or a figure that the book works out \
          (`total-weight`, `weight-after-session`, `power-to-weight`), and its limits have a unit of that. This one is held \
          against nothing until it is put right.",
    wrong: "rule clearance class SR-2  groundclearance min 48 mm",
    right: "rule clearance class SR-2  ride-height min 48 mm",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let scrutiny = cx.scrutiny();
    for rule in cx.book.rules.iter().filter(|rule| !rule.broken) {
        if let (Some(Subject::Quantity(id)), Some(least)) = (rule.subject, rule.min)
            && Driven::of(&cx.book.vocabulary.get(id).name).is_some()
        {
            let name = &cx.book.vocabulary.get(id).name;
            out.push(
                CHECK
                    .at(least.typed, format!("`{name}` has no least: it is summed up day by day and stint by stint, and nobody is short before the meeting is over."))
                    .cure("keep the `max`, if there is one, and write the least into a note"),
            );
            continue;
        }
        let Some(Subject::Figure(span)) = rule.subject else { continue };
        let typed = cx.text(span);
        let Some(figure) = scrutiny.meant(rule).figure else {
            // Its declaration was refused, and has its message.
            if cx.book.names.refused_quantities.contains(folded(typed).as_str()) {
                continue;
            }
            let names = cx.book.vocabulary.iter().map(|(_, quantity)| &*quantity.name);
            let near = nearest(typed, names.chain(cx.book.figures.listed().map(|(_, figure)| &*figure.name)));
            let made = CHECK.at(span, format!("`{typed}` is no quantity and no figure."));
            out.push(match near {
                Some(near) => made.cure(did_you_mean(near)),
                None => made.cure("`stringline trace` lists the figures, grammar/vocabulary.sline the quantities"),
            });
            continue;
        };
        for limit in [rule.min, rule.max].into_iter().flatten() {
            if let Some(made) = unit(cx, rule, &limit) {
                out.push(made);
                break;
            }
            let figure = cx.book.figures.get(figure);
            if scrutiny.unit(&limit, figure.dimension).is_none() {
                let unit = limit.unit.unwrap_or(limit.typed);
                let units = or(figure.dimension.get().usual);
                out.push(
                    CHECK
                        .at(unit, format!("`{}` is no unit of {}.", cx.text(unit), figure.name))
                        .cure(format!("write it in {units}")),
                );
                break;
            }
        }
    }
}

/// A unit that is none at all.
fn unit(cx: &Context<'_>, rule: &Rule, limit: &Limit) -> Option<Diagnostic> {
    let unit = limit.unit?;
    let known = DimensionId::all().any(|kind| cx.scrutiny().unit(limit, kind).is_some());
    (!known).then(|| {
        CHECK
            .at(unit, format!("`{}` is no unit, for {}.", cx.text(unit), rule.named.typed))
            .cure("correct the unit")
    })
}
