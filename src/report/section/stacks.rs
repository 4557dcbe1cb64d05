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

/// The sum of a kind.
fn of_kind<'r>(row: &'r CostRow, kind: Kind, currency: &str) -> Option<(&'r str, Decimal)> {
    sum(&row.cells.iter().find(|cell| cell.kind == kind)?.total, currency)
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
        let total = sum(&row.total, currency);
        let text = total.map_or(words::DASH, |(text, _)| text).to_owned();
        if let Some((_, amount)) =
            total.filter(|(_, amount)| most.as_ref().is_none_or(|(most, _)| amount > most))
        {
            most = Some((amount, format!("{name}, {text}")));
        }
        let cell =
            |kind: &Kind| of_kind(row, *kind, currency).map_or(words::DASH, |(text, _)| text).to_owned();
        lines.push([vec![name.clone()], kinds.iter().map(cell).collect(), vec![text.clone()]].concat());
        let total = if row.total.at_least { format!("at least {text}") } else { text };
        rows.push(StackSeries { name, total, amounts });
    }
    let (_, most) = most?;
    let head = kinds.iter().map(|kind| kind.heading().to_owned());
    let of = if by == CostsBy::Car { "car" } else { "event" };
    let head = [of.to_owned()].into_iter().chain(head).chain(["total".to_owned()]).collect();
    let dearest = kinds.iter().filter_map(|kind| Some((of_kind(&statement.all, *kind, currency)?, kind)));
    let dearest = dearest.max_by_key(|((_, amount), _)| *amount);
    let dearest = dearest
        .map_or_else(String::new, |((text, _), kind)| format!(" Most went on {}, {text}.", kind.heading()));
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
