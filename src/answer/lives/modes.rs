//! Failures by mode: each mode by itself, the others taken as pulled when they failed.

use super::Field;
use crate::Compiled;
use crate::book::model::{Clock, KindId};
use crate::lives::study::{Carried, Group, specs, study};
use crate::lives::{End, Life, Lives};
use crate::statistics::survival;
use crate::words::scale::{Scale, too_few};
use serde::Serialize;
use std::collections::BTreeMap;

/// One mode of failure of one spec.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FailureMode {
    /// The mode as typed first; empty where the line does not say.
    pub mode: String,
    /// The spec; empty for none.
    pub spec: String,
    /// How many failed so.
    pub failed: usize,
    /// The parts, in the order of the book.
    pub parts: Vec<String>,
    /// Mechanisms and causes said, each once.
    pub mechanisms: Vec<String>,
    /// See `mechanisms`.
    pub causes: Vec<String>,
    /// The median life were this the only way to fail; `not reached` where the lives do not show it, `cannot tell: 1 failed` where too few did.
    pub median_text: String,
}

pub(super) fn modes(
    compiled: &Compiled,
    lives: &Lives,
    kind: KindId,
    clock: Clock,
    scale: Scale,
) -> Vec<FailureMode> {
    let mut list = Vec::new();
    for spec in specs(&compiled.book, lives, kind) {
        let mut by_mode: BTreeMap<String, Vec<&Life>> = BTreeMap::new();
        let failed = |life: &&Life| life.spec == spec && matches!(life.end, End::Failed(_));
        for life in lives.of_kind(kind).filter(failed) {
            by_mode.entry(Field::Mode.of(compiled, life)).or_default().push(life);
        }
        for (mode, own) in by_mode {
            let counts = |life: &Life| Field::Mode.of(compiled, life) == mode;
            let study = study(&compiled.book, lives, Group { kind, spec, clock }, Carried::FromNew, &counts);
            let median = survival::curve(&study.observations).ok().and_then(|curve| curve.median());
            let said = |field: Field| {
                let mut words: Vec<String> =
                    own.iter().map(|life| field.of(compiled, life)).filter(|word| !word.is_empty()).collect();
                words.sort();
                words.dedup();
                words
            };
            list.push(FailureMode {
                spec: spec
                    .and_then(|spec| compiled.book.specs.get(spec))
                    .map_or_else(String::new, |spec| spec.named.typed.to_string()),
                failed: own.len(),
                parts: own
                    .iter()
                    .map(|life| compiled.book.parts[life.part].named.typed.to_string())
                    .collect(),
                mechanisms: said(Field::Mechanism),
                causes: said(Field::Cause),
                median_text: too_few(own.len()).unwrap_or_else(|| {
                    median.map_or_else(|| "not reached".to_owned(), |median| scale.words(median))
                }),
                mode,
            });
        }
    }
    list.sort_by(|a, b| b.failed.cmp(&a.failed).then(a.spec.cmp(&b.spec)).then(a.mode.cmp(&b.mode)));
    list
}
