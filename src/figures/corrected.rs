//! Readings as their gauges' comparisons put them right: what was typed less what the gauge reads high by, with how unsure that is.
//!
//! The one place where figures correct anything. Against a reference every reading is put right by itself. Where no comparison leads to
//! a reference, nobody knows which of two gauges is right, and only a figure that mixes them has all its readings in the terms of one. Must
//! not know any particular figure.

use super::calc::{Calc, Fig, Got, Root};
use super::chain::{Corrected, Entered, NodeId};
use super::uncertainty::rectangular;
use crate::book::entry::{EntryId, HeldAgainst, Item};
use crate::book::figure::FigureId;
use crate::book::model::GaugeId;
use crate::book::place::Place;
use crate::history::gauges::Terms;
use crate::history::grain;
use crate::units::number;
use jiff::civil::Date;

impl Calc<'_> {
    /// A typed value as it counts: put right, where the gauge of a line was compared with something.
    pub(super) fn entered(
        &mut self,
        value: f64,
        item: &Item,
        by: Option<EntryId>,
        root: Root,
        u: Option<f64>,
    ) -> Entered {
        let mut entered = Entered { value, u, roots: vec![(root, 1.0)], corrected: None };
        let Some(corrected) = by.and_then(|line| self.corrected(line, value, item, root)) else {
            return entered;
        };
        let scale = if corrected.by.half() > 0.0 { corrected.half / corrected.by.half() } else { 1.0 };
        let mut square = u.map_or(0.0, |u| u * u);
        for step in &corrected.by.steps {
            let root = Root::Comparison(step.cause);
            let unsure = rectangular(step.half);
            square += (scale * unsure) * (scale * unsure);
            self.uncertain.insert(root, unsure);
            let at = entered.roots.partition_point(|(other, _)| *other < root);
            entered.roots.insert(at, (root, -step.sign * scale));
        }
        entered.value = value - corrected.high;
        if !corrected.by.steps.is_empty() {
            entered.u = Some(square.sqrt());
            entered.corrected = Some(corrected);
        }
        entered
    }

    /// By how much what a root stands for may be off, either way, SI: of a comparison.
    #[must_use]
    pub fn half(&self, root: Root) -> f64 {
        self.uncertain.get(&root).map_or(0.0, |u| u * 3.0_f64.sqrt())
    }

    fn corrected(&mut self, line: EntryId, typed: f64, item: &Item, root: Root) -> Option<Corrected> {
        if self.history.gauges.is_empty() {
            return None;
        }
        let (gauge, by) = self.facts.correction(line, item)?;
        if by.against != HeldAgainst::Reference {
            self.in_terms.insert(root, (by.terms, gauge));
            if !self.common.contains(&by.terms) {
                return None;
            }
        }
        let file = self.book.entries.get(line)?.file;
        let scale = grain::si_per_metre(self.files, file, item)?;
        Some(Corrected { typed, high: by.high * scale, half: by.half() * scale, gauge, by })
    }

    /// Says of the last step how it was put right; the words stand beside what it is unsure by.
    pub(super) fn note_corrected(&mut self, corrected: Option<Corrected>) {
        let Some(corrected) = corrected else { return };
        let Some(at) = self.nodes.last_key() else { return };
        let words = self.corrected_words(at, &corrected);
        if let Some(node) = self.nodes.get_mut(at) {
            node.sure = if node.sure.is_empty() { words } else { format!("{words}; {}", node.sure) };
            // The middle of two comparisons stands between the digits of both.
            node.decimals = node.decimals.saturating_add(1);
        }
        self.corrected.insert(at, corrected);
    }

    /// "typed 27.9 psi; pg-2 reads 0.30 psi high against the reference, 2026-06-01, nearest comparison".
    fn corrected_words(&self, at: NodeId, corrected: &Corrected) -> String {
        let name = self.gauge_name(corrected.gauge);
        let Some(node) = self.nodes.get(at) else { return String::new() };
        let unit = node.unit.unwrap_or_else(|| crate::units::table().plain()).get();
        let typed = node.span.map_or("", |span| self.files.text(span));
        // A length that stands for an angle is said as what was typed.
        let per = if corrected.by.high.abs() > 0.0 { corrected.high / corrected.by.high } else { 1.0 };
        let size =
            |si: f64| number::format(si.abs() / per.abs() / unit.factor, node.decimals.saturating_add(1));
        let side = match corrected.by.against {
            HeldAgainst::Reference => {
                format!("{} against the reference", if corrected.high < 0.0 { "low" } else { "high" })
            }
            HeldAgainst::Gauge(other) => {
                let more = if corrected.high < 0.0 { "less" } else { "more" };
                format!("{more} than {}, in whose terms it is taken", self.gauge_name(other))
            }
        };
        let mut days: Vec<Date> =
            corrected.by.lines.iter().filter_map(|line| self.history.order.date(self.book, *line)).collect();
        days.sort_unstable();
        days.dedup();
        let nearest = if corrected.by.nearest { ", nearest comparison" } else { "" };
        let open = corrected.by.open.map_or_else(String::new, |open| {
            format!("; comparisons in a ring do not close by {} {}", size(open * per), unit.shown())
        });
        format!(
            "typed {typed} {symbol}; {name} reads {} ± {} {symbol} {side}, {}{nearest}{open}",
            size(corrected.high),
            size(corrected.half),
            days.iter().map(Date::to_string).collect::<Vec<_>>().join(", "),
            symbol = unit.shown(),
        )
    }

    fn gauge_name(&self, gauge: GaugeId) -> &str {
        self.book.gauges.get(gauge).map_or("a gauge", |gauge| &gauge.named.typed)
    }
}

/// The figure in the terms of one gauge, where its readings were by several that were compared with one another and with no reference.
pub(super) fn in_one_gauges_terms(calc: &mut Calc<'_>, id: FigureId, place: Place, fig: Fig) -> Got {
    let mut first: Vec<(Terms, GaugeId)> = Vec::new();
    let mut mixed: Option<Terms> = None;
    for (terms, gauge) in fig.by.iter().filter_map(|(root, _)| calc.in_terms.get(root)) {
        match first.iter().find(|(known, _)| known == terms) {
            Some((_, other)) if other != gauge => {
                mixed = mixed.or(Some(*terms).filter(|terms| !calc.common.contains(terms)));
            }
            Some(_) => {}
            None => first.push((*terms, *gauge)),
        }
    }
    let Some(terms) = mixed else { return Ok(fig) };
    calc.common.push(terms);
    let fig = calc.figure(id, place);
    calc.common.pop();
    fig
}
