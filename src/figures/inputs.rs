//! More ways in for a chain: values put in place of the book's, the scatter of repeats, readings taken together.
//!
//! Must not know any particular figure.

use super::calc::{Calc, Fig, Got, Missing, Node, Root, Status};
use crate::book::entry::{Entry, EntryId, Flags, Item, ItemId, Verb};
use crate::book::place::Place;
pub use crate::figures::supposed::Supposed;
use crate::units::{DimensionId, UnitId, number};
use crate::vocabulary::QuantityId;

/// What a supposed value says of where it is from.
const SUPPOSED: &str = "put in place of the book's own value";

/// What a change would do to a figure.
#[derive(Debug, Clone)]
pub struct WhatIf {
    /// As the book has it.
    pub is: Fig,
    /// With the change.
    pub would: Fig,
    /// What it is worth, SI.
    pub change: f64,
}

impl<'a> Calc<'a> {
    /// Puts a value (SI) in place of the book's, to see what it would do.
    ///
    /// # Errors
    /// When there is no such quantity.
    pub fn suppose(&mut self, name: &str, place: Place, value: f64) -> Got<()> {
        let id = self.quantity(name)?;
        let words = format!("{} (what if)", self.slot_name(id, place));
        self.supposed += 1;
        let turn = self.supposed;
        self.what_if.push(Supposed { quantity: id, place, value, off: false, typed: None, words, turn });
        Ok(())
    }

    /// Supposes that something is disconnected: a bar, a blade.
    ///
    /// # Errors
    /// When there is no such quantity.
    pub fn suppose_off(&mut self, name: &str, place: Place) -> Got<()> {
        self.suppose(name, place, 0.0)?;
        if let Some(one) = self.what_if.last_mut() {
            one.off = true;
            one.words = one.words.replace(" (what if)", " off (what if)");
        }
        Ok(())
    }

    /// Whether it is supposed to be disconnected.
    pub(super) fn supposed_off(&self, id: QuantityId, place: Place) -> bool {
        let one = self.what_if.iter().rfind(|one| one.quantity == id && one.place == place);
        one.is_some_and(|one| one.off)
    }

    /// The same of a value that is shown in the unit it was typed in.
    ///
    /// # Errors
    /// When there is no such quantity.
    pub fn suppose_typed(&mut self, name: &str, place: Place, value: f64, typed: (UnitId, u8)) -> Got<()> {
        self.suppose(name, place, value)?;
        if let Some(one) = self.what_if.last_mut() {
            one.typed = Some(typed);
        }
        Ok(())
    }

    /// A figure with values put in place of the book's, beside the figure as the book has it: what the change is worth.
    ///
    /// # Errors
    /// When either cannot be had, or a quantity does not exist.
    pub fn difference(
        &mut self,
        compute: impl Fn(&mut Self, Place) -> Got,
        place: Place,
        changes: &[(&str, Place, f64)],
    ) -> Got<WhatIf> {
        let before = self.what_if.len();
        let is = compute(self, place)?;
        let mut would = Ok(is.clone());
        for (name, at, value) in changes {
            if let Err(missing) = self.suppose(name, *at, *value) {
                would = Err(missing);
            }
        }
        if would.is_ok() {
            would = compute(self, place);
        }
        self.what_if.truncate(before);
        let would = would?;
        Ok(WhatIf { change: would.value - is.value, is, would })
    }

    /// Leaves some of the values out that were put in place of the book's, by their number; gives back all of them, to be put there again.
    pub fn leave_out(&mut self, which: &std::ops::Range<usize>) -> Vec<Supposed> {
        let all = std::mem::take(&mut self.what_if);
        for (_, one) in all.iter().enumerate().filter(|(number, _)| !which.contains(number)) {
            self.supposed += 1;
            self.what_if.push(Supposed { turn: self.supposed, ..one.clone() });
        }
        all
    }

    /// Which of the values put in place of the book's no step of a figure takes, by their number.
    #[must_use]
    pub fn unreached(&self, fig: &Fig) -> Vec<usize> {
        let (mut seen, mut open) = (rustc_hash::FxHashSet::default(), vec![fig.node]);
        let mut reached: Vec<(&str, Place)> = Vec::new();
        while let Some(at) = open.pop() {
            let Some(node) = self.nodes.get(at).filter(|_| seen.insert(at)) else { continue };
            if node.source == SUPPOSED {
                reached.push((&node.name, node.place));
            }
            // What is only told beside a reading is no input of it.
            let inputs = node.inputs.iter().filter(|(name, _)| name != super::read::BESIDE);
            open.extend(inputs.map(|(_, input)| *input));
        }
        let missed = |one: &&(usize, &Supposed)| !reached.contains(&(one.1.words.as_str(), one.1.place));
        self.what_if.iter().enumerate().filter(|one| missed(&one)).map(|(number, _)| number).collect()
    }

    /// The value put in place of the book's, if there is one.
    pub(super) fn instead(&mut self, id: QuantityId, place: Place) -> Option<Fig> {
        let at = self.what_if.iter().rposition(|one| one.quantity == id && one.place == place)?;
        let one = self.what_if.get(at)?;
        let (value, name, typed) = (one.value, one.words.clone(), one.typed);
        let node = self.nodes.push(Node {
            name,
            place,
            value,
            u: None,
            dimension: self.book.vocabulary.get(id).dimension,
            status: Status::Assumed,
            formula: None,
            inputs: Vec::new(),
            span: None,
            entry: None,
            unit: typed.map(|(unit, _)| unit),
            decimals: typed.map_or(0, |(_, decimals)| decimals),
            sure: String::new(),
            source: SUPPOSED,
            stale: None,
        });
        Some(Fig {
            value,
            status: Status::Assumed,
            by: vec![(Root::WhatIf(at), 1.0)],
            stale: None,
            node,
            back: None,
        })
    }

    /// A number that is neither read nor supposed: out of a table, of the car's declaration, of a gauge.
    pub fn constant(&mut self, name: &'a str, value: f64, dimension: DimensionId, source: &'a str) -> Fig {
        let fig = self.default(name, value, dimension, source);
        if let Some(node) = self.nodes.get_mut(fig.node) {
            node.status = Status::Stated;
        }
        Fig { status: Status::Stated, ..fig }
    }

    /// Adds the scatter of repeats (GUM 4.2, Type A) to what a figure is unsure by.
    pub fn scatter(&mut self, fig: &mut Fig, u: f64, words: String) {
        let root = Root::Scatter(fig.node);
        self.uncertain.insert(root, u);
        let at = fig.by.partition_point(|(other, _)| *other < root);
        fig.by.insert(at, (root, 1.0));
        let total = self.u(fig);
        if let Some(node) = self.nodes.get_mut(fig.node) {
            node.u = total;
            node.sure = words;
        }
    }

    /// Whether a line says `with WORD`.
    #[must_use]
    pub fn says(&self, entry: &Entry, word: &str) -> bool {
        self.book.extra(entry).is_some_and(|extra| {
            extra.conditions.iter().any(|one| self.files.text(one.key).eq_ignore_ascii_case(word))
        })
    }

    /// Readings repeated side by side (`with together` on each line, equally many repeats) vary together: their means get
    /// the covariance of the pairs over n (GUM 5.2.3, equation 17).
    ///
    /// # Errors
    /// When a line does not say so, or the repeats are not equally many.
    pub fn in_pairs(&mut self, figs: &[&Fig]) -> Got<()> {
        let mut series = Vec::new();
        for fig in figs {
            let node = self.nodes.get(fig.node);
            let typed = node.and_then(|node| Some((node.entry?, node.span?)));
            let line = typed.and_then(|(entry, span)| {
                let line = self.book.entries.get(entry)?;
                let at = self.book.items_of(line).iter().position(|item| item.start == span.start)?;
                self.says(line, "together").then(|| self.repeats_of(entry, line.items.plus(at)))
            });
            let Some(values) = line.filter(|values| values.len() > 1) else {
                let name = node.map_or("a reading", |node| node.name.as_str());
                return Err(Missing::one(format!("{name} repeated and read `with together`")));
            };
            series.push(values);
        }
        if series.array_windows().any(|[one, next]| one.len() != next.len()) {
            return Err(Missing::one("as many repeats of each reading as of the others"));
        }
        let series: Vec<(&Fig, &Vec<f64>)> = figs.iter().copied().zip(&series).collect();
        for (at, (fig, first)) in series.iter().enumerate() {
            for (other, second) in series.iter().skip(at + 1) {
                let covariance = super::uncertainty::covariance_of_means(first, second);
                self.read_together(fig, other, covariance);
            }
        }
        Ok(())
    }

    /// Says that two roots were read together `n` times: their means then have the covariance of the paired repeats over n.
    pub fn read_together(&mut self, a: &Fig, b: &Fig, covariance_of_means: f64) {
        let read = |fig: &Fig| match fig.by.as_slice() {
            [(first, _), rest @ ..] if rest.iter().all(|(root, _)| matches!(root, Root::Comparison(_))) => {
                Some(*first)
            }
            _ => None,
        };
        if let Some((first, second)) = read(a).zip(read(b)) {
            let key = if first <= second { (first, second) } else { (second, first) };
            self.together.insert(key, covariance_of_means);
        }
    }

    /// The repeats of the reading at an item: itself and those that follow it on its line.
    pub(super) fn repeats_of(&self, entry: EntryId, item: ItemId) -> Vec<f64> {
        let line = &self.book.entries[entry];
        let from = item.index().saturating_sub(line.items.index());
        let items = self.book.items_of(line);
        let more = items.iter().skip(from + 1).take_while(|item| item.is(Flags::REPEAT));
        items.get(from).into_iter().chain(more).filter(|item| item.has_value()).map(|item| item.si).collect()
    }

    /// The rows (`sweep`, `lift`) of the car's last readings of a quantity before the moment, newest reading first; void ones
    /// left out. `true` with a row that has an error.
    pub(super) fn rows(&self, id: QuantityId) -> Vec<(EntryId, bool)> {
        let until = self.rank_of(id);
        let of_car = |index: &&EntryId| {
            let entry = &self.book.entries[**index];
            entry.quantity == Some(id)
                && !entry.void
                && self.history.order.rank.get(**index).is_some_and(|rank| *rank < until)
                && self.book.head(entry).is_some_and(|head| head.car == self.car)
        };
        let readings = self.history.slots.structured.iter().rev().filter(of_car);
        readings
            .flat_map(|reading| {
                let broken = self.book.entries[*reading].broken;
                self.book
                    .under(*reading)
                    .filter(|(_, row)| matches!(row.verb, Verb::Sweep | Verb::Lift) && !row.void)
                    .map(move |(at, row)| (at, broken || row.broken))
            })
            .collect()
    }

    /// How many radians of toe one metre typed stands for at this value; 1 where no length was typed.
    pub(super) fn toe_per_metre(&self, id: QuantityId, item: &Item, typed: &str) -> Option<f64> {
        let toe = self.book.vocabulary.get(id).dimension == DimensionId::TOE;
        let unit = item.unit().get();
        if !toe || unit.dim != DimensionId::LENGTH.get().dim || item.is(Flags::STATED) {
            return Some(1.0);
        }
        let metres = unit.to_si(number::Number::parse(typed).map_or(0.0, |number| number.value)).abs();
        (metres > 0.0).then(|| item.si.abs() / metres)
    }
}
