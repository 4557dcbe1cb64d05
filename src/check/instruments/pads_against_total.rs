//! `pads-against-total`: the pads and the whole car, read together, that cannot both be true.

use crate::book::entry::{Entry, EntryId, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::weighing::{self, PadsAgainstTotal, Weighing};

/// The check.
pub const CHECK: Check = Check {
    name: "pads-against-total",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "the pads do not add up to the whole car read with them",
    why: "Four pads carry the whole car. Where they were read in one block with the whole car on one scale, and the two differ by more \
          than half a division of each pad and of the scale together, one of the five readings is wrong: a pad not zeroed, a wheel \
          half off its pad, a digit. Fewer pads cannot carry as much as the whole car.",
    wrong: "  left weight 149.0 151.0 171.0 171.0 kg\n  read total-weight 652 kg",
    right: "  left weight 149.0 151.0 171.0 171.0 kg\n  read total-weight 642 kg",
    look: Look::Entry(&[Verb::Found, Verb::Left, Verb::Read], look),
};

fn look(cx: &Context<'_>, at: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let of_scales = ["weight", "total-weight"].map(|name| cx.book.vocabulary.find(name));
    let car = cx.book.head(entry).and_then(|head| head.car);
    let (Some(car), true) = (car, entry.quantity.is_some() && of_scales.contains(&entry.quantity)) else { return };
    let until = |line: EntryId| cx.history.order.rank.get(line).map(|rank| rank.next());
    let against = |line: EntryId| weighing::against_total(cx.facts, car, until(line)?);
    let Some((pads, found)) = against(at).filter(|(_, found)| found.differ()) else { return };
    let Some(scale) = found.total.entry.filter(|scale| *scale == at || pads.last == at) else { return };
    // What the scale said of pads read before has had its message.
    let told = |(before, found): &(Weighing, PadsAgainstTotal)| {
        before.last != pads.last && found.total.entry == Some(scale) && found.differ()
    };
    if scale != at && against(scale).as_ref().is_some_and(told) {
        return;
    }
    let item = cx.item(found.total.item());
    let [sum, room, apart] = [found.pads, found.room, (found.pads - found.total.value).abs()]
        .map(|value| cx.value_like(value, scale, item));
    let total = cx.typed_from(scale, item);
    let text = if found.count == 4 {
        format!("The four pads add up to {sum}, the scale says {total}: {apart} apart, and they can tell {room}.")
    } else {
        let many = if found.count == 1 { "One pad carries" } else { "The pads that were read carry" };
        format!("{many} {sum}, and the scale says {total} for the whole car.")
    };
    let other = if scale == at { pads.last } else { scale };
    out.push(
        CHECK
            .at(entry.span(), text)
            .and(cx.entry(other).span(), if scale == at { "the pads" } else { "the scale" })
            .cure("read both again, or `waive pads-against-total because ...`"),
    );
}
