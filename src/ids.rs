//! Ids: the number of a thing in the one list that holds it, as a type of its own, so that two of them cannot be swapped;
//! and that list.
//!
//! Must not know what any of them is the number of. An `Option` of an id is as small as the id.

use std::ops::{Index, IndexMut};
use typed_index_collections::{TiSlice, TiSliceIndex, TiVec};

/// A list that is indexed by its own id alone: `book.parts[part]`. An id is made by the list that it counts and never leaves
/// its book, so what it names is there; whatever else is indexed is linted (`indexing_slicing`).
#[derive(Clone, PartialEq, Eq)]
pub struct Arena<K, V>(TiVec<K, V>);

/// What [`Arena::get`] gives: an `Option` by another name, since clippy's `indexing_slicing` takes whatever has a plain `get`
/// for a list that anything may index.
pub trait Lookup {
    /// The thing, if it is there.
    type Found<'a>
    where
        Self: 'a;
}

impl<K, V> Lookup for Arena<K, V> {
    type Found<'a>
        = Option<&'a V>
    where
        Self: 'a;
}

impl<K, V: std::fmt::Debug> std::fmt::Debug for Arena<K, V> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.as_slice().fmt(f)
    }
}

impl<K, V> Arena<K, V> {
    /// With nothing in it.
    #[must_use]
    pub const fn new() -> Self {
        Self(TiVec::new())
    }

    /// With room for so many.
    #[must_use]
    pub fn with_capacity(room: usize) -> Self {
        Self(TiVec::with_capacity(room))
    }

    /// How many it holds.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether it holds none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What it holds, in order.
    pub fn iter(&self) -> std::slice::Iter<'_, V> {
        self.0.iter()
    }

    /// The same, to change.
    pub fn iter_mut(&mut self) -> std::slice::IterMut<'_, V> {
        self.0.iter_mut()
    }

    /// The first.
    #[must_use]
    pub fn first(&self) -> Option<&V> {
        self.0.raw.first()
    }

    /// The last.
    #[must_use]
    pub fn last(&self) -> Option<&V> {
        self.0.raw.last()
    }

    /// The same, to change.
    pub fn last_mut(&mut self) -> Option<&mut V> {
        self.0.raw.last_mut()
    }

    /// What it holds, without ids.
    #[must_use]
    pub fn as_slice(&self) -> &[V] {
        &self.0.raw
    }

    /// The same as a vector, for whoever fills or sorts it.
    pub const fn as_vec(&mut self) -> &mut Vec<V> {
        &mut self.0.raw
    }
}

impl<K: From<usize>, V> Arena<K, V>
where
    usize: From<K>,
{
    /// What that id names, where it may be another list's.
    #[inline]
    pub fn get(&self, id: K) -> <Self as Lookup>::Found<'_> {
        self.0.get(id)
    }

    /// The same, to change.
    pub fn get_mut(&mut self, id: K) -> Option<&mut V> {
        self.0.get_mut(id)
    }

    /// Puts one at the end; its id.
    pub fn push(&mut self, value: V) -> K {
        self.0.push_and_get_key(value)
    }

    /// What a range of ids names; nothing where that ends before it starts or goes on after the last.
    pub fn within<R: TiSliceIndex<K, V, Output = TiSlice<K, V>>>(&self, ids: R) -> &[V] {
        self.0.get(ids).map(|found| &found.raw).unwrap_or_default()
    }

    /// The first id of what a test does not hold of, in a list sorted by that test.
    pub fn partition_point(&self, holds: impl FnMut(&V) -> bool) -> K {
        self.0.partition_point(holds)
    }

    /// The id that the next one will have.
    #[must_use]
    pub fn next_key(&self) -> K {
        self.0.next_key()
    }

    /// Every id, in order.
    pub fn keys(&self) -> impl DoubleEndedIterator<Item = K> + ExactSizeIterator + Clone + use<K, V> {
        self.0.keys()
    }

    /// The id of the last.
    #[must_use]
    pub fn last_key(&self) -> Option<K> {
        self.0.last_key()
    }

    /// What it holds, with ids.
    pub fn iter_enumerated(&self) -> impl DoubleEndedIterator<Item = (K, &V)> + ExactSizeIterator + Clone {
        self.0.iter_enumerated()
    }

    /// The same from an id on. To skip as many would walk over all of them.
    pub fn iter_from(&self, id: K) -> impl DoubleEndedIterator<Item = (K, &V)> + ExactSizeIterator + Clone {
        let first = usize::from(id).min(self.len());
        let rest = self.as_slice().get(first..).unwrap_or_default();
        rest.iter().enumerate().map(move |(at, value)| (K::from(first + at), value))
    }
}

impl<K, V> Default for Arena<K, V> {
    fn default() -> Self {
        Self::new()
    }
}

impl<K, V> Index<K> for Arena<K, V>
where
    usize: From<K>,
{
    type Output = V;

    #[expect(
        clippy::indexing_slicing,
        reason = "the one place where a list is indexed: an id is made by the list it counts"
    )]
    #[inline]
    fn index(&self, id: K) -> &V {
        &self.0[id]
    }
}

impl<K, V> IndexMut<K> for Arena<K, V>
where
    usize: From<K>,
{
    #[expect(clippy::indexing_slicing, reason = "the same, to change")]
    fn index_mut(&mut self, id: K) -> &mut V {
        &mut self.0[id]
    }
}

impl<'a, K, V> IntoIterator for &'a Arena<K, V> {
    type Item = &'a V;
    type IntoIter = std::slice::Iter<'a, V>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

impl<'a, K, V> IntoIterator for &'a mut Arena<K, V> {
    type Item = &'a mut V;
    type IntoIter = std::slice::IterMut<'a, V>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter_mut()
    }
}

impl<K, V> IntoIterator for Arena<K, V> {
    type Item = V;
    type IntoIter = std::vec::IntoIter<V>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl<K, V> FromIterator<V> for Arena<K, V> {
    fn from_iter<I: IntoIterator<Item = V>>(values: I) -> Self {
        Self(values.into_iter().collect())
    }
}

impl<K, V> Extend<V> for Arena<K, V> {
    fn extend<I: IntoIterator<Item = V>>(&mut self, values: I) {
        self.0.extend(values);
    }
}

impl<K, V> From<Vec<V>> for Arena<K, V> {
    fn from(values: Vec<V>) -> Self {
        Self(values.into())
    }
}

/// Makes id types: `/// A car. CarId: u32`. Lists are [`Arena`]s, indexed by their own id alone.
macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident: $number:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name(std::num::NonZero<$number>);

        impl $name {
            /// The id of that number, counted from 0.
            #[must_use]
            pub const fn new(number: $number) -> Self {
                Self(std::num::NonZero::<$number>::MIN.saturating_add(number))
            }

            /// Its number, counted from 0.
            #[must_use]
            pub const fn number(self) -> $number {
                self.0.get() - 1
            }

            /// The id so many further on.
            #[must_use]
            pub fn plus(self, more: usize) -> Self {
                Self::from(self.index() + more)
            }

            /// The same, to count with.
            #[must_use]
            pub const fn index(self) -> usize {
                self.number() as usize
            }
        }

        impl From<usize> for $name {
            fn from(index: usize) -> Self {
                Self::new($number::try_from(index).unwrap_or($number::MAX))
            }
        }

        impl From<$name> for usize {
            fn from(id: $name) -> Self {
                id.index()
            }
        }
    )*};
}
pub(crate) use ids;
