//! What was built into a part, and for how long.
//!
//! Must not know what it ran there: that is on its own page.

use crate::book::model::PartId;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::link::Link;
use serde::Serialize;

/// A part's time in an assembly.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct InnerPart {
    /// The part.
    pub part: String,
    /// Its kind.
    pub kind: String,
    /// Its page.
    pub page: Option<Link>,
    /// Since when.
    pub from: String,
    /// Until when; empty while it lasts.
    pub until: String,
    /// The line that put it in.
    pub src: String,
}

/// Every part that was ever in it, in the order in which they went in.
pub(super) fn inner(desk: &Desk<'_>, assembly: PartId) -> Vec<InnerPart> {
    let tell = desk.tell;
    let cx = &tell.cx;
    let mut list: Vec<(Rank, InnerPart)> = Vec::new();
    for part in tell.travels().inside(assembly).iter().copied() {
        let stays = &cx.history.parts.get(part).stays;
        let inside = |at: usize| stays.get(at).is_some_and(|stay| stay.at == Where::Inside(assembly));
        // The stay begins anew when the assembly changes its car; the part has not moved then.
        for (at, stay) in
            stays.iter().enumerate().filter(|(at, _)| inside(*at) && (*at == 0 || !inside(at - 1)))
        {
            let out = stays.iter().skip(at).find(|stay| stay.at != Where::Inside(assembly));
            list.push((
                stay.from,
                InnerPart {
                    part: cx.part(part).to_owned(),
                    kind: cx.kind_of(part).replace('-', " "),
                    page: desk.table.link(Key::Part(part)),
                    from: tell.since(stay.entry, stay.from),
                    until: out.map_or_else(String::new, |out| tell.since(out.entry, out.from)),
                    src: tell.src_of(stay.entry),
                },
            ));
        }
    }
    list.sort_by_key(|(from, _)| *from);
    list.into_iter().map(|(_, inner)| inner).collect()
}
