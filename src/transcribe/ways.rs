//! In which way a sheet writes its numbers and its days: what its cells leave open is asked.
//!
//! Must not know what a row says.

use super::agree::{Agreed, agree};
use super::cell::{self, Numbers, Order};
use super::mapping::{Decimal, LapTimes, Mapping};
use super::meaning::{Columns, Meaning, Word};
use super::sheet::{Row, Sheet};

/// Cells that have the meanings asked for, with their row.
fn cells<'a>(
    sheet: &'a Sheet,
    columns: &'a Columns,
    wanted: impl Fn(&Meaning) -> bool + 'a,
) -> Vec<(u32, &'a str, &'a Meaning)> {
    let wanted: Vec<(usize, &Meaning)> =
        columns.iter().filter(|(_, meaning)| wanted(meaning)).map(|(at, meaning)| (*at, meaning)).collect();
    let of_row = |row: &'a Row| {
        let found = wanted
            .iter()
            .filter_map(|(at, meaning)| Some((row.line, row.cells.get(*at)?.as_str(), *meaning)));
        found.filter(|(_, cell, _)| !cell::is_empty(cell)).collect::<Vec<_>>()
    };
    sheet.rows.iter().flat_map(of_row).collect()
}

const fn is_lap(meaning: &Meaning) -> bool {
    matches!(meaning, Meaning::Word(Word::Best | Word::LapTime))
}

fn is_number(meaning: &Meaning) -> bool {
    match meaning {
        Meaning::Word(Word::Minutes) | Meaning::Condition { .. } => true,
        Meaning::Value(value) => !value.text,
        Meaning::Word(_) => false,
    }
}

/// What a cell reads under a way: digits alone, without its unit.
fn digits(cell: &str, meaning: &Meaning, way: Numbers) -> Option<String> {
    if is_lap(meaning) { cell::lap(cell, way) } else { cell::number(cell, way).map(|(digits, _)| digits) }
}

/// How numbers and lap times are written, all over the sheet.
///
/// # Errors
/// A question: they may be meant in two ways.
pub fn numbers(
    sheet: &Sheet,
    columns: &Columns,
    mapping: &Mapping,
    read_as: &mut Vec<String>,
) -> Result<Numbers, String> {
    let told = |way: &Numbers| {
        let decimal =
            mapping.decimal.is_none_or(|decimal| (decimal == Decimal::Comma) == (way.decimal == ','));
        let laps = mapping
            .lap_times
            .is_none_or(|laps| (laps == LapTimes::MinutesSecondsHundredths) == way.hundredths);
        decimal && laps
    };
    let ways: Vec<Numbers> = Numbers::WAYS.into_iter().filter(told).collect();
    let cells = cells(sheet, columns, |meaning| is_lap(meaning) || is_number(meaning));
    let at = |index: usize| cells.get(index).map_or((0, ""), |(line, cell, _)| (*line, *cell));
    let agreed = agree(ways.len(), cells.len(), |way, index| {
        let ((_, cell, meaning), way) = (cells.get(index)?, ways.get(way)?);
        digits(cell, meaning, *way)
    });
    let way = |index: usize| ways.get(index).copied().unwrap_or(Numbers { decimal: '.', hundredths: false });
    match agreed {
        Agreed::Way(index) => {
            let way = way(index);
            if way.decimal == ',' && cells.iter().any(|(_, cell, _)| cell.contains(',')) {
                read_as.push("a decimal comma".to_owned());
            }
            Ok(way)
        }
        Agreed::Open { cell, readings: [(one, first), (other, second)] } => {
            let (line, typed) = at(cell);
            let [one, other] = [one, other].map(way);
            let keys = if one.decimal == other.decimal {
                ["lap-times = \"hours-minutes-seconds\"", "lap-times = \"minutes-seconds-hundredths\""]
            } else {
                [one, other]
                    .map(|way| if way.decimal == ',' { "decimal = \"comma\"" } else { "decimal = \"point\"" })
            };
            let [key, other_key] = keys;
            Err(asked(line, typed, [(first, key), (second, other_key)]))
        }
        Agreed::Torn { cells: [first, second] } => {
            let ((line, one), (below, two)) = (at(first), at(second));
            Err(format!(
                "`{one}` in line {line} and `{two}` in line {below} cannot be written the same way; is the sheet put together from two?"
            ))
        }
    }
}

fn asked(line: u32, typed: &str, [(first, one), (second, two)]: [(String, &str); 2]) -> String {
    format!(
        "`{typed}` in line {line} may be {first} or {second}, and nothing on the sheet says which; write `{one}` or `{two}` into the mapping"
    )
}

/// In which order the days of the sheet are written.
///
/// # Errors
/// A question: they may be meant in two ways.
pub fn order(
    sheet: &Sheet,
    columns: &Columns,
    mapping: &Mapping,
    read_as: &mut Vec<String>,
) -> Result<Order, String> {
    let ways: Vec<Order> = mapping.dates.map_or_else(|| Order::WAYS.to_vec(), |one| vec![one]);
    let cells = cells(sheet, columns, |meaning| *meaning == Meaning::Word(Word::Date));
    let agreed = agree(ways.len(), cells.len(), |way, index| {
        let ((_, cell, _), way) = (cells.get(index)?, ways.get(way)?);
        cell::day(cell, *way).map(|(date, _)| date)
    });
    let way = |index: usize| ways.get(index).copied().unwrap_or(Order::YearMonthDay);
    let at = |index: usize| cells.get(index).map_or((0, ""), |(line, cell, _)| (*line, *cell));
    match agreed {
        Agreed::Way(index) => {
            if !cells.is_empty() && way(index) != Order::YearMonthDay {
                read_as.push(format!("dates {}", way(index).word()));
            }
            Ok(way(index))
        }
        Agreed::Open { cell, readings: [(one, first), (other, second)] } => {
            let (line, typed) = at(cell);
            let [one, two] = [one, other].map(|index| format!("dates = \"{}\"", way(index).word()));
            Err(asked(line, typed, [(first.to_string(), &one), (second.to_string(), &two)]))
        }
        Agreed::Torn { cells: [first, second] } => {
            let ((line, one), (below, two)) = (at(first), at(second));
            Err(format!(
                "the days `{one}` in line {line} and `{two}` in line {below} are not written in one order"
            ))
        }
    }
}
