//! `tag-against-bench`: a part measures otherwise than its tag says.

use crate::check::instruments::bench;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{Item, Verb};
use crate::book::model::PartId;
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::number;
use crate::vocabulary::QuantityId;
use rustc_hash::FxHashSet;

/// The check.
pub const CHECK: Check = Check {
    name: "tag-against-bench",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "a part measures more than 3 % otherwise than its tag says",
    why: "A tag is somebody's hope; the bench is what the car feels. Where both are in the book the figures use what was \
          measured. A difference of more than 3 % is worth a look: a sagged spring, a lost tag, or a bench that read wrong. \
          It is said once for each part and quantity.",
    wrong: "part sp-9 spring  tag spring-rate 70 N/mm\n  bench sp-9 spring-rate 66.8, 66.7, 66.9 N/mm",
    right: "  bench sp-9 spring-rate 66.8, 66.7, 66.9 N/mm\n    waive tag-against-bench because the tag was lost and tied on again",
    look: Look::Whole(look),
};

/// The largest share by which bench and tag may differ.
const ROOM: f64 = 0.03;

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut told: FxHashSet<(PartId, QuantityId)> = FxHashSet::default();
    for index in &cx.history.order.entries {
        let entry = cx.entry(*index);
        if entry.verb != Verb::Bench || entry.broken || entry.void {
            continue;
        }
        let (Some(part), Some(quantity)) = (entry.part(), entry.quantity) else { continue };
        let Some((tag, file)) = tag(cx, part, quantity).filter(|(tag, _)| tag.si != 0.0) else { continue };
        let Some(mean) = bench::mean(&bench::values(cx, *index)) else { continue };
        let off = mean / tag.si - 1.0;
        if off.abs() <= ROOM || !told.insert((part, quantity)) {
            continue;
        }
        let unit = tag.unit().get();
        let measured = number::format(unit.from_si(mean), tag.decimals.max(1));
        let (share, side) = (number::format(off.abs() * 100.0, 1), if off < 0.0 { "under" } else { "over" });
        let name = cx.part(part);
        out.push(
            CHECK
                .at(
                    entry.span(),
                    format!(
                        "{name} measures {measured} {}, {share} % {side} its tag ({}); figures use what was measured.",
                        unit.shown(),
                        cx.text(tag.span(file)),
                    ),
                )
                .and(tag.span(file), "the tag")
                .cure("bench it again, or `waive tag-against-bench because ...`"),
        );
    }
}

/// What the part's own tag says, or its spec's.
fn tag<'a>(
    cx: &Context<'a>,
    part: PartId,
    quantity: QuantityId,
) -> Option<(&'a Item, crate::source::FileId)> {
    let part = cx.book.parts.get(part)?;
    let spec = part.spec.and_then(|spec| cx.book.specs.get(spec));
    let own = part.tags.iter().map(|tag| (tag, part.named.declared.file));
    let all = own.chain(spec.into_iter().flat_map(|spec| spec.tags.iter().map(|tag| (tag, spec.named.declared.file))));
    let mut all = all.filter(|((of, item), _)| *of == quantity && item.has_value());
    all.next().map(|((_, item), file)| (item, file))
}
