//! Which postings and sessions a total is about.
//!
//! Must not know how totals are shown.

use super::posting::Posting;
use super::running::{self, Running};
use super::{Costs, FailureCost};
use crate::book::Book;
use crate::book::model::{CarId, ClientId, EventId, JobId};
use crate::history::History;

/// What is asked about; all of it where nothing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Selection {
    /// Only this car.
    pub car: Option<CarId>,
    /// Only what this client pays.
    pub client: Option<ClientId>,
    /// Only at this event.
    pub event: Option<EventId>,
    /// Only for this job.
    pub job: Option<JobId>,
    /// Only in this year.
    pub year: Option<i16>,
}

impl Selection {
    /// Whether a posting is asked about.
    #[must_use]
    pub fn takes(&self, posting: &Posting) -> bool {
        self.car.is_none_or(|car| posting.car == Some(car))
            && self.client.is_none_or(|client| posting.client == Some(client))
            && self.event.is_none_or(|event| posting.event == Some(event))
            && self.job.is_none_or(|job| posting.job == Some(job))
            && self.year.is_none_or(|year| posting.date.year() == year)
    }

    /// Its postings, with their place in [`Costs::postings`].
    pub fn of<'a>(&'a self, costs: &'a Costs) -> impl Iterator<Item = (usize, &'a Posting)> {
        // A car's or a job's own postings are found without looking through all.
        let narrow = match (self.car, self.job) {
            (Some(car), _) => Some(costs.of_car.get(car.index())),
            (None, Some(job)) => Some(costs.of_job.get(job.index())),
            (None, None) => None,
        };
        let all = if narrow.is_some() { 0..0 } else { 0..costs.postings.len() };
        let list = narrow.flatten().map_or(&[][..], Vec::as_slice);
        let places = all.chain(list.iter().copied());
        let found = places.filter_map(|at| Some((at, costs.postings.get(at)?)));
        found.filter(|(_, posting)| self.takes(posting))
    }

    /// What failed, of what is asked about.
    pub fn failures<'a>(
        &'a self,
        book: &'a Book,
        history: &'a History,
        costs: &'a Costs,
    ) -> impl Iterator<Item = &'a FailureCost> {
        costs.failures.iter().filter(move |one| {
            self.car.is_none_or(|car| one.car == car)
                && self
                    .client
                    .is_none_or(|wanted| history.parts.owner(book, one.car, one.rank) == Some(wanted))
                && self.event.is_none_or(|event| one.event == Some(event))
                && self.job.is_none_or(|job| one.job == Some(job))
                && self.year.is_none_or(|year| one.date.year() == year)
        })
    }

    /// How much was run, of what is asked about. A job has no running of its own.
    #[must_use]
    pub fn running(&self, book: &Book, history: &History, reader: Option<ClientId>) -> Running {
        if self.job.is_some() {
            return Running::default();
        }
        let cars: Vec<CarId> = match self.car {
            Some(car) => vec![car],
            None => book.cars.keys().collect(),
        };
        running::of(history, &cars, self.year, |session| {
            let owner = || history.parts.owner(book, session.car, session.rank);
            history.parts.is_own_running(book, session, reader)
                && self.event.is_none_or(|event| session.event == Some(event))
                && self.client.is_none_or(|client| owner() == Some(client))
        })
    }
}
