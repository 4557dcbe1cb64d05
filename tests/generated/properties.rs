//! The properties, over books of many seeds.

use super::book::{Knobs, Written};
use super::holds::readers::{
    Look, hidden_may_be_anything, hidden_may_be_anything_to_a_buyer, now_ends_at_the_sale, sold_is_settled,
    sums_add_up,
};
use super::holds::{Broken, layout, together};
use super::hunt::{books, hunt};

/// Choices of a book: about 200 lines of it.
const CHOICES: usize = 1200;

const LOOK: Look<'static> = Look { pages: false, wanted: &|_| true };
const PAGES: Look<'static> = Look { pages: true, wanted: &|section| section.starts_with("page") };

/// As many books with cars that are sold on as without.
fn hunt_in_both(books: u64, broken: impl Fn(&Written, u64) -> Option<Broken>) {
    for resale in [false, true] {
        hunt(books.div_ceil(2), CHOICES, Knobs { resale, ..Knobs::default() }, &broken);
    }
}

#[test]
fn format_changes_no_meaning_and_has_nothing_left_to_do() {
    for slips in [0, 8] {
        let knobs = Knobs { slips, ..Knobs::default() };
        hunt(books(12, 1000), CHOICES, knobs, |book, seed| {
            layout::keeps_the_meaning(&layout::untidy(&book.files(), seed))
        });
    }
}

#[test]
fn a_sellers_now_ends_at_the_sale() {
    hunt_in_both(books(20, 2000), |book, _| now_ends_at_the_sale(&book.files(), &LOOK));
}

#[test]
fn a_sellers_pages_end_at_the_sale() {
    hunt_in_both(books(2, 200), |book, _| now_ends_at_the_sale(&book.files(), &PAGES));
}

#[test]
fn no_line_for_the_new_owner_changes_what_is_sold() {
    hunt_in_both(books(20, 2000), |book, _| sold_is_settled(&book.files(), &LOOK));
}

#[test]
fn what_is_hidden_may_be_anything() {
    hunt_in_both(books(15, 2000), |book, seed| hidden(book, seed, &LOOK));
}

#[test]
fn what_is_hidden_from_pages_may_be_anything() {
    hunt_in_both(books(2, 200), |book, seed| hidden(book, seed, &PAGES));
}

#[test]
fn what_is_hidden_from_a_buyer_may_be_anything() {
    hunt_in_both(books(20, 2000), |book, _| hidden_may_be_anything_to_a_buyer(book));
}

/// One client of each book, one after another.
fn hidden(book: &Written, seed: u64, look: &Look<'_>) -> Option<Broken> {
    let reader = 1 + seed as usize % (book.clients.len() - 1);
    hidden_may_be_anything(&book.files(), &book.changed_for(1 << reader), book.clients[reader].name, look)
}

#[test]
fn every_sum_a_reader_sees_is_a_sum_over_what_he_may_read() {
    hunt_in_both(books(30, 3000), |book, _| sums_add_up(&book.files()));
}

#[test]
fn no_figure_joins_readings_that_were_not_true_together() {
    hunt_in_both(books(10, 10_000), |book, _| together::inputs_were_true_together(&book.files()).0);
}
