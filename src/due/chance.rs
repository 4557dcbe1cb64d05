//! The chance that a part fails in what is planned, given how long it has lived, from the lives of its kind and spec.
//!
//! Must not know limits. A chance plans; it does not certify, and it never lengthens a stated limit.

use super::plan::CarPlan;
use crate::book::Book;
use crate::book::model::{Clock, KindId, PartId};
use crate::lives::study::{Carried, Group, Study, clocks, study};
use crate::lives::{Life, Lives};
use crate::statistics::Interval;
use crate::statistics::bounds::mean_at_least;
use crate::statistics::survival::{Curve, curve};
use crate::statistics::weibull::{Fit, NoFit, Region, Weibull, fit};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

/// The confidence of bands and bounds.
pub const LEVEL: f64 = 0.90;

/// What a chance rests on.
#[derive(Debug, Clone)]
pub struct Basis {
    /// The lives.
    pub study: Study,
    /// The Weibull distribution fitted to them.
    pub fit: Result<Fit, NoFit>,
    region: OnceLock<Option<Region>>,
    /// The least mean life to believe where none failed, were the rate of failing constant; SI.
    pub mean_at_least: Option<f64>,
    /// What half of them last or more, SI, where that is seen.
    pub median: Option<f64>,
}

/// Why there is no chance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoChance {
    /// The place is empty.
    Empty,
    /// Nothing is planned in which it could fail.
    NothingPlanned,
    /// How long the part has lived is not known.
    LifeUnknown,
    /// How much the car will run is not known.
    PlanUnknown,
    /// There are no lives to learn from.
    NoLives,
    /// There are, but no distribution fits them.
    NoFit(NoFit),
    /// None that could be counted has failed, but one has whose life is not known.
    FailedUnknown,
}

/// The chance of failing in what is planned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Chance {
    /// From a fitted distribution.
    Fitted {
        /// The most likely chance; [`Bases::range`] has the range that the lives allow.
        likely: f64,
        /// How many failures it rests on.
        failures: usize,
        /// Whose lives.
        group: Group,
        /// The part's own life, SI.
        age: f64,
        /// What is expected to come on top, SI.
        more: f64,
    },
    /// Nothing of its kind has failed: at most this.
    AtMost(f64),
    /// None.
    Unknown(NoChance),
}

impl Chance {
    /// The most likely chance. A bound from no failures at all is none.
    #[must_use]
    pub const fn likely(&self) -> Option<f64> {
        match self {
            Self::Fitted { likely, .. } => Some(*likely),
            Self::AtMost(_) | Self::Unknown(_) => None,
        }
    }
}

/// The bases of all groups that parts on the planned cars belong to.
#[derive(Debug, Clone, Default)]
pub struct Bases {
    of: BTreeMap<Group, Basis>,
    /// The clock that rules each kind.
    clocks: BTreeMap<KindId, Clock>,
}

/// Works out the bases of those parts' groups, each once, on all cores.
#[must_use]
pub fn bases(book: &Book, lives: &Lives, parts: &[PartId]) -> Bases {
    let declared = || parts.iter().filter_map(|part| book.parts.get(*part));
    let kinds: BTreeSet<KindId> = declared().filter_map(|part| part.kind).collect();
    let clock = |kind: KindId| clocks(book, lives, kind).first().map(|clock| (kind, *clock));
    let mut bases = Bases { of: BTreeMap::new(), clocks: kinds.into_iter().filter_map(clock).collect() };
    let groups: BTreeSet<Group> = parts.iter().filter_map(|part| bases.group(book, *part)).collect();
    let made: Vec<(Group, Basis)> =
        groups.into_par_iter().map(|group| (group, basis(book, lives, group))).collect();
    bases.of = made.into_iter().collect();
    bases
}

fn basis(book: &Book, lives: &Lives, group: Group) -> Basis {
    let study = study(book, lives, group, Carried::FromNew, &|_| true);
    let fit = fit(&study.observations);
    let none_failed = study.failures() == 0 && study.failed_unknown == 0;
    let mean_at_least = mean_at_least(&study.observations, LEVEL).ok().flatten().filter(|_| none_failed);
    let median = curve(&study.observations).ok().as_ref().and_then(Curve::median);
    Basis { study, fit, region: OnceLock::new(), mean_at_least, median }
}

impl Bases {
    /// The lives a part is judged by: its kind and spec, on the clock that rules the kind.
    #[must_use]
    pub fn group(&self, book: &Book, part: PartId) -> Option<Group> {
        let declared = book.parts.get(part)?;
        let kind = declared.kind?;
        let clock = *self.clocks.get(&kind)?;
        Some(Group { kind, spec: declared.spec, clock })
    }

    /// The basis of a group.
    #[must_use]
    pub fn get(&self, group: Group) -> Option<&Basis> {
        self.of.get(&group)
    }

    /// The range that the lives allow for a chance at [`LEVEL`]; none where there is no fit.
    #[must_use]
    pub fn range(&self, chance: &Chance) -> Option<Interval> {
        let Chance::Fitted { group, age, more, .. } = chance else { return None };
        Some(self.of.get(group)?.region()?.conditional(*age, *more))
    }

    /// The chance that a part with that life fails in what its car is planned to run.
    #[must_use]
    pub fn chance(&self, book: &Book, life: &Life, car: &CarPlan) -> Chance {
        let Some(group) = self.group(book, life.part) else { return Chance::Unknown(NoChance::NoLives) };
        let Some(basis) = self.of.get(&group) else { return Chance::Unknown(NoChance::NoLives) };
        let Some(more) = car.expected(group.clock) else { return Chance::Unknown(NoChance::PlanUnknown) };
        let lived = life.on(book, group.clock);
        if lived.at_least {
            return Chance::Unknown(NoChance::LifeUnknown);
        }
        basis.chance(lived.value, more)
    }
}

impl Basis {
    /// What the lives leave believable; worked out for the rows that are shown.
    fn region(&self) -> Option<&Region> {
        self.region.get_or_init(|| self.fit.as_ref().ok().and_then(|fit| fit.region(LEVEL))).as_ref()
    }

    /// The chance of failing in `more` at that age.
    #[must_use]
    pub fn chance(&self, age: f64, more: f64) -> Chance {
        match (&self.fit, self.mean_at_least) {
            (Ok(fit), _) => {
                let group = self.study.group;
                Chance::Fitted {
                    likely: fit.life.conditional(age, more),
                    failures: fit.failures,
                    group,
                    age,
                    more,
                }
            }
            (Err(_), Some(mean)) => Chance::AtMost(-libm::expm1(-more / mean)),
            (Err(_), None) if self.study.failed_unknown > 0 && self.study.failures() == 0 => {
                Chance::Unknown(NoChance::FailedUnknown)
            }
            (Err(_), None) if self.study.observations.is_empty() => Chance::Unknown(NoChance::NoLives),
            (Err(why), None) => Chance::Unknown(NoChance::NoFit(*why)),
        }
    }

    /// The distribution to count spares by: the fitted one, or a constant rate where something failed and nothing fits.
    #[must_use]
    pub fn distribution(&self) -> Option<(Weibull, bool)> {
        if let Ok(fit) = &self.fit {
            return Some((fit.life, true));
        }
        let failures = self.study.failures();
        let life =
            (failures > 0).then(|| Weibull { shape: 1.0, scale: self.study.total() / failures as f64 });
        life.filter(|life| life.scale > 0.0).map(|life| (life, false))
    }
}
