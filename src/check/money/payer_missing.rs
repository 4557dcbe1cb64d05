//! `payer-missing`: money or hours on a car that has no client.

use crate::book::entry::{Verb, EntryId};
use crate::book::What;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use std::collections::BTreeMap;

/// The check.
pub const CHECK: Check = Check {
    name: "payer-missing",
    severity: Severity::Note,
    family: Family::Money,
    brief: "money or hours on a car that has no client",
    why: "Whoever owns a car pays for it, and the totals of a client are made of his cars. A car without a client is in \
          nobody's total; the shop's own cars have a client too, declared `unbilled`.",
    wrong: "car wren \"Wren\"\n...\n2026-05-11 wren\n  cost 46.00 EUR parts",
    right: "client hollin \"The shop's own\"  unbilled\ncar wren \"Wren\"  client hollin\n...\n2026-05-11 wren\n  cost 46.00 EUR parts",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    // Of a car whose client cannot be read that is what is said.
    let lost = |what: &What| match what {
        What::PropertyTwice { property, .. } => property == "client",
        What::NameUnknown { wanted, .. } | What::NameWrongSort { wanted, .. } => *wanted == "client",
        _ => false,
    };
    if cx.book.troubles.iter().any(|trouble| lost(&trouble.what)) {
        return;
    }
    let mut cars: BTreeMap<_, (EntryId, u32)> = BTreeMap::new();
    for posting in cx.costs.postings.iter().filter(|posting| posting.client.is_none()) {
        let typed = matches!(cx.entry(posting.entry).verb, Verb::Hours | Verb::Cost | Verb::Credit | Verb::Result);
        if let Some(car) = posting.car.filter(|_| typed) {
            cars.entry(car).or_insert((posting.entry, 0)).1 += 1;
        }
    }
    for (car, (first, count)) in cars {
        let (name, entry) = (cx.car(car), cx.entry(first));
        let lines = if count == 1 { "this line".to_owned() } else { format!("{count} lines of cost") };
        let declared = cx.book.cars.get(car).map(|car| car.named.declared);
        let mut said = CHECK.at(entry.span(), format!("Who pays {lines} of {name}? It has no client."));
        if let Some(declared) = declared {
            said = said.and(declared, "declared here");
        }
        out.push(said.cure(format!("declare it, `car {name} ...  client NAME`, or end the line with `to CLIENT`")));
    }
}
