//! Verdicts of the rules, what the lives of a kind say, and the messages: sentences, as they are told elsewhere.
//!
//! Must not know how a sentence comes about.

use super::fact::{AlteredSort, Fact};
use crate::Compiled;
use crate::answer::lives::{CountedFailures, kind};
use crate::answer::{line, rules};
use crate::book::model::CarId;
use crate::history::Moment;
use crate::history::order::Rank;
use crate::words::without_lines;
use std::collections::BTreeMap;

pub(super) fn verdicts(
    compiled: &Compiled,
    car: CarId,
    moment: &Moment,
    tell: &mut dyn FnMut(AlteredSort, String, Fact),
) {
    let card = rules::build(compiled, car, moment, None, None);
    for rule in &card.rules {
        let value = rule.value.as_ref().map_or_else(String::new, |value| format!(", {}", value.text));
        let shown = format!("{}{value}", rule.verdict);
        tell(AlteredSort::Verdict, rule.rule.clone(), Fact { shown, lines: Vec::new() });
    }
}

pub(super) fn lives(compiled: &Compiled, tell: &mut dyn FnMut(AlteredSort, String, String, Fact)) {
    let lives = crate::lives::lives(&compiled.book, &compiled.history, Rank::END);
    for (id, declared) in compiled.book.kinds.iter_enumerated() {
        let Some(view) = kind(compiled, &lives, id, None, &CountedFailures::default()) else {
            continue;
        };
        for spec in &view.specs {
            let what = if spec.spec.is_empty() { "how long they last".to_owned() } else { spec.spec.clone() };
            let fact = Fact { shown: spec.headline.clone(), lines: Vec::new() };
            tell(AlteredSort::Life, declared.named.typed.to_string(), what, fact);
        }
    }
}

pub(super) fn messages(compiled: &Compiled, tell: &mut dyn FnMut(AlteredSort, String, String, Fact)) {
    let mut often: BTreeMap<(&str, String), usize> = BTreeMap::new();
    for one in &compiled.diagnostics {
        let lines = one.at.iter().map(|mark| line(compiled, mark.span)).collect();
        let fact = Fact { shown: one.message.clone(), lines };
        // Where a line stands makes no other message; two that differ in that alone are the first and the second of it.
        let told = without_lines(&one.message);
        let times = often.entry((one.check, told.clone())).or_default();
        *times += 1;
        tell(AlteredSort::Message, one.check.to_owned(), format!("{told} {times}"), fact);
    }
}
