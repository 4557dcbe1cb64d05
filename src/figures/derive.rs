//! Puts inputs through a formula: the step of the chain that comes of it, with what it rests on.
//!
//! Must not know where the inputs are from.

use super::calc::{Calc, Fig, Got, Missing, Node, Root, Status};
use super::dual::Dual;
use super::formula::Formula;
use crate::book::place::Place;

impl<'a> Calc<'a> {
    /// Puts inputs through a formula. `compute` gets them in order, as numbers that carry their derivatives.
    ///
    /// # Errors
    /// When the result is no finite number: a division by zero, an angle beyond a sine.
    pub fn derive(
        &mut self,
        formula: &Formula<'a>,
        place: Place,
        inputs: &[(&str, &Fig)],
        compute: impl Fn(&[Dual]) -> Dual,
    ) -> Got {
        self.derive_as(formula, place, inputs, None, compute)
    }

    /// The same of as many inputs as the formula's closure names: `|[driven, driving]| driven / driving`.
    ///
    /// # Errors
    /// As [`Calc::derive`].
    pub fn derive_of<const N: usize>(
        &mut self,
        formula: &Formula<'a>,
        place: Place,
        inputs: [(&str, &Fig); N],
        compute: impl Fn(&[Dual; N]) -> Dual,
    ) -> Got {
        self.derive_of_as(formula, place, inputs, None, compute)
    }

    /// The same, with a status of its own (`Inferred`).
    ///
    /// # Errors
    /// As [`Calc::derive`].
    pub fn derive_of_as<const N: usize>(
        &mut self,
        formula: &Formula<'a>,
        place: Place,
        inputs: [(&str, &Fig); N],
        status: Option<Status>,
        compute: impl Fn(&[Dual; N]) -> Dual,
    ) -> Got {
        let mut index = 0..N;
        let duals = inputs.map(|(_, fig)| Dual::input(fig.value, index.next().unwrap_or(N), N));
        self.derived(formula, place, &inputs, status, &compute(&duals))
    }

    /// The same as [`Calc::derive`], with a status of its own (`Inferred`).
    ///
    /// # Errors
    /// As [`Calc::derive`].
    pub fn derive_as(
        &mut self,
        formula: &Formula<'a>,
        place: Place,
        inputs: &[(&str, &Fig)],
        status: Option<Status>,
        compute: impl Fn(&[Dual]) -> Dual,
    ) -> Got {
        let values = inputs.iter().map(|(_, fig)| fig.value).enumerate();
        let duals: Vec<Dual> = values.map(|(index, at)| Dual::input(at, index, inputs.len())).collect();
        self.derived(formula, place, inputs, status, &compute(&duals))
    }

    fn derived(
        &mut self,
        formula: &Formula<'a>,
        place: Place,
        inputs: &[(&str, &Fig)],
        status: Option<Status>,
        result: &Dual,
    ) -> Got {
        if !result.value.is_finite() || result.partials.iter().any(|partial| !partial.is_finite()) {
            let names: Vec<&str> = inputs.iter().map(|(name, _)| *name).collect();
            return Err(Missing::one(format!(
                "other values for {} ({} has no result with these)",
                formula.name,
                names.join(", ")
            )));
        }
        let mut by: std::collections::BTreeMap<Root, f64> = std::collections::BTreeMap::new();
        for ((_, fig), partial) in inputs.iter().zip(&result.partials) {
            for (root, slope) in &fig.by {
                *by.entry(*root).or_default() += slope * partial;
            }
        }
        let by: Vec<(Root, f64)> = by.into_iter().collect();
        let stale = inputs.iter().find_map(|(_, fig)| fig.stale);
        let stale = stale.and_then(|since| super::weights::stale_of(self, formula.id, inputs, since));
        let back = super::chain::furthest(self.facts, inputs);
        let status = status.unwrap_or(Status::Derived);
        let fig = Fig { value: result.value, status, by, stale, node: self.nodes.next_key(), back };
        let u = self.u(&fig);
        if let Some(fine) = self.fine(&fig.by) {
            self.fine.insert(fig.node, fine);
        }
        self.nodes.push(Node {
            name: formula.name.to_owned(),
            place,
            value: result.value,
            u,
            dimension: formula.dimension,
            status,
            formula: Some(*formula),
            inputs: inputs.iter().map(|(name, fig)| ((*name).to_owned(), fig.node)).collect(),
            span: None,
            entry: None,
            unit: None,
            decimals: 0,
            sure: String::new(),
            source: "",
            stale,
        });
        Ok(fig)
    }
}
