//! Whose book is asked, and as of when: what the commands about one car take alike.
//!
//! Must not know what is asked.

use super::output::Output;
use super::{ask, revision};
use crate::Compiled;
use crate::book::model::ClientId;
use std::path::Path;

/// Who reads the book, as of which day, at which revision.
#[derive(Debug, clap::Args)]
pub struct OfReader {
    /// Only what this client may read
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    /// As of the end of that day, and not of the book's
    #[arg(long, value_name = "DATE")]
    at: Option<String>,
    #[command(flatten)]
    revision: revision::OfRevision,
}

impl OfReader {
    /// The client named after `--for`, in the book as he reads it.
    pub(super) fn client(&self, compiled: &Compiled) -> Option<ClientId> {
        self.reader.as_deref().and_then(|name| ask::client(compiled, name).ok())
    }

    /// The book as it is read.
    ///
    /// # Errors
    /// When it cannot be opened, or there is no such client, day or revision.
    pub(super) fn compile(&self, given: Option<&Path>, output: &Output<'_>) -> anyhow::Result<Compiled> {
        let compiled = ask::at(self.revision.compile(given, output)?, self.at.as_deref())?;
        ask::read_by(compiled, self.reader.as_deref())
    }
}
