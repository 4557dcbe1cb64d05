//! A shop's own templates: reads a folder of them, and says which replace nothing.
//!
//! Must not know what a template says.

use crate::report::{Own, template_names};
use crate::source::shown;
use anyhow::{Context as _, bail};
use std::io::Read as _;
use std::path::Path;

/// Folders below folders are read this deep.
const DEEPEST: usize = 4;

/// Bytes of a template at most. The largest of ours has 20 KiB.
const LARGEST: u64 = 4 << 20;

/// Files of these endings are templates.
const ENDINGS: [&str; 3] = ["html", "svg", "css"];

/// Reads every template of a folder, named by its path below it with `/` between parts. Names that start with a dot are
/// left out.
///
/// # Errors
/// When the folder or a file in it cannot be read, or is no text.
pub(super) fn read(folder: &Path) -> anyhow::Result<Own> {
    let mut own = Own::new();
    below(folder, "", DEEPEST, &mut own)?;
    if own.is_empty() {
        bail!("there is no template (.html, .svg, .css) in {}", shown(folder));
    }
    Ok(own)
}

fn below(folder: &Path, prefix: &str, depth: usize, own: &mut Own) -> anyhow::Result<()> {
    let cannot = || format!("cannot read the templates in {}", shown(folder));
    for entry in std::fs::read_dir(folder).with_context(cannot)? {
        let path = entry.with_context(cannot)?.path();
        let Some(name) =
            path.file_name().and_then(|name| name.to_str()).filter(|name| !name.starts_with('.'))
        else {
            continue;
        };
        let name = format!("{prefix}{name}");
        if !path.is_dir() {
            let ending = path.extension().and_then(|ending| ending.to_str());
            if !ending.is_some_and(|ending| ENDINGS.contains(&ending)) {
                continue;
            }
            own.insert(
                name,
                text(&path).with_context(|| format!("cannot read the template {}", shown(&path)))?,
            );
        } else if depth > 0 {
            below(&path, &format!("{name}/"), depth - 1, own)?;
        }
    }
    Ok(())
}

/// The text of a template. A link to a file is followed; a pipe or a device could keep us waiting for ever and is not opened.
fn text(path: &Path) -> anyhow::Result<String> {
    if !std::fs::metadata(path)?.is_file() {
        bail!("it is no ordinary file");
    }
    let mut bytes = Vec::new();
    // Read, not measured: it may grow, or be of a system that does not know how large it is. The cut may fall inside a character.
    std::fs::File::open(path)?.take(LARGEST + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > LARGEST {
        bail!("it is larger than {} MiB", LARGEST >> 20);
    }
    String::from_utf8(bytes).context("it is not all UTF-8")
}

/// Templates that take no other's place and that no other names, each with the name that may have been meant.
pub(super) fn idle(own: &Own) -> Vec<(&str, Option<&'static str>)> {
    let names: Vec<&str> = template_names().collect();
    own.keys()
        .map(String::as_str)
        .filter(|name| !names.contains(name))
        .filter(|name| {
            let asked = [format!("\"{name}\""), format!("'{name}'")];
            !own.values().any(|text| asked.iter().any(|asked| text.contains(asked)))
        })
        .map(|name| {
            let near = names.iter().map(|ours| (strsim::damerau_levenshtein(name, ours), *ours)).min();
            (name, near.filter(|(distance, _)| *distance <= 3).map(|(_, ours)| ours))
        })
        .collect()
}

/// Where a template of the folder is.
pub(super) fn place(folder: Option<&Path>, name: &str) -> String {
    folder.map_or_else(|| name.to_owned(), |folder| shown(&folder.join(name)))
}
