//! The `stringline` command: arguments in, exit code out.

use std::io::IsTerminal as _;
use stringline::command::{output::Output, run};

fn main() -> std::process::ExitCode {
    let terminal = std::io::stderr().is_terminal();
    let color = terminal && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    let width = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok()).unwrap_or(100);
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr().lock());
    run(std::env::args_os(), &mut Output { out: &mut out, err: &mut err, color, terminal, width, now: None })
}
