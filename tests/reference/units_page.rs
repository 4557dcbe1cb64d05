//! `grammar/units.md` is made from the unit table, so that it cannot say anything else.
//!
//! `UPDATE=1 cargo test --test all units_page` writes it anew.

use super::{grammar, grammar_path};
use std::fmt::Write as _;
use stringline::units::{DIMENSIONS, Dimension, DimensionId, Found, Unit, UnitId, table};

const HEAD: &str = "\
# Units

A unit is read by the quantity it stands after: `lb` is a mass after `ballast`, a weight after `weight`; `min` is a
minute of time or of angle. Capitals do not matter unless two units differ by nothing else. Where a unit has a
`.` (`N.m`), `-`, `*` and `·` do as well or it may be left out; `in2`, `in^2` and `in²` are the same.
A bare `lb` is no spring rate and no pressure: the book asks for `lb/in` or `psi`. A `mil` is not read at all, since
it is a thousandth of an inch to some and a millimetre to others: type `thou`.

This page is made from the unit table by a test (`UPDATE=1 cargo test --test all units_page`). Factors are shown to
ten figures; the program uses the exact definitions (NIST SP 811, appendix B; NIST HB 44, appendix C).

## Kinds of quantity

The word in a `quantity` line that says what its numbers measure.

| kind | usual units | takes the units of | without a unit |
|---|---|---|---|
";

#[test]
fn the_page_says_what_the_table_says() {
    let page = render();
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(grammar_path("units.md"), &page).expect("grammar/ can be written");
    }
    let committed = grammar("units.md").replace("\r\n", "\n");
    assert!(committed == page, "grammar/units.md is stale: UPDATE=1 cargo test --test all units_page");
}

fn render() -> String {
    let mut page = HEAD.to_owned();
    for kind in DIMENSIONS {
        let _ = writeln!(page, "{}", kind_row(kind));
    }
    for kind in DimensionId::all() {
        let units: Vec<(UnitId, &Unit)> = table().all().filter(|(_, unit)| unit.kind == kind).collect();
        if !units.is_empty() {
            section(&mut page, kind, &units);
        }
    }
    page
}

fn kind_row(kind: &Dimension) -> String {
    let usual: Vec<String> =
        kind.usual.iter().filter(|word| !word.contains(' ')).map(|word| code(word)).collect();
    let accepts: Vec<&str> = kind.accepts.iter().map(|kind| kind.name()).collect();
    let accepts = if kind.is_text() { "words, no number".to_owned() } else { accepts.join(", ") };
    let bare = match (kind.is_text(), kind.bare) {
        (true, _) => "",
        (false, true) => "fine",
        (false, false) => "refused",
    };
    format!("| `{}` | {} | {accepts} | {bare} |", kind.name, usual.join(", "))
}

/// One table: the units of a kind, against the one whose factor is 1 (else the first of the list).
fn section(page: &mut String, kind: DimensionId, units: &[(UnitId, &Unit)]) {
    let plain =
        |unit: &Unit| (unit.factor - 1.0).abs() < f64::EPSILON && !unit.reciprocal && unit.offset == 0.0;
    let Some(base) =
        units.iter().map(|(_, unit)| *unit).find(|unit| plain(unit)).or(units.first().map(|one| one.1))
    else {
        return;
    };
    let _ = write!(page, "\n## {}\n\n| unit | also typed | 1 of it is |\n|---|---|---|\n", kind.name());
    let mut asked: Vec<&str> = Vec::new();
    for (id, unit) in units {
        let mut others = Vec::new();
        for spelling in table().spellings_of(*id) {
            if matches!(table().find(spelling, kind), Found::Ambiguous(_)) {
                if !asked.contains(&spelling) {
                    asked.push(spelling);
                }
            } else if spelling != unit.symbol {
                others.push(code(spelling));
            }
        }
        let name = if unit.shown().is_empty() { "a bare number".to_owned() } else { code(unit.symbol) };
        let _ = writeln!(page, "| {name} | {} | {} |", others.join(" "), worth(unit, base));
    }
    if !asked.is_empty() {
        let words: Vec<String> = asked.iter().map(|word| code(word)).collect();
        let _ = writeln!(page, "\nAsked about, since two units go by it: {}.", words.join(" "));
    }
}

/// What one of a unit is in the unit the section is reckoned in.
fn worth(unit: &Unit, base: &Unit) -> String {
    let factor = figures(unit.factor / base.factor);
    let name = base.shown();
    if unit.reciprocal {
        format!("{factor} / the number, in {name}")
    } else if unit.offset != 0.0 {
        let times = if factor == "1" { String::new() } else { format!(" x {factor}") };
        format!("the number{times} + {}, in {name}", figures(unit.offset / base.factor))
    } else if unit.stands_for_weight {
        format!("{factor} {name}, its weight at standard gravity")
    } else {
        format!("{factor} {name}").trim_end().to_owned()
    }
}

/// A number to ten significant figures, no zeros at its end.
fn figures(value: f64) -> String {
    let rounded: f64 = format!("{value:.9e}").parse().unwrap_or(value);
    format!("{rounded}")
}

fn code(word: &str) -> String {
    format!("`{word}`")
}
