//! Postings and payments: every sum by itself, exact.

#![deny(clippy::float_arithmetic, clippy::disallowed_types)]

use super::cell::Cell;
use super::parts::{CURRENCY, MINOR, money};
use super::schema::{Column, FILE, FactTable, Give, LINE, Sort, refers};
use super::shown::Shown;
use crate::answer::costs::line_view;

/// Postings.
pub const POSTINGS: FactTable = FactTable {
    name: "postings",
    what: "What was booked to a car, a client, an event and a job: a share of a line about money or hours, or a part when it is first fitted. \
           Every total of `costs` is a sum of these.",
    key: &[],
    columns: &[
        Column::date("date", "The day"),
        Column::text("car", "The car"),
        Column::text("client", "Who pays"),
        Column::text("event", "The event"),
        Column::text("job", "The job"),
        Column::text("kind", "What for: `entry`, `labour`, `parts`, `fuel`, `consumables`, `outside`, `other`, `transfer`, `sold` or `prize`").needed(),
        Column::new("amount", Sort::Exact, "How much, in the shop's currency where a rate says how; empty where it is not known, or not charged"),
        Column::whole("amount_minor", MINOR),
        Column::text("currency", CURRENCY),
        Column::truth("unknown", "It costs something and nobody knows how much: a total with it is a least (or a most, where it came back)"),
        Column::truth("back", "It came back"),
        Column::new("minutes", Sort::Exact, "Time worked, in minutes"),
        Column::truth("unbilled", "Counted and not charged"),
        Column::new("typed_amount", Sort::Exact, "The sum before it was exchanged"),
        Column::text("typed_currency", "The currency of that"),
        Column::text("rate", "The rate, as stated"),
        Column::text("part", "The part that it paid for"),
        Column::text("words", "The words in quotes, or the part"),
        Column::whole("share", "Which share of its line this is, from 1"),
        Column::whole("shares", "Of how many"),
        FILE,
        LINE,
    ],
    refers: &[
        refers(&["car"], "cars"),
        refers(&["client"], "clients"),
        refers(&["event"], "events"),
        refers(&["job"], "jobs"),
        refers(&["part"], "parts"),
    ],
    rows: postings,
};

fn postings(shown: &Shown<'_>, give: &mut Give<'_>) {
    for posting in &shown.compiled.costs.postings {
        let Some(view) = line_view(shown.compiled, posting) else { continue };
        let [amount, minor, currency] = money(posting.amount);
        let (typed, rate) = match view.exchanged {
            Some(exchanged) => (Some(exchanged.sum), Some(exchanged.rate)),
            None => (None, None),
        };
        let typed_currency = typed.as_ref().map(|sum| sum.currency);
        let worked = !posting.minutes.is_zero();
        give(&[
            Cell::from(posting.date),
            shown.car(posting.car),
            shown.client(posting.client),
            shown.event(posting.event),
            shown.job(posting.job),
            Cell::from(kind(posting.kind)),
            amount,
            minor,
            currency,
            Cell::from(posting.is_unknown()),
            Cell::from(posting.back),
            Cell::from(worked.then(|| posting.minutes.0.normalize().to_string())),
            Cell::from(posting.unbilled),
            Cell::from(typed.map(|sum| sum.amount)),
            Cell::from(typed_currency),
            Cell::from(rate),
            shown.part(posting.part),
            Cell::from(view.words),
            Cell::from(posting.share.map(|(share, _)| share.saturating_add(1))),
            Cell::from(posting.share.map(|(_, shares)| shares)),
            Cell::from(view.line.path),
            Cell::from(view.line.line),
        ]);
    }
}

/// What a posting is for, in the word that `costs --format json` has.
const fn kind(kind: crate::costs::Kind) -> &'static str {
    use crate::costs::Kind;
    match kind {
        Kind::Entry => "entry",
        Kind::Labour => "labour",
        Kind::Parts => "parts",
        Kind::Fuel => "fuel",
        Kind::Consumables => "consumables",
        Kind::Outside => "outside",
        Kind::Other => "other",
        Kind::Transfer => "transfer",
        Kind::Sold => "sold",
        Kind::Prize => "prize",
    }
}

/// Payments.
pub const PAYMENTS: FactTable = FactTable {
    name: "payments",
    what: "What a client paid; below zero what was paid back to him. A reader of whose account something is not his to know has none.",
    key: &[],
    columns: &[
        Column::date("date", "The day"),
        Column::text("client", "Who; empty where a line with a mistake does not say"),
        Column::text("job", "On which job"),
        Column::new(
            "amount",
            Sort::Exact,
            "How much, in the shop's currency where a rate says how; empty where a mistake has taken it",
        ),
        Column::whole("amount_minor", MINOR),
        Column::text("currency", CURRENCY),
        FILE,
        LINE,
    ],
    refers: &[refers(&["client"], "clients"), refers(&["job"], "jobs")],
    rows: payments,
};

fn payments(shown: &Shown<'_>, give: &mut Give<'_>) {
    let costs = &shown.compiled.costs;
    // What is left of an account that is not all his would be taken for the whole.
    if costs.account_withheld {
        return;
    }
    for payment in &costs.payments {
        let client = shown.client(payment.client);
        if client.is_nothing() && shown.is_cut() {
            continue;
        }
        let [amount, minor, currency] = money(payment.amount);
        let [file, line] = shown.line(payment.entry);
        give(&[
            Cell::from(payment.date),
            client,
            shown.job(payment.job),
            amount,
            minor,
            currency,
            file,
            line,
        ]);
    }
}
