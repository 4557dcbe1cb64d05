//! A page of a car as it is at the book's end: of no year, and of a car that was not sold and has a line.
//!
//! Must not know what stands on it.

use crate::book::model::CarId;
use crate::report::desk::Options;
use crate::report::key::{Key, Listed};
use crate::report::section::year;
use crate::report::teller::Teller;

/// A sort of such pages.
#[derive(Debug, Clone, Copy)]
pub(super) struct AtEnd {
    /// The page of a car.
    pub key: fn(CarId) -> Key,
    /// Its word in a file's name.
    pub word: &'static str,
    /// The words of a link.
    pub text: &'static str,
    /// What stands on it, in a few words.
    pub remark: &'static str,
}

impl AtEnd {
    /// A car's page, as it is listed.
    pub fn listed(self, tell: &Teller<'_>, car: CarId) -> Listed {
        Listed {
            key: (self.key)(car),
            name: vec![tell.cx.car(car).to_owned(), self.word.to_owned()],
            text: self.text.to_owned(),
            remark: self.remark,
            year: None,
        }
    }

    /// The pages of a car in a report: one, where there is anything to tell of it; none in a report of one season.
    pub fn of_car(
        self,
        tell: &Teller<'_>,
        options: Options,
        car: CarId,
        any: impl Fn(&Teller<'_>, CarId) -> bool,
    ) -> Vec<Listed> {
        let sold = tell.cx.history.parts.sold.contains_key(&car);
        let wanted = options.season.is_none() && !sold && !year::years(tell, car).is_empty();
        (wanted && any(tell, car)).then(|| self.listed(tell, car)).into_iter().collect()
    }
}
