//! The life curves of a kind's specs on one drawing, and the numbers beside it.
//!
//! Must not know how a curve is worked out.

use crate::answer::lives::{CurveView, KindLives, SpecView};
use crate::book::model::KindId;
use crate::report::chart::life::{LifeChart, LifeSeries, LifeStep, MOST, life};
use crate::report::chart::{Table, Words, id};
use crate::report::teller::Teller;
use crate::report::words;
use crate::units::number;
use crate::words::scale::{Scale, percent};
use std::fmt::Write as _;

/// The drawing; `None` where no life could be counted.
pub(super) fn chart(tell: &Teller<'_>, kind: KindId, said: &KindLives) -> Option<LifeChart> {
    let known: Vec<(&SpecView, &CurveView)> =
        said.specs.iter().filter_map(|spec| Some((spec, spec.curve.as_ref()?))).collect();
    if known.is_empty() {
        return None;
    }
    let curves: Vec<LifeSeries> = known.iter().map(|(spec, curve)| one(spec, curve)).collect();
    let scale = Scale::of_kind(tell.cx.book, tell.cx.files, kind, said.clock);
    let declared = tell.cx.book.kinds.get(kind)?;
    let limit = declared.life.iter().find(|limit| limit.clock == said.clock);
    let limit =
        limit.map(|limit| (limit.value / scale.factor(), format!("limit {}", tell.cx.text(limit.typed))));
    let across = if said.clock_name == said.unit {
        said.unit.to_owned()
    } else {
        format!("{}, {}", said.clock_name, said.unit)
    };
    let words = Words {
        id: id(&["lives", &said.kind]),
        title: format!("Share of {} still good at each age", said.kind.replace('-', " ")),
        desc: desc(&known),
    };
    Some(life(words, &across, limit, &curves, table(said, &known)))
}

/// "std, 5 of 9 failed"; "5 of 9 failed" without a spec.
fn name(spec: &SpecView) -> String {
    let counts = format!("{} of {} failed", spec.failed, spec.lives);
    if spec.spec.is_empty() { counts } else { format!("{}, {counts}", spec.spec) }
}

fn one(spec: &SpecView, curve: &CurveView) -> LifeSeries {
    let steps = curve.steps.iter().map(|step| LifeStep {
        at: step.at,
        share: step.share,
        band: step.low.zip(step.high),
    });
    LifeSeries { name: name(spec), steps: steps.collect(), left: curve.unfailed.clone(), last: curve.last }
}

fn desc(known: &[(&SpecView, &CurveView)]) -> String {
    let mut text = "Steps down where one failed, each with its 95 % band; a short upright tick where one was left without failing. A \
                    curve ends with the last life that was watched."
        .to_owned();
    for (spec, _) in known.iter().take(MOST) {
        let whose = if spec.spec.is_empty() { String::new() } else { format!("{}: ", spec.spec) };
        let _ = write!(text, " {whose}{}", spec.headline);
    }
    if known.len() > MOST {
        let _ = write!(text, " {} more are in the table only.", known.len() - MOST);
    }
    text
}

/// Every step and every life left without failing, in order of age.
fn table(said: &KindLives, known: &[(&SpecView, &CurveView)]) -> Table {
    let head = ["spec", said.unit, "what", "at risk", "still good", "95 % band"];
    let mut rows = Vec::new();
    let age = |value: f64| words::amount(value, 1);
    for (spec, curve) in known {
        let mut own: Vec<(f64, bool, Vec<String>)> = Vec::new();
        for step in &curve.steps {
            let band = step.low.zip(step.high).map_or_else(
                || words::DASH.to_owned(),
                |(low, high)| format!("{} to {}", percent(low), percent(high)),
            );
            let failed = format!("{} failed", number::format(step.failed as f64, 0));
            let rest = vec![failed, step.at_risk.to_string(), percent(step.share), band];
            own.push((step.at, false, rest));
        }
        for left in &curve.unfailed {
            let dash = || words::DASH.to_owned();
            own.push((*left, true, vec!["left without failing".to_owned(), dash(), dash(), dash()]));
        }
        own.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        rows.extend(own.into_iter().map(|(at, _, rest)| {
            let spec = if spec.spec.is_empty() { words::DASH.to_owned() } else { spec.spec.clone() };
            [spec, age(at)].into_iter().chain(rest).collect()
        }));
    }
    Table { head: head.map(str::to_owned).to_vec(), rows }
}
