//! What every page has: title, language, footer.
//!
//! Must not know what is between.

use crate::diagnostics::Severity;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// The frame of a page.
#[derive(Debug, Clone, Serialize)]
pub struct Frame {
    /// For the window and the one `<h1>`.
    pub title: String,
    /// The line under it.
    pub subtitle: String,
    /// The shop.
    pub shop: String,
    /// "10 files, 1758 lines".
    pub book: String,
    /// A number made from the book's every byte: the same number, the same book.
    pub print: String,
    /// The last dated line of the book.
    pub until: String,
    /// "2 errors and 5 warnings", of the whole book.
    pub problems: String,
    /// Whether the book has an error, so that some number may be missing or wrong.
    pub errors: bool,
}

/// Frames a page.
pub(in crate::report) fn frame(tell: &Teller<'_>, title: String, subtitle: String) -> Frame {
    let files = tell.cx.files;
    let lines: usize = files.iter().map(|(_, file)| file.text.lines().count()).sum();
    let until = tell.cx.book.heads.iter().map(|head| head.date).max();
    let shop = &tell.cx.book.shop.title;
    Frame {
        title,
        subtitle,
        shop: if shop.is_empty() { "The shop".to_owned() } else { shop.clone() },
        book: format!(
            "{}, {}",
            words::count(files.len(), "file", "files"),
            words::count(lines, "line", "lines")
        ),
        print: print(tell),
        until: until.map_or_else(|| words::DASH.to_owned(), words::date),
        problems: crate::command::output::summary(tell.compiled),
        errors: tell.compiled.count(Severity::Error) > 0,
    }
}

/// FNV-1a, 64 bits, over paths and texts (Fowler, Noll and Vo; draft-eastlake-fnv).
fn print(tell: &Teller<'_>) -> String {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    let mut eat = |bytes: &[u8]| {
        for byte in bytes {
            hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    };
    for (_, file) in tell.cx.files.iter() {
        eat(file.path.as_bytes());
        eat(&[0]);
        eat(file.text.as_bytes());
        eat(&[0]);
    }
    let text = format!("{hash:016x}");
    let (first, last) = text.split_at(8);
    format!("{first} {last}")
}
