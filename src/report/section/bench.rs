//! The rate book: everything that was benched, softest to stiffest, against its tag, with the drawing of each bench line.
//!
//! Must not know how a rate is worked out.

use super::bench_drawn::{self, AskedRate, BenchRate};
use super::bench_spans;
use super::frame::{self, Frame};
use crate::book::entry::{Entry, EntryId, Flags, Verb};
use crate::book::model::PartId;
use crate::figures::bench::rates::{Rate, rates, told};
use crate::figures::calc::Calc;
use crate::figures::trace::usual;
use crate::history::moment;
use crate::report::chart::plot::{Plot, Point, plot};
use crate::report::chart::rates::RatesChart;
use crate::report::chart::{Table, Words, id};
use crate::report::section::figures::chain::Chains;
use crate::report::section::figures::wanted::{self, Wanted};
use crate::report::teller::Teller;
use crate::report::words;
use crate::units::{DimensionId, number, table};
use serde::Serialize;
use std::collections::BTreeMap;

/// The rate book: every rate on the bench, softest to stiffest.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Bench {
    /// Title and footer.
    pub frame: Frame,
    /// Springs, then bars and blades.
    pub books: Vec<Shelf>,
    /// Rates wanted of bars, and what comes nearest.
    pub wanted: Vec<Wanted>,
    /// Points that are kept and not used.
    pub voids: Vec<Void>,
}

/// One kind of rate.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Shelf {
    /// "spring rate".
    pub name: String,
    /// All of them on one line; none where rates wanted are drawn instead.
    pub drawn: Option<RatesChart>,
    /// Softest first.
    pub lines: Vec<BenchRate>,
    /// Every position of those parts, in order.
    pub holes: Vec<String>,
    /// Parts with more than one position.
    pub blades: Vec<Blade>,
}

/// The positions of a part.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Blade {
    /// The part.
    pub part: String,
    /// Its rate in each position of the shelf, in whole units; empty where it was not measured.
    pub rates: Vec<String>,
    /// The unit.
    pub unit: String,
}

/// A point that is kept and not used.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Void {
    /// The part, its hole.
    pub part: String,
    /// What was typed.
    pub text: String,
    /// Why it is void.
    pub because: String,
    /// Its line.
    pub src: String,
}

const KINDS: [&str; 2] = ["spring-rate", "bar-rate"];

/// The page's title.
pub(in crate::report) const TITLE: &str = "What springs and bars measure";

/// Whether anything was benched.
pub(in crate::report) fn any(tell: &Teller<'_>) -> bool {
    let cx = &tell.cx;
    let mut calc = Calc::new(cx.facts, None, &moment::end(cx.history));
    KINDS.iter().any(|kind| !rates(&mut calc, kind).is_empty())
}

/// Makes the view.
pub(in crate::report) fn view(tell: &Teller<'_>) -> Bench {
    let cx = &tell.cx;
    let end = moment::end(cx.history);
    let mut chains = Chains::new("b".to_owned());
    let mut books = Vec::new();
    let mut voids = Vec::new();
    let mut wanted = wanted::wanted(tell);
    for kind in KINDS {
        // A bench line belongs to no car.
        let mut calc = Calc::new(cx.facts, None, &end);
        let (all, lacks) = told(&mut calc, kind);
        if all.is_empty() {
            continue;
        }
        let lacking: Vec<PartId> = lacks.iter().map(|(part, _)| *part).collect();
        let lines: Vec<(PartId, BenchRate)> =
            all.iter().map(|rate| (rate.part, line(tell, &calc, rate, &mut chains, &mut voids))).collect();
        let holes = holes(&all);
        // What is wanted is wanted of bars.
        let asked = if kind == KINDS[1] { wanted.as_mut_slice() } else { &mut [] };
        let drawn = if asked.is_empty() { bench_drawn::drawn(kind, &all, &lines, None) } else { None };
        for one in asked {
            let whose = format!("{} {}", one.car, one.place);
            let asked = AskedRate { whose: &whose, range: one.range };
            one.drawn = bench_drawn::drawn(kind, &all, &lines, Some(&asked));
            one.spans = bench_spans::spans(&all, &lines, &lacking, one.range);
        }
        books.push(Shelf {
            drawn,
            name: kind.replace('-', " "),
            blades: blades(tell, &all, &lines, &holes),
            holes: holes.iter().map(|hole| number::format(*hole, 0)).collect(),
            lines: lines.into_iter().map(|(_, line)| line).collect(),
        });
    }
    let count: usize = books.iter().map(|book| book.lines.len()).sum();
    let subtitle = words::count(count, "rate on the bench", "rates on the bench");
    Bench {
        frame: Frame { file: home(&books), ..frame::frame(tell, TITLE.to_owned(), subtitle, None) },
        books,
        wanted,
        voids,
    }
}

/// The file that most of the rates are in; of as many, the first by name.
fn home(books: &[Shelf]) -> String {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for line in books.iter().flat_map(|book| &book.lines) {
        *counts.entry(line.src.split(':').next().unwrap_or_default()).or_default() += 1;
    }
    counts
        .into_iter()
        .rev()
        .max_by_key(|(_, count)| *count)
        .map_or_else(String::new, |(file, _)| file.to_owned())
}

fn line(
    tell: &Teller<'_>,
    calc: &Calc<'_>,
    rate: &Rate,
    chains: &mut Chains,
    voids: &mut Vec<Void>,
) -> BenchRate {
    let cx = &tell.cx;
    let entry = bench_line(tell, calc, rate);
    let typed = entry.and_then(|at| tell.entry(at));
    let rows: Vec<(EntryId, &Entry)> = entry.map_or_else(Vec::new, |at| {
        cx.book.under(at).filter(|(_, row)| row.verb == Verb::Points && !row.broken).collect()
    });
    let imperial = rows.iter().any(|(_, row)| inches(tell, row));
    let unit = usual(DimensionId::STIFFNESS, imperial).get();
    let size = |si: f64, decimals: u8| number::format(unit.from_si(si), decimals);
    let decimals = rate.half_width.map_or(2, |half| {
        let half = half / unit.factor;
        (0..4).find(|d| half * libm::pow(10.0, f64::from(*d)) >= 9.5).unwrap_or(4)
    });
    let half_width = rate
        .half_width
        .map_or_else(|| words::DASH.to_owned(), |half| number::format(half / unit.factor, decimals));
    let part = cx.part(rate.part).to_owned();
    let hole = rate.hole.map_or_else(String::new, |hole| number::format(hole, 0));
    let named = if hole.is_empty() { part.clone() } else { format!("{part} at {hole}") };
    let before = voids.len();
    voids.extend(rows.iter().filter(|(_, row)| row.void).map(|(at, row)| Void {
        part: named.clone(),
        text: cx.text(row.span()).trim_start_matches("points").trim().to_owned(),
        because: why(tell, *at),
        src: tell.src(row.span()),
    }));
    let step = crate::figures::trace::trace(calc, &rate.rate, imperial);
    let off = rate.tag.filter(|tag| *tag > 0.0).map_or_else(String::new, |tag| {
        let text = number::format((rate.rate.value / tag - 1.0) * 100.0, 1);
        if text.starts_with('-') { format!("{text} %") } else { format!("+{text} %") }
    });
    let conditions = typed.map_or_else(Vec::new, |entry| tell.conditions(entry));
    let said: Vec<String> = conditions.into_iter().filter(|one| !one.starts_with("bar-hole")).collect();
    let label = entry.map_or_else(String::new, |at| cx.date(at).map_or_else(String::new, words::date));
    let src = typed.map_or_else(String::new, |entry| {
        crate::report::sources::lines(
            tell.cx.files,
            std::iter::once(entry.span()).chain(rows.iter().map(|(_, row)| row.span())),
        )
    });
    BenchRate {
        about: super::parts::about(tell, rate.part),
        rate: size(rate.rate.value, decimals),
        unit: unit.shown().to_owned(),
        half_width,
        repeats: rate.repeats,
        voids: voids.len() - before,
        tag: rate.tag.map_or_else(|| words::DASH.to_owned(), |tag| words::amount(unit.from_si(tag), 2)),
        off,
        convention: said.join(", "),
        when: label,
        gauge: typed.and_then(|entry| tell.by(entry.by)).unwrap_or_default().to_owned(),
        src,
        chain: chains.chain([(String::new(), &step)]),
        plot: drawing(tell, &named, &rows, imperial),
        part,
        hole,
    }
}

/// The bench line a rate was read on.
fn bench_line(tell: &Teller<'_>, calc: &Calc<'_>, rate: &Rate) -> Option<EntryId> {
    let book = tell.cx.book;
    let spans: Vec<_> = rate.rate.typed().collect();
    let holds = |entry: &Entry| {
        let at = entry.span();
        spans.iter().any(|span| span.file == at.file && at.start <= span.start && span.end <= at.end)
    };
    let lines = calc.history.slots.benches.get(&rate.part)?;
    lines
        .iter()
        .copied()
        .find(|at| book.entries.get(*at).is_some_and(holds) || book.under(*at).any(|(_, row)| holds(row)))
}

/// The words after `void because` under a row.
fn why(tell: &Teller<'_>, row: EntryId) -> String {
    let mut under = tell.cx.book.under(row).filter(|(_, entry)| entry.verb == Verb::Void);
    under.next().and_then(|(_, entry)| tell.because(entry)).unwrap_or_default().to_owned()
}

fn inches(tell: &Teller<'_>, row: &Entry) -> bool {
    let items = tell.cx.book.items_of(row);
    items.iter().any(|item| ["in", "lb", "lbf"].contains(&item.unit().get().symbol))
}

/// A straight line through points at fewer travels than these is no news.
const LEAST: usize = 3;

fn drawing(tell: &Teller<'_>, named: &str, rows: &[(EntryId, &Entry)], imperial: bool) -> Option<Plot> {
    if rows.is_empty() {
        return None;
    }
    let length = usual(DimensionId::LENGTH, imperial).get();
    let load = table().find_one(if imperial { "lbf" } else { "N" }, DimensionId::FORCE)?.get();
    let heads = [format!("travel, {}", length.shown()), format!("load, {}", load.shown())];
    let mut numbers =
        Table { head: heads.into_iter().chain(["counts".into(), "line".into()]).collect(), rows: Vec::new() };
    let mut points = Vec::new();
    for (_, row) in rows {
        let items = tell.cx.book.items_of(row);
        let items: Vec<_> = items.iter().filter(|item| item.has_value() && !item.is(Flags::OLD)).collect();
        for pair in items.as_chunks::<2>().0 {
            let [travel, force] = pair;
            let (x, y) = (length.from_si(travel.si), load.from_si(force.si));
            points.push(Point { x, y, void: row.void });
            numbers.rows.push(vec![
                words::amount(x, 3),
                words::amount(y, 2),
                if row.void { "void".to_owned() } else { "yes".to_owned() },
                tell.src(row.span()),
            ]);
        }
    }
    let places = points
        .iter()
        .enumerate()
        .filter(|(at, point)| !points.iter().take(*at).any(|known| known.x.total_cmp(&point.x).is_eq()));
    if places.count() < LEAST && !points.iter().any(|point| point.void) {
        return None;
    }
    let words = Words {
        id: id(&["bench", named]),
        title: format!("Load against travel, {named}"),
        desc: "Each point typed; the line is the least-squares fit through those that count. Void points are hollow and \
               not used."
            .to_owned(),
    };
    Some(plot(
        words,
        &format!("travel, {}", length.shown()),
        &format!("load, {}", load.shown()),
        &points,
        numbers,
    ))
}

/// Parts with several positions and their rates.
fn several(all: &[Rate]) -> Vec<(PartId, Vec<&Rate>)> {
    let mut list: Vec<(PartId, Vec<&Rate>)> = Vec::new();
    for rate in all.iter().filter(|rate| rate.hole.is_some()) {
        match list.iter_mut().find(|(same, _)| *same == rate.part) {
            Some((_, rates)) => rates.push(rate),
            None => list.push((rate.part, vec![rate])),
        }
    }
    list.retain(|(_, rates)| rates.len() > 1);
    list.sort_by_key(|(part, _)| *part);
    list
}

/// Every position of parts with several, in order.
fn holes(all: &[Rate]) -> Vec<f64> {
    let mut holes: Vec<f64> =
        several(all).iter().flat_map(|(_, rates)| rates.iter().filter_map(|rate| rate.hole)).collect();
    holes.sort_by(f64::total_cmp);
    holes.dedup();
    holes
}

/// Parts with several positions, their rates under the positions of all.
fn blades(tell: &Teller<'_>, all: &[Rate], lines: &[(PartId, BenchRate)], holes: &[f64]) -> Vec<Blade> {
    let blade = |(part, rates): (PartId, Vec<&Rate>)| {
        let line = lines.iter().find(|(same, _)| *same == part);
        let unit = line.map_or_else(String::new, |(_, line)| line.unit.clone());
        let stiffness = usual(DimensionId::STIFFNESS, unit != "N/mm").get();
        let at = |hole: &f64| {
            let rate = rates.iter().find(|rate| rate.hole.is_some_and(|at| at.total_cmp(hole).is_eq()));
            rate.map_or_else(String::new, |rate| number::format(stiffness.from_si(rate.rate.value), 0))
        };
        Blade { part: tell.cx.part(part).to_owned(), rates: holes.iter().map(at).collect(), unit }
    };
    several(all).into_iter().map(blade).collect()
}
