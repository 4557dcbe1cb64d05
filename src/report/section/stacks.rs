//! Costs as bars: a drawing a currency, a bar an event or a car.
//!
//! Hours that are not charged are no money and not drawn, nor is what is not known. Must not know how totals are made.

use crate::answer::costs::{CostRow, CostsBy, Statement, SumsView};
use crate::costs::Kind;
use crate::report::chart::stack::{Stack, StackSeries, stack};
use crate::report::chart::{Table, Words, id};
use crate::report::words;
use rust_decimal::Decimal;
use std::collections::BTreeSet;

/// A drawing for each currency that something was booked in.
pub(super) fn stacks(statement: &Statement, by: CostsBy) -> Vec<Stack> {
    let cells = statement.rows.iter().flat_map(|row| &row.cells);
    let currencies: BTreeSet<&str> =
        cells.flat_map(|cell| &cell.total.sums).map(|sum| sum.currency).collect();
    currencies.into_iter().filter_map(|currency| drawing(statement, by, currency)).collect()
}

/// The sum in a currency: its text and the exact number.
fn sum<'m>(money: &'m SumsView, currency: &str) -> Option<(&'m str, Decimal)> {
    let sum = money.sums.iter().find(|sum| sum.currency == currency)?;
    Some((&sum.amount, Decimal::from_str_exact(&sum.amount).ok()?))
}

/// The same as it is told: "at least" where not all of it is known.
fn told(money: &SumsView, currency: &str) -> String {
    match sum(money, currency) {
        Some((text, _)) if money.at_least => format!("at least {text}"),
        Some((text, _)) => text.to_owned(),
        None => words::DASH.to_owned(),
    }
}

/// The total of a kind.
fn total_of(row: &CostRow, kind: Kind) -> Option<&SumsView> {
    Some(&row.cells.iter().find(|cell| cell.kind == kind)?.total)
}

/// The sum of a kind.
fn of_kind<'r>(row: &'r CostRow, kind: Kind, currency: &str) -> Option<(&'r str, Decimal)> {
    sum(total_of(row, kind)?, currency)
}

/// The same where there is anything to draw.
fn drawn<'r>(row: &'r CostRow, kind: Kind, currency: &str) -> Option<(&'r str, Decimal)> {
    of_kind(row, kind, currency).filter(|(_, amount)| !amount.is_zero())
}

fn drawing(statement: &Statement, by: CostsBy, currency: &str) -> Option<Stack> {
    let kinds = statement.kinds.iter().copied();
    let kinds: Vec<Kind> =
        kinds.filter(|kind| statement.rows.iter().any(|row| drawn(row, *kind, currency).is_some())).collect();
    let mut rows = Vec::new();
    let mut lines = Vec::new();
    let mut most: Option<(Decimal, String)> = None;
    for row in &statement.rows {
        let amounts = kinds.iter().enumerate();
        let amounts: Vec<(usize, Decimal)> =
            amounts.filter_map(|(at, kind)| Some((at, drawn(row, *kind, currency)?.1))).collect();
        if amounts.is_empty() {
            continue;
        }
        let name = row.name.clone().unwrap_or_else(|| row.title.clone());
        let total = told(&row.total, currency);
        if let Some((_, amount)) = sum(&row.total, currency)
            .filter(|(_, amount)| most.as_ref().is_none_or(|(most, _)| amount > most))
        {
            most = Some((amount, format!("{name}, {total}")));
        }
        let cell = |kind: &Kind| {
            total_of(row, *kind).map_or_else(|| words::DASH.to_owned(), |total| told(total, currency))
        };
        lines.push([vec![name.clone()], kinds.iter().map(cell).collect(), vec![total.clone()]].concat());
        rows.push(StackSeries { name, total, amounts });
    }
    let (_, most) = most?;
    let head = kinds.iter().map(|kind| kind.heading().to_owned());
    let of = if by == CostsBy::Car { "car" } else { "event" };
    let head = [of.to_owned()].into_iter().chain(head).chain(["total".to_owned()]).collect();
    let all = &statement.all;
    let dearest = kinds.iter().filter_map(|kind| Some((of_kind(all, *kind, currency)?.1, *kind)));
    let dearest = dearest.max_by_key(|(amount, _)| *amount).and_then(|(_, kind)| {
        Some(format!(" Most went on {}, {}.", kind.heading(), told(total_of(all, kind)?, currency)))
    });
    let dearest = dearest.unwrap_or_default();
    let said = Words {
        id: id(&["stack", currency]),
        title: format!("Costs by {of} and kind, {currency}"),
        desc: format!(
            "A bar for each {of}, its kinds of cost one after the other; credits stand to the left of nothing.{dearest} The most is that of {most}."
        ),
    };
    let headings: Vec<&str> = kinds.iter().map(|kind| kind.heading()).collect();
    Some(stack(said, currency, &headings, &rows, Table { head, rows: lines }))
}
