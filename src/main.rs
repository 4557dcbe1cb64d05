//! The `stringline` command: arguments in, exit code out.

use std::io::IsTerminal as _;
use stringline::command::{complete, output::Output, run};

fn main() -> std::process::ExitCode {
    let terminal = std::io::stderr().is_terminal();
    let color = terminal && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    let width = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok()).unwrap_or(100);
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr().lock());
    let output =
        &mut Output { out: &mut out, err: &mut err, color, terminal, quiet: false, width, now: None };
    match std::env::var_os(complete::ASKED).filter(|shell| !shell.is_empty()) {
        Some(shell) => complete::answer(&shell, std::env::args_os(), output),
        None => run(std::env::args_os(), output),
    }
}
