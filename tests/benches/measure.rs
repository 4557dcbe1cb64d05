//! Medians of wall times, and whole child processes with their peak memory.
//!
//! Must not know what is measured.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

/// Seconds of one call; what it returns is dropped off the clock.
pub fn once<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let start = Instant::now();
    let result = work();
    (start.elapsed().as_secs_f64(), result)
}

/// Median seconds of `times` calls.
pub fn median<T>(times: usize, mut work: impl FnMut() -> T) -> f64 {
    middle((0..times).map(|_| once(&mut work).0).collect())
}

/// The middle one of some numbers.
pub fn middle(mut all: Vec<f64>) -> f64 {
    all.sort_by(f64::total_cmp);
    all[all.len() / 2]
}

/// Runs a program to its end with its output thrown away: seconds, and the exit code.
pub fn child(program: &Path, arguments: &[&str]) -> (f64, Option<i32>) {
    let mut command = Command::new(program);
    command.args(arguments).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    let (seconds, status) = once(|| command.status());
    (seconds, status.expect("the program runs").code())
}

/// What a program took.
#[derive(Debug, Clone, Copy)]
pub struct Cost {
    /// Peak resident memory, bytes.
    pub peak: u64,
    /// Processor time over all cores, seconds.
    pub work: f64,
}

/// Runs a program under `/usr/bin/time` (GNU time); `None` where there is none.
pub fn cost(program: &Path, arguments: &[&str]) -> Option<Cost> {
    let output = Command::new("/usr/bin/time")
        .args(["-f", "cost %M %U %S"])
        .arg(program)
        .args(arguments)
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .output()
        .ok()?;
    let said = String::from_utf8_lossy(&output.stderr);
    let line = said.lines().rev().find_map(|line| line.strip_prefix("cost "))?;
    let numbers: Vec<f64> = line.split(' ').map(str::parse).collect::<Result<_, _>>().ok()?;
    let [kilobytes, user, system] = numbers.as_slice() else { return None };
    Some(Cost { peak: (kilobytes * 1024.0) as u64, work: user + system })
}
