//! `inner-part-forgotten`: an assembly was rebuilt, and a piece inside it keeps its age.

use crate::history::order::Rank;
use crate::book::entry::{Verb, EntryId};
use crate::book::model::PartId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::parts::Where;
use crate::words;
use rustc_hash::FxHashMap;

/// The check.
pub const CHECK: Check = Check {
    name: "inner-part-forgotten",
    severity: Severity::Note,
    family: Family::Parts,
    brief: "an assembly was rebuilt, and a piece inside it keeps its age",
    why: "A `rebuild` begins a new life for the named part only. The pieces inside keep what they have run, unless \
          the line says `with all` or they have a `rebuild` of their own that day. Usually right for a hub whose \
          seals were changed, and usually wrong for an engine. Nothing is said of a piece that was put in or taken out that day.",
    wrong: "  build wb-1 into hub-1\n  rebuild hub-1",
    right: "  build wb-1 into hub-1\n  rebuild hub-1 with all",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut rebuilds: Vec<(EntryId, PartId)> = Vec::new();
    for (index, entry) in cx.book.entries.iter_enumerated() {
        let all = cx.book.extra(entry).and_then(|extra| extra.parts.as_ref()).is_some_and(|facts| facts.all);
        if entry.verb == Verb::Rebuild
            && !entry.broken
            && !all
            && let Some(part) = entry.part()
        {
            rebuilds.push((index, part));
        }
    }
    if rebuilds.is_empty() {
        return;
    }
    let mut inside: FxHashMap<PartId, Vec<(Rank, Rank, PartId)>> = FxHashMap::default();
    for (index, history) in cx.history.parts.all.iter_enumerated() {
        for stay in &history.stays {
            if let Where::Inside(assembly) = stay.at {
                inside.entry(assembly).or_default().push((stay.from, stay.until, index));
            }
        }
    }
    for (entry, part) in rebuilds {
        let rank = cx.rank(entry);
        let line = cx.text(cx.entry(entry).span()).to_ascii_lowercase();
        let mut left: Vec<PartId> = inside
            .get(&part)
            .map_or(&[][..], Vec::as_slice)
            .iter()
            .filter(|(from, until, _)| *from < rank && rank <= *until)
            .map(|(.., inner)| *inner)
            .filter(|inner| {
                if touched(cx, *inner, part, entry) {
                    return false;
                }
                let named = line.contains(&cx.part(*inner).to_ascii_lowercase());
                let rebuilds = &cx.history.parts.get(*inner).rebuilds;
                !named && !rebuilds.iter().any(|rebuild| cx.date(rebuild.entry) == cx.date(entry))
            })
            .collect();
        left.dedup();
        if !left.is_empty() {
            out.push(message(cx, entry, part, &left));
        }
    }
}

/// Whether it went into the assembly or came out of it on the day of the line: somebody had it in hand.
fn touched(cx: &Context<'_>, inner: PartId, assembly: PartId, entry: EntryId) -> bool {
    let day = cx.date(entry);
    let stays = &cx.history.parts.get(inner).stays;
    stays.iter().enumerate().any(|(at, stay)| {
        let left = stays.get(at + 1).map(|next| next.entry);
        stay.at == Where::Inside(assembly)
            && (cx.date(stay.entry) == day || left.is_some_and(|left| cx.date(left) == day))
    })
}

fn message(cx: &Context<'_>, entry: EntryId, part: PartId, left: &[PartId]) -> Diagnostic {
    let names: Vec<String> = left.iter().map(|inner| cx.part(*inner).to_owned()).collect();
    let keeps = if left.len() == 1 { "keeps its" } else { "keep their" };
    CHECK
        .at(
            told::part_span(cx, entry, part),
            format!("{} is inside {} and {keeps} age: this line rebuilds {} only.", words::and(&names), cx.part(part), cx.part(part))
                .replace(" is inside", if left.len() == 1 { " is inside" } else { " are inside" }),
        )
        .cure("write `with all` if everything inside is new, or a `rebuild` for each piece that is")
}
