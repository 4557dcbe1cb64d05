//! Words and amounts that messages, answers and pages say alike.
//!
//! Must not know any check, answer, page or command.

pub mod scale;

use crate::diagnostics::Severity;

/// "2 errors, 1 warning and 3 notes", or "nothing wrong".
#[must_use]
pub fn summary(count: impl Fn(Severity) -> usize) -> String {
    let counts: Vec<String> = [Severity::Error, Severity::Warning, Severity::Note]
        .into_iter()
        .filter_map(|severity| match count(severity) {
            0 => None,
            1 => Some(format!("1 {}", severity.word())),
            n => Some(format!("{n} {}s", severity.word())),
        })
        .collect();
    match counts.as_slice() {
        [] => "nothing wrong".to_owned(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// What a clock is ahead of UTC in minutes, as it stands behind a time: `+01:00`.
#[must_use]
pub fn offset(minutes: i16) -> String {
    let sign = if minutes < 0 { '-' } else { '+' };
    format!("{sign}{:02}:{:02}", minutes.abs() / 60, minutes.abs() % 60)
}
