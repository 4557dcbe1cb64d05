//! Prize money that was won and then drawn: two lines about one sum.
//!
//! Must not know how a line is booked, nor accounts.

use super::Posting;
use super::posting::Kind;
use crate::book::Book;
use crate::book::entry::Verb;
use crate::money::Amount;

/// Takes a `credit ... prize to CLIENT` for the drawing of what a result of a car of his had won before: the same sum, booked once, by the
/// result, and drawn for him. Of several the first; where none alone has that sum, all of them together may.
pub fn drawn(book: &Book, postings: &mut Vec<Posting>) {
    let is = |posting: &Posting, verb: Verb| {
        posting.kind == Kind::Prize && book.entries.get(posting.entry).is_some_and(|line| line.verb == verb)
    };
    let credits: Vec<usize> = (0..postings.len())
        .filter(|at| {
            postings.get(*at).is_some_and(|one| one.named && one.share.is_none() && is(one, Verb::Credit))
        })
        .collect();
    let mut gone = Vec::new();
    for at in credits {
        let (before, rest) = postings.split_at_mut(at);
        let Some(credit) = rest.first() else { continue };
        let Some(sum) = typed(credit) else { continue };
        let mut won: Vec<&mut Posting> = before
            .iter_mut()
            .filter(|one| !one.named && is(one, Verb::Result) && one.client == credit.client)
            .filter(|one| credit.car.is_none_or(|car| one.car == Some(car)))
            .filter(|one| typed(one).is_some_and(|won| won.currency == sum.currency))
            .collect();
        let all = won.iter().try_fold(Amount::zero(sum.currency), |all, one| all.plus(typed(one)?));
        if let Some(one) = won.iter_mut().find(|one| typed(one) == Some(sum)) {
            one.named = true;
        } else if won.len() > 1 && all == Some(sum) {
            for one in won {
                one.named = true;
            }
        } else {
            continue;
        }
        gone.push(at);
    }
    for at in gone.into_iter().rev() {
        postings.remove(at);
    }
}

/// As it was typed, before it was exchanged.
fn typed(posting: &Posting) -> Option<Amount> {
    posting.exchanged.as_ref().map_or(posting.amount, |exchanged| Some(exchanged.0))
}
