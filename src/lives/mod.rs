//! Lives of parts: how each began, how much it ran on every clock, how it ended; and what such records say.
//!
//! Knows the book and its history. Must not know words, reports or messages; figures stand in SI units (seconds, metres, counts).

pub mod life;
pub mod study;

use crate::book::Book;
use crate::book::model::{KindId, PartId, SpecId};
use crate::history::History;
use crate::history::order::Rank;
use crate::ids::{Arena, ids};
pub use life::{End, Life};
use rayon::prelude::*;
use rustc_hash::FxHashMap;

/// Every life of every part.
#[derive(Debug, Clone, Default)]
pub struct Lives {
    /// In the order of the book's parts; those of one part in the order they were lived.
    pub all: Arena<LifeId, Life>,
    of_part: Arena<PartId, std::ops::Range<LifeId>>,
    of_kind: Arena<KindId, Vec<LifeId>>,
    of_spec: FxHashMap<(KindId, Option<SpecId>), Vec<LifeId>>,
}

/// Works out every life, as the book knew it at the moment before rank `cut` ([`Rank::END`] for all of it).
#[must_use]
pub fn lives(book: &Book, history: &History, cut: Rank) -> Lives {
    let parts: Vec<Vec<Life>> = (0..book.parts.len())
        .into_par_iter()
        .map(|part| life::of(book, history, PartId::from(part), cut))
        .collect();
    let mut lives = Lives { of_kind: vec![Vec::new(); book.kinds.len()].into(), ..Lives::default() };
    for (part, own) in book.parts.keys().zip(parts) {
        let first = lives.all.next_key();
        let kind = book.parts[part].kind;
        for life in own {
            let spec = life.spec;
            let id = lives.all.push(life);
            if let Some((kind, list)) = kind.and_then(|kind| Some((kind, lives.of_kind.get_mut(kind)?))) {
                list.push(id);
                lives.of_spec.entry((kind, spec)).or_default().push(id);
            }
        }
        lives.of_part.push(first..lives.all.next_key());
    }
    lives
}

ids! {
    /// A life.
    LifeId: u32,
}

impl Lives {
    /// A part's lives, in order; never none for a part of the book.
    #[must_use]
    pub fn of_part(&self, part: PartId) -> &[Life] {
        self.of_part.get(part).map(|lives| self.all.within(lives.clone())).unwrap_or_default()
    }

    /// The life a part is in now.
    #[must_use]
    pub fn now(&self, part: PartId) -> Option<&Life> {
        self.of_part(part).last()
    }

    /// Lives of a kind, in the order of the book's parts.
    pub fn of_kind(&self, kind: KindId) -> impl Iterator<Item = &Life> {
        self.indices_of_kind(kind).map(|(_, life)| life)
    }

    /// Lives of a kind and spec with their indices in [`Lives::all`], in the same order.
    pub fn indices_of_spec(
        &self,
        kind: KindId,
        spec: Option<SpecId>,
    ) -> impl Iterator<Item = (LifeId, &Life)> {
        let list = self.of_spec.get(&(kind, spec)).map_or(&[][..], Vec::as_slice);
        list.iter().map(|id| (*id, &self.all[*id]))
    }

    /// The same, each with its index in [`Lives::all`].
    pub fn indices_of_kind(&self, kind: KindId) -> impl Iterator<Item = (LifeId, &Life)> {
        let list = self.of_kind.get(kind).map_or(&[][..], Vec::as_slice);
        list.iter().map(|id| (*id, &self.all[*id]))
    }
}
