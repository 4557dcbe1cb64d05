//! Which verbs belong together, so that whoever tells some apart is asked about a new one by the compiler.
//!
//! Must not know what any of them does.

use super::entry::Verb;

/// Words of a `laps` line that mark the lap before them: no time to compare.
pub const LAP_MARKS: [&str; 4] = ["in-lap", "out-lap", "box", YELLOW];

/// Run behind a safety car or under waved flags.
pub const YELLOW: &str = "yellow";

/// What a verb's lines are about; each group has one reader.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VerbGroup {
    /// A quantity of the car.
    Setting(SettingVerb),
    /// A quantity of a part, on the bench.
    Bench,
    /// Gauges held against one another.
    Compare,
    /// Readings under a line of its own quantity.
    Row(RowVerb),
    /// A part.
    Part(PartVerb),
    /// What the car was hit by.
    Hit,
    /// A session.
    Run,
    /// A part of a session, under it.
    Stretch(StretchVerb),
    /// Lap times under a session.
    Laps,
    /// What came of a session.
    Result,
    /// What a line should have said.
    Correct,
    /// What somebody said or thinks.
    Words,
    /// A trial that is to be run.
    Try,
    /// An answer to a check.
    Waive,
    /// The line above does not count.
    Void,
    /// A job.
    Job(JobVerb),
    /// Money and hours.
    Cost,
    /// How many of a kind there are.
    Stock(StockVerb),
    /// A page that left the house.
    Handed,
    /// A note of free text.
    Note,
}

impl VerbGroup {
    /// Whether its lines are about the car of their head, and say nothing under one without.
    #[must_use]
    pub const fn needs_car(self) -> bool {
        matches!(self, Self::Setting(_) | Self::Run | Self::Result | Self::Correct | Self::Try | Self::Hit)
    }

    /// Whether its lines have values: of a quantity, of a gauge, or rows of them.
    #[must_use]
    pub const fn is_of_values(self) -> bool {
        matches!(
            self,
            Self::Setting(_) | Self::Correct | Self::Try | Self::Bench | Self::Compare | Self::Row(_)
        )
    }
}

macro_rules! some_verbs {
    ($(#[$doc:meta])* $some:ident: $($name:ident),* $(,)?) => {
        $(#[$doc])*
        #[allow(missing_docs)]
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $some { $($name),* }

        impl From<$some> for Verb {
            fn from(verb: $some) -> Self {
                match verb { $($some::$name => Self::$name),* }
            }
        }
    };
}
some_verbs! {
    /// Verbs about a quantity of the car.
    SettingVerb: Set, Adjust, Found, Left, Read, Fill, Torque, Recheck,
}
some_verbs! {
    /// Verbs of the rows under a reading.
    RowVerb: Points, Sweep, Lift,
}
some_verbs! {
    /// Verbs about a part.
    PartVerb: Fit, Remove, Swap, Move, Build, Strip, Rebuild, Shelve, Quarantine, Release, Scrap, Buy, Sell, Failed,
    Inspect, Service, Lend, Borrow, Return,
}
some_verbs! {
    /// Verbs about how many of a kind there are.
    StockVerb: Count, Use,
}
some_verbs! {
    /// Verbs of the parts of a session.
    StretchVerb: Stint, Stage, Stop,
}
some_verbs! {
    /// Verbs about a job.
    JobVerb: Job, Done, Defer, Promise,
}

impl Verb {
    /// The group it belongs to.
    #[must_use]
    pub const fn group(self) -> VerbGroup {
        match self {
            Self::Set => VerbGroup::Setting(SettingVerb::Set),
            Self::Adjust => VerbGroup::Setting(SettingVerb::Adjust),
            Self::Found => VerbGroup::Setting(SettingVerb::Found),
            Self::Left => VerbGroup::Setting(SettingVerb::Left),
            Self::Read => VerbGroup::Setting(SettingVerb::Read),
            Self::Fill => VerbGroup::Setting(SettingVerb::Fill),
            Self::Torque => VerbGroup::Setting(SettingVerb::Torque),
            Self::Recheck => VerbGroup::Setting(SettingVerb::Recheck),
            Self::Bench => VerbGroup::Bench,
            Self::Compare => VerbGroup::Compare,
            Self::Points => VerbGroup::Row(RowVerb::Points),
            Self::Sweep => VerbGroup::Row(RowVerb::Sweep),
            Self::Lift => VerbGroup::Row(RowVerb::Lift),
            Self::Fit => VerbGroup::Part(PartVerb::Fit),
            Self::Remove => VerbGroup::Part(PartVerb::Remove),
            Self::Swap => VerbGroup::Part(PartVerb::Swap),
            Self::Move => VerbGroup::Part(PartVerb::Move),
            Self::Build => VerbGroup::Part(PartVerb::Build),
            Self::Strip => VerbGroup::Part(PartVerb::Strip),
            Self::Rebuild => VerbGroup::Part(PartVerb::Rebuild),
            Self::Shelve => VerbGroup::Part(PartVerb::Shelve),
            Self::Quarantine => VerbGroup::Part(PartVerb::Quarantine),
            Self::Release => VerbGroup::Part(PartVerb::Release),
            Self::Scrap => VerbGroup::Part(PartVerb::Scrap),
            Self::Buy => VerbGroup::Part(PartVerb::Buy),
            Self::Sell => VerbGroup::Part(PartVerb::Sell),
            Self::Failed => VerbGroup::Part(PartVerb::Failed),
            Self::Inspect => VerbGroup::Part(PartVerb::Inspect),
            Self::Service => VerbGroup::Part(PartVerb::Service),
            Self::Lend => VerbGroup::Part(PartVerb::Lend),
            Self::Borrow => VerbGroup::Part(PartVerb::Borrow),
            Self::Return => VerbGroup::Part(PartVerb::Return),
            Self::Count => VerbGroup::Stock(StockVerb::Count),
            Self::Use => VerbGroup::Stock(StockVerb::Use),
            Self::Hit => VerbGroup::Hit,
            Self::Run => VerbGroup::Run,
            Self::Stint => VerbGroup::Stretch(StretchVerb::Stint),
            Self::Stage => VerbGroup::Stretch(StretchVerb::Stage),
            Self::Stop => VerbGroup::Stretch(StretchVerb::Stop),
            Self::Laps => VerbGroup::Laps,
            Self::Result => VerbGroup::Result,
            Self::Correct => VerbGroup::Correct,
            Self::Say | Self::Think => VerbGroup::Words,
            Self::Try => VerbGroup::Try,
            Self::Waive => VerbGroup::Waive,
            Self::Void => VerbGroup::Void,
            Self::Job => VerbGroup::Job(JobVerb::Job),
            Self::Done => VerbGroup::Job(JobVerb::Done),
            Self::Defer => VerbGroup::Job(JobVerb::Defer),
            Self::Promise => VerbGroup::Job(JobVerb::Promise),
            Self::Hours | Self::Cost | Self::Credit | Self::Quote | Self::Paid => VerbGroup::Cost,
            Self::Handed => VerbGroup::Handed,
            Self::Note => VerbGroup::Note,
        }
    }

    /// Whether the entry states values of a quantity.
    #[must_use]
    pub const fn has_values(self) -> bool {
        matches!(self.group(), VerbGroup::Setting(_) | VerbGroup::Bench)
    }

    /// Whether the entry says where a part is, or what becomes of it.
    #[must_use]
    pub const fn moves_part(self) -> bool {
        let VerbGroup::Part(verb) = self.group() else { return false };
        match verb {
            PartVerb::Fit
            | PartVerb::Remove
            | PartVerb::Swap
            | PartVerb::Move
            | PartVerb::Build
            | PartVerb::Strip
            | PartVerb::Rebuild
            | PartVerb::Shelve
            | PartVerb::Quarantine
            | PartVerb::Release
            | PartVerb::Scrap
            | PartVerb::Buy
            | PartVerb::Sell
            | PartVerb::Lend
            | PartVerb::Borrow
            | PartVerb::Return => true,
            PartVerb::Failed | PartVerb::Inspect | PartVerb::Service => false,
        }
    }

    /// Whether the entry puts a part on a car, or into what may be on one.
    #[must_use]
    pub const fn puts_on(self) -> bool {
        matches!(self, Self::Fit | Self::Build | Self::Swap | Self::Move)
    }

    /// Whether the entry says how a part is: with a mistake in it, nobody knows whether the part is fit for use.
    #[must_use]
    pub const fn says_how(self) -> bool {
        matches!(
            self,
            Self::Failed
                | Self::Inspect
                | Self::Service
                | Self::Rebuild
                | Self::Quarantine
                | Self::Release
                | Self::Scrap
        )
    }

    /// Whether the entry opens a job or says how one goes on: its subject is the job.
    #[must_use]
    pub const fn is_about_job(self) -> bool {
        matches!(self.group(), VerbGroup::Job(_))
    }

    /// Whether the values are read off a gauge (the *read* register) rather than asked for.
    #[must_use]
    pub const fn is_reading(self) -> bool {
        let VerbGroup::Setting(verb) = self.group() else { return false };
        match verb {
            SettingVerb::Found | SettingVerb::Left | SettingVerb::Read | SettingVerb::Torque => true,
            SettingVerb::Set | SettingVerb::Adjust | SettingVerb::Fill | SettingVerb::Recheck => false,
        }
    }
}
