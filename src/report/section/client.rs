//! A client's letter: what is open on his cars, what was done last, what is next, what it cost so far against the quote.
//!
//! Stands only in a report that was cut for him, so that nothing another may not read is anywhere near it. Must not know HTML.

mod waits;

use super::back_to_back::spoken;
use super::bests;
use super::failures;
use super::frame::{self, Frame};
use super::jobs::{self, ShownJob};
use super::laps;
use super::link::Link;
use super::money::{self, ShownMoney};
use super::stops;
use super::totals::{self, EventTotals};
use super::until::{self, GoodUntil};
use crate::answer::costs::account_of;
use crate::answer::due::told;
use crate::book::model::{CarId, ClientId, EventId};
use crate::due::row::{Action, Reason};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::slots::Owner;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::fact::Fact;
use crate::report::section::year;
use crate::report::teller::{ENOUGH, Teller, written_until};
use crate::report::words;
use crate::words::scale::NOT_KNOWN;
use serde::Serialize;
use std::collections::BTreeSet;

/// The letter.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ClientPage {
    /// Title and footer.
    pub frame: Frame,
    /// Whom it is for.
    pub client: String,
    /// The last dated line of the book that he may read: the letter stands as of that day; empty where he may read none.
    pub until: String,
    /// His cars.
    pub cars: Vec<ClientCar>,
    /// What waits on his cars besides jobs: parts not looked at since an impact, items out of date for the next event.
    pub waits: Vec<Fact>,
    /// Jobs still to do.
    pub open: Vec<ShownJob>,
    /// The jobs done last, the latest first.
    pub done: Vec<ShownJob>,
    /// The next event one of his cars goes to; empty for none.
    pub next_event: String,
    /// What is due before it.
    pub next: Vec<Next>,
    /// What was booked to him, what he paid, what he owes and since when; empty where no payment of his is in the book.
    pub account: Vec<Fact>,
    /// What it cost.
    pub money: Option<ShownMoney>,
}

/// One of his cars.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ClientCar {
    /// Its words.
    pub title: String,
    /// Its season's page.
    pub page: Option<Link>,
    /// Its last event.
    pub last: Option<EventTotals>,
    /// What came of its last event, a line each: what it ran, its best lap, results, what was changed, what the driver said, what failed.
    pub lines: Vec<Fact>,
    /// Its dated items, the first to end in front.
    pub good: Vec<GoodUntil>,
}

/// One thing that is due.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Next {
    /// The car and the part.
    pub what: String,
    /// What is to be done.
    pub action: String,
    /// Why.
    pub why: String,
}

/// A job without the lines of work on it: those are the shop's own shorthand, and stand on the season's page.
fn plainly(job: ShownJob) -> ShownJob {
    ShownJob { work: Vec::new(), ..job }
}

/// Jobs done that are listed.
const DONE: usize = 5;

/// The clients that have a car, or had one, by what the book says of them.
pub(in crate::report) fn cars(tell: &Teller<'_>, client: ClientId) -> Vec<CarId> {
    if tell.is_cut() {
        return tell.compiled.his.clone();
    }
    let book = tell.cx.book;
    let all = book.cars.keys();
    all.filter(|car| tell.cx.history.parts.owner(book, *car, Rank::END) == Some(client)).collect()
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, client: ClientId) -> ClientPage {
    let tell = desk.tell;
    let book = tell.cx.book;
    let own = cars(tell, client);
    let title = book.clients.get(client).map_or("?", |client| client.named.title.as_str());
    let until = written_until(tell.compiled);
    let open = own
        .iter()
        .flat_map(|car| jobs::jobs(tell, Some(*car), Rank::START, Rank::END))
        .filter(|job| job.open);
    let open = open.map(plainly).collect();
    let (waits, told) = waits::waits(tell, &own);
    let (next_event, next) = next(tell, &own, &told);
    let subtitle = own.iter().map(|car| tell.cx.car(*car)).collect::<Vec<_>>().join(", ");
    ClientPage {
        frame: frame::frame(tell, format!("For {title}"), subtitle, own.first().copied()),
        client: title.to_owned(),
        until: until.map_or_else(String::new, words::date),
        cars: own.iter().map(|car| client_car(desk, *car)).collect(),
        waits,
        open,
        done: jobs::closed_last(tell, &own, DONE).into_iter().map(plainly).collect(),
        next_event,
        next,
        account: account(tell, client),
        money: money::of_client(tell, client, &|car| {
            let year = year::years(tell, car).last().copied();
            let link = year.and_then(|year| desk.table.link(Key::Season(car, year)));
            link.map_or_else(String::new, |link| link.href)
        }),
    }
}

/// How he stands with the shop.
fn account(tell: &Teller<'_>, client: ClientId) -> Vec<Fact> {
    let Some(account) = account_of(tell.compiled, client) else { return Vec::new() };
    let fact = |word: &str, text: String, src: String| Fact { word: word.to_owned(), text, src };
    let nothing = |text: String| if text == "-" { "nothing".to_owned() } else { text };
    let mut all = vec![fact("booked", nothing(account.billed.words(None)), String::new())];
    let own = tell.compiled.costs.payments.iter().filter(|payment| payment.client == Some(client));
    for (payment, shown) in own.zip(&account.payments) {
        let sum = shown.sum.as_ref().map_or_else(|| NOT_KNOWN.to_owned(), |sum| sum.words(None));
        let job = shown.job.as_ref().map_or_else(String::new, |job| format!(" on {job}"));
        all.push(fact(
            "paid",
            format!("{sum}{job}, {}", words::date(payment.date)),
            tell.src_of(payment.entry),
        ));
    }
    all.extend(account.standing.iter().map(|(word, text)| fact(word, text.clone(), String::new())));
    all
}

fn client_car(desk: &Desk<'_>, car: CarId) -> ClientCar {
    let tell = desk.tell;
    let year = year::years(tell, car).last().copied();
    let sessions: Vec<_> = year::own(tell, car).collect();
    let failures = failures::failures(tell, car, Rank::START, Rank::END);
    let rows = totals::by_event(tell, car, &sessions, &failures);
    let last = rows.into_iter().rfind(|row| !row.dates.is_empty());
    let there =
        |failure: &&failures::ShownFailure| last.as_ref().is_some_and(|last| last.name == failure.event);
    ClientCar {
        title: tell.cx.book.cars.get(car).map_or_else(String::new, |car| car.named.title.clone()),
        page: year.and_then(|year| desk.table.link(Key::Season(car, year))),
        lines: last.as_ref().map_or_else(Vec::new, |last| {
            let failed: Vec<String> =
                failures.iter().filter(there).map(|one| format!("{} {}", one.kind, one.part)).collect();
            lines(tell, car, last, &failed)
        }),
        good: until::until(
            tell,
            car,
            stops::ahead(tell, car).first().copied(),
            tell.cx.history.order.entries.next_key(),
        ),
        last,
    }
}

/// What came of an event, in a few lines.
fn lines(tell: &Teller<'_>, car: CarId, last: &EventTotals, failed: &[String]) -> Vec<Fact> {
    let fact = |word: &str, text: String, src: String| Fact { word: word.to_owned(), text, src };
    let count =
        |text: &str, one: &str, many: &str| format!("{text} {}", if text == "1" { one } else { many });
    let mut ran = vec![
        count(&last.totals.sessions, "session", "sessions"),
        count(&last.totals.laps, "lap", "laps"),
        format!("{} min", last.totals.minutes),
    ];
    ran.extend((!last.drivers.is_empty()).then(|| last.drivers.clone()));
    ran.extend((!last.night.is_empty()).then(|| last.night.clone()));
    let mut all = vec![fact("it ran", ran.join(", "), last.totals.src.clone())];
    let sessions: Vec<&Session> = year::own(tell, car)
        .filter(|one| one.event.is_some_and(|event| tell.event(event) == last.name))
        .collect();
    if let Some(best) = bests::quickest(sessions.iter().copied()) {
        let text = format!("{} in {}", bests::lap(tell, best), tell.label(best));
        all.push(fact("best lap", text, tell.src_of(best.entry)));
    }
    all.extend(
        last.results
            .iter()
            .map(|one| fact("result", format!("{}: {}", one.session, one.words), one.src.clone())),
    );
    if let (Some(first), Some(end)) = (sessions.first(), sessions.last()) {
        let changed = laps::changed(tell, car, first.rank, end.during);
        all.extend((!changed.is_empty()).then(|| fact("changed", changed, String::new())));
        let said = spoken(tell, end);
        all.extend((!said.is_empty()).then(|| fact("the driver said last", said, tell.src_of(end.entry))));
    }
    let failed = if failed.is_empty() { "nothing".to_owned() } else { failed.join(", ") };
    all.push(fact("failed", failed, String::new()));
    all
}

/// The next event after the book's last line that one of his cars goes to, and what is due before it by stated limits, dates and work that
/// comes round. Chances rest on what parts did on other cars, so the letter has none, nor their order.
fn next(tell: &Teller<'_>, own: &[CarId], told_above: &BTreeSet<String>) -> (String, Vec<Next>) {
    let first = |event: &EventId| tell.cx.book.events.get(*event).map(|event| event.first);
    let mut ahead: Vec<EventId> = own.iter().flat_map(|car| stops::ahead(tell, *car)).collect();
    ahead.sort_by_key(|event| (first(event), *event));
    // One that is over with the book's last day is not to come.
    let Some(made) = ahead.into_iter().find_map(|event| tell.due_before(event)) else {
        return (String::new(), Vec::new());
    };
    let list = told(tell.compiled, made, ENOUGH, true);
    let mut next: Vec<(Action, Next)> = Vec::new();
    for (row, words) in made.rows.iter().zip(&list.rows).filter(|(row, _)| own.contains(&row.fitted.car)) {
        let stated = |reason: &Reason| !matches!(reason, Reason::Likely | Reason::Possible);
        // What waits is told above.
        let waits = |reason: &Reason| {
            matches!(
                reason,
                Reason::Impact(_) | Reason::DatePast(_) | Reason::DateDuring(_) | Reason::DateUnknown
            )
        };
        let above = told_above.contains(&words.part);
        let fresh = |reason: &Reason| stated(reason) && !(above && waits(reason));
        let Some(first) = row.reasons.iter().position(fresh) else { continue };
        // Only a chance asks for another to be taken along; what else there is to say of such a part is to watch it.
        let action = if row.action == Action::Carry { Action::Watch } else { row.action };
        let word = match action {
            Action::Fit => "fit one",
            Action::Replace => "change it",
            Action::Inspect => "look at it",
            Action::Carry | Action::Watch | Action::Leave => "watch it",
        };
        let kind = words.kind.replace('-', " ");
        let car = if own.len() == 1 { "" } else { words.car.as_str() };
        let what = [car, &kind, &words.spot, &words.part];
        let what: Vec<&str> = what.into_iter().filter(|word| !word.is_empty()).collect();
        let why = words.why.get(first).cloned().unwrap_or_default();
        next.push((action, Next { what: what.join(" "), action: word.to_owned(), why }));
    }
    next.sort_by(|(a, one), (b, other)| a.cmp(b).then(one.what.cmp(&other.what)));
    let mut next: Vec<Next> = next.into_iter().map(|(_, next)| next).collect();
    for (round, work) in made.rounds.iter().zip(&list.work).filter(|(round, _)| own.contains(&round.car)) {
        let part = matches!(round.owner, Owner::Part(_)).then_some(work.part.as_str());
        let car = if own.len() == 1 { "the car" } else { work.car.as_str() };
        let what: Vec<&str> = std::iter::once(car).chain(part).collect();
        next.push(Next { what: what.join(" "), action: work.what.clone(), why: work.text.clone() });
    }
    let event = made.plan.event.and_then(|event| tell.cx.book.events.get(event));
    (
        event.map_or_else(String::new, |event| {
            format!("{}, {}", event.named.title, words::dates(event.first, event.last))
        }),
        next,
    )
}
