//! Words and amounts that messages, answers and pages say alike.
//!
//! Must not know any check, answer, page or command.

mod aside;
pub mod dated;
pub mod moment;
mod needs;
pub mod normal;
mod phrase;
mod rule;
pub mod scale;
pub mod stale;

use crate::book::entry::Entry;
use crate::diagnostics::Severity;
pub use aside::without_lines;
pub use needs::{missing, not_of, places};
pub use phrase::{
    a, amount, and, and_more, capital, clock, count, days, did_you_mean, lap, or, or_nearest, place,
};

/// "2 errors, 1 warning and 3 notes", or "nothing wrong".
#[must_use]
pub fn summary(of: impl Fn(Severity) -> usize) -> String {
    let counts: Vec<String> = [Severity::Error, Severity::Warning, Severity::Note]
        .into_iter()
        .filter_map(|severity| match of(severity) {
            0 => None,
            n => Some(count(n, severity.word(), &format!("{}s", severity.word()))),
        })
        .collect();
    if counts.is_empty() { "nothing wrong".to_owned() } else { and(&counts) }
}

/// Why nobody knows what stood after a line: it has a mistake; to a reader who may not read it, that or it is not for him.
#[must_use]
pub fn lost_by(line: &Entry) -> &'static str {
    if line.withheld {
        "a line that is not for this reader, or has an error, makes it unknown"
    } else {
        "a line with an error makes it unknown"
    }
}

/// What a clock is ahead of UTC in minutes, as it stands behind a time: `+01:00`.
#[must_use]
pub fn offset(minutes: i16) -> String {
    let sign = if minutes < 0 { '-' } else { '+' };
    format!("{sign}{:02}:{:02}", minutes.abs() / 60, minutes.abs() % 60)
}
