//! `stringline manual`: the manual pages, made of what `--help` says.
//!
//! Must not know what any command does.

use super::CLEAN;
use super::output::Output;
use crate::source::{put, reason, shown};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, roman};
use std::io;
use std::path::PathBuf;

/// Print a manual page for `man`, or write all of them
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  stringline manual check | man -l -\n  stringline manual --out ~/.local/share/man/man1"
)]
pub struct Arguments {
    /// Of which command [default: the program's own]
    command: Option<String>,
    /// Write all of them into this folder instead, as stringline.1, stringline-check.1 and so on
    #[arg(long, value_name = "DIR", conflicts_with = "command")]
    out: Option<PathBuf>,
}

/// `program` is every command with what it takes.
pub(super) fn run(
    arguments: &Arguments,
    program: clap::Command,
    output: &mut Output<'_>,
) -> anyhow::Result<u8> {
    let all = pages(program);
    if let Some(folder) = &arguments.out {
        std::fs::create_dir_all(folder).map_err(|error| {
            anyhow::anyhow!("cannot make the folder `{}`: {}", shown(folder), reason(&error))
        })?;
        for (name, text) in &all {
            let path = folder.join(format!("{name}.1"));
            put(&path, text)
                .map_err(|error| anyhow::anyhow!("cannot write `{}`: {}", shown(&path), reason(&error)))?;
        }
        let count = crate::words::count(all.len(), "manual page", "manual pages");
        output.counted(&format!("{count} written into {}\n", shown(folder)));
        return Ok(CLEAN);
    }
    let wanted = arguments
        .command
        .as_ref()
        .map_or_else(|| "stringline".to_owned(), |name| format!("stringline-{name}"));
    let Some((_, text)) = all.iter().find(|(name, _)| *name == wanted) else {
        anyhow::bail!(
            "there is no command `{}`; `stringline --help` lists them",
            arguments.command.as_deref().unwrap_or_default()
        );
    };
    output.result(text);
    Ok(CLEAN)
}

/// Every page, by its name.
fn pages(mut program: clap::Command) -> Vec<(String, String)> {
    program.build();
    let of_command = |command: &clap::Command| {
        let name = format!("stringline-{}", command.get_name());
        (name, page(command.clone()))
    };
    let commands: Vec<(String, String)> = program.get_subcommands().map(of_command).collect();
    std::iter::once(("stringline".to_owned(), page(program.clone()))).chain(commands).collect()
}

/// One page. What stands behind the options, examples above all, keeps its lines.
fn page(command: clap::Command) -> String {
    let has_commands = command.has_subcommands();
    let after = command.get_after_help().map(ToString::to_string);
    let man = Man::new(command.after_help("").subcommand_value_name("COMMAND"));
    let mut text = Vec::new();
    let made = (|| -> io::Result<()> {
        man.render_title(&mut text)?;
        man.render_name_section(&mut text)?;
        man.render_synopsis_section(&mut text)?;
        man.render_description_section(&mut text)?;
        man.render_options_section(&mut text)?;
        if has_commands {
            man.render_subcommands_section(&mut text)?;
        }
        if let Some(after) = after.filter(|after| !after.is_empty()) {
            let mut lines = Roff::new();
            lines.control("SH", ["NOTES"]).control("nf", []);
            for line in after.lines() {
                lines.text([roman(line)]);
            }
            lines.control("fi", []);
            lines.to_writer(&mut text)?;
        }
        man.render_version_section(&mut text)
    })();
    // Writing into memory does not fail.
    debug_assert!(made.is_ok());
    String::from_utf8_lossy(&text).into_owned()
}
