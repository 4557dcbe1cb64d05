//! Parts of which the shop does not know whether they are still where they were put, since a line with a mistake may have moved them: their
//! reader does not know it either, though he reads no word of that line.
//!
//! Must not know texts.

use super::scope::Scope;
use crate::Compiled;
use crate::book::verbs::VerbGroup;
use crate::history::History;
use crate::history::claim::Claim;
use crate::history::order::Rank;

/// Puts the doubts of the whole book that come from lines of his cars into the history of his book; only lines that he would read but for
/// their mistake, and only parts that concern him.
pub(super) fn doubts(history: &mut History, compiled: &Compiled, scope: &Scope<'_>) {
    let whole = &compiled.history;
    let his = |rank: &Rank| {
        let index = *whole.order.entries.get(*rank)?;
        let entry = compiled.book.entries.get(index)?;
        let of_part = matches!(entry.verb.group(), VerbGroup::Part(_));
        (of_part && scope.reads_but_for_mistake(index, entry)).then_some(index)
    };
    for (part, told) in whole.parts.all.iter_enumerated().filter(|(part, _)| scope.parts.contains(part)) {
        let rank_of = |rank: &Rank| history.order.rank.get(his(rank)?).copied();
        let places: Vec<Rank> = told.doubts.iter().filter_map(rank_of).collect();
        let end = |rank: Rank| {
            let entry = whole.order.entries.get(rank);
            entry.and_then(|entry| history.order.rank.get(*entry)).copied().unwrap_or(Rank::END)
        };
        let claims = told.claims.iter().filter(|claim| claim.car.is_none());
        let claim =
            |claim: &Claim| Some(Claim { car: None, from: rank_of(&claim.from)?, until: end(claim.until) });
        let claims: Vec<Claim> = claims.filter_map(claim).collect();
        let Some(own) = history.parts.all.get_mut(part) else { continue };
        own.doubts.extend(places);
        own.doubts.sort_unstable();
        own.doubts.dedup();
        own.claims.extend(claims);
    }
}
