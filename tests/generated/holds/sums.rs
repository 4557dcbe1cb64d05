//! Totals of a statement worked out again from its own lines.

use rust_decimal::Decimal;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use stringline::Compiled;
use stringline::answer::costs::{CostsBy, statement};
use stringline::costs::Selection;

type Sums = BTreeMap<String, Decimal>;

fn add(sums: &mut Sums, sum: &Value, sign: i64) {
    if let (Some(amount), Some(currency)) = (sum["amount"].as_str(), sum["currency"].as_str()) {
        let amount: Decimal = amount.parse().unwrap();
        *sums.entry(currency.to_owned()).or_default() += amount * Decimal::from(sign);
    }
}

/// Sums of money as a map; those that are nothing are left out.
fn sums_of(money: &Value) -> Sums {
    of_totals(std::iter::once(money))
}

/// Several sums of money as one map.
fn of_totals<'a>(totals: impl Iterator<Item = &'a Value>) -> Sums {
    let mut sums = Sums::new();
    for sum in totals.flat_map(|money| money["sums"].as_array().into_iter().flatten()) {
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

fn distinct<'a>(values: impl Iterator<Item = &'a Value>) -> Vec<&'a Value> {
    let mut once: Vec<&Value> = Vec::new();
    for value in values {
        if !once.contains(&value) {
            once.push(value);
        }
    }
    once
}

/// The first total that its lines do not add up to.
pub fn broken(cut: &Compiled) -> Option<String> {
    for (by, key) in
        [(CostsBy::Car, "car"), (CostsBy::Client, "client"), (CostsBy::Event, "event"), (CostsBy::Job, "job")]
    {
        let view = serde_json::to_value(statement(cut, Selection::default(), by)).unwrap();
        let lines = view["lines"].as_array().unwrap();
        let same = |what: String, told: Sums, wanted: Sums| {
            (told != wanted).then(|| format!("{what} by {key}: {told:?}, its lines {wanted:?}"))
        };
        if let Some(shows) = same("all".to_owned(), sums_of(&view["all"]["total"]), of_lines(lines.iter())) {
            return Some(shows);
        }
        let rows = view["rows"].as_array().unwrap();
        // Rows of one name, such as those of what has none, are taken together.
        for name in distinct(rows.iter().map(|row| &row["name"])) {
            let rows: Vec<&Value> = rows.iter().filter(|row| row["name"] == *name).collect();
            let own: Vec<&Value> = lines.iter().filter(|line| line[key] == *name).collect();
            let total = of_totals(rows.iter().map(|row| &row["total"]));
            let shows = same(format!("row {name}"), total, of_lines(own.iter().copied()));
            let cells = || rows.iter().flat_map(|row| row["cells"].as_array().unwrap());
            let kinds = distinct(cells().map(|cell| &cell["kind"]));
            let wrong = kinds.into_iter().find_map(|kind| {
                let of = own.iter().copied().filter(|line| line["kind"] == *kind);
                let cells = cells().filter(|cell| cell["kind"] == *kind);
                let total = cells.map(|cell| if cell["total"].is_null() { cell } else { &cell["total"] });
                same(format!("row {name}, {kind}"), of_totals(total), of_lines(of))
            });
            if shows.is_some() || wrong.is_some() {
                return shows.or(wrong);
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

/// The first sum of a buyer's view that stands on no line about what he buys (the parts that go along, their specs, the sale; none where
/// he is given no prices) and on none `for buyer`.
pub fn broken_for_buyer(book: &Compiled, cut: &Compiled, along: &[&str], view: &str) -> Option<String> {
    broken(cut).or_else(|| {
        let names = |line: &str| {
            let mut words = line.split([' ', ',']).filter(|word| !word.is_empty());
            words.any(|word| along.contains(&word))
        };
        let lines = book.files.iter().flat_map(|(_, file)| file.text.lines());
        // A line may say itself that it is for him.
        let his = lines.filter(|line| names(line) || line.contains("  for buyer"));
        let his: BTreeSet<String> = his.flat_map(sums_in).collect();
        let other = sums_in(view).into_iter().find(|sum| !his.contains(sum));
        other.map(|sum| format!("{sum} is in it, and on no line about {along:?}"))
    })
}

/// The sums in a text: a number before the code of a currency that books are written with.
pub fn sums_in(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split(|c: char| !(c.is_ascii_alphanumeric() || c == '.')).collect();
    let sums = words
        .windows(2)
        .filter(|pair| matches!(pair[1], "EUR" | "GBP") && pair[0].starts_with(|c: char| c.is_ascii_digit()));
    sums.map(|pair| pair.join(" ")).collect()
}
