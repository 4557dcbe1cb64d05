//! `rule-unclear`: a rule on something that is no quantity and no figure, or in a unit of something else.

use crate::book::model::{Limit, Rule, RuleId, Subject};
use crate::book::names::nearest;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::DimensionId;
use crate::book::place::Place;
use crate::rules::driven::Driven;
use crate::rules::judge::Verdict;
use crate::words::{did_you_mean, or};
use std::collections::BTreeMap;

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

/// What is asked of a figure: its name, its places, and its conditions, and which limits there are with their units.
type Alike<'a> = (&'a str, &'a [Place], Vec<&'a str>, [Option<Option<&'a str>>; 2]);

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let scrutiny = cx.scrutiny();
    // Alike rules have one answer.
    let mut known: BTreeMap<Alike<'_>, Option<DimensionId>> = BTreeMap::new();
    for (at, rule) in cx.book.rules.iter_enumerated().filter(|(_, rule)| !rule.broken) {
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
            // The figure's own kind is known once it has a value: any car of the class will do.
            let states: Vec<&str> = rule.conditions.iter().map(|one| cx.text(one.said)).collect();
            let alike = (typed, &rule.places[..], states, [rule.min, rule.max].map(|limit| limit.map(|limit| limit.unit.map(|unit| cx.text(unit)))));
            let found = *known.entry(alike).or_insert_with(|| kind(cx, at));
            if let Some(kind) = found {
                let unit = limit.unit.unwrap_or(limit.typed);
                let units = or(kind.get().usual);
                out.push(
                    CHECK
                        .at(unit, format!("`{}` is no unit of {}.", cx.text(unit), cx.book.figures.get(figure).name))
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

/// The kind of dimension that a figure has and a limit's unit does not fit.
fn kind(cx: &Context<'_>, id: RuleId) -> Option<DimensionId> {
    let (scrutiny, rule) = (cx.scrutiny(), &cx.book.rules[id]);
    for car in cx.book.cars.keys() {
        for reading in scrutiny.readings(car, rule) {
            let value = reading.values.first().copied();
            if scrutiny.judge(car, id, reading).verdict == Verdict::UnitUnfit {
                return value.map(|value| value.dimension);
            }
        }
    }
    None
}
