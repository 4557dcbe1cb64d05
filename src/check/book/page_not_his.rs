//! `page-not-his`: a page went to a client who may not have it.

use super::page_not_made::sale_lost;
use crate::book::entry::Verb;
use crate::book::handed::HandedPage;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Rank;
use std::cell::OnceCell;

/// The check.
pub const CHECK: Check = Check {
    name: "page-not-his",
    severity: Severity::Error,
    family: Family::Book,
    brief: "a page handed to a client whose car it is not about",
    why: "What a client may read is his own cars, while they are his; no page of another's is ever made for him (`report --for`). A line that says he has one \
          names the wrong client, stands under the wrong head, or tells of a page that has to be asked back. The hand-over goes to whoever buys the car.",
    wrong: "client orr \"Orr\"\nclient imre \"Imre\"\ncar heron \"Heron\"  client orr\n\n2026-05-12 heron\n  handed now to imre 4f3a-91c2-07b1",
    right: "client orr \"Orr\"\nclient imre \"Imre\"\ncar heron \"Heron\"  client orr\n\n2026-05-12 heron\n  handed now to orr 4f3a-91c2-07b1",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let (book, parts) = (cx.book, &cx.history.parts);
    let lost = OnceCell::new();
    for (index, entry) in book.entries.iter_enumerated() {
        if entry.verb != Verb::Handed || entry.broken {
            continue;
        }
        let Some(facts) = book.extra(entry).and_then(|extra| extra.handed.as_deref()) else { continue };
        let Some(car) = book.head(entry).and_then(|head| head.car) else { continue };
        let rank = cx.rank(index);
        let mut sales = parts.sales_of(car);
        let may = match facts.page {
            HandedPage::Letter => true,
            // Of a car that is not sold it may go to anybody who thinks of buying it.
            HandedPage::HandOver => {
                let buyers: Vec<_> = sales.map(|sale| sale.to).collect();
                buyers.is_empty() || buyers.contains(&Some(facts.client))
            }
            _ => {
                let owner = |rank| parts.owner(book, car, rank) == Some(facts.client);
                owner(rank) || sales.any(|sale| sale.rank <= rank && owner(sale.rank))
            }
        };
        // Whose it was is not known where a sale or the car's client has a mistake.
        if may || *lost.get_or_init(|| sale_lost(book)) || parts.owner(book, car, Rank::START).is_none() {
            continue;
        }
        let name = |client| book.clients.get(client).map_or("?", |client| &*client.named.typed);
        let whose = match facts.page {
            HandedPage::HandOver => format!("the book sells {} to somebody else", cx.car(car)),
            _ => match parts.owner(book, car, rank) {
                Some(owner) => format!("{} is `{}`'s car", cx.car(car), name(owner)),
                None => format!("whose {} is the book does not say", cx.car(car)),
            },
        };
        out.push(
            CHECK
                .at(entry.span(), format!("`{}` may not have that page: {whose}.", name(facts.client)))
                .cure("write whom it went to, under a head of the car that it is about"),
        );
    }
}
