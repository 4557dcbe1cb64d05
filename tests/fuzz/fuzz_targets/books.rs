//! Whole books made of the bytes, honest or with slips: no panic, `format` changes no meaning and leaves nothing to do, every
//! view is JSON, and every sum a reader sees adds up from lines that he sees.

#![no_main]
#![expect(dead_code, reason = "the tests use the rest of what is shared with them")]

#[path = "../../generated/book/mod.rs"]
mod book;
#[path = "../../generated/holds/mod.rs"]
mod holds;

use book::{Knobs, write};
use holds::told::{client, told};
use holds::{compiled, layout, readers};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let Some((how, rest)) = bytes.split_first() else { return };
    // Half of them with slips.
    let knobs = Knobs { slips: if how % 2 == 1 { 12 } else { 0 }, loud_titles: how % 4 > 1 };
    let files = write(rest, knobs).files();
    if let Some(broken) = layout::keeps_the_meaning(&layout::untidy(&files, u64::from(how >> 2))) {
        panic!("{broken:#?}");
    }
    if let Some(broken) = readers::sums_add_up(&files) {
        panic!("{broken:#?}");
    }
    let book = compiled(&files);
    for name in book.book.clients.iter().map(|one| one.named.typed.to_string()) {
        let Some(reader) = client(&book, &name) else { continue };
        for (section, text) in told(&book, reader, false, &|section| section != "trace") {
            // A trace is one view after another.
            for view in serde_json::Deserializer::from_str(&text).into_iter::<serde_json::Value>() {
                assert!(view.is_ok(), "{section} is no JSON");
            }
        }
    }
});
