//! Money, by car, client and job.
//!
//! Must not know postings.

use super::fact::{AlteredSort, Fact};
use crate::Compiled;
use crate::answer::costs::{CostsBy, statement};
use crate::costs::Selection;

pub(super) fn tell(compiled: &Compiled, tell: &mut dyn FnMut(AlteredSort, String, String, Fact)) {
    for (by, sort) in [(CostsBy::Car, "car"), (CostsBy::Client, "client"), (CostsBy::Job, "job")] {
        let view = statement(compiled, Selection::default(), by);
        let silent = view.currency;
        for row in &view.rows {
            let of = row.name.clone().unwrap_or_else(|| format!("no {sort}"));
            let numbers = row.cells.iter().flat_map(|cell| &cell.lines);
            let lines = numbers.filter_map(|number| view.lines.get(number.checked_sub(1)?));
            let lines = lines.map(|line| line.line.clone()).collect();
            let fact = Fact { shown: row.total.with_hours(silent), lines };
            tell(AlteredSort::Total, of, format!("total of the {sort}"), fact);
        }
    }
}
