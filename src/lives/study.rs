//! The lives of one kind and spec on one clock as observations, and which of them cannot be counted and why.
//!
//! Must not know words.

use super::LifeId;
use super::{End, Life, Lives};
use crate::book::Book;
use crate::book::entry::Failure;
use crate::book::model::{Clock, KindId, SpecId};
use crate::statistics::{self, Observation};

/// Whose lives are taken together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Group {
    /// The kind.
    pub kind: KindId,
    /// The spec; `None` for parts of the kind that name none.
    pub spec: Option<SpecId>,
    /// What their lives are measured on.
    pub clock: Clock,
}

/// Why a life is not counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LeftOut {
    /// It was never on a car.
    NeverFitted,
    /// It was on a car that has not run since.
    NotRun,
    /// It failed before it had run at all: a fault from new, not wear.
    FailedAtNothing,
    /// How much it had run is not known on this clock.
    NotKnown,
    /// It ran on after a failure without work in the book.
    Unmended,
    /// It came used and has not run here.
    NotWatched,
}

/// How lives that the shop's own parts brought from before the book are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Carried {
    /// From new: last year's book covers them, failures and all.
    #[default]
    FromNew,
    /// Only from when this book begins: those that failed before are not in it.
    Late,
}

/// The lives of a group as they are counted.
#[derive(Debug, Clone)]
pub struct Study {
    /// Whose.
    pub group: Group,
    /// Counted lives: index into [`Lives::all`].
    pub lives: Vec<LifeId>,
    /// The same, as observations, in the clock's SI unit.
    pub observations: Vec<Observation>,
    /// The others.
    pub left_out: Vec<(LifeId, LeftOut)>,
    /// How many of those counted had run before the book and count from new.
    pub carried: u32,
    /// How many came used and are counted from the age at which they came.
    pub came_used: u32,
    /// How many failed, and of what counts, at a life that is not known: left out, though they did fail.
    pub failed_unknown: u32,
}

impl Study {
    /// How many of them failed.
    #[must_use]
    pub fn failures(&self) -> usize {
        self.observations.iter().filter(|life| life.failed()).count()
    }

    /// How much they ran together under watch.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.observations.iter().map(|life| life.exit - life.entry).sum()
    }
}

/// What a failure line says of it.
#[must_use]
pub fn failure<'a>(book: &'a Book, life: &Life) -> Option<&'a Failure> {
    let End::Failed(entry) = life.end else { return None };
    book.extra(book.entries.get(entry)?)?.failure.as_deref()
}

/// The study of a group. A failure for which `counts` is false is taken as a life that was pulled then: that is how one
/// mode is looked at with the others out of the way.
#[must_use]
pub fn study(
    book: &Book,
    lives: &Lives,
    group: Group,
    carried: Carried,
    counts: &dyn Fn(&Life) -> bool,
) -> Study {
    let mut study = Study {
        group,
        lives: Vec::new(),
        observations: Vec::new(),
        left_out: Vec::new(),
        carried: 0,
        came_used: 0,
        failed_unknown: 0,
    };
    for (at, life) in lives.indices_of_spec(group.kind, group.spec) {
        match observe(book, group.clock, life, carried, counts) {
            Ok(seen) => {
                let before = life.on(book, group.clock).before.is_some_and(|before| before > 0.0);
                study.carried += u32::from(before && seen.entry <= 0.0);
                study.came_used += u32::from(life.came_used);
                study.lives.push(at);
                study.observations.push(seen);
            }
            Err(why) => {
                let failed = matches!(life.end, End::Failed(_)) && counts(life);
                study.failed_unknown += u32::from(failed && why == LeftOut::NotKnown);
                study.left_out.push((at, why));
            }
        }
    }
    study
}

fn observe(
    book: &Book,
    clock: Clock,
    life: &Life,
    carried: Carried,
    counts: &dyn Fn(&Life) -> bool,
) -> Result<Observation, LeftOut> {
    let end = match life.end {
        End::Unused => return Err(LeftOut::NeverFitted),
        End::Unmended(_) => return Err(LeftOut::Unmended),
        End::Failed(_) if counts(life) => statistics::End::Failed,
        // A part that was sold runs on, but not under our eyes.
        End::Failed(_) | End::Rebuilt(_) | End::Good(_) | End::RunningSold => statistics::End::Pulled,
        End::Running => statistics::End::Running,
    };
    let lived = life.on(book, clock);
    if lived.at_least {
        return Err(LeftOut::NotKnown);
    }
    let before = lived.before.unwrap_or(0.0);
    let entry = if life.came_used || carried == Carried::Late { before } else { 0.0 };
    let entry = life.began_at(book, clock).ok_or(LeftOut::NotKnown)?.max(entry);
    let seen = Observation::new(entry, lived.value, end);
    match seen.trouble() {
        None => Ok(seen),
        Some(statistics::Reason::NothingWatched) => Err(LeftOut::NotWatched),
        Some(statistics::Reason::ZeroLife) if matches!(life.end, End::Failed(_)) => {
            Err(LeftOut::FailedAtNothing)
        }
        Some(statistics::Reason::ZeroLife) => Err(LeftOut::NotRun),
        Some(_) => Err(LeftOut::NotKnown),
    }
}

/// The specs of a kind that have lives, in the order of the book; parts without a spec last.
#[must_use]
pub fn specs(book: &Book, lives: &Lives, kind: KindId) -> Vec<Option<SpecId>> {
    let mut all: Vec<Option<SpecId>> = book.specs_of(kind).map(|(spec, _)| Some(spec)).collect();
    all.push(None);
    all.retain(|spec| lives.indices_of_spec(kind, *spec).next().is_some());
    all
}

/// The clocks a kind's lives are looked at on, the one that rules first: that of its limit, running time, days. A clock on
/// which no life is known is left out, and so is calendar time: a date is a limit, not a life. Where none is known on any,
/// though something has run, they are all there: what is not known is said, not passed over.
#[must_use]
pub fn clocks(book: &Book, lives: &Lives, kind: KindId) -> Vec<Clock> {
    let clocks = asked(book, kind);
    let known = |clock: &Clock| {
        lives.of_kind(kind).any(|life| {
            let lived = life.on(book, *clock);
            !lived.at_least && lived.value > 0.0
        })
    };
    let some: Vec<Clock> = clocks.iter().copied().filter(known).collect();
    let ran = |life: &Life| !life.run.is_empty();
    if some.is_empty() && lives.of_kind(kind).any(ran) { clocks } else { some }
}

/// The clocks that a kind's lives are asked about, whether any is known on them or not.
fn asked(book: &Book, kind: KindId) -> Vec<Clock> {
    let declared = book.kinds.get(kind).map_or(&[][..], |kind| kind.life.as_slice());
    let specs = book.specs_of(kind).flat_map(|(_, spec)| &spec.life);
    let mut clocks: Vec<Clock> = Vec::new();
    let limits = declared.iter().chain(specs).map(|limit| limit.clock);
    for clock in limits.chain([Clock::Time, Clock::Days]) {
        if clock != Clock::Months && !clocks.contains(&clock) {
            clocks.push(clock);
        }
    }
    clocks
}

/// A clock that would rule and is passed over, since no life of the kind is known on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PassedOver {
    /// The clock.
    pub clock: Clock,
    /// How many lives have run.
    pub lives: usize,
    /// In how many of them a session did not tell.
    pub untold: usize,
}

/// The clocks that come before `clock` and are not known of any life, where sessions are why. That a kind is told in days since a
/// stint has no minutes is never passed over in silence.
#[must_use]
pub fn passed_over(book: &Book, lives: &Lives, kind: KindId, clock: Clock) -> Vec<PassedOver> {
    let known = clocks(book, lives, kind);
    let before = asked(book, kind).into_iter().take_while(|asked| *asked != clock);
    before
        .filter(|asked| !known.contains(asked))
        .map(|clock| {
            let ran = || lives.of_kind(kind).filter(|life| !life.run.is_empty());
            let untold = ran().filter(|life| life.run.on(clock).1).count();
            PassedOver { clock, lives: ran().count(), untold }
        })
        .filter(|passed| passed.untold > 0)
        .collect()
}
