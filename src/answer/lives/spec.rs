//! One spec's lives: how many failed, the curve, the fitted distribution, or what no failures still say.

use super::curve::{self, CurveView};
use super::value::{self, LifeMoney};
use crate::Compiled;
use crate::answer::lives::fitted::LEVEL;
pub(super) use crate::answer::lives::fitted::{Fitted, fitted, name};
use crate::lives::LifeId;
use crate::lives::study::{Carried, LeftOut, Study, study};
use crate::lives::{End, Life, Lives};
use crate::statistics::bounds::{mean_at_least, none_would_fail, scale_at_least};
use crate::statistics::survival::Curve;
use crate::statistics::weibull::{Fit, NoFit, Region};
use crate::statistics::{Interval, Reason};
use crate::units::number;
use crate::words;
use crate::words::capital;
use crate::words::scale::{FEWEST, Scale, limit_too_long, percent, too_few};
use serde::Serialize;

/// Fewer failures than this, and the interval is said before the number.
const FEW: usize = 5;

/// One spec.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SpecView {
    /// Its name; empty for parts that name none.
    pub spec: String,
    /// Lives counted.
    pub lives: usize,
    /// Lives of which it is not known how long they are.
    pub unknown: usize,
    /// Of the counted, failed.
    pub failed: usize,
    /// Pulled without having failed, or failed of what does not count.
    pub pulled: usize,
    /// Still running, or sold with the car they ran on.
    pub running: usize,
    /// How much they ran together: `1681 min`.
    pub total: String,
    /// In a sentence.
    pub headline: String,
    /// The curve; null where no life could be counted.
    pub curve: Option<CurveView>,
    /// The fitted distribution; null where none fits.
    pub weibull: Option<WeibullView>,
    /// Why none fits; empty where one does.
    pub no_weibull: String,
    /// What may be said without a failure; empty where something failed.
    pub bound: String,
    /// Lives left out and why: `cp-10: never fitted`.
    pub left_out: Vec<String>,
    /// How the lives were counted, and how far to trust it.
    pub notes: Vec<String>,
    /// What it costs to run, where prices are known.
    pub money: Option<LifeMoney>,
}

/// A Weibull distribution by maximum likelihood, in the clock's unit.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WeibullView {
    /// Shape: above 1 for what wears out.
    pub shape: f64,
    /// Scale: 63.2 % do not reach it.
    pub scale: f64,
    /// Mean life.
    pub mean: f64,
    /// Half do not reach it.
    pub median: f64,
    /// One in ten does not reach it.
    pub b10: f64,
    /// Log-likelihood.
    pub log_likelihood: f64,
    /// How many failures it rests on.
    pub failures: usize,
    /// Few failures: read the intervals, not the numbers.
    pub few: bool,
    /// Name, words and what it means, a row each.
    pub rows: Vec<WeibullRow>,
}

/// One number of a distribution with its interval.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct WeibullRow {
    /// What it is.
    pub name: &'static str,
    /// `223 min (90 % interval 170 to 289)`, or the interval first where failures are few.
    pub text: String,
    /// The lower end; null where the lives give none.
    pub low: Option<f64>,
    /// The upper end.
    pub high: Option<f64>,
}

pub(super) fn view(
    compiled: &Compiled,
    lives: &Lives,
    all: &[Fitted],
    one: &Fitted,
    scale: Scale,
    counts: &dyn Fn(&Life) -> bool,
) -> SpecView {
    let study = &one.study;
    let on_car = |id: &LifeId| matches!(lives.all[*id].end, End::Running | End::RunningSold);
    let running = study.lives.iter().filter(|at| on_car(at)).count();
    let failed = study.failures();
    SpecView {
        spec: name(compiled, study),
        lives: study.observations.len(),
        unknown: unknown(study),
        failed,
        pulled: study.observations.len() - failed - running,
        running,
        total: scale.words(study.total()),
        headline: format!("{}{}", shorten(compiled, one, scale), headline(one, scale)),
        curve: one.curve.as_ref().map(|curve| curve::view(curve, scale)),
        weibull: one.fit.as_ref().ok().map(|fit| weibull(fit, one.region.as_ref(), scale)),
        no_weibull: one.fit.as_ref().err().map_or_else(String::new, |why| no_fit(*why).to_owned()),
        bound: if failed == 0 && study.failed_unknown == 0 {
            bound(compiled, all, one, scale)
        } else {
            String::new()
        },
        left_out: left_out(compiled, lives, study),
        notes: notes(compiled, lives, one, scale, counts),
        money: value::money(compiled, one, scale),
    }
}

/// "The limit of 300 min is more than half of them last (276 min): shorten it. "; nothing where it is not, or too few failed to tell.
fn shorten(compiled: &Compiled, one: &Fitted, scale: Scale) -> String {
    let group = one.study.group;
    let (limits, _) = compiled.book.limits_of(group.kind, group.spec);
    let limit = limits.iter().find(|limit| limit.clock == group.clock);
    let median = one.curve.as_ref().and_then(Curve::median).filter(|_| one.study.failures() >= FEWEST);
    match limit.zip(median) {
        Some((limit, median)) if limit.value > median => {
            let typed = compiled.files.text(limit.typed);
            format!("{} ", capital(&limit_too_long(typed, &scale.words(median))))
        }
        _ => String::new(),
    }
}

fn headline(one: &Fitted, scale: Scale) -> String {
    let (lives, failed) = (one.study.observations.len(), one.study.failures());
    let others = others(&one.study);
    let of = match (failed, lives) {
        (_, 0) => return format!("No life could be counted yet.{others}"),
        (0, 1) => "The one life there is has not failed".to_owned(),
        (0, _) => format!("None of {lives} lives has failed"),
        (_, 1) => "The one life there is has failed".to_owned(),
        _ => format!("{failed} of {lives} lives failed"),
    };
    let median = one.curve.as_ref().and_then(Curve::median);
    let half = median.map_or_else(
        || {
            format!(
                "more than half go past the end of what was seen, {}",
                one.curve.as_ref().map_or_else(String::new, |curve| scale.words(curve.last))
            )
        },
        |median| format!("half last {} or more", scale.words(median)),
    );
    if failed == 0 {
        format!("{of} in {}.{others}", scale.words(one.study.total()))
    } else if failed < FEWEST {
        format!("{of}; that is too few to tell how long half of them last.{others}")
    } else {
        format!("{of}; {half}.{others}")
    }
}

fn unknown(study: &Study) -> usize {
    study.left_out.iter().filter(|(_, why)| *why == LeftOut::NotKnown).count()
}

/// Lives of which too little is known, after the headline: nobody is to take them for none.
fn others(study: &Study) -> String {
    match (unknown(study), study.failed_unknown) {
        (0, _) => String::new(),
        (1, 0) => " 1 more ran for how long is not known.".to_owned(),
        (1, _) => " 1 more failed after how long is not known.".to_owned(),
        (n, 0) => format!(" {n} more ran for how long is not known."),
        (n, failed) => format!(" {n} more ran for how long is not known; {failed} of them failed."),
    }
}

fn weibull(fit: &Fit, region: Option<&Region>, scale: Scale) -> WeibullView {
    let unit = |value: f64| value / scale.factor();
    let few = fit.failures < FEW;
    let row = |name: &'static str, value: f64, band: Option<Interval>, plain: bool| {
        let digits = |value: f64| if plain { number::format(value, 2) } else { scale.digits(value) };
        let word = if plain { String::new() } else { format!(" {}", scale.unit(false)) };
        let end = |end: Option<f64>, open: &str| end.map_or_else(|| open.to_owned(), digits);
        let band = band.unwrap_or(Interval { low: None, high: None });
        let range = format!("{} to {}", end(band.low, "nothing"), end(band.high, "no limit"));
        let text = if few {
            format!("{range}{word} (90 % interval); most likely {}", digits(value))
        } else {
            format!("{}{word} (90 % interval {range})", digits(value))
        };
        let si = |end: Option<f64>| end.map(|end| if plain { end } else { unit(end) });
        WeibullRow { name, text, low: si(band.low), high: si(band.high) }
    };
    let life = fit.life;
    let b10 = life.quantile(0.1).unwrap_or(0.0);
    let rows = vec![
        row("one in ten is gone by", b10, region.map(|region| region.quantile(0.1)), false),
        row("half are gone by", life.median(), region.map(|region| region.quantile(0.5)), false),
        row("mean life", life.mean(), region.map(Region::mean), false),
        row("shape", life.shape, region.map(Region::shape), true),
        row("scale", life.scale, region.map(Region::scale), false),
    ];
    WeibullView {
        shape: life.shape,
        scale: unit(life.scale),
        mean: unit(life.mean()),
        median: unit(life.median()),
        b10: unit(b10),
        // The density is per unit of time, so its logarithm shifts with the unit.
        log_likelihood: fit.log_likelihood + fit.failures as f64 * libm::log(scale.factor()),
        failures: fit.failures,
        few,
        rows,
    }
}

/// Why no distribution fits, in words.
pub(crate) const fn no_fit(why: NoFit) -> &'static str {
    match why {
        NoFit::Unusable(why) => match why.reason {
            Reason::NoLives => "no life can be counted",
            _ => "a life cannot be counted",
        },
        NoFit::NoFailures => "nothing has failed",
        NoFit::OneFailure => {
            "one failure, and nothing ran longer: it says when one failed, not how they spread"
        }
        NoFit::FailedTogether => {
            "all failures came at one age and nothing ran longer: no spread can be fitted"
        }
        NoFit::ShapeTowardsZero => "all came with life on them, and the likelihood has no greatest value",
        NoFit::OutOfReach => "no believable distribution fits",
    }
}

/// What no failures say: bounds, were the rate constant, and at the shape of the spec that does fail.
fn bound(compiled: &Compiled, all: &[Fitted], one: &Fitted, scale: Scale) -> String {
    let lives = &one.study.observations;
    let Some(mean) = mean_at_least(lives, LEVEL).ok().flatten() else { return String::new() };
    let mut text = format!(
        "No mean can be given. Were the rate of failing constant, the mean life would be at least {} (at 90 %)",
        scale.words(mean)
    );
    let other = all.iter().filter_map(|other| other.fit.as_ref().ok().map(|fit| (other, fit)));
    if let Some((other, fit)) = other.max_by_key(|(_, fit)| fit.failures)
        && let Some(least) = scale_at_least(lives, fit.life.shape, LEVEL).ok().flatten()
    {
        text += &format!(
            "; at the shape of {}, {}, the scale at least {}",
            name(compiled, &other.study),
            number::format(fit.life.shape, 2),
            scale.words(least)
        );
    }
    text.push('.');
    let rival = all.iter().filter_map(|other| other.fit.as_ref().ok().map(|fit| (other, fit)));
    if let Some((other, fit)) = rival.max_by_key(|(_, fit)| fit.failures)
        && let Ok(chance) = none_would_fail(&fit.life, lives)
    {
        if let Some(few) = too_few(fit.failures) {
            let name = name(compiled, &other.study);
            text += &format!(" Whether as many of {name} would have come through the same running: {few}.");
            return text;
        }
        text += &format!(
            " As many of {} would have come through the same running with a chance of {}{}.",
            name(compiled, &other.study),
            percent(chance),
            if chance > super::LEVEL { ": no evidence yet" } else { "" }
        );
    }
    text
}

fn left_out(compiled: &Compiled, lives: &Lives, study: &Study) -> Vec<String> {
    let words = |why: LeftOut| match why {
        LeftOut::NeverFitted => "never fitted",
        LeftOut::NotRun => "fitted and not run yet",
        LeftOut::FailedAtNothing => "failed before it ran: a fault from new, not wear",
        LeftOut::NotKnown => "how long it ran is not known",
        LeftOut::Unmended => "ran on after it failed, with no work in the book",
        LeftOut::NotWatched => "came used and has not run here",
    };
    let one = |(id, why): &(LifeId, LeftOut)| {
        let life = &lives.all[*id];
        let part = &compiled.book.parts[life.part].named.typed;
        let number = if life.number > 1 { format!(", life {}", life.number) } else { String::new() };
        format!("{part}{number}: {}", words(*why))
    };
    study.left_out.iter().map(one).collect()
}

fn notes(
    compiled: &Compiled,
    lives: &Lives,
    one: &Fitted,
    scale: Scale,
    counts: &dyn Fn(&Life) -> bool,
) -> Vec<String> {
    let mut notes = Vec::new();
    let group = one.study.group;
    if one.study.carried > 0 {
        let n = one.study.carried;
        let who = words::count(n, "life had", "lives had");
        let mut text = format!("{who} run before the book and counts from new.");
        if n > 1 {
            text = text.replace(" counts ", " count ");
        }
        let late = fitted(study(&compiled.book, lives, group, Carried::Late, counts));
        if let Some(median) =
            late.curve.as_ref().and_then(Curve::median).filter(|_| late.study.failures() >= FEWEST)
        {
            text += &format!(" Counted only from where the book begins, half last {}", scale.words(median));
            if let Ok(fit) = &late.fit {
                text += &format!(
                    "; shape {}, scale {}",
                    number::format(fit.life.shape, 2),
                    scale.words(fit.life.scale)
                );
            }
            text.push('.');
        }
        notes.push(text);
    }
    if one.study.came_used > 0 {
        notes.push(format!(
            "{} came used and count{} only from the age at which they came.",
            one.study.came_used,
            if one.study.came_used == 1 { "s" } else { "" }
        ));
    }
    if scale.whole() && one.fit.is_ok() {
        notes.push(format!(
            "Fitted to whole {}: a life that ended within one counts as the whole, so the numbers lie up to one {} high.",
            scale.unit(false),
            scale.unit(true)
        ));
    }
    if let Ok(fit) = &one.fit {
        if fit.failures < FEW {
            notes.push(format!("Only {} failed: read the intervals, not the numbers.", fit.failures));
        }
        let (limits, _) = compiled.book.limits_of(group.kind, group.spec);
        let limit = limits.iter().find(|limit| limit.clock == group.clock);
        if let Some(limit) = limit {
            let typed = compiled.files.text(limit.typed);
            notes.push(match too_few(fit.failures) {
                Some(few) => format!("How many would fail before the limit of {typed}: {few}."),
                None => {
                    format!(
                        "By this, {} would fail before the limit of {typed}.",
                        percent(fit.life.failed(limit.value))
                    )
                }
            });
        }
    }
    notes
}
