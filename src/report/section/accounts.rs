//! What each client owes, since when, and what he paid: the shop's list; of a reader's book his own line alone.
//!
//! The numbers are those of [`account_of`], as `costs` and his letter have them. Must not know how they are added up.

use super::link::Link;
use crate::answer::costs::{AccountView, NOTHING, OWED, account_of, all_accounts};
use crate::book::model::{CarId, ClientId};
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::sources;
use crate::report::words;
use crate::words::scale::NOT_KNOWN;
use serde::Serialize;

/// How the clients stand.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ClientAccounts {
    /// "2 of 3 owe"; of a reader's own line empty.
    pub count: String,
    /// In the order in which they are declared.
    pub rows: Vec<ClientAccount>,
    /// Whether it is a reader's own line.
    pub own: bool,
}

/// How one stands.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ClientAccount {
    /// His name in the book.
    pub name: String,
    /// Who he is.
    pub title: String,
    /// His cars.
    pub cars: String,
    /// What was booked to him.
    pub booked: String,
    /// What he paid; "nothing".
    pub paid: String,
    /// "last 30 September 2026"; empty without a payment.
    pub last: String,
    /// The lines of his payments.
    pub src: String,
    /// "owes 1960.85 EUR since 21 August 2026".
    pub stands: String,
    /// Whether he owes anything, or nobody knows what.
    pub owes: bool,
    /// His letter, where it is in this report.
    pub letter: Option<Link>,
}

/// How the clients stand whose cars the report is about; `None` where the book says of no payment.
pub(super) fn accounts(desk: &Desk<'_>) -> Option<ClientAccounts> {
    let (tell, options) = (desk.tell, desk.options);
    // An account is of the whole book.
    if options.season.is_some() {
        return None;
    }
    let own = tell.is_cut();
    let all = if own {
        options
            .client
            .and_then(|client| Some((client, account_of(tell.compiled, client)?)))
            .into_iter()
            .collect()
    } else {
        all_accounts(tell.compiled)
    };
    let about = |(client, account)| {
        let cars = his(desk, client);
        let wanted = options.car.is_none_or(|car| cars.contains(&car));
        wanted.then(|| row(desk, client, &cars, account)).flatten()
    };
    let rows: Vec<ClientAccount> = all.into_iter().filter_map(about).collect();
    let owing = rows.iter().filter(|row| row.owes).count();
    let count = if own { String::new() } else { format!("{owing} of {} owe", rows.len()) };
    (!rows.is_empty()).then_some(ClientAccounts { count, rows, own })
}

fn row(desk: &Desk<'_>, client: ClientId, cars: &[CarId], account: AccountView) -> Option<ClientAccount> {
    let tell = desk.tell;
    let declared = tell.cx.book.clients.get(client)?;
    let payments = tell.compiled.costs.payments.iter().filter(|payment| payment.client == Some(client));
    let last = payments.clone().map(|payment| payment.date).max();
    let spans = payments.filter_map(|payment| Some(tell.entry(payment.entry)?.span()));
    let said = |text: String| if text == "-" { "nothing".to_owned() } else { text };
    let owes = account.standing.iter().any(|(word, text)| *word == OWED && text != NOTHING);
    Some(ClientAccount {
        name: declared.named.typed.to_string(),
        title: declared.named.title.clone(),
        cars: words::and(&cars.iter().map(|car| tell.cx.car(*car)).collect::<Vec<_>>()),
        booked: said(account.billed.words(None)),
        paid: if account.unknown { NOT_KNOWN.to_owned() } else { said(account.paid.words(None)) },
        last: last.map_or_else(String::new, |date| format!("last {}", words::date(date))),
        src: sources::lines(tell.cx.files, spans),
        owes,
        stands: account.text,
        letter: desk.table.link(Key::Client(client)),
    })
}

/// The cars that are a client's as the book ends.
fn his(desk: &Desk<'_>, client: ClientId) -> Vec<CarId> {
    let cx = &desk.tell.cx;
    let end = cx.history.order.entries.next_key();
    let cars = cx.book.cars.iter_enumerated().filter(|(_, car)| !car.withheld).map(|(id, _)| id);
    cars.filter(|car| cx.history.parts.owner(cx.book, *car, end) == Some(client)).collect()
}
