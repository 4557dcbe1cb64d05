//! One ledger line as the timeline tells it: mostly in the shop's own words, with its parts told apart.
//!
//! Must not know the order of lines.

use super::problems::{ProblemMark, Problems};
use crate::book::dates::Offsets;
use crate::book::entry::{Entry, EntryId, Flags, Verb};
use crate::report::teller::Teller;
use crate::report::words;
use crate::source::Span;
use serde::Serialize;

/// A line of the timeline.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct TimelineLine {
    /// `change`, `fuel` (so much was filled), `read`, `run`, `say`, `think`, `part`, `failed`, `answer`, `job`, `handed` (a page was) or `note`; for the look.
    pub sort: &'static str,
    /// "09:35–09:55", or empty.
    pub time: String,
    /// The verb.
    pub verb: &'static str,
    /// What the line says between its verb and its reason, as typed.
    pub text: String,
    /// Words in quotes: the driver's, or a remark.
    pub quote: String,
    /// Who says them.
    pub who: String,
    /// The words after `because`.
    pub because: String,
    /// How deep it stands under another line.
    pub depth: u8,
    /// Kept, but not used.
    pub void: bool,
    /// The session, for a `run`.
    pub run: Option<TimelineSession>,
    /// A note's HTML, for a note.
    pub note: Option<super::note::Note>,
    /// What is wrong with the line.
    pub marks: Vec<ProblemMark>,
    /// The line.
    pub src: String,
}

/// A session.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct TimelineSession {
    /// Its label.
    pub label: String,
    /// "14 laps", "20 min", "1 launch": what it ran, each with its unit.
    pub ran: Vec<String>,
    /// The best lap as typed, or an en dash.
    pub best: String,
    /// Who drove.
    pub driver: String,
    /// Conditions, as typed.
    pub conditions: String,
}

/// The words of an entry.
pub(in crate::report) fn line(
    tell: &Teller<'_>,
    index: EntryId,
    entry: &Entry,
    problems: &Problems,
) -> TimelineLine {
    let cx = &tell.cx;
    let broken = entry.broken;
    let quote = quotes(tell, entry);
    let spoken = matches!(entry.verb, Verb::Say | Verb::Think);
    let text = middle(tell, entry, spoken && !broken) + &corrected(tell, index);
    let run = (entry.verb == Verb::Run && !broken).then(|| run(tell, index, entry)).flatten();
    TimelineLine {
        sort: if broken {
            "broken"
        } else if entry.verb == Verb::Fill && entry.quantity == tell.cx.book.vocabulary.find("fuel") {
            "fuel"
        } else {
            sort(entry.verb)
        },
        time: time(entry, cx.book.offsets.get(&index)),
        verb: entry.verb.word(),
        text: if run.is_some() { String::new() } else { text },
        quote: if spoken && !broken { quote } else { String::new() },
        who: if entry.verb == Verb::Say { driver(tell, entry) } else { String::new() },
        because: tell.because(entry).unwrap_or_default().to_owned(),
        depth: depth(tell, entry),
        void: entry.void,
        run,
        note: None,
        marks: problems.marks(tell, entry.span()),
        src: cx.files.get(entry.file).map_or_else(String::new, |_| tell.src(entry.span())),
    }
}

/// What the values of a line should have said, where they were corrected since: " (corrected: LF 1.9 deg)".
fn corrected(tell: &Teller<'_>, index: EntryId) -> String {
    let cx = &tell.cx;
    let Some(entry) = tell.entry(index).filter(|_| !cx.book.corrections.is_empty()) else {
        return String::new();
    };
    let own = cx.book.items_of(entry).iter().enumerate();
    let said: Vec<String> = own
        .filter_map(|(at, item)| {
            cx.book.corrections.get(&entry.items.plus(at))?;
            // What stood before an arrow is not the value of the line.
            let old = if item.is(Flags::OLD) { "old value " } else { "" };
            Some(
                format!("{old}{} {}", cx.place(item.place), cx.typed(index, item))
                    .replace("  ", " ")
                    .trim()
                    .to_owned(),
            )
        })
        .collect();
    if said.is_empty() { String::new() } else { format!(" (corrected: {})", said.join(", ")) }
}

const fn sort(verb: Verb) -> &'static str {
    match verb {
        Verb::Set | Verb::Adjust | Verb::Fill => "change",
        Verb::Found
        | Verb::Left
        | Verb::Read
        | Verb::Torque
        | Verb::Recheck
        | Verb::Bench
        | Verb::Compare
        | Verb::Points
        | Verb::Sweep
        | Verb::Lift
        | Verb::Laps
        | Verb::Inspect
        | Verb::Service => "read",
        Verb::Fit
        | Verb::Remove
        | Verb::Swap
        | Verb::Move
        | Verb::Build
        | Verb::Strip
        | Verb::Rebuild
        | Verb::Shelve
        | Verb::Quarantine
        | Verb::Release
        | Verb::Scrap
        | Verb::Buy
        | Verb::Sell
        | Verb::Lend
        | Verb::Borrow
        | Verb::Return
        | Verb::Count
        | Verb::Use => "part",
        Verb::Run | Verb::Stint | Verb::Stage | Verb::Stop | Verb::Result => "run",
        Verb::Handed => "handed",
        Verb::Correct => "answer",
        Verb::Say => "say",
        Verb::Think | Verb::Try => "think",
        Verb::Failed | Verb::Hit => "failed",
        Verb::Waive | Verb::Void => "answer",
        Verb::Job | Verb::Done | Verb::Defer | Verb::Promise => "job",
        Verb::Hours | Verb::Cost | Verb::Credit | Verb::Quote | Verb::Paid => "cost",
        Verb::Note => "note",
    }
}

/// "09:35–09:55"; "00:40–01:30 +01:00" where an offset is typed.
fn time(entry: &Entry, offsets: Option<&Offsets>) -> String {
    let (first, second) = offsets.copied().unwrap_or_default();
    let one = |minutes: i16, ahead: Option<i16>| {
        let ahead = ahead.map_or_else(String::new, |ahead| format!(" {}", crate::words::offset(ahead)));
        format!("{}{ahead}", words::clock(minutes))
    };
    match entry.clock {
        (from, _) if from < 0 => String::new(),
        (from, to) if to < 0 => one(from, first),
        (from, to) => format!("{}–{}", one(from, first), one(to, second)),
    }
}

fn depth(tell: &Teller<'_>, entry: &Entry) -> u8 {
    let mut depth = 0;
    let mut above = entry.parent;
    while above.is_some() && depth < 4 {
        depth += 1;
        above = tell.entry(above).and_then(|entry| entry.parent);
    }
    depth
}

/// The quoted words of a line, without their quotes.
pub(super) fn quotes(tell: &Teller<'_>, entry: &Entry) -> String {
    let Some(extra) = tell.cx.book.extra(entry) else { return String::new() };
    let marks = ['"', '\u{201C}', '\u{201D}', '\u{201E}'];
    let all: Vec<&str> = extra
        .words
        .iter()
        .map(|span| tell.cx.text(*span))
        .filter(|text| text.starts_with(marks))
        .map(crate::syntax::unquote)
        .collect();
    all.join("; ")
}

/// What stands between the verb and `because`, as typed, blanks joined; without quoted words where they are shown apart.
pub(super) fn middle(tell: &Teller<'_>, entry: &Entry, without_quotes: bool) -> String {
    let extra = tell.cx.book.extra(entry);
    // A line of an outfit is fitted for the reason of the line that fits it, which stands elsewhere.
    let inside = |span: &Span| span.file == entry.file && (entry.start..=entry.end).contains(&span.start);
    let reason = extra.and_then(|extra| extra.because).filter(inside).map(|span| span.start);
    let end = reason.unwrap_or(entry.end);
    let text = tell.cx.text(Span::new(entry.file, entry.start, end)).trim();
    let text = if reason.is_some() { text.strip_suffix("because").unwrap_or(text) } else { text };
    let mut words: Vec<&str> = Vec::new();
    let mut quoted = false;
    // Before the verb stand the line's times, with their offsets: they are told apart.
    let timed = entry.clock.0 >= 0;
    let is_verb = |word: &str| word.eq_ignore_ascii_case(entry.verb.word());
    let verb = text.split_whitespace().take(if timed { 4 } else { 1 }).position(is_verb);
    let start = verb.map_or(usize::from(timed), |at| at + 1);
    for word in text.split_whitespace().skip(start) {
        let opens = word.starts_with(['"', '\u{201C}', '\u{201E}']);
        if without_quotes && (quoted || opens) {
            quoted = !(word.ends_with(['"', '\u{201D}']) && (quoted || word.chars().count() > 1));
            continue;
        }
        words.push(if word == "->" { "→" } else { word });
    }
    words.join(" ")
}

/// Who drove the session that a line stands under.
fn driver(tell: &Teller<'_>, entry: &Entry) -> String {
    let only = entry.parent.and_then(|run| match tell.drivers(tell.session(run)?).as_slice() {
        [driver] => Some(*driver),
        _ => None,
    });
    only.unwrap_or("the driver").to_owned()
}

fn run(tell: &Teller<'_>, index: EntryId, entry: &Entry) -> Option<TimelineSession> {
    let typed = tell.cx.book.run(entry)?;
    let session = tell.session(index);
    let mut ran = Vec::new();
    if let Some(session) = session {
        ran.push(session.laps.map_or_else(
            || format!("{} laps", words::DASH),
            |laps| words::count(laps as usize, "lap", "laps"),
        ));
        ran.push(session.minutes.map_or_else(
            || format!("{} min", words::DASH),
            |minutes| format!("{} min", words::amount(minutes, 1)),
        ));
        if typed.yellow > 0 {
            ran.push(words::count(typed.yellow as usize, "yellow lap", "yellow laps"));
        }
        if let Some(launches) = session.launches {
            ran.push(words::count(launches as usize, "launch", "launches"));
        }
    }
    Some(TimelineSession {
        label: tell.cx.text(typed.label).to_owned(),
        ran,
        best: session.map_or_else(|| words::DASH.to_owned(), |session| super::bests::lap(tell, session)),
        driver: session.map_or_else(String::new, |session| tell.drivers(session).join(", ")),
        conditions: tell.conditions(entry).join(", "),
    })
}
