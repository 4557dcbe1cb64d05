//! `--rev`: the book as it was committed.
//!
//! Must not know what is done with it.

use super::home::folder;
use super::output::{At, Output, compile};
use crate::source::Revision;
use std::path::Path;

/// Of which revision the book is read.
#[derive(Debug, Clone, Default, clap::Args)]
pub struct OfRevision {
    /// The book as git has it at this revision, such as HEAD~3 or a tag, in place of the files in the folder
    #[arg(long = "rev", value_name = "REV")]
    revision: Option<String>,
}

impl OfRevision {
    /// Compiles the book of the folder, or of the current one: as it lies there, or at the revision asked for.
    ///
    /// # Errors
    /// When it cannot be opened, or there is no such revision.
    pub fn compile(&self, given: Option<&Path>, output: &Output<'_>) -> anyhow::Result<crate::Compiled> {
        match &self.revision {
            Some(named) => compile_at(given, named, output),
            None => compile(given, output),
        }
    }
}

/// Compiles the book of the folder, or of the current one, at a revision.
///
/// # Errors
/// When it cannot be opened, or there is no such revision.
pub(super) fn compile_at(
    given: Option<&Path>,
    named: &str,
    output: &Output<'_>,
) -> anyhow::Result<crate::Compiled> {
    let world = At { world: Revision::new(folder(given), named.to_owned()), now: output.now };
    crate::compile(&world).map_err(anyhow::Error::msg)
}
