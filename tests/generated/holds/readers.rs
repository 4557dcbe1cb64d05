//! What holds of readers: a seller's book ends at his sale, what is sold is settled there, what is hidden may be anything, and a
//! sum is a sum of what he may read.

use super::super::book::{Readers, Written};
use super::told::{self, told};
use super::{Broken, Files, compiled, cut_back, difference, sums};
use std::collections::BTreeSet;
use stringline::Compiled;
use stringline::answer::json;
use stringline::audience::{self, Purchase, Reader};
use stringline::book::model::{CarId, ClientId, PartId};
use stringline::history::order::Rank;
use stringline::history::parts::{Sale, Where};
use stringline::report;

/// What to look at.
pub struct Look<'a> {
    /// Pages too, which take long.
    pub pages: bool,
    /// Only these sections.
    pub wanted: &'a dyn Fn(&str) -> bool,
}

/// Whether a client had that car and never another.
fn has_no_other(book: &Compiled, client: ClientId, car: CarId) -> bool {
    let others = book.book.cars.keys().filter(|other| *other != car);
    let first = |car| book.history.parts.owner(&book.book, car, Rank::START) == Some(client);
    let bought = |sale: &Sale| sale.to == Some(client);
    first(car) && !others.clone().any(first) && !book.history.parts.sales.iter().any(bought)
}

/// Each sale by a client who has no other car: he, and the sale.
pub fn sellers(book: &Compiled) -> Vec<(ClientId, Sale)> {
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

/// No line `for` a new owner changes what is sold, at any sale: what the seller is told, which parts go along, whose they are.
///
/// Lines shared by what cars ran are left out of both books: who pays how much of one rests on sessions of the buyer's, and on
/// nothing else that is his.
pub fn sold_is_settled(files: &Files, look: &Look<'_>) -> Option<Broken> {
    let files = &cut_back::shared_by_running(&compiled(files), files);
    let book = compiled(files);
    let property = "no line for the new owner changes what is sold";
    for sale in &book.history.parts.sales {
        let less = compiled(&cut_back::for_new_owner(&book, files, sale));
        if let Some(seller) = book.history.parts.owner(&book.book, sale.car, sale.rank) {
            let told = |book: &Compiled| {
                let told = told(book, seller, look.pages, look.wanted);
                if has_no_other(book, seller, sale.car) { told } else { about(book, sale.car, told) }
            };
            let (before, after) = (told(&book), told(&less));
            if let Some(broken) = difference(property, &before, &after) {
                return Some(broken);
            }
        }
        if (look.wanted)("handover")
            && let Some(broken) = difference(property, &handed(&book, sale), &handed(&less, sale))
        {
            return Some(broken);
        }
        if (look.wanted)("sold parts")
            && let Some(broken) = difference(property, &parts_sold(&book, sale), &parts_sold(&less, sale))
        {
            return Some(broken);
        }
    }
    (look.wanted)("sold parts").then(|| stays_sold(&book)).flatten()
}

/// Of what is told to somebody whose book goes on, that which is about one car: a line in a block `for` its buyer may touch parts on the
/// shop's shelf, and those may go on his other cars. Without the names of ledgers, the numbers of their lines, and the fingerprints made of
/// them: he reads a path only of a ledger that has nothing but his blocks, and the buyer's are in it; of another only what he may know of counts.
fn about(book: &Compiled, car: CarId, told: told::Told) -> told::Told {
    let name = &*book.book.cars[car].named.typed;
    let mut ledgers: Vec<String> = book.files.iter().map(|(_, file)| file.path.clone()).collect();
    ledgers.extend((1..=ledgers.len()).map(|at| format!("book-{at}.sline")));
    let unplaced =
        |line: &str| ledgers.iter().fold(line.to_owned(), |line, path| line.replace(path, "LEDGER"));
    let mut kept = told::Told::new();
    for (section, text) in told {
        if section.starts_with("costs") {
            let view: serde_json::Value = serde_json::from_str(&text).unwrap();
            let lines = view["lines"].as_array().unwrap().iter().filter(|line| line["car"] == name);
            kept.push((section, lines.map(|line| line["sum"].to_string() + "\n").collect()));
        } else if section.ends_with(&format!("car {name}")) {
            let of_place = ["\"print\":", "\"line\":"];
            let lines =
                text.lines().filter(|line| of_place.iter().all(|key| !line.trim_start().starts_with(key)));
            let unplaced = lines.map(|line| unnumbered(&unplaced(line)));
            kept.push((section, unplaced.collect::<Vec<_>>().join("\n")));
        }
    }
    kept
}

/// Without the numbers of lines: `LEDGER:2, 14`, and `:14` where the ledger goes without saying.
fn unnumbered(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(':') {
        let (before, after) = rest.split_at(at + 1);
        out.push_str(before);
        let named = before.ends_with("LEDGER:") || before.ends_with("\":") || before.ends_with(" · :");
        let numbers = after.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, ',' | ' ' | '…'));
        rest = if named && after.starts_with(|c: char| c.is_ascii_digit()) { numbers } else { after };
        if let Some((count, more)) = rest.strip_prefix('(').and_then(|rest| rest.split_once(" lines)"))
            && named
            && count.bytes().all(|byte| byte.is_ascii_digit())
        {
            rest = more;
        }
    }
    out + rest
}

#[test]
fn numbers_of_lines_go_and_others_stay() {
    for (text, without) in [
        ("\"src\": \"LEDGER:2\"", "\"src\": \"LEDGER:\""),
        ("\"src\": \":2, 14 · LEDGER:3…9 (5 lines)\"", "\"src\": \":· LEDGER:\""),
        ("\"best\": \"1:43.20\", \"laps\": 14", "\"best\": \"1:43.20\", \"laps\": 14"),
    ] {
        assert_eq!(unnumbered(text), without);
    }
}

/// What the shop hands to whom that sale sells the car.
pub fn purchase(book: &Compiled, sale: &Sale) -> Purchase {
    let sold = book.history.parts.sales.iter().find(|one| one.car == sale.car && one.rank == sale.rank);
    let sale = sold.expect("no line after a sale takes it away");
    let asked = audience::purchase(book, sale.car, sale.to);
    Purchase { until: sale.rank, sale: Some(sale.entry), ..asked }
}

/// The book that goes with the car: bare, and with all that may be asked for.
fn handed(book: &Compiled, sale: &Sale) -> told::Told {
    let bare = purchase(book, sale);
    [("handover", bare), ("handover with all", Purchase { bench: true, prices: true, ..bare })]
        .into_iter()
        .map(|(name, purchase)| {
            let view = report::handover(&audience::cut(book, &Reader::Buyer(purchase)), &purchase);
            (name.to_owned(), json(&view))
        })
        .collect()
}

/// Which parts that sale hands over.
fn parts_sold(book: &Compiled, sale: &Sale) -> told::Told {
    let parts = along(book, sale).into_iter();
    let line = |part: PartId| {
        let sold = &book.history.parts.get(part).sold;
        let then: Vec<Rank> = sold.iter().map(|(rank, _)| *rank).filter(|rank| *rank <= sale.rank).collect();
        format!("{} {then:?}\n", book.book.parts[part].named.typed)
    };
    vec![("sold parts".to_owned(), parts.map(line).collect())]
}

/// Parts that went along with a car are the buyer's: on no shelf of the shop's, on no third client's car, on nobody else's bill.
fn stays_sold(book: &Compiled) -> Option<Broken> {
    let broken = |shows: String| {
        let property = "what is sold stays sold";
        Some(Broken { property, section: "sold parts".to_owned(), shows })
    };
    for sale in &book.history.parts.sales {
        let resold = |rank: Rank| {
            book.history
                .parts
                .sales
                .iter()
                .any(|one| one.car == sale.car && one.rank > sale.rank && one.rank <= rank)
        };
        for part in along(book, sale) {
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
                let rank = book.history.order.rank[posting.entry];
                posting.part == Some(part) && rank > sale.rank && posting.client != sale.to && !resold(rank)
            });
            if let Some(posting) = posted {
                let entry = &book.book.entries[posting.entry];
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
    let facts = book.book.extra(&book.book.entries[sale.entry]).and_then(|extra| extra.parts.as_ref());
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

/// Whoever buys a car is handed the same whatever stands in the place of what neither he nor any owner before him may read, but for
/// what the parts that go along cost, where prices are asked for.
pub fn hidden_may_be_anything_to_a_buyer(written: &Written) -> Option<Broken> {
    let files = written.files();
    let book = compiled(&files);
    book.history.parts.sales.iter().find_map(|sale| {
        let sales =
            book.history.parts.sales.iter().filter(|one| one.car == sale.car && one.rank <= sale.rank);
        let first = book.book.cars[sale.car].client;
        let owners: BTreeSet<ClientId> = sales.filter_map(|one| one.to).chain(first).collect();
        let at = |client: &ClientId| {
            let name = &*book.book.clients[*client].named.typed;
            written.clients.iter().position(|one| one.name == name).expect("the generator knows its clients")
        };
        let readers = owners.iter().fold(0, |mask: Readers, client| mask | 1 << at(client));
        let mut changed = written.clone();
        for part in along(&book, sale) {
            let name = &*book.book.parts[part].named.typed;
            let at = written.parts.iter().position(|(one, ..)| one == name);
            changed.payers[at.expect("the generator knows its parts")] |= readers;
        }
        let changed = compiled(&changed.changed_for(readers));
        let property = "what is hidden may be anything to a buyer";
        difference(property, &handed(&book, sale), &handed(&changed, sale))
    })
}

/// Every sum that a reader sees is a sum over lines that he sees. What a buyer is handed has only sums that stand on lines about what he
/// buys, and none where he is given no prices.
pub fn sums_add_up(files: &Files) -> Option<Broken> {
    let book = compiled(files);
    let property = "every sum is a sum over what he may read";
    let of_clients = book.book.clients.keys().find_map(|client| {
        let cut = audience::cut(&book, &Reader::Client(client));
        let section = || format!("costs for {}", book.book.clients[client].named.typed);
        sums::broken(&cut).map(|shows| Broken { property, section: section(), shows })
    });
    let of_buyers = || {
        book.history.parts.sales.iter().find_map(|sale| {
            let bare = purchase(&book, sale);
            [false, true].into_iter().find_map(|prices| {
                let purchase = Purchase { prices, ..bare };
                let cut = audience::cut(&book, &Reader::Buyer(purchase));
                let view = json(&report::handover(&cut, &purchase));
                let bought = if prices { bought(&book, sale) } else { Vec::new() };
                sums::broken_for_buyer(&book, &cut, &bought, &view).map(|shows| {
                    let car = &book.book.cars[sale.car].named.typed;
                    Broken { property, section: format!("handover of {car}"), shows }
                })
            })
        })
    };
    of_clients.or_else(of_buyers)
}

/// The parts that go along with a sale.
pub fn along(book: &Compiled, sale: &Sale) -> Vec<PartId> {
    let parts = book.book.parts.keys();
    parts.filter(|part| went_along(book, sale, *part)).collect()
}

/// The names of what that sale sells: the car, the parts that go along, their specs.
fn bought<'a>(book: &'a Compiled, sale: &Sale) -> Vec<&'a str> {
    let parts = along(book, sale).into_iter().map(|part| &book.book.parts[part]);
    let names = parts.flat_map(|part| {
        let spec = part.spec.map(|spec| &*book.book.specs[spec].named.typed);
        [Some(&*part.named.typed), spec].into_iter().flatten()
    });
    names.chain([&*book.book.cars[sale.car].named.typed]).collect()
}
