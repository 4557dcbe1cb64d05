//! `Disk` against folders made for the test.

use std::fs;
use std::path::{Path, PathBuf};
use stringline::source::{Disk, FileId, Files, LoadTrouble, Span, World};

/// A folder of its own for one test, removed at the end.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let root = std::env::temp_dir().join(format!("stringline-{}-{name}", std::process::id()));
        let _ = fs::remove_dir_all(&root);
        fs::create_dir_all(&root).unwrap();
        Self(root)
    }

    fn file(&self, path: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.0.join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, bytes).unwrap();
        path
    }

    fn load(&self) -> (Files, Vec<LoadTrouble>) {
        load(&self.0).unwrap()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn load(root: &Path) -> Result<(Files, Vec<LoadTrouble>), String> {
    Disk { root: root.to_owned() }.load()
}

fn paths(files: &Files) -> Vec<&str> {
    files.iter().map(|(_, file)| file.path.as_str()).collect()
}

fn looped(path: &str) -> LoadTrouble {
    LoadTrouble::Loop { path: path.to_owned() }
}

fn unreadable(path: &str, reason: &str) -> LoadTrouble {
    LoadTrouble::Unreadable { path: path.to_owned(), reason: reason.to_owned() }
}

#[test]
fn every_nesting_in_path_order() {
    let folder = Folder::new("order");
    for path in ["b.sline", "a/z.sline", "a/b/c/deep.SLINE", "a-b/x.sline", "B.Sline", "sline", "a/notes.txt"]
    {
        folder.file(path, path);
    }
    let (files, troubles) = folder.load();
    // `-` sorts before `/`, capitals before small letters: plain byte order.
    assert_eq!(paths(&files), ["B.Sline", "a-b/x.sline", "a/b/c/deep.SLINE", "a/z.sline", "b.sline"]);
    assert_eq!(files.get(FileId(2)).unwrap().text, "a/b/c/deep.SLINE");
    assert_eq!(troubles, []);
}

#[test]
fn hidden_and_output_folders_are_left_out() {
    let folder = Folder::new("hidden");
    for path in [".git/x.sline", "a/.old/x.sline", "target/x.sline", "a/out/x.sline", ".#b.sline", "b.sline"]
    {
        folder.file(path, "");
    }
    // A folder may have a ledger's ending, and a file a folder's name.
    folder.file("c.sline/d.sline", "");
    folder.file("out.sline", "");
    assert_eq!(paths(&folder.load().0), ["b.sline", "c.sline/d.sline", "out.sline"]);
}

#[test]
fn a_root_called_out_is_read() {
    let folder = Folder::new("root-out");
    folder.file("out/a.sline", "");
    assert_eq!(paths(&load(&folder.0.join("out")).unwrap().0), ["a.sline"]);
}

#[test]
fn a_byte_order_mark_is_stripped() {
    let folder = Folder::new("bom");
    folder.file("a.sline", b"\xEF\xBB\xBFcar bittern\n");
    folder.file("b.sline", b"\xEF\xBB\xBF\xFF");
    let (files, troubles) = folder.load();
    assert_eq!(files.get(FileId(0)).unwrap().text, "car bittern\n");
    assert_eq!(files.get(FileId(1)).unwrap().text, "\u{FFFD}");
    assert_eq!(troubles, [LoadTrouble::NotUtf8 { span: Span::new(FileId(1), 0, 3), count: 1 }]);
}

#[test]
fn bytes_that_are_no_text_make_one_trouble_a_file() {
    let folder = Folder::new("utf8");
    folder.file("a.sline", "fine");
    // Latin-1: the micro sign and the degree sign are single bytes.
    folder.file("b.sline", b"# \xB5m\nset camber -2.0 \xB0\n");
    let (files, troubles) = folder.load();
    assert_eq!(files.get(FileId(1)).unwrap().text, "# \u{FFFD}m\nset camber -2.0 \u{FFFD}\n");
    assert_eq!(troubles, [LoadTrouble::NotUtf8 { span: Span::new(FileId(1), 2, 5), count: 2 }]);
}

#[test]
fn a_single_file_is_a_book() {
    let folder = Folder::new("single");
    folder.file("b.sline", "b");
    let a = folder.file("a.sline", "a");
    let (files, troubles) = load(&a).unwrap();
    assert_eq!((paths(&files), troubles), (vec!["a.sline"], vec![]));
    let text = folder.file("notes.txt", "");
    let shown = text.display();
    assert_eq!(load(&text).unwrap_err(), format!("`{shown}` is neither a folder nor a .sline file"));
}

#[test]
fn a_missing_folder_is_said_in_words() {
    assert_eq!(load(Path::new("no/such/book")).unwrap_err(), "there is no folder `no/such/book`");
}

#[test]
fn an_empty_folder_is_an_empty_book() {
    let (files, troubles) = Folder::new("empty").load();
    assert!(files.is_empty() && troubles.is_empty());
}

#[test]
fn a_file_over_4_gib_is_refused_unread() {
    let folder = Folder::new("large");
    folder.file("a.sline", "");
    // Sparse: takes no room on disk.
    fs::File::create(folder.0.join("b.sline")).unwrap().set_len(5 << 30).unwrap();
    let (files, troubles) = folder.load();
    assert_eq!(paths(&files), ["a.sline"]);
    assert_eq!(troubles, [unreadable("b.sline", "too large: a ledger file may hold 4 GiB at most")]);
}

#[cfg(unix)]
mod links {
    use std::os::unix::fs::symlink;

    use super::*;

    #[test]
    fn a_link_back_is_reported_once_and_not_followed() {
        let folder = Folder::new("loop");
        folder.file("a/b/x.sline", "");
        symlink(&folder.0, folder.0.join("a/b/again")).unwrap();
        symlink("..", folder.0.join("a/up")).unwrap();
        symlink(folder.0.parent().unwrap(), folder.0.join("outside")).unwrap();
        symlink("ring", folder.0.join("ring")).unwrap();
        let (files, troubles) = folder.load();
        assert_eq!(paths(&files), ["a/b/x.sline"]);
        assert_eq!(troubles, ["a/b/again", "a/up", "outside", "ring"].map(looped));
    }

    #[test]
    fn a_link_to_the_same_book_loses_to_the_real_folder() {
        let folder = Folder::new("same");
        folder.file("season/x.sline", "");
        symlink("season", folder.0.join("alias")).unwrap();
        symlink("season/x.sline", folder.0.join("first.sline")).unwrap();
        let (files, troubles) = folder.load();
        assert_eq!(paths(&files), ["season/x.sline"]);
        assert_eq!(troubles, ["alias", "first.sline"].map(looped));
    }

    #[test]
    fn a_link_out_of_the_book_is_followed_under_its_own_name() {
        let shared = Folder::new("shared");
        shared.file("tyres/t.sline", "t");
        shared.file("lone.sline", "lone");
        symlink(&shared.0, shared.0.join("tyres/back")).unwrap();
        let folder = Folder::new("follows");
        folder.file("z.sline", "");
        symlink(shared.0.join("tyres"), folder.0.join("common")).unwrap();
        symlink(shared.0.join("lone.sline"), folder.0.join("kinds.sline")).unwrap();
        let (files, troubles) = folder.load();
        assert_eq!(paths(&files), ["common/t.sline", "kinds.sline", "z.sline"]);
        assert_eq!(troubles, [looped("common/back")]);
    }

    #[test]
    fn a_link_to_nowhere_is_unreadable_unless_it_is_no_ledger() {
        let folder = Folder::new("nowhere");
        for name in ["gone.sline", "gone", "gone.jpg", ".#lock.sline"] {
            symlink("missing", folder.0.join(name)).unwrap();
        }
        let words = "the link leads nowhere";
        assert_eq!(folder.load().1, [unreadable("gone", words), unreadable("gone.sline", words)]);
    }

    #[test]
    fn what_is_no_ordinary_file_is_not_opened() {
        let folder = Folder::new("socket");
        folder.file("a.sline", "");
        let _socket = std::os::unix::net::UnixListener::bind(folder.0.join("s.sline")).unwrap();
        let (files, troubles) = folder.load();
        assert_eq!(paths(&files), ["a.sline"]);
        assert_eq!(troubles, [unreadable("s.sline", "not an ordinary file")]);
    }

    #[test]
    fn a_locked_file_or_folder_does_not_stop_the_rest() {
        use std::os::unix::fs::PermissionsExt;
        let folder = Folder::new("locked");
        folder.file("a/x.sline", "");
        folder.file("b.sline", "");
        folder.file("c.sline", "");
        let lock = |path: &str, mode| {
            fs::set_permissions(folder.0.join(path), fs::Permissions::from_mode(mode)).unwrap();
        };
        lock("a", 0o000);
        lock("b.sline", 0o000);
        // The superuser reads locked files all the same: then there is nothing to see here.
        let superuser = fs::read(folder.0.join("b.sline")).is_ok();
        let (files, troubles) = folder.load();
        lock("a", 0o755);
        if superuser {
            return;
        }
        assert_eq!(paths(&files), ["c.sline"]);
        let words = "permission denied";
        assert_eq!(troubles, [unreadable("a", words), unreadable("b.sline", words)]);
    }
}
