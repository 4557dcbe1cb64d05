//! Every part on a car at a moment, in its places and in the assemblies there.
//!
//! Must not know what is asked of a part.

use crate::book::model::CarId;
use crate::due::fitted::{Fitted, one_place};
use crate::history::order::Rank;
use crate::report::teller::Teller;

/// The parts on a car at the moment before a rank, each assembly followed by what is in it.
pub(in crate::report) fn aboard(tell: &Teller<'_>, car: CarId, rank: Rank) -> Vec<Fitted> {
    let cx = &tell.cx;
    let mut all = Vec::new();
    for there in cx.on(car, rank).places() {
        let holder = Fitted { car, kind: there.kind, place: there.place, part: there.part, inside: None };
        let mut open: Vec<Fitted> = vec![holder];
        // A loop, not a recursion: nests may be deep.
        while let Some(one) = open.pop() {
            let Some(part) = one.part else { continue };
            all.push(one);
            for inner in cx.history.parts.inside(part, rank) {
                let Some(kind) = cx.book.parts.get(inner).and_then(|part| part.kind) else { continue };
                open.push(Fitted { kind, part: Some(inner), inside: Some(part), ..one });
            }
        }
    }
    all
}

/// "coupling LR", "bearing RF"; "belts", where a kind has but one place on its car.
pub(in crate::report) fn what(tell: &Teller<'_>, fitted: &Fitted) -> String {
    let kind = tell.cx.book.kinds.get(fitted.kind).map_or("", |kind| &kind.named.typed);
    let named = kind.replace('-', " ");
    if one_place(tell.cx.book, fitted.kind, fitted.car) {
        return named;
    }
    format!("{named} {}", tell.cx.place(fitted.place)).trim_end().to_owned()
}
