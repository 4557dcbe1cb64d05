//! The command line: one file per command. Results go to stdout, messages to stderr.
//!
//! Only this module and `source` touch the outside; only this one knows anyhow and clap.

mod alone;
mod altered;
mod altered_pages;
mod ask;
mod back_to_back;
mod begin;
mod blank;
mod board;
mod check;
pub mod complete;
mod costs;
mod diff;
mod due;
mod editor;
mod exit;
mod folder;
pub mod format;
mod habit;
mod handover;
mod home;
mod lives;
mod load;
mod manual;
mod of_reader;
pub mod output;
mod pages;
pub mod progress;
mod report;
mod revision;
mod rules;
mod sheet;
mod state;
mod table;
mod tables;
mod templates;
mod trace;
mod transcribe;
mod tried;
mod verdict;
mod watched;
mod why;
mod worth;

pub use crate::command::exit::{CLEAN, ERRORS, TROUBLE};
use crate::command::verdict::verdict;
use clap::{Parser, Subcommand};
use output::Output;
use std::process::ExitCode;

/// A plain-text setup ledger for a race-preparation shop: checks the book, says what is on each car, writes reports.
#[derive(Debug, Parser)]
#[command(name = "stringline", version, about, propagate_version = true, disable_help_subcommand = true)]
struct Arguments {
    /// Colours in messages
    #[arg(long, global = true, value_enum, value_name = "WHEN", default_value_t = Color::Auto)]
    color: Color,
    /// Say what is wrong, and leave out the counts of what was done
    #[arg(long, global = true)]
    quiet: bool,
    #[command(subcommand)]
    command: Command,
}

/// When messages are coloured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Color {
    /// On a terminal, unless `NO_COLOR` is set
    Auto,
    /// Into a file or a pipe too
    Always,
    /// Nowhere
    Never,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Begin a book: write its first two files into an empty folder
    Begin(begin::Arguments),
    /// Say what is wrong in a book
    Check(check::Arguments),
    /// Say what is on a car at a moment
    State(state::Arguments),
    /// Say how a car's setup differs between two moments
    Diff(diff::Arguments),
    /// Say what is told otherwise since an earlier state of the book
    Altered(altered::Arguments),
    /// Say what a change did that was tried there and back, and what would tell
    BackToBack(back_to_back::Arguments),
    /// Say what a turn of each setting is worth on this car
    Worth(worth::Arguments),
    /// Say how a car stands by the rules of its class
    Rules(rules::Arguments),
    /// Say what things cost, by kind and for the running
    Costs(costs::Arguments),
    /// Show how a derived number came about
    Trace(trace::Arguments),
    /// Say what must be done, carried or watched before an event
    Due(due::Arguments),
    /// Say how long the parts of a kind last, spec against spec
    Lives(lives::Arguments),
    /// Write one page about a car: its setup sheet, between sessions, or after an impact
    Sheet(sheet::Arguments),
    /// Write the page of what to load for an event
    Load(load::Arguments),
    /// Write the HTML reports of a book
    Report(report::Arguments),
    /// Show the pages in a browser, and keep them at what was saved last
    Board(board::Arguments),
    /// Write the book as tables: CSV files, or one SQLite database
    Tables(tables::Arguments),
    /// Write the book that goes with a car to its buyer
    Handover(handover::Arguments),
    /// Explain a check by its name, or list them all
    Why(why::Arguments),
    /// Print a dated head with a car's usual lines, to paste and edit
    Blank(blank::Arguments),
    /// Print a spreadsheet's or a timing stand's rows as lines to paste into a ledger
    Transcribe(transcribe::Arguments),
    /// Lay ledgers out the usual way
    Format(format::Arguments),
    /// Talk with an editor: mistakes and cures while typing
    Editor(editor::Arguments),
    /// Print a manual page for `man`, or write all of them
    Manual(manual::Arguments),
}

/// Every command with what it takes, for tests that must not forget one.
#[must_use]
pub fn tree() -> clap::Command {
    <Arguments as clap::CommandFactory>::command()
}

/// Runs the command of these arguments (the first is the program's name). Output that does not arrive is said, and ends with
/// [`TROUBLE`]; a closed pipe wants no more and is nothing to speak of.
pub fn run(arguments: impl IntoIterator<Item = std::ffi::OsString>, output: &mut Output<'_>) -> ExitCode {
    output::watched(output, |output| done(arguments, output))
}

fn done(arguments: impl IntoIterator<Item = std::ffi::OsString>, output: &mut Output<'_>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => {
            let text = habit::pointer(&error).unwrap_or_else(|| error.render().to_string());
            if error.use_stderr() {
                output.message(&text);
                return ExitCode::from(TROUBLE);
            }
            output.result(&text);
            return ExitCode::from(CLEAN);
        }
    };
    let color = match arguments.color {
        Color::Auto => output.color,
        Color::Always => true,
        Color::Never => false,
    };
    let output = &mut output.asked(color, arguments.quiet);
    let done = match arguments.command {
        Command::Begin(arguments) => begin::run(&arguments, output),
        Command::Manual(arguments) => manual::run(&arguments, tree(), output),
        Command::Check(arguments) => check::run(&arguments, output),
        Command::State(arguments) => state::run(&arguments, output),
        Command::Diff(arguments) => diff::run(&arguments, output),
        Command::Altered(arguments) => altered::run(&arguments, output),
        Command::BackToBack(arguments) => back_to_back::run(&arguments, output),
        Command::Worth(arguments) => worth::run(&arguments, output),
        Command::Rules(arguments) => rules::run(&arguments, output),
        Command::Costs(arguments) => costs::run(&arguments, output),
        Command::Trace(arguments) => trace::run(&arguments, output),
        Command::Why(arguments) => Ok(why::run(&arguments, output)),
        Command::Blank(arguments) => blank::run(&arguments, output),
        Command::Transcribe(arguments) => transcribe::run(&arguments, output),
        Command::Format(arguments) => format::run(&arguments, output),
        Command::Editor(arguments) => editor::run(&arguments, output),
        Command::Due(arguments) => due::run(&arguments, output),
        Command::Lives(arguments) => lives::run(&arguments, output),
        Command::Sheet(arguments) => sheet::run(&arguments, output),
        Command::Load(arguments) => load::run(&arguments, output),
        Command::Report(arguments) => report::run(&arguments, output),
        Command::Board(arguments) => board::run(&arguments, output),
        Command::Tables(arguments) => tables::run(&arguments, output),
        Command::Handover(arguments) => handover::run(&arguments, output),
    };
    match done {
        Ok(code) => ExitCode::from(code),
        Err(error) => {
            output.message(&format!("stringline: {error:#}\n"));
            ExitCode::from(TROUBLE)
        }
    }
}
