//! `stringline why`: the explanation of a check by name, or all of them by family.

use super::output::{Format, Output};
use super::table::{left, wrap};
use super::{CLEAN, TROUBLE};
use crate::check::{CHECKS, Check, find, near};
use crate::words;
use std::fmt::Write as _;

/// Explain a check by its name, or list them all
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  stringline why old-value-differs\n  stringline why")]
pub struct Arguments {
    /// The name, as it stands in brackets in the message [default: all, by family]
    check: Option<String>,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(serde::Serialize)]
struct View<'a> {
    check: &'a str,
    severity: &'a str,
    family: &'a str,
    brief: &'a str,
    why: &'a str,
    wrong: &'a str,
    right: &'a str,
}

#[derive(serde::Serialize)]
struct All<'a> {
    checks: Vec<View<'a>>,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> u8 {
    let Some(name) = &arguments.check else {
        output.result(&match arguments.format {
            Format::Text => list(output.width),
            Format::Json => {
                crate::answer::json(&All { checks: by_family().iter().map(|check| view(check)).collect() })
            }
        });
        return CLEAN;
    };
    let Some(check) = find(name) else {
        let cure = near(name).map_or_else(
            || "`stringline why` lists them all.".to_owned(),
            |near| words::capital(&words::did_you_mean(near)),
        );
        output.message(&format!("stringline: no check is called `{name}`. {cure}\n"));
        return TROUBLE;
    };
    output.result(&match arguments.format {
        Format::Text => text(check, output.width),
        Format::Json => crate::answer::json(&view(check)),
    });
    CLEAN
}

fn view(check: &Check) -> View<'_> {
    View {
        check: check.name,
        severity: check.severity.word(),
        family: check.family.heading(),
        brief: check.brief,
        why: check.why,
        wrong: check.wrong,
        right: check.right,
    }
}

/// All checks, family by family in the order of [`crate::check::Family`]; within one in the order of its list.
fn by_family() -> Vec<&'static Check> {
    let mut checks = CHECKS.clone();
    checks.sort_by_key(|check| check.family);
    checks
}

fn list(columns: usize) -> String {
    let checks = by_family();
    let name = checks.iter().map(|check| check.name.len()).max().unwrap_or(0);
    let mut out = String::new();
    let mut family = None;
    for check in checks {
        if family != Some(check.family) {
            let gap = if family.is_some() { "\n" } else { "" };
            let _ = writeln!(out, "{gap}{}", check.family.heading());
            family = Some(check.family);
        }
        let head = format!("  {}  {}  ", left(check.name, name), left(check.severity.word(), 7));
        let brief = wrap(check.brief, head.len(), columns.max(head.len() + 24));
        let _ = write!(out, "{head}{}", brief.trim_start());
    }
    out
}

fn text(check: &Check, columns: usize) -> String {
    let indented =
        |lines: &str| lines.lines().fold(String::new(), |text, line| format!("{text}    {line}\n"));
    format!(
        "{} ({})\n{}\n{}\nNot like this:\n\n{}\nBut:\n\n{}",
        check.name,
        check.severity.word(),
        wrap(check.brief, 0, columns),
        wrap(check.why, 0, columns),
        indented(check.wrong),
        indented(check.right)
    )
}
