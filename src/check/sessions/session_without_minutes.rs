//! `session-without-minutes`: sessions without minutes, while parts on the car count them.

use crate::history::stretches;
use crate::history::order::Rank;
use crate::book::model::{LifeAmount, CarId, Clock, KindId};
use crate::book::place::Place;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::sessions::Session;

/// The check.
pub const CHECK: Check = Check {
    name: "session-without-minutes",
    severity: Severity::Note,
    family: Family::Sessions,
    brief: "sessions without minutes, while parts on the car count them",
    why: "A part on the car has a limit in minutes or hours, and these sessions say neither their times nor their \
          minutes. Its use is then only known as \"at least\", which is where a coupling breaks a week early. One \
          message stands for a car's sessions of one event.",
    wrong: "  run s1  14 laps",
    right: "  09:35..09:55 run s1  14 laps",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let mut at: Option<(&Session, u32, String)> = None;
    let mut places = None;
    for (_, session) in cx.history.sessions.of(car).filter(|(id, session)| session.minutes.is_none() && !stretches::mixed(cx.history.sessions.parts(*id))) {
        if let Some((first, count, _)) = &mut at
            && first.event == session.event
            && (first.event.is_some() || first.date == session.date)
        {
            *count += 1;
            continue;
        }
        out.extend(at.take().map(|(first, count, part)| message(cx, first, count, &part)));
        // A slip in the times is another check's.
        if (cx.entry(session.entry).clock.1 < 0 || !cx.book.runs[session.run].stretches.is_empty())
            && !cx.entry(session.entry).broken
            && let Some(part) = counted(cx, car, places.get_or_insert_with(|| timed_places(cx, car)), session.rank)
        {
            at = Some((session, 1, part));
        }
    }
    out.extend(at.map(|(first, count, part)| message(cx, first, count, &part)));
}

/// Places of the car that may hold a part whose life is counted in running time.
fn timed_places(cx: &Context<'_>, car: CarId) -> Vec<(KindId, Place)> {
    let places = cx.history.parts.places_of(car).iter();
    places
        .copied()
        .filter(|(kind, _)| timed(&cx.book.kinds[*kind].life) || cx.book.specs_of(*kind).any(|(_, spec)| timed(&spec.life)))
        .collect()
}

fn timed(limits: &[LifeAmount]) -> bool {
    limits.iter().any(|limit| limit.clock == Clock::Time)
}

/// A part on the car then whose life is counted in running time.
fn counted(cx: &Context<'_>, car: CarId, places: &[(KindId, Place)], rank: Rank) -> Option<String> {
    let holders = places.iter().filter_map(|(kind, place)| {
        cx.history.parts.holder(car, *kind, *place, rank).map(|part| (*kind, part))
    });
    let mut counting = holders.filter(|(kind, part)| {
        let spec = cx.book.parts[*part].spec.and_then(|spec| cx.book.specs.get(spec));
        timed(spec.map_or(&[][..], |spec| &spec.life))
            || spec.is_none_or(|spec| spec.life.is_empty()) && timed(&cx.book.kinds[*kind].life)
    });
    counting.next().map(|(_, part)| cx.part(part).to_owned())
}

fn message(cx: &Context<'_>, first: &Session, count: u32, part: &str) -> Diagnostic {
    let what = told::session(cx, first);
    let what = if count == 1 { format!("{what} has") } else { format!("{what} and {} more there have", count - 1) };
    CHECK
        .at(first.label, format!("{what} no minutes, and {part} on {} counts them.", cx.car(first.car)))
        .cure("write the times, `09:35..09:55 run ...`, or the minutes, `20 min`")
}
