//! Any bytes through the whole pipeline and every renderer: nothing may panic, and the fast reader must agree with
//! the grammar.

#![no_main]

use libfuzzer_sys::fuzz_target;
use stringline::audience::{self, Reader};
use stringline::book::model::{CarId, ClientId};
use stringline::diagnostics::{json, sarif, short, terminal};
use stringline::report;
use stringline::source::Memory;
use stringline::syntax::{parse_lines_only, words_by_grammar};

fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let (fast, grammar) = (parse_lines_only(&text), words_by_grammar(&text));
    assert_eq!(fast.words, grammar.words);
    assert_eq!(fast.troubles, grammar.troubles);
    let half = text.floor_char_boundary(text.len() / 2);
    let world = Memory::new(
        &[("a.sline", text.get(..half).unwrap_or_default()), ("b.sline", text.get(half..).unwrap_or_default())],
        jiff::Timestamp::UNIX_EPOCH,
    );
    let Ok(compiled) = stringline::compile(&world) else { return };
    let (all, files) = (&compiled.diagnostics, &compiled.files);
    let _ = terminal::render(all, files, true, 80);
    let _ = short::render(all, files);
    let _ = json::render(all, files);
    let _ = sarif::render(all, files, &|_| None);
    for client in compiled.book.clients.keys() {
        let _ = audience::cut(&compiled, &Reader::Client(client));
    }
    for car in compiled.book.cars.keys() {
        let purchase = audience::purchase(&compiled, car, None);
        let _ = report::handover(&audience::cut(&compiled, &Reader::Buyer(purchase)), &purchase);
    }
});
