//! Each law meets its case: a law about sales, of books in which nothing is sold, would hold of anything.

use super::book::{Knobs, Written, seeded};
use super::holds::readers::{along, purchase, sellers};
use super::holds::{compiled, cut_back, layout, sums};
use std::collections::BTreeMap;
use stringline::answer::json;
use stringline::audience::{self, Purchase, Reader};
use stringline::book::model::ClientId;
use stringline::report;

type Met = BTreeMap<&'static str, usize>;

/// Books that between them have every case: some with cars that are sold on.
const BOOKS: u64 = 60;

fn note(met: &mut Met, case: &'static str, times: usize) {
    *met.entry(case).or_default() += times;
}

/// The cases of the laws about sales.
fn of_sales(written: &Written, met: &mut Met) {
    let files = written.files();
    let book = compiled(&files);
    let parts = &book.history.parts;
    let alone = sellers(&book).len();
    note(met, "a seller without another car", alone);
    note(met, "a seller with another car", parts.sales.len() - alone);
    for sale in &parts.sales {
        let before = parts.sales.iter().any(|one| one.car == sale.car && one.rank < sale.rank);
        note(met, "a car that is sold on", usize::from(before));
        let less = cut_back::for_new_owner(&book, &files, sale);
        note(met, "lines for the new owner", usize::from(less != files));
        for part in along(&book, sale) {
            note(met, "a part that goes along", 1);
            let later = parts.get(part).stays.iter().filter(|stay| stay.from > sale.rank);
            note(met, "a sold part that goes on a car", later.filter(|stay| stay.car.is_some()).count());
            // What it cost was paid by then; a line that fits it first might book it once more.
            let first = parts.get(part).stays.iter().find(|stay| stay.car.is_some());
            let spare = first.is_some_and(|stay| stay.from > sale.rank);
            let priced = book.costs.postings.iter().any(|one| one.part == Some(part) && one.amount.is_some());
            note(met, "a spare with a price, sold and then fitted", usize::from(spare && priced));
        }
        let priced = Purchase { prices: true, ..purchase(&book, sale) };
        let cut = audience::cut(&book, &Reader::Buyer(priced));
        let view = json(&report::handover(&cut, &priced));
        note(met, "a sum handed to a buyer", sums::sums_in(&view).len());
    }
}

/// The cases of the laws about what a client reads.
fn of_clients(written: &Written, met: &mut Met) {
    let files = written.files();
    let book = compiled(&files);
    for at in 0..written.clients.len() {
        note(met, "words that are hidden from a client", usize::from(written.changed_for(1 << at) != files));
        let cut = audience::cut(&book, &Reader::Client(ClientId::from(at)));
        note(
            met,
            "a sum that a client reads",
            cut.costs.postings.iter().filter(|one| one.amount.is_some()).count(),
        );
        let failures = &cut.costs.failures;
        note(met, "a failure of a client's", failures.len());
        let lost = failures.iter().filter_map(|one| one.lost?.entry);
        note(met, "entry money lost with it", lost.filter(|entry| !entry.value.is_zero()).count());
    }
}

#[test]
fn every_law_meets_its_case() {
    let mut met = Met::new();
    for seed in 0..BOOKS {
        let written = seeded(seed, 1200, Knobs { resale: seed % 2 == 1, ..Knobs::default() });
        of_sales(&written, &mut met);
        of_clients(&written, &mut met);
        let untidy = layout::untidy(&written.files(), seed);
        let laid = layout::laid(&compiled(&untidy), &untidy);
        note(
            &mut met,
            "a file that format changes",
            untidy.iter().zip(&laid).filter(|(a, b)| a != b).count(),
        );
    }
    let never: Vec<&str> = met.iter().filter(|(_, times)| **times == 0).map(|(case, _)| *case).collect();
    assert!(never.is_empty(), "no book of {BOOKS} has {never:?}: {met:?}");
}
