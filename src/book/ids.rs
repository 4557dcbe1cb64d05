//! Ids of what is declared.
//!
//! Must not know what is declared about it.

use crate::ids::ids;

ids! {
    /// A car.
    CarId: u32,
    /// A kind of part.
    KindId: u32,
    /// A spec of a kind.
    SpecId: u32,
    /// A part with a name of its own.
    PartId: u32,
    /// A person.
    PersonId: u32,
    /// A client.
    ClientId: u32,
    /// A circuit.
    CircuitId: u32,
    /// An event.
    EventId: u32,
    /// A gauge.
    GaugeId: u32,
    /// A named setup.
    BaselineId: u32,
    /// Parts and settings that go on together.
    OutfitId: u32,
    /// A class rule.
    RuleId: u32,
    /// A class that says what is normal in it.
    ClassId: u32,
    /// A job.
    JobId: u32,
}
