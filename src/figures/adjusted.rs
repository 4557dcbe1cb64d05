//! A value that was changed by so much, as the sum that it is: what it was changed from, as unsure as that is, and each change.
//!
//! Must not know figures.

use super::calc::{Calc, Fig, Said, Status};
use super::chain::{Node, Root};
use crate::history::slots::{Register, SlotEvent};
use crate::history::state::SlotState;
use crate::history::sums;
use crate::units::table;
use std::collections::BTreeMap;

impl<'a> Calc<'a> {
    /// A value as a sum, each part a root of the chain by itself; `None` where it is no change of another.
    pub(super) fn adjusted(
        &mut self,
        said: &Said<'_>,
        slot: &SlotState<'a>,
        event: &SlotEvent,
    ) -> Option<Fig> {
        let parts = sums::parts(self.book, slot.track, event);
        if parts.len() < 2 {
            return None;
        }
        let mut inputs: Vec<(String, Fig)> = Vec::new();
        let mut before: Option<f64> = None;
        for part in parts {
            let item = slot.track.item(self.book, part)?;
            let file = slot.track.file(self.book, part)?;
            let from = before.replace(part.value);
            let base = from.is_none();
            let read = base && part.register() == Register::Read;
            let values = part.entry.filter(|_| base).map(|line| self.repeats_of(line, part.item()));
            let one = Said {
                name: said.name.clone(),
                place: said.place,
                value: part.value - from.unwrap_or(0.0),
                item,
                file,
                entry: part.entry,
                read_by: if base { self.facts.read_by(slot.track, part) } else { None },
                status: if read { Status::Measured } else { Status::Stated },
                stale: None,
                id: said.id,
            };
            let fig = self.root(one, &values.unwrap_or_default());
            // A change of a temperature is no temperature: in kelvin both are told alike.
            if !base
                && item.unit().get().from_si(0.0).abs() > 1e-9
                && let Some(node) = self.nodes.get_mut(fig.node)
            {
                node.unit = table().find_one("K", node.dimension);
                node.decimals = node.decimals.max(2);
            }
            let name = if base { "base".to_owned() } else { format!("change{}", inputs.len()) };
            inputs.push((name, fig));
        }
        let value = inputs.iter().map(|(_, fig)| fig.value).sum();
        let mut by: BTreeMap<Root, f64> = BTreeMap::new();
        for (root, slope) in inputs.iter().flat_map(|(_, fig)| &fig.by) {
            *by.entry(*root).or_default() += slope;
        }
        let by = by.into_iter().collect();
        let node = self.nodes.next_key();
        let fig = Fig { value, status: said.status, by, stale: said.stale, node, back: None };
        self.nodes.push(Node {
            name: said.name.clone(),
            place: said.place,
            value,
            u: self.u(&fig),
            dimension: self.book.vocabulary.get(said.id).dimension,
            status: said.status,
            formula: None,
            inputs: inputs.into_iter().map(|(name, fig)| (name, fig.node)).collect(),
            span: Some(said.item.span(said.file)),
            entry: said.entry,
            unit: Some(said.item.unit()),
            decimals: sums::decimals(self.book, self.files, slot.track, event),
            sure: String::new(),
            source: "",
            stale: said.stale,
        });
        Some(fig)
    }
}
