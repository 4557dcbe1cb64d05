//! A car under its class's rules, or another's: the rules in force with the last reading of each, every reading by the rule of
//! its day, and its dated items, as plain data.
//!
//! Must not know rendering.

use super::dated::DatedView;
use super::{LedgerLine, NamedCar, When, entry_line, line, place};
use crate::Compiled;
use crate::book::dates;
use crate::book::entry::By;
use crate::book::model::{CarId, EventId, Limit, RuleId};
use crate::book::names::{Thing, same};
use crate::history::moment::{AskedBy, Which};
use crate::history::order::Rank;
use crate::history::{Moment, dated, moment};
use crate::rules::Scrutiny;
use crate::rules::judge::{Judged, Margin, Side, Verdict};
use crate::units::DimensionId;
use crate::words::dated::GoodFor;
use jiff::civil::Date;
use serde::Serialize;

/// The whole card.
#[derive(Debug, Clone, Serialize)]
pub struct Rules {
    /// The car.
    pub car: NamedCar,
    /// The moment.
    pub at: When,
    /// The day that decides which rules are in force.
    pub day: String,
    /// Of an event as a whole its last: a rule that is in force on any of its days is told. Else the same day.
    pub last_day: String,
    /// What says that day: `today by the clock`, `the day asked for`, `the day of the session`, `its days`, `its first day` or `its last day` (the event's), `the day of its sale`.
    pub day_by: &'static str,
    /// The class judged by.
    pub class: String,
    /// Whether it is another than the car's own.
    pub what_if: bool,
    /// The rules in force, each with the car's last reading for it.
    pub rules: Vec<RuleView>,
    /// Where the car is declared, if the class it runs in could not be read and no other was asked about: which rules are in force for it is then
    /// not known.
    pub class_unread: Option<LedgerLine>,
    /// Rules that could not be read, and may be of the class: what they limit is not known.
    pub unread: Vec<UnreadRule>,
    /// Every reading until then, by the rules of its own day.
    pub readings: Vec<RuleView>,
    /// Items on the car that are good until a day.
    pub dated: Vec<DatedView>,
}

/// A rule with a mistake.
#[derive(Debug, Clone, Serialize)]
pub struct UnreadRule {
    /// Its name.
    pub rule: String,
    /// Where it stands.
    pub declared: LedgerLine,
}

/// A number of the card.
#[derive(Debug, Clone, Serialize)]
pub struct RuleAmount {
    /// As shown, with its unit.
    pub text: String,
    /// SI.
    pub value_si: f64,
}

/// A rule and a reading.
#[derive(Debug, Clone, Serialize)]
pub struct RuleView {
    /// The rule's name.
    pub rule: String,
    /// The words after it.
    pub title: String,
    /// Whose it is: `class SR-2`, `the local rulebook of slatehead`.
    pub whose: String,
    /// What it limits.
    pub subject: String,
    /// The least allowed.
    pub min: Option<RuleAmount>,
    /// The most allowed.
    pub max: Option<RuleAmount>,
    /// The limits in words.
    pub limits: String,
    /// First day in force.
    pub from: Option<String>,
    /// Last day in force.
    pub until: Option<String>,
    /// That it is not in force on all days of the event asked about, in words; empty where it is.
    pub within: String,
    /// Where the rule stands.
    pub declared: LedgerLine,
    /// The local rule that stands in its place there.
    pub outranked_by: Option<String>,
    /// `passes`, `inside-error`, `fails`, `not-known`, `no-reading`, `other-state` or `unit-unfit`.
    pub verdict: &'static str,
    /// The value nearest to the limit.
    pub value: Option<RuleAmount>,
    /// Where on the car; null for the whole.
    pub place: Option<String>,
    /// By how much it passes; below zero it falls short.
    pub margin: Option<RuleAmount>,
    /// Which limit is nearer: `min` or `max`.
    pub side: Option<Side>,
    /// How far off the reading may be for its gauges.
    pub error: Option<RuleAmount>,
    /// The gauge, where one line read it by one.
    pub gauge: Option<String>,
    /// The day of the reading.
    pub date: Option<String>,
    /// Its line.
    pub line: Option<LedgerLine>,
    /// The verb of that line.
    pub verb: Option<&'static str>,
    /// Whether the value was asked for and never read.
    pub as_set: bool,
    /// The condition that the rule wants and the reading does not state.
    pub lacks: Option<String>,
    /// The line that changed something since.
    pub stale: Option<LedgerLine>,
    /// What to be careful of.
    pub careful: Vec<String>,
    /// The last session before the moment, where what is limited cannot be had of it: the value is of an earlier one. Of what drivers
    /// drove the session of which not all is told.
    pub missed: Option<MissedView>,
    /// Found so and not left so: a later line of the block states it anew.
    pub mended: bool,
    /// The other places that fail, or pass by less than the gauge's error, as this one does.
    pub also: Vec<AlsoPlace>,
}

/// A session of which what is limited cannot be had.
#[derive(Debug, Clone, Serialize)]
pub struct MissedView {
    /// Its label.
    pub session: String,
    /// Its day.
    pub date: Option<String>,
    /// What it would need.
    pub needs: Vec<String>,
}

/// Another place of one reading.
#[derive(Debug, Clone, Serialize)]
pub struct AlsoPlace {
    /// Where.
    pub place: String,
    /// Its value.
    pub value: RuleAmount,
    /// By how much it passes; below zero it falls short.
    pub margin: RuleAmount,
}

/// The days a moment is on, the first and the last, and what says so: of an event that is named by itself all of its days.
#[must_use]
pub fn days(compiled: &Compiled, car: CarId, at: &Moment, typed: Option<&str>) -> ([Date; 2], &'static str) {
    let whole =
        typed.filter(|typed| moment::parted(typed).1.is_none()).and_then(|typed| ahead(compiled, typed));
    if let Some(event) = whole.and_then(|(event, _)| compiled.book.events.get(event)) {
        return ([event.first, event.last], "its days");
    }
    let (day, by) = day(compiled, car, at, typed);
    ([day; 2], by)
}

/// The day a moment is on, and what says so; today for the end of the book, or the day of its sale for a car that is gone.
fn day(compiled: &Compiled, car: CarId, at: &Moment, typed: Option<&str>) -> (Date, &'static str) {
    const ASKED: &str = "the day asked for";
    if let Some(day) = typed.and_then(|typed| dates::date(typed).ok()) {
        return (day, ASKED);
    }
    let history = &compiled.history;
    let session = history.sessions.of(car).map(|(_, session)| session);
    if let Some(session) = session.into_iter().find(|session| at.session == Some(session.entry)) {
        // Past midnight it is judged on each of its days: what is good on the last was on the first.
        return (session.last, "the day of the session");
    }
    if let Some(event) = at.event.and_then(|event| compiled.book.events.get(event)) {
        let first = at.event.and_then(|event| moment::span(&compiled.book, history, car, event));
        let before = first.is_some_and(|(first, _)| at.rank <= first);
        return if before { (event.first, "its first day") } else { (event.last, "its last day") };
    }
    // An event that it has no line of, as one still to come: the rules of its days all the same.
    if let Some((id, ends)) = typed.and_then(|typed| ahead(compiled, typed))
        && let Some(event) = compiled.book.events.get(id)
    {
        return if ends { (event.last, "its last day") } else { (event.first, "its first day") };
    }
    let sale = history.parts.sold.get(&car).and_then(|(_, entry)| compiled.context().date(*entry));
    let now = (compiled.today, if compiled.at.is_some() { ASKED } else { "today by the clock" });
    sale.map_or(now, |sale| (sale, "the day of its sale"))
}

/// The event that a moment names, and whether it is its end that is meant.
fn ahead(compiled: &Compiled, typed: &str) -> Option<(EventId, bool)> {
    let (name, part) = moment::parted(typed);
    let Some(Thing::Event(id)) = compiled.book.names.find(name) else { return None };
    Some((id, part.is_some_and(|part| same(part, "end"))))
}

/// The moment by which all of a meeting, or of a session, is known that is asked about as it was run: its last stint, and what was read after it.
fn whole(compiled: &Compiled, car: CarId, moment: &Moment) -> Option<Moment> {
    let Which::Session { side: moment::Side::During, asked, .. } = moment.which else { return None };
    let history = &compiled.history;
    match (asked, moment.event) {
        (AskedBy::Last, Some(event)) => {
            let (_, last) = moment::span(&compiled.book, history, car, event)?;
            Some(Moment { rank: last.next(), which: Which::Left(event), ..moment.clone() })
        }
        (AskedBy::Label, _) => {
            let run = moment.session?;
            let session = history.sessions.of_run(run)?;
            let next = history.sessions.of(car).map(|(_, one)| one.rank).find(|rank| *rank > session.rank);
            let lines = history.sessions.about(run).filter_map(|line| history.order.rank.get(line).copied());
            let lines = lines.filter(|rank| next.is_none_or(|next| *rank < next)).map(Rank::next);
            Some(Moment { rank: lines.fold(session.after, Rank::max), ..moment.clone() })
        }
        _ => None,
    }
}

/// Builds the card of a car at a moment, by its own class or another.
#[must_use]
pub fn build(
    compiled: &Compiled,
    car: CarId,
    moment: &Moment,
    typed: Option<&str>,
    class: Option<&str>,
) -> Rules {
    let scrutiny = compiled.context().scrutiny();
    let whole = whole(compiled, car, moment);
    let moment = whole.as_ref().unwrap_or(moment);
    let own = compiled.book.cars.get(car).map_or("", |car| car.class.as_str());
    let class = class.unwrap_or(own);
    let (days, day_by) = days(compiled, car, moment, typed);
    let asked = if day_by == "its days" { GoodFor::Event(days) } else { GoodFor::Day(days[0]) };
    let rank = super::of_car(compiled, car, moment).0.rank;
    let event = moment.event.or_else(|| Some(ahead(compiled, typed?)?.0));
    let card = scrutiny.card(car, class, days, event, rank);
    let before = |one: &&Judged| one.reading.as_ref().is_some_and(|reading| reading.rank < rank);
    let readings = scrutiny.judged(car, class);
    let items = dated::dated(&compiled.book, &compiled.history, rank);
    Rules {
        car: super::car(compiled, car),
        at: super::when(compiled, moment, typed),
        day: days[0].to_string(),
        last_day: days[1].to_string(),
        day_by,
        class: class.to_owned(),
        what_if: !same(class, own),
        class_unread: compiled
            .book
            .cars
            .get(car)
            .filter(|_| scrutiny.class_lost(car, class))
            .map(|car| line(compiled, car.named.declared)),
        rules: card
            .iter()
            .map(|one| within(&scrutiny, view(compiled, &scrutiny, one), one.rule, days))
            .collect(),
        unread: scrutiny
            .unread(class, event)
            .into_iter()
            .map(|id| &scrutiny.rule(id).named)
            .map(|named| UnreadRule {
                rule: named.typed.to_string(),
                declared: line(compiled, named.declared),
            })
            .collect(),
        readings: readings.iter().filter(before).map(|one| view(compiled, &scrutiny, one)).collect(),
        dated: items
            .iter()
            .filter(|one| one.car == Some(car))
            .map(|one| super::dated::view(compiled, one, asked))
            .collect(),
    }
}

/// The same with what is said of a rule that is in force on some of those days alone.
fn within(scrutiny: &Scrutiny<'_>, view: RuleView, rule: RuleId, days: [Date; 2]) -> RuleView {
    RuleView { within: scrutiny.within_text(scrutiny.rule(rule), days), ..view }
}

/// A judged reading as a view.
#[must_use]
pub fn view(compiled: &Compiled, scrutiny: &Scrutiny<'_>, one: &Judged) -> RuleView {
    let rule = scrutiny.rule(one.rule);
    let reading = one.reading.as_ref();
    let said = one.line();
    let entry = said.and_then(|entry| compiled.book.entries.get(entry));
    let gauge = match entry.map(|entry| entry.by) {
        Some(By::Gauge(gauge)) => compiled.book.gauges.get(gauge),
        _ => None,
    };
    let kind = one.margin.map(|margin| margin.value.dimension);
    let limit = |limit: Option<Limit>| {
        let known = limit.and_then(|limit| {
            let value = one.margin?.value;
            value.limit(scrutiny.unit(&limit, value.dimension)?, limit.value)
        });
        let amount = limit.map(|limit| amount(scrutiny, &limit, kind))?;
        Some(RuleAmount { value_si: known.unwrap_or(amount.value_si), ..amount })
    };
    let untold = matches!(one.verdict, Verdict::UnitUnfit | Verdict::NotOver | Verdict::NoReading);
    let margin = one.margin.filter(|_| !untold);
    RuleView {
        rule: rule.named.typed.to_string(),
        title: rule.named.words().to_owned(),
        whose: scrutiny.whose_text(rule),
        subject: scrutiny.name(rule).to_owned(),
        min: limit(rule.min),
        max: limit(rule.max),
        limits: scrutiny.limits_text(rule),
        from: rule.from.map(|(day, _)| day.to_string()),
        until: rule.until.map(|(day, _)| day.to_string()),
        within: String::new(),
        declared: line(compiled, rule.named.declared),
        outranked_by: one.outranked.map(|other| scrutiny.rule(other).named.typed.to_string()),
        verdict: word(&one.verdict),
        value: margin.map(|margin| RuleAmount {
            text: scrutiny.value_text(&margin.value, &margin),
            value_si: margin.value.si,
        }),
        place: margin.and_then(|margin| place(compiled, margin.value.place)),
        // In another state it may be more or less than that.
        margin: margin.filter(|_| one.reading_counts()).map(|margin| signed(scrutiny, &margin)),
        side: margin.map(|margin| margin.side),
        error: margin.and_then(|margin| {
            scrutiny.error_text(&margin).map(|text| RuleAmount { text, value_si: margin.value.error })
        }),
        gauge: gauge.map(|gauge| gauge.named.typed.to_string()),
        date: scrutiny.day(one).map(|day| day.to_string()),
        line: reading.and_then(|_| match said {
            Some(entry) => entry_line(compiled, entry),
            None => margin.and_then(|margin| margin.value.typed).map(|typed| line(compiled, typed)),
        }),
        verb: reading.map(|_| entry.map_or("car", |entry| entry.verb.word())),
        as_set: scrutiny.is_set(one),
        lacks: match &one.verdict {
            Verdict::OtherState(lacks) => Some(lacks.clone()),
            _ => None,
        },
        stale: reading.and_then(|reading| reading.stale).and_then(|entry| entry_line(compiled, entry)),
        careful: reading
            .map(|reading| reading.careful.clone())
            .into_iter()
            .flatten()
            .chain(scrutiny.beside(one))
            .collect(),
        missed: one.missed.as_ref().and_then(|missed| {
            let run = compiled.book.entries.get(missed.run)?.run()?;
            Some(MissedView {
                session: compiled.files.text(compiled.book.runs.get(run)?.label).to_owned(),
                date: compiled.context().date(missed.run).map(|day| day.to_string()),
                needs: missed.why.needs.clone(),
            })
        }),
        mended: one.mended,
        also: one
            .also
            .iter()
            .map(|margin| AlsoPlace {
                place: compiled.book.place_word(margin.value.place),
                value: RuleAmount {
                    text: scrutiny.value_text(&margin.value, margin),
                    value_si: margin.value.si,
                },
                margin: signed(scrutiny, margin),
            })
            .collect(),
    }
}

fn signed(scrutiny: &Scrutiny<'_>, margin: &Margin) -> RuleAmount {
    let sign = if margin.margin < 0.0 { "-" } else { "+" };
    RuleAmount { text: format!("{sign}{}", scrutiny.margin_text(margin)), value_si: margin.margin }
}

fn amount(scrutiny: &Scrutiny<'_>, limit: &Limit, kind: Option<DimensionId>) -> RuleAmount {
    let kinds = kind.into_iter().chain(DimensionId::all());
    let unit = kinds.into_iter().find_map(|kind| scrutiny.unit(limit, kind));
    RuleAmount {
        text: scrutiny.limit_text(limit),
        value_si: unit.map_or(limit.value, |unit| unit.get().to_si(limit.value)),
    }
}

const fn word(verdict: &Verdict) -> &'static str {
    match verdict {
        Verdict::Passes => "passes",
        Verdict::InsideError => "inside-error",
        Verdict::Fails => "fails",
        Verdict::NotKnown | Verdict::NotOver => "not-known",
        Verdict::NoReading => "no-reading",
        Verdict::OtherState(_) => "other-state",
        Verdict::UnitUnfit => "unit-unfit",
    }
}
