//! The built program on real disks: what is typed survives, what is written arrives or is missed aloud.
//!
//! Each test has a folder of its own. Those that need rights which a machine may not give are left out aloud.

mod folder;
mod format;
mod full;
mod killed;
mod names;
mod output;
mod recipes;
mod revision;
mod rewrite;

use std::ffi::OsStr;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The built program.
pub const STRINGLINE: &str = env!("CARGO_BIN_EXE_stringline");

/// A folder of its own for one test, removed at the end.
pub struct Folder(pub PathBuf);

impl Folder {
    pub fn new(name: &str) -> Self {
        let root = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join("disk")
            .join(format!("{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&root);
        std::fs::create_dir_all(&root).unwrap();
        Self(root)
    }

    /// Writes a file below it, and the folders above that.
    pub fn file(&self, name: impl AsRef<Path>, text: impl AsRef<[u8]>) -> PathBuf {
        let path = self.0.join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, text).unwrap();
        path
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// The program with these arguments, without anybody's settings.
fn stringline(arguments: impl IntoIterator<Item = impl AsRef<OsStr>>) -> Command {
    let mut command = Command::new(STRINGLINE);
    command.args(arguments).env("NO_COLOR", "1").env_remove("COLUMNS");
    command
}

/// How a run ended: code, results, messages.
fn ended(output: &Output) -> (Option<i32>, String, String) {
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

/// Runs the program to its end.
fn said(arguments: impl IntoIterator<Item = impl AsRef<OsStr>>) -> (Option<i32>, String, String) {
    ended(&stringline(arguments).output().unwrap())
}

/// The names in a folder, in order.
fn names(folder: &Path) -> Vec<std::ffi::OsString> {
    let mut names: Vec<_> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    names.sort();
    names
}

/// Says that a test is left out, past the test runner's capture.
fn left_out(what: &str) {
    let _ = writeln!(std::io::stderr(), "left out: {what}");
}

/// Whether the long tests of disks are asked for. Says so when not.
fn asked(what: &str) -> bool {
    let asked = std::env::var_os("STRINGLINE_DISK").is_some();
    if !asked {
        left_out(&format!("{what} (set STRINGLINE_DISK=1, or run ./tests/run)"));
    }
    asked
}

/// A file that cannot be removed, until this is dropped.
#[cfg(unix)]
struct Held {
    file: PathBuf,
    mounted: bool,
}

#[cfg(unix)]
impl Held {
    /// `None`, said aloud, where nothing keeps a file in its folder.
    fn hold(file: &Path) -> Option<Self> {
        let folder = file.parent().unwrap();
        Self::mode(folder, 0o555);
        let probe = folder.join("probe");
        // Whoever may write anywhere is kept from nothing by a mode; he may mount a file over itself.
        if std::fs::write(&probe, "").is_err() {
            return Some(Self { file: file.to_owned(), mounted: false });
        }
        std::fs::remove_file(probe).unwrap();
        Self::mode(folder, 0o755);
        let mount = Command::new("mount").arg("--bind").args([file, file]).output();
        if mount.is_ok_and(|done| done.status.success()) {
            return Some(Self { file: file.to_owned(), mounted: true });
        }
        left_out("files that cannot be removed (nothing may be mounted here)");
        None
    }

    fn mode(folder: &Path, mode: u32) {
        use std::os::unix::fs::PermissionsExt as _;
        std::fs::set_permissions(folder, std::fs::Permissions::from_mode(mode)).unwrap();
    }
}

#[cfg(unix)]
impl Drop for Held {
    fn drop(&mut self) {
        if self.mounted {
            let _ = Command::new("umount").arg(&self.file).output();
        } else {
            Self::mode(self.file.parent().unwrap(), 0o755);
        }
    }
}

/// The names of our temporary and waiting files in a folder.
fn leavings(folder: &Path) -> Vec<PathBuf> {
    let ours = |name: &std::ffi::OsString| {
        let name = name.to_string_lossy();
        name.starts_with(".stringline-") && name != ".stringline-pages"
    };
    names(folder).into_iter().filter(ours).map(|name| folder.join(name)).collect()
}
