//! How sure a typed value is where its gauge does not say so in the unit of the value, or says it so that nobody can read it.
//!
//! Must not know any particular figure.

use super::calc::Calc;
use super::uncertainty::rectangular;
use crate::book::entry::{Entry, Item};
use crate::book::model::Gauge;
use crate::history::grain;
use crate::units::DimensionId;

impl Calc<'_> {
    /// By a gauge whose resolution nobody can read a value is as unsure as by the coarsest that reads the like; of a pressure held over a supply the
    /// share is as unsure as both pressures make it.
    pub(super) fn sure_otherwise(&self, item: &Item, line: &Entry, gauge: &Gauge) -> Option<(f64, String)> {
        let toe = line.quantity.is_some_and(|id| self.book.vocabulary.get(id).dimension == DimensionId::TOE);
        let size = grain::resolution(self.book, self.files, line, item).filter(|_| !toe)?;
        let name = &gauge.named.typed;
        let words = if grain::is_unread(self.book, line) {
            format!(
                "how finely {name} reads cannot be read: as the coarsest that reads the like, rectangular"
            )
        } else {
            let resolution = gauge.resolution?;
            let typed = self.files.text(resolution.span(gauge.named.declared.file));
            format!("{name} reads to {typed} {}, rectangular", resolution.unit().get().shown())
        };
        Some((rectangular(size / 2.0), words))
    }

    /// What is said of a value of which nobody knows how sure it is, because its gauge's resolution cannot be read.
    pub(super) fn unsure(&self, line: &Entry, gauge: Option<&Gauge>) -> String {
        let unread = gauge.filter(|_| grain::is_unread(self.book, line));
        let words =
            |gauge: &Gauge| format!("how finely {} reads is not known: it cannot be read", gauge.named.typed);
        unread.map_or_else(String::new, words)
    }
}
