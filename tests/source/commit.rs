//! The commit a book's folder stands at, against what git itself says (`git rev-parse HEAD`).

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use stringline::source::{Disk, World};

/// Runs git without anybody's settings; what it says.
fn git(at: &Path, arguments: &[&str]) -> String {
    let output = Command::new("git")
        .current_dir(at)
        .env_clear()
        .env("PATH", std::env::var_os("PATH").unwrap_or_default())
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_SYSTEM", "/dev/null")
        .args(["-c", "user.name=n", "-c", "user.email=n@example.org", "-c", "init.defaultBranch=one"])
        .args(arguments)
        .output()
        .expect("git is installed (Debian: apt-get install git)");
    assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap().trim().to_owned()
}

fn says(at: &Path) -> Option<String> {
    Disk { root: at.to_owned() }.commit()
}

fn folder() -> PathBuf {
    let folder = std::env::temp_dir().join(format!("stringline-commit-{}", std::process::id()));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}

#[test]
fn a_commit_is_found_wherever_git_keeps_it() {
    let folder = folder();
    assert_eq!(says(&folder), None, "no repository");
    let top = folder.join("repository");
    let book = top.join("ledgers/2026");
    fs::create_dir_all(&book).unwrap();
    fs::write(book.join("a.sline"), "car a \"A\"\n").unwrap();
    git(&top, &["init", "-q"]);
    assert_eq!(says(&book), None, "nothing committed");
    git(&top, &["add", "."]);
    git(&top, &["commit", "-qm", "one"]);
    let first = git(&top, &["rev-parse", "HEAD"]);
    assert_eq!(says(&book).as_ref(), Some(&first), "a loose reference, from below the top");
    git(&top, &["pack-refs", "--all"]);
    assert_eq!(says(&book).as_ref(), Some(&first), "a packed reference");
    git(&top, &["commit", "-q", "--allow-empty", "-m", "two"]);
    let second = git(&top, &["rev-parse", "HEAD"]);
    assert_ne!(first, second);
    assert_eq!(says(&book).as_ref(), Some(&second), "the loose one outranks the packed one");
    let other = folder.join("other");
    git(&top, &["worktree", "add", "-q", "-b", "aside", other.to_str().unwrap(), &first]);
    assert_eq!(says(&other.join("ledgers/2026")).as_ref(), Some(&first), "a further worktree");
    git(&top, &["checkout", "-q", "--detach", &first]);
    assert_eq!(says(&book).as_ref(), Some(&first), "no branch");
    // Files that lie: nothing outside is read, nothing is believed.
    for head in ["ref: ../../secret", "ref: refs/../../x", "hello", "", "ref: HEAD", "ref: refs/heads/none"] {
        fs::write(top.join(".git/HEAD"), head).unwrap();
        assert_eq!(says(&book), None, "{head:?}");
    }
    fs::remove_dir_all(&folder).unwrap();
}
