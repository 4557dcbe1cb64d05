//! Whole books made of the bytes, honest or with slips: no panic, and what `holds::targets::books` holds of them.

#![no_main]
#![expect(dead_code, reason = "the tests use the rest of what is shared with them")]

#[path = "../../generated/book/mod.rs"]
mod book;
#[path = "../../generated/holds/mod.rs"]
mod holds;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    if let Some(broken) = holds::targets::books(bytes) {
        panic!("{broken:#?}");
    }
});
