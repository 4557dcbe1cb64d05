//! `result-twice`: two results of one session, or of one event, that cannot both be.

use crate::book::entry::{EntryId, Extra, Verb};
use crate::book::model::{CarId, EventId};
use crate::book::told::ResultFacts;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The check.
pub const CHECK: Check = Check {
    name: "result-twice",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "two results of one session that contradict each other",
    why: "Several lines may say what came of one session, each something else. Where two of them give one thing two values, one is wrong or was \
          overtaken by the stewards: the pages show both, and nobody knows which counts.",
    wrong: "  result race finish 3 points 12\n  result race finish 4",
    right: "  result race finish 4 points 10 \"third on the road; the stewards moved it back\"",
    look: Look::Car(look),
};

/// What a result is of: a session by its line, else an event, else a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Of {
    Session(EntryId),
    Event(EventId),
    Day(Date),
}

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut said: BTreeMap<Of, Vec<(EntryId, &Extra, &ResultFacts)>> = BTreeMap::new();
    for (_, index) in cx.history.order.lines_of(cx.book, car) {
        let line = cx.entry(index);
        let Some(extra) = cx.book.extra(line).filter(|_| line.verb == Verb::Result && !line.broken) else { continue };
        let Some(facts) = extra.result.as_deref() else { continue };
        let Some(head) = cx.book.head(line) else { continue };
        let of = match (line.run().and_then(|run| cx.book.runs.get(run)), head.event) {
            (Some(run), _) => Of::Session(run.entry),
            (None, Some(event)) => Of::Event(event),
            (None, None) => Of::Day(head.date),
        };
        let above = said.entry(of).or_default();
        let other = above.iter().find_map(|(first, other, said)| {
            let differ = apart(said, facts);
            (!differ.is_empty()).then_some((*first, differ)).or_else(|| paid_twice(cx, (other, said), (extra, facts)).then(|| (*first, Vec::new())))
        });
        if let Some((first, differ)) = other {
            let what = words::and(&differ);
            let what = if differ.is_empty() { "says a prize too, and both are booked".to_owned() } else { format!("says another {what}") };
            let message = format!("another result of it {what} ({}).", cx.when(first, line.span()));
            out.push(
                CHECK
                    .at(line.span(), message)
                    .and(cx.entry(first).span(), "the other")
                    .cure("keep the one that counts, and say in its words what became of the other"),
            );
        }
        above.push((index, extra, facts));
    }
}

/// Whether two results have a prize each for the same: that of the finish and that of the class are two.
fn paid_twice(cx: &Context<'_>, one: (&Extra, &ResultFacts), other: (&Extra, &ResultFacts)) -> bool {
    let prize = |extra: &Extra| extra.costs.as_ref().is_some_and(|costs| costs.sum.is_some());
    let of = |facts: &ResultFacts| [facts.finish.is_some(), facts.class.is_some(), facts.points.is_some()];
    let words = |extra: &Extra| extra.words.iter().map(|words| cx.text(*words).to_owned()).collect::<Vec<_>>();
    prize(one.0) && prize(other.0) && of(one.1) == of(other.1) && words(one.0) == words(other.0)
}

/// What two results say differently. What only one of them says is no contradiction.
fn apart(one: &ResultFacts, other: &ResultFacts) -> Vec<&'static str> {
    let differ = |one: Option<f64>, other: Option<f64>| one.zip(other).is_some_and(|(one, other)| one.total_cmp(&other).is_ne());
    let places = [
        ("grid", one.grid, other.grid),
        ("finish", one.finish, other.finish),
        ("class", one.class, other.class),
        ("laps-down", one.laps_down, other.laps_down),
    ];
    // A line that gives a penalty and nothing else adds to those before it.
    let bare = |facts: &ResultFacts| ResultFacts { penalty: None, ..*facts } == ResultFacts::default();
    let added = bare(one) || bare(other);
    let amounts = [("penalty", one.penalty.filter(|_| !added), other.penalty), ("points", one.points, other.points)];
    let places = places.into_iter().map(|(name, one, other)| (name, one.map(f64::from), other.map(f64::from)));
    places.chain(amounts).filter(|(_, one, other)| differ(*one, *other)).map(|(name, ..)| name).collect()
}
