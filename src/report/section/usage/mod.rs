//! Which part was where on a car in a year, session by session: a drawing for each kind, a row a place.
//!
//! Must not know how a bar is drawn.

mod rows;

use super::frame::{self, Frame};
use super::link::Link;
use crate::book::model::{CarId, KindId};
use crate::history::sessions::Session;
use crate::report::chart::usage::{UsageChart, UsageRun, UsageSeries, usage};
use crate::report::chart::{Table, Words};
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::ran;
use crate::report::section::whose;
use crate::report::section::year;
use crate::report::teller::Teller;
use crate::report::words;
use rows::{PlaceRow, PlaceRun};
use serde::Serialize;

/// Which part was where on a car in a year.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct UsagePage {
    /// Title and footer.
    pub frame: Frame,
    /// The car's season.
    pub season: Option<Link>,
    /// What stands along the axis, in order: "quern-1, s1 to s8".
    pub events: Vec<String>,
    /// How many parts were changed, and where most: "11 changes of parts: 5 at ardwell-1, 4 at quern-2".
    pub changes: String,
    /// The kinds of which something changed.
    pub kinds: Vec<Used>,
    /// The kinds whose parts ran the whole year where they were.
    pub steady: Vec<SteadyPart>,
}

/// A part that ran every session of the year in its place.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SteadyPart {
    /// The kind.
    pub kind: String,
    /// The kind's own page.
    pub page: Option<Link>,
    /// Where it was.
    pub place: String,
    /// The part.
    pub part: String,
    /// The line that put it there.
    pub src: String,
}

/// The places of one kind.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Used {
    /// The kind.
    pub name: String,
    /// Its id on the page.
    pub anchor: String,
    /// Its own page.
    pub page: Option<Link>,
    /// The drawing.
    pub chart: UsageChart,
}

/// Whether the car ran in that year with any part on it.
pub(in crate::report) fn any(tell: &Teller<'_>, car: CarId, year: i16) -> bool {
    let sessions = year::sessions(tell, car, year);
    let (Some(first), Some(last)) = (sessions.first(), sessions.last()) else { return false };
    let on = |part: &crate::book::model::PartId| {
        let stays = &tell.cx.history.parts.get(*part).stays;
        stays.iter().any(|stay| stay.car == Some(car) && stay.from <= last.rank && stay.until > first.rank)
    };
    tell.travels().on(car).iter().any(on)
}

/// The sessions of a year in order, each cut at the stops at which something was done, so that what was changed at one shows.
fn legs<'a>(tell: &Teller<'a>, car: CarId, year: i16) -> Vec<&'a Session> {
    let all = &tell.cx.history.sessions;
    let whole = year::sessions(tell, car, year);
    whole.iter().flat_map(|session| all.legs_between(car, session.rank, session.after)).collect()
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId, year: i16) -> UsagePage {
    let tell = desk.tell;
    let sessions = legs(tell, car, year);
    let spans = spans(tell, &sessions);
    let rows = rows::rows(tell, car, &sessions);
    let declared = tell.cx.book.cars.get(car);
    let title = declared.map_or("?", |car| car.named.title.as_str());
    let mut kinds: Vec<(KindId, Vec<PlaceRow>)> = Vec::new();
    for row in rows {
        match kinds.last_mut().filter(|(kind, _)| *kind == row.kind) {
            Some((_, list)) => list.push(row),
            None => kinds.push((row.kind, vec![row])),
        }
    }
    let changes = changes(&spans, kinds.iter().flat_map(|(_, rows)| rows));
    let whole =
        |row: &PlaceRow| matches!(row.ran.as_slice(), [one] if one.from == 0 && one.until == sessions.len());
    let (still, kinds): (Vec<_>, Vec<_>) = kinds
        .into_iter()
        .partition(|(_, rows)| rows.iter().all(|row| whole(row) && !row.ran.iter().any(|ran| ran.failed)));
    let steady = still.iter().flat_map(|(kind, rows)| rows.iter().map(|row| (*kind, row)));
    let steady = steady.map(|(kind, row)| steady_part(desk, kind, row)).collect();
    let mut left = sessions.as_slice();
    let told = |span: &UsageRun| {
        let (own, later) = left.split_at(span.sessions);
        left = later;
        let label = |session: &&Session| tell.label(session).to_owned();
        match own {
            [] => span.name.clone(),
            [one] => format!("{}, {}", span.name, label(one)),
            [first, .., last] => format!("{}, {} to {}", span.name, label(first), label(last)),
        }
    };
    UsagePage {
        frame: frame::frame(tell, format!("{title}: parts {year}"), whose::subtitle(tell, car), Some(car)),
        season: desk.table.link(Key::Season(car, year)),
        events: spans.iter().map(told).collect(),
        changes,
        steady,
        kinds: kinds.into_iter().map(|(kind, rows)| used(desk, kind, &rows, &sessions, &spans)).collect(),
    }
}

fn steady_part(desk: &Desk<'_>, kind: KindId, row: &PlaceRow) -> SteadyPart {
    let tell = desk.tell;
    let name = tell.cx.book.kinds.get(kind).map_or("part", |kind| &kind.named.typed);
    SteadyPart {
        kind: name.replace('-', " "),
        page: desk.table.link(Key::Kind(kind)),
        place: row.name.clone(),
        part: row.ran.first().map_or_else(String::new, |ran| tell.cx.part(ran.part).to_owned()),
        src: row.ran.first().map_or_else(String::new, |ran| tell.src_of(ran.entry)),
    }
}

/// How often a part came where another had been, or nobody, after the first session; and at which events, the most first.
fn changes<'r>(spans: &[UsageRun], rows: impl Iterator<Item = &'r PlaceRow>) -> String {
    let mut counts = vec![0; spans.len()];
    for ran in rows.flat_map(|row| &row.ran).filter(|ran| ran.from > 0) {
        let mut before = 0;
        let at = spans.iter().position(|span| {
            before += span.sessions;
            ran.from < before
        });
        if let Some(count) = at.and_then(|at| counts.get_mut(at)) {
            *count += 1;
        }
    }
    let all: usize = counts.iter().sum();
    if all == 0 {
        return "No part was changed after the first session.".to_owned();
    }
    let mut most: Vec<(&UsageRun, usize)> =
        spans.iter().zip(counts).filter(|(_, count)| *count > 0).collect();
    most.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let each: Vec<String> = most.iter().map(|(span, count)| format!("{count} at {}", span.name)).collect();
    format!("{}: {}.", words::count(all, "change of a part", "changes of parts"), words::and(&each))
}

/// Sessions in a row at one event, or between events.
fn spans(tell: &Teller<'_>, sessions: &[&Session]) -> Vec<UsageRun> {
    let mut spans: Vec<UsageRun> = Vec::new();
    let mut before = None;
    for session in sessions {
        match spans.last_mut().filter(|_| before == Some(session.event)) {
            Some(span) => span.sessions += 1,
            None => spans.push(UsageRun {
                name: session
                    .event
                    .map_or_else(|| "testing".to_owned(), |event| tell.event(event).to_owned()),
                sessions: 1,
            }),
        }
        before = Some(session.event);
    }
    spans
}

fn used(desk: &Desk<'_>, kind: KindId, rows: &[PlaceRow], sessions: &[&Session], spans: &[UsageRun]) -> Used {
    let tell = desk.tell;
    let name = tell.cx.book.kinds.get(kind).map_or("part", |kind| &kind.named.typed);
    let specs = rows::specs(tell, kind, rows);
    let drawn: Vec<UsageSeries> = rows
        .iter()
        .map(|row| UsageSeries {
            name: row.name.clone(),
            bars: row.ran.iter().map(|ran| rows::bar(tell, &specs, ran)).collect(),
        })
        .collect();
    let keys: Vec<String> = match specs.as_slice() {
        [None] => vec![String::new()],
        specs => specs.iter().map(|spec| rows::spec(tell, *spec).unwrap_or("no spec").to_owned()).collect(),
    };
    let words = Words {
        id: format!("used-{}", kind.number() + 1),
        title: format!("Which {} was where, session by session", name.replace('-', " ")),
        desc: desc(tell, rows),
    };
    Used {
        name: name.replace('-', " "),
        anchor: format!("kind-{}", kind.number() + 1),
        page: desk.table.link(Key::Kind(kind)),
        chart: usage(words, spans, &drawn, &keys, table(tell, rows, sessions)),
    }
}

/// "LR: cp-01, cp-04, cp-07. RR: cp-02, cp-05."
fn desc(tell: &Teller<'_>, rows: &[PlaceRow]) -> String {
    let row = |row: &PlaceRow| {
        let names: Vec<&str> = row.ran.iter().map(|ran| tell.cx.part(ran.part)).collect();
        format!("{}: {}.", row.name, names.join(", "))
    };
    rows.iter().map(row).collect::<Vec<_>>().join(" ")
}

fn table(tell: &Teller<'_>, rows: &[PlaceRow], sessions: &[&Session]) -> Table {
    let head = ["place", "part", "from", "to", "sessions", "put there by; counted from"];
    let cells = |row: &PlaceRow, ran: &PlaceRun| {
        let own = sessions.get(ran.from..ran.until).unwrap_or_default();
        let end = |session: Option<&&Session>| {
            session.map_or_else(String::new, |session| ran::session(tell, session))
        };
        let last = end(own.last());
        let part = || tell.cx.part(ran.part);
        vec![
            row.name.clone(),
            rows::spec(tell, ran.spec)
                .map_or_else(|| part().to_owned(), |spec| format!("{}, {spec}", part())),
            end(own.first()),
            if ran.failed { format!("{last}, failed") } else { last },
            own.chunk_by(|leg, next| leg.entry == next.entry).count().to_string(),
            format!("{}; {}", tell.src_of(ran.entry), ran::src(tell, own)),
        ]
    };
    let rows = rows.iter().flat_map(|row| row.ran.iter().map(move |ran| cells(row, ran)));
    Table { head: head.map(str::to_owned).to_vec(), rows: rows.collect() }
}
