//! The words that open a clause, and sets of them.
//!
//! Must not know how a clause is read, nor verbs.

macro_rules! clauses {
    ($count:literal: $($name:ident $word:literal),* $(,)?) => {
        /// The words that open a clause. One list: reading, did-you-mean and the layout of `format` ask it.
        pub const CLAUSES: [&str; $count] = [$($word),*];

        /// A clause, by the word that opens it.
        #[allow(missing_docs)]
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Clause { $($name),* }

        impl Clause {
            /// Every clause, as [`CLAUSES`] has them.
            pub const ALL: [Self; $count] = [$(Self::$name),*];
            /// The word in a ledger.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$name => $word),* }
            }
        }
    };
}
clauses! { 17:
    By "by", With "with", Over "over", At "at", During "during", After "after", Lap "lap", From "from", To "to",
    Into "into", On "on", For "for", Because "because", FoundBy "found-by", Mode "mode", Mechanism "mechanism",
    Cause "cause",
}

/// The words that open a clause of a dated head.
pub const HEAD_CLAUSES: [&str; 4] = ["at", "by", "for", "written"];

impl Clause {
    /// The clause that a word opens.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| word.eq_ignore_ascii_case(one.word()))
    }
}

impl Clause {
    /// Whether a line has one of it at most. Conditions may stand in several places, and whoever is left out by one of two
    /// `for` does not read the line.
    #[must_use]
    pub const fn says_one_thing(self) -> bool {
        match self {
            Self::By
            | Self::Over
            | Self::At
            | Self::During
            | Self::After
            | Self::Lap
            | Self::From
            | Self::To
            | Self::On
            | Self::FoundBy
            | Self::Mode
            | Self::Mechanism
            | Self::Cause => true,
            Self::With | Self::Into | Self::For | Self::Because => false,
        }
    }
}

/// Some of the clauses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ClauseSet(u32);

impl ClauseSet {
    /// None of them.
    pub const NONE: Self = Self(0);

    /// Puts one in.
    pub const fn add(&mut self, clause: Clause) {
        self.0 |= 1 << clause as u32;
    }

    /// Takes one out.
    pub const fn remove(&mut self, clause: Clause) {
        self.0 &= !(1 << clause as u32);
    }

    /// Whether one is in.
    #[must_use]
    pub const fn has(self, clause: Clause) -> bool {
        self.0 & (1 << clause as u32) != 0
    }

    /// Whether none is in.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }
}
