//! Figures by their declaration: read before worked out, the first of its ways that can be had, each once.
//!
//! The one rule for every figure and every name of a formula. A value put in place of the book's stands first; then what
//! was read under the figure's own name, unless what it would be worked out from was read later; then what is worked out, of
//! readings that were true together (`together`). Must not know any particular figure.

use super::calc::{Calc, Fig, Got, Missing, Status};
use super::code;
use super::dual::Dual;
use super::evaluate::{Number, Over};
use super::formula::Formula;
use super::typed::Needs;
use crate::book::figure::{Figure, FigureId, Limit, Line, Name, Sites, Source, Test, Way};
use crate::book::place::Place;
pub(super) use crate::figures::memo::{Memo, Stop};
use crate::history::state::is_of_one_session;
use rustc_hash::FxHashMap;

impl<'a> Calc<'a> {
    /// A figure by its name.
    ///
    /// # Errors
    /// What is missing for it.
    pub fn named(&mut self, name: &str, place: Place) -> Got {
        let Some(id) = self.book.figures.find(name) else {
            return Err(Missing::one(format!("a figure called {name}")));
        };
        self.figure(id, place)
    }

    /// A figure at a place, worked out once.
    ///
    /// # Errors
    /// What is missing for it.
    pub fn figure(&mut self, id: FigureId, place: Place) -> Got {
        let figure: &'a Figure = self.book.figures.get(id);
        if figure.broken {
            return Err(Missing::one(format!(
                "the figure {} put right (its declaration has an error)",
                figure.name
            )));
        }
        let place = at_home(figure, place)?;
        let supposed = self.what_if.last().map_or(0, |one| one.turn);
        let key = (
            id,
            place,
            (self.rank, self.session),
            [self.part, self.against],
            supposed,
            self.horizons.clone(),
            self.common.clone(),
        );
        if let Some(known) = self.memo.known.get(&key) {
            return known.clone();
        }
        if let Some(from) = self.memo.on_the_way.iter().position(|one| *one == key) {
            self.memo.circle = true;
            let way = self.memo.on_the_way.iter().skip(from).map(|one| &*self.book.figures.get(one.0).name);
            let names: Vec<&str> = way.chain([&*figure.name]).collect();
            return Err(Missing::one(format!(
                "a reading, since it would need itself: {}",
                names.join(", from ")
            )));
        }
        let before = std::mem::take(&mut self.memo.circle);
        self.memo.on_the_way.push(key.clone());
        let got = super::weights::of_one_weighing(self, figure, place);
        let got = got.and_then(|fig| super::together::held(self, id, place, fig));
        let got = got.and_then(|fig| super::corrected::in_one_gauges_terms(self, id, place, fig));
        self.memo.on_the_way.pop();
        // What was missing in a circle may be had from outside it.
        if got.is_ok() || !self.memo.circle || self.memo.on_the_way.is_empty() {
            self.memo.known.insert(key, got.clone());
        }
        self.memo.circle |= before;
        got
    }

    pub(super) fn read_or_worked_out(&mut self, figure: &'a Figure, place: Place) -> Got {
        let Some(quantity) = figure.quantity.filter(|_| figure.sites != Sites::Part) else {
            return self.worked_out(figure, place);
        };
        if let Some(fig) = self.instead(quantity, place) {
            return Ok(fig);
        }
        let read = self.state(quantity, place).and_then(|slot| {
            let event = slot.held.read.filter(|_| slot.held.unknown.is_none())?;
            if is_of_one_session(&figure.name) && !self.is_of_session_now(event.entry?) {
                return None;
            }
            let stale = slot.held.stale.map(|by| by.entry);
            self.event(quantity, place, &slot, event, stale).ok()
        });
        let worked_out = self.worked_out(figure, place);
        match (read, worked_out) {
            (None, worked_out) => worked_out,
            (Some(read), Err(_)) => Ok(read),
            (Some(read), Ok(fig)) => super::read::beside(self, figure, place, &read, fig),
        }
    }

    /// By its formula, or by the program. What is worked out of a session takes settings as they stood in it, whatever was set since.
    fn worked_out(&mut self, figure: &'a Figure, place: Place) -> Got {
        let run = match self.session {
            None if of_a_session(figure) => self.session_now().ok().map(|run| run.entry),
            known => known,
        };
        let now = std::mem::replace(&mut self.session, run);
        let got = self.by_formula(figure, place);
        self.session = now;
        got
    }

    fn by_formula(&mut self, figure: &'a Figure, place: Place) -> Got {
        if figure.in_code.is_some() {
            let Some(compute) = code::find(&figure.name) else {
                return Err(Missing::one(format!("a program for {}", figure.name)));
            };
            return compute(self, place);
        }
        let mut least: Option<Missing> = None;
        for way in figure.ways.iter().filter(|way| way.at.is_empty() || way.at.contains(&place)) {
            match self.way(figure, way, place) {
                Ok(Some(fig)) => return Ok(fig),
                Ok(None) => {}
                Err(Stop::Refused(missing)) => return Err(missing),
                Err(Stop::Lacks(missing)) => {
                    if least.as_ref().is_none_or(|least| missing.needs.len() <= least.needs.len()) {
                        least = Some(missing);
                    }
                }
            }
        }
        Err(least.unwrap_or_else(|| Missing::one(format!("a case that {} has a formula for", figure.name))))
    }

    /// One way to a figure; `None` where it is not the way here.
    fn way(&mut self, figure: &'a Figure, way: &'a Way, place: Place) -> Result<Option<Fig>, Stop> {
        let mut known = Names::new(figure);
        let mut chooses = Needs::default();
        for at in tested(&way.when) {
            known.take(self, at, place, &mut chooses)?;
        }
        let undecided = chooses.missing().needs;
        if undecided.is_empty() && !way.when.iter().all(|test| known.holds(test, 0.0)) {
            return Ok(None);
        }
        let mut needs = Needs::default();
        for need in &undecided {
            needs.take::<()>(Err(Missing::one(need.clone())));
        }
        for at in way.inputs.iter().chain(&way.beside) {
            known.take(self, *at, place, &mut needs)?;
        }
        for (at, name) in figure.names.iter().enumerate().filter(|(_, name)| name.beside) {
            if known.first(at as u16) == at as u16 && name.at.is_empty() {
                known.take(self, at as u16, place, &mut Needs::default())?;
            }
        }
        let missing = needs.missing();
        if !missing.needs.is_empty() {
            // What a `when` has chosen is the way, whatever it then lacks.
            let chosen = !way.when.is_empty() && undecided.is_empty();
            return Err(if chosen { Stop::Refused(missing) } else { Stop::Lacks(missing) });
        }
        for test in way.must.iter().filter(|test| !test.of_result) {
            if !known.holds(test, 0.0) {
                return Err(Stop::Refused(Missing::one(&*test.words)));
            }
        }
        let fig = known.derive(self, way, place).map_err(Stop::Refused)?;
        for test in way.must.iter().filter(|test| test.of_result) {
            if !known.holds(test, fig.value) {
                return Err(Stop::Refused(Missing::one(&*test.words)));
            }
        }
        if let Some(test) = way.careful.iter().find(|test| known.holds(test, fig.value)) {
            self.cautions.insert(fig.node, (&*test.words).into());
        }
        Ok(Some(fig))
    }
}

/// Whether a figure says something of the session of the moment.
fn of_a_session(figure: &Figure) -> bool {
    let of_it = |source: &Source| {
        matches!(
            source,
            Source::SessionLaps | Source::SessionTime | Source::Value { line: Line::InSession, .. }
        )
    };
    is_of_one_session(&figure.name) || figure.names.iter().flat_map(|name| &name.sources).any(of_it)
}

/// Where the figure is, for a place that was named: the whole car for one of the car, the axle of a corner.
fn at_home(figure: &Figure, place: Place) -> Got<Place> {
    if figure.sites.has(place) || figure.places.has(place.class()) {
        return Ok(place);
    }
    match figure.sites {
        Sites::Car | Sites::Part => Ok(Place::CAR),
        Sites::Axles if place.axle().is_some() => Ok(place.axle().unwrap_or(place)),
        _ => Err(Missing::one(figure.sites.wants())),
    }
}

/// The names that conditions ask for, once each.
fn tested(tests: &[Test]) -> Vec<u16> {
    let mut all = Vec::new();
    for test in tests {
        super::terms::names(&test.first, &mut all);
        test.rest.iter().for_each(|(_, term)| super::terms::names(term, &mut all));
    }
    all
}

/// The values of a figure's names at one place.
struct Names<'a> {
    figure: &'a Figure,
    /// By the number of the first line of each name: its line, and its values.
    known: Vec<(u16, &'a Name, Vec<Fig>)>,
}

impl<'a> Names<'a> {
    const fn new(figure: &'a Figure) -> Self {
        Self { figure, known: Vec::new() }
    }

    /// The first line of the name that a line is of: formulas know a name by it.
    fn first(&self, at: u16) -> u16 {
        let wanted = self.figure.names.get(usize::from(at)).map(|name| &name.name);
        self.figure.names.iter().position(|one| Some(&one.name) == wanted).map_or(at, |at| at as u16)
    }

    /// Takes the value of a name, or notes what it needs.
    fn take(&mut self, calc: &mut Calc<'a>, at: u16, place: Place, needs: &mut Needs) -> Result<(), Stop> {
        let first = self.first(at);
        if self.known.iter().any(|(known, ..)| *known == first) {
            return Ok(());
        }
        let Some(wanted) = self.figure.names.get(usize::from(at)).map(|name| &name.name) else {
            needs.take::<()>(Err(Missing::one(format!("a name that {} has not", self.figure.name))));
            return Ok(());
        };
        let lines = self.figure.names.iter().filter(|one| one.name == *wanted);
        let Some(name) = lines.into_iter().find(|one| one.at.is_empty() || one.at.contains(&place)) else {
            needs.take::<()>(Err(Missing::one(format!("{wanted} at this place"))));
            return Ok(());
        };
        // A condition is of the line that another name was read on: that one first.
        for of in name.sources.iter().filter_map(|source| match source {
            Source::With { of: Some(of), .. } => Some(*of),
            _ => None,
        }) {
            let plain = |one: &Name| !one.sources.iter().any(|source| matches!(source, Source::With { .. }));
            if self.figure.names.get(of as usize).is_some_and(plain) {
                self.take(calc, of, place, &mut Needs::default())?;
            }
        }
        match super::source::name(calc, self.figure, name, place, &|at| self.of(at)) {
            Ok(figs) => {
                for fig in &figs {
                    limited(calc, &name.limit, fig)?;
                }
                self.known.push((first, name, figs));
            }
            Err(Stop::Lacks(missing)) => {
                needs.take::<()>(Err(missing));
            }
            Err(refused) => return Err(refused),
        }
        Ok(())
    }

    /// The value of a name that is known already.
    fn of(&self, at: u16) -> Option<Fig> {
        let first = self.first(at);
        self.known.iter().find(|(known, ..)| *known == first).and_then(|(_, _, figs)| figs.first().cloned())
    }

    /// Whether a condition holds for these values.
    fn holds(&self, test: &Test, result: f64) -> bool {
        let values: FxHashMap<u16, Vec<Number>> = self
            .known
            .iter()
            .map(|(at, _, figs)| (*at, figs.iter().map(|fig| Number::Plain(fig.value)).collect()))
            .collect();
        let none: &[Number] = &[];
        Over { values: &|at| values.get(&at).map_or(none, Vec::as_slice), result }.holds(test)
    }

    /// Puts them through the formula.
    fn derive(&self, calc: &mut Calc<'a>, way: &'a Way, place: Place) -> Got {
        let wanted = |at: u16| way.inputs.iter().any(|input| self.first(*input) == at);
        let mut labels: Vec<(String, &Fig)> = Vec::new();
        let mut ranges: Vec<(u16, usize, usize)> = Vec::new();
        let mut known: Vec<_> =
            self.known.iter().filter(|(at, name, _)| wanted(*at) || name.beside).collect();
        known.sort_by_key(|(at, ..)| *at);
        for (at, name, figs) in known {
            ranges.push((*at, labels.len(), figs.len()));
            for (index, fig) in figs.iter().enumerate() {
                let label =
                    if name.list { format!("{}{}", name.name, index + 1) } else { name.name.to_string() };
                labels.push((label, fig));
            }
        }
        if let (true, [(_, only)]) = (way.plain, labels.as_slice()) {
            return Ok((*only).clone());
        }
        let inputs: Vec<(&str, &Fig)> = labels.iter().map(|(label, fig)| (label.as_str(), *fig)).collect();
        let formula = Formula {
            id: &self.figure.name,
            name: way.called.as_deref().unwrap_or(&self.figure.called),
            expression: &way.text,
            source: &way.source,
            convention: &way.convention,
            dimension: self.figure.dimension,
            shown: "",
            show: self.figure.show,
        };
        let status = if way.inferred { Status::Inferred } else { Status::Derived };
        let count = inputs.len();
        let fig = calc.derive_as(&formula, place, &inputs, Some(status), |duals: &[Dual]| {
            let numbers: Vec<Number> = duals.iter().cloned().map(Number::Dual).collect();
            let values = |at: u16| {
                let range = ranges.iter().find(|(known, ..)| *known == at);
                range.and_then(|(_, from, len)| numbers.get(*from..from + len)).unwrap_or_default()
            };
            Over { values: &values, result: 0.0 }.term(&way.term).dual(count)
        })?;
        if way.estimated {
            calc.estimated.insert(fig.node);
        }
        Ok(fig)
    }
}

/// Holds a value to what its name says.
fn limited(calc: &Calc<'_>, limit: &Limit, fig: &Fig) -> Result<(), Stop> {
    let got = match limit {
        Limit::None => return Ok(()),
        Limit::AboveZero => calc.positive(fig.clone()),
        Limit::Within(low, high, words) => calc.within(fig.clone(), *low, *high, words),
    };
    got.map(|_| ()).map_err(Stop::Refused)
}
