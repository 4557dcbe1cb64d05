//! What clients paid and owe, and what is owed to lenders, as plain data.
//!
//! Must not know rendering.

use super::sum::{Sum, SumsView, line};
use crate::Compiled;
use crate::answer::{LedgerLine, dates};
use crate::book::loan::Whom;
use crate::costs::Selection;
use crate::costs::owed::{Account, ToLender, accounts};
use serde::Serialize;

/// How a client stands.
#[derive(Debug, Clone, Serialize)]
pub struct AccountView {
    /// Who.
    pub client: String,
    /// What was booked to him.
    pub billed: SumsView,
    /// What he paid.
    pub paid: SumsView,
    /// What he owes, one a currency; below zero where he paid more than was booked. Empty where it is not known.
    pub owed: Vec<Sum>,
    /// The day of the oldest line that is not paid in full, one a currency, in the same order; null where nothing is owed.
    pub since: Vec<Option<String>>,
    /// A line about a payment has a mistake: what he paid and owes is not known.
    pub unknown: bool,
    /// His payments.
    pub payments: Vec<PaymentView>,
    /// Prize money of his cars that is in none of these: no line says that the shop drew it. Below zero, as all that came back.
    pub prizes: SumsView,
    /// In words.
    pub text: String,
    /// The same as facts, a word and what it is: what he owes, and what he paid ahead.
    #[serde(skip)]
    pub standing: Vec<(&'static str, String)>,
}

/// A payment.
#[derive(Debug, Clone, Serialize)]
pub struct PaymentView {
    /// The day.
    pub date: String,
    /// How much, below zero where it was paid back; null where it is not known.
    pub sum: Option<Sum>,
    /// On which job.
    pub job: Option<String>,
    /// The line.
    pub line: LedgerLine,
}

/// What is owed to the lender of a part that broke.
#[derive(Debug, Clone, Serialize)]
pub struct ToLenderView {
    /// The part.
    pub part: String,
    /// Whose it is.
    pub lender: String,
    /// The sum agreed; null where none was, or it is not known.
    pub sum: Option<Sum>,
    /// A mistake has taken the sum.
    pub sum_unknown: bool,
    /// The day it broke.
    pub since: String,
    /// The line that says so.
    pub line: LedgerLine,
    /// In words.
    pub text: String,
}

/// Every account that is asked about: whole ones only, since a part of one says nothing of what is owed.
pub(super) fn accounts_of(compiled: &Compiled, asked: &Selection) -> Vec<AccountView> {
    if (asked.car, asked.event, asked.job, asked.year) != (None, None, None, None) {
        return Vec::new();
    }
    let wanted = |account: &Account| asked.client.is_none_or(|client| client == account.client);
    accounts(&compiled.book, &compiled.costs)
        .iter()
        .filter(|one| wanted(one))
        .map(|one| view(compiled, one))
        .collect()
}

/// How one client stands; `None` where nobody says that he paid anything.
#[must_use]
pub fn account_of(compiled: &Compiled, client: crate::book::model::ClientId) -> Option<AccountView> {
    let paid = compiled.costs.payments.iter().any(|payment| payment.client == Some(client));
    let all = accounts(&compiled.book, &compiled.costs);
    all.iter().find(|one| paid && one.client == client).map(|one| view(compiled, one))
}

/// How every client stands of whom the book says.
#[must_use]
pub fn all_accounts(compiled: &Compiled) -> Vec<(crate::book::model::ClientId, AccountView)> {
    let all = accounts(&compiled.book, &compiled.costs);
    all.iter().map(|one| (one.client, view(compiled, one))).collect()
}

fn view(compiled: &Compiled, account: &Account) -> AccountView {
    let book = &compiled.book;
    let own = compiled.costs.payments.iter().filter(|payment| payment.client == Some(account.client));
    let payments = own.map(|payment| PaymentView {
        date: payment.date.to_string(),
        sum: payment.amount.map(Sum::of),
        job: payment.job.and_then(|job| book.jobs.get(job)).map(|job| job.named.typed.to_string()),
        line: line(compiled, payment.entry),
    });
    let both = account.billed.at_least && account.billed.at_most;
    let known = || account.owed.iter().filter(|_| !(account.unknown || both));
    AccountView {
        client: book.clients.get(account.client).map_or_else(String::new, |one| one.named.typed.to_string()),
        billed: SumsView::of(&account.billed),
        paid: SumsView::of(&account.paid),
        owed: known().map(|owed| Sum::of(owed.amount)).collect(),
        since: known().map(|owed| owed.since.map(|day| day.to_string())).collect(),
        unknown: account.unknown,
        payments: payments.collect(),
        prizes: SumsView::of(&account.prizes),
        text: words(account),
        standing: standing(account).into_iter().chain(beside(account)).collect(),
    }
}

/// "owes 320.00 EUR since 3 May 2026"; "paid 20.00 EUR more than is booked"; "owes nothing".
fn words(account: &Account) -> String {
    let each = standing(account).into_iter().map(|(word, text)| match word {
        AHEAD => format!("paid {text}"),
        _ if text.starts_with("not known") => text,
        _ => format!("owes {text}"),
    });
    let mut all = each.collect::<Vec<_>>().join(", ");
    if let Some(prizes) = prizes(account) {
        all = format!("{all}; {prizes}");
    }
    all
}

/// "prize money of 150.00 EUR is not taken off: no line says that the shop drew it".
fn prizes(account: &Account) -> Option<String> {
    let sums = account.prizes.sums().iter().filter(|sum| !sum.value.is_zero());
    let sums: Vec<String> = sums.map(|sum| Sum::of(sum.negated()).words(None)).collect();
    let what = match (sums.is_empty(), account.prizes.is_known()) {
        (true, true) => return None,
        (true, false) => "prize money of a sum that is not known".to_owned(),
        (false, true) => format!("prize money of {}", crate::words::and(&sums)),
        (false, false) => format!("prize money of at least {}", crate::words::and(&sums)),
    };
    Some(format!("{what} is not taken off: no line says that the shop drew it"))
}

/// What stands before what a client owes, and before what he paid ahead.
pub const OWED: &str = "owed";
/// What stands there where nothing is owed.
pub const NOTHING: &str = "nothing";
const AHEAD: &str = "paid ahead";

/// "owed", "320.00 EUR since 3 May 2026"; "paid ahead", "20.00 EUR more than is booked".
fn standing(account: &Account) -> Vec<(&'static str, String)> {
    if account.unknown {
        return vec![(OWED, "not known: a line about a payment has an error".to_owned())];
    }
    let (at_least, at_most) = (account.billed.at_least, account.billed.at_most);
    if at_least && at_most {
        return vec![(OWED, "not known: not all that was booked is, nor all that came back".to_owned())];
    }
    let sum = |amount| Sum::of(amount).words(None);
    let each = account.owed.iter().filter(|owed| !owed.amount.value.is_zero()).map(|owed| {
        if owed.amount.value.is_sign_negative() {
            let more = if at_least || at_most { " so far, and not all that was booked is known" } else { "" };
            (AHEAD, format!("{} more than is booked{more}", sum(owed.amount.negated())))
        } else {
            let since = owed.since.map_or_else(String::new, |day| format!(" since {}", dates::date(day)));
            let least = match (at_least, at_most) {
                (true, _) => "at least ",
                (_, true) => "at most ",
                _ => "",
            };
            (OWED, format!("{least}{}{since}", sum(owed.amount)))
        }
    });
    let each: Vec<_> = each.collect();
    match (each.is_empty(), at_least) {
        (true, true) => vec![(OWED, "what is not known".to_owned())],
        (true, false) => vec![(OWED, NOTHING.to_owned())],
        (false, _) => each,
    }
}

/// The prize money that stands beside an account, as a fact.
fn beside(account: &Account) -> Option<(&'static str, String)> {
    prizes(account).map(|words| ("beside it", words))
}

/// What is owed to lenders; nothing of it where something else is asked about than the whole book.
pub(super) fn to_lenders(compiled: &Compiled, asked: &Selection) -> Vec<ToLenderView> {
    if *asked != Selection::default() {
        return Vec::new();
    }
    compiled.costs.to_lenders.iter().map(|one| lender(compiled, one)).collect()
}

fn lender(compiled: &Compiled, one: &ToLender) -> ToLenderView {
    let cx = compiled.context();
    let part = cx.part(one.part).to_owned();
    let name = one.whom.map_or_else(String::new, |whom| whom_words(compiled, whom));
    let sum = one.sum.map(Sum::of);
    let words = match &sum {
        Some(sum) => sum.words(None),
        None if one.sum_lost => "a sum that is not known".to_owned(),
        None => "a sum that was not agreed".to_owned(),
    };
    ToLenderView {
        text: format!("{words} to {name} for {part}, since {}", dates::date(one.date)),
        part,
        lender: name,
        sum,
        sum_unknown: one.sum_lost,
        since: one.date.to_string(),
        line: line(compiled, one.entry),
    }
}

/// Who has a part, or whose it is, in words.
#[must_use]
pub fn whom_words(compiled: &Compiled, whom: Whom) -> String {
    let book = &compiled.book;
    match whom {
        Whom::Client(client) => {
            book.clients.get(client).map_or_else(String::new, |one| one.named.typed.to_string())
        }
        Whom::Person(person) => {
            book.people.get(person).map_or_else(String::new, |one| one.named.typed.to_string())
        }
        Whom::Words(span) => crate::syntax::unquote(compiled.files.text(span)).to_owned(),
        Whom::Withheld => "somebody else".to_owned(),
    }
}
