//! What the runs of a trial say, in a sentence; and what they cannot.
//!
//! Must not know the terminal, nor pages.

use super::named;
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

/// A number of seconds as closely as its interval is worth.
#[must_use]
pub fn seconds(value: f64, effect: &Effect) -> String {
    number::format(value, if effect.high - effect.low < 0.1 { 3 } else { 2 })
}

fn signed(value: f64, effect: &Effect) -> String {
    let text = seconds(value, effect);
    if text.starts_with('-') { text } else { format!("+{text}") }
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
    let names = named::full(compiled, trial);
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
            let each = effects.effects.iter().map(|effect| interval(&names, effect));
            let text = format!(
                "cannot tell: {}, {}; {} bears no verdict{}",
                words::and(&each.collect::<Vec<_>>()),
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
            let why = refused(compiled, trial, refusal, &names);
            Said { outcome, text: format!("cannot tell: {why}{}", next()) }
        }
    }
}

/// "1 degree of freedom".
#[must_use]
pub fn freedom(freedom: usize) -> String {
    words::count(freedom as u64, "degree of freedom", "degrees of freedom")
}

/// "bar-hole front 3 against bar-hole front 1 -0.58 s (-1.15 to -0.01)".
fn interval(names: &[String], effect: &Effect) -> String {
    let name = |level: usize| names.get(level).map_or("", String::as_str);
    let range = format!(
        "{} s ({} to {})",
        signed(effect.value, effect),
        signed(effect.low, effect),
        signed(effect.high, effect)
    );
    match effect.to {
        Some(to) => format!("{} against {} {range}", name(to), name(effect.from)),
        None => format!("a step of 1 {range}"),
    }
}

fn verdict(names: &[String], effects: &Effects, wanted: f64, order: &str) -> Said {
    let tail = format!("{order}{}", trend(effects));
    let name = |level: usize| names.get(level).cloned().unwrap_or_default();
    let sure: Vec<String> = effects
        .effects
        .iter()
        .filter(|effect| effect.low > 0.0 || effect.high < 0.0)
        .map(|effect| {
            let (by, low, high) = if effect.value < 0.0 {
                (-effect.value, -effect.high, -effect.low)
            } else {
                (effect.value, effect.low, effect.high)
            };
            let by = format!(
                "by {} s ({} to {})",
                seconds(by, effect),
                seconds(low, effect),
                seconds(high, effect)
            );
            match (effect.to, effect.value < 0.0) {
                (Some(to), true) => format!("{} is quicker than {} {by}", name(to), name(effect.from)),
                (Some(to), false) => format!("{} is quicker than {} {by}", name(effect.from), name(to)),
                (None, true) => format!("from {} each step of 1 up is quicker {by}", name(0)),
                (None, false) => format!("from {} each step of 1 down is quicker {by}", name(0)),
            }
        })
        .collect();
    if !sure.is_empty() {
        return Said { outcome: TrialOutcome::Quicker, text: format!("{}, {tail}", words::and(&sure)) };
    }
    let most =
        effects.effects.iter().map(|effect| effect.low.abs().max(effect.high.abs())).fold(0.0, f64::max);
    let between = words::and(names);
    if most <= wanted {
        // Never less than what it may be.
        let most = libm::ceil(most * 100.0 - 1e-9) / 100.0;
        let text =
            format!("no difference larger than {} s between {between}, {tail}", number::format(most, 2));
        return Said { outcome: TrialOutcome::NoDifference, text };
    }
    let each = effects.effects.iter().map(|effect| interval(names, effect));
    let text = format!("cannot tell: {}, {tail}", words::and(&each.collect::<Vec<_>>()));
    Said { outcome: TrialOutcome::CannotTell, text }
}

/// What one contrast says that was tried at several events: of two settings, in `unit`.
#[must_use]
pub fn together(names: &[String], effects: &Effects, unit: &str) -> String {
    let name = |level: usize| names.get(level).map_or("", String::as_str);
    let [effect] = effects.effects.as_slice() else { return String::new() };
    let unit = if unit == "%" { " % of the lap" } else { " s" };
    let sure = effects.bears_verdict() && (effect.low > 0.0 || effect.high < 0.0);
    let freedom = freedom(effects.freedom);
    if sure && effect.value < 0.0 {
        let (by, low, high) =
            (seconds(-effect.value, effect), seconds(-effect.high, effect), seconds(-effect.low, effect));
        return format!(
            "together: {} is quicker than {} by {by}{unit} ({low} to {high}), {freedom}",
            name(1),
            name(0)
        );
    }
    if sure {
        let (by, low, high) =
            (seconds(effect.value, effect), seconds(effect.low, effect), seconds(effect.high, effect));
        return format!(
            "together: {} is quicker than {} by {by}{unit} ({low} to {high}), {freedom}",
            name(0),
            name(1)
        );
    }
    let verdict = if effects.bears_verdict() { "it may be nothing" } else { "no verdict" };
    format!(
        "together: {} against {} {}{unit} ({} to {}), {freedom}: {verdict}",
        name(1),
        name(0),
        signed(effect.value, effect),
        signed(effect.low, effect),
        signed(effect.high, effect)
    )
}

/// ", laps rising 0.06 s a run": of one day; of several nothing.
fn trend(effects: &Effects) -> String {
    let [trend] = effects.trends.as_slice() else { return ", each day with its own trend".to_owned() };
    let size = number::format(trend.abs(), 2);
    if size == "0.00" {
        return ", no trend from run to run".to_owned();
    }
    let way = if *trend > 0.0 { "rising" } else { "falling" };
    format!(", laps {way} {size} s a run")
}

/// Why a trial has no answer.
#[must_use]
pub fn refused(compiled: &Compiled, trial: &Trial, refusal: &Refusal, names: &[String]) -> String {
    let what = named::what(compiled, trial);
    let last = names.last().map_or("", String::as_str);
    match refusal {
        Refusal::NotAlone(with) => {
            let hidden = with.contains(&Factor::Hidden);
            let with: Vec<String> = with.iter().map(|other| named::factor(compiled, *other)).collect();
            let whose = if hidden { ", which this reader may not read" } else { "" };
            format!("{what} never changed alone: with it changed {}{whose}", words::and(&with))
        }
        Refusal::NotKnown => format!("what {what} stood at is not known for every run"),
        Refusal::LeftOut(why) => {
            let why: Vec<String> = why.iter().map(|why| named::aside(compiled, why)).collect();
            format!("what is left out leaves one setting of {what} ({})", words::and(&why))
        }
        Refusal::WentWithOrder if names.len() == 2 => {
            format!("{last} came only after {}", names.first().map_or("", String::as_str))
        }
        Refusal::WentWithOrder => format!("each setting of {what} came once, one after the other"),
        Refusal::OnlyOneWay => {
            format!("{what} was only ever turned one way, and a step is then the same as a run later")
        }
        Refusal::WentWithDay => format!("each day had one setting of {what}, so that it went with the day"),
        Refusal::TooFew { runs, unknowns } => format!(
            "{} ({}) for {} to find: the level, the trend and the change",
            words::count(*runs as u64, "run", "runs"),
            order(trial),
            words::count(*unknowns as u64, "number", "numbers"),
        ),
        Refusal::NoScatter => {
            "the laps lie on a line to the last digit, so that nothing says how far they scatter".to_owned()
        }
        Refusal::NotMeasured => {
            "fewer than three of the runs, or not all of them, have a lap time".to_owned()
        }
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
    let alone = if plan.anew { " with nothing else changed" } else { "" };
    match plan.within {
        Some(_) => {
            format!("{number}{more} {noun}, {letters}{alone}, would tell {} s", words::amount(wanted, 2))
        }
        None => format!("{number}{more} {noun}, {letters}{alone}, would bear a verdict"),
    }
}
