//! Prize money that was won and then drawn: two lines about one sum.
//!
//! Must not know how a line is booked, nor accounts.

use super::Posting;
use super::posting::Kind;
use crate::book::Book;
use crate::book::entry::Verb;
use crate::book::model::{CarId, ClientId};
use crate::money::Amount;
use std::collections::{BTreeMap, BTreeSet};

/// Takes a `credit ... prize to CLIENT` for the drawing of what a result of a car of his had won before: the same sum, booked once, by the
/// result, and drawn for him. Of several the first; where none alone has that sum, all of them together may.
pub fn drawn(book: &Book, postings: &mut Vec<Posting>) {
    // Of each client what his cars have won and nobody has drawn: where it is booked, of which car, the sum.
    let mut won: BTreeMap<ClientId, Vec<(usize, Option<CarId>, Amount)>> = BTreeMap::new();
    let (mut named, mut gone) = (BTreeSet::new(), BTreeSet::new());
    for (at, posting) in postings.iter().enumerate().filter(|(_, one)| one.kind == Kind::Prize) {
        let (Some(client), Some(sum)) = (posting.client, typed(posting)) else { continue };
        let verb = book.entries.get(posting.entry).map(|line| line.verb);
        let list = won.entry(client).or_default();
        if verb == Some(Verb::Result) {
            list.push((at, posting.car, sum));
        }
        if verb != Some(Verb::Credit) || !posting.named || posting.share.is_some() {
            continue;
        }
        let his = |car: Option<CarId>| posting.car.is_none() || car == posting.car;
        let of: Vec<(usize, Amount)> = list
            .iter()
            .filter(|(_, car, one)| his(*car) && one.currency == sum.currency)
            .map(|(at, _, one)| (*at, *one))
            .collect();
        let all = of.iter().try_fold(Amount::zero(sum.currency), |all, (_, one)| all.plus(*one));
        let meant: Vec<usize> = match of.iter().find(|(_, one)| *one == sum) {
            Some((one, _)) => vec![*one],
            None if of.len() > 1 && all == Some(sum) => of.iter().map(|(at, _)| *at).collect(),
            None => continue,
        };
        list.retain(|(at, ..)| !meant.contains(at));
        named.extend(meant);
        gone.insert(at);
    }
    let mut at = 0;
    postings.retain_mut(|posting| {
        posting.named |= named.contains(&at);
        at += 1;
        !gone.contains(&(at - 1))
    });
}

/// As it was typed, before it was exchanged.
fn typed(posting: &Posting) -> Option<Amount> {
    posting.exchanged.as_ref().map_or(posting.amount, |exchanged| Some(exchanged.0))
}
