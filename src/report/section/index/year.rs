//! The season as a strip: where each car ran, where something failed, where it goes next, and how far the book is written.
//!
//! Must not know what stands in the other cells of the first page.

use crate::book::model::{CarId, EventId};
use crate::report::chart::year::{self, YearCar, YearChart, YearMarkKind};
use crate::report::chart::{Table, Words};
use crate::report::section::{crash, stops};
use crate::report::teller::Teller;
use crate::report::words;
use jiff::ToSpan;
use jiff::civil::Date;

/// More cars than these make a drawing that nobody reads; the table above has them all.
const MOST: usize = 16;

/// The strip of the book's last year and of what lies ahead; none of a book in which no car ran or goes anywhere then.
pub(super) fn strip(tell: &Teller<'_>, cars: &[CarId]) -> Option<YearChart> {
    let until = tell.until()?;
    let cars = cars.get(..cars.len().min(MOST))?;
    let first = Date::new(until.year(), 1, 1).ok()?;
    let ahead = cars.iter().flat_map(|car| stops::ahead(tell, *car).into_iter().take(1));
    let dates = |event: EventId| tell.cx.book.events.get(event).map(|event| (event.first, event.last));
    // What is entered years ahead would leave no room for the season.
    let most = until.checked_add(1.year()).unwrap_or(until);
    let end = ahead.filter_map(|event| Some(dates(event)?.1)).filter(|day| *day <= most).max();
    let end = end.unwrap_or(until).max(Date::new(until.year(), 12, 31).ok()?);
    let day = |date: Date| first.until(date.max(first)).map_or(0, |span| span.get_days());
    let mut rows = Vec::new();
    let mut table = Vec::new();
    for car in cars {
        let mut marks = Vec::new();
        let mut ran: Vec<(EventId, Date)> = stops::ran(tell, *car)
            .into_iter()
            .filter_map(|event| Some((event, dates(event)?)))
            // One that began the year before and is not over by New Year stands at its first day of the year.
            .filter(|(_, (begun, over))| *begun <= until && *over >= first)
            .map(|(event, (begun, _))| (event, begun))
            .collect();
        ran.sort_by_key(|(_, date)| *date);
        let name = tell.cx.car(*car);
        let hits = crash::hits(tell, *car);
        for (event, date) in ran {
            let of_event = |line| crash::event(tell, line) == Some(event);
            let failed = tell.failed_on(*car).iter().filter(|(_, line)| of_event(*line)).count();
            let hit = hits.iter().filter(|(line, _)| of_event(*line)).count();
            marks.push((day(date), if failed + hit > 0 { YearMarkKind::Hurt } else { YearMarkKind::Ran }));
            let said = match (failed, hit) {
                (0, 0) => "ran".to_owned(),
                (failed, 0) => format!("ran, {}", words::count(failed, "failure", "failures")),
                (0, _) => "ran, was hit".to_owned(),
                (failed, _) => format!("ran, was hit, {}", words::count(failed, "failure", "failures")),
            };
            table.push(vec![name.to_owned(), tell.event(event).to_owned(), date.to_string(), said]);
        }
        if let Some((_, line)) = tell.cx.history.parts.sold.get(car)
            && let Some(date) = tell.cx.date(*line).filter(|date| *date >= first)
        {
            marks.push((day(date), YearMarkKind::Sold));
            table.push(vec![name.to_owned(), words::DASH.to_owned(), date.to_string(), "sold".to_owned()]);
        }
        for event in stops::ahead(tell, *car) {
            let Some((date, _)) = dates(event).filter(|(date, _)| *date <= end) else { continue };
            marks.push((day(date), YearMarkKind::Ahead));
            table.push(vec![
                name.to_owned(),
                tell.event(event).to_owned(),
                date.to_string(),
                format!(
                    "goes there, in {}",
                    words::count(day(date).abs_diff(day(until)) as usize, "day", "days")
                ),
            ]);
        }
        rows.push(YearCar { name: name.to_owned(), marks });
    }
    if rows.iter().all(|row| row.marks.is_empty()) {
        return None;
    }
    let months = first.series(1.month()).take_while(|date| *date <= end);
    let months: Vec<(i32, String)> = months
        .map(|date| (day(date), words::short(date).chars().filter(char::is_ascii_alphabetic).collect()))
        .collect();
    let drawing = Words {
        id: "year".to_owned(),
        title: format!("{}: where each car ran and goes", until.year()),
        desc: "A filled dot: it ran; a crossed square: something failed there or it was hit; a hollow dot: it goes there; a bar: it was sold. \
               The dotted line is the book's last line."
            .to_owned(),
    };
    let head = ["car", "event", "first day", "what"].map(str::to_owned).to_vec();
    Some(year::year(
        drawing,
        day(end),
        &months,
        &(day(until), words::short(until)),
        &rows,
        Table { head, rows: table },
    ))
}
