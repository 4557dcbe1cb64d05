//! The commit that a folder's version control stands at, read from git's own files.
//!
//! No program is started: a repository's settings can name programs of their own, and a book may come from anywhere.
//! The files are those of `gitrepository-layout(5)` (git's documentation). Must not know the language.

use std::fs;
use std::path::{Path, PathBuf};

/// A reference may lead to a reference; git itself follows five.
const MOST: usize = 5;

/// The commit of the repository that a folder is in; `None` without one, or where its files cannot be understood.
pub(super) fn commit(root: &Path) -> Option<String> {
    let root = fs::canonicalize(root).ok()?;
    let git = root.ancestors().find_map(git_folder)?;
    // A further worktree keeps its own HEAD, and the references where the first one is.
    let common = text(&git.join("commondir")).map_or_else(|| git.clone(), |to| git.join(to.trim()));
    let mut name = "HEAD".to_owned();
    for _ in 0..MOST {
        let said = text(&git.join(&name)).or_else(|| text(&common.join(&name)));
        let said = said.or_else(|| packed(&common, &name))?;
        let said = said.trim();
        match said.strip_prefix("ref:") {
            Some(next) if is_reference(next.trim()) => next.trim().clone_into(&mut name),
            Some(_) => return None,
            None => return is_id(said).then(|| said.to_owned()),
        }
    }
    None
}

/// The repository's folder, if this is the top of a work tree.
fn git_folder(top: &Path) -> Option<PathBuf> {
    let git = top.join(".git");
    if git.is_dir() {
        return Some(git);
    }
    text(&git)?.strip_prefix("gitdir:").map(|to| top.join(to.trim()))
}

/// A reference among those that were packed into one file.
fn packed(common: &Path, name: &str) -> Option<String> {
    let all = text(&common.join("packed-refs"))?;
    let mut lines = all.lines().filter_map(|line| line.split_once(' '));
    lines.find(|(_, of)| *of == name).map(|(id, _)| id.to_owned())
}

/// A reference of the usual sort, that leads nowhere else on the disk.
fn is_reference(name: &str) -> bool {
    name.starts_with("refs/") && !name.split('/').any(|part| part.is_empty() || part.starts_with('.'))
}

fn is_id(text: &str) -> bool {
    matches!(text.len(), 40 | 64) && text.bytes().all(|byte| byte.is_ascii_hexdigit())
}

/// A small text file.
fn text(path: &Path) -> Option<String> {
    let small = fs::metadata(path).is_ok_and(|there| there.is_file() && there.len() < 1 << 24);
    small.then(|| fs::read_to_string(path).ok()).flatten()
}
