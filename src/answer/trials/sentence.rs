//! What the runs of a trial say, in a sentence; and what they cannot.
//!
//! Must not know the terminal, nor pages.

use super::named::{self, TrialNames};
use crate::Compiled;
use crate::trials::plan::Plan;
use crate::trials::{Effect, Effects, Factor, Refusal, Trial};
use crate::units::number;
use crate::words;
use serde::Serialize;

/// What came of a trial.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum TrialOutcome {
    /// One setting is quicker.
    Quicker,
    /// None is quicker by more than what was asked about.
    NoDifference,
    /// The runs leave it open.
    CannotTell,
    /// The runs could not tell, whatever the laps.
    Refused,
}

/// What a trial says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// What came of it.
    pub outcome: TrialOutcome,
    /// The sentence.
    pub text: String,
}

/// "A B B A | B A": the settings by letter in the order they were run, days apart.
#[must_use]
pub fn order(trial: &Trial) -> String {
    let mut text = String::new();
    let mut day = None;
    for run in &trial.runs {
        if day.is_some() {
            text += if day == Some(run.day) { " " } else { " | " };
        }
        day = Some(run.day);
        text += &letter(run.level);
    }
    text
}

/// "A", "B" ... "Z", then "S27".
#[must_use]
pub fn letter(level: usize) -> String {
    u8::try_from(level)
        .ok()
        .filter(|level| *level < 26)
        .map_or_else(|| format!("S{}", level + 1), |level| char::from(b'A' + level).to_string())
}

/// What the best laps say of a trial. `wanted` is the difference that is asked about, s.
#[must_use]
pub fn said(compiled: &Compiled, trial: &Trial, wanted: f64, plan: &dyn Fn() -> Option<Plan>) -> Said {
    let names = TrialNames::of(compiled, trial);
    let measured = trial.measured.as_ref().map_err(|refusal| (refusal, TrialOutcome::Refused));
    let own = measured.and_then(|all| {
        let best =
            all.first().map(|best| best.effects.as_ref().map_err(|why| (why, TrialOutcome::CannotTell)));
        best.unwrap_or(Err((&Refusal::NotMeasured, TrialOutcome::CannotTell)))
    });
    let next = || plan().map_or_else(String::new, |plan| format!("; {}", would_tell(&plan, wanted)));
    if let Some(effects) = trial.verdict() {
        let mut said = verdict(&names, effects, wanted, &order(trial));
        if effects.pooled > 0 {
            said.text += &format!(
                "; judged by the scatter of its other runs on that circuit too ({} of {})",
                effects.pooled,
                freedom(effects.freedom)
            );
        }
        if said.outcome == TrialOutcome::CannotTell {
            said.text += &next();
        }
        return said;
    }
    match own {
        Ok(effects) => {
            let text = format!(
                "cannot tell: {}, {}, but so few runs are no verdict ({}){}",
                listed(effects.effects.iter().map(|effect| against(&names, effect, "s"))),
                order(trial),
                freedom(effects.freedom),
                next()
            );
            Said { outcome: TrialOutcome::CannotTell, text }
        }
        Err((refusal, outcome)) => {
            let outcome = match refusal {
                Refusal::NoScatter | Refusal::TooFew { .. } | Refusal::NotMeasured => {
                    TrialOutcome::CannotTell
                }
                _ => outcome,
            };
            let why = refused(compiled, trial, refusal);
            Said { outcome, text: format!("cannot tell: {why}{}", next()) }
        }
    }
}

/// "1 degree of freedom".
#[must_use]
pub fn freedom(freedom: usize) -> String {
    words::count(freedom as u64, "degree of freedom", "degrees of freedom")
}

/// Decimals of a difference in seconds, or in per cent: as closely as its interval is worth.
#[must_use]
pub fn decimals(low: f64, high: f64) -> u8 {
    if high - low < 0.1 { 3 } else { 2 }
}

/// A number of a difference, without a sign.
fn size(value: f64, effect: &Effect) -> String {
    number::format(value.abs(), decimals(effect.low, effect.high))
}

/// "bar-hole front 3 against 1: quicker by 0.58 s (0.01 to 1.15)", "... slower by 0.10 s (0.20 quicker to 0.40 slower)".
fn against(names: &TrialNames, effect: &Effect, unit: &str) -> String {
    let (way, other) = if effect.value < 0.0 { ("quicker", "slower") } else { ("slower", "quicker") };
    let (near, far) =
        if effect.value < 0.0 { (-effect.high, -effect.low) } else { (effect.low, effect.high) };
    let range = if near < 0.0 {
        format!("{} {other} to {} {way}", size(near, effect), size(far, effect))
    } else {
        format!("{} to {}", size(near, effect), size(far, effect))
    };
    format!(
        "{} against {}: {way} by {} {unit} ({range})",
        names.full(effect.to),
        names.setting(effect.from),
        size(effect.value, effect)
    )
}

/// "bar-hole front 3 is quicker than bar-hole front 1 by 0.46 s (0.34 to 0.58)"; of a straight line "bar-hole front from 1 to 5 is quicker
/// by 0.40 s (0.30 to 0.50) as a straight line". Of a difference that leaves nought out.
fn quicker(names: &TrialNames, effect: &Effect, straight: bool, unit: &str) -> String {
    let (quick, slow) = if effect.value < 0.0 { (effect.to, effect.from) } else { (effect.from, effect.to) };
    let ends = [effect.low.abs(), effect.high.abs()];
    let by = format!(
        "by {} {unit} ({} to {})",
        size(effect.value, effect),
        size(ends[0].min(ends[1]), effect),
        size(ends[0].max(ends[1]), effect)
    );
    if straight {
        let range = from_to(names.setting(slow), names.setting(quick));
        return format!("{} {range} is quicker {by} as a straight line", names.what);
    }
    format!("{} is quicker than {} {by}", names.full(quick), names.full(slow))
}

/// "from 1.50 to 1.60 bar": the unit once where both have it.
fn from_to(from: &str, to: &str) -> String {
    let units = from.split_once(' ').zip(to.split_once(' '));
    let from = units.filter(|(a, b)| a.1 == b.1).map_or(from, |(a, _)| a.0);
    format!("from {from} to {to}")
}

/// So many differences are told one by one.
const TOLD: usize = 6;

/// Differences in one text, the rest counted.
fn listed(all: impl Iterator<Item = String>) -> String {
    let mut list: Vec<String> = all.collect();
    let more = list.len().saturating_sub(TOLD);
    if more > 1 {
        list.truncate(TOLD);
        list.push(words::count(more as u64, "other pair", "other pairs"));
    }
    words::and(&list)
}

fn leaves_nought_out(effect: &Effect) -> bool {
    effect.low > 0.0 || effect.high < 0.0
}

fn verdict(names: &TrialNames, effects: &Effects, wanted: f64, order: &str) -> Said {
    let tail = format!("{order}{}", trend(effects));
    let sure: Vec<&Effect> = effects.effects.iter().filter(|effect| leaves_nought_out(effect)).collect();
    if !sure.is_empty() {
        let sure = sure.into_iter().map(|effect| quicker(names, effect, effects.straight, "s"));
        return Said { outcome: TrialOutcome::Quicker, text: format!("{}, {tail}", listed(sure)) };
    }
    let most =
        effects.effects.iter().map(|effect| effect.low.abs().max(effect.high.abs())).fold(0.0, f64::max);
    // A straight line says nothing of the settings between its ends.
    if most <= wanted && !effects.straight {
        let all: Vec<String> = (0..names.settings.len()).map(|level| names.full(level)).collect();
        let any = if all.len() > 2 { "any two of " } else { "" };
        // Never less than what it may be.
        let most = libm::ceil(most * 100.0 - 1e-9) / 100.0;
        let text = format!(
            "no difference larger than {} s between {any}{}, {tail}",
            number::format(most, 2),
            words::and(&all)
        );
        return Said { outcome: TrialOutcome::NoDifference, text };
    }
    let each = listed(effects.effects.iter().map(|effect| against(names, effect, "s")));
    Said { outcome: TrialOutcome::CannotTell, text: format!("cannot tell: {each}, {tail}") }
}

/// What a trial says of two of its settings, of the difference between them.
#[must_use]
pub fn of_pair(names: &TrialNames, trial: &Trial, effects: &Effects, effect: &Effect) -> String {
    let tail = order(trial);
    let text = if leaves_nought_out(effect) {
        format!("{}, {tail}", quicker(names, effect, effects.straight, "s"))
    } else {
        format!("cannot tell: {}, {tail}", against(names, effect, "s"))
    };
    words::capital(&text)
}

/// What one contrast says that was tried at several events: of two settings, in `unit`.
#[must_use]
pub fn together(names: &TrialNames, effects: &Effects, unit: &str) -> String {
    let [effect] = effects.effects.as_slice() else { return String::new() };
    let unit = if unit == "%" { "% of the lap" } else { "s" };
    let freedom = freedom(effects.freedom);
    if effects.bears_verdict() && leaves_nought_out(effect) {
        return format!("together: {}, {freedom}", quicker(names, effect, false, unit));
    }
    let verdict = if effects.bears_verdict() { "it may be nothing" } else { "no verdict" };
    format!("together: {}, {freedom}: {verdict}", against(names, effect, unit))
}

/// ", laps rising 0.06 s a run": of one day; of several nothing.
fn trend(effects: &Effects) -> String {
    let closely = effects.effects.iter().map(|one| decimals(one.low, one.high)).max().unwrap_or(2);
    let [trend] = effects.trends.as_slice() else { return ", each day with its own trend".to_owned() };
    let size = number::format(trend.abs(), closely);
    if size.trim_matches(|one| one == '0' || one == '.').is_empty() {
        return ", no trend from run to run".to_owned();
    }
    let way = if *trend > 0.0 { "rising" } else { "falling" };
    format!(", laps {way} {size} s a run")
}

/// Why a trial has no answer.
#[must_use]
pub fn refused(compiled: &Compiled, trial: &Trial, refusal: &Refusal) -> String {
    let names = TrialNames::of(compiled, trial);
    let what = &names.what;
    match refusal {
        Refusal::NotAlone(with) => {
            let hidden = with.contains(&Factor::Hidden);
            let with: Vec<String> =
                with.iter().map(|other| named::with_it(compiled, trial, *other)).collect();
            let whose = if hidden { ", which this reader may not read" } else { "" };
            format!("{what} never changed alone: with it changed {}{whose}", words::and(&with))
        }
        Refusal::NotKnown => format!("what {what} stood at is not known for every run"),
        Refusal::LeftOut(why) => {
            let why: Vec<String> = why.iter().map(|why| named::aside(compiled, why, None)).collect();
            format!("what is left out leaves one setting of {what} ({})", words::and(&why))
        }
        Refusal::WentWithOrder if names.settings.len() == 2 => {
            format!("{} came only after {}", names.full(1), names.full(0))
        }
        Refusal::WentWithOrder => format!("each setting of {what} came once, one after the other"),
        Refusal::OnlyOneWay => {
            format!("{what} was only ever turned one way, and a step is then the same as a run later")
        }
        Refusal::WentWithDay => format!("each day had one setting of {what}, so that it went with the day"),
        Refusal::TooFew { runs, unknowns } => format!(
            "{} ({}) for {} to find: {}",
            words::count(*runs as u64, "run", "runs"),
            order(trial),
            words::count(*unknowns as u64, "number", "numbers"),
            unknown(trial, *unknowns)
        ),
        Refusal::NoScatter => {
            "the values lie on a line to the last digit, so that nothing says how far they scatter".to_owned()
        }
        Refusal::NotMeasured => "not enough of the runs have the value".to_owned(),
    }
}

/// What there is to find: two numbers of each day, and one of each setting but the first.
fn unknown(trial: &Trial, unknowns: usize) -> String {
    let changes = trial.levels.len().saturating_sub(1);
    let change = if changes == 1 {
        "the change".to_owned()
    } else {
        words::count(changes as u64, "change", "changes")
    };
    match unknowns.saturating_sub(changes) / 2 {
        0 | 1 => format!("the level, the trend and {change}"),
        days => format!("the level and the trend of {days} days, and {change}"),
    }
}

/// "three more runs, B A B, would tell 0.4 s".
#[must_use]
pub fn would_tell(plan: &Plan, wanted: f64) -> String {
    const COUNTS: [&str; 9] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight"];
    let count = plan.settings.len();
    let number = COUNTS.get(count).map_or_else(|| count.to_string(), |word| (*word).to_owned());
    let more = if plan.anew { "" } else { " more" };
    let counted = words::count(count as u64, "run", "runs");
    let noun = counted.split(' ').next_back().unwrap_or_default();
    let letters: Vec<String> = plan.settings.iter().map(|level| letter(*level)).collect();
    let letters = letters.join(" ");
    let alone = if plan.anew { ", on a day of their own with nothing else changed" } else { "" };
    match plan.within {
        Some(_) => {
            format!("{number}{more} {noun}, {letters}{alone}, would tell {} s", words::amount(wanted, 2))
        }
        None => format!("{number}{more} {noun}, {letters}{alone}, would be enough to judge by"),
    }
}
