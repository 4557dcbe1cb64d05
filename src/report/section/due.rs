//! What is due before the next event, as one sheet for the wall.
//!
//! The words are those of [`crate::answer::due`], so that terminal and page say the same. The list is as of the book's last line,
//! never as of today: a page changes when the book does. Must not know limits or chances.

use super::frame::{self, Frame};
use super::life_bars;
use super::link::Link;
use super::parts;
use crate::answer::LedgerLine;
use crate::answer::due::{CarryView, DueJob, DueRow, DueView, EndView, GaugeView, confidence_words, told};
use crate::due::Due;
use crate::due::row::{Action, Row};
use crate::report::chart::bars::BarsChart;
use crate::report::desk::Desk;
use crate::report::teller::ENOUGH;
use crate::report::words;
use serde::Serialize;

/// What is due before the next event, as one sheet for the wall.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DueList {
    /// Title and footer.
    pub frame: Frame,
    /// "17–18 April 2027".
    pub dates: String,
    /// "as the book stood on 13 November 2026, 155 days before".
    pub stood: String,
    /// Where the event is declared.
    pub declared: String,
    /// What each car is expected to run.
    pub cars: Vec<Expected>,
    /// "2 to replace, 1 to look at, 4 spares to carry, 3 to watch, 6 jobs"; empty for nothing.
    pub counts: String,
    /// What the parts of the list have run of their limits, in its order, drawn; none where no part of it has a limit.
    pub bars: Option<BarsChart>,
    /// What must be done or carried, the most pressing first.
    pub rows: Vec<DueItem>,
    /// Parts off the cars that wait for somebody to look at them: after an impact, or in quarantine.
    pub loose: Vec<DueWork>,
    /// Gauges in use that are out of date for it.
    pub gauges: Vec<DueWork>,
    /// Cylinders that may come to the end of what is usual before it is over.
    pub ends: Vec<DueWork>,
    /// What comes to its end later, by readings over hours.
    pub later: Vec<DueWork>,
    /// What was read over hours and has no end that can be told.
    pub no_end: Vec<DueWork>,
    /// What to watch after it.
    pub watch: Vec<DueItem>,
    /// "22 parts need nothing"; empty for none.
    pub nothing: String,
    /// Jobs still to do and work that comes round again.
    pub others: Vec<DueWork>,
    /// "90 %": how sure the spares are to be enough.
    pub confidence: String,
    /// Spares to take along.
    pub carry: Vec<CarryView>,
    /// How the list comes about.
    pub method: Vec<String>,
}

/// What a car is expected to run.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Expected {
    /// The car.
    pub car: String,
    /// In words.
    pub text: String,
}

/// Work that comes round again, a job with its promise, a part or a gauge to be seen to.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DueWork {
    /// "curlew: j-04, right front strut", "bittern: wheel torque"; "bittern" of a part off it, "torque wrench, red handle" of a gauge.
    pub what: String,
    /// The part or the gauge itself; empty for work and jobs.
    pub name: String,
    /// How it stands.
    pub text: String,
    /// The line that opened the job, or that did the work last; the impact; the gauge's own.
    pub src: String,
}

/// A line of the list.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DueItem {
    /// What it is.
    pub row: DueRow,
    /// "replace", "carry a spare".
    pub word: &'static str,
    /// `must`, `carry` or `watch`: how pressing, for the hatching.
    pub level: &'static str,
    /// "bittern LR".
    pub place: String,
    /// The part's own page, else its kind's.
    pub page: Option<Link>,
    /// The line that put it there, or that declares the car.
    pub src: String,
}

/// Jobs to be done now, then work that comes round, then jobs put off.
fn others(list: &DueView) -> Vec<DueWork> {
    let work = list.work.iter().map(|work| {
        let part = if work.part.is_empty() { String::new() } else { format!(" {}", work.part) };
        other(format!("{}: {}{part}", work.car, work.what), "", &work.text, &work.line)
    });
    let job = |job: &DueJob| {
        let car = if job.car.is_empty() { "the shop" } else { &job.car };
        let title = if job.title.is_empty() { String::new() } else { format!(", {}", job.title) };
        other(format!("{car}: {}{title}", job.job), "", &job.text, &job.line)
    };
    let beside = list.beside.iter().map(|one| other(one.what(), "", &one.text, &one.line));
    let now = list.jobs.iter().filter(|job| job.presses).map(job);
    now.chain(work).chain(beside).chain(list.jobs.iter().filter(|job| !job.presses).map(job)).collect()
}

fn other(what: String, name: &str, text: &str, line: &LedgerLine) -> DueWork {
    let src = line.to_string();
    DueWork { what, name: name.to_owned(), text: text.to_owned(), src }
}

/// "2 to replace, 1 to look at, 4 spares to carry, 3 to watch, 2 jobs, 4 at their interval".
fn counts(made: &Due, others: usize) -> String {
    let jobs = made.jobs.len().min(others);
    let beside = made.loaned.len() + made.short.len();
    let of = |action: Action| made.rows.iter().filter(|row| row.action == action).count();
    let all = [
        (of(Action::Fit), "to fit", "to fit"),
        (of(Action::Replace), "to replace", "to replace"),
        (of(Action::Inspect) + made.loose.len(), "to look at", "to look at"),
        (of(Action::Carry), "spare to carry", "spares to carry"),
        (made.gauges.len(), "gauge out of date", "gauges out of date"),
        (jobs, "job", "jobs"),
        (others.saturating_sub(jobs + beside), "at its interval", "at their interval"),
        (beside, "to settle or to stock up", "to settle or to stock up"),
        (of(Action::Watch) + made.trends.iter().filter(|one| one.is_soon()).count(), "to watch", "to watch"),
    ];
    let some = all.into_iter().filter(|(n, ..)| *n > 0).map(|(n, one, many)| words::count(n, one, many));
    some.collect::<Vec<_>>().join(", ")
}

/// Makes the view; `None` where no event lies ahead.
pub(in crate::report) fn view(desk: &Desk<'_>) -> Option<DueList> {
    let tell = desk.tell;
    let made = tell.due()?;
    let said = told(tell.compiled, made, ENOUGH, false);
    let event = tell.cx.book.events.get(made.plan.event?)?;
    let shown = made.rows.iter().filter(|row| row.action != Action::Leave);
    let gauge = |one: &GaugeView| {
        let what = if one.title.is_empty() { "gauge" } else { one.title.as_str() };
        other(what.to_owned(), &one.gauge, &one.text, &one.line)
    };
    let loose = said.loose.iter();
    let loose = loose
        .map(|one| {
            other(format!("{} {}", one.car, one.kind.replace('-', " ")), &one.part, &one.text, &one.line)
        })
        .collect();
    let gauges = said.gauges.iter().map(gauge).collect();
    let end = |one: &EndView| {
        let src = one.line.as_ref().map_or_else(String::new, ToString::to_string);
        DueWork {
            what: format!("{}: {}", one.car, one.what),
            name: String::new(),
            text: one.text.clone(),
            src,
        }
    };
    let ends = said.ends.iter().map(end).collect();
    let later = said.ends_later.iter().map(end).collect();
    let no_end = said.no_end.iter().map(|one| DueWork {
        what: format!("{}: {}", one.car, one.what),
        name: String::new(),
        text: one.text.clone(),
        src: String::new(),
    });
    let no_end = no_end.collect();
    let stood = words::date(made.plan.today);
    let others = others(&said);
    let items = said.rows.into_iter().zip(shown).map(|(row, made)| item(desk, row, made));
    let (watch, rows) = items.partition(|item: &DueItem| item.level == "watch");
    Some(DueList {
        frame: frame::frame(tell, format!("Due before {}", event.named.typed), said.plan.title.clone(), None),
        dates: words::dates(event.first, event.last),
        stood: match said.plan.days_ahead.unwrap_or(0) {
            0 => format!("as the book stood on {stood}, that day"),
            1 => format!("as the book stood on {stood}, the day before"),
            days if days < 0 => format!("as the book stood on {stood}"),
            days => format!("as the book stood on {stood}, {days} days before"),
        },
        declared: tell.src(event.named.declared),
        cars: said.plan.cars.into_iter().map(|car| Expected { car: car.car, text: car.text }).collect(),
        counts: counts(made, others.len()),
        bars: life_bars::before(
            tell,
            "due-lives",
            made.rows.iter().filter(|row| row.action != Action::Leave),
        ),
        rows,
        loose,
        gauges,
        ends,
        later,
        no_end,
        watch,
        nothing: match said.left_alone {
            0 => String::new(),
            1 => "1 part on these cars needs nothing.".to_owned(),
            more => format!("{more} parts on these cars need nothing."),
        },
        confidence: confidence_words(said.confidence),
        others,
        carry: said.carry,
        method: said.method,
    })
}

fn item(desk: &Desk<'_>, row: DueRow, made: &Row) -> DueItem {
    let (word, level) = match row.action {
        Action::Fit => ("fit one", "must"),
        Action::Replace => ("replace", "must"),
        Action::Inspect => ("look at it", "must"),
        Action::Carry => ("carry a spare", "carry"),
        Action::Watch | Action::Leave => ("watch", "watch"),
    };
    DueItem {
        word,
        level,
        place: format!("{} {}", row.car, row.spot).trim_end().to_owned(),
        page: made.fitted.part.and_then(|part| parts::page(desk, part)),
        src: row.line.to_string(),
        row,
    }
}
