//! The book as it was saved last, the copies made of it so far, and who waits for its next state.
//!
//! Must not know how a book is read.

use super::copy::{Copy, bare};
use super::strip;
use crate::Compiled;
use crate::report::{Options, Own, Report};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, SystemTime};

/// A state of the book: what its pages are made of.
#[derive(Debug)]
pub struct Stand {
    /// The book, as its reader has it.
    pub compiled: Compiled,
    /// Which pages.
    pub options: Options,
    /// The shop's own templates.
    pub own: Own,
}

/// What every browser's tab is shown.
#[derive(Debug)]
pub struct Board {
    held: Mutex<Held>,
    turned: Condvar,
}

#[derive(Debug)]
struct Held {
    stand: Arc<Stand>,
    /// Why there is no later state of the book.
    trouble: Option<String>,
    /// Counts the states.
    turn: u64,
    /// Those made of this state, by file name. Only what is looked at is made.
    copies: BTreeMap<String, Arc<Copy>>,
    /// When this state was saved, until a browser has painted it.
    saved: Option<SystemTime>,
    /// The pages of which this state was handed to somebody who had an older one.
    handed: BTreeSet<String>,
}

impl Board {
    /// Of the first state of a book.
    #[must_use]
    pub fn new(stand: Stand) -> Self {
        let held = Held {
            stand: Arc::new(stand),
            trouble: None,
            turn: 0,
            copies: BTreeMap::new(),
            saved: None,
            handed: BTreeSet::new(),
        };
        Self { held: Mutex::new(held), turned: Condvar::new() }
    }

    /// Takes the next state, or why there is none: then the last one stands, and says so. `saved` is when a ledger was saved last.
    pub fn lay(&self, next: Result<Stand, String>, saved: Option<SystemTime>) {
        let mut held = self.held();
        match next {
            Ok(stand) => {
                held.stand = Arc::new(stand);
                held.trouble = None;
            }
            Err(trouble) => held.trouble = Some(trouble),
        }
        held.turn += 1;
        held.copies.clear();
        held.handed.clear();
        held.saved = saved;
        drop(held);
        self.turned.notify_all();
    }

    /// The copy of a page; of a name that no page has, one that says so.
    #[must_use]
    pub fn copy(&self, page: &str) -> Arc<Copy> {
        self.at_turn(page).1
    }

    /// The copy of a page as soon as it is otherwise than that with the print `seen`; `None` where for so long nothing was saved that changes it.
    #[must_use]
    pub fn news(&self, page: &str, seen: &str, patience: Duration) -> Option<Arc<Copy>> {
        loop {
            let (turn, copy) = self.at_turn(page);
            let mut held = self.held();
            if copy.print != seen {
                if held.turn == turn {
                    held.handed.insert(page.to_owned());
                }
                return Some(copy);
            }
            let waited = self.turned.wait_timeout_while(held, patience, |held| held.turn == turn);
            let (held, ended) = waited.unwrap_or_else(PoisonError::into_inner);
            drop(held);
            if ended.timed_out() {
                return None;
            }
        }
    }

    /// When the state that somebody has on his screen was saved, where he had an older one before: told once.
    #[must_use]
    pub fn painted(&self, page: &str, seen: &str) -> Option<SystemTime> {
        let mut held = self.held();
        let is_latest =
            held.handed.contains(page) && held.copies.get(page).is_some_and(|copy| copy.print == seen);
        held.saved.take_if(|_| is_latest)
    }

    fn held(&self) -> MutexGuard<'_, Held> {
        // Whoever held it last may have broken off while a page was made: what is held is whole at any moment.
        self.held.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The copy of a page, and of which state it is. It is made while others may read.
    fn at_turn(&self, page: &str) -> (u64, Arc<Copy>) {
        let held = self.held();
        let (turn, stand, trouble) = (held.turn, Arc::clone(&held.stand), held.trouble.clone());
        if let Some(copy) = held.copies.get(page) {
            return (turn, Arc::clone(copy));
        }
        drop(held);
        let copy = Arc::new(made(&stand, trouble, page));
        let mut held = self.held();
        // Names that no page has are as many as somebody cares to ask for.
        if held.turn == turn && copy.found {
            held.copies.insert(page.to_owned(), Arc::clone(&copy));
        }
        (turn, copy)
    }
}

/// Makes the copy of a page.
fn made(stand: &Stand, trouble: Option<String>, page: &str) -> Copy {
    let report = Report::new(&stand.compiled, stand.options, &stand.own);
    let lines: Vec<String> = trouble.into_iter().chain(strip::lines(&stand.compiled)).collect();
    match report.page(page) {
        Some(Ok(made)) => Copy::new(page, &made.html, true, &lines),
        Some(Err(failed)) => {
            Copy::new(page, &bare(&failed.fault.told(&failed.fault.template)), false, &lines)
        }
        None => {
            Copy::new(page, &bare(&format!("The book has no page {page} as it stands now.")), false, &lines)
        }
    }
}
