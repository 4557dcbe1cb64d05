//! Honest books made of the bytes: no panic, and what `holds::targets::readers` holds of them.

#![no_main]
#![expect(dead_code, reason = "the tests use the rest of what is shared with them")]

#[path = "../../generated/book/mod.rs"]
mod book;
#[path = "../../generated/holds/mod.rs"]
mod holds;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    if let Some(broken) = holds::targets::readers(bytes) {
        panic!("{broken:#?}");
    }
});
