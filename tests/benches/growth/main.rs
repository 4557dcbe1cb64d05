//! How a command's time grows with each thing of the language: ten times as many of it, how many times the work?
//!
//! `cargo bench --bench growth` measures everything there is, alone and beside 200 cars, events, sessions, parts, rules,
//! gauges and jobs, each side growing in turn; that takes hours. `-- --quick` measures each alone and beside nothing, and
//! only the commands that are quick; `-- WORD ...` only those whose row has all the words (`-- rule beside cars check`).
//! A row over its limit is said and listed at the end. Nothing here is a test: a busy machine must not fail one. That every
//! construct has a recipe is one, in `tests/growth`.

// A bench prints, and a bench that cannot run may stop.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice
)]

mod books;
mod process;
mod series;

use books::{Side, constructs, recipe};
use process::{COMMANDS, Command, Folder};
use series::{Care, Grows, Series};

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|each| each != "--bench").collect();
    if let [flag, construct, side, count, beside] = arguments.as_slice()
        && flag == "--write"
    {
        let side = Side::ALL.into_iter().find(|one| one.word() == side);
        let write = recipe(construct).expect("a construct's name, such as `verb set`");
        print!("{}", books::book(write, count.parse().unwrap(), side, beside.parse().unwrap()));
        return;
    }
    let binary = arguments.iter().find_map(|word| word.strip_prefix("--binary=")).map(str::to_owned);
    let quick = arguments.iter().any(|word| word == "--quick");
    let words: Vec<&str> =
        arguments.iter().map(String::as_str).filter(|word| !word.starts_with("--")).collect();
    let all = all(quick);
    assert!(all.missing.is_empty(), "no recipe for {:?}", all.missing);
    let chosen = |series: &Series, command: &Command| {
        let row = format!("{} {}", series.words(), command.word);
        words.iter().all(|word| row.split([' ', ',']).any(|each| each == *word))
    };
    let folder = Folder::new(binary.as_deref());
    let mut over = Vec::new();
    for command in COMMANDS.iter().filter(|command| !quick || command.quick || words.contains(&command.word))
    {
        for series in all.series.iter().filter(|series| chosen(series, command)) {
            let row = series.measure(&folder, command, if quick { Care::QUICK } else { Care::FULL });
            println!("{row}");
            over.extend(row.is_over().then(|| row.to_string()));
        }
    }
    println!("\n{} over {}:", over.len(), series::LIMIT);
    for row in over {
        println!("{row}");
    }
}

struct All {
    series: Vec<Series>,
    missing: Vec<String>,
}

/// Everything that is measured, in the order of the tables.
fn all(quick: bool) -> All {
    let mut all = All { series: Vec::new(), missing: Vec::new() };
    for construct in constructs() {
        let Some(write) = recipe(&construct) else {
            all.missing.push(construct);
            continue;
        };
        let one = |side, grows| Series { construct: construct.clone(), write, side, grows };
        all.series.push(one(None, Grows::Construct));
        for side in Side::ALL.into_iter().filter(|_| !quick) {
            all.series.push(one(Some(side), Grows::Construct));
            all.series.push(one(Some(side), Grows::Side));
        }
    }
    all
}
