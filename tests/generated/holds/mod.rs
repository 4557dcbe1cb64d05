//! What must hold of any book: its layout never changes its meaning, its JSON is JSON, and of its readers none is told what is
//! not his. The tests and the fuzz target share it.

pub mod cut_back;
pub mod layout;
pub mod readers;
pub mod shrink;
pub mod sums;
pub mod targets;
pub mod together;
pub mod told;

use jiff::Timestamp;
use stringline::source::Memory;
use stringline::{Compiled, compile};

/// Paths and texts.
pub type Files = Vec<(String, String)>;

/// A property that does not hold, and how it shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Broken {
    /// Which property.
    pub property: &'static str,
    /// Where it shows: `state`, a page.
    pub section: String,
    /// What is told, and what should be.
    pub shows: String,
}

/// The book on 2026-11-01.
pub fn compiled(files: &Files) -> Compiled {
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    compile(&Memory::new(&files, Timestamp::constant(1_793_534_400, 0))).unwrap()
}

/// The first section, and in it the first line, in which two readings differ.
pub fn difference(property: &'static str, one: &told::Told, two: &told::Told) -> Option<Broken> {
    let sections = one.iter().map(|(name, _)| name).chain(two.iter().map(|(name, _)| name));
    let of = |told: &told::Told, wanted: &str| {
        told.iter().find(|(name, _)| name == wanted).map(|(_, text)| text.clone())
    };
    for section in sections {
        let (before, after) = (of(one, section).unwrap_or_default(), of(two, section).unwrap_or_default());
        if before == after {
            continue;
        }
        // A page's fingerprint tells only that something else differs.
        let differ = || before.lines().zip(after.lines()).filter(|(a, b)| a != b);
        let told = differ().find(|(a, _)| !a.contains("print")).or_else(|| differ().next());
        let (a, b) = told.unwrap_or(("(ends)", "(goes on)"));
        let shows = format!("told:    {}\nor else: {}", near(a, b), near(b, a));
        return Some(Broken { property, section: section.clone(), shows });
    }
    None
}

/// A line about where it leaves the other.
fn near(line: &str, other: &str) -> String {
    let at = line.bytes().zip(other.bytes()).position(|(a, b)| a != b).unwrap_or(line.len().min(other.len()));
    let (from, to) = (line.floor_char_boundary(at.saturating_sub(160)), line.floor_char_boundary(at + 160));
    line.get(from..to).unwrap_or_default().to_owned()
}
