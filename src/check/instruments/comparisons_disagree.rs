//! `comparisons-disagree`: comparisons of gauges that cannot all be right.

use crate::book::entry::{HeldAgainst, EntryId};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::gauges::Quarrel;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "comparisons-disagree",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "comparisons of gauges that cannot all be right",
    why: "Two comparisons of one pair on one day, or three or more round a ring (this gauge with that, that with the reference, the reference \
          with this), say one thing within half a division of each gauge. Where they do not, one of them was read or typed wrong, or a gauge has \
          moved between them. Until it is settled, what is corrected by them is taken to be so much less sure. Compare them again, or `void` the \
          line that is wrong.",
    wrong: "  compare pg-1 24.0 pg-2 24.6 psi\n  compare pg-1 30.3 reference 30.0 psi\n  compare pg-2 30.1 reference 30.0 psi",
    right: "  compare pg-1 24.0 pg-2 24.6 psi\n  compare pg-1 29.7 reference 30.0 psi\n  compare pg-2 30.3 reference 30.0 psi",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    if !cx.history.gauges.is_empty() {
        out.extend(cx.history.gauges.quarrels().iter().filter_map(|quarrel| message(cx, quarrel)));
    }
}

fn message(cx: &Context<'_>, quarrel: &Quarrel) -> Option<Diagnostic> {
    let last = quarrel.lines.iter().copied().max_by_key(|line| cx.rank(*line))?;
    let item = cx.book.items_of(cx.entry(last)).first()?;
    let like = |si: f64| {
        let shown = crate::book::entry::Item { decimals: item.decimals.saturating_add(1), ..*item };
        cx.difference_like(si, last, &shown)
    };
    let mut names: Vec<&str> = Vec::new();
    for line in &quarrel.lines {
        for name in sides(cx, *line) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    let others: Vec<String> =
        quarrel.lines.iter().filter(|line| **line != last).map(|line| cx.when(*line, cx.entry(last).span())).collect();
    let how = if quarrel.same_day { "differ by" } else { "do not close, by" };
    let mut found = CHECK
        .at(
            cx.entry(last).span(),
            format!(
                "The comparisons of {} {how} {}, and leave {} open ({}).",
                words::and(&names),
                like(quarrel.apart),
                like(quarrel.room),
                words::and(&others)
            ),
        )
        .cure("compare them again, or `void` the line that is wrong");
    for line in quarrel.lines.iter().filter(|line| **line != last) {
        found = found.and(cx.entry(*line).span(), "against this");
    }
    Some(found)
}

/// The two sides of a comparison.
fn sides<'a>(cx: &Context<'a>, line: EntryId) -> Vec<&'a str> {
    let Some(compared) = cx.book.extra(cx.entry(line)).and_then(|extra| extra.compared) else { return Vec::new() };
    let name = |which: HeldAgainst| match which {
        HeldAgainst::Gauge(id) => cx.book.gauges.get(id).map_or("?", |gauge| &gauge.named.typed),
        HeldAgainst::Reference => "the reference",
    };
    vec![name(HeldAgainst::Gauge(compared.gauge)), name(compared.against)]
}
