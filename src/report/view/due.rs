//! What is due before the next event, as one sheet for the wall.
//!
//! The words are those of [`crate::view::due`], so that terminal and page say the same. The list is as of the book's last line,
//! never as of today: a page changes when the book does. Must not know limits or chances.

use super::frame::{self, Frame};
use super::link::Link;
use super::parts;
use crate::due::row::{Action, Row};
use crate::report::page::Desk;
use crate::report::teller::ENOUGH;
use crate::report::words;
use crate::view::Line;
use crate::view::due::{CarryView, DueView, RowView, confidence_words, told};
use schemars::JsonSchema;
use serde::Serialize;

/// What is due before the next event, as one sheet for the wall.
#[derive(Debug, Clone, Serialize, JsonSchema)]
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
    /// The list, the most pressing first.
    pub rows: Vec<Item>,
    /// "22 parts need nothing"; empty for none.
    pub nothing: String,
    /// Work that comes round again and jobs still to do.
    pub others: Vec<Other>,
    /// "90 %": how sure the spares are to be enough.
    pub confidence: String,
    /// Spares to take along.
    pub carry: Vec<CarryView>,
    /// How the list comes about.
    pub method: Vec<String>,
}

/// What a car is expected to run.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Expected {
    /// The car.
    pub car: String,
    /// In words.
    pub text: String,
}

/// Work that comes round again, or a job with its promise.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[schemars(rename = "DueWork")]
pub struct Other {
    /// "bittern: torque wheel-torque", "curlew: j-04, right front strut".
    pub what: String,
    /// How it stands.
    pub text: String,
    /// The line that did it last, or that opened the job.
    pub src: String,
}

/// A line of the list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[schemars(rename = "DueItem")]
pub struct Item {
    /// What it is.
    pub row: RowView,
    /// "replace", "take another".
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

/// Work that comes round first, then jobs: those to be done now before those put off.
fn others(list: &DueView) -> Vec<Other> {
    let src = |line: &Line| format!("{}:{}", line.path, line.line);
    let work = list.work.iter().map(|work| {
        let part = if work.part.is_empty() { String::new() } else { format!(" {}", work.part) };
        Other {
            what: format!("{}: {}{part}", work.car, work.work),
            text: work.text.clone(),
            src: src(&work.line),
        }
    });
    let jobs = list.jobs.iter().map(|job| {
        let car = if job.car.is_empty() { "the shop" } else { &job.car };
        let title = if job.title.is_empty() { String::new() } else { format!(", {}", job.title) };
        Other { what: format!("{car}: {}{title}", job.job), text: job.text.clone(), src: src(&job.line) }
    });
    work.chain(jobs).collect()
}

/// Makes the view; `None` where no event lies ahead.
pub(in crate::report) fn view(desk: &Desk<'_>) -> Option<DueList> {
    let tell = desk.tell;
    let made = tell.due()?;
    let said = told(tell.compiled, made, ENOUGH, false);
    let event = tell.cx.book.events.get(made.plan.event.0 as usize)?;
    let shown = made.rows.iter().filter(|row| row.action != Action::Leave);
    let stood = words::date(made.plan.today);
    let others = others(&said);
    Some(DueList {
        frame: frame::frame(tell, format!("Due before {}", said.plan.event), said.plan.title.clone(), None),
        dates: words::dates(event.first, event.last),
        stood: match said.plan.days_ahead {
            0 => format!("as the book stood on {stood}, that day"),
            1 => format!("as the book stood on {stood}, the day before"),
            days if days < 0 => format!("as the book stood on {stood}"),
            days => format!("as the book stood on {stood}, {days} days before"),
        },
        declared: tell.src(event.named.declared),
        cars: said.plan.cars.into_iter().map(|car| Expected { car: car.car, text: car.text }).collect(),
        rows: said.rows.into_iter().zip(shown).map(|(row, made)| item(desk, row, made)).collect(),
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

fn item(desk: &Desk<'_>, row: RowView, made: &Row) -> Item {
    let (word, level) = match row.action {
        Action::Fit => ("fit one", "must"),
        Action::Replace => ("replace", "must"),
        Action::Inspect => ("look at it", "must"),
        Action::Carry => ("take another", "carry"),
        Action::Watch | Action::Leave => ("watch", "watch"),
    };
    Item {
        word,
        level,
        place: format!("{} {}", row.car, row.place).trim_end().to_owned(),
        page: made.fitted.part.and_then(|part| parts::page(desk, part)),
        src: format!("{}:{}", row.line.path, row.line.line),
        row,
    }
}
