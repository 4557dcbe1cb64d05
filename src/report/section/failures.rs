//! Failures: what broke, when, after how much, and the four fields of each.
//!
//! Must not know statistics.

use crate::book::entry::Verb;
use crate::book::model::CarId;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// One failure.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownFailure {
    /// The part.
    pub part: String,
    /// Its kind, in full.
    pub kind: String,
    /// Where on the car it was.
    pub place: String,
    /// When, in words.
    pub when: String,
    /// The event, or empty.
    pub event: String,
    /// How it shows.
    pub mode: String,
    /// The physics of it.
    pub mechanism: String,
    /// Why.
    pub cause: String,
    /// How it was found.
    pub found_by: String,
    /// Its use when it failed: "It had run 292 min, 5 days."
    pub run: String,
    /// Its line.
    pub src: String,
    /// The rank, for the order.
    #[serde(skip)]
    pub rank: Rank,
}

/// The car's failures between two ranks, in order.
pub(in crate::report) fn failures(
    tell: &Teller<'_>,
    car: CarId,
    from: Rank,
    until: Rank,
) -> Vec<ShownFailure> {
    let cx = &tell.cx;
    let mut all = Vec::new();
    for (part, line) in tell.failed_on(car).iter().copied() {
        let Some(entry) = tell.entry(line) else { continue };
        let rank = cx.rank(line);
        if rank < from || rank >= until {
            continue;
        }
        let stays = &cx.history.parts.get(part).stays;
        let stay = stays.iter().rev().find(|stay| stay.from < rank && stay.car.is_some());
        let extra = cx.book.extra(entry);
        let fields = extra.and_then(|extra| extra.failure.as_deref()).copied().unwrap_or_default();
        let field = |span: Option<crate::source::Span>| {
            span.map_or_else(|| words::DASH.to_owned(), |span| cx.text(span).replace('-', " "))
        };
        let declared = cx.book.parts.get(part);
        let kind = declared.and_then(|part| part.kind.and_then(|kind| cx.book.kinds.get(kind)));
        let session = cx.history.during(cx.book, line);
        let event = cx.book.head(entry).and_then(|head| head.event);
        let lap = extra.and_then(|extra| extra.lap).map_or_else(String::new, |lap| format!(", lap {lap}"));
        let label = session
            .and_then(|run| tell.session(run))
            .map(|session| super::bests::session_name(tell, session));
        let verb = if extra.is_some_and(|extra| extra.after.is_some()) { "after" } else { "during" };
        let date = cx.history.day_of(cx.book, line).map_or_else(String::new, words::date);
        all.push(ShownFailure {
            part: cx.part(part).to_owned(),
            kind: kind.map_or_else(String::new, |kind| kind.named.title.clone()),
            place: match stay.map(|stay| stay.at) {
                Some(Where::Car(_, place)) => cx.place(place),
                Some(Where::Inside(inside)) => format!("in {}", cx.part(inside)),
                _ => words::DASH.to_owned(),
            },
            when: label.map_or_else(
                || {
                    format!(
                        "{date}, {}",
                        if entry.verb == Verb::Failed { "in the shop" } else { "taken off as failed" }
                    )
                },
                |label| format!("{date}, {verb} {label}{lap}"),
            ),
            event: event.map_or_else(String::new, |event| tell.event(event).to_owned()),
            mode: field(fields.mode),
            mechanism: field(fields.mechanism),
            cause: field(fields.cause),
            found_by: field(fields.found_by),
            run: match stay {
                Some(_) => format!("It had run {}.", super::parts::life_words(tell, part, rank.next())),
                None => "How long it had run is not known: no line puts it on a car.".to_owned(),
            },
            src: tell.src_of(line),
            rank,
        });
    }
    all.sort_by_key(|failure| failure.rank);
    all
}
