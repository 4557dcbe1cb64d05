//! A book as git has it at a revision: what was committed, whatever lies in the folder now.
//!
//! Git itself is asked, with the commands that read its store and nothing else (`rev-parse`, `ls-tree`, `cat-file`; git's
//! documentation): they start none of the programs that a repository's settings may name. Must not know the language.

use super::disk::{Decoded, decode};
use super::walk::{is_ledger, is_output};
use super::{FileId, Files, LoadTrouble, SourceFile, Span, World, shown};
use std::fs::File;
use std::io::{self, Seek as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

/// A book at a revision of the repository that its folder is in.
#[derive(Debug)]
pub struct Revision {
    /// The book's folder (or file), where it is now.
    root: PathBuf,
    /// A revision as git names them: a commit, a tag, `HEAD~3`.
    named: String,
    /// The commit, once it was asked for.
    commit: OnceLock<Result<String, String>>,
}

/// A file of a revision.
struct Blob {
    path: String,
    id: String,
    link: bool,
}

impl Revision {
    /// The book in that folder (or the one file) at a revision.
    #[must_use]
    pub fn new(root: PathBuf, named: String) -> Self {
        Self { root, named, commit: OnceLock::new() }
    }

    /// The commit, in hexadecimal; else a sentence: git is missing, the folder is in no repository, it has no such revision.
    fn found(&self) -> Result<String, String> {
        let (folder, _) = self.place()?;
        let there = git(&folder, &["rev-parse", "--is-inside-work-tree"], None)?;
        if there.is_none_or(|said| said != b"true\n") {
            return Err(format!(
                "`{}` is in no git repository, so that it has no revisions",
                shown(&self.root)
            ));
        }
        let named = format!("{}^{{commit}}", self.named);
        let id = git(&folder, &["rev-parse", "--verify", "--quiet", "--end-of-options", &named], None)?;
        let id = id.and_then(|id| String::from_utf8(id).ok()).map(|id| id.trim().to_owned());
        id.filter(|id| !id.is_empty())
            .ok_or_else(|| format!("the repository has no revision `{}`; `git log` lists them", self.named))
    }

    /// Its ledgers, sorted by path, and what could not be read of them.
    fn ledgers(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        let commit = self.commit.get_or_init(|| self.found()).clone()?;
        let (folder, file) = self.place()?;
        let mut words = vec!["ls-tree", "-r", "-z", &commit, "--"];
        words.extend(file.as_deref());
        let listed = git(&folder, &words, None)?.unwrap_or_default();
        let mut blobs: Vec<Blob> = listed.split(|byte| *byte == 0).filter_map(blob).collect();
        if blobs.is_empty() {
            let name = shown(&self.root);
            return Err(format!("at `{}` there is no ledger in `{name}` yet", self.named));
        }
        blobs.sort_by(|a, b| a.path.cmp(&b.path));
        let (links, blobs): (Vec<_>, Vec<_>) = blobs.into_iter().partition(|blob| blob.link);
        let mut troubles: Vec<(String, LoadTrouble)> = Vec::new();
        for link in links {
            let path = shown(Path::new(&link.path));
            let reason = "a link, and where it leads is not followed at a revision".to_owned();
            troubles.push((link.path, LoadTrouble::Unreadable { path, reason }));
        }
        let texts = self.texts(&folder, &blobs)?;
        let mut files = Vec::with_capacity(blobs.len());
        for (at, (blob, Decoded { text, bad, .. })) in blobs.into_iter().zip(texts).enumerate() {
            if let Some((from, count)) = bad {
                let end = from + char::REPLACEMENT_CHARACTER.len_utf8() as u32;
                let span = Span::new(FileId(at as u32), from, end);
                troubles.push((blob.path.clone(), LoadTrouble::NotUtf8 { span, count }));
            }
            files.push(SourceFile { path: shown(Path::new(&blob.path)), text });
        }
        troubles.sort_by(|a, b| a.0.cmp(&b.0));
        Ok((Files::new(files), troubles.into_iter().map(|(_, trouble)| trouble).collect()))
    }

    /// The folder to ask in, and the one file that the book is, if it is one.
    fn place(&self) -> Result<(PathBuf, Option<String>), String> {
        let name = shown(&self.root);
        if self.root.is_dir() {
            return Ok((self.root.clone(), None));
        }
        let folder =
            self.root.parent().map(|above| if above == Path::new("") { Path::new(".") } else { above });
        let file = self.root.file_name().and_then(|file| file.to_str());
        match folder.zip(file) {
            Some((folder, file)) if folder.is_dir() && is_ledger(&self.root) => {
                Ok((folder.to_owned(), Some(format!(":(literal){file}"))))
            }
            _ => Err(format!("there is no folder `{name}`")),
        }
    }

    /// What the files hold, in order.
    fn texts(&self, folder: &Path, blobs: &[Blob]) -> Result<Vec<Decoded>, String> {
        let damaged =
            || format!("git's answer for `{}` breaks off; `git fsck` looks its store over", self.named);
        let asked: String = blobs.iter().flat_map(|blob| [blob.id.as_str(), "\n"]).collect();
        let input = handed(&asked).map_err(|error| cannot_start(&error))?;
        let all = git(folder, &["cat-file", "--batch"], Some(input))?.ok_or_else(damaged)?;
        let mut rest = all.as_slice();
        let mut texts = Vec::with_capacity(blobs.len());
        for blob in blobs {
            let (head, after) = rest.split_at(memchr::memchr(b'\n', rest).ok_or_else(damaged)? + 1);
            let head = String::from_utf8_lossy(head);
            let length = head.strip_prefix(&*blob.id).and_then(|head| head.trim().strip_prefix("blob "));
            let length: usize = length.and_then(|length| length.parse().ok()).ok_or_else(damaged)?;
            let (text, after) = after.split_at_checked(length).ok_or_else(damaged)?;
            // Each stray byte becomes three.
            if u32::try_from(length.saturating_mul(3)).is_err() {
                return Err(format!("{} is too large at `{}`", shown(Path::new(&blob.path)), self.named));
            }
            texts.push(decode(text.to_vec()));
            rest = after.get(1..).ok_or_else(damaged)?;
        }
        Ok(texts)
    }
}

impl World for Revision {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        self.ledgers()
    }

    fn now(&self) -> jiff::Timestamp {
        jiff::Timestamp::now()
    }

    fn commit(&self) -> Option<String> {
        self.commit.get_or_init(|| self.found()).clone().ok()
    }
}

/// A ledger of a listing's line, `MODE TYPE ID\tPATH`.
fn blob(line: &[u8]) -> Option<Blob> {
    let line = String::from_utf8_lossy(line);
    let (head, path) = line.split_once('\t')?;
    let mut head = head.split(' ');
    let (mode, sort, id) = (head.next()?, head.next()?, head.next()?);
    let mut above = Path::new(path).ancestors().skip(1);
    let hidden = path.split('/').any(|part| part.starts_with('.'));
    let ours = sort == "blob" && is_ledger(Path::new(path)) && !hidden && !above.any(is_output);
    ours.then(|| Blob { path: path.to_owned(), id: id.to_owned(), link: mode == "120000" })
}

/// What git is given to read. A file and no pipe: who writes into one while the other end writes too may wait for ever.
fn handed(text: &str) -> io::Result<File> {
    let mut file = tempfile::tempfile()?;
    file.write_all(text.as_bytes())?;
    file.rewind()?;
    Ok(file)
}

/// What git answers; `None` where it says no.
fn git(folder: &Path, words: &[&str], input: Option<File>) -> Result<Option<Vec<u8>>, String> {
    let mut command = Command::new("git");
    command.arg("-C").arg(folder).args(words);
    // A hook has these set for its own repository.
    for set in ["GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX"] {
        command.env_remove(set);
    }
    command.env("LC_ALL", "C").env("GIT_NO_LAZY_FETCH", "1");
    command.stdin(input.map_or_else(Stdio::null, Stdio::from));
    let done = command.output().map_err(|error| cannot_start(&error))?;
    Ok(done.status.success().then_some(done.stdout))
}

fn cannot_start(error: &io::Error) -> String {
    if error.kind() == io::ErrorKind::NotFound {
        return "a revision is read by git, and there is none on this machine; install it, or leave `--rev` out".to_owned();
    }
    format!("git cannot be started: {}", super::reason(error))
}
