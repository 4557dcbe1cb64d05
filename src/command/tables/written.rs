//! What is told of a table that was written.

/// What was written of one table.
#[derive(Debug, serde::Serialize)]
pub(super) struct Written {
    /// Its name.
    pub table: &'static str,
    /// Its file; none in a database.
    pub file: Option<String>,
    /// How many rows it has.
    pub rows: u64,
    /// Whether it is another than the one that was there.
    #[serde(skip)]
    pub changed: bool,
}
