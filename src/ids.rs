//! Ids: the number of a thing in the one list that holds it, as a type of its own, so that two of them cannot be swapped.
//!
//! Must not know what any of them is the number of. An `Option` of an id is as small as the id.

/// Makes id types: `/// A car. CarId: u32`. Lists are [`typed_index_collections::TiVec`], indexed by their own id alone.
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
