//! How long the parts of a kind last: the verdict first, the curve, every life in a table, each spec by itself.
//!
//! The words are those of [`crate::answer::lives`], so that terminal and page say the same. Must not know how anything is fitted.

mod curve;
mod row;

use super::frame::{self, Frame};
use super::link::Link;
use crate::answer::lives::{Against, CountedFailures, FailureMode, SpecView, kind};
use crate::book::model::{Clock, KindId};
use crate::ids::Arena;
use crate::lives::study::clocks;
use crate::report::chart::life::LifeChart;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::teller::Teller;
use crate::report::words;
use row::ShownLife;
use serde::Serialize;

/// How long the parts of a kind last.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct KindPage {
    /// Title and footer.
    pub frame: Frame,
    /// The list before the next event, where there is one.
    pub due: Option<Link>,
    /// The kind.
    pub kind: String,
    /// What lives are measured on: "running time".
    pub clock: String,
    /// The unit of lengths: "min".
    pub unit: String,
    /// Which clock would rule and is not known of any life, and why; empty where none is passed over.
    pub passed_over: String,
    /// Whether its failure can hurt.
    pub safety: bool,
    /// The limits of its life.
    pub limits: Vec<StatedLimit>,
    /// Spec against spec.
    pub against: Vec<LifePair>,
    /// Each spec by itself.
    pub specs: Vec<SpecView>,
    /// The curves; none where no life could be counted.
    pub chart: Option<LifeChart>,
    /// Every life, in the order of the book.
    pub lives: Vec<ShownLife>,
    /// Failures by mode.
    pub modes: Vec<FailureMode>,
    /// Where it is declared.
    pub declared: String,
}

/// One spec against another.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LifePair {
    /// What is asked, where the lives give no answer: "Does aramid last longer than std?"; empty where they do.
    pub question: String,
    /// What is said of it.
    pub said: Against,
    /// The numbers behind it, in a sentence; empty where nothing failed.
    pub numbers: String,
}

/// A limit of life.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StatedLimit {
    /// As typed: "300 min".
    pub text: String,
    /// The spec it is for; empty for the whole kind.
    pub spec: String,
    /// Its line.
    pub src: String,
}

/// The kinds that have parts, in the order of the book.
pub(in crate::report) fn kinds(tell: &Teller<'_>) -> Vec<KindId> {
    let book = tell.cx.book;
    let mut has: Arena<KindId, bool> = vec![false; book.kinds.len()].into();
    for part in &book.parts {
        if let Some(has) = part.kind.and_then(|kind| has.get_mut(kind)) {
            *has = true;
        }
    }
    book.kinds.keys().filter(|kind| has[*kind]).collect()
}

/// The clock a kind's lives are told on: that which rules; where no life is known on any, one that some part's declaration names.
pub(super) fn clock(tell: &Teller<'_>, id: KindId) -> Clock {
    let book = tell.cx.book;
    let ruling = clocks(book, tell.lives(), id).first().copied();
    let named = || {
        let parts = book.parts.iter().filter(|part| part.kind == Some(id));
        parts.flat_map(|part| &part.opening).map(|amount| amount.clock).find(|clock| *clock != Clock::Months)
    };
    ruling.or_else(named).unwrap_or(Clock::Time)
}

/// Makes the view; `None` for no kind of the book.
pub(in crate::report) fn view(desk: &Desk<'_>, id: KindId) -> Option<KindPage> {
    let tell = desk.tell;
    let book = tell.cx.book;
    let declared = book.kinds.get(id)?;
    let lives = tell.lives();
    let said = kind(tell.compiled, lives, id, Some(clock(tell, id)), &CountedFailures::default())?;
    let title = format!("How long they last: {}", declared.named.typed.replace('-', " "));
    let count = words::count(said.lives.len(), "life", "lives");
    let subtitle = if declared.named.title == *declared.named.typed {
        count
    } else {
        format!("{} · {count}", declared.named.title)
    };
    let own = lives.of_kind(id);
    Some(KindPage {
        frame: frame::frame(tell, title, subtitle, None),
        due: desk.table.link(Key::Due),
        clock: said.clock_name.to_owned(),
        unit: said.unit.to_owned(),
        passed_over: said.passed_over.clone(),
        safety: said.safety,
        limits: limits(tell, id),
        chart: curve::chart(tell, id, &said),
        lives: said.lives.into_iter().zip(own).enumerate().map(|(at, one)| row::row(desk, at, one)).collect(),
        against: said.against.into_iter().map(pair).collect(),
        specs: said.specs,
        modes: said.modes,
        declared: tell.src(declared.named.declared),
        kind: said.kind,
    })
}

fn pair(said: Against) -> LifePair {
    let digits = |value: f64| crate::units::number::format(value, 2);
    let numbers = match (said.observed, said.expected) {
        (Some(observed), Some(expected)) => format!(
            "Of {}, {} failed; were both alike, {} would be expected. Judged at {}.",
            said.second,
            words::amount(observed, 0),
            digits(expected),
            digits(said.level)
        ),
        _ => format!("Judged at {}.", digits(said.level)),
    };
    // The one with fewer failures than expected looks better; where nothing failed, the second is asked about.
    let first = said.observed.zip(said.expected).is_some_and(|(observed, expected)| observed > expected);
    let (better, other) = if first { (&said.first, &said.second) } else { (&said.second, &said.first) };
    let question = if said.verdict == "cannot-tell-yet" {
        format!("Does {better} last longer than {other}?")
    } else {
        String::new()
    };
    LifePair { question, said, numbers }
}

fn limits(tell: &Teller<'_>, id: KindId) -> Vec<StatedLimit> {
    let book = tell.cx.book;
    let whole = book.kinds.get(id).into_iter().flat_map(|kind| &kind.life).map(|limit| ("", limit));
    let specs = book.specs.iter().filter(|spec| spec.kind == id);
    let own = specs.flat_map(|spec| spec.life.iter().map(|limit| (&*spec.named.typed, limit)));
    whole
        .chain(own)
        .map(|(spec, limit)| StatedLimit {
            text: tell.cx.text(limit.typed).to_owned(),
            spec: spec.to_owned(),
            src: tell.src(limit.typed),
        })
        .collect()
}
