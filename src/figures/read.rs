//! A reading under a figure's name beside the figure worked out: which of the two stands, and by how much they differ.
//!
//! Must not know any particular figure.

use super::calc::{Calc, Fig, Got, Status};
use super::chain::{NodeId, Root};
use super::formula::Formula;
use super::trace::shown;
use crate::book::entry::EntryId;
use crate::book::figure::Figure;
use crate::book::place::Place;
use crate::history::likeness::{self, Likeness};
use crate::history::order::Rank;
use rustc_hash::FxHashSet;

/// What a figure that was read has beside it: the same by its formula.
pub const BESIDE: &str = "worked_out";

/// The reading, with what is worked out beside it; what is worked out, where that rests on later lines.
pub(super) fn beside<'a>(calc: &mut Calc<'a>, figure: &'a Figure, place: Place, read: &Fig, fig: Fig) -> Got {
    // A way that hands the reading on is no second opinion.
    if read.by == fig.by {
        return Ok(fig);
    }
    // What is supposed is later than whatever was read.
    if fig.by.iter().any(|(root, slope)| matches!(root, Root::WhatIf(_)) && slope.abs() > 1e-12) {
        return Ok(fig);
    }
    let line = |fig: &Fig| calc.nodes.get(fig.node).and_then(|node| node.entry);
    let rank = |entry: EntryId| calc.history.order.rank.get(entry).copied().unwrap_or(Rank::START);
    let head = |entry: EntryId| calc.book.entries.get(entry).map(|entry| entry.head);
    let newest = lines_under(calc, fig.node).into_iter().max_by_key(|entry| rank(*entry));
    if let (Some(then), Some(newest)) = (line(read), newest)
        && rank(newest) > rank(then)
        && head(newest) != head(then)
    {
        let words =
            format!("read before as {}, and what this is worked out from was read later", shown(calc, read));
        calc.cautions.entry(fig.node).or_insert(words.into());
        return Ok(fig);
    }
    let formula = Formula {
        id: &figure.name,
        name: &figure.called,
        expression: "read",
        source: "the book's own reading",
        convention: "what was read under the figure's name stands before what is worked out",
        dimension: figure.dimension,
        shown: "",
        show: figure.show,
    };
    let inputs = [("read", read), (BESIDE, &fig)];
    let mut whole =
        calc.derive_of_as(&formula, place, inputs, Some(Status::Measured), |[read, _]| read.clone())?;
    whole.stale = read.stale;
    whole.back.clone_from(&read.back);
    whole.by.clone_from(&read.by);
    let difference = fig.value - read.value;
    let (u_read, u_fig) = (calc.u(read), calc.u(&fig));
    // How far two numbers may be apart is known only where both say how sure they are.
    let known = u_read.zip(u_fig).and_then(|(a, b)| likeness::of_figures(difference, Some(a), Some(b)));
    // Else what was read without a gauge says by its last digits what it leaves open; it is not as unsure as what stands beside it.
    let open = |fig: &Fig| calc.fine(&fig.by).unwrap_or(0.0);
    let room = (open(read) + open(&fig)).max(1e-9 * read.value.abs());
    let differs = known.unwrap_or_else(|| likeness::within(difference, room)) == Likeness::Moved;
    let words = format!("worked out it is {}", shown(calc, &fig));
    if let Some(node) = calc.nodes.get_mut(whole.node) {
        node.stale = read.stale;
        node.u = u_read;
        if !differs {
            node.sure.clone_from(&words);
        }
    }
    if differs {
        calc.cautions.insert(whole.node, format!("{words}, which is not what was read").into());
    }
    Ok(whole)
}

/// The dated lines under a step. Steps share what is under them, so each is looked at once.
#[must_use]
pub fn lines_under(calc: &Calc<'_>, at: NodeId) -> Vec<EntryId> {
    let (mut list, mut seen, mut open) = (Vec::new(), FxHashSet::default(), vec![at]);
    while let Some(at) = open.pop() {
        let Some(node) = calc.nodes.get(at).filter(|_| seen.insert(at)) else { continue };
        list.extend(node.entry);
        open.extend(node.inputs.iter().map(|(_, input)| *input));
    }
    list
}
