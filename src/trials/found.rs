//! Trials of a car at one event: runs that differ in one thing.
//!
//! Found from what each thing stood at, never from what a line says it is about: a change put back is no change, and two changes at once
//! are no trial. Must not know numbers.

use super::aside::Aside;
use super::factor::{Factor, LevelIndex, Standings};
use super::refusal::Refusal;

/// Runs that differ in one thing, as numbers of the event's runs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// The runs that count, each with the number of its setting, as the standings have it.
    pub runs: Vec<(usize, usize)>,
    /// The others, each with why.
    pub aside: Vec<(usize, Aside)>,
    /// Why nothing can be said at all.
    pub refusal: Option<Refusal>,
}

/// The trials of one thing among the runs of an event. `aside` says which runs do not count whatever is tried, `days` of which day each is.
#[must_use]
pub fn groups(thing: &Standings, all: &[Standings], aside: &[Option<Aside>], days: &[usize]) -> Vec<Group> {
    let others: Vec<&Standings> = all.iter().filter(|other| other.factor != thing.factor).collect();
    let mut out: Vec<(usize, Aside)> = Vec::new();
    // The runs that count, by what everything else stood at.
    let mut keys: Vec<(Vec<usize>, Vec<(usize, usize)>)> = Vec::new();
    for (run, why) in aside.iter().enumerate() {
        match standing(run, thing, &others, why.as_ref()) {
            Err(why) => out.push((run, why)),
            Ok((level, key)) => match keys.iter_mut().find(|(known, _)| *known == key) {
                Some((_, runs)) => runs.push((run, level)),
                None => keys.push((key, vec![(run, level)])),
            },
        }
    }
    let trials = keys.iter().filter(|(_, runs)| settings(runs) > 1);
    let found: Vec<Group> = trials
        .map(|(key, runs)| {
            let mut aside = out.clone();
            let elsewhere = keys.iter().filter(|(other, _)| other != key);
            aside.extend(elsewhere.flat_map(|(other, runs)| {
                let differs = key.iter().zip(other).position(|(a, b)| a != b);
                let factor = differs.and_then(|at| others.get(at)).map_or(thing.factor, |one| one.factor);
                runs.iter().map(move |(run, _)| (*run, Aside::Otherwise(factor)))
            }));
            let mut group = Group { runs: runs.clone(), aside, refusal: None };
            few(&mut group, days);
            group.aside.sort_by_key(|(run, _)| *run);
            group
        })
        .collect();
    if found.is_empty() {
        let runs = keys.into_iter().flat_map(|(_, runs)| runs);
        let mut runs: Vec<(usize, usize)> = runs.collect();
        runs.sort_unstable();
        let refusal = Some(alone(thing, &others, &runs, &out));
        return vec![Group { runs, aside: out, refusal }];
    }
    found
}

/// How many settings some runs have.
fn settings(runs: &[(usize, usize)]) -> usize {
    let mut levels: Vec<usize> = runs.iter().map(|(_, level)| *level).collect();
    levels.sort_unstable();
    levels.dedup();
    levels.len()
}

/// At which setting a run was, and at what everything else stood; or why it does not count.
fn standing(
    run: usize,
    thing: &Standings,
    others: &[&Standings],
    aside: Option<&Aside>,
) -> Result<(usize, Vec<usize>), Aside> {
    let of = |one: &Standings| -> LevelIndex { one.of_run.get(run).copied().flatten() };
    if let Some(why) = aside {
        return Err(why.clone());
    }
    let level = of(thing).ok_or(Aside::Unknown(thing.factor))?;
    let key: Result<Vec<usize>, Aside> =
        others.iter().map(|other| of(other).ok_or(Aside::Unknown(other.factor))).collect();
    Ok((level, key?))
}

/// A day with fewer than three runs tells nothing beside its own level and trend: where another day has more, it is left out.
fn few(group: &mut Group, days: &[usize]) {
    let day = |run: usize| days.get(run).copied();
    let count =
        |runs: &[(usize, usize)], of: Option<usize>| runs.iter().filter(|(run, _)| day(*run) == of).count();
    let all = group.runs.clone();
    let enough = |run: usize| count(&all, day(run)) > 2;
    let left: Vec<(usize, usize)> = all.iter().filter(|(run, _)| enough(*run)).copied().collect();
    if settings(&left) > 1 {
        let out = all.iter().filter(|(run, _)| !enough(*run));
        group.aside.extend(out.map(|(run, _)| (*run, Aside::FewThatDay)));
        group.runs = left;
    }
}

/// Why no runs differ in this alone.
fn alone(
    thing: &Standings,
    others: &[&Standings],
    runs: &[(usize, usize)],
    out: &[(usize, Aside)],
) -> Refusal {
    if settings(runs) > 1 {
        let mut with: Vec<Factor> = Vec::new();
        for pair in runs.windows(2) {
            let [(before, was), (after, is)] = pair else { continue };
            if was == is {
                continue;
            }
            let changed = |other: &&&Standings| other.of_run.get(*before) != other.of_run.get(*after);
            for other in others.iter().filter(changed) {
                if !with.contains(&other.factor) {
                    with.push(other.factor);
                }
            }
        }
        return Refusal::NotAlone(with);
    }
    if out.iter().any(|(_, why)| *why == Aside::Unknown(thing.factor)) {
        return Refusal::NotKnown;
    }
    let mut why: Vec<Aside> = Vec::new();
    for (_, one) in out {
        if !why.contains(one) {
            why.push(one.clone());
        }
    }
    Refusal::LeftOut(why)
}
