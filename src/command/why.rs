//! `stringline why`: the explanation of a check by name.

use super::output::{Format, Output};
use super::{CLEAN, TROUBLE};
use crate::check::{Check, find, near};

/// Explain a check by its name
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  stringline why old-value-differs")]
pub struct Arguments {
    /// The name, as it stands in brackets in the message
    check: String,
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

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let Some(check) = find(&arguments.check) else {
        let near = near(&arguments.check).map_or_else(String::new, |near| format!(" Did you mean `{near}`?"));
        output.message(&format!("stringline: no check is called `{}`.{near}\n", arguments.check));
        return Ok(TROUBLE);
    };
    output.result(&match arguments.format {
        Format::Text => text(check),
        Format::Json => {
            serde_json::to_string_pretty(&View {
                check: check.name,
                severity: check.severity.word(),
                family: check.family.heading(),
                brief: check.brief,
                why: check.why,
                wrong: check.wrong,
                right: check.right,
            })? + "\n"
        }
    });
    Ok(CLEAN)
}

fn text(check: &Check) -> String {
    format!(
        "{} ({})\n{}\n\n{}\n\nNot like this:\n{}\n\nBut:\n{}\n",
        check.name,
        check.severity.word(),
        check.brief,
        check.why,
        check.wrong,
        check.right
    )
}
