//! Words that several checks on parts and sessions share: lap times, labels, amounts of use, a part's name on its line.
//!
//! Must not know any particular check.

use super::Context;
use crate::book::entry::{EntryId, Head};
use crate::book::model::{Clock, JobId, PartId};
use crate::book::names::Thing;
use crate::history::parts::Where;
use crate::history::problem::Typed;
use crate::history::sessions::Session;
use crate::history::time::Zone;
use crate::source::Span;
use crate::words::scale::Scale;

/// A session's label as typed.
pub fn label<'a>(cx: &Context<'a>, session: &Session) -> &'a str {
    cx.text(session.label)
}

/// `s3`, or `s3 at quern-1`.
pub fn session(cx: &Context<'_>, session: &Session) -> String {
    let event = session.event.and_then(|event| cx.book.events.get(event));
    match event {
        Some(event) => format!("{} at {}", label(cx, session), event.named.typed),
        None => format!("{} of {}", label(cx, session), session.date),
    }
}

/// Minutes without needless digits: `171 min`.
pub fn minutes(minutes: f64) -> String {
    format!("{} min", plain(minutes))
}

/// A time as typed, minutes of the day.
pub fn face(cx: &Context<'_>, typed: Typed) -> i16 {
    match typed {
        Typed::Head(head) => {
            cx.book.heads.get(head).and_then(|head| head.clock).map_or(0, |clock| clock as i16)
        }
        Typed::Start(entry) => cx.entry(entry).clock.0,
        Typed::End(entry) => cx.entry(entry).clock.1,
    }
}

/// A time with an offset behind it, and the other on its line as it is typed, as the line should be typed:
/// `00:40..01:30 +01:00`.
pub fn with_offset(cx: &Context<'_>, typed: Typed, ahead: i16) -> String {
    let (Typed::Start(entry) | Typed::End(entry)) = typed else {
        return clock_face(face(cx, typed), Some(ahead));
    };
    let (start, end) = cx.entry(entry).clock;
    let (mut first, mut second) = cx.book.offsets.get(&entry).copied().unwrap_or_default();
    let slot = if matches!(typed, Typed::End(_)) { &mut second } else { &mut first };
    *slot = Some(ahead);
    let start = clock_face(start, first);
    if end < 0 { start } else { format!("{start}..{}", clock_face(end, second)) }
}

fn clock_face(minutes: i16, ahead: Option<i16>) -> String {
    let ahead = ahead.map_or_else(String::new, |ahead| format!(" {}", crate::words::offset(ahead)));
    format!("{}{ahead}", crate::words::clock(minutes))
}

/// Where a time stands.
pub fn face_span(cx: &Context<'_>, typed: Typed) -> Span {
    let line = match typed {
        Typed::Head(head) => cx.book.heads[head].span,
        Typed::Start(entry) | Typed::End(entry) => cx.entry(entry).span(),
    };
    let text = cx.text(line);
    let blank = |each: char| matches!(each, ' ' | '\t' | '\u{A0}');
    // On a head the date stands first.
    let skip = match typed {
        Typed::Head(_) => {
            let date = text.find(blank).unwrap_or(text.len());
            let rest = text.get(date..).unwrap_or_default();
            date + rest.len() - rest.trim_start_matches(blank).len()
        }
        _ => 0,
    };
    let end = text.get(skip..).and_then(|rest| rest.find(blank)).map_or(text.len(), |at| skip + at);
    let word = text.get(skip..end).unwrap_or_default();
    let (from, to) = match (typed, text.find("..")) {
        // Behind the start's offset, if it has one.
        (Typed::End(_), Some(at)) => {
            let rest = text.get(at..).unwrap_or_default();
            (at + 2, rest.find(blank).map_or(text.len(), |end| at + end))
        }
        _ => (skip, word.find("..").map_or(end, |at| skip + at)),
    };
    Span::new(line.file, line.start + from as u32, line.start + to as u32)
}

/// The zone that a time is of, and its name.
pub fn zone<'a>(cx: &Context<'a>, typed: Typed) -> (Zone, &'a str) {
    let event = head(cx, typed).and_then(|head| head.event).and_then(|event| cx.book.events.get(event));
    let name = event.and_then(|event| event.zone.as_deref()).or(cx.book.shop.zone.as_deref());
    (Zone::new(name), name.unwrap_or("UTC"))
}

/// Whether the zone that a time is in could not be read.
pub fn zone_unread(cx: &Context<'_>, typed: Typed) -> bool {
    let event = head(cx, typed).and_then(|head| head.event);
    let of_event = event.map(Thing::Event);
    let own = event.and_then(|event| cx.book.events.get(event)).is_some_and(|event| event.zone.is_some());
    of_event.is_some_and(|event| cx.book.unread.has(Some(event), "zone"))
        || !own && cx.book.unread.has(None, "zone")
}

fn head<'a>(cx: &Context<'a>, typed: Typed) -> Option<&'a Head> {
    match typed {
        Typed::Head(head) => cx.book.heads.get(head),
        Typed::Start(entry) | Typed::End(entry) => cx.book.head(cx.entry(entry)),
    }
}

/// A number with at most one decimal.
pub fn plain(value: f64) -> String {
    let tenths = libm::round(value * 10.0);
    let whole = libm::round(value);
    if (tenths - whole * 10.0).abs() < 0.5 { format!("{whole:.0}") } else { format!("{value:.1}") }
}

/// An amount on a clock of use, in the unit its limit was typed in.
pub fn amount(clock: Clock, value: f64, typed: &str) -> String {
    Scale::typed(clock, typed).words(value)
}

/// Where a part's name stands on a line, or the whole line.
pub fn part_span(cx: &Context<'_>, entry: EntryId, part: PartId) -> Span {
    name_span(cx, entry, cx.part(part))
}

/// Where a job's name stands on a line, or the whole line.
pub fn job_span(cx: &Context<'_>, entry: EntryId, job: JobId) -> Span {
    name_span(cx, entry, cx.job(job))
}

/// Where a line about a job says until when, or the whole line.
pub fn until_span(cx: &Context<'_>, entry: EntryId) -> Span {
    let typed = cx.entry(entry);
    let facts = cx.book.extra(typed).and_then(|extra| extra.job_facts.as_deref());
    facts.and_then(|facts| facts.until).map_or(typed.span(), |(_, span)| span)
}

fn name_span(cx: &Context<'_>, entry: EntryId, name: &str) -> Span {
    let span = cx.entry(entry).span();
    let line = cx.text(span).to_ascii_lowercase();
    let name = name.to_ascii_lowercase();
    let part_of_name = |byte: Option<&u8>| {
        byte.is_some_and(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_'))
    };
    let mut from = 0;
    while let Some(found) = line.get(from..).and_then(|rest| rest.find(&name)) {
        let (start, end) = (from + found, from + found + name.len());
        let before = start.checked_sub(1).and_then(|at| line.as_bytes().get(at));
        if !part_of_name(before) && !part_of_name(line.as_bytes().get(end)) {
            return Span::new(span.file, span.start + start as u32, span.start + end as u32);
        }
        from = end.max(from + 1);
    }
    span
}

/// Why a line did what it did, as ` (because words)`, or nothing.
pub fn because(cx: &Context<'_>, entry: EntryId) -> String {
    let extra = cx.book.entries.get(entry).and_then(|entry| cx.book.extra(entry));
    let words = extra.and_then(|extra| extra.because).map(|span| cx.text(span).trim());
    words.filter(|words| !words.is_empty()).map_or_else(String::new, |words| format!(" ({words})"))
}

/// Whether a date is so far ahead that nothing can have been run on it: past tomorrow.
pub fn is_ahead(cx: &Context<'_>, date: jiff::civil::Date) -> bool {
    cx.today.tomorrow().is_ok_and(|tomorrow| date > tomorrow)
}

/// Where a line put a part, by binary search over its stays.
pub fn put_by(cx: &Context<'_>, part: PartId, entry: EntryId) -> Option<Where> {
    let after = cx.book.extra(cx.book.entries.get(entry)?).is_some_and(|extra| extra.after.is_some());
    let named = cx.history.sessions.named.get(&entry).filter(|_| after);
    let rank = named.map_or_else(|| cx.rank(entry), |id| cx.history.sessions.get(*id).after);
    let stays = &cx.history.parts.get(part).stays;
    let first = stays.partition_point(|stay| stay.from < rank);
    let mut same = stays.get(first..)?.iter().take_while(|stay| stay.from == rank);
    same.find(|stay| stay.entry == entry).map(|stay| stay.at)
}

/// Whether a session stands under a date that its event does not have; it is then not known when it was.
pub fn is_misdated(cx: &Context<'_>, session: &Session) -> bool {
    let date = cx.date(session.entry).unwrap_or(session.date);
    let event = session.event.and_then(|event| cx.book.events.get(event));
    event.is_some_and(|event| date < event.first || date > event.last)
}
