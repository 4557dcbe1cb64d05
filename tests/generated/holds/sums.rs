//! Totals of a statement worked out again from its own lines.

use rust_decimal::Decimal;
use serde_json::Value;
use std::collections::BTreeMap;
use stringline::Compiled;
use stringline::costs::Selection;
use stringline::view::costs::{By, statement};

type Sums = BTreeMap<String, Decimal>;

fn add(sums: &mut Sums, sum: &Value, sign: i64) {
    if let (Some(amount), Some(currency)) = (sum["amount"].as_str(), sum["currency"].as_str()) {
        let amount: Decimal = amount.parse().unwrap();
        *sums.entry(currency.to_owned()).or_default() += amount * Decimal::from(sign);
    }
}

/// Sums of money as a map; those that are nothing are left out.
fn sums_of(money: &Value) -> Sums {
    let mut sums = Sums::new();
    for sum in money["sums"].as_array().into_iter().flatten() {
        add(&mut sums, sum, 1);
    }
    sums.retain(|_, sum| !sum.is_zero());
    sums
}

fn of_lines<'a>(lines: impl Iterator<Item = &'a Value>) -> Sums {
    let mut sums = Sums::new();
    for line in lines {
        add(&mut sums, &line["sum"], 1);
    }
    sums.retain(|_, sum| !sum.is_zero());
    sums
}

/// The first total that its lines do not add up to.
pub fn broken(cut: &Compiled) -> Option<String> {
    for (by, key) in [(By::Car, "car"), (By::Client, "client"), (By::Event, "event"), (By::Job, "job")] {
        let view = serde_json::to_value(statement(cut, Selection::default(), by)).unwrap();
        let lines = view["lines"].as_array().unwrap();
        let same = |what: String, told: &Value, wanted: Sums| {
            let told = sums_of(told);
            (told != wanted).then(|| format!("{what} by {key}: {told:?}, its lines {wanted:?}"))
        };
        if let Some(shows) = same("all".to_owned(), &view["all"]["total"], of_lines(lines.iter())) {
            return Some(shows);
        }
        let rows = view["rows"].as_array().unwrap();
        for row in rows {
            // Cars of others have one name among them: their rows are taken together.
            if rows.iter().filter(|one| one["name"] == row["name"]).count() > 1 {
                continue;
            }
            let own: Vec<&Value> = lines.iter().filter(|line| line[key] == row["name"]).collect();
            let shows = same(format!("row {}", row["name"]), &row["total"], of_lines(own.iter().copied()));
            let cells = row["cells"].as_array().unwrap().iter().find_map(|cell| {
                let of = own.iter().copied().filter(|line| line["kind"] == cell["kind"]);
                let total = if cell["total"].is_null() { cell } else { &cell["total"] };
                same(format!("row {}, {}", row["name"], cell["kind"]), total, of_lines(of))
            });
            if shows.is_some() || cells.is_some() {
                return shows.or(cells);
            }
        }
        if let Some(shows) = failures(&view, lines) {
            return Some(shows);
        }
    }
    None
}

/// A failure is what its lines cost, and a share of entry money no greater than what he paid to enter there.
fn failures(view: &Value, lines: &[Value]) -> Option<String> {
    view["failures"].as_array()?.iter().find_map(|failure| {
        let own = failure["lines"].as_array()?.iter().filter_map(|at| lines.get(at.as_u64()? as usize));
        let mut wanted = of_lines(own);
        let told = sums_of(&failure["total"]);
        let entry = &failure["lost"]["entry"];
        add(&mut wanted, entry, 1);
        wanted.retain(|_, sum| !sum.is_zero());
        if told != wanted {
            return Some(format!("failure of {}: {told:?}, its lines {wanted:?}", failure["what"]));
        }
        let fees = lines.iter().filter(|line| {
            line["kind"] == "entry" && line["event"] == failure["event"] && line["car"] == failure["car"]
        });
        let (fees, mut lost) = (of_lines(fees), Sums::new());
        add(&mut lost, entry, 1);
        let over =
            lost.iter().find(|(code, sum)| !sum.is_zero() && fees.get(*code).is_none_or(|fee| fee < sum));
        over.map(|_| {
            format!(
                "failure of {}: lost {lost:?} of entry money, of which he reads {fees:?}",
                failure["what"]
            )
        })
    })
}
