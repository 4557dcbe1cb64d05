//! The shape of a view, for the pages about them in `report-templates/`: asked for by the feature `schema`, which only the tests
//! switch on, so that nobody who makes reports waits for it to be built.
//!
//! Must not know any view.

/// A view whose shape can be told, where the feature is on.
#[cfg(feature = "schema")]
pub trait Shape: schemars::JsonSchema {}
#[cfg(feature = "schema")]
impl<T: schemars::JsonSchema> Shape for T {}

/// A view whose shape nobody asks for.
#[cfg(not(feature = "schema"))]
pub trait Shape {}
#[cfg(not(feature = "schema"))]
impl<T> Shape for T {}

/// The shape of a view: a JSON Schema (draft 2020-12).
#[cfg(feature = "schema")]
pub fn of<T: Shape>() -> schemars::Schema {
    schemars::generate::SchemaGenerator::default().into_root_schema_for::<T>()
}
