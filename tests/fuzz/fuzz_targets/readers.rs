//! Honest books made of the bytes: a seller's book ends at his sale, what is sold is settled there, what is hidden may be anything.

#![no_main]
#![expect(dead_code, reason = "the tests use the rest of what is shared with them")]

#[path = "../../generated/book/mod.rs"]
mod book;
#[path = "../../generated/holds/mod.rs"]
mod holds;

use book::{Knobs, write};
use holds::readers::{Look, hidden_may_be_anything, now_ends_at_the_sale, sold_is_settled};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let Some((how, rest)) = bytes.split_first() else { return };
    let written = write(rest, Knobs::default());
    let files = written.files();
    let look = Look { pages: false, wanted: &|_| true };
    let reader = 1 + usize::from(*how) % (written.clients.len() - 1);
    let found = now_ends_at_the_sale(&files, &look).or_else(|| sold_is_settled(&files, &look)).or_else(|| {
        hidden_may_be_anything(&files, &written.changed_for(reader), written.clients[reader].name, &look)
    });
    if let Some(broken) = found {
        panic!("{broken:#?}");
    }
});
