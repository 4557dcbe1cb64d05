//! What the commands that write one page have in common: where it goes, and what is said when there is none.
//!
//! Must not know which page it is.

use super::output::Output;
use super::templates;
use crate::Compiled;
use crate::report::{Alone, NoPage, Own, Report};
use crate::source::{shown, write_to};
use anyhow::Context as _;
use std::path::PathBuf;

/// How to write a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum Form {
    /// A page.
    Html,
    /// What is on it, for programs.
    Json,
}

/// Where one page goes.
#[derive(Debug, clap::Args)]
pub(super) struct To {
    /// Write the page into this file instead of to the screen
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// A folder of templates that take the place of those of the same name
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
    /// How to write it
    #[arg(long, value_enum, default_value_t = Form::Html)]
    format: Form,
}

/// Makes the page and puts it where it goes. `none` says why there is none.
pub(super) fn write(
    compiled: &Compiled,
    (which, said): (Alone, Option<&str>),
    to: &To,
    none: impl Fn(NoPage) -> String,
    output: &mut Output<'_>,
) -> anyhow::Result<u8> {
    let own = to.templates.as_deref().map_or_else(|| Ok(Own::new()), templates::read)?;
    let report = Report::alone(compiled, which, &own).map_err(|why| anyhow::anyhow!(none(why)))?;
    let report = report.asked(said.unwrap_or_default());
    let text = if to.format == Form::Json {
        report.json()
    } else {
        let mut made = None;
        report.stream(&mut |page| made = Some(page));
        let page = made.transpose().map_err(|failed| {
            let fault = failed.fault;
            let place = if own.contains_key(&fault.template) {
                templates::place(to.templates.as_deref(), &fault.template)
            } else {
                format!("built-in template {}", fault.template)
            };
            anyhow::anyhow!(fault.told(&place))
        })?;
        page.map(|page| page.html)
    };
    let text = text.unwrap_or_default();
    match &to.out {
        Some(file) => {
            write_to(file, &text).with_context(|| format!("cannot write {}", shown(file)))?;
        }
        None if to.format == Form::Html => output.page(&text),
        None => output.result(&text),
    }
    Ok(super::verdict(compiled, output))
}
