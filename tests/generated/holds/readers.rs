//! What holds of readers: a seller's book ends at his sale, what is sold is settled there, what is hidden may be anything, and a
//! sum is a sum of what he may read.

use super::told::{self, told};
use super::{Broken, Files, compiled, cut_back, difference, sums};
use stringline::Compiled;
use stringline::audience::{self, Reader};
use stringline::book::model::{CarId, ClientId, PartId};
use stringline::history::parts::{Sale, Where};
use stringline::report;
use stringline::view::json;

/// What to look at.
pub struct Look<'a> {
    /// Pages too, which take long.
    pub pages: bool,
    /// Only these sections.
    pub wanted: &'a dyn Fn(&str) -> bool,
}

/// Whether a client had that car and never another.
fn has_no_other(book: &Compiled, client: ClientId, car: CarId) -> bool {
    let others = (0..book.book.cars.len() as u32).map(CarId::new).filter(|other| *other != car);
    let first = |car| book.history.parts.owner(&book.book, car, Rank::START) == Some(client);
    let bought = |sale: &Sale| sale.to == Some(client);
    first(car) && !others.clone().any(first) && !book.history.parts.sales.iter().any(bought)
}

/// Each sale by a client who has no other car: he, and the sale.
fn sellers(book: &Compiled) -> Vec<(ClientId, Sale)> {
    let sales = book.history.parts.sales.iter();
    sales
        .filter_map(|sale| {
            let seller = book.history.parts.owner(&book.book, sale.car, Rank::START)?;
            has_no_other(book, seller, sale.car).then_some((seller, *sale))
        })
        .collect()
}

/// A seller without another car is told the same with every dated line after his sale taken away.
pub fn now_ends_at_the_sale(files: &Files, look: &Look<'_>) -> Option<Broken> {
    let book = compiled(files);
    sellers(&book).into_iter().find_map(|(seller, sale)| {
        let less = compiled(&cut_back::after(&book, files, sale.rank));
        let before = told(&book, seller, look.pages, look.wanted);
        difference("a seller's now ends at the sale", &before, &told(&less, seller, look.pages, look.wanted))
    })
}

/// No line `for` a new owner changes what is sold: what the seller is told, which parts go along, whose they are.
pub fn sold_is_settled(files: &Files, look: &Look<'_>) -> Option<Broken> {
    let book = compiled(files);
    let property = "no line for the new owner changes what is sold";
    for (seller, sale) in sellers(&book) {
        let less = compiled(&cut_back::for_new_owner(&book, files, &sale));
        let wanted = |section: &str| (look.wanted)(section) && !section.starts_with("costs");
        let before = told(&book, seller, look.pages, &wanted);
        if let Some(broken) = difference(property, &before, &told(&less, seller, look.pages, &wanted)) {
            return Some(broken);
        }
        let handed = |book: &Compiled| {
            let purchase = audience::purchase(book, sale.car, sale.to);
            let view = report::handover(&audience::cut(book, &Reader::Buyer(purchase)), &purchase);
            // Which book it was made of, and how much is wrong in the whole of that, is said beside what is sold.
            let kept = |line: &&str| !["\"print\"", "\"problems\""].iter().any(|key| line.contains(key));
            vec![("handover".to_owned(), json(&view).lines().filter(kept).collect::<Vec<_>>().join("\n"))]
        };
        if (look.wanted)("handover")
            && let Some(broken) = difference(property, &handed(&book), &handed(&less))
        {
            return Some(broken);
        }
    }
    (look.wanted)("sold parts").then(|| stays_sold(&book)).flatten()
}

/// Parts that went along with a car are the buyer's: on no shelf of the shop's, on no third client's car, on nobody else's bill.
fn stays_sold(book: &Compiled) -> Option<Broken> {
    let broken = |shows: String| {
        let property = "what is sold stays sold";
        Some(Broken { property, section: "sold parts".to_owned(), shows })
    };
    for sale in &book.history.parts.sales {
        let parts = (0..book.book.parts.len() as u32).map(PartId::new);
        let resold = |rank: u32| {
            book.history
                .parts
                .sales
                .iter()
                .any(|one| one.car == sale.car && one.rank > sale.rank && one.rank <= rank)
        };
        for part in parts.filter(|part| went_along(book, sale, *part)) {
            let name = &book.book.parts[part].named.typed;
            let stays = &book.history.parts.get(part).stays;
            for stay in stays.iter().filter(|stay| stay.from > sale.rank && !resold(stay.from)) {
                if stay.at == Where::Shelf {
                    return broken(format!("{name} lies on the shop's shelf"));
                }
                let owner = stay.car.and_then(|car| book.history.parts.owner(&book.book, car, stay.from));
                if stay.car.is_some() && owner != sale.to {
                    return broken(format!("{name} goes on a car that is not the buyer's"));
                }
            }
            let posted = book.costs.postings.iter().find(|posting| {
                let rank = book.history.order.rank[posting.entry.index()];
                posting.part == Some(part) && rank > sale.rank && posting.client != sale.to && !resold(rank)
            });
            if let Some(posting) = posted {
                let entry = &book.book.entries[posting.entry.index()];
                return broken(format!(
                    "{name} is booked to another client: {}",
                    book.files.text(entry.span())
                ));
            }
        }
    }
    None
}

/// Whether a part was on the car at its sale, or was named with it.
fn went_along(book: &Compiled, sale: &Sale, part: PartId) -> bool {
    let on = book.history.parts.get(part).at(sale.rank).is_some_and(|stay| stay.car == Some(sale.car));
    let facts =
        book.book.extra(&book.book.entries[sale.entry.index()]).and_then(|extra| extra.parts.as_ref());
    on || facts.is_some_and(|facts| facts.more.contains(&part))
}

/// A reader is told the same whatever stands in the place of what he may not read.
pub fn hidden_may_be_anything(
    files: &Files,
    changed: &Files,
    reader: &str,
    look: &Look<'_>,
) -> Option<Broken> {
    let (one, two) = (compiled(files), compiled(changed));
    let told_of = |book: &Compiled| {
        told::client(book, reader)
            .map(|client| told(book, client, look.pages, look.wanted))
            .unwrap_or_default()
    };
    difference("what is hidden may be anything", &told_of(&one), &told_of(&two))
}

/// Every sum that a reader sees is a sum over lines that he sees.
pub fn sums_add_up(files: &Files) -> Option<Broken> {
    let book = compiled(files);
    (0..book.book.clients.len() as u32).map(ClientId::new).find_map(|client| {
        let cut = audience::cut(&book, &Reader::Client(client));
        sums::broken(&cut).map(|shows| Broken {
            property: "every sum is a sum over what he may read",
            section: format!("costs for {}", book.book.clients[client].named.typed),
            shows,
        })
    })
}
