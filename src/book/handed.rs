//! What a line says about a page that was handed out: which, to whom, and its fingerprint as it was then.
//!
//! Must not know entries, nor how a page is made.

use super::model::{ClientId, EventId};

macro_rules! pages {
    ($($(#[$doc:meta])* $name:ident $word:literal),* $(,)?) => {
        /// A page that may be handed to a client.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum HandedPage { $($(#[$doc])* $name),* }

        impl HandedPage {
            /// Every page, in the reference's order.
            pub const ALL: &[Self] = &[$(Self::$name),*];

            /// The word in a ledger.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$name => $word),* }
            }
        }
    };
}
pages! {
    /// The letter to a client: of no car.
    Letter "letter",
    /// A car's season.
    Season "season",
    /// A car's setup for an event.
    SetupSheet "setup-sheet",
    /// A car before the scrutineers of an event.
    Card "card",
    /// A car on the flat.
    AlignmentSheet "alignment-sheet",
    /// A car between sessions.
    Now "now",
    /// A car's power and fuel.
    Power "power",
    /// A car's engine, cylinder by cylinder.
    EngineCheck "engine-check",
    /// A car after an impact.
    CrashSheet "crash-sheet",
    /// The book that goes with a car to its buyer.
    HandOver "hand-over",
}

impl HandedPage {
    /// The page of that word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|page| word.eq_ignore_ascii_case(page.word()))
    }

    /// Whether it is about the car of its head.
    #[must_use]
    pub const fn is_of_car(self) -> bool {
        !matches!(self, Self::Letter)
    }

    /// Whether it is about an event, which the line or its head has to name.
    #[must_use]
    pub const fn is_of_event(self) -> bool {
        matches!(self, Self::SetupSheet | Self::Card)
    }

    /// Whether it may be about an event.
    #[must_use]
    pub const fn takes_event(self) -> bool {
        self.is_of_event() || matches!(self, Self::CrashSheet)
    }
}

/// The fingerprint of what a page tells: 48 bits, twelve hexadecimal digits in three groups.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct PagePrint(u64);

impl PagePrint {
    /// How many digits it has.
    const DIGITS: usize = 12;

    /// Reads `4f3a-91c2-07b1`; hyphens and capitals are as one likes.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let digits: String = text.chars().filter(|c| *c != '-').collect();
        let is_hex = digits.len() == Self::DIGITS && digits.bytes().all(|byte| byte.is_ascii_hexdigit());
        u64::from_str_radix(&digits, 16).ok().filter(|_| is_hex).map(Self)
    }

    /// "4f3a-91c2-07b1".
    #[must_use]
    pub fn words(self) -> String {
        let groups = [self.0 >> 32, self.0 >> 16, self.0].map(|group| format!("{:04x}", group & 0xffff));
        groups.join("-")
    }
}

/// What a `handed` line says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HandedFacts {
    /// Which page; the car is that of its head.
    pub page: HandedPage,
    /// The year of a season.
    pub year: Option<i16>,
    /// The event that it is about, the head's where the line names none.
    pub event: Option<EventId>,
    /// To whom.
    pub client: ClientId,
    /// Its fingerprint then.
    pub print: PagePrint,
}
