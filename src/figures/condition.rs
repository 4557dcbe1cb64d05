//! A condition of a reading's line as an input of a chain, with the digits that it was typed with.
//!
//! Must not know any particular figure.

use super::calc::{Calc, Fig, Got, Missing, Node, Root, Status};
use crate::book::entry::{EntryId, Extra};
use crate::book::place::Place;
use crate::units::{DimensionId, Number};

impl Calc<'_> {
    /// A condition of a reading's line (`with fuel 20 L`), in SI, as an input.
    ///
    /// # Errors
    /// When the line does not state it.
    pub fn condition(&mut self, entry: EntryId, key: &str, dimension: DimensionId) -> Got {
        let line = &self.book.entries[entry];
        let extra = self.book.extra(line);
        let conditions = extra.map_or(&[][..], |extra| extra.conditions.as_slice());
        let usual = self.declared().filter(|_| !extra.is_some_and(Extra::conditions_lost));
        let car = usual.map_or(&[][..], |car| car.reference.as_slice());
        let found =
            conditions.iter().chain(car).find(|one| self.files.text(one.key).eq_ignore_ascii_case(key));
        let Some((condition, (value, unit))) = found.and_then(|one| one.value.map(|value| (*one, value)))
        else {
            return Err(Missing::one(format!("`with {key} ...` on the line, or the car's reference")));
        };
        let root = Root::Typed(condition.said);
        let decimals = decimals(self.files.text(condition.said));
        let node = self.nodes.push(Node {
            name: key.to_owned(),
            place: Place::CAR,
            value,
            u: None,
            dimension,
            status: Status::Stated,
            formula: None,
            inputs: Vec::new(),
            span: Some(condition.said),
            entry: Some(entry),
            unit: Some(unit),
            decimals,
            sure: String::new(),
            source: "",
            stale: None,
        });
        Ok(Fig { value, status: Status::Stated, by: vec![(root, 1.0)], stale: None, node, back: None })
    }
}

/// Decimals of the number in a condition as typed: `fuel 20.5 L`, `fuel 20.5L`.
fn decimals(said: &str) -> u8 {
    let words: Vec<&str> = said.split_whitespace().skip(1).collect();
    let parse = |count: usize| {
        let typed = words.get(..count)?.join(" ");
        let number = typed.trim_end_matches(|sign: char| !sign.is_ascii_digit());
        Number::parse(number).ok()
    };
    (1..=words.len()).rev().find_map(parse).map_or(0, |number| number.decimals)
}
