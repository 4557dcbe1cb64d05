//! A list from one of its ids on is the list without what stands before.

use stringline::book::entry::EntryId;
use stringline::source::Memory;

#[test]
fn from_an_id_on() {
    let text = "car a \"A\"\n2026-05-02 a\n  read rake 6 mm\n  run s1 20 min\n    say \"push\"\n  | swept\n";
    let book = stringline::compile(&Memory::new(&[("a.sline", text)], crate::checks::now())).unwrap().book;
    assert_eq!(book.entries.len(), 4);
    for from in (0..7).map(EntryId::new) {
        let rest: Vec<EntryId> = book.entries.iter_from(from).map(|(id, _)| id).collect();
        let walked: Vec<EntryId> = book.entries.keys().filter(|id| *id >= from).collect();
        assert_eq!(rest, walked);
        assert_eq!(book.entries.iter_from(from).len(), walked.len());
    }
}
