//! What the lives of a kind of part say, as plain data: every life, curves, fitted distributions, spec against spec.
//!
//! Must not know rendering. Words are made here so that terminal and pages say the same.

mod against;
mod curve;
mod field;
mod fitted;
mod life;
mod modes;
mod spec;
mod value;

pub use crate::answer::lives::field::Field;
pub use against::{Against, LEVEL};
pub use curve::{CurveView, StepView};
pub use life::LifeRow;
pub use modes::FailureMode;
pub(crate) use spec::no_fit;
pub use spec::{SpecView, WeibullView};
pub use value::LifeMoney;

use super::{LedgerLine, line};
use crate::Compiled;
use crate::book::model::{Clock, KindId};
use crate::book::names::folded;
use crate::lives::study::{Carried, Group, Study, clocks, passed_over, specs, study};
use crate::lives::{Life, Lives};
use crate::words;
use crate::words::scale::Scale;
use rayon::prelude::*;
use serde::Serialize;

/// Which failures count; the lives of the others are taken as pulled when they failed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CountedFailures {
    /// Only failures of which this field says this word.
    pub only: Option<(Field, String)>,
    /// Not those of which this field says this word.
    pub without: Option<(Field, String)>,
}

impl CountedFailures {
    /// Whether a failure counts.
    #[must_use]
    pub fn counts(&self, compiled: &Compiled, life: &Life) -> bool {
        let says = |(field, word): &(Field, String)| field.of(compiled, life) == folded(word);
        self.only.as_ref().is_none_or(says) && !self.without.as_ref().is_some_and(says)
    }

    /// "only failures of mode split count", or nothing.
    #[must_use]
    pub fn words(&self) -> String {
        let one = |(field, word): &(Field, String)| format!("{} {word}", field.word());
        let mut all = Vec::new();
        all.extend(self.only.as_ref().map(|only| format!("only failures of {} count", one(only))));
        all.extend(self.without.as_ref().map(|without| format!("failures of {} do not count", one(without))));
        if all.is_empty() {
            return String::new();
        }
        format!("{}; the other lives are taken as pulled when they failed", words::and(&all))
    }
}

/// One life by itself, its length on that clock.
#[must_use]
pub fn row(compiled: &Compiled, life: &Life, clock: Clock) -> LifeRow {
    let kind = compiled.book.parts[life.part].kind;
    let clocks = Clock::ALL.into_iter().filter(|clock| *clock != Clock::Months);
    // A kind that could not be read has no unit of its own.
    let of = |clock| {
        let of_kind = kind.map(|kind| Scale::of_kind(&compiled.book, &compiled.files, kind, clock));
        of_kind.unwrap_or_else(|| Scale::plain(clock))
    };
    let scales: Vec<Scale> = clocks.map(of).collect();
    life::row(compiled, life, of(clock), &scales)
}

/// What a kind's lives say on one clock.
#[derive(Debug, Clone, Serialize)]
pub struct KindLives {
    /// The kind.
    pub kind: String,
    /// Its words: what belongs to it and what does not.
    pub title: String,
    /// Where it is declared.
    pub line: LedgerLine,
    /// The clock.
    pub clock: Clock,
    /// What it is called.
    pub clock_name: &'static str,
    /// The unit of all amounts told as digits.
    pub unit: &'static str,
    /// The clocks there are, the ruling one first.
    pub clocks: Vec<Clock>,
    /// Which clock would rule and is not known of any life, and why; empty where none is passed over.
    pub passed_over: String,
    /// Whether its failure can hurt: no statistics lengthen its limit.
    pub safety: bool,
    /// Which failures count; empty for all.
    pub counting: String,
    /// Every life, in the order of the book.
    pub lives: Vec<LifeRow>,
    /// Each spec by itself.
    pub specs: Vec<SpecView>,
    /// Spec against spec.
    pub against: Vec<Against>,
    /// Failures by mode.
    pub modes: Vec<FailureMode>,
}

/// What a kind's lives say; `None` for a kind none of whose parts has a life on any clock.
#[must_use]
pub fn kind(
    compiled: &Compiled,
    lives: &Lives,
    kind: KindId,
    clock: Option<Clock>,
    counting: &CountedFailures,
) -> Option<KindLives> {
    let book = &compiled.book;
    let declared = book.kinds.get(kind)?;
    let all = clocks(book, lives, kind);
    let clock = clock.or_else(|| all.first().copied())?;
    let scale = Scale::of_kind(&compiled.book, &compiled.files, kind, clock);
    let counts = |life: &Life| counting.counts(compiled, life);
    let studies: Vec<Study> = specs(book, lives, kind)
        .into_par_iter()
        .map(|spec| study(book, lives, Group { kind, spec, clock }, Carried::FromNew, &counts))
        .collect();
    let fits: Vec<spec::Fitted> = studies.into_par_iter().map(spec::fitted).collect();
    let own: Vec<&Life> = lives.of_kind(kind).collect();
    let clocks = Clock::ALL.into_iter().filter(|clock| *clock != Clock::Months);
    let scales: Vec<Scale> =
        clocks.map(|clock| Scale::of_kind(&compiled.book, &compiled.files, kind, clock)).collect();
    Some(KindLives {
        kind: declared.named.typed.to_string(),
        title: declared.named.title.clone(),
        line: line(compiled, declared.named.declared),
        clock,
        clock_name: scale.name(),
        unit: scale.unit(false),
        clocks: all,
        passed_over: passed_words(compiled, lives, kind, scale),
        safety: declared.safety,
        counting: counting.words(),
        lives: own.into_par_iter().map(|life| life::row(compiled, life, scale, &scales)).collect(),
        specs: fits.par_iter().map(|one| spec::view(compiled, lives, &fits, one, scale, &counts)).collect(),
        against: against::pairs(compiled, &fits, scale),
        modes: modes::modes(compiled, lives, kind, clock, scale),
    })
}

/// "Of no life is the running time known: 2 of 3 ran sessions that do not tell it. So they are told in days."
fn passed_words(compiled: &Compiled, lives: &Lives, kind: KindId, told: Scale) -> String {
    let passed = passed_over(&compiled.book, lives, kind, told.clock);
    let words = passed.iter().map(|one| {
        let name = Scale::of_kind(&compiled.book, &compiled.files, kind, one.clock).name();
        format!(
            "of no life is the {name} known: {} of {} ran sessions that do not tell it",
            one.untold, one.lives
        )
    });
    let words: Vec<String> = words.collect();
    if words.is_empty() {
        return String::new();
    }
    format!("Told in {}, for {}.", told.name(), words.join("; "))
}
