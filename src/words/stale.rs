//! That something changed after a reading was taken, so that it may be otherwise by now: said alike by the terminal and on pages.
//!
//! Must not know what makes a reading stale.

/// "perch RF and camber RF came after it, 3 Sep (heron.sline:26)"; without a day where none is known.
#[must_use]
pub fn came_after(changes: &[impl AsRef<str>], day: &str, line: &str) -> String {
    let day = if day.is_empty() { String::new() } else { format!(", {day}") };
    format!("{} came after it{day} ({line})", super::and(changes))
}

/// "benched later, 15 Aug": what the bench said of a part after the day that is asked about.
#[must_use]
pub fn benched_later(day: &str) -> String {
    format!("benched later, {day}")
}

/// The same where what changed is not told apart: "something came after it (heron.sline:26)".
#[must_use]
pub fn since(line: &str) -> String {
    came_after(&["something"], "", line)
}
