//! Who may read what: the book as one reader may have it, made before any view is.
//!
//! A line has an audience, its own (`for client`) or its verb's; [`policy`] says which. [`cut`] makes of a compiled book the
//! book of a client, or of the buyer of a car: texts with everything else blanked out, lines emptied of what he may not read,
//! and the fold worked out anew from what is left, so that no derived number rests on a hidden one. What a part has run and
//! where it was is nobody's secret: such lines are kept without their words, for the hours. Must not know views.

mod costs;
mod declared;
mod ended;
mod fates;
pub use ended::until;
mod standing;
pub use standing::{Standing, standing};
mod heads;
mod line;
mod mask;
mod names;
mod paths;
pub mod policy;
mod reader;
mod scope;
mod sums;
mod text;

pub use crate::audience::ended::as_of;
use crate::audience::reader::Fate;
pub use crate::audience::reader::{Purchase, Reader};
use crate::book::entry::{Entry, Extra, ExtraId, Verb};
use crate::book::model::{CarId, ClientId};
use crate::diagnostics::Severity;
use crate::history::order::Rank;
use crate::ids::Arena;
use crate::rules::known::Known;
use crate::{Compiled, history};
use scope::Scope;
use std::collections::BTreeMap;

/// The purchase of a car: its sale in the book (to that client, where one is asked for), else as it stands at the end.
#[must_use]
pub fn purchase(compiled: &Compiled, car: CarId, to: Option<ClientId>) -> Purchase {
    let sales = compiled.history.parts.sales_of(car).rev();
    let sale = sales.into_iter().find(|sale| to.is_none() || sale.to == to);
    Purchase {
        car,
        to: sale.and_then(|sale| sale.to).or(to),
        until: sale.map_or(Rank::from(compiled.history.order.entries.len()), |sale| sale.rank),
        sale: sale.map(|sale| sale.entry),
        bench: false,
        prices: false,
    }
}

/// The book as the reader may have it. Its messages are none of his; how many the book has up to where it ends for him is kept.
#[must_use]
pub fn cut(compiled: &Compiled, reader: &Reader) -> Compiled {
    let mut cut = cut_until(compiled, reader);
    if let Reader::Client(client) = *reader {
        cut.costs.payer_unknown = compiled.costs.payer_unknown;
        cut.costs.account_withheld = !costs::has_whole_account(compiled, &cut, client);
    }
    cut
}

/// The same, where the book ends for him.
fn cut_until(compiled: &Compiled, reader: &Reader) -> Compiled {
    // For who has sold his last car the book ends with that sale.
    if let Reader::Client(client) = *reader
        && let Some(sale) = ended::last_sale(compiled, client)
    {
        return cut_whole(&ended::before(compiled, sale), reader);
    }
    // And for a buyer with the one he bought it by.
    let sold = |purchase: &Purchase| {
        let sales = &compiled.history.parts.sales;
        sales.iter().find(|sale| purchase.sale.is_some() && sale.rank == purchase.until).copied()
    };
    if let Reader::Buyer(purchase) = reader
        && let Some(sale) = sold(purchase)
    {
        let then = ended::before(compiled, sale);
        let purchase = purchase.of(&then);
        return cut_whole(&then, &Reader::Buyer(purchase));
    }
    cut_whole(compiled, reader)
}

/// How many lines about each of the reader's cars cannot be read.
fn unread(compiled: &Compiled, scope: &Scope<'_>) -> BTreeMap<CarId, usize> {
    let mut unread = BTreeMap::new();
    for (entry, rank) in compiled.book.entries.iter().zip(&compiled.history.order.rank) {
        let car = compiled.book.head(entry).and_then(|head| head.car);
        if let Some(car) = car.filter(|car| entry.broken && scope.owns(*car, *rank)) {
            *unread.entry(car).or_default() += 1;
        }
    }
    unread
}

fn cut_whole(compiled: &Compiled, reader: &Reader) -> Compiled {
    let scope = Scope::new(compiled, reader);
    let fates = fates::fates(compiled, &scope);
    let mut book = compiled.book.clone();
    let known = names::Known::new(compiled, &scope, &fates);
    let mask = names::mask(compiled, &scope, &known);
    let costs = costs::costs(compiled, &scope, &fates, &known.jobs);
    let declared = declared::Cut::new(compiled, &scope, &known, &mask);
    let told: Vec<_> =
        declared::told(compiled, &declared).into_iter().chain(costs::told(compiled, &costs)).collect();
    let files = text::files(compiled, &scope, &fates, &mask, &told);
    let mut extras: Arena<ExtraId, Extra> = Arena::new();
    for (index, fate) in fates.iter_enumerated() {
        let entry = &mut book.entries[index];
        let extra = compiled.book.extra(entry).and_then(|extra| line::extra(&scope, entry, extra, *fate));
        let places =
            *fate == Fate::Unknown && scope.reads_but_for_mistake(index, &compiled.book.entries[index]);
        line::entry(entry, *fate, places);
        if places {
            for step in 0..entry.item_count {
                book.items.get_mut(entry.items.plus(step.into())).into_iter().for_each(line::place);
            }
        }
        entry.extra = extra.filter(|extra| !extra.is_empty()).map(|extra| extras.push(extra));
        let typed = &compiled.book.entries[index];
        if *fate != Fate::Read
            && let Some(run) = typed.run().and_then(|run| book.runs.get_mut(run))
        {
            if typed.verb == Verb::Run {
                line::run(run);
            } else if typed.verb == Verb::Laps {
                line::laps(run);
            }
            run.stretches.iter_mut().filter(|stretch| stretch.entry == index).for_each(line::stretch);
        }
    }
    book.extras = extras;
    declared::scrub(&mut book, &declared);
    heads::heads(&mut book, &scope, &fates);
    let mut history = history::fold(&mut book, &files);
    // What was read of a car that he sold is put right by what was known when he did.
    for (car, sale) in scope.sold() {
        let until = history.order.rank.get(sale).copied().unwrap_or(Rank::START);
        history.gauges.end(car, until, &book, &files, &history.order);
    }
    let entries = compiled.book.entries.iter_enumerated();
    let kept = entries.filter(|(index, entry)| fates.get(*index) == Some(&Fate::Gone) && sets(entry));
    history.kept_back = kept.map(|(index, _)| index).collect();
    let counts = [Severity::Error, Severity::Warning, Severity::Note].map(|one| compiled.count(one));
    Compiled {
        files,
        book,
        history,
        costs,
        known: Known::default(),
        diagnostics: Vec::new(),
        today: compiled.today,
        at: compiled.at,
        upto: compiled.upto,
        reader: match *reader {
            Reader::Client(client) => Some(client),
            Reader::Buyer(purchase) => purchase.to,
        },
        // It changes with every line of the whole book.
        commit: None,
        whole: Some(counts),
        unread: unread(compiled, &scope),
        his: scope.his(),
    }
}

/// Whether a line sets something, so that the car is another after it.
fn sets(entry: &Entry) -> bool {
    matches!(entry.verb, Verb::Set | Verb::Adjust | Verb::Found | Verb::Left) && !entry.void
}
