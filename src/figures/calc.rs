//! Works figures out: takes readings off the book at a moment, puts them through formulas, keeps where all came from.
//!
//! Uncertainty is first order (JCGM 100:2008, clause 5): every value carries its sensitivities to the *root* readings, so two
//! figures that share a reading are correlated as they should be. Must not know any particular figure.

use super::chain::Entered;
pub use super::chain::{Corrected, Fig, Got, Missing, Node, NodeId, Root, Status};
use super::given::Memo;
use super::inputs::Supposed;
use super::uncertainty::{rectangular, repeats};
use crate::book::entry::{By, EntryId, Flags, Item, Verb};
use crate::book::model::{CarId, GaugeId, PartId};
use crate::book::place::Place;
use crate::history::gauges::Terms;
use crate::history::likeness::{self, Horizon, Reading};
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register, SlotEvent};
use crate::history::state::{SlotState, other_forms};
use crate::history::{Facts, Moment};
use crate::ids::Arena;
use crate::source::FileId;
use crate::units::DimensionId;
use crate::vocabulary::QuantityId;
use rustc_hash::FxHashMap;

/// Works figures out for one car (or one part) at one moment.
#[derive(Debug)]
pub struct Calc<'a> {
    /// The texts, the book, its fold.
    pub facts: Facts<'a>,
    /// The car.
    pub car: Option<CarId>,
    /// The moment: everything with a rank below it has happened.
    pub rank: Rank,
    /// The session of the moment (its `run` entry), if it is one.
    pub session: Option<EntryId>,
    /// The part, for a figure of a part on the bench.
    pub part: Option<PartId>,
    /// The part it is held against, for a figure of two.
    pub against: Option<PartId>,
    /// Values put in place of the book's, to see what they would do; the last of a quantity and place stands. Only
    /// [`Calc::suppose`] adds to them.
    pub what_if: Vec<Supposed>,
    /// How many were put there so far.
    pub(super) supposed: u32,
    /// Every step so far.
    pub nodes: Arena<NodeId, Node<'a>>,
    /// What a reader must be told beside a step's value: "outside ±7 %, not comparable". By node.
    pub cautions: std::collections::BTreeMap<NodeId, std::borrow::Cow<'a, str>>,
    /// Steps that rest on an estimate: shown with one decimal less than what was read for them.
    pub(super) estimated: rustc_hash::FxHashSet<NodeId>,
    /// Standard uncertainty of each root that has one, SI.
    pub(super) uncertain: FxHashMap<Root, f64>,
    /// Half the last digit of each root that was read and says nothing better of how sure it is, SI.
    pub(super) digits: FxHashMap<Root, f64>,
    /// How finely a figure that rests on those can be told, SI; by node.
    pub(super) fine: FxHashMap<NodeId, f64>,
    /// What each root that was read on the car is a reading of.
    pub(super) read: FxHashMap<Root, Reading>,
    /// Readings that comparisons put right, by node.
    pub corrected: std::collections::BTreeMap<NodeId, Corrected>,
    /// Of readings by gauges that no comparison leads to a reference: which can be told apart, and the gauge.
    pub(super) in_terms: FxHashMap<Root, (Terms, GaugeId)>,
    /// Which of them are taken in the terms of one gauge for the figure on the way.
    pub(super) common: Vec<Terms>,
    /// Up to when readings of a physical state are taken for the figure on the way.
    pub(super) horizons: Vec<Horizon>,
    /// Covariance of two roots that were read together, SI.
    pub(super) together: FxHashMap<(Root, Root), f64>,
    /// Figures worked out already, and those on the way.
    pub(super) memo: Memo,
}

/// A typed value on its way into a chain.
pub(super) struct Said<'v> {
    pub name: String,
    pub place: Place,
    pub value: f64,
    pub item: &'v Item,
    pub file: FileId,
    pub entry: Option<EntryId>,
    /// The line whose gauge read it.
    pub read_by: Option<EntryId>,
    pub status: Status,
    pub stale: Option<EntryId>,
    pub id: QuantityId,
}

impl<'a> std::ops::Deref for Calc<'a> {
    type Target = Facts<'a>;

    fn deref(&self) -> &Facts<'a> {
        &self.facts
    }
}

impl<'a> Calc<'a> {
    /// For a car at a moment.
    #[must_use]
    pub fn new(facts: Facts<'a>, car: impl Into<Option<CarId>>, moment: &Moment) -> Self {
        let car = car.into();
        Self {
            facts,
            car,
            rank: moment.rank,
            session: moment.session,
            part: None,
            against: None,
            what_if: Vec::new(),
            supposed: 0,
            nodes: Arena::new(),
            cautions: std::collections::BTreeMap::new(),
            estimated: rustc_hash::FxHashSet::default(),
            uncertain: FxHashMap::default(),
            digits: FxHashMap::default(),
            fine: FxHashMap::default(),
            read: FxHashMap::default(),
            corrected: std::collections::BTreeMap::new(),
            in_terms: FxHashMap::default(),
            common: Vec::new(),
            horizons: Vec::new(),
            together: FxHashMap::default(),
            memo: Memo::default(),
        }
    }

    /// The quantity of that (built-in) name.
    ///
    /// # Errors
    /// When the vocabulary has none.
    pub fn quantity(&self, name: &str) -> Got<QuantityId> {
        self.book.vocabulary.find(name).ok_or_else(|| Missing::one(format!("a quantity called {name}")))
    }

    /// "weight RF".
    #[must_use]
    pub fn slot_name(&self, id: QuantityId, place: Place) -> String {
        let name = &self.book.vocabulary.get(id).name;
        let place = self.book.place_word(place);
        if place.is_empty() { name.to_string() } else { format!("{name} {place}") }
    }

    /// A slot's state at the moment; of a session, what was set after it is as it stood in it.
    #[must_use]
    pub fn state(&self, id: QuantityId, place: Place) -> Option<SlotState<'a>> {
        let (car, rank) = (self.car?, self.rank_of(id));
        let slot = self.on(car, rank).slot(id, place)?;
        let Some(ended) = self.session.and_then(|run| self.session_of(run).ok()).map(|run| run.after) else {
            return Some(slot);
        };
        let since = |event: &SlotEvent| {
            event.rank(&self.history.order).is_some_and(|at| at >= ended)
                && event.line(self.book).is_some_and(|line| !line.verb.is_reading())
        };
        let set = slot.held.asked.as_ref().is_some_and(since);
        let lost = slot.held.unknown.as_ref().is_some_and(since);
        if set || lost { self.on(car, ended.min(rank)).slot(id, place) } else { Some(slot) }
    }

    /// What would have to be read, where the newer of two forms of one thing stands for both (an axle's toe, its wheels') and this is the
    /// older.
    fn restated(&self, id: QuantityId, place: Place) -> Option<Missing> {
        let supposed = |of: Place| self.what_if.iter().any(|one| one.quantity == id && one.place == of);
        let (car, forms) = (self.car?, other_forms(self.book, id, place));
        let since = self.on(car, self.rank_of(id)).restated(id, place);
        let newer = since.or_else(|| forms.iter().copied().find(|form| supposed(*form)))?;
        let [own, other] = [place, newer].map(|of| self.slot_name(id, of));
        Some(Missing::one(format!("a value of {own} that is no older than that of {other}")))
    }

    /// The moment for a quantity: an older one where its readings of now do not belong with others of the figure on the way.
    pub(super) fn rank_of(&self, id: QuantityId) -> Rank {
        let of = self.horizons.iter().filter_map(|one| one.until(self.facts, id));
        of.min().map_or(self.rank, |before| before.min(self.rank))
    }

    /// What a setting was with the older readings that a figure went back to, where it was set then or was set since: what was set
    /// since was never true with them. `None` where the figure is of now, or nothing was set at all.
    fn set_then(&self, id: QuantityId, place: Place) -> Option<SlotState<'a>> {
        let then = self.horizons.iter().filter_map(Horizon::set_by).min()?;
        let slot = self.on(self.car?, then.min(self.rank_of(id))).slot(id, place)?;
        let rank = |event: &SlotEvent| event.rank(&self.history.order);
        let asked = |event: &SlotEvent| event.register() == Register::Asked;
        let since =
            |event: &SlotEvent| asked(event) && rank(event).is_some_and(|at| (then..self.rank).contains(&at));
        let is = slot.held.is(self.history);
        let set = is.as_ref().is_some_and(asked) || slot.track.events.iter().any(since);
        (set || slot.held.unknown.is_some()).then_some(slot)
    }

    /// What a quantity is at a place: the figure of that name where there is one, else what is typed.
    ///
    /// # Errors
    /// When nothing says it.
    pub fn value(&mut self, name: &str, place: Place) -> Got {
        match self.book.figures.find(name) {
            Some(figure) if self.book.figures.get(figure).quantity.is_some() => self.figure(figure, place),
            _ => self.typed_value(name, place),
        }
    }

    /// What is typed for a quantity at a place: the later of asked and read; a fitted part's own where the part gives or
    /// carries it, else its tag.
    ///
    /// # Errors
    /// When nothing says it.
    pub fn typed_value(&mut self, name: &str, place: Place) -> Got {
        let id = self.quantity(name)?;
        if self.supposed_off(id, place) {
            return Err(Missing::one(format!("a number for {} (it is off)", self.slot_name(id, place))));
        }
        if let Some(fig) = self.instead(id, place) {
            return Ok(fig);
        }
        if let Some(missing) = self.restated(id, place) {
            return Err(missing);
        }
        if let Some(benched) = self.benched_by_rows(id, place) {
            return benched;
        }
        let missing = || Missing::one(format!("a value of {}", self.slot_name(id, place)));
        // Set for the first time since: what it was then, nobody says.
        if let Some(slot) = self.set_then(id, place).or_else(|| self.state(id, place)) {
            if let Some(lost) = slot.held.unknown {
                return Err(self.not_known(id, place, &lost));
            }
            if let Some(event) = slot.held.is(self.history) {
                let stale = slot.held.stale.filter(|_| event.register() == Register::Read).map(|by| by.entry);
                return self.event(id, place, &slot, event, stale);
            }
        }
        match self.tells(id, place)? {
            Some(part) => self.tag_unless_benched(part, id, place),
            None => Err(missing()),
        }
    }

    /// Why there is no value of what a line with a mistake, or one that is not for this reader, left unknown.
    pub(super) fn not_known(&self, id: QuantityId, place: Place, lost: &SlotEvent) -> Missing {
        let slot = self.slot_name(id, place);
        if lost.line(self.book).is_some_and(|line| line.withheld) {
            return Missing::one(format!("{slot} (its last line is not for this reader, or has an error)"));
        }
        Missing::one(format!("{slot} put right (its last line has an error)"))
    }

    /// What was read last at a place (never what was asked), or is supposed in its place.
    ///
    /// # Errors
    /// When it was not read.
    pub fn reading(&mut self, name: &str, place: Place) -> Got {
        let id = self.quantity(name)?;
        match self.instead(id, place) {
            Some(fig) => Ok(fig),
            None => self.reading_in_book(name, place),
        }
    }

    /// The same, whatever is supposed in its place: for what it was at an earlier moment.
    pub(super) fn reading_in_book(&mut self, name: &str, place: Place) -> Got {
        let id = self.quantity(name)?;
        let slot = self.state(id, place);
        let read = slot.and_then(|slot| {
            slot.held.read.filter(|_| slot.held.unknown.is_none()).map(|event| (slot, event))
        });
        let Some((slot, event)) = read else {
            return Err(Missing::one(format!("a reading of {}", self.slot_name(id, place))));
        };
        let stale = slot.held.stale.map(|by| by.entry);
        self.event(id, place, &slot, event, stale)
    }

    /// What was asked last at a place: a target.
    ///
    /// # Errors
    /// When nothing was asked.
    pub fn asked(&mut self, name: &str, place: Place) -> Got {
        let id = self.quantity(name)?;
        // What is supposed of a figure is what it is, and not what was asked of it.
        if self.book.figures.find(name).is_none()
            && let Some(fig) = self.instead(id, place)
        {
            return Ok(fig);
        }
        // What is asked for is asked for now, whatever was read together.
        let slot = self.car.and_then(|car| self.on(car, self.rank).slot(id, place));
        let asked = slot.and_then(|slot| slot.held.asked.map(|event| (slot, event)));
        let Some((slot, event)) = asked else {
            return Err(Missing::one(format!("{} set", self.slot_name(id, place))));
        };
        self.event(id, place, &slot, event, None)
    }

    pub(super) fn event(
        &mut self,
        id: QuantityId,
        place: Place,
        slot: &SlotState<'a>,
        event: SlotEvent,
        stale: Option<EntryId>,
    ) -> Got {
        let name = self.slot_name(id, place);
        let Some(item) = self.history.item(self.book, slot.track, &event).copied() else {
            return Err(Missing::one(format!("a value of {name}")));
        };
        if !item.has_value() {
            let words = if item.is(Flags::OFF) { "is off" } else { "is no number" };
            return Err(Missing::one(format!("a number for {name} (it {words})")));
        }
        let status = if event.register() == Register::Read { Status::Measured } else { Status::Stated };
        let entry = event.entry;
        let file = match (entry, slot.track.owner) {
            (Some(entry), _) => self.book.entries[entry].file,
            (None, Owner::Car(car)) => self.book.cars[car].named.declared.file,
            (None, Owner::Part(part)) => self.book.parts[part].named.declared.file,
        };
        if let Some(entry) = entry.filter(|_| status == Status::Measured) {
            let owner = slot.track.owner;
            self.read.insert(Root::Typed(item.span(file)), Reading { quantity: id, place, entry, owner });
        }
        let read_by = self.facts.read_by(slot.track, &event);
        if read_by.is_some_and(|line| self.facts.comparison_lost(line).is_some()) {
            return Err(Missing::one(format!(
                "a comparison of the gauge that read {name} put right (its line has an error)"
            )));
        }
        let later = entry.filter(|entry| self.book.entries[*entry].verb == Verb::Bench);
        let later = later.and_then(|entry| self.benched_later(entry));
        let values = entry.map(|entry| self.repeats_of(entry, event.item())).unwrap_or_default();
        let said =
            Said { name, place, value: event.value, item: &item, file, entry, read_by, status, stale, id };
        let sum = self.adjusted(&said, slot, &event);
        let fig = sum.unwrap_or_else(|| self.root(said, &values));
        if let (Some(words), Some(node)) = (later, self.nodes.get_mut(fig.node)) {
            node.sure = if node.sure.is_empty() { words } else { format!("{words}; {}", node.sure) };
        }
        Ok(fig)
    }

    /// Enters a typed value as a root of the chain.
    pub(super) fn root(&mut self, said: Said<'_>, values: &[f64]) -> Fig {
        let Said { name, place, value, item, file, entry, read_by, status, stale, id } = said;
        let span = item.span(file);
        let (u, sure) = self.sure(item, entry, values);
        // Toe typed as a length is kept as an angle: what the gauge tells apart goes the same way.
        let per_metre = self.toe_per_metre(id, item, self.files.text(span));
        let u = u.zip(per_metre).map(|(u, scale)| u * scale);
        let root = Root::Typed(span);
        let read = entry.is_some_and(|entry| self.book.entries[entry].verb.is_reading());
        if let Some(u) = u {
            self.uncertain.insert(root, u);
        } else if read && self.book.vocabulary.get(id).dimension != DimensionId::COUNT {
            self.digits.insert(root, f64::from(item.half));
        }
        let Entered { value, u, roots, corrected } = self.entered(value, item, read_by, root, u);
        let node = self.nodes.push(Node {
            name,
            place,
            value,
            u,
            dimension: self.book.vocabulary.get(id).dimension,
            status,
            formula: None,
            inputs: Vec::new(),
            span: Some(span),
            entry,
            unit: Some(item.unit()),
            decimals: item.decimals,
            sure,
            source: "",
            stale,
        });
        self.note_corrected(corrected);
        Fig { value, status, by: roots, stale, node, back: None }
    }

    /// Standard uncertainty of a typed value, and what it is from. A set value has none: it is what was asked for.
    fn sure(&self, item: &Item, entry: Option<EntryId>, values: &[f64]) -> (Option<f64>, String) {
        if item.is(Flags::STATED) {
            return (Some(f64::from(item.half)), "stated ±, taken as one standard uncertainty".to_owned());
        }
        let line = entry.map(|entry| self.book.entries[entry]);
        let gauge = match line.map(|line| line.by) {
            Some(By::Gauge(gauge)) => self.book.gauges.get(gauge),
            _ => None,
        };
        // A rig's resolution in newtons says nothing of the travel on the same row.
        let fits = |resolution: &Item| resolution.unit().get().dim == item.unit().get().dim;
        let resolution = gauge.and_then(|gauge| gauge.resolution.filter(fits).map(|item| (gauge, item)));
        let of_gauge = resolution.map(|(gauge, resolution)| {
            let unit = resolution.unit().get();
            let size = unit.difference_to_si(unit.from_si(resolution.si));
            let text = self.files.text(resolution.span(gauge.named.declared.file));
            (
                rectangular(size / 2.0),
                format!("{} reads to {text} {}, rectangular", gauge.named.typed, unit.shown()),
            )
        });
        let of_gauge = of_gauge.or_else(|| self.sure_otherwise(item, &line?, gauge?));
        // Repeats that are all alike say no more than their last digit does.
        let of_repeats = repeats(values).and_then(|repeats| repeats.u.map(|u| (u, repeats.n)));
        let of_repeats = of_repeats.filter(|(u, _)| *u > 0.0);
        match (of_repeats, of_gauge) {
            (Some((u, n)), Some((gauge, words))) => {
                ((u * u + gauge * gauge).sqrt().into(), format!("{n} repeats (Type A); {words}"))
            }
            (Some((u, n)), None) => (Some(u), format!("{n} repeats (Type A)")),
            (None, Some((u, words))) => (Some(u), words),
            (None, None) => (None, line.map_or_else(String::new, |line| self.unsure(&line, gauge))),
        }
    }

    /// A part's tag value, its own or its spec's.
    ///
    /// # Errors
    /// When neither has one.
    pub fn tag(&mut self, part: PartId, id: QuantityId, place: Place) -> Got {
        let typed = &self.book.parts[part];
        let own = typed
            .tags
            .iter()
            .find(|(quantity, _)| *quantity == id)
            .map(|(_, item)| (*item, typed.named.declared.file));
        let spec = typed.spec.map(|spec| &self.book.specs[spec]).and_then(|spec| {
            spec.tags
                .iter()
                .find(|(quantity, _)| *quantity == id)
                .map(|(_, item)| (*item, spec.named.declared.file))
        });
        let name = format!("{} of {} (tag)", self.book.vocabulary.get(id).name, typed.named.typed);
        let Some((item, file)) = own.or(spec) else {
            let quantity = &self.book.vocabulary.get(id).name;
            return Err(Missing::one(format!(
                "{quantity} of {} on the bench or on its tag",
                typed.named.typed
            )));
        };
        Ok(self.root(
            Said {
                name,
                place,
                value: item.si,
                item: &item,
                file,
                entry: None,
                read_by: None,
                status: Status::Tag,
                stale: None,
                id,
            },
            &[],
        ))
    }

    /// A typed item of a line (a point of a bench row, an angle of a sweep) as an input.
    pub fn item(
        &mut self,
        name: impl Into<String>,
        entry: EntryId,
        item: &Item,
        dimension: DimensionId,
    ) -> Fig {
        self.item_by(name.into(), entry, item, dimension, true)
    }

    /// The same; what the gauge of the line did not read (the turn plates under a camber gauge) is taken as it stands.
    pub(super) fn item_by(
        &mut self,
        name: String,
        entry: EntryId,
        item: &Item,
        dimension: DimensionId,
        by_gauge: bool,
    ) -> Fig {
        let file = self.book.entries[entry].file;
        let span = item.span(file);
        // A row stands under the reading that names the gauge.
        let parent = self.book.entries[entry].parent;
        let by = parent.filter(|_| self.book.entries[entry].by == By::Nobody).unwrap_or(entry);
        let read_by = Some(by).filter(|_| by_gauge);
        let (u, sure) = if by_gauge { self.sure(item, read_by, &[]) } else { (None, String::new()) };
        let root = Root::Typed(span);
        let above = &self.book.entries[by];
        if let Some(read) = above.quantity.filter(|_| above.verb.is_reading() && above.verb != Verb::Bench) {
            self.read.extend(likeness::of_row(self.facts, read, item, by).map(|read| (root, read)));
        }
        if let Some(u) = u {
            self.uncertain.insert(root, u);
        }
        let Entered { value, u, roots, corrected } = self.entered(item.si, item, read_by, root, u);
        let node = self.nodes.push(Node {
            name,
            place: item.place,
            value,
            u,
            dimension,
            status: Status::Measured,
            formula: None,
            inputs: Vec::new(),
            span: Some(span),
            entry: Some(entry),
            unit: Some(item.unit()),
            decimals: item.decimals,
            sure,
            source: "",
            stale: None,
        });
        self.note_corrected(corrected);
        let status = Status::Measured;
        Fig { value, status, by: roots, stale: None, node, back: None }
    }

    /// A named default, in SI, with its source. It shows in the trace and makes the figure no better than assumed inputs.
    pub fn default(&mut self, name: &'a str, value: f64, dimension: DimensionId, source: &'a str) -> Fig {
        let node = self.nodes.push(Node {
            name: name.to_owned(),
            place: Place::CAR,
            value,
            u: None,
            dimension,
            status: Status::Assumed,
            formula: None,
            inputs: Vec::new(),
            span: None,
            entry: None,
            unit: None,
            decimals: 0,
            sure: String::new(),
            source,
            stale: None,
        });
        Fig {
            value,
            status: Status::Assumed,
            by: vec![(Root::Default(node), 1.0)],
            stale: None,
            node,
            back: None,
        }
    }

    /// Half a digit of the readings under a figure, as they come together in it, SI; `None` where nothing was read without a better word of how
    /// sure it is. What was set is what was asked for, however few digits it has.
    pub(super) fn fine(&self, by: &[(Root, f64)]) -> Option<f64> {
        let halves = by.iter().filter_map(|(root, slope)| Some(slope * self.digits.get(root)?));
        let sum: f64 = halves.map(|half| half * half).sum();
        (sum > 0.0).then(|| sum.sqrt())
    }

    /// Standard uncertainty of a figure, SI: `None` when none of its roots has one.
    #[must_use]
    pub fn u(&self, fig: &Fig) -> Option<f64> {
        let mut sum = 0.0;
        let mut any = false;
        for (root, slope) in &fig.by {
            if let Some(u) = self.uncertain.get(root) {
                sum += slope * slope * u * u;
                any = true;
            }
        }
        if !self.together.is_empty() {
            for (at, (first, a)) in fig.by.iter().enumerate() {
                for (second, b) in fig.by.iter().skip(at + 1) {
                    let key = if first <= second { (*first, *second) } else { (*second, *first) };
                    if let Some(covariance) = self.together.get(&key) {
                        sum += 2.0 * a * b * covariance;
                    }
                }
            }
        }
        // Where what is unsure does not count (bars that are off), what is left of the arithmetic is no uncertainty.
        any.then(|| sum.max(0.0).sqrt()).filter(|u| *u > 1e-12 * fig.value.abs())
    }
}
