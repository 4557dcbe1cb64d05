//! The pieces of `grammar/git.md`, each run as it stands there in a repository of two evenings.

use super::STRINGLINE;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The pieces by name: what stands between fences.
fn pieces() -> BTreeMap<String, String> {
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/git.md");
    let page = fs::read_to_string(page).unwrap();
    let (mut pieces, mut open) = (BTreeMap::new(), None::<(String, String)>);
    for line in page.lines() {
        match (line.strip_prefix("```"), &mut open) {
            (Some(head), None) => {
                let name = head.split(' ').nth(1).expect("a piece has a name");
                open = Some((name.to_owned(), String::new()));
            }
            (Some(_), done) => pieces.extend(done.take()),
            (None, Some((_, text))) => {
                text.push_str(line);
                text.push('\n');
            }
            (None, None) => {}
        }
    }
    assert_eq!(
        pieces.keys().map(String::as_str).collect::<Vec<_>>(),
        [".gitattributes", "altered", "annotate", "pre-commit", "settings", "then-and-now"],
        "a piece that no test runs"
    );
    pieces
}

/// A command with our program first among those that are found, and nobody's git settings.
fn command(at: &Path, program: &str, words: &[&str]) -> Output {
    let own = Path::new(STRINGLINE).parent().unwrap().to_owned();
    let path = std::env::var_os("PATH").unwrap_or_default();
    let path = std::env::join_paths(std::iter::once(own).chain(std::env::split_paths(&path))).unwrap();
    Command::new(program)
        .current_dir(at)
        .args(words)
        .env("PATH", path)
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_SYSTEM", "/dev/null")
        .env("GIT_AUTHOR_NAME", "n")
        .env("GIT_AUTHOR_EMAIL", "n@example.org")
        .env("GIT_COMMITTER_NAME", "n")
        .env("GIT_COMMITTER_EMAIL", "n@example.org")
        .output()
        .unwrap()
}

fn git(at: &Path, words: &[&str]) -> String {
    let done = command(at, "git", words);
    assert!(done.status.success(), "{words:?}: {}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8(done.stdout).unwrap()
}

/// A repository with a car and one evening, committed with the line of `.gitattributes`.
fn repository(name: &str) -> (super::Folder, PathBuf) {
    let home = super::Folder::new(name);
    git(&home.0, &["init", "-q", "-b", "one", "shop"]);
    let top = home.0.join("shop");
    fs::create_dir_all(top.join("ledgers")).unwrap();
    fs::write(top.join(".gitattributes"), &pieces()[".gitattributes"]).unwrap();
    fs::write(top.join("ledgers/cars.sline"), "car wren \"Wren\"\n").unwrap();
    fs::write(
        top.join("ledgers/wren.sline"),
        "2025-04-01 wren\n  set camber LF -2 RF -2 LR -1 RR -1 deg\n  set caster 5 5 deg\n  | dry\n",
    )
    .unwrap();
    git(&top, &["add", "-A"]);
    git(&top, &["commit", "-q", "-m", "first"]);
    (home, top)
}

#[cfg(unix)]
#[test]
fn nothing_with_an_error_is_committed() {
    use std::os::unix::fs::PermissionsExt as _;
    let (_home, top) = repository("hook");
    let hook = top.join(".git/hooks/pre-commit");
    fs::create_dir_all(hook.parent().unwrap()).unwrap();
    fs::write(&hook, &pieces()["pre-commit"]).unwrap();
    fs::set_permissions(&hook, fs::Permissions::from_mode(0o755)).unwrap();
    let commit = |text: &str| {
        fs::write(top.join("ledgers/may.sline"), text).unwrap();
        git(&top, &["add", "-A"]);
        command(&top, "git", &["commit", "-m", "may"])
    };
    let wrong = commit("2025-05-01 wren\n  set camber LF -3 -> -4 deg\n");
    let said = String::from_utf8(wrong.stdout).unwrap() + &String::from_utf8(wrong.stderr).unwrap();
    assert!(!wrong.status.success() && said.contains("old-value-differs"), "{said}");
    let crooked = commit("2025-05-01 wren\n      set camber LF -2 -> -4 deg\n");
    assert!(!crooked.status.success());
    let right = commit("2025-05-01 wren\n  set camber LF -2 -> -4 deg\n");
    assert!(right.status.success(), "{}", String::from_utf8_lossy(&right.stdout));
}

#[test]
fn a_diff_says_the_day_and_the_number() {
    let (_home, top) = repository("diff");
    for line in pieces()["settings"].lines() {
        let done = command(&top, "sh", &["-c", line]);
        assert!(done.status.success(), "{line}");
    }
    let ledger = top.join("ledgers/wren.sline");
    let text = fs::read_to_string(&ledger).unwrap();
    fs::write(&ledger, text.replace("caster 5 5", "caster 5 6")).unwrap();
    let said = git(&top, &["diff", "--word-diff=plain", "-U0"]);
    assert!(said.contains("@@ 2025-04-01 wren"), "{said}");
    assert!(said.contains("set caster 5 [-5-]{+6+} deg"), "{said}");
}

#[test]
fn then_and_now_are_told_apart() {
    let (_home, top) = repository("then");
    let ledger = top.join("ledgers/wren.sline");
    let text = fs::read_to_string(&ledger).unwrap();
    fs::write(&ledger, text.replace("caster 5 5", "caster 5 6")).unwrap();
    git(&top, &["commit", "-qam", "corrected"]);
    let done = command(&top, "sh", &["-c", &pieces()["then-and-now"]]);
    let said = String::from_utf8(done.stdout).unwrap();
    let lines: Vec<&str> = said.lines().filter(|line| line.starts_with(['<', '>'])).collect();
    assert!(lines.len() == 2 && lines.iter().all(|line| line.contains("caster")), "{said}");
    assert!(lines[1].contains(" 6 "), "{said}");
    let done = command(&top, "sh", &["-c", &pieces()["altered"]]);
    let said = String::from_utf8(done.stdout).unwrap();
    assert!(said.contains("wren caster LR: 5 deg -> 6 deg"), "{said}");
}

/// Needs jq, as the page says.
#[test]
fn an_annotation_names_the_file_and_line() {
    let (_home, top) = repository("annotate");
    let there = !command(&top, "sh", &["-c", "command -v jq"]).stdout.is_empty();
    if !there {
        super::left_out("the annotation by jq, which is not installed (Debian: apt-get install jq)");
        return;
    }
    fs::write(top.join("ledgers/may.sline"), "2025-05-01 wren\n  set camber LF -3 -> -4 deg\n").unwrap();
    let said = String::from_utf8(command(&top, "sh", &["-c", &pieces()["annotate"]]).stdout).unwrap();
    let start = "::error file=ledgers/may.sline,line=2,title=old-value-differs::";
    assert!(said.lines().count() == 1 && said.starts_with(start), "{said}");
}

/// Two files merge in silence, and the book asks; one place in one file is for git to ask.
#[test]
fn two_evenings_are_merged_or_asked_about() {
    for (file, ours, theirs, clean) in [
        ("apart", "ledgers/his.sline", "ledgers/hers.sline", true),
        ("together", "ledgers/wren.sline", "ledgers/wren.sline", false),
    ] {
        let (_home, top) = repository(file);
        let add = |name: &str, lines: &str| {
            let known = fs::read_to_string(top.join(name)).unwrap_or_default();
            fs::write(top.join(name), format!("{known}{lines}")).unwrap();
            git(&top, &["add", "-A"]);
            git(&top, &["commit", "-qm", name]);
        };
        git(&top, &["checkout", "-qb", "two"]);
        add(theirs, "\n2025-05-01 wren\n  set camber LF -2 -> -3 deg\n");
        git(&top, &["checkout", "-q", "one"]);
        add(ours, "\n2025-05-01 wren\n  set camber LF -2 -> -4 deg\n");
        let merged = command(&top, "git", &["merge", "-q", "--no-edit", "two"]);
        assert_eq!(merged.status.success(), clean, "{file}");
        let check = command(&top, STRINGLINE, &["check", "ledgers", "--format", "short"]);
        let said = String::from_utf8(check.stdout).unwrap();
        if clean {
            assert!(said.contains("day-order-unclear") && said.lines().count() == 1, "{said}");
            let state = command(&top, STRINGLINE, &["state", "ledgers", "wren"]);
            let state = String::from_utf8(state.stdout).unwrap();
            let camber = state.lines().find(|line| line.contains("camber")).unwrap();
            assert!(!camber.contains("-3") && !camber.contains("-4"), "{state}");
        } else {
            assert!(!check.status.success(), "git's marks are no lines of a ledger: {said}");
        }
    }
}
