//! What was said in the last sessions and in earlier ones too: what was changed next then, and what the best lap did.
//!
//! Must not know stems.

use super::counted::{self, Counted};
use super::ladder::{self, LadderChange, SpokenWords};
use super::phrase::{Felt, felt};
use crate::book::model::{CarId, CircuitId};
use crate::history::sessions::Session;
use crate::report::section::bests;
use crate::report::section::year;
use crate::report::teller::Teller;
use crate::report::words;
use crate::units::number;
use serde::Serialize;

/// A phrase of the last sessions.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Phrase {
    /// "mid push".
    pub words: String,
    /// The last sessions that heard it, the last one first: "s7, s5, s4".
    pub sessions: String,
    /// How often it was said before, what was changed next, and how often it was gone then; empty where it never was.
    pub counted: String,
    /// Earlier cases, those at this circuit first, then the latest.
    pub cases: Vec<SaidCase>,
    /// How many more there are.
    pub more: usize,
}

/// A time it was said before, and what followed.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SaidCase {
    /// "quern-2 s5".
    pub session: String,
    /// When.
    pub date: String,
    /// Whether it was at the circuit of the last sessions.
    pub here: bool,
    /// What was said.
    pub said: Vec<SpokenWords>,
    /// What was changed before the next session.
    pub changes: Vec<LadderChange>,
    /// The next session's label; empty where there was none at that event.
    pub next: String,
    /// Best lap when it was said, min:s.
    pub best: String,
    /// How far that was off the car's best of its day: "+0.43", "the day's best"; empty where it cannot be said.
    pub off: String,
    /// The same of the next session.
    pub off_next: String,
    /// Best lap of the next session, min:s.
    pub best_next: String,
    /// What it changed by, with its sign, s; empty where it cannot be said.
    pub change: String,
    /// What was said of the same phase in the next session.
    pub said_next: Vec<SpokenWords>,
    /// Why the change may not be what did it.
    pub cautions: Vec<String>,
    /// The lines of both sessions.
    pub src: String,
}

/// Cases told of one phrase.
const MOST: usize = 5;

/// The phrases of some sessions, the last one's first; praise is left out.
pub(super) fn said(tell: &Teller<'_>, car: CarId, sessions: &[&Session]) -> Vec<Phrase> {
    let (all, heard) = all_heard(tell, car);
    let first = all.len() - sessions.len();
    let mut told: Vec<&Felt> = Vec::new();
    let mut phrases = Vec::new();
    for (_, felt) in
        heard.iter().rev().filter(|(at, felt)| *at >= first && !felt.is_well(&tell.cx.book.meanings))
    {
        if told.iter().any(|known| known.is_like(felt)) {
            continue;
        }
        told.push(felt);
        let mut at: Vec<usize> =
            heard.iter().filter(|(_, other)| other.is_like(felt)).map(|(at, _)| *at).collect();
        at.dedup();
        // The last time it was said is today's question, not an answer.
        let earlier = at.split_last().map_or(&[][..], |(_, earlier)| earlier);
        phrases.push(phrase(tell, car, &all, felt, [&at, earlier], first));
    }
    phrases
}

/// A car's sessions, and what was said of each phase in which of them.
pub(super) fn all_heard<'t>(tell: &Teller<'t>, car: CarId) -> (Vec<&'t Session>, Vec<(usize, Felt)>) {
    let all: Vec<&Session> = year::own(tell, car).collect();
    let heard =
        all.iter().enumerate().flat_map(|(at, one)| heard(tell, one).map(move |felt| (at, felt))).collect();
    (all, heard)
}

/// What was said of each phase in a session.
fn heard<'t>(tell: &'t Teller<'_>, session: &Session) -> impl Iterator<Item = Felt> + use<'t> {
    let spoken = ladder::said(tell, session).into_iter().filter(|words| !words.own);
    spoken.flat_map(|words| felt(&tell.cx.book.meanings, &words.graded)).collect::<Vec<_>>().into_iter()
}

/// A phrase that was heard in the sessions `recent` of all the car's, of which those `at` are told; the last ones begin at `first`.
pub(super) fn phrase(
    tell: &Teller<'_>,
    car: CarId,
    all: &[&Session],
    felt: &Felt,
    [recent, at]: [&[usize]; 2],
    first: usize,
) -> Phrase {
    let circuit = all.last().and_then(|session| bests::circuit(tell, session));
    let recent = recent.iter().rev().filter(|at| **at >= first).filter_map(|at| all.get(*at));
    let recent: Vec<&str> = recent.map(|session| tell.label(session)).collect();
    let earlier = at.iter().rev().copied();
    let earlier = earlier.filter_map(|at| all.split_at_checked(at)?.1.split_first());
    let earlier: Vec<(&&Session, &[&Session])> = earlier.collect();
    let mut counted = Counted::default();
    for (session, later) in &earlier {
        let Some(next) = later.first().filter(|next| follows(session, next)) else { continue };
        let after: Vec<Felt> = heard(tell, next).collect();
        let spoke = after.iter().any(|other| other.phase == felt.phase);
        let again = after.iter().any(|other| other.is_like(felt));
        let turned = counted::turned(tell, car, session, next);
        counted.count(turned.as_deref(), counted::became(spoke, again));
    }
    let mut cases: Vec<SaidCase> = earlier
        .into_iter()
        .map(|(session, later)| case(tell, car, all, (*session, later), (&felt.phase, circuit)))
        .collect();
    cases.sort_by_key(|case| !case.here);
    let more = cases.len().saturating_sub(MOST);
    cases.truncate(MOST);
    Phrase { words: felt.told(), sessions: recent.join(", "), counted: counted.sentence(), cases, more }
}

/// Whether a session came next at the same event, or on the same day outside of one.
fn follows(session: &Session, next: &Session) -> bool {
    next.event == session.event && (next.event.is_some() || next.date == session.date)
}

fn case(
    tell: &Teller<'_>,
    car: CarId,
    all: &[&Session],
    (session, later): (&Session, &[&Session]),
    (phase, circuit): (&str, Option<CircuitId>),
) -> SaidCase {
    let next = later.first().filter(|next| follows(session, next)).copied();
    let changes = next.map_or_else(Vec::new, |next| ladder::changes(tell, car, session.during, next.rank));
    let gain = next.and_then(|next| Some(next.best? - session.best?));
    let meanings = &tell.cx.book.meanings;
    let of_phase = |words: &SpokenWords| {
        !words.own && felt(meanings, &words.graded).iter().any(|felt| felt.phase == phase)
    };
    let lines = [Some(session), next].into_iter().flatten().filter_map(|one| tell.entry(one.entry));
    SaidCase {
        session: bests::session_name(tell, session),
        date: words::date(session.date),
        here: circuit.is_some() && bests::circuit(tell, session) == circuit,
        said: ladder::said(tell, session).into_iter().filter(of_phase).collect(),
        cautions: next.map_or_else(Vec::new, |next| cautions(tell, car, session, next)),
        changes,
        next: next.map_or_else(String::new, |next| tell.label(next).to_owned()),
        best: bests::lap(tell, session),
        off: off(all, session),
        off_next: next.map_or_else(String::new, |next| off(all, next)),
        best_next: next.map_or_else(|| words::DASH.to_owned(), |next| bests::lap(tell, next)),
        change: gain.map_or_else(String::new, |gain| number::signed(gain, 2)),
        said_next: next
            .map_or_else(Vec::new, |next| ladder::said(tell, next).into_iter().filter(of_phase).collect()),
        src: crate::report::sources::lines(tell.cx.files, lines.map(crate::book::entry::Entry::span)),
    }
}

/// How far a session's best lap was off the car's best of the same day at the same event.
fn off(all: &[&Session], session: &Session) -> String {
    let same = |one: &&&Session| one.date == session.date && one.event == session.event;
    let best = bests::quickest(all.iter().filter(same).copied()).and_then(|best| best.best);
    match session.best.zip(best) {
        Some((own, best)) if own > best => number::signed(own - best, 2),
        Some(_) => "the day's best".to_owned(),
        None => String::new(),
    }
}

/// What else differed between a session and the next.
fn cautions(tell: &Teller<'_>, car: CarId, session: &Session, next: &Session) -> Vec<String> {
    let mut list = Vec::new();
    let lines = ladder::settings(tell, car, session.during, next.rank).len();
    match (counted::changed(tell, car, session, next).map(|changed| changed.len()), lines) {
        (None, 0) => list.push("not known what was changed".to_owned()),
        (None, _) => list.push("not known what else was changed".to_owned()),
        (Some(0), 0) => list.push("nothing was changed".to_owned()),
        (Some(0), _) => list.push("what was changed was put back".to_owned()),
        (Some(1), _) => {}
        (Some(many), _) => list.push(format!("{many} changes at once")),
    }
    if session.date != next.date {
        list.push("the next day".to_owned());
    }
    if tell.drivers(session) != tell.drivers(next) {
        list.push("another driver".to_owned());
    }
    let flags = |one: &Session| -> Vec<String> {
        let entry = tell.entry(one.entry);
        let said = entry.map_or_else(Vec::new, |entry| tell.conditions(entry));
        said.into_iter().filter(|words| !words.contains(|c: char| c.is_ascii_digit())).collect()
    };
    let (then, now) = (flags(session), flags(next));
    if then != now && !(then.is_empty() && now.is_empty()) {
        let words = |list: &[String]| if list.is_empty() { "not said".to_owned() } else { list.join(", ") };
        list.push(format!("{}, then {}", words(&then), words(&now)));
    }
    list
}
